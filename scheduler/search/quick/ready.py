"""What happens off the press before a set-up, as in `search/placing.py`: stations, burn, tape, staging."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.floor import clash_end, clash_in_work, take, take_work
from scheduler.search.quick.frames import earliest_frames
from scheduler.search.quick.hours import Row, after_long_stop, dry_tau, end_minute, index_from, minute, total_min
from scheduler.search.quick.slots import (
    A_END,
    FRAMES,
    K_BURN_MIN,
    K_SCREENS,
    K_TAPE_MIN,
    NEVER,
    O_AFTER,
    O_AFTER_COUNT,
    O_BEFORE,
    O_BEFORE_COUNT,
    O_RUN_COUNT,
    O_RUNS,
    O_STEPS_AT,
    OK,
    P_FLOOR,
    P_PLACED,
    P_RACK,
    P_SHOTS,
    P_STEPS,
    R_BLANKS,
    R_CURE,
    R_ORDER,
    R_SET,
    ROOM,
    STAGING,
    STATION,
    STEP_SIZE,
    V_CREW_NEED,
    V_HAS_CREW,
    V_HAS_UNIT,
    V_HOURS,
    V_RETURN_COUNT,
    V_RETURNS,
    V_UNIT_NEED,
    V_WORK_MIN,
    W_GUARDS,
    W_HAS_ROOM_NEED,
    W_HAS_STAGE_NEED,
    W_ONE,
    W_ONE_GUARD,
    W_ORDERS,
    W_PLACED_SIZE,
    W_ROOM_HOURS,
    W_ROOM_IDLE_OK,
    W_ROOM_NEED,
    W_RUNS,
    W_SETS,
    W_STAGE_MIN,
    W_STAGE_NEED,
    W_STAGING_HOURS,
    W_WORDS,
    Y_BURN_END,
    Y_BURN_START,
    Y_DRY,
    Y_FROM,
    Y_STAGE_END,
    Y_STAGE_START,
    Y_TAPE_END,
    Y_TAPE_START,
)


@compiled
def earliest_work(w: Row, s: Row, h: int, from_tau: int, work_min: int, has_need: int, need: int) -> int:
    """First open minute of the earliest hands-on work from `from_tau` on; -1 if the hours do not suffice."""
    index = index_from(w, h, from_tau)
    while index + work_min <= total_min(w, h):
        over_tau = 0
        if has_need:
            over_tau = clash_in_work(w, s, w[P_FLOOR], w[W_WORDS], w[W_GUARDS], need, h, index, index + work_min)
        if not over_tau:
            return index
        index = index_from(w, h, over_tau)
    return -1


@compiled
def make_ready(w: Row, s: Row, x: Row, run: int, burn_from_tau: int, not_before_tau: int) -> int:
    """Burn, tape and stage for a run as early as can be; what comes of it is written into the scratch row."""
    x[Y_BURN_START] = x[Y_STAGE_START] = x[Y_STAGE_END] = -1
    from_tau = w[run + R_BLANKS]
    order = w[w[W_ORDERS] + w[run + R_ORDER]]
    if w[order + O_BEFORE_COUNT]:
        back_tau = back_from_stations(w, s, order)
        if back_tau < 0:
            return STATION
        from_tau = max(from_tau, back_tau)
    if burn_from_tau != NEVER:
        why = _earliest_burn(w, s, x, w[w[W_SETS] + w[run + R_SET]], burn_from_tau)
        if why != OK:
            return why
        from_tau = max(from_tau, x[Y_TAPE_END])
    stage_min = w[W_STAGE_MIN]
    if stage_min:
        h = w[W_STAGING_HOURS]
        index = earliest_work(w, s, h, from_tau, stage_min, w[W_HAS_STAGE_NEED], w[W_STAGE_NEED])
        if index < 0:
            return STAGING
        x[Y_STAGE_START] = minute(w, h, index)
        x[Y_STAGE_END] = from_tau = end_minute(w, h, index + stage_min)
    x[Y_FROM] = max(from_tau, not_before_tau)
    return OK


@compiled
def _earliest_burn(w: Row, s: Row, x: Row, screens: int, from_tau: int) -> int:
    """Burn and tape a set: frames, exposure unit, people and rack have room."""
    h, burn_min, words = w[W_ROOM_HOURS], w[screens + K_BURN_MIN], w[W_WORDS]
    total = total_min(w, h)
    index = index_from(w, h, from_tau)
    if index >= total:
        return ROOM
    coated_tau = earliest_frames(w, s, x, screens, minute(w, h, index))
    if coated_tau == NEVER:
        return FRAMES
    index = max(index, index_from(w, h, coated_tau))
    while index + burn_min <= total and index < total:
        later = after_long_stop(w, h, index, index + burn_min, w[W_ROOM_IDLE_OK])
        if later >= 0:
            index = later
            continue
        start_tau = minute(w, h, index)
        end_tau = end_minute(w, h, index + burn_min) if burn_min else start_tau
        over_tau = 0
        if burn_min:
            over_tau = clash_end(w, s, w[P_SHOTS], 1, W_ONE_GUARD, W_ONE, start_tau, end_tau)
            if not over_tau and w[W_HAS_ROOM_NEED]:
                over_tau = clash_in_work(
                    w, s, w[P_FLOOR], words, w[W_GUARDS], w[W_ROOM_NEED], h, index, index + burn_min
                )
        if over_tau:
            index = max(index + 1, index_from(w, h, over_tau))
            continue
        dried_tau = dry_tau(w, end_tau)
        if dried_tau > end_tau:
            over_tau = clash_end(w, s, w[P_RACK], 1, W_ONE_GUARD, screens + K_SCREENS, end_tau, dried_tau)
        if over_tau:
            index = max(index + 1, index_from(w, h, over_tau) - burn_min)
            continue
        x[Y_BURN_START], x[Y_BURN_END], x[Y_DRY] = start_tau, end_tau, dried_tau
        return _tape(w, s, x, h, w[screens + K_TAPE_MIN])
    return ROOM


@compiled
def _tape(w: Row, s: Row, x: Row, h: int, tape_min: int) -> int:
    x[Y_TAPE_START] = x[Y_TAPE_END] = x[Y_DRY]
    if not tape_min:
        return OK
    index = earliest_work(w, s, h, x[Y_DRY], tape_min, w[W_HAS_ROOM_NEED], w[W_ROOM_NEED])
    if index < 0:
        x[Y_BURN_START] = -1
        return ROOM
    x[Y_TAPE_START], x[Y_TAPE_END] = minute(w, h, index), end_minute(w, h, index + tape_min)
    return OK


@compiled
def back_from_stations(w: Row, s: Row, order: int) -> int:
    """Shop minute at which an order is back from what is before its prints; booked at the first call; -1 if never."""
    spans = w[P_STEPS] + 2 * w[order + O_STEPS_AT]
    last = spans + 2 * w[order + O_BEFORE_COUNT] - 1
    if s[last] < 0:
        from_tau = 0
        for k in range(w[order + O_RUN_COUNT]):
            from_tau = max(from_tau, w[w[w[W_RUNS] + w[w[order + O_RUNS] + k]] + R_BLANKS])
        if not _book_steps(w, s, w[order + O_BEFORE], w[order + O_BEFORE_COUNT], spans, from_tau):
            return -1
    return s[last]


@compiled
def visit_after(w: Row, s: Row, order: int) -> int:
    """Book what comes after an order's prints; the minute at which it is over, 0 if nothing comes, -1 if never."""
    if w[order + O_BEFORE_COUNT] and back_from_stations(w, s, order) < 0:
        return -1
    count = w[order + O_AFTER_COUNT]
    if not count:
        return 0
    from_tau = 0
    for k in range(w[order + O_RUN_COUNT]):
        number = w[w[order + O_RUNS] + k]
        end_tau = s[w[P_PLACED] + number * w[W_PLACED_SIZE] + A_END]
        from_tau = max(from_tau, end_tau + w[w[w[W_RUNS] + number] + R_CURE])
    spans = w[P_STEPS] + 2 * (w[order + O_STEPS_AT] + w[order + O_BEFORE_COUNT])
    if not _book_steps(w, s, w[order + O_AFTER], count, spans, from_tau):
        return -1
    return s[spans + 2 * count - 1]


@compiled
def strike_out_after(w: Row, s: Row, order: int) -> None:
    """Give back what was booked after an order's prints."""
    count = w[order + O_AFTER_COUNT]
    spans = w[P_STEPS] + 2 * (w[order + O_STEPS_AT] + w[order + O_BEFORE_COUNT])
    for k in range(count):
        if s[spans + 2 * k] >= 0:
            _take_step(w, s, w[order + O_AFTER] + k * STEP_SIZE, s[spans + 2 * k], s[spans + 2 * k + 1], -1)
        s[spans + 2 * k] = s[spans + 2 * k + 1] = -1


@compiled
def _book_steps(w: Row, s: Row, steps: int, count: int, spans: int, from_tau: int) -> bool:
    """Each visit as early as it can be after the one before; nothing is booked if one finds no place."""
    for k in range(count):
        step = steps + k * STEP_SIZE
        start_tau, end_tau = _earliest_step(w, s, step, from_tau)
        if end_tau < 0:
            for j in range(k):
                _take_step(w, s, steps + j * STEP_SIZE, s[spans + 2 * j], s[spans + 2 * j + 1], -1)
                s[spans + 2 * j] = s[spans + 2 * j + 1] = -1
            return False
        _take_step(w, s, step, start_tau, end_tau, 1)
        s[spans + 2 * k], s[spans + 2 * k + 1] = start_tau, end_tau
        from_tau = end_tau
    return True


@compiled
def _earliest_step(w: Row, s: Row, step: int, from_tau: int) -> tuple[int, int]:
    work_min = w[step + V_WORK_MIN]
    if not work_min:
        for k in range(w[step + V_RETURN_COUNT]):
            at = w[step + V_RETURNS] + 3 * k
            if w[at] <= from_tau < w[at + 1]:
                return from_tau, w[at + 2]
        return -1, -1
    h, track, words, guards = w[w[step + V_HOURS]], w[P_FLOOR], w[W_WORDS], w[W_GUARDS]
    index = index_from(w, h, from_tau)
    while index + work_min <= total_min(w, h):
        start_tau, end_tau = minute(w, h, index), end_minute(w, h, index + work_min)
        over_tau = 0
        if w[step + V_HAS_UNIT]:
            over_tau = clash_end(w, s, track, words, guards, w[step + V_UNIT_NEED], start_tau, end_tau)
        if not over_tau and w[step + V_HAS_CREW]:
            over_tau = clash_in_work(w, s, track, words, guards, w[step + V_CREW_NEED], h, index, index + work_min)
        if not over_tau:
            return start_tau, end_tau
        index = max(index + 1, index_from(w, h, over_tau))
    return -1, -1


@compiled
def _take_step(w: Row, s: Row, step: int, start_tau: int, end_tau: int, sign: int) -> None:
    track, words = w[P_FLOOR], w[W_WORDS]
    if w[step + V_HAS_UNIT]:
        take(w, s, track, words, w[step + V_UNIT_NEED], start_tau, end_tau, sign)
    if w[step + V_HAS_CREW] and w[step + V_WORK_MIN]:
        h = w[w[step + V_HOURS]]
        take_work(
            w, s, track, words, w[step + V_CREW_NEED], h, index_from(w, h, start_tau), index_from(w, h, end_tau), sign
        )

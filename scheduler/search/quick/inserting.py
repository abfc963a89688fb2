"""A run put before a run that is fixed in time, or exactly where it is fixed, as in `search/inserting.py`."""

from __future__ import annotations

from scheduler.search.quick.booking import list_out, put_in, take_out, write_place
from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.holding_back import burn_from, choice_on
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import pack, repack, unpack
from scheduler.search.quick.press import earliest_way, fences, least_work_min, placed_of, run_of
from scheduler.search.quick.ready import make_ready
from scheduler.search.quick.set_ups import free_from, keep, may_keep, set_up_minutes
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    A_KEPT,
    A_KEPT_COUNT,
    A_SET_UP_MIN,
    A_START,
    C_IS_PREFERRED,
    C_PRESS,
    FIXED,
    K_USES,
    NEVER,
    OK,
    P_FLOOR,
    P_ORDER_LEFT,
    P_PACKED,
    P_QUEUES,
    P_RECLAIMED,
    P_WAITING,
    PACKING,
    PRESS,
    R_CHOICE_COUNT,
    R_CHOICES,
    R_FIXED_PRESS,
    R_FIXED_START,
    R_IS_STARTED,
    R_ORDER,
    R_SET,
    R_SET_UP_LEFT,
    S_VERSION,
    W_RUN_COUNT,
    W_SCRATCH_KEPT,
    W_SETS,
    W_WORDS,
    X_KNOWN,
    Y_BURN_START,
    Y_FROM,
    Y_STAGE_END,
    Y_STAGE_START,
)


@compiled
def _by_time(w: Row, s: Row, at: int, start_tau: int) -> int:
    """Where in a list of placed runs one that starts at `start_tau` belongs."""
    place = 0
    for k in range(s[at]):
        place += s[placed_of(w, s[at + 1 + k]) + A_START] < start_tau
    return place


@compiled
def _uses_of(w: Row, run: int) -> int:
    """The list of uses of a run's set; -1 without a set."""
    return w[w[w[W_SETS] + w[run + R_SET]] + K_USES] if w[run + R_SET] >= 0 else -1


@compiled
def _keep_on(w: Row, s: Row, x: Row, choice: int, before: int, was: int) -> int:
    """Keep just the inks written down for a place, as the run behind it counts on them; -1 if they may not stay."""
    at, count = w[W_SCRATCH_KEPT], may_keep(w, s, x, choice, before)
    for k in range(s[was + A_KEPT_COUNT]):
        stays = False
        for i in range(count):
            stays = stays or x[at + i] == s[was + A_KEPT + k]
        if not stays:
            return -1
    for k in range(s[was + A_KEPT_COUNT]):
        x[at + k] = s[was + A_KEPT + k]
    return s[was + A_KEPT_COUNT]


@compiled
def _put_at(
    w: Row,
    s: Row,
    x: Row,
    pairs: Row,
    number: int,
    choice: int,
    queue_at: int,
    use_at: int,
    is_exact: bool,
    is_ready: bool,
    not_before_tau: int,
    end_by_tau: int,
    liked: int,
    keeps_on: bool,
) -> int:
    """Put a run at this place of its press's queue and of its set's uses, nothing else moved. See `insert`."""
    run, one = run_of(w, number), placed_of(w, number)
    queue, uses = w[P_QUEUES] + w[choice + C_PRESS] * (w[W_RUN_COUNT] + 1), _uses_of(w, run)
    if uses >= 0 and min(use_at, s[uses]):
        last = s[uses + min(use_at, s[uses])]
        not_before_tau = max(not_before_tau, s[placed_of(w, last) + A_END])
    before = placed_of(w, s[queue + queue_at]) if queue_at else -1
    if keeps_on:
        kept = _keep_on(w, s, x, choice, before, one)
        if kept < 0:
            return FIXED
    else:
        kept = keep(w, s, x, choice, before, liked)
    is_started = w[run + R_IS_STARTED] != 0
    set_up_min = w[run + R_SET_UP_LEFT] if is_started else set_up_minutes(w, s, x, pairs, choice, before, kept)
    free_tau = free_from(s, before)
    if not is_ready:
        if is_started:
            x[Y_BURN_START] = x[Y_STAGE_START] = x[Y_STAGE_END] = -1
            x[Y_FROM] = 0
        else:
            why = make_ready(w, s, x, run, burn_from(w, s, run, use_at), max(free_tau, not_before_tau))
            if why != OK:
                return why
    from_tau = max(x[Y_FROM], free_tau)
    exact_tau = -1
    if is_exact:
        exact_tau = w[run + R_FIXED_START]
        if from_tau > exact_tau:
            return FIXED
        from_tau = exact_tau
    its_end_by_tau, print_from_tau = fences(w, s, x, run)
    way, index, print_index, end_index, _ = earliest_way(
        w, s, x, run, choice, set_up_min, from_tau, min(end_by_tau, its_end_by_tau), print_from_tau, exact_tau
    )
    if way < 0:
        return PRESS
    write_place(w, s, x, number, way, kept, set_up_min, index, print_index, end_index)
    if is_exact and s[one + A_START] != exact_tau:
        s[one + A_CHOICE] = -1
        return FIXED
    put_in(w, s, number, queue_at, use_at)
    return OK


@compiled
def insert(
    w: Row,
    s: Row,
    x: Row,
    pairs: Row,
    number: int,
    choice: int,
    queue_at: int,
    use_at: int,
    is_exact: bool,
    is_ready: bool,
    not_before_tau: int,
) -> int:
    """Put a run at this place of its press's queue and of its set's uses; OK if it worked.

    Fixed runs that come next are taken out and put back at their fixed starts, as what stands before them is new.
    is_ready: the scratch row holds burn and staging known to fit. Changes the row either way: try it on a copy.
    """
    run = run_of(w, number)
    queue, uses = w[P_QUEUES] + w[choice + C_PRESS] * (w[W_RUN_COUNT] + 1), _uses_of(w, run)
    next_on = s[queue + 1 + queue_at] if queue_at < s[queue] else -1
    next_use = s[uses + 1 + use_at] if uses >= 0 and use_at < s[uses] else -1
    if uses >= 0:
        for k in range(use_at, s[uses]):
            if s[w[P_RECLAIMED] + s[uses + 1 + k]] >= 0:
                return FIXED
    end_by_tau = NEVER
    for other in (next_on, next_use):
        if other >= 0:
            end_by_tau = min(end_by_tau, s[placed_of(w, other) + A_START])
    liked = placed_of(w, next_on) if next_on >= 0 else -1
    first, second = next_on, (next_use if next_use != next_on else -1)
    if first < 0 or (second >= 0 and _is_sooner(w, s, second, first)):
        first, second = second, first
    first_press, second_press, first_followed, second_followed = -1, -1, False, False
    if first >= 0:
        first_press, first_followed = _stands_on(w, s, first)
    if second >= 0:
        second_press, second_followed = _stands_on(w, s, second)
    first_order, second_order = -1, -1
    if first >= 0 and s[w[P_PACKED] + w[run_of(w, first) + R_ORDER]] >= 0:
        first_order = w[run_of(w, first) + R_ORDER]
    if second >= 0 and s[w[P_PACKED] + w[run_of(w, second) + R_ORDER]] >= 0:
        second_order = w[run_of(w, second) + R_ORDER]
    if second_order == first_order:
        second_order = -1
    # Orders are unpacked in the order of the runs that move, which is that of their starts.
    for order in (first_order, second_order):
        if order >= 0:
            unpack(w, s, order)
    for other in (first, second):
        if other >= 0:
            take_out(w, s, other)
    why = _put_at(
        w, s, x, pairs, number, choice, queue_at, use_at, is_exact, is_ready, not_before_tau, end_by_tau, liked, False
    )
    if why != OK:
        return why
    if first >= 0 and _put_back(w, s, x, pairs, first, first_press, first_followed) != OK:
        return FIXED
    if second >= 0 and _put_back(w, s, x, pairs, second, second_press, second_followed) != OK:
        return FIXED
    for order in (first_order, second_order):
        if order >= 0 and not repack(w, s, order):
            return PACKING
    return OK


@compiled
def _is_sooner(w: Row, s: Row, number: int, other: int) -> bool:
    its_tau, other_tau = s[placed_of(w, number) + A_START], s[placed_of(w, other) + A_START]
    return its_tau < other_tau or (its_tau == other_tau and number < other)


@compiled
def _stands_on(w: Row, s: Row, number: int) -> tuple[int, bool]:
    """(press of a placed run, True if another run stands behind it)."""
    press_number = w[s[placed_of(w, number) + A_CHOICE] + C_PRESS]
    queue = w[P_QUEUES] + press_number * (w[W_RUN_COUNT] + 1)
    return press_number, s[queue + s[queue]] != number


@compiled
def _put_back(w: Row, s: Row, x: Row, pairs: Row, number: int, press_number: int, keeps_on: bool) -> int:
    """Put a fixed run that was taken out back at its fixed start."""
    run, start_tau = run_of(w, number), s[placed_of(w, number) + A_START]
    queue, uses = w[P_QUEUES] + press_number * (w[W_RUN_COUNT] + 1), _uses_of(w, run)
    queue_at = _by_time(w, s, queue, start_tau)
    use_at = _by_time(w, s, uses, start_tau) if uses >= 0 else 0
    end_by_tau, liked = NEVER, -1
    if queue_at < s[queue]:
        liked = placed_of(w, s[queue + 1 + queue_at])
        end_by_tau = s[liked + A_START]
    if uses >= 0 and use_at < s[uses]:
        end_by_tau = min(end_by_tau, s[placed_of(w, s[uses + 1 + use_at]) + A_START])
    choice = choice_on(w, run, press_number)
    return _put_at(w, s, x, pairs, number, choice, queue_at, use_at, True, False, 0, end_by_tau, liked, keeps_on)


@compiled
def copy_plan(w: Row, source: Row, at: int, target: Row, to: int) -> None:
    """Write a plan that stands from `at` on over the one from `to` on; what is behind its last event is not read."""
    floor = w[P_FLOOR]
    for k in range(floor + 1 + source[at + floor] * (w[W_WORDS] + 1)):
        target[to + k] = source[at + k]


@compiled
def _fix(w: Row, s: Row, t: Row, x: Row, pairs: Row, number: int) -> bool:
    """Put a run exactly where it is fixed; True if it worked."""
    run = run_of(w, number)
    start_tau, uses = w[run + R_FIXED_START], _uses_of(w, run)
    copy_plan(w, s, 0, t, 0)
    for k in range(w[run + R_CHOICE_COUNT]):
        choice = w[w[run + R_CHOICES] + k]
        if w[run + R_FIXED_PRESS] not in (-1, w[choice + C_PRESS]):
            continue
        queue_at = _by_time(w, s, w[P_QUEUES] + w[choice + C_PRESS] * (w[W_RUN_COUNT] + 1), start_tau)
        use_at = _by_time(w, s, uses, start_tau) if uses >= 0 else 0
        if insert(w, s, x, pairs, number, choice, queue_at, use_at, True, False, 0) == OK:
            return True
        copy_plan(w, t, 0, s, 0)
    return False


@compiled
def fix_waiting(w: Row, s: Row, t: Row, x: Row, pairs: Row, flags: Row) -> bool:
    """Put fixed runs that wait for frames where they are fixed; True if one got there."""
    waiting, moved, k = w[P_WAITING], False, 0
    while k < s[waiting]:
        number = s[waiting + 1 + k]
        if not _fix(w, s, t, x, pairs, number):
            k += 1
            continue
        list_out(s, waiting, number)
        s[S_VERSION] += 1
        moved = True
        order = w[run_of(w, number) + R_ORDER]
        if not s[w[P_ORDER_LEFT] + order]:
            pack(w, s, order, flags)
    return moved


@compiled
def _may_go_before(w: Row, number: int) -> bool:
    run = run_of(w, number)
    return w[run + R_FIXED_START] >= 0 and not w[run + R_IS_STARTED]


@compiled
def best_gap(
    w: Row,
    s: Row,
    t: Row,
    x: Row,
    pairs: Row,
    number: int,
    choice: int,
    is_ready: bool,
    from_tau: int,
    best_tau: int,
    best_other: int,
    best_min: int,
    best_press: int,
) -> int:
    """Where, in the row of spare plans, the one with a run before fixed runs on a press or fixed uses of its set is.

    -1 if it is no better there. from_tau: the genes want it set up no sooner. best: the end to beat, 1 if the press is
    not preferred, set-up minutes and press behind it. The plan and what is known of its screens stay as they are.
    """
    run, found, spare = run_of(w, number), -1, len(t) // 2
    uses, on, is_copied = _uses_of(w, run), w[choice + C_PRESS], False
    use_count = s[uses] if uses >= 0 else 0
    first_free = use_count
    while first_free and _may_go_before(w, s[uses + first_free]):
        first_free -= 1
    queue = w[P_QUEUES] + on * (w[W_RUN_COUNT] + 1)
    least_min = least_work_min(w, choice)
    for k in range(X_KNOWN):
        x[X_KNOWN + k] = x[k]
    for queue_at in range(s[queue] + 1):
        if queue_at < s[queue] and not _may_go_before(w, s[queue + 1 + queue_at]):
            continue
        for use_at in range(use_count, first_free - 1, -1):
            if queue_at == s[queue] and use_at == use_count:
                continue
            is_known = is_ready and use_at == use_count
            ready_tau = max(x[X_KNOWN + Y_FROM] if is_known else 0, from_tau)
            begin_tau, by_tau = _room(w, s, queue, queue_at, uses, use_at, ready_tau)
            if min(by_tau, best_tau) - begin_tau < least_min:
                continue
            for k in range(X_KNOWN):
                x[k] = x[X_KNOWN + k]
            x[Y_FROM] = ready_tau
            if not is_copied:
                copy_plan(w, s, 0, t, 0)
                is_copied = True
            if insert(w, s, x, pairs, number, choice, queue_at, use_at, False, is_known, from_tau) == OK:
                one = placed_of(w, number)
                end_tau, set_up_min = s[one + A_END], s[one + A_SET_UP_MIN]
                other = 0 if w[s[one + A_CHOICE] + C_IS_PREFERRED] else 1
                if (end_tau, other, set_up_min, on) < (best_tau, best_other, best_min, best_press):
                    found = spare
                    best_tau, best_other, best_min, best_press = end_tau, other, set_up_min, on
                    copy_plan(w, s, 0, t, spare)
            copy_plan(w, t, 0, s, 0)
    for k in range(X_KNOWN):
        x[k] = x[X_KNOWN + k]
    return found


@compiled
def _room(w: Row, s: Row, queue: int, queue_at: int, uses: int, use_at: int, from_tau: int) -> tuple[int, int]:
    """From what comes before a place to what comes after it."""
    by_tau = NEVER
    if queue_at < s[queue]:
        by_tau = s[placed_of(w, s[queue + 1 + queue_at]) + A_START]
    if queue_at:
        from_tau = max(from_tau, s[placed_of(w, s[queue + queue_at]) + A_END])
    if uses >= 0 and use_at < s[uses]:
        by_tau = min(by_tau, s[placed_of(w, s[uses + 1 + use_at]) + A_START])
    if uses >= 0 and use_at:
        from_tau = max(from_tau, s[placed_of(w, s[uses + use_at]) + A_END])
    return from_tau, by_tau

"""Writing down the place of a run, and booking all it uses and costs, as in `search/state.py`."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.floor import take, take_work
from scheduler.search.quick.frames import book_burn, strike_burn
from scheduler.search.quick.hours import Row, end_minute, index_from, minute, rinsed_end
from scheduler.search.quick.press import placed_of, run_of
from scheduler.search.quick.slots import (
    A_BURN_END,
    A_BURN_START,
    A_CHOICE,
    A_DRY,
    A_END,
    A_KEPT,
    A_KEPT_COUNT,
    A_PRINT_START,
    A_RINSE_MIN,
    A_SET_UP_END,
    A_SET_UP_MIN,
    A_STAGE_END,
    A_STAGE_START,
    A_START,
    A_TAPE_END,
    A_TAPE_START,
    C_CENTS_PER_MIN,
    C_FLASH_NEED,
    C_HAS_FLASH_NEED,
    C_HAS_PRINT_NEED,
    C_HAS_SET_UP_NEED,
    C_PRESS,
    C_PRINT_CENTS,
    C_PRINT_NEED,
    C_RE_INK_MIN,
    C_SET_UP_NEED,
    C_WASH_UP_MIN,
    C_WORK_MIN,
    K_BURN_CENTS,
    K_IS_BURNED,
    K_IS_STARTED,
    K_RUN_COUNT,
    K_SCREENS,
    K_USES,
    L_HOURS,
    L_PRINTS,
    P_FLOOR,
    P_ORDER_LEFT,
    P_QUEUES,
    P_RACK,
    P_SET_LEFT,
    P_SHOTS,
    R_ANNOUNCED_PRESS,
    R_ANNOUNCED_TAU,
    R_IDLE_OK,
    R_LEAST_CENTS,
    R_ORDER,
    R_SET,
    S_AHEAD,
    S_BURN,
    S_CUSHION,
    S_LATE,
    S_LEAST_LEFT,
    S_MOVE,
    S_PRINT,
    S_SET_UP,
    W_AHEAD_MIN,
    W_HAS_ROOM_NEED,
    W_HAS_STAGE_NEED,
    W_MOVE_CENTS,
    W_MOVE_FREE_MIN,
    W_NOT_AHEAD_CENTS,
    W_ONE,
    W_PRESSES,
    W_ROOM_HOURS,
    W_ROOM_NEED,
    W_RUN_COUNT,
    W_SCRATCH_KEPT,
    W_SETS,
    W_STAGE_NEED,
    W_STAGING_HOURS,
    W_WORDS,
    Y_BURN_END,
    Y_BURN_START,
    Y_DRY,
    Y_STAGE_END,
    Y_STAGE_START,
    Y_TAPE_END,
    Y_TAPE_START,
)


@compiled
def cost_cents(s: Row) -> int:
    """Cost so far, overtime left out."""
    return s[S_LATE] + s[S_CUSHION] + s[S_SET_UP] + s[S_PRINT] + s[S_BURN] + s[S_AHEAD] + s[S_MOVE]


@compiled
def write_place(
    w: Row,
    s: Row,
    x: Row,
    number: int,
    choice: int,
    kept: int,
    set_up_min: int,
    index: int,
    print_index: int,
    end_index: int,
) -> None:
    """Write down the place of a run found by `earliest_way`, with what the scratch row says of its screens and inks."""
    run, one = run_of(w, number), placed_of(w, number)
    press = w[w[W_PRESSES] + w[choice + C_PRESS]]
    hours, prints = w[press + L_HOURS], w[press + L_PRINTS]
    start_tau, print_start_tau = minute(w, hours, index), minute(w, prints, print_index)
    stops = 0
    if w[run + R_IDLE_OK] >= 0:
        _, stops, _ = rinsed_end(
            w,
            prints,
            print_index,
            w[choice + C_WORK_MIN],
            w[run + R_IDLE_OK],
            w[choice + C_WASH_UP_MIN],
            w[choice + C_RE_INK_MIN],
        )
    s[one + A_CHOICE] = choice
    s[one + A_SET_UP_MIN] = set_up_min
    s[one + A_START] = start_tau
    s[one + A_SET_UP_END] = end_minute(w, hours, index + set_up_min) if set_up_min else start_tau
    s[one + A_PRINT_START] = print_start_tau
    s[one + A_END] = end_minute(w, prints, end_index) if end_index > print_index else print_start_tau
    s[one + A_RINSE_MIN] = stops * (w[choice + C_WASH_UP_MIN] + w[choice + C_RE_INK_MIN])
    s[one + A_STAGE_START], s[one + A_STAGE_END] = x[Y_STAGE_START], x[Y_STAGE_END]
    s[one + A_BURN_START], s[one + A_BURN_END], s[one + A_DRY] = x[Y_BURN_START], x[Y_BURN_END], x[Y_DRY]
    s[one + A_TAPE_START], s[one + A_TAPE_END] = x[Y_TAPE_START], x[Y_TAPE_END]
    s[one + A_KEPT_COUNT] = kept
    for k in range(kept):
        s[one + A_KEPT + k] = x[w[W_SCRATCH_KEPT] + k]


@compiled
def put_in(w: Row, s: Row, number: int, queue_at: int, use_at: int) -> None:
    """Book a run whose place is written down: press, people, belt, and its burn with rack, exposure unit and frames."""
    run, one = run_of(w, number), placed_of(w, number)
    book(w, s, run, one, 1)
    _list_in(s, w[P_QUEUES] + w[s[one + A_CHOICE] + C_PRESS] * (w[W_RUN_COUNT] + 1), queue_at, number)
    s[w[P_ORDER_LEFT] + w[run + R_ORDER]] -= 1
    s[S_LEAST_LEFT] -= w[run + R_LEAST_CENTS]
    if w[run + R_SET] >= 0:
        screens = w[w[W_SETS] + w[run + R_SET]]
        uses = w[screens + K_USES]
        if not s[uses]:
            s[S_LEAST_LEFT] -= _first_burn_cents(w, screens)
        _list_in(s, uses, use_at, number)
        s[w[P_SET_LEFT] + w[run + R_SET]] -= 1


@compiled
def take_out(w: Row, s: Row, number: int) -> None:
    """Strike a run out again; what was written of its place can still be read."""
    run, one = run_of(w, number), placed_of(w, number)
    book(w, s, run, one, -1)
    list_out(s, w[P_QUEUES] + w[s[one + A_CHOICE] + C_PRESS] * (w[W_RUN_COUNT] + 1), number)
    s[one + A_CHOICE] = -1
    s[w[P_ORDER_LEFT] + w[run + R_ORDER]] += 1
    s[S_LEAST_LEFT] += w[run + R_LEAST_CENTS]
    if w[run + R_SET] >= 0:
        screens = w[w[W_SETS] + w[run + R_SET]]
        list_out(s, w[screens + K_USES], number)
        if not s[w[screens + K_USES]]:
            s[S_LEAST_LEFT] += _first_burn_cents(w, screens)
        s[w[P_SET_LEFT] + w[run + R_SET]] += 1


@compiled
def list_out(s: Row, at: int, number: int) -> None:
    """Take a number out of a list."""
    count = s[at]
    k = 0
    while s[at + 1 + k] != number:
        k += 1
    for i in range(k, count - 1):
        s[at + 1 + i] = s[at + 2 + i]
    s[at] = count - 1


@compiled
def _first_burn_cents(w: Row, screens: int) -> int:
    if w[screens + K_IS_BURNED] or w[screens + K_IS_STARTED] or not w[screens + K_RUN_COUNT]:
        return 0
    return w[screens + K_BURN_CENTS]


@compiled
def _list_in(s: Row, at: int, place: int, number: int) -> None:
    """Put a number into a list at a place."""
    count = s[at]
    for k in range(count, place, -1):
        s[at + 1 + k] = s[at + k]
    s[at + 1 + place] = number
    s[at] = count + 1


@compiled
def book(w: Row, s: Row, run: int, one: int, sign: int) -> None:
    """Book what a placed run uses and costs; sign -1 strikes it out."""
    choice, track, words = s[one + A_CHOICE], w[P_FLOOR], w[W_WORDS]
    press = w[w[W_PRESSES] + w[choice + C_PRESS]]
    start_tau, end_tau = s[one + A_START], s[one + A_END]
    if w[choice + C_HAS_SET_UP_NEED]:
        h = w[press + L_HOURS]
        index = index_from(w, h, start_tau)
        take_work(w, s, track, words, w[choice + C_SET_UP_NEED], h, index, index + s[one + A_SET_UP_MIN], sign)
    if w[choice + C_HAS_PRINT_NEED]:
        h = w[press + L_PRINTS]
        index, last = index_from(w, h, s[one + A_PRINT_START]), index_from(w, h, end_tau)
        take_work(w, s, track, words, w[choice + C_PRINT_NEED], h, index, last, sign)
    if w[choice + C_HAS_FLASH_NEED]:
        take(w, s, track, words, w[choice + C_FLASH_NEED], start_tau, end_tau, sign)
    if w[W_HAS_STAGE_NEED] and s[one + A_STAGE_START] >= 0:
        h = w[W_STAGING_HOURS]
        index, last = index_from(w, h, s[one + A_STAGE_START]), index_from(w, h, s[one + A_STAGE_END])
        take_work(w, s, track, words, w[W_STAGE_NEED], h, index, last, sign)
    minutes = s[one + A_SET_UP_MIN] + w[choice + C_WASH_UP_MIN] + s[one + A_RINSE_MIN]
    s[S_SET_UP] += sign * minutes * w[choice + C_CENTS_PER_MIN]
    s[S_PRINT] += sign * w[choice + C_PRINT_CENTS]
    s[S_MOVE] += sign * _move_cents(w, run, choice, start_tau)
    if s[one + A_BURN_START] >= 0:
        _book_burn(w, s, run, one, sign)


@compiled
def _book_burn(w: Row, s: Row, run: int, one: int, sign: int) -> None:
    screens = w[w[W_SETS] + w[run + R_SET]]
    burn_tau, burned_tau = s[one + A_BURN_START], s[one + A_BURN_END]
    if w[W_HAS_ROOM_NEED]:
        h, track, words, need = w[W_ROOM_HOURS], w[P_FLOOR], w[W_WORDS], w[W_ROOM_NEED]
        index = index_from(w, h, burn_tau)
        take_work(w, s, track, words, need, h, index, index_from(w, h, burned_tau), sign)
        index = index_from(w, h, s[one + A_TAPE_START])
        take_work(w, s, track, words, need, h, index, index_from(w, h, s[one + A_TAPE_END]), sign)
    take(w, s, w[P_SHOTS], 1, W_ONE, burn_tau, burned_tau, sign)
    take(w, s, w[P_RACK], 1, screens + K_SCREENS, burned_tau, s[one + A_DRY], sign)
    s[S_BURN] += sign * w[screens + K_BURN_CENTS]
    stands_min = s[one + A_START] - s[one + A_TAPE_END]
    if stands_min < w[W_AHEAD_MIN]:
        s[S_AHEAD] += sign * (w[W_AHEAD_MIN] - stands_min) * w[W_NOT_AHEAD_CENTS]
    if sign > 0:
        book_burn(w, s, screens, burn_tau)
    else:
        strike_burn(w, s, screens, burn_tau)


@compiled
def _move_cents(w: Row, run: int, choice: int, start_tau: int) -> int:
    if w[run + R_ANNOUNCED_PRESS] == -1:
        return 0
    if w[choice + C_PRESS] != w[run + R_ANNOUNCED_PRESS]:
        return w[W_MOVE_CENTS]
    return w[W_MOVE_CENTS] if abs(start_tau - w[run + R_ANNOUNCED_TAU]) > w[W_MOVE_FREE_MIN] else 0

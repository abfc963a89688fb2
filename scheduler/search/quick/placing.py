"""One run after the other at its earliest place, as in `search/decoder.py`."""

from __future__ import annotations

from scheduler.search.quick.booking import cost_cents, put_in, write_place
from scheduler.search.quick.compiled import compiled, compiled_and_kept
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import STANDS, WAITS, pack
from scheduler.search.quick.press import earliest_way, fences, placed_of, run_of
from scheduler.search.quick.ready import make_ready
from scheduler.search.quick.set_ups import free_from, keep, last_on, set_up_minutes
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    AFTER,
    C_IS_PREFERRED,
    C_PRESS,
    DEARER,
    FRAMES,
    GROW,
    K_IS_BURNED,
    K_SCREENS,
    K_USES,
    NEVER,
    OK,
    P_FLOOR,
    P_ORDER_LEFT,
    P_PUT_OFF,
    P_QUEUES,
    P_RECLAIMED,
    PACKING,
    PRESS,
    R_AFTER,
    R_AFTER_COUNT,
    R_ANNOUNCED_PRESS,
    R_ANNOUNCED_TAU,
    R_ART,
    R_CHOICE_COUNT,
    R_CHOICES,
    R_FIXED_PRESS,
    R_IS_STARTED,
    R_ORDER,
    R_SET,
    S_AT,
    S_LEAST_LEFT,
    S_PUT_OFF_COUNT,
    S_TRIES_AGAIN,
    S_VERSION,
    W_AHEAD_MIN,
    W_BLOCKS,
    W_EVENT_ROOM,
    W_MOVE_FREE_MIN,
    W_RUN_COUNT,
    W_SETS,
    W_WORDS,
    Y_BURN_START,
    Y_FROM,
    Y_TAPE_END,
)


@compiled_and_kept
def advance(
    w: Row, s: Row, x: Row, pairs: Row, order: Row, press: Row, later: Row, flags: Row, to: int, limit_cents: int
) -> int:
    """Place runs up to place `to` of the order; OK, or why not.

    After GROW the same call goes on where it stopped, once the row of the plan has been made longer.
    """
    is_placed = False
    while True:
        if s[S_TRIES_AGAIN]:
            why = _try_again(w, s, x, pairs, press, later, flags)
            if why == GROW:
                return GROW
            s[S_TRIES_AGAIN] = 0
            if why != OK:
                return why
        if is_placed and cost_cents(s) + s[S_LEAST_LEFT] > limit_cents:
            return DEARER
        if s[S_AT] >= to:
            return OK
        if _events_left(w, s) < w[W_EVENT_ROOM]:
            return GROW
        number = order[s[S_AT]]
        s[S_AT] += 1
        if s[placed_of(w, number) + A_CHOICE] >= 0:
            continue
        is_placed = True
        why = _place(w, s, x, pairs, press, later, flags, number)
        if why in (FRAMES, AFTER):
            at = w[P_PUT_OFF] + 3 * s[S_PUT_OFF_COUNT]
            s[at], s[at + 1], s[at + 2] = number, why, s[S_VERSION]
            s[S_PUT_OFF_COUNT] += 1
        elif why != OK:
            return why
        elif s[S_PUT_OFF_COUNT]:
            s[S_TRIES_AGAIN] = 1


@compiled
def _events_left(w: Row, s: Row) -> int:
    """How many more events the floor can take."""
    track = w[P_FLOOR]
    return (len(s) - track - 1) // (w[W_WORDS] + 1) - s[track]


@compiled
def _try_again(w: Row, s: Row, x: Row, pairs: Row, press: Row, later: Row, flags: Row) -> int:
    """Place what was put off, first come first served, until nothing more fits."""
    moved = True
    while moved:
        moved = False
        k = 0
        while k < s[S_PUT_OFF_COUNT]:
            at = w[P_PUT_OFF] + 3 * k
            k += 1
            if s[at + 1] != AFTER and s[at + 2] == s[S_VERSION]:
                continue
            if _events_left(w, s) < w[W_EVENT_ROOM]:
                return GROW
            why = _place(w, s, x, pairs, press, later, flags, s[at])
            if why in (FRAMES, AFTER):
                s[at + 1], s[at + 2] = why, s[S_VERSION]
                continue
            for i in range(at, w[P_PUT_OFF] + 3 * (s[S_PUT_OFF_COUNT] - 1)):
                s[i] = s[i + 3]
            s[S_PUT_OFF_COUNT] -= 1
            if why != OK:
                return why
            moved = True
            break
    return OK


@compiled
def burn_from(w: Row, s: Row, run: int, use_at: int) -> int:
    """Shop minute from which the run's set may be burned for it; NEVER if it stands ready and needs no burn."""
    if w[run + R_SET] < 0 or w[run + R_IS_STARTED]:
        return NEVER
    screens = w[w[W_SETS] + w[run + R_SET]]
    if not w[screens + K_SCREENS]:
        return NEVER
    if use_at == 0:
        return NEVER if w[screens + K_IS_BURNED] else w[run + R_ART]
    block = s[w[P_RECLAIMED] + s[w[screens + K_USES] + use_at]]
    return NEVER if block < 0 else max(w[run + R_ART], w[w[W_BLOCKS] + 3 * block + 1])


@compiled
def _waits_tau(w: Row, run: int, choice: int, later_tau: int, flag: int) -> int:
    """Shop minute before which the genes do not want the run set up on this press."""
    if flag & WAITS and w[choice + C_PRESS] == w[run + R_ANNOUNCED_PRESS]:
        return max(later_tau, w[run + R_ANNOUNCED_TAU] - w[W_MOVE_FREE_MIN])
    return later_tau


@compiled
def _place(w: Row, s: Row, x: Row, pairs: Row, press: Row, later: Row, flags: Row, number: int) -> int:
    """Put a run at its earliest end on the press its genes ask for, or on the best one."""
    run = run_of(w, number)
    for k in range(w[run + R_AFTER_COUNT]):
        if s[placed_of(w, w[w[run + R_AFTER] + k]) + A_CHOICE] < 0:
            return AFTER
    use_count, not_before_tau = 0, 0
    if w[run + R_SET] >= 0:
        uses = w[w[w[W_SETS] + w[run + R_SET]] + K_USES]
        use_count = s[uses]
        if use_count:
            not_before_tau = s[placed_of(w, s[uses + use_count]) + A_END]
    why = make_ready(w, s, x, run, burn_from(w, s, run, use_count), not_before_tau)
    if why != OK:
        return why
    if x[Y_BURN_START] >= 0 and flags[number] & STANDS:
        x[Y_FROM] = max(x[Y_FROM], x[Y_TAPE_END] + w[W_AHEAD_MIN])
    end_by_tau, print_from_tau = fences(w, s, x, run)
    asked = w[run + R_FIXED_PRESS] if w[run + R_FIXED_PRESS] >= 0 else press[number]
    best = first = print_first = print_last = -1
    best_tau, best_min, best_other, best_press = NEVER, 0, 0, 0
    for k in range(w[run + R_CHOICE_COUNT]):
        choice = w[w[run + R_CHOICES] + k]
        on = w[choice + C_PRESS]
        if asked >= 0 and on != asked:
            continue
        before = last_on(w, s, on)
        kept = keep(w, s, x, choice, before, -1)
        set_up_min = set_up_minutes(w, s, x, pairs, choice, before, kept)
        from_tau = max(x[Y_FROM], _waits_tau(w, run, choice, later[number], flags[number]), free_from(s, before))
        way, index, print_index, end_index, end_tau = earliest_way(
            w, s, x, run, choice, set_up_min, from_tau, min(end_by_tau, best_tau), print_from_tau, -1
        )
        if way < 0:
            continue
        other = 0 if w[choice + C_IS_PREFERRED] else 1
        if best < 0 or (end_tau, other, set_up_min, on) < (best_tau, best_other, best_min, best_press):
            best, first, print_first, print_last = way, index, print_index, end_index
            best_tau, best_other, best_min, best_press = end_tau, other, set_up_min, on
    if best < 0:
        return PRESS
    before = last_on(w, s, best_press)
    kept = keep(w, s, x, best, before, -1)
    write_place(w, s, x, number, best, kept, best_min, first, print_first, print_last)
    queue = w[P_QUEUES] + best_press * (w[W_RUN_COUNT] + 1)
    put_in(w, s, number, s[queue], use_count)
    order = w[run + R_ORDER]
    if not s[w[P_ORDER_LEFT] + order] and not pack(w, s, order, flags):
        return PACKING
    return OK

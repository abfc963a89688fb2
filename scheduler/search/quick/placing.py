"""One run after the other at its earliest place, as in `search/decoder.py`."""

from __future__ import annotations

from scheduler.search.quick.booking import cost_cents, put_in, write_place
from scheduler.search.quick.compiled import compiled, compiled_and_kept
from scheduler.search.quick.holding_back import burn_from, held_from, is_listed, waits_tau
from scheduler.search.quick.hours import Row
from scheduler.search.quick.inserting import best_gap, copy_plan, fix_waiting
from scheduler.search.quick.orders import STANDS, pack
from scheduler.search.quick.press import earliest_way, fences, placed_of, run_of
from scheduler.search.quick.ready import make_ready
from scheduler.search.quick.set_ups import free_from, keep, last_on, set_up_minutes
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    A_SET_UP_MIN,
    AFTER,
    C_IS_PREFERRED,
    C_PRESS,
    DEARER,
    FRAMES,
    GROW,
    K_USES,
    NEVER,
    OK,
    P_FLOOR,
    P_ORDER_LEFT,
    P_PUT_OFF,
    P_QUEUES,
    P_WAITING,
    PACKING,
    PRESS,
    R_AFTER,
    R_AFTER_COUNT,
    R_CHOICE_COUNT,
    R_CHOICES,
    R_FIXED_PRESS,
    R_ORDER,
    R_SET,
    S_AT,
    S_LEAST_LEFT,
    S_PUT_OFF_COUNT,
    S_TRIES_AGAIN,
    S_VERSION,
    W_AHEAD_MIN,
    W_EVENT_ROOM,
    W_HAS_LOCKS,
    W_RUN_COUNT,
    W_SETS,
    W_WORDS,
    Y_BURN_START,
    Y_FROM,
    Y_TAPE_END,
)
from scheduler.search.quick.still_late import still_late_cents


@compiled_and_kept
def advance(
    w: Row,
    s: Row,
    t: Row,
    x: Row,
    pairs: Row,
    order: Row,
    press: Row,
    later: Row,
    flags: Row,
    to: int,
    limit_cents: int,
) -> int:
    """Place runs up to place `to` of the order; OK, or why not.

    After GROW the same call goes on where it stopped, once the row of the plan has been made longer.
    """
    is_placed = False
    while True:
        if s[S_TRIES_AGAIN]:
            why = _try_again(w, s, t, x, pairs, press, later, flags)
            if why == GROW:
                return GROW
            s[S_TRIES_AGAIN] = 0
            if why != OK:
                return why
        if is_placed and limit_cents < NEVER:
            spare_cents = limit_cents - cost_cents(s) - s[S_LEAST_LEFT]
            if spare_cents < 0 or still_late_cents(w, s, press, spare_cents) > spare_cents:
                return DEARER
        if s[S_AT] >= to:
            return OK
        if _events_left(w, s) < w[W_EVENT_ROOM]:
            return GROW
        number = order[s[S_AT]]
        s[S_AT] += 1
        if s[placed_of(w, number) + A_CHOICE] >= 0 or is_listed(s, w[P_WAITING], number):
            continue
        is_placed = True
        why = _place(w, s, t, x, pairs, press, later, flags, number)
        if may_free_up(w, s, why):
            at = w[P_PUT_OFF] + 3 * s[S_PUT_OFF_COUNT]
            s[at], s[at + 1], s[at + 2] = number, why, s[S_VERSION]
            s[S_PUT_OFF_COUNT] += 1
        elif why != OK:
            return why
        elif s[S_PUT_OFF_COUNT] or s[w[P_WAITING]]:
            s[S_TRIES_AGAIN] = 1


@compiled
def _events_left(w: Row, s: Row) -> int:
    """How many more events the floor can take."""
    track = w[P_FLOOR]
    return (len(s) - track - 1) // (w[W_WORDS] + 1) - s[track]


@compiled
def _try_again(w: Row, s: Row, t: Row, x: Row, pairs: Row, press: Row, later: Row, flags: Row) -> int:
    """Place what was put off, first come first served, until nothing more fits."""
    moved = True
    while moved:
        moved = False
        if s[w[P_WAITING]]:
            if _events_left(w, s) < s[w[P_WAITING]] * w[W_EVENT_ROOM]:
                return GROW
            moved = fix_waiting(w, s, t, x, pairs, flags)
        k = 0
        while k < s[S_PUT_OFF_COUNT]:
            at = w[P_PUT_OFF] + 3 * k
            k += 1
            if s[at + 1] != AFTER and s[at + 2] == s[S_VERSION]:
                continue
            if _events_left(w, s) < w[W_EVENT_ROOM]:
                return GROW
            why = _place(w, s, t, x, pairs, press, later, flags, s[at])
            if may_free_up(w, s, why):
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
def _place(w: Row, s: Row, t: Row, x: Row, pairs: Row, press: Row, later: Row, flags: Row, number: int) -> int:
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
    if why != OK and not w[W_HAS_LOCKS]:
        return why
    if why == OK and x[Y_BURN_START] >= 0 and flags[number] & STANDS:
        x[Y_FROM] = max(x[Y_FROM], x[Y_TAPE_END] + w[W_AHEAD_MIN])
    end_by_tau, print_from_tau = fences(w, s, x, run)
    asked = w[run + R_FIXED_PRESS] if w[run + R_FIXED_PRESS] >= 0 else press[number]
    best = first = print_first = print_last = -1
    best_tau, best_min, best_other, best_press = NEVER, 0, 0, 0
    between = -1
    for k in range(w[run + R_CHOICE_COUNT]):
        choice = w[w[run + R_CHOICES] + k]
        on = w[choice + C_PRESS]
        if asked >= 0 and on != asked:
            continue
        from_tau = waits_tau(w, run, choice, later[number], flags[number])
        if why == OK:
            before = last_on(w, s, on)
            kept = keep(w, s, x, choice, before, -1)
            set_up_min = set_up_minutes(w, s, x, pairs, choice, before, kept)
            ready_tau = max(x[Y_FROM], from_tau, free_from(s, before))
            by_tau = min(end_by_tau, best_tau, held_from(w, s, on))
            way, index, print_index, end_index, end_tau = earliest_way(
                w, s, x, run, choice, set_up_min, ready_tau, by_tau, print_from_tau, -1
            )
            other = 1 if way < 0 or not w[way + C_IS_PREFERRED] else 0
            if way >= 0 and (end_tau, other, set_up_min, on) < (best_tau, best_other, best_min, best_press):
                best, first, print_first, print_last, between = way, index, print_index, end_index, -1
                best_tau, best_other, best_min, best_press = end_tau, other, set_up_min, on
        if w[W_HAS_LOCKS]:
            found = best_gap(
                w, s, t, x, pairs, number, choice, why == OK, from_tau, best_tau, best_other, best_min, best_press
            )
            if found >= 0:
                one = found + placed_of(w, number)
                between, best = found, t[one + A_CHOICE]
                best_tau, best_min, best_press = t[one + A_END], t[one + A_SET_UP_MIN], on
                best_other = 0 if w[best + C_IS_PREFERRED] else 1
            end_by_tau, print_from_tau = fences(w, s, x, run)
    if best < 0:
        return PRESS if why == OK else why
    if between >= 0:
        copy_plan(w, t, between, s, 0)
        return _packed(w, s, w[run + R_ORDER], flags)
    before = last_on(w, s, best_press)
    kept = keep(w, s, x, best, before, -1)
    write_place(w, s, x, number, best, kept, best_min, first, print_first, print_last)
    queue = w[P_QUEUES] + best_press * (w[W_RUN_COUNT] + 1)
    put_in(w, s, number, s[queue], use_count)
    return _packed(w, s, w[run + R_ORDER], flags)


@compiled
def _packed(w: Row, s: Row, order: int, flags: Row) -> int:
    """Pack an order if that was its last run."""
    if not s[w[P_ORDER_LEFT] + order] and not pack(w, s, order, flags):
        return PACKING
    return OK


@compiled
def may_free_up(w: Row, s: Row, why: int) -> bool:
    """True if a run that cannot be placed now may be later: frames come back, runs before it are placed."""
    if why in (OK, PACKING):
        return False
    return why in (FRAMES, AFTER) or s[w[P_WAITING]] > 0

"""Small changes to genes, as in `search/moves.py`, over rows of numbers: what the compiled walk draws.

Genes are one row of four stretches as long as there are runs: order, press (-1: the decoder picks), the minute to wait
for, and flags. What may be moved stands in the row `m` of the moves, which also holds the state of the dice.
"""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import IS_RELEASED, STANDS, WAITS
from scheduler.search.quick.press import run_of
from scheduler.search.quick.slots import (
    C_PRESS,
    GATHER,
    HURRY,
    INSERT,
    LATER,
    M_ANNOUNCED,
    M_BURNED,
    M_CHOOSY,
    M_DICE,
    M_FREE,
    M_KIN,
    M_KINDS,
    M_MOMENTS,
    M_PROMISED,
    M_SHARED,
    OVERTIME,
    PRESSES,
    R_CHOICE_COUNT,
    R_CHOICES,
    R_FIXED_START,
    R_ORDER,
    RELEASE,
    STAND,
    SWAP,
    W_RUN_COUNT,
    WAIT,
)

NO_CHANGE, BUYS = -1, -2
"""Instead of the first changed place: nothing has changed; a change of overtime is wanted, which is made outside."""
DICE, SIDES = 48271, 2147483647
"""Multiplier and modulus of the minimal standard generator (Park, Miller and Stockmeyer 1993)."""
TRIES = 50
"""Draws that may change nothing before the walk gives up for now."""
WEIGHT_UNIT = 10
"""Weights of kinds are written in tenths."""


@compiled
def thrown(m: Row) -> int:
    """The next throw of the dice, from 1 to one less than there are sides."""
    m[M_DICE] = m[M_DICE] * DICE % SIDES
    return m[M_DICE]


@compiled
def below_count(m: Row, count: int) -> int:
    """A number from 0 to one less than `count`."""
    return thrown(m) % count


@compiled
def one_of(m: Row, numbers: int) -> int:
    """One of a list: its length, then what is in it."""
    return m[numbers + 1 + below_count(m, m[numbers])]


@compiled
def change(m: Row, w: Row, g: Row, c: Row, packed: Row) -> int:
    """Write genes that differ a little from `g` into `c`; the first place of the order that may be decoded otherwise.

    packed: when each order is packed in the plan of `g`. Below zero as said above.
    """
    kinds = m[M_KINDS]
    last = kinds + 2 * m[kinds]
    for _ in range(TRIES):
        for k in range(len(g)):
            c[k] = g[k]
        weight = below_count(m, m[last])
        k = kinds + 1
        while m[k + 1] <= weight:
            k += 2
        if m[k] == OVERTIME:
            return BUYS
        at = _changed(m, w, g, c, packed, m[k])
        if at != NO_CHANGE:
            return at
    return NO_CHANGE


@compiled
def _changed(m: Row, w: Row, g: Row, c: Row, packed: Row, kind: int) -> int:
    runs = w[W_RUN_COUNT]
    if kind == INSERT:
        at = _place_of(g, one_of(m, m[M_FREE]))
        if below_count(m, 5) < 3:
            far = 1 + below_count(m, 6)
            return _moved(c, runs, at, at + far if below_count(m, 2) else at - far)
        return _moved(c, runs, at, below_count(m, runs))
    if kind == SWAP:
        return _swapped(m, c)
    if kind == HURRY:
        return _hurried(m, w, c, packed)
    if kind == GATHER:
        return _gathered(m, w, g, c)
    if kind == PRESSES:
        return _on_other_press(m, w, c)
    if kind == RELEASE:
        number = one_of(m, m[M_SHARED])
        c[3 * runs + number] ^= IS_RELEASED
        return 0 if w[run_of(w, number) + R_FIXED_START] >= 0 else _place_of(g, number)
    if kind == LATER:
        return _put_off(m, c, runs)
    number, flag = -1, 0
    if kind == WAIT:
        number, flag = one_of(m, m[M_ANNOUNCED]), WAITS
    elif kind == STAND:
        number, flag = one_of(m, m[M_BURNED]), STANDS
    c[3 * runs + number] ^= flag
    return _place_of(g, number)


@compiled
def _place_of(g: Row, number: int) -> int:
    place = 0
    while g[place] != number:
        place += 1
    return place


@compiled
def _moved(c: Row, runs: int, at: int, to: int) -> int:
    to = min(max(to, 0), runs - 1)
    if at == to:
        return NO_CHANGE
    number, step = c[at], 1 if to > at else -1
    for k in range(at, to, step):
        c[k] = c[k + step]
    c[to] = number
    return min(at, to)


@compiled
def _swapped(m: Row, c: Row) -> int:
    one = other = one_of(m, m[M_FREE])
    while other == one:
        other = one_of(m, m[M_FREE])
    at, to = _place_of(c, one), _place_of(c, other)
    c[at], c[to] = other, one
    return min(at, to)


@compiled
def _hurried(m: Row, w: Row, c: Row, packed: Row) -> int:
    """Pull a run of a late order forward."""
    free, late = m[M_FREE], 0
    for k in range(m[free]):
        late += _is_late(m, w, packed, m[free + 1 + k])
    if not late:
        return NO_CHANGE
    left = below_count(m, late)
    k = 0
    while left or not _is_late(m, w, packed, m[free + 1 + k]):
        left -= _is_late(m, w, packed, m[free + 1 + k])
        k += 1
    at = _place_of(c, m[free + 1 + k])
    return _moved(c, w[W_RUN_COUNT], at, below_count(m, at)) if at else NO_CHANGE


@compiled
def _is_late(m: Row, w: Row, packed: Row, number: int) -> bool:
    order = w[run_of(w, number) + R_ORDER]
    return packed[order] > m[m[M_PROMISED] + 1 + order]


@compiled
def _gathered(m: Row, w: Row, g: Row, c: Row) -> int:
    """Put up to three of a run's kin right behind it, and half the time on its press."""
    runs, number = w[W_RUN_COUNT], one_of(m, m[M_FREE])
    kin = m[m[M_KIN] + number]
    if not m[kin]:
        return NO_CHANGE
    one, other, third = _up_to_three(m, kin)
    place = 0
    for i in range(runs):
        if g[i] in (one, other, third):
            continue
        c[place] = g[i]
        place += 1
        if g[i] == number:
            for j in range(runs):
                if g[j] in (one, other, third):
                    c[place] = g[j]
                    place += 1
    at = 0
    while at < runs and c[at] == g[at]:
        at += 1
    if at == runs:
        return NO_CHANGE
    asked = g[runs + number]
    if asked >= 0 and below_count(m, 2):
        for i in range(runs):
            its = g[i]
            if its in (one, other, third) and asked != g[runs + its] and _can_print(w, its, asked):
                c[runs + its] = asked
                at = min(at, i)
    return at


@compiled
def _up_to_three(m: Row, numbers: int) -> tuple[int, int, int]:
    """Three of a list, or all there are; -1 for one that is not there."""
    count = m[numbers]
    if count <= 3:
        return m[numbers + 1], m[numbers + 2] if count > 1 else -1, m[numbers + 3] if count > 2 else -1
    one = one_of(m, numbers)
    other = third = one
    while other == one:
        other = one_of(m, numbers)
    while third in (one, other):
        third = one_of(m, numbers)
    return one, other, third


@compiled
def _can_print(w: Row, number: int, press: int) -> bool:
    run = run_of(w, number)
    for k in range(w[run + R_CHOICE_COUNT]):
        if w[w[w[run + R_CHOICES] + k] + C_PRESS] == press:
            return True
    return False


@compiled
def _on_other_press(m: Row, w: Row, c: Row) -> int:
    """Ask for another press, or leave it to the decoder."""
    number = one_of(m, m[M_CHOOSY])
    run, mine = run_of(w, number), w[W_RUN_COUNT] + number
    left, asked = below_count(m, w[run + R_CHOICE_COUNT]), -1
    for k in range(-1, w[run + R_CHOICE_COUNT]):
        press = w[w[w[run + R_CHOICES] + k] + C_PRESS] if k >= 0 else -1
        if press == c[mine]:
            continue
        if not left:
            asked = press
            break
        left -= 1
    c[mine] = asked
    return _place_of(c, number)


@compiled
def _put_off(m: Row, c: Row, runs: int) -> int:
    """Let a run wait for a later moment, or no longer."""
    number = one_of(m, m[M_FREE])
    moments = m[m[M_MOMENTS] + number]
    if c[2 * runs + number]:
        c[2 * runs + number] = 0
    elif m[moments]:
        c[2 * runs + number] = one_of(m, moments)
    else:
        return NO_CHANGE
    return _place_of(c, number)

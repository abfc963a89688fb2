"""The walk itself compiled: change a little, decode from the nearest mark, keep what is better and now and then worse.

It is `Annealing._step` of `search/local.py`, many steps at one heat. Marks are partial plans of the genes it stands on,
one after the other in a row; each agrees with those genes up to its place of the order.
"""

from __future__ import annotations

from math import log

from numpy import uintp

from scheduler.search.quick.changes import SIDES, change, thrown
from scheduler.search.quick.compiled import compiled, compiled_and_kept
from scheduler.search.quick.hours import Row
from scheduler.search.quick.placing import advance
from scheduler.search.quick.plan_row import summed_up
from scheduler.search.quick.slots import (
    GROW,
    M_BEST_CENTS,
    M_BEST_EARLINESS,
    M_GENOMES,
    M_IS_BETTER,
    M_MARK_EVERY,
    M_OVERTIME_CENTS,
    NEVER,
    OK,
    P_FLOOR,
    P_PACKED,
    P_WAITING,
    PRESS,
    S_PUT_OFF_COUNT,
    W_ORDER_COUNT,
    W_RUN_COUNT,
    W_WORDS,
)


@compiled_and_kept
def walk(
    w: Row,
    s: Row,
    t: Row,
    x: Row,
    pairs: Row,
    m: Row,
    g: Row,
    c: Row,
    best: Row,
    packed: Row,
    marks: Row,
    is_marked: Row,
    steps: int,
    guide: float,
    heat: float,
    late_weight: float,
) -> tuple[int, float]:
    """(OK, guide value of where the walk then stands) after so many steps; sooner if something is to be done outside.

    Below zero as `changes.change` says; GROW: rows are to be made longer. late_weight: what a cent times a minute of
    lateness counts in the guide value. Better plans than the best go into `best`.
    """
    for _ in range(steps):
        at = change(m, w, g, c, packed)
        if at < 0:
            return at, guide
        m[M_GENOMES] += 1
        limit = guide - heat * log(1.0 - thrown(m) / SIDES)
        limit_cents = int(min(limit, float(NEVER))) - m[M_OVERTIME_CENTS]
        why = _decode(w, s, t, x, pairs, c, marks, is_marked, at, m[M_MARK_EVERY], limit_cents)
        if why == GROW:
            return GROW, guide
        if why != OK:
            continue
        cents, earliness, late = summed_up(w, s)
        cents += m[M_OVERTIME_CENTS]
        _note(m, c, best, cents, earliness)
        its_guide = cents + late_weight * late
        if its_guide > limit:
            continue
        guide = its_guide
        for k in range(len(g)):
            g[k] = c[k]
        for k in range(w[W_ORDER_COUNT]):
            packed[k] = s[w[P_PACKED] + k]
        for k in range(at // m[M_MARK_EVERY] + 1, len(is_marked)):
            is_marked[k] = 0
    return OK, guide


@compiled
def _note(m: Row, c: Row, best: Row, cents: int, earliness: int) -> None:
    """Keep genes whose plan is cheaper than the best, or as cheap and earlier."""
    if cents > m[M_BEST_CENTS] or (cents == m[M_BEST_CENTS] and earliness >= m[M_BEST_EARLINESS]):
        return
    m[M_BEST_CENTS], m[M_BEST_EARLINESS], m[M_IS_BETTER] = cents, earliness, 1
    for k in range(len(c)):
        best[k] = c[k]


@compiled
def _decode(
    w: Row,
    s: Row,
    t: Row,
    x: Row,
    pairs: Row,
    c: Row,
    marks: Row,
    is_marked: Row,
    at: int,
    every: int,
    limit_cents: int,
) -> int:
    """Place all runs of genes that differ from those of the marks from place `at` on; OK, or why not."""
    runs, size = w[W_RUN_COUNT], len(s)
    order, press, later, flags = c[:runs], c[runs : 2 * runs], c[2 * runs : 3 * runs], c[3 * runs :]
    k = at // every
    while not is_marked[k]:
        k -= 1
    _copy(marks, k * size, s, 0, _used(w, marks, k * size))
    while (k + 1) * every <= at:
        k += 1
        why = advance(w, s, t, x, pairs, order, press, later, flags, k * every, NEVER)
        if why != OK:
            return why
        _copy(s, 0, marks, k * size, _used(w, s, 0))
        is_marked[k] = 1
    why = advance(w, s, t, x, pairs, order, press, later, flags, runs, limit_cents)
    if why == OK and (s[S_PUT_OFF_COUNT] or s[w[P_WAITING]]):
        return PRESS
    return why


@compiled
def _used(w: Row, s: Row, at: int) -> int:
    """How much of a plan's row, which begins at `at`, is used: the floor's events so far end it."""
    return w[P_FLOOR] + 1 + s[at + w[P_FLOOR]] * (w[W_WORDS] + 1)


@compiled
def _copy(one: Row, at: int, other: Row, to: int, count: int) -> None:
    for k in range(count):
        other[uintp(to + k)] = one[uintp(at + k)]

"""Local windows: a few runs opened beside a plan that stays, solved with the exact model, kept if cheaper.

A window that is solved to the end makes the next one larger, one that is not makes it smaller, so that each stays
where the solver is quick. Nothing here reads the clock when rounds are counted.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from time import monotonic

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.model.solver_run import Stop, Task, solve_here
from scheduler.search.pricing import price

LEAST_FREE, FIRST_FREE, MOST_FREE = 3, 5, 12
"""Runs opened at once."""
WINDOW_S = 4.0
"""Seconds for one window; the solver's own count of work where rounds are counted."""


def improve(
    week: Week,
    plan: Plan,
    *,
    seconds: float | None = None,
    rounds: int | None = None,
    seed: int = 0,
    workers: int = 1,
    on_plan: Callable[[Plan], None] | None = None,
    stop: Stop | None = None,
) -> Plan:
    """The plan after windows for `seconds`, or after `rounds` windows; never dearer than it was."""
    ends_at = None if seconds is None else monotonic() + seconds
    cost_cents = sum(price(week, plan).values())
    rng = random.Random(seed)
    size = FIRST_FREE
    done = 0
    while rounds is None or done < rounds:
        left_s = WINDOW_S if ends_at is None else ends_at - monotonic()
        if left_s < 0.5 or (stop is not None and stop()):
            break
        free = _pick(week, plan, rng, size)
        done += 1
        if not free:
            continue
        outcome = solve_here(
            Task(
                week=week,
                hint=plan,
                seconds=3600.0 if ends_at is None else min(WINDOW_S, left_s),
                seed=seed + done,
                workers=1 if ends_at is None else workers,
                deterministic_seconds=WINDOW_S / 2 if ends_at is None else None,
                free=free,
                incumbent=plan,
            ),
            stop=stop,
        )
        size = min(MOST_FREE, size + 1) if outcome.status == "proven" else max(LEAST_FREE, size - 1)
        if outcome.plan is not None and (found_cents := sum(price(week, outcome.plan).values())) < cost_cents:
            plan, cost_cents = outcome.plan, found_cents
            if on_plan is not None:
                on_plan(plan)
    return plan


def _pick(week: Week, plan: Plan, rng: random.Random, size: int) -> frozenset[str]:
    """Runs to open: neighbours in time, on one press, of one design or ink, or a late order and what precedes it."""
    ways = (_in_time, _on_a_press, _of_a_kind, _around_a_late_order)
    chosen = list(rng.choice(ways)(week, plan, rng, size))
    return frozenset(one.run_id for one in chosen if one.run_id not in week.fixing)


def _by_start(plan: Plan) -> list[PlannedRun]:
    return sorted(plan.runs, key=lambda one: (one.set_up_start_tau, one.run_id))


def _slice(queue: list[PlannedRun], rng: random.Random, size: int) -> list[PlannedRun]:
    start = rng.randrange(max(1, len(queue) - size + 1))
    return queue[start : start + size]


def _in_time(_week: Week, plan: Plan, rng: random.Random, size: int) -> Iterator[PlannedRun]:
    yield from _slice(_by_start(plan), rng, size)


def _on_a_press(_week: Week, plan: Plan, rng: random.Random, size: int) -> Iterator[PlannedRun]:
    yield from _slice(list(plan.queue[rng.choice(sorted(plan.queue))]), rng, size)


def _of_a_kind(week: Week, plan: Plan, rng: random.Random, size: int) -> Iterator[PlannedRun]:
    """Runs that share an ink or the screens of one run picked at random, nearest in time first."""
    one = rng.choice(_by_start(plan))
    run = week.run[one.run_id]

    def inks(run_id: str) -> set[str]:
        return {head.ink_id for choice in week.run[run_id].choices[:1] for head in choice.stack.heads}

    alike = [
        other
        for other in plan.runs
        if inks(other.run_id) & inks(one.run_id) or week.run[other.run_id].set_id == run.set_id is not None
    ]
    alike.sort(key=lambda other: (abs(other.set_up_start_tau - one.set_up_start_tau), other.run_id))
    yield from alike[:size]


def _around_a_late_order(week: Week, plan: Plan, rng: random.Random, size: int) -> Iterator[PlannedRun]:
    """The last run of a late order and the runs set up just before it, whatever the press."""
    late = [
        order
        for order in week.orders
        if order.order_id in plan.order and plan.order[order.order_id].packed_tau > order.pickups_tau[order.must_leave]
    ]
    if not late:
        yield from _in_time(week, plan, rng, size)
        return
    order = rng.choice(late)
    last = max((plan.run[run_id] for run_id in order.run_ids), key=lambda one: one.print_end_tau)
    before = [one for one in _by_start(plan) if one.set_up_start_tau <= last.set_up_start_tau]
    yield from before[-size:]

"""Good plans to plant faults in: random weeks and what the decoder makes of them."""

from __future__ import annotations

import random
from functools import cache

from scheduler.domain.calendars import Calendar
from scheduler.domain.plan import Plan, PlannedOrder, PlannedRun
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from tests.random_weeks import random_week

WEEKS = 100
FULL_WEEKS = 40
"""Weeks with more runs than the small ones have: racks and exposure units fill up there."""


@cache
def good_plans() -> tuple[tuple[str, Week, Plan], ...]:
    """(name, week, plan) for every random week in which a random order of runs gives a plan."""
    found = []
    for seed in range(WEEKS + FULL_WEEKS):
        week = random_week(seed, run_count=12 if seed >= WEEKS else None)
        decoder, rng = Decoder(week), random.Random(seed)
        for attempt in range(4):
            decoded = decoder.decode(_genome(week, rng, is_plain=attempt == 3))
            if isinstance(decoded, Decoded):
                found.append((f"week {seed}, attempt {attempt}", week, decoded.plan))
                break
    return tuple(found)


def _genome(week: Week, rng: random.Random, *, is_plain: bool) -> Genome:
    order = [run.run_id for run in week.runs]
    if is_plain:
        return Genome(order=tuple(order))
    rng.shuffle(order)
    return Genome(
        order=tuple(order),
        release=frozenset(run_id for run_id in order if rng.random() < 0.4),
        overtime=frozenset(block.block_id for block in week.overtime if rng.random() < 0.5),
    )


def is_open(calendar: Calendar, plan: Plan, minute: int) -> bool:
    """True if the shop minute [minute, minute + 1) is open, bought overtime included; looked up window by window."""
    return any(
        window.start_tau <= minute < window.end_tau
        for window in calendar.windows
        if window.overtime_id is None or window.overtime_id in plan.overtime
    )


def with_run(plan: Plan, run: PlannedRun) -> Plan:
    """The plan with this run in the place of the one of the same name."""
    return with_runs(plan, tuple(run if one.run_id == run.run_id else one for one in plan.runs))


def with_runs(plan: Plan, runs: tuple[PlannedRun, ...]) -> Plan:
    """The plan with these runs instead."""
    return Plan(
        runs=runs,
        orders=plan.orders,
        coat_batches=plan.coat_batches,
        reclaims=plan.reclaims,
        overtime=plan.overtime,
    )


def with_order(plan: Plan, order: PlannedOrder) -> Plan:
    """The plan with this order in the place of the one of the same name."""
    return Plan(
        runs=plan.runs,
        orders=tuple(order if one.order_id == order.order_id else one for one in plan.orders),
        coat_batches=plan.coat_batches,
        reclaims=plan.reclaims,
        overtime=plan.overtime,
    )

"""What the book teaches: how designs went that were printed, and whether the days told were true."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scheduler.domain.chances import Chances
from scheduler.record.events import Event, that_count
from scheduler.record.learning import Learnt as Learnt
from scheduler.record.learning import Time as Time
from scheduler.record.learning import last_times as last_times
from scheduler.record.learning import learnt, learnt_chances, times_of
from scheduler.record.standing import floor_of
from scheduler.shop_book.keeping import opened
from scheduler.shop_book.planning import week_of_plan

if TYPE_CHECKING:
    from scheduler.book.plans import KeptPlan
    from scheduler.record.calibration import Calibration, ToldAndKept

REPLAYS = 500
"""How often each plan is lived through for the odds that were told with it."""


def announced_plans(address: str) -> tuple[tuple[KeptPlan, ...], tuple[Event, ...]]:
    """Every plan that was announced, the oldest first, and everything that was noted and stands."""
    from scheduler.book.happened import events_within
    from scheduler.book.plans import entries, plan_within

    with opened(address) as book, book.reading() as connection:
        numbers = [one.number for one in entries(connection) if one.announced_at is not None]
        plans = tuple(plan_within(connection, book.name, number) for number in numbers)
        return plans, that_count(events_within(connection))


def times(address: str) -> tuple[Time, ...]:
    """Every time a design was printed, the latest first: each run measured by the plan it was set up under."""
    plans, events = announced_plans(address)
    found: list[Time] = []
    for number, kept in enumerate(plans):
        week = week_of_plan(kept)
        until = plans[number + 1].inputs.shop.plan_from if number + 1 < len(plans) else None
        found += times_of(floor_of(kept.inputs, week, kept.plan), kept.inputs.shop, events, until)
    return tuple(sorted(found, key=lambda one: (one.done_at, one.run_id), reverse=True))


def days_told(address: str, *, replays: int = REPLAYS) -> Calibration:
    """The odds told with each order, by the first plan announced with it, beside when it was packed."""
    from scheduler.record.calibration import calibration, told_and_kept

    plans, events = announced_plans(address)
    found: list[ToldAndKept] = []
    known: set[str] = set()
    for kept in plans:
        week = week_of_plan(kept)
        chances = kept.inputs.shop.chances
        found += told_and_kept(week, kept.plan, chances, events, known=known, replays=replays)
        known |= set(kept.plan.order)
    return calibration(found)


def designs_learnt(address: str) -> tuple[Learnt, ...]:
    """What every design's times come to, by design."""
    return learnt(times(address))


def chances_learnt(address: str, chances: Chances) -> Chances:
    """How far this shop's set-ups and prints stray, by its own record."""
    return learnt_chances(times(address), chances)

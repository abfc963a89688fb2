"""What the book teaches: how designs went that were printed, and whether the days told were true."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING

from scheduler import api
from scheduler.domain.learnt import NOTHING_LEARNT
from scheduler.domain.orders import Assumption, WeekInputs
from scheduler.record.events import Done, Event, that_count
from scheduler.record.figures import learnt_chances, learnt_figures
from scheduler.record.learning import Learnt as Learnt
from scheduler.record.learning import Time as Time
from scheduler.record.learning import last_times as last_times
from scheduler.record.learning import learnt, times_of
from scheduler.record.standing import floor_of
from scheduler.shop_book.keeping import opened, week_of_plan

if TYPE_CHECKING:
    from scheduler.book.plans import KeptPlan
    from scheduler.record.calibration import Calibration, ToldAndKept

LEARNT_CODES = frozenset({"learnt_set_up", "learnt_rate"})
"""Assumptions that are no guess: figures of the shop's own record."""
MOST_REMEMBERED = 128
"""Plans of which the times are remembered while the program runs."""
REPLAYS = 500
"""How often each plan is lived through for the odds that were told with it."""


def announced_plans(address: str) -> tuple[tuple[KeptPlan, ...], tuple[Event, ...]]:
    """Every plan that was announced, the oldest first, and everything that was noted and stands."""
    from scheduler.book.happened import events_within
    from scheduler.book.plans import all_announced

    with opened(address) as book, book.reading() as connection:
        return all_announced(connection, book.name), that_count(events_within(connection))


def times(address: str) -> tuple[Time, ...]:
    """Every time a design was printed, the latest first: each run measured by the plan it was set up under."""
    return times_under(*announced_plans(address))


def times_under(plans: Sequence[KeptPlan], events: Sequence[Event]) -> tuple[Time, ...]:
    """The times of runs set up under these plans, each announced after the one before."""
    found: list[Time] = []
    for number, kept in enumerate(plans):
        until = plans[number + 1].inputs.shop.plan_from if number + 1 < len(plans) else None
        noted = tuple(one for one in events if getattr(one, "run_id", None) in kept.plan.run)
        if any(isinstance(one, Done) for one in noted):
            found += _times(_Noted(kept=kept, events=noted), until)
    return tuple(sorted(found, key=lambda one: (one.done_at, one.run_id), reverse=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Noted:
    """A kept plan and what was noted of its runs; told apart by the plan's line and the events."""

    kept: KeptPlan
    events: tuple[Event, ...]

    def __hash__(self) -> int:
        return hash((self.kept.entry.number, len(self.events)))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, _Noted):
            return NotImplemented
        return (self.events, self.kept.entry) == (other.events, other.kept.entry) and self.kept.plan == other.kept.plan


@lru_cache(maxsize=MOST_REMEMBERED)
def _times(noted: _Noted, until: datetime | None) -> tuple[Time, ...]:
    """The times of one plan's runs: a plan that was announced is never another, so they are worked out once."""
    kept = noted.kept
    stated = replace(kept.inputs, learnt=NOTHING_LEARNT)
    week = api.build_workload(stated).week
    return times_of(floor_of(stated, week, kept.plan), stated.shop, noted.events, until)


def learnt_lines(assumptions: Sequence[Assumption]) -> tuple[str, ...]:
    """Which figures are the record's and not the stated ones, a line each."""
    return tuple(one.text for one in assumptions if one.code in LEARNT_CODES)


def as_learnt(inputs: WeekInputs, plans: Sequence[KeptPlan], events: Sequence[Event]) -> WeekInputs:
    """The week, to be planned by what the last announced plans and what came of them teach."""
    known = times_under(plans, events)
    figures = learnt_figures(known)
    chances = learnt_chances(known, inputs.shop.chances, figures)
    return replace(inputs, learnt=figures, shop=replace(inputs.shop, chances=chances))


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

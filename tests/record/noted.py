"""What the floor would note of a plan that goes exactly as planned, or as little of it as starts and ends."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.record.events import Done, Event, SetUpStarted, StrikeOffRight
from scheduler.review.press_rules import is_started


def as_planned(week: Week, plan: Plan, now: datetime, *, is_brief: bool = True) -> tuple[Event, ...]:
    """Events of everything the plan has begun before now. is_brief: starts and ends only."""
    found = [one for one in _all(week, plan, is_brief) if one.at < local(now)]
    return tuple(found)


def local(moment: datetime) -> datetime:
    """The clock on the wall."""
    return moment.replace(tzinfo=None)


def _all(week: Week, plan: Plan, is_brief: bool) -> Iterator[Event]:
    clock = week.clock
    for one in plan.runs:
        if not is_started(week, one.run_id):
            at = clock.starts_at(one.set_up_start_tau)
            yield SetUpStarted(at=local(at), run_id=one.run_id, press_id=one.press_id, who="Ana")
        if not is_brief:
            yield StrikeOffRight(at=local(clock.ends_at(one.set_up_end_tau)), run_id=one.run_id, who="Ana")
        yield Done(at=local(clock.ends_at(one.print_end_tau)), run_id=one.run_id, who="Ana")

"""When a run is checked at the dryer's end: at its start, after every stop, and once an hour between.

At each new start and at least once an hour: Dryer Log form, DAX show. Cracks in a stretched print are under-cured ink:
Printwear, October 2018. An infra-red gun reads the surface only, which is no proof of cure: "Ink Curing", One Stroke
Inks. Corners of a print lie nearest the belt's cooler edges, so they are tested too: common practice, no source.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.review.hours import open_windows, pieces

EVERY_MIN = 60


def print_stretches(week: Week, plan: Plan, planned: PlannedRun) -> tuple[tuple[datetime, datetime], ...]:
    """Clock times between which a run prints without a stop."""
    windows = open_windows(week.press[planned.press_id].prints_in, plan)
    return tuple(
        (week.clock.starts_at(start), week.clock.ends_at(end))
        for start, end in pieces(windows, planned.print_start_tau, planned.print_end_tau)
    )


def checks_due(week: Week, plan: Plan, planned: PlannedRun) -> tuple[datetime, ...]:
    """Moments at which exit temperature and stretch are checked."""
    found: list[datetime] = []
    for start, end in print_stretches(week, plan, planned):
        at = start
        while at < end:
            found.append(at)
            at = _later(at, EVERY_MIN)
    return tuple(found)


def _later(at: datetime, minutes: int) -> datetime:
    """So many real minutes later, over a clock change too."""
    return (at.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(at.tzinfo)

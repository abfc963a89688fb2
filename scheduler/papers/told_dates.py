"""The dates an announced plan told, beside those of a new one: whom to ring because of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.tables import OrderRow, order_rows
from scheduler.papers.text import Line, Section
from scheduler.papers.words import counted, day


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldDate:
    """An order of both plans. told_at, now_at: when it leaves; None where it is not planned. late: mark, how much."""

    order_id: str
    client: str
    told_at: datetime | None
    now_at: datetime | None
    late: str

    @property
    def is_another_day(self) -> bool:
        """True if the client was told another day, or a day that nobody can tell now."""
        return (self.told_at and self.told_at.date()) != (self.now_at and self.now_at.date())


def told_dates(
    told_week: Week, told: Plan, week: Week, plan: Plan, clients: Mapping[str, str] | None = None
) -> tuple[ToldDate, ...]:
    """Every order of the new plan that the announced one had a day for, those whose day moves back most first."""
    was = {row.order_id: row for row in order_rows(told_week, told, clients)}
    found = []
    for row in order_rows(week, plan, clients):
        before = was.get(row.order_id)
        if before is not None and _leaves(before) is not None:
            found.append(
                ToldDate(
                    order_id=row.order_id,
                    client=row.client or before.client,
                    told_at=_leaves(before),
                    now_at=_leaves(row),
                    late=row.late,
                )
            )
    return tuple(sorted(found, key=lambda one: (_moved_days(one), one.order_id)))


def told_section(rows: tuple[ToldDate, ...]) -> Section:
    """The orders that leave on another day than was told."""
    moved = [row for row in rows if row.is_another_day]
    same = counted(len(rows) - len(moved), "order leaves on the day", "orders leave on the day")
    if not moved:
        return Section(title="Dates told before", sentences=(f"{same} that was told.",))
    return Section(
        title="Dates told before",
        sentences=(f"{same} that was told; these do not:",),
        headings=("order", "client", "told", "now", "late"),
        lines=tuple(
            Line(cells=(row.order_id, row.client, _said(row.told_at), _said(row.now_at), row.late)) for row in moved
        ),
    )


def _leaves(row: OrderRow) -> datetime | None:
    return row.leaves_at or row.packed_at


def _moved_days(row: ToldDate) -> int:
    """Days by which it moves forward; the farther back the smaller, without a day the smallest."""
    if row.told_at is None or row.now_at is None:
        return -1_000_000
    return (row.told_at.date() - row.now_at.date()).days


def _said(moment: datetime | None) -> str:
    return day(moment) if moment is not None else "no day"

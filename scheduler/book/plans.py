"""Plans in the book, each with the week it was made from, and which of them were announced when and by whom."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, func, insert, select

from scheduler.book.faults import fault
from scheduler.book.opening import Book, next_number
from scheduler.book.records import packed, unpacked
from scheduler.book.schema import ANNOUNCEMENTS, PLANS, SHOPS
from scheduler.book.seals import DOCUMENTS, as_written, sealed
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan

BARE = [column for column in PLANS.c if column.name not in DOCUMENTS]
TOLD = [column.label(f"told_{column.name}") for column in ANNOUNCEMENTS.c]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanEntry:
    """A plan's line in the book. version, last_event: the week and the last event it knows of. after: the announced
    plan that stood when it was made. announced_at None: it was not announced.
    """

    number: int
    version: int
    last_event: int
    after: int | None
    made_at: datetime
    made_by: str
    cost_cents: int
    announced_at: datetime | None = None
    announced_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlan:
    """A plan with its line in the book and the week it was made from."""

    entry: PlanEntry
    inputs: WeekInputs
    plan: Plan


def keep_plan(
    book: Book,
    inputs: WeekInputs,
    plan: Plan,
    *,
    version: int,
    last_event: int,
    after: int | None,
    cost_cents: int,
    at: datetime,
    who: str,
) -> int:
    """The plan is in the book, whole or not at all; its number. Nobody is told of it before it is announced."""
    documents = {"plan": packed(plan), "inputs": packed(inputs)}  # before anybody has to wait
    with book.writing() as connection:
        number = next_number(connection, "last_plan")
        row: dict[str, object] = {"number": number, "version": version, "last_event": last_event, "after": after}
        row |= {"made_at": at.isoformat(), "made_by": who, "cost_cents": cost_cents, **documents}
        connection.execute(insert(PLANS).values(sealed(PLANS, row)))
    return number


def announce(book: Book, number: int, *, at: datetime, who: str) -> PlanEntry:
    """The plan is the one that counts from now on; its line in the book.

    Raises InputError where there is no such plan, or another was announced since it was made.
    """
    with book.writing() as connection:
        entry = entry_of(connection, book.name, number)
        stands = _standing_number(connection)
        if entry.announced_at is not None:
            message = f"has announced plan {number} already ({entry.announced_at:%Y-%m-%d %H:%M}, {entry.announced_by})"
            raise fault(book.name, "announced_already", message, "plan again with: pressweek plan --book")
        if entry.after != stands:
            other = entry_of(connection, book.name, stands) if stands is not None else None
            told = f"by {other.announced_by or 'somebody'}" if other else "meanwhile"
            message = f"has announced plan {stands} {told} since plan {number} was made"
            raise fault(book.name, "changed_meanwhile", message, "plan again with: pressweek plan --book")
        row = {"plan": number, "after": stands, "at": at.isoformat(), "who": who}
        connection.execute(insert(ANNOUNCEMENTS).values(sealed(ANNOUNCEMENTS, row)))
        return entry_of(connection, book.name, number)


def entries(connection: Connection) -> tuple[PlanEntry, ...]:
    """Every plan's line, the oldest first."""
    return tuple(_entry(row) for row in connection.execute(_with_announcement().order_by(PLANS.c.number)))


def entry_of(connection: Connection, name: str, number: int) -> PlanEntry:
    """A plan's line. Raises InputError where there is no such plan."""
    row = connection.execute(_with_announcement().where(PLANS.c.number == number)).one_or_none()
    if row is None:
        raise fault(name, "no_plan", f"has no plan {number}", "look at what there is: pressweek book status")
    return _entry(row)


def plan_within(connection: Connection, name: str, number: int) -> KeptPlan:
    """A plan and its week, read together with whatever else is read on this connection."""
    entry = entry_of(connection, name, number)
    row = connection.execute(select(PLANS.c.plan, PLANS.c.inputs).where(PLANS.c.number == number)).one()
    zone = connection.scalar(select(SHOPS.c.zone).where(SHOPS.c.since <= entry.version).order_by(SHOPS.c.since.desc()))
    inputs = unpacked(WeekInputs, row.inputs, str(zone))
    return KeptPlan(entry=entry, inputs=inputs, plan=unpacked(Plan, row.plan, str(zone)))


def announced_within(connection: Connection, name: str) -> KeptPlan | None:
    """The plan that counts; None where none was announced."""
    number = _standing_number(connection)
    return None if number is None else plan_within(connection, name, number)


def all_announced(connection: Connection, name: str, most: int | None = None) -> tuple[KeptPlan, ...]:
    """The plans that were announced (the last `most` of them), the oldest first."""
    numbers = [one.number for one in entries(connection) if one.announced_at is not None]
    return tuple(plan_within(connection, name, number) for number in numbers[-most if most else 0 :])


def last_plan(connection: Connection, name: str) -> int:
    """The number of the plan made last. Raises InputError where there is none."""
    number = connection.scalar(select(func.max(PLANS.c.number)))
    if number is None:
        raise fault(name, "no_plan", "has no plan yet", "make one with: pressweek plan --book")
    return int(number)


def _standing_number(connection: Connection) -> int | None:
    """The announced plan that counts: the last one, as each is made after the one before."""
    number: int | None = connection.scalar(select(func.max(ANNOUNCEMENTS.c.plan)))
    return number


def _with_announcement() -> Any:
    return select(*BARE, *TOLD).select_from(PLANS.outerjoin(ANNOUNCEMENTS, ANNOUNCEMENTS.c.plan == PLANS.c.number))


def _entry(row: Row[Any]) -> PlanEntry:
    as_written(PLANS, {name: value for name, value in row._mapping.items() if not name.startswith("told_")})
    if row.told_plan is not None:
        as_written(ANNOUNCEMENTS, {column.name: row._mapping[f"told_{column.name}"] for column in ANNOUNCEMENTS.c})
    return PlanEntry(
        number=row.number,
        version=row.version,
        last_event=row.last_event,
        after=row.after,
        made_at=datetime.fromisoformat(row.made_at),
        made_by=row.made_by,
        cost_cents=row.cost_cents,
        announced_at=None if row.told_at is None else datetime.fromisoformat(row.told_at),
        announced_by=row.told_who or "",
    )

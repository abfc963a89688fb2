"""How the book stands, and who changed what."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from scheduler.shop_book.keeping import opened, week_of
from scheduler.shop_book.noting import event_text

if TYPE_CHECKING:
    from scheduler.book.plans import PlanEntry
    from scheduler.book.weeks import Version


@dataclass(frozen=True, slots=True, kw_only=True)
class Status:
    """How the book stands. fault: what is wrong with its file, "" where it is sound."""

    name: str
    shop: str
    orders: int
    lots: int
    imprints: int
    designs: int
    versions: tuple[Version, ...]
    plans: int
    announced: PlanEntry | None
    events: int
    fault: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the book's history: when it was written, by whom, and what."""

    at: datetime
    who: str
    what: str


def status(address: str) -> Status:
    """How the book stands. Raises InputError where there is none."""
    from scheduler.book.copies import unsound
    from scheduler.book.happened import last_event
    from scheduler.book.plans import entries
    from scheduler.book.weeks import versions_within

    with opened(address) as book:
        kept = week_of(book)
        with book.reading() as connection:
            versions, plans, events = versions_within(connection, 0), entries(connection), last_event(connection)
        announced = [one for one in plans if one.announced_at is not None]
        inputs = kept.inputs if kept else None
        return Status(
            name=book.name,
            shop=inputs.shop.name if inputs else "",
            orders=len(inputs.orders) if inputs else 0,
            lots=len(inputs.lots) if inputs else 0,
            imprints=len(inputs.imprints) if inputs else 0,
            designs=len(inputs.designs) if inputs else 0,
            versions=versions,
            plans=len(plans),
            announced=announced[-1] if announced else None,
            events=events,
            fault=unsound(book),
        )


def stamp(address: str) -> tuple[int, int, int]:
    """What changes whenever the book does: versions of the week, the announced plan (0: none), events so far."""
    from scheduler.book.happened import last_event
    from scheduler.book.plans import entries
    from scheduler.book.weeks import last_version

    with opened(address) as book, book.reading() as connection:
        announced = [one.number for one in entries(connection) if one.announced_at is not None]
        return last_version(connection), max(announced, default=0), last_event(connection)


def history(address: str) -> tuple[Entry, ...]:
    """Who changed, announced and noted what, the oldest first. Raises InputError where there is no book."""
    from scheduler.book.happened import noted_within
    from scheduler.book.plans import entries
    from scheduler.book.weeks import versions_within

    with opened(address) as book, book.reading() as connection:
        versions, plans = versions_within(connection, 0), entries(connection)
        noted = noted_within(connection)
    found = [Entry(at=one.at, who=one.who, what=f"week {one.number}: {_said(one)}") for one in versions]
    for plan in plans:
        money = f"{plan.cost_cents / 100:,.2f}"
        found.append(Entry(at=plan.made_at, who=plan.made_by, what=f"plan {plan.number} made, {money}"))
        if plan.announced_at is not None:
            found.append(Entry(at=plan.announced_at, who=plan.announced_by, what=f"plan {plan.number} announced"))
    found += [
        Entry(at=at, who=event.who, what=f"number {event.number}: {event_text(event)}, {event.at:%d %b %H:%M}")
        for at, event in noted
    ]
    return tuple(sorted(found, key=lambda one: one.at.timestamp()))  # early books told some without a zone


def _said(version: Version) -> str:
    return "; ".join(version.changes) or version.why


def status_figures(found: Status) -> dict[str, Any]:
    """How the book stands in figures for other programs."""
    counts = {name: getattr(found, name) for name in ("shop", "orders", "lots", "imprints", "designs")}
    return {
        "book": found.name,
        **counts,
        "version": found.versions[-1].number if found.versions else 0,
        "changes": [
            {"version": one.number, "at": one.at.isoformat(), "who": one.who, "why": one.why, "what": one.changes}
            for one in found.versions
        ],
        "plans": found.plans,
        "announced": found.announced.number if found.announced else None,
        "events": found.events,
        "fault": found.fault,
    }

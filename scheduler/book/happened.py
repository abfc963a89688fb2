"""What happened, in the book: noted one after the other, taken back by a further note, never changed."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, func, insert, select

from scheduler.book.faults import fault
from scheduler.book.opening import Book, next_number
from scheduler.book.records import plain, record_of
from scheduler.book.schema import ANNOUNCEMENTS, EVENTS
from scheduler.book.seals import as_written, sealed
from scheduler.record.events import (
    KINDS,
    Done,
    Event,
    Packed,
    SetUpStarted,
    StrikeOffRight,
    Undone,
    that_count,
)

ONCE = (SetUpStarted, StrikeOffRight, Done, Packed)
"""What happens to a run or an order once: the second to note it hears of the first."""

ABOUT = ("run_id", "set_id", "order_id", "dryer_id", "class_id")
"""Fields that say what an event is about, the first one that is there."""


def note(book: Book, event: Event, *, noted_at: datetime, seen: int | None = None) -> Event:
    """The event is in the book, with its number. An undo names the event it takes back.

    seen: the last event that was looked at before this was noted; None: whatever there is. Raises InputError where it
    was noted by somebody already, was taken back already, or where something about it was noted since `seen`.
    """
    with book.writing() as connection:
        _refuse(book, connection, event, seen)
        number = next_number(connection, "last_event")
        told = plain(event)
        row = {
            "number": number,
            "kind": event.kind,
            "at": told.pop("at"),
            "who": told.pop("who"),
            "noted_at": noted_at.isoformat(),
            "plan": connection.scalar(select(func.max(ANNOUNCEMENTS.c.plan))),
            "about": about(event),
            "undone": event.undone if isinstance(event, Undone) else None,
            "told": {name: value for name, value in told.items() if name not in ("number", "undone")},
        }
        connection.execute(insert(EVENTS).values(sealed(EVENTS, row)))
    return replace(event, number=number)


def events_within(connection: Connection, since: int = 0) -> tuple[Event, ...]:
    """Every event after a number, in the order in which they were noted; those taken back and undos among them."""
    asked = select(EVENTS).where(EVENTS.c.number > since).order_by(EVENTS.c.number)
    return tuple(_event(row) for row in connection.execute(asked))


def noted_within(connection: Connection) -> tuple[tuple[datetime, Event], ...]:
    """Every event with the moment at which it was noted, in that order."""
    rows = connection.execute(select(EVENTS).order_by(EVENTS.c.number))
    return tuple((datetime.fromisoformat(row.noted_at), _event(row)) for row in rows)


def last_event(connection: Connection) -> int:
    """The number of the last event; 0 where there is none."""
    return int(connection.scalar(select(func.max(EVENTS.c.number))) or 0)


def about(event: Event) -> str:
    """What an event is about: its run, set, order, dryer or frames; "" for an undo."""
    return next((str(getattr(event, name)) for name in ABOUT if getattr(event, name, None)), "")


def _event(row: Row[Any]) -> Event:
    as_written(EVENTS, row._mapping)
    beside = {} if row.undone is None else {"undone": row.undone}
    told = {**row.told, **beside, "at": row.at, "who": row.who, "number": row.number}
    return record_of(KINDS[row.kind], told, "")


def _refuse(book: Book, connection: Connection, event: Event, seen: int | None) -> None:
    """InputError where somebody else was there first."""
    if isinstance(event, Undone):
        _refuse_undo(book, connection, event)
        return
    if seen is None and not isinstance(event, ONCE):
        return
    asked = select(EVENTS).where(EVENTS.c.about == about(event)).order_by(EVENTS.c.number)
    alike = tuple(_event(row) for row in connection.execute(asked))
    since = [one for one in alike if seen is not None and one.number > seen]
    undone = tuple(_event(row) for row in connection.execute(select(EVENTS).where(EVENTS.c.undone.is_not(None))))
    twice = [one for one in that_count((*alike, *undone)) if isinstance(event, ONCE) and isinstance(one, type(event))]
    for one in (*twice, *since):
        who = one.who or "somebody"
        message = (
            f"has it already: {who} noted {one.kind!r} of {about(one)} ({one.at:%d %b %H:%M}, number {one.number})"
        )
        raise fault(book.name, "noted_meanwhile", message, "look again, or take that one back first")


def _refuse_undo(book: Book, connection: Connection, event: Undone) -> None:
    events = events_within(connection)
    named = next((one for one in events if one.number == event.undone), None)
    if named is None:
        raise fault(book.name, "no_event", f"has no event {event.undone}", "look at: pressweek book history")
    is_undo = isinstance(named, Undone)
    gone = {one.undone for one in that_undo(events)}
    if event.undone in gone:
        what = "undo" if is_undo else named.kind
        raise fault(book.name, "taken_back", f"has {what!r}, number {named.number}, taken back already", "look again")


def that_undo(events: tuple[Event, ...]) -> tuple[Undone, ...]:
    """Undos that were not undone themselves."""
    gone: set[int] = set()
    kept: list[Undone] = []
    for one in reversed(events):
        if isinstance(one, Undone) and one.number not in gone:
            gone.add(one.undone)
            kept.append(one)
    return tuple(reversed(kept))

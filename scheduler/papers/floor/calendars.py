"""Calendar files (RFC 5545) of a press and of the screen room: every stretch of work as an event, times in UTC.

An instant in UTC is the same on both sides of a clock change and needs no table of zones. An event's UID stays the same
from plan to plan and its SEQUENCE rises with the moment of writing, so that a calendar that reads the next file moves
its events instead of doubling them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from icalendar import Calendar, Event

from scheduler.papers.floor.checks import print_stretches
from scheduler.papers.floor.ground import Ground
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.tables import garments_text, heads_text
from scheduler.papers.text import printable
from scheduler.papers.words import counted
from scheduler.review.hours import open_windows, pieces

LONGEST = 4000
"""Letters of a description; calendars on phones show far fewer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Work from one moment to another. key: what it is, the same in every plan."""

    key: str
    start_at: datetime
    end_at: datetime
    summary: str
    description: str
    is_sure: bool = True


def press_calendar(ground: Ground, press_id: str) -> str:
    """Set-up and printing of every run of a press, an event for each stretch without a stop."""
    week, press = ground.week, ground.week.press[press_id]
    entries: list[Entry] = []
    for row in ground.queue:
        if row.press_id != press_id:
            continue
        planned, name = ground.whole.run[row.run_id], f"{row.order_id} {row.location}"
        sure = not ground.is_waiting(row.run_id)
        told = f"{row.client}; {garments_text(row)}; {heads_text(row)}"
        set_up = pieces(open_windows(press.calendar, ground.whole), planned.set_up_start_tau, planned.set_up_end_tau)
        stretches = [
            ("set up", [(week.clock.starts_at(start), week.clock.ends_at(end)) for start, end in set_up]),
            ("print", list(print_stretches(week, ground.whole, planned))),
        ]
        entries += [
            Entry(
                key=f"press {press_id} {row.run_id} {what} {number}",
                start_at=start,
                end_at=end,
                summary=f"{what.capitalize()} {name}" + (f", {row.pieces} pieces" if what == "print" else ""),
                description=f"{told}; {'; '.join(row.changes)}" if what == "set up" else told,
                is_sure=sure,
            )
            for what, found in stretches
            for number, (start, end) in enumerate(found, start=1)
        ]
    return _calendar(ground, press.name, entries)


def screen_room_calendar(ground: Ground) -> str:
    """Coating, burning, taping and reclaiming."""
    entries = [
        Entry(
            key=_screen_key(row),
            start_at=row.start_at,
            end_at=row.end_at,
            summary=f"{row.what.capitalize()} {row.design or row.frames}, {counted(row.screens, 'screen')}",
            description="; ".join(
                part for part in (f"{row.order_id} {row.location}".strip(), row.frames, row.note) if part
            ),
        )
        for row in screen_rows(ground.week, ground.plan)
    ]
    return _calendar(ground, "Screen room", entries)


def _screen_key(row: ScreenRow) -> str:
    """Work for a run is named after it; coating, and old screens that are reclaimed, after their frames and day."""
    if row.what == "coat" or not row.run_id:
        return f"screens {row.what} {row.frames} {row.start_at:%Y%m%d}"
    return f"screens {row.what} {row.run_id}"


def _calendar(ground: Ground, name: str, entries: Iterable[Entry]) -> str:
    calendar = Calendar()
    calendar.add("prodid", "-//Pressweek//papers for the floor//EN")
    calendar.add("version", "2.0")
    calendar.add("name", printable(f"{name}, {ground.inputs.shop.name}"))
    sequence = int(ground.printed_at.timestamp()) // 60
    for one in entries:
        if one.end_at <= one.start_at:
            continue
        event = Event()
        event.add("uid", f"{one.key.encode().hex()}@pressweek")
        event.add("dtstamp", ground.printed_at.astimezone(UTC))
        event.add("dtstart", one.start_at.astimezone(UTC))
        event.add("dtend", one.end_at.astimezone(UTC))
        event.add("summary", printable(one.summary))
        event.add("description", printable(one.description)[:LONGEST])
        event.add("sequence", sequence)
        event.add("status", "CONFIRMED" if one.is_sure else "TENTATIVE")
        calendar.add_component(event)
    text: str = calendar.to_ical().decode("utf-8")
    return text

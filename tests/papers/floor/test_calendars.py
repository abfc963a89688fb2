"""Calendar files as RFC 5545 asks for them: they parse, keep the instant across a clock change, and fold by octets."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import icalendar
import pytest

from scheduler import api
from scheduler.papers.floor.calendars import press_calendar, screen_room_calendar
from scheduler.papers.floor.ground import Ground
from tests.papers.floor.grounds import NAMES, SCENARIOS, ground, ground_of, wall


def every_calendar(of: Ground) -> list[str]:
    """The calendars of all presses and of the screen room."""
    return [*(press_calendar(of, press.press_id) for press in of.week.presses), screen_room_calendar(of)]


def events(text: str) -> list[icalendar.Event]:
    """The events of a calendar file, none of them faulty."""
    found = list(icalendar.Calendar.from_ical(text).walk("VEVENT"))
    assert all(not one.errors for one in found)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_files_are_as_the_standard_asks(name: str) -> None:
    """CRLF everywhere, no line over 75 octets, one version and maker, every event with its stamps and a length."""
    for text in every_calendar(ground(name)):
        raw = text.encode("utf-8")
        assert raw.count(b"\n") == raw.count(b"\r\n")
        assert max(len(line) for line in raw.split(b"\r\n")) <= 75
        assert raw.count(b"VERSION:2.0") == raw.count(b"PRODID:") == 1
        found = events(text)
        assert len({str(one["UID"]) for one in found}) == len(found)
        for one in found:
            assert {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "SEQUENCE"} <= set(one)
            assert "DURATION" not in one
            assert one["DTEND"].dt > one["DTSTART"].dt
            assert one["DTSTART"].dt.utcoffset() == timedelta(0)


@pytest.mark.parametrize("name", NAMES)
def test_a_press_is_in_its_calendar_when_it_works(name: str) -> None:
    """The minutes in a press's calendar are the plan's set-up and print minutes, paused hours left out."""
    of = ground(name)
    for press in of.week.presses:
        wanted: set[tuple[datetime, datetime]] = set()
        for planned in of.plan.queue.get(press.press_id, ()):
            for calendar, start, end in (
                (press.calendar, planned.set_up_start_tau, planned.set_up_end_tau),
                (press.prints_in, planned.print_start_tau, planned.print_end_tau),
            ):
                for window in calendar.with_bought(of.plan.overtime).windows:
                    a, b = max(start, window.start_tau), min(end, window.end_tau)
                    if a < b:
                        clock = of.week.clock
                        wanted.add((wall(clock, a).astimezone(UTC), wall(clock, b, is_end=True).astimezone(UTC)))
        found = {(one["DTSTART"].dt, one["DTEND"].dt) for one in events(press_calendar(of, press.press_id))}
        assert found == wanted


def test_the_instant_is_kept_across_a_clock_change() -> None:
    """The week in which Dublin's clocks go forward: 08:30 is 08:30 UTC on Friday and 07:30 UTC on Monday."""
    inputs = api.read_week(SCENARIOS / "solo")
    moved = replace(
        inputs, shop=replace(inputs.shop, plan_from=datetime(2026, 3, 27, 8, 30, tzinfo=ZoneInfo("Europe/Dublin")))
    )
    of = ground_of(moved)
    starts = [one["DTSTART"].dt for text in every_calendar(of) for one in events(text)]
    friday = [at for at in starts if at.date().isoformat() == "2026-03-27"]
    monday = [at for at in starts if at.date().isoformat() == "2026-03-30"]
    assert min(friday) == datetime(2026, 3, 27, 8, 30, tzinfo=UTC)
    assert min(monday) == datetime(2026, 3, 30, 7, 30, tzinfo=UTC)
    planned = {wall(of.week.clock, one.set_up_start_tau).astimezone(UTC) for one in of.plan.runs}
    assert planned <= {one["DTSTART"].dt for one in events(press_calendar(of, "press"))} | {
        wall(of.week.clock, one.print_start_tau).astimezone(UTC) for one in of.plan.runs
    }


def test_a_new_plan_moves_events_instead_of_doubling_them() -> None:
    """Written an hour later, the same work has the same UIDs and a higher sequence."""
    of = ground("solo")
    later = replace(of, printed_at=of.printed_at + timedelta(hours=1))
    for before, after in zip(every_calendar(of), every_calendar(later), strict=True):
        first = {str(one["UID"]): int(one["SEQUENCE"]) for one in events(before)}
        second = {str(one["UID"]): int(one["SEQUENCE"]) for one in events(after)}
        assert first.keys() == second.keys()
        assert all(second[uid] > first[uid] for uid in first)


def test_a_burn_that_moves_keeps_its_name() -> None:
    """An event of the screen room is named after the set it is for, not after its place in the list."""
    of = ground("solo")
    whole = {str(one["UID"]) for one in events(screen_room_calendar(of))}
    first = next(one for one in of.plan.runs if one.burn is not None)
    fewer = replace(of, plan=replace(of.plan, runs=tuple(one for one in of.plan.runs if one != first)))
    rest = {str(one["UID"]) for one in events(screen_room_calendar(fewer))}
    assert rest < whole


def test_names_that_are_commands_stay_text() -> None:
    """Semicolons, commas, backslashes and line breaks in a client's name neither end a line nor begin an event."""
    solo = ground("solo")
    nasty = "Br\\ew; Co, \r\nBEGIN:VEVENT\nשלום"
    named = replace(solo.inputs, orders=tuple(replace(order, client=nasty) for order in solo.inputs.orders))
    of = ground_of(named, solo.plan)
    plain = len(events(press_calendar(ground("solo"), "press")))
    found = events(press_calendar(of, "press"))
    assert len(found) == plain
    assert all("Br\\ew; Co, BEGIN:VEVENT שלום" in str(one["DESCRIPTION"]) for one in found)

"""People, carriers, overtime on offer, closures and public holidays, from the shop's settings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduler.domain.leads import LEAD
from scheduler.domain.shop import Carrier, Closure, OvertimeOffer, Press, Worker
from scheduler.inputs import cells, moments, units
from scheduler.inputs.faults import CellError, key_of, quoted
from scheduler.inputs.hours import read_hours
from scheduler.inputs.shop_floor import own_id, told_twice
from scheduler.inputs.shop_section import Section

COLLECTED = "collected"
SHARED_PLACES = ("screens", "packing")
"""What may be closed beside presses, dryers and people."""

MOST_LED = 20
"""Presses one lead may watch at once, at the most."""

UNREAD_DAY = date(2026, 1, 5)
"""Stands for a day that could not be read, which has been told already."""


def people(top: Section, read_days: Callable[[str], tuple[date, ...]]) -> tuple[Worker, ...]:
    """Every [[person]]; nobody listed: people are taken never to be short, which is told."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("person", "people"):
        own = own_id(section)
        roles: tuple[str, ...] = section.needed("roles", cells.words, ("print",))
        found.append(
            Worker(
                person_id=own,
                name=section.maybe("name", cells.name) or own,
                roles=roles,
                press_ids=section.take("presses", cells.names, tell=False),
                hours=read_hours(section),
                days_off=section.take("days_off", read_days, tell=False) if section.has("days_off") else (),
            )
        )
        if not roles:
            section.reading.faults.add(
                section.place("roles"),
                "no_role",
                f"{own} has no role",
                'write what they can do, as roles = "print, stage"',
            )
        told_twice(section, "id", own, seen)
        section.warn_unknown()
    if not found and not top.has("person"):
        text = "nobody is listed: people are taken never to be short"
        top.reading.assumed.add("nobody", text, "shop settings", "shop")
    return tuple(found)


def leads_and_stays(top: Section, presses: tuple[Press, ...], has_people: bool) -> tuple[int, int]:
    """On how many presses at once one lead watches, and the least minutes of a stay at a press.

    What is taken is told where it matters: where a press asks for a lead, and where people are named.
    """
    name = "people"
    section = top.inner(name) or Section(reading=top.reading, tree={}, kind=name, path=name)
    asked = any(role == LEAD for press in presses for role, _ in (*press.set_up_crew, *press.run_crew))
    covers = section.take("lead_covers", cells.whole(least=1, most=MOST_LED, example="2"), tell=asked)
    least_min = section.take("least_stay", units.whole_minutes(most=480), tell=has_people)
    section.warn_unknown()
    return covers, least_min


def carriers(top: Section) -> tuple[Carrier, ...]:
    """Every [[carrier]]."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("carrier", "carriers"):
        name = section.needed("name", cells.name, section.path)
        section.label = name
        found.append(
            Carrier(
                name=name,
                weekdays=section.take("days", moments.weekdays),
                pick_up_min=section.needed("pick_up", moments.clock, 0),
                transit_days=section.take("transit", cells.whole(most=60, example="1")),
            )
        )
        told_twice(section, "name", name, seen)
        if key_of(name) == COLLECTED:
            message = f"{quoted(name)} means that the client fetches the goods"
            section.reading.faults.add(section.place("name"), "reserved", message, "give the carrier another name")
        section.warn_unknown()
    return tuple(found)


def overtime(top: Section, read_day: Callable[[str], date], amount: Callable[[str], int]) -> tuple[OvertimeOffer, ...]:
    """Every [[overtime]] on offer; an evening may run past midnight."""
    found = []
    for section in top.several("overtime", "overtime offers"):
        start = section.needed("from", moments.clock, 0)
        end = section.needed("to", moments.clock, 0)
        if start == end and section.has("from") and section.has("to"):
            message = "starts and ends at the same time"
            section.reading.faults.add(section.place("to"), "no_time", message, "write when it ends, as 18:00")
        found.append(
            OvertimeOffer(
                day=section.needed("day", read_day, UNREAD_DAY),
                from_min=start,
                to_min=end if end > start else end + moments.DAY_MIN,
                price_cents=section.needed("price", amount, 0),
                press_ids=section.take("presses", cells.names, tell=False),
                person_ids=section.take("people", cells.names, tell=False),
            )
        )
        section.warn_unknown()
    return tuple(found)


def closures(top: Section, zone: ZoneInfo, dates: str) -> tuple[Closure, ...]:
    """Every [[closure]]: a day, or from one moment to another."""
    read = moments.day_or_moment(zone, dates)
    found = []
    for section in top.several("closure", "closures"):
        faults = section.reading.faults
        section.warn_unknown()
        day = section.maybe("day", moments.day(dates))
        start = section.maybe("from", read) if not section.has("day") else day
        end = section.maybe("to", read) if not section.has("day") else day
        if section.has("day") and (section.has("from") or section.has("to")):
            faults.add(section.place("day"), "both_ways", "stands beside from and to", "write the day, or from and to")
        elif not section.has("day") and not (section.has("from") and section.has("to")):
            hint = 'write day = "2026-03-06", or from and to'
            faults.add(section.place("day"), "missing", "is missing", hint)
        is_told = start is not None and end is not None
        from_at, to_at = moments.start_of(start or UNREAD_DAY, zone), _end_of(end or UNREAD_DAY, zone)
        if is_told and to_at <= from_at:
            faults.add(section.place("to"), "ends_first", "ends before it starts", "write the later moment as to")
        found.append(
            Closure(
                what=section.maybe("what", cells.name) or "",
                from_at=from_at,
                to_at=to_at,
                why=section.maybe("why", cells.note) or "closed",
            )
        )
    return tuple(found)


def _end_of(on: date | datetime, zone: ZoneInfo) -> datetime:
    """The moment itself; of a day the midnight after it."""
    return on if isinstance(on, datetime) else moments.start_of(on + timedelta(days=1), zone)


def holiday_closures(text: str, *, first: date, last: date, zone: ZoneInfo) -> tuple[Closure, ...]:
    """Whole-day closures on the public holidays of a country ("PT") or a part of it ("DE-BY")."""
    import holidays

    country, _, part = text.strip().upper().replace(",", "-").replace(" ", "").partition("-")
    try:
        days = holidays.country_holidays(country, subdiv=part or None, years=range(first.year, last.year + 1))
        named = sorted(days.items())
    except NotImplementedError as fault:  # what the library says of a country or a part it does not know
        hint = "write a country, as PT, or with a part of it, as DE-BY"
        raise CellError("no_such_country", f"no public holidays are known for {quoted(text)}", hint) from fault
    return tuple(
        Closure(
            what="",
            from_at=moments.start_of(day, zone),
            to_at=moments.start_of(day + timedelta(days=1), zone),
            why=str(name),
        )
        for day, name in named
        if first <= day <= last
    )

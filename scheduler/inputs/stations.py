"""Stations beside the presses, from the shop's settings, and the cells that send an order to them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from scheduler.domain.orders import Visit
from scheduler.domain.shop import OUTWORK, Station
from scheduler.inputs import cells, units
from scheduler.inputs.faults import CellError, key_of, nearest, one_of, quoted
from scheduler.inputs.hours import read_hours
from scheduler.inputs.shop_floor import told_twice
from scheduler.inputs.shop_section import Section

WAYS = ("rate", "each", "days")
MOST_DAYS = 60
_VISIT = re.compile(r"(?P<name>.*[^0-9\s])\s+(?P<days>[0-9]{1,3})\s*(?:d|day|days)", re.IGNORECASE)


def stations(top: Section) -> tuple[Station, ...]:
    """Every [[stations]]; each has a rate, a time for a piece, or days away."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("stations", "stations"):
        name = section.needed("name", cells.name, section.path)
        section.label = name
        ways = [way for way in WAYS if section.has(way)]
        is_sent_out = ways == ["days"] or key_of(name) == key_of(OUTWORK)
        if len(ways) != 1 and not (is_sent_out and not ways):
            message = "has neither a rate nor days" if not ways else f"has both {' and '.join(ways)}"
            hint = 'write rate = "40/h", or each = "90 s", or days = "3" for work sent out'
            section.reading.faults.add(section.place("rate"), "one_of_three", f"{quoted(name)} {message}", hint)
        found.append(
            Station(
                name=name,
                hours=read_hours(section),
                crew=section.take("crew", cells.crew, tell=not is_sent_out),
                at_once=section.take("at_once", cells.whole(least=1, most=99, example="2"), tell=not is_sent_out),
                pcs_h=section.maybe("rate", units.rate_pcs_h),
                each_s=section.maybe("each", units.seconds(least=0.1, most=7_200, example="90 s")),
                days=section.maybe("days", cells.whole(least=1, most=MOST_DAYS, example="3")),
            )
        )
        told_twice(section, "name", name, seen)
        section.warn_unknown()
    return tuple(found)


def with_outwork(known: Iterable[Station]) -> tuple[Station, ...]:
    """The stations an order may name: those of the shop, and work sent out for days told by the order."""
    listed = tuple(known)
    if any(key_of(one.name) == key_of(OUTWORK) for one in listed):
        return listed
    return (*listed, Station(name=OUTWORK))


def visits(known: Iterable[Station] | None) -> Callable[[str], tuple[Visit, ...]]:
    """Reads "embroidery" or "heat press; outwork 3 d"; known None: names cannot be looked up."""
    stations_known = None if known is None else {key_of(one.name): one for one in with_outwork(known)}

    def read(text: str) -> tuple[Visit, ...]:
        if key_of(text) in ("none", "-"):
            return ()
        parts = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
        return tuple(_visit(part, stations_known) for part in parts)

    return read


def _visit(text: str, known: dict[str, Station] | None) -> Visit:
    match = _VISIT.fullmatch(text)
    is_named = known is not None and key_of(text) in known
    name = cells.name(match["name"]) if match and not is_named else cells.name(text)
    days = int(match["days"]) if match and not is_named else None
    if days is not None and not 1 <= days <= MOST_DAYS:
        raise CellError("days", f"{quoted(text)} is not 1 to {MOST_DAYS} days", f"write it as {name} 3 d")
    if known is None:
        return Visit(station=name, days=days)
    station = known.get(key_of(name))
    if station is None:
        names = tuple(one.name for one in known.values())
        near = nearest(name, names)
        hint = f"did you mean {near}?" if near else f"{one_of(names)}, or describe it under [[stations]]"
        raise CellError("no_such_station", f"{quoted(name)} is no station of the shop", hint)
    is_sent_out = station.pcs_h is None and station.each_s is None
    if days is not None and not is_sent_out:
        message = f"{station.name} works in the shop, at its own rate"
        raise CellError("days_in_the_shop", message, f"write {station.name}, without days")
    if is_sent_out and days is None and station.days is None:
        message = f"how long is {station.name} away?"
        raise CellError("no_days", message, f"write the working days, as {station.name} 3 d")
    return Visit(station=station.name, days=days)

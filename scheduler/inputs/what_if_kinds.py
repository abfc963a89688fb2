"""The kinds of what-if and their settings: what each holds, whether it is needed, and what to write.

The reader, its messages and the documents all take them from here. A rush has the headings of the orders sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from scheduler.inputs import cells, moments
from scheduler.inputs.arrivals import Arrival, arrival

RUSH = "rush"


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One setting of a what-if. names: what its value must be a name of ("order", "press", ...), "" for none."""

    name: str
    example: str
    is_needed: bool = True
    names: str = ""


def _of(name: str, example: str, names: str = "", *, needed: bool = True) -> Setting:
    return Setting(name=name, example=example, is_needed=needed, names=names)


def _maybe(name: str, example: str, names: str = "") -> Setting:
    return _of(name, example, names, needed=False)


_ORDER = _of("order", "4102", "order")
_FROM, _TO = _maybe("from", "2026-03-04 10:00"), _of("to", "2026-03-04 15:00")

KINDS: Mapping[str, tuple[Setting, ...]] = {
    "cancel": (_ORDER,),
    "pieces": (_ORDER, _of("pieces", "144"), _maybe("garment", "navy tee", "garment")),
    "date": (_ORDER, _maybe("due", "2026-03-06"), _maybe("in_hands", "2026-03-09")),
    "blanks": (_ORDER, _of("blanks", "2026-03-05"), _maybe("garment", "navy tee", "garment")),
    "art": (_ORDER, _of("art", "2026-03-05"), _maybe("location", "front", "location")),
    "press_out": (_of("press", "auto-1", "press"), _FROM, _TO),
    "dryer_out": (_of("dryer", "long", "dryer"), _FROM, _TO),
    "flash_out": (_of("press", "auto-1", "press"), _FROM, _TO),
    "person_out": (_of("person", "ana", "person"), _FROM, _TO),
    "open_hours": (
        _of("day", "2026-03-07"),
        _of("from", "07:00"),
        _of("to", "12:00"),
        _maybe("price", "300"),
        _maybe("presses", "auto-1, auto-2", "press"),
        _maybe("people", "ana, rui", "person"),
    ),
    "screen_broken": (_of("design", "stout mug", "design"), _maybe("mesh", "156"), _maybe("burned", "yes")),
    "ink_out": (_of("ink", "gold", "ink"), _of("until", "2026-03-05 10:00")),
    "reprint": (
        _ORDER,
        _of("pieces", "12"),
        _maybe("garment", "navy tee", "garment"),
        _maybe("location", "front", "location"),
        _maybe("blanks", "in"),
    ),
    "print": (
        _ORDER,
        _of("location", "front", "location"),
        _maybe("not_before", "2026-03-05 10:00"),
        _maybe("waits_for", "gold"),
        _maybe("design", "stout mug again"),
    ),
}
"""Settings of every kind but a rush."""

MEANINGS = {
    RUSH: "an order comes in (one table for each print location, with the headings of orders.csv)",
    "cancel": "an order is called off",
    "pieces": "an order's pieces change",
    "date": "an order's date moves",
    "blanks": "garments come at another time",
    "art": "art comes at another time",
    "press_out": "a press is down",
    "dryer_out": "a dryer is down, and every press on it",
    "flash_out": "the flash of a press is out",
    "person_out": "somebody is not there",
    "open_hours": "an evening or a Saturday is offered",
    "screen_broken": "a screen tears: its set is burned anew",
    "ink_out": "an ink is used up",
    "reprint": "pieces are printed again",
    "print": "a print is not set up before a moment, waits for something, or has other screens",
}
"""What each kind means."""

Parsers = Mapping[str, Callable[[str], Any]]


def parsers_of(kind: str, zone: ZoneInfo, currency: str) -> Parsers:
    """Setting -> what reads its text, for one kind."""
    on = moments.day_or_moment(zone)
    start: Callable[[str], datetime] = lambda text: moments.start_of(on(text), zone)  # noqa: E731
    end: Callable[[str], datetime] = lambda text: _end_of(on(text), zone)  # noqa: E731
    is_clock = kind == "open_hours"
    return {
        "pieces": cells.whole(least=1, example="144"),
        "due": on,
        "in_hands": on,
        "blanks": arrival("in", ("here", "in stock", "ok"), zone, ""),
        "art": arrival("ok", ("approved", "in"), zone, ""),
        "from": moments.clock if is_clock else start,
        "to": moments.clock if is_clock else end,
        "day": moments.day(),
        "price": cells.money(currency),
        "presses": cells.names,
        "people": cells.names,
        "mesh": cells.whole(least=10, most=600, example="156"),
        "burned": cells.yes_no,
        "not_before": start,
        "waits_for": cells.note,
        "until": arrival("now", (), zone, ""),
        **dict.fromkeys(("order", "garment", "location", "press", "dryer", "person", "design", "ink"), cells.name),
    }


def moment_of(come: Arrival, now: datetime) -> datetime | None:
    """When something comes: now where it is there, None where nobody knows."""
    return None if come.is_waiting else come.at or now


def _end_of(on: date | datetime, zone: ZoneInfo) -> datetime:
    """The moment itself; of a day the midnight after it."""
    return on if isinstance(on, datetime) else moments.start_of(on + timedelta(days=1), zone)

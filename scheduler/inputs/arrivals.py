"""What the blanks and art cells say: there, there from some moment on, or nobody knows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from scheduler.inputs.faults import CellError, key_of, quoted
from scheduler.inputs.moments import day_or_moment, start_of

UNKNOWN = {"?", "??", "tba", "tbd", "unknown"}
"""What stands in a cell when nobody knows yet, as `key_of` has it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """When something is there: at None and not waiting means now. is_bare_day: only a day was typed."""

    at: datetime | None = None
    is_waiting: bool = False
    is_bare_day: bool = False


def arrival(
    there: str, also: tuple[str, ...], zone: ZoneInfo, dates: str, today: date | None = None
) -> Callable[[str], Arrival]:
    """Reads "in" (or "ok"), a day, a moment, or "?". there: the word for yes; also: other words for it.

    today: a day typed without its year is the one nearest to it.
    """
    read = day_or_moment(zone, dates, today)
    words = {there, "yes", *also}

    def parse(text: str) -> Arrival:
        plain = key_of(text)
        if plain in words:
            return Arrival()
        if plain in UNKNOWN:
            return Arrival(is_waiting=True)
        try:
            on = read(text)
        except CellError as fault:
            if fault.code != "not_a_date" or any(sign.isdigit() for sign in text):
                raise
            hint = f"write {there}, a day as 2026-03-06, or ? if nobody knows"
            raise CellError("not_an_arrival", f"{quoted(text)} is neither {there} nor a day", hint) from fault
        return Arrival(at=start_of(on, zone), is_bare_day=not isinstance(on, datetime))

    return parse

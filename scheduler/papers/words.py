"""How papers say moments, lengths of time and lateness. English, whatever the machine's language."""

from __future__ import annotations

from datetime import datetime

LATE_MARK = "▲"
"""The one mark of a late order; the word "late" always stands beside it."""

PENCILLED = "pencilled in"
"""State of an order that waits for something and has a place behind the firm ones."""

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SAFE_DAYS = 6
"""Days ahead within which a weekday alone cannot be mistaken."""

LONG_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_and_time(moment: datetime) -> str:
    """As "Mon 2 Mar 07:00"."""
    return f"{day(moment)} {moment:%H:%M}"


def day(moment: datetime) -> str:
    """As "Mon 2 Mar"."""
    return f"{DAYS[moment.weekday()]} {moment.day} {MONTHS[moment.month - 1]}"


def day_and_year(moment: datetime) -> str:
    """As "Mon 2 Mar 2026 07:00"."""
    return f"{day(moment)} {moment.year} {moment:%H:%M}"


def long_day(moment: datetime) -> str:
    """As "Monday 2 Mar 2026"."""
    return f"{LONG_DAYS[moment.weekday()]} {moment.day} {MONTHS[moment.month - 1]} {moment.year}"


def until(start: datetime, end: datetime) -> str:
    """The end of something that starts at `start`, as short as is plain: "17:00", "Tue 08:20", "Mon 16 Mar 08:20"."""
    days = (end.date() - start.date()).days
    if days == 0:
        return f"{end:%H:%M}"
    return f"{DAYS[end.weekday()]} {end:%H:%M}" if 0 < days < SAFE_DAYS else day_and_time(end)


def minutes(count: int) -> str:
    """A length of time: "45 min" below two hours, else "2 h 05 min"."""
    if count < 120:
        return f"{count} min"
    hours, rest = divmod(count, 60)
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"


def counted(count: int, thing: str, things: str | None = None) -> str:
    """A number of things: "1 screen", "3 screens"."""
    return f"{count} {thing if count == 1 else things or thing + 's'}"


def listed(names: list[str]) -> str:
    """Names in a row: "white", "white and red", "white, red and black"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def late(days: int) -> str:
    """The late mark, the word and how much; "" where nothing is late."""
    return f"{LATE_MARK} late {counted(days, 'day')}" if days else ""


def dryer(dryer_id: str) -> str:
    """A dryer in a sentence, "dryer long"; one whose name says what it is stands alone."""
    return dryer_id if "dryer" in dryer_id.lower() else f"dryer {dryer_id}"


def percent(share: float) -> str:
    """A share of all, "47 %"."""
    return f"{share * 100:.0f} %"


def money(cents: int, currency: str = "") -> str:
    """Integer cents as "1,312.40 EUR"; without the currency where the shop named none."""
    sign = "-" if cents < 0 else ""
    whole, rest = divmod(abs(cents), 100)
    return f"{sign}{whole:,}.{rest:02d} {currency}".rstrip()

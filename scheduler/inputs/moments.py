"""Days, moments, clock times and opening hours from one cell of text.

Moments are local wall time with the shop's zone. A clock time that the zone skips (clocks go forward) is a fault; of
one that comes twice (clocks go back) the first is meant.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from scheduler.inputs.faults import CellError, key_of, quoted

DAY_MIN, NOON_MIN = 1440, 720
FIRST_YEAR, LAST_YEAR = 2000, 2100
MOST_DAYS_IN_A_RANGE = 60
LONGEST_NIGHT_MIN = 960
"""Minutes a piece of hours may last when it runs over midnight: a longer one is a slip of the pen."""

DAY_FIRST, MONTH_FIRST = "day first", "month first"
EITHER = "either"
"""The order of day and month where the setting itself is faulty: dates are not to be blamed for it."""

DATE_ORDERS = {DAY_FIRST: DAY_FIRST, MONTH_FIRST: MONTH_FIRST, "dmy": DAY_FIRST, "mdy": MONTH_FIRST}

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

_ISO = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_THREE = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2([0-9]{4}|[0-9]{2})")
_DAY_MONTH = re.compile(r"([0-9]{1,2})\.?[ -]([a-z]{3,9})\.?,?[ -]([0-9]{4})")
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.? ([0-9]{1,2}),? ([0-9]{4})")
_NO_YEAR = re.compile(r"([0-9]{1,2})\s*([/.-])\s*([0-9]{1,2})\.?")
_NAMED_NO_YEAR = re.compile(
    r"(?:([0-9]{1,2})(?:st|nd|rd|th)?\.?[ -]?([a-z]{3,9})\.?|([a-z]{3,9})\.? ?([0-9]{1,2})(?:st|nd|rd|th)?)", re.I
)
_WEEKDAY = re.compile(r"^(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+", re.IGNORECASE)
_CLOCK = re.compile(r"(?P<h>[0-9]{1,2})(?:[:.h](?P<m>[0-9]{2}))?(?::00)?\s*(?P<half>[ap]\.?m\.?)?", re.IGNORECASE)
_MOMENT = re.compile(
    r"(?P<day>.*?(?:[0-9]{1,4}|[0-9][ .-]{0,2}[A-Za-z]{3,9}\.?))"
    r"(?:[tT]|,?\s+(?:at\s+)?)"
    r"(?P<clock>[0-9]{1,2}[:.h].*|[0-9]{1,2}\s*[apAP]\.?[mM]\.?)"
)
_OFFSET = re.compile(r"(?P<clock>.*?)\s*(?P<offset>Z|[+-][0-9]{2}:[0-9]{2})")
_TO = r"\s*(?:-|–|—|\bto\b)\s*"


def day(order: str = "", today: date | None = None) -> Callable[[str], date]:
    """Reads a day: "2026-03-06", "6 Mar 2026", or with slashes as `order` says ("day first", "month first").

    Without `order`, only slashed dates with a day above 12 can be read. today: a day typed without its year ("6 Mar",
    "Fri 6 Mar") is the one nearest to it; None: it is a fault.
    """

    def read(text: str) -> date:
        parts = _parts(text, order)
        if parts is None and today is not None:
            typed = nearest_year(without_weekday(text), today, order)
            parts = _parts(typed, order) if typed else None
        if parts is None:
            raise CellError("not_a_date", f"{quoted(text)} is not a date", "write it as 2026-02-28")
        year, month, number = parts
        if not FIRST_YEAR <= year <= LAST_YEAR:
            message = f"{quoted(text)} is in the year {year}"
            raise CellError("absurd_year", message, f"write a year from {FIRST_YEAR} to {LAST_YEAR}")
        if not 1 <= month <= 12 or number < 1:
            turned = f"{year}-{number:02d}-{month:02d}" if 1 <= number <= 12 < month <= 28 else "2026-02-28"
            raise CellError("not_a_date", f"{quoted(text)} is not a date", f"write it as {turned}")
        last = monthrange(year, month)[1]
        if number > last:
            hint = f"write it as {date(year, month, last).isoformat()}"
            raise CellError("not_a_date", f"{quoted(text)} is not a date", hint)
        return date(year, month, number)

    return read


def _parts(text: str, order: str) -> tuple[int, int, int] | None:
    """(year, month, day) as written, not checked; None if the text is no date."""
    plain = key_of(text)
    if match := _ISO.fullmatch(plain):
        return int(match[1]), int(match[2]), int(match[3])
    if match := _DAY_MONTH.fullmatch(plain):
        return _named(match[3], match[2], match[1])
    if match := _MONTH_DAY.fullmatch(plain):
        return _named(match[3], match[1], match[2])
    if match := _THREE.fullmatch(plain):
        one, other = int(match[1]), int(match[3])
        year = int(match[4]) + (2000 if len(match[4]) == 2 else 0)
        if order == DAY_FIRST or (order != MONTH_FIRST and (one > 12 or one == other)):
            return year, other, one
        if order == MONTH_FIRST or other > 12:
            return year, one, other
        if order == EITHER:
            return year, other, one
        meant = [f"{year:04d}-{month:02d}-{number:02d}" for month, number in ((other, one), (one, other))]
        hint = f'write {" or ".join(meant)}, or set dates = "{DAY_FIRST}" or "{MONTH_FIRST}" for the shop'
        raise CellError("two_ways", f"{quoted(text)} does not say which number is the month", hint)
    return None


def nearest_year(text: str, today: date, order: str) -> str | None:
    """A day typed without its year, with the year that brings it nearest to today; None if it is no such day."""
    numbers, named = _NO_YEAR.fullmatch(text.strip()), _NAMED_NO_YEAR.fullmatch(text.strip())
    if numbers is None and named is None:
        return None
    found = []
    for year in (today.year - 1, today.year, today.year + 1):
        if numbers is not None:
            typed = f"{numbers[1]}{numbers[2]}{numbers[3]}{numbers[2]}{year}"
        else:
            assert named is not None
            typed = f"{named[1] or named[4]} {named[2] or named[3]} {year}"
        try:
            found.append((abs((day(order)(typed) - today).days), typed))
        except CellError as fault:
            if fault.code == "two_ways":
                orders = (DAY_FIRST, MONTH_FIRST)
                found.append((min(abs((day(one)(typed) - today).days) for one in orders), typed))
    return min(found)[1] if found else None


def without_weekday(text: str) -> str:
    """A date without the day of the week that may stand before it: "Fri 6 Mar" is "6 Mar"."""
    return _WEEKDAY.sub("", " ".join(text.split()))


def lacks_year(text: str) -> bool:
    """True for a day, or a day and a clock time, that is typed without its year."""
    match = _MOMENT.fullmatch(" ".join(text.split()))
    plain = without_weekday(match["day"] if match else text)
    return _NO_YEAR.fullmatch(plain) is not None or _NAMED_NO_YEAR.fullmatch(plain) is not None


def _named(year: str, month: str, number: str) -> tuple[int, int, int] | None:
    return (int(year), MONTHS.index(month[:3]) + 1, int(number)) if month[:3] in MONTHS else None


def days(order: str = "") -> Callable[[str], tuple[date, ...]]:
    """Reads days with commas between, and stretches of them: "2026-04-20, 2026-04-23 to 2026-04-25"."""
    one = day(order)

    def read(text: str) -> tuple[date, ...]:
        found: list[date] = []
        for part in re.split(r"[,;]", text):
            ends = [one(end) for end in re.split(r"\s+(?:to|-|–)\s+", part.strip()) if part.strip()]
            if len(ends) > 2 or (len(ends) == 2 and not 0 <= (ends[1] - ends[0]).days <= MOST_DAYS_IN_A_RANGE):
                hint = f"write the first day first, at most {MOST_DAYS_IN_A_RANGE} days, as 2026-04-20 to 2026-04-24"
                raise CellError("not_a_stretch", f"{quoted(part)} is no stretch of days", hint)
            if ends:
                found += [ends[0] + timedelta(days=number) for number in range((ends[-1] - ends[0]).days + 1)]
        return tuple(sorted(set(found)))

    return read


def clock(text: str) -> int:
    """A clock time as minutes of the day, 0 to 1440: "07:00", "7:30 pm", "24:00"."""
    match = _CLOCK.fullmatch(" ".join(text.split()))
    hour, minute = (int(match["h"]), int(match["m"] or 0)) if match else (99, 0)
    half = match["half"].lower()[0] if match and match["half"] else ""
    if half and not 1 <= hour <= 12:
        hour = 99
    elif half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if minute > 59 or hour * 60 + minute > DAY_MIN:
        raise CellError("not_a_clock_time", f"{quoted(text)} is not a clock time", "write it as 07:30")
    return hour * 60 + minute


def moment(zone: ZoneInfo, order: str = "", today: date | None = None) -> Callable[[str], datetime]:
    """Reads a day and a clock time: "2026-03-06 15:00"."""
    read_day = day(order, today)

    def read(text: str) -> datetime:
        plain = " ".join(text.split())
        match = _MOMENT.fullmatch(plain)
        if match is None:
            read_day(plain)  # a fault of the day is the one to tell
            raise CellError("no_clock_time", f"{quoted(text)} has no clock time", f"write it as {plain} 15:00")
        on = read_day(match["day"])
        offset = _OFFSET.fullmatch(match["clock"])
        if offset:
            return _with_offset(on, clock(offset["clock"]), offset["offset"], zone, text)
        return _local(on, clock(match["clock"]), zone, text)

    return read


def day_or_moment(zone: ZoneInfo, order: str = "", today: date | None = None) -> Callable[[str], date | datetime]:
    """Reads a day, or a day and a clock time."""
    read_day, read_moment = day(order, today), moment(zone, order, today)

    def read(text: str) -> date | datetime:
        return read_moment(text) if _MOMENT.fullmatch(" ".join(text.split())) else read_day(text)

    return read


def start_of(on: date | datetime, zone: ZoneInfo) -> datetime:
    """The moment itself; of a day its first minute."""
    if isinstance(on, datetime):
        return on
    midnight = datetime.combine(on, time(), tzinfo=zone)
    return midnight.astimezone(UTC).astimezone(zone)  # some zones skip midnight when clocks go forward


def _local(on: date, minute: int, zone: ZoneInfo, text: str) -> datetime:
    naive = datetime.combine(on, time()) + timedelta(minutes=minute)
    found = naive.replace(tzinfo=zone)
    real = found.astimezone(UTC).astimezone(zone)
    if real.replace(tzinfo=None) != naive:
        hint = f"clocks go forward then: write {real:%Y-%m-%d %H:%M}"
        raise CellError("no_such_time", f"{quoted(text)} does not exist in {zone.key}", hint)
    return found


def _with_offset(on: date, minute: int, offset: str, zone: ZoneInfo, text: str) -> datetime:
    sign = "+00:00" if offset == "Z" else offset
    hours, minutes = int(sign[1:3]), int(sign[4:6])
    if hours > 15 or minutes > 59:
        raise CellError("not_a_moment", f"{quoted(text)} is not a moment", "write it as 2026-03-06 15:00")
    away = timedelta(hours=hours, minutes=minutes) * (-1 if sign[0] == "-" else 1)
    utc = datetime.combine(on, time(), tzinfo=UTC) + timedelta(minutes=minute) - away
    return utc.astimezone(zone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """One line of hours: open from, to (minutes of the day, to may run past midnight), less the breaks."""

    from_min: int
    to_min: int
    breaks: tuple[tuple[int, int], ...] = ()


def hours_line(text: str) -> Shift | None:
    """Hours of a day: "07:00-12:00, 12:30-16:00"; None for "closed". The last piece may run past midnight."""
    if key_of(text) in ("closed", "off", "none", "-"):
        return None
    pieces: list[tuple[int, int]] = []
    for part in re.split(r"[,;]", text):
        ends = re.split(_TO, part.strip(), flags=re.IGNORECASE)
        if len(ends) != 2:
            hint = "write it as 07:00-12:00, 12:30-16:00, or closed"
            raise CellError("not_hours", f"{quoted(part)} is not from one time to another", hint)
        pieces.append(_piece(part, *ends))
    for before, after in pairwise(pieces):
        if before[1] > after[0]:
            message = f"{quoted(text)}: the pieces overlap or are out of order"
            raise CellError("hours_overlap", message, "write them one after the other, as 07:00-12:00, 12:30-16:00")
    gaps = [(before[1], after[0]) for before, after in pairwise(pieces) if before[1] < after[0]]
    return Shift(from_min=pieces[0][0], to_min=pieces[-1][1], breaks=tuple(gaps))


def _piece(part: str, start_text: str, end_text: str) -> tuple[int, int]:
    """(from, to) of one unbroken piece; to is past 1440 where it runs over midnight."""
    start, end = clock(start_text), clock(end_text)
    bare = [one for text, one in ((start_text, start), (end_text, end)) if text.strip().isdigit()]
    if bare and min(bare) < NOON_MIN and max(start, end) <= NOON_MIN:  # is 7-3 a day shift or a night?
        meant = end if end > start else end + NOON_MIN
        hint = f"write it as {start // 60:02d}:{start % 60:02d}-{meant // 60:02d}:{meant % 60:02d}"
        raise CellError("two_ways", f"{quoted(part)} can be read two ways", hint)
    if start >= DAY_MIN or start == end:
        raise CellError("not_hours", f"{quoted(part)} is no time at all", "write it as 07:00-12:00")
    if end > start:
        return start, end
    if end + DAY_MIN - start > LONGEST_NIGHT_MIN:
        message = f"{quoted(part)} would run past midnight for {(end + DAY_MIN - start) / 60:g} hours"
        raise CellError("long_night", message, "write the earlier time first, as 07:00-15:00")
    return start, end + DAY_MIN


def weekdays(text: str) -> tuple[int, ...]:
    """Weekdays, 0 = Monday: "mon-fri", "mon, wed", "sat", "every day"."""
    if key_of(text) in ("every day", "daily", "all", "all days"):
        return tuple(range(7))
    found: set[int] = set()
    for part in re.split(r"[,;+/]", text):
        ends = [_weekday(end) for end in re.split(_TO, key_of(part))]
        if len(ends) > 2 or None in ends:
            raise CellError(
                "not_weekdays", f"{quoted(text)} is not weekdays", "write them as mon-fri, or mon, wed, sat"
            )
        first, last = int(ends[0] or 0), int(ends[-1] or 0)
        found |= {(first + number) % 7 for number in range((last - first) % 7 + 1)}
    return tuple(sorted(found))


def _weekday(word: str) -> int | None:
    plain = word.strip().rstrip(".")
    if len(plain) < 2:
        return None
    return next((number for number, day in enumerate(WEEKDAYS) if day.startswith(plain) or plain == f"{day}s"), None)

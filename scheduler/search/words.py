"""Clock times and names as reasons tell them."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.week import Week

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def from_text(week: Week, tau: int) -> str:
    """Clock time of work that starts at a shop minute, e.g. "Tue 10:00"; with the date from a week ahead on."""
    return _text(week, week.clock.starts_at(tau))


def until_text(week: Week, tau: int) -> str:
    """Clock time of work that ends at a shop minute, e.g. "Mon 17:00"."""
    return _text(week, week.clock.ends_at(tau))


def _text(week: Week, moment: datetime) -> str:
    # strftime's names would follow the machine's language.
    day = _DAYS[moment.weekday()]
    first = week.clock.moment(0).date()
    date = "" if (moment.date() - first).days < 7 else f" {moment.day} {_MONTHS[moment.month - 1]}"
    return f"{day}{date} {moment:%H:%M}"


def minutes_text(count: int) -> str:
    """A length of time, e.g. "45 min", "4 h" or "1 h 30 min"."""
    hours, rest = divmod(count, 60)
    return " ".join(part for part in (f"{hours} h" * (hours > 0), f"{rest} min" * (rest > 0)) if part) or "0 min"


def cents_text(cents: int) -> str:
    """Money without its currency, e.g. "1.80"."""
    return f"{cents // 100:,}.{cents % 100:02d}"


def press_text(week: Week, press_id: str) -> str:
    """A press by its name."""
    return week.press[press_id].name


def listed(words: list[str]) -> str:
    """One, two or more words in a row: "a", "a and b", "a, b and c"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"

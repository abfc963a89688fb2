"""Names and clock times as a planner says them."""

from __future__ import annotations

from datetime import date, datetime

from scheduler.domain.week import Week

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_text(day: date) -> str:
    """A day, e.g. "Tue 3 Mar"."""
    # strftime would follow the machine's language.
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def _told(moment: datetime) -> str:
    return f"{day_text(moment)} {moment:%H:%M}"


def _off_the_axis(week: Week, tau: int) -> str | None:
    if tau < 0:
        return f"{-tau} min before the week opens"
    if tau > week.horizon_tau:
        return f"{tau - week.horizon_tau} min after the week's last open minute"
    return None


def start_text(week: Week, tau: int) -> str:
    """The clock time of work that starts at this shop minute, e.g. "Tue 3 Mar 08:00"."""
    return _off_the_axis(week, tau) or _told(week.clock.starts_at(tau))


def end_text(week: Week, tau: int) -> str:
    """The clock time of work that ends at this shop minute, e.g. "Mon 2 Mar 17:00"."""
    return _off_the_axis(week, tau) or _told(week.clock.ends_at(tau))


def run_text(week: Week, run_id: str) -> str:
    """A run as people call it: its order and print location."""
    run = week.run.get(run_id)
    return f"{run.order_id} {run.location}" if run else f"run {run_id}"


def press_text(week: Week, press_id: str) -> str:
    """A press by its name."""
    press = week.press.get(press_id)
    return press.name if press else f"press {press_id}"


def people_text(count: int) -> str:
    """A number of people, e.g. "1 person"."""
    return "1 person" if count == 1 else f"{count} people"

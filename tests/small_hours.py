"""The small shop's time: its shop axis, and calendars on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, LONG_STOP_MIN, Calendar, Window
from scheduler.domain.clock import ShopClock, Stretch

DAY_MIN = 540
DAYS = 5
ZONE = "America/Chicago"


def clock(*, days: int = DAYS, day_min: int = DAY_MIN, zone: str = ZONE) -> ShopClock:
    """A shop axis of `days` days, each open for `day_min` minutes from 08:00; Monday is day 0."""
    return ShopClock(
        zone=zone,
        now=datetime(2026, 3, 2, 8, 0, tzinfo=ZoneInfo(zone)),
        stretches=tuple(Stretch(wall_start_min=day * 1440, wall_end_min=day * 1440 + day_min) for day in range(days)),
    )


def hours(*windows: tuple[int, int] | tuple[int, int, str], on: ShopClock | None = None) -> Calendar:
    """A calendar of (start, end) or (start, end, overtime block) in shop minutes; stops are read off the clock."""
    axis = on or clock()
    made: list[Window] = []
    for start, end, *block in windows:
        stop = axis.wall_at_start(start) - axis.wall_at_end(made[-1].end_tau) if made else ALWAYS_CLOSED_BEFORE_MIN
        if made and start == made[-1].end_tau and start not in axis.cuts_tau:
            stop = 0
        made.append(
            Window(start_tau=start, end_tau=end, stop_before_min=stop, overtime_id=str(block[0]) if block else None)
        )
    return Calendar(windows=tuple(made))


def every_day(
    *, breaks: Iterable[tuple[int, int]] = (), days: int = DAYS, day_min: int = DAY_MIN, on: ShopClock | None = None
) -> Calendar:
    """Open all day every day but for `breaks`, each (minutes after opening, length)."""
    windows: list[tuple[int, int]] = []
    for day in range(days):
        at = day * day_min
        for after, length in sorted(breaks):
            windows.append((at, day * day_min + after))
            at = day * day_min + after + length
        windows.append((at, (day + 1) * day_min))
    return hours(*windows, on=on or clock(days=days, day_min=day_min))


def hot(calendar: Calendar | None = None, *, after: int = 20) -> Calendar:
    """The calendar (open all day) without its first minutes after every night: when a press can print."""
    cut = [
        replace(one, start_tau=one.start_tau + after, stop_before_min=one.stop_before_min + after)
        if one.stop_before_min >= LONG_STOP_MIN
        else one
        for one in (calendar or every_day()).windows
    ]
    return Calendar(windows=tuple(cut))

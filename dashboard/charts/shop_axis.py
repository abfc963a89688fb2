"""Shop time for pictures: x is open minutes, the ticks are clock times, closed hours take no room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from scheduler.api import words
from scheduler.domain.clock import ShopClock

STEPS_MIN = (30, 60, 120, 180, 240, 360, 720)
"""Distances between ticks, the smallest that leaves them room is taken."""

TICK_PX = 56
"""Room a tick's "07:00" needs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopDay:
    """One calendar day's piece of the shop axis, [from_tau, to_tau)."""

    day: date
    from_tau: int
    to_tau: int

    @property
    def short(self) -> str:
        """As "Mon 2 Mar"."""
        return f"{words.DAYS[self.day.weekday()]} {self.day.day} {words.MONTHS[self.day.month - 1]}"

    @property
    def long(self) -> str:
        """As "Monday 2 Mar"."""
        return f"{words.LONG_DAYS[self.day.weekday()]} {self.day.day} {words.MONTHS[self.day.month - 1]}"


def shop_days(clock: ShopClock) -> tuple[ShopDay, ...]:
    """The days of the axis; a stretch over midnight belongs to both its days."""
    found: dict[date, ShopDay] = {}
    for day, from_tau, to_tau in _pieces(clock):
        first = found[day].from_tau if day in found else from_tau
        found[day] = ShopDay(day=day, from_tau=first, to_tau=to_tau)
    return tuple(found.values())


def _pieces(clock: ShopClock) -> Iterator[tuple[date, int, int]]:
    """Stretches cut at local midnight: (day, from, to) in shop minutes."""
    for cut_tau, stretch in zip(clock.cuts_tau, clock.stretches, strict=True):
        at = stretch.wall_start_min
        while at < stretch.wall_end_min:
            day = clock.moment(at).date()
            end = min(_midnight_after(clock, day), stretch.wall_end_min)
            yield day, cut_tau + at - stretch.wall_start_min, cut_tau + end - stretch.wall_start_min
            at = end


def _midnight_after(clock: ShopClock, day: date) -> int:
    """Wall minute of the midnight that ends a day, by the shop's own clock."""
    return clock.wall_of(datetime.combine(day + timedelta(days=1), time(), ZoneInfo(clock.zone)))


def day_at(clock: ShopClock, tau: int) -> ShopDay:
    """The day in which work that starts at this minute starts; the last day from its end on."""
    days = shop_days(clock)
    return next((one for one in days if tau < one.to_tau), days[-1])


def clock_ticks(clock: ShopClock, from_tau: int, to_tau: int, *, width_px: int) -> tuple[list[int], list[str]]:
    """Ticks at round clock times inside [from, to), no denser than their words; (shop minutes, "07:00")."""
    step = next((one for one in STEPS_MIN if (to_tau - from_tau) * TICK_PX <= one * width_px), STEPS_MIN[-1])
    apart = TICK_PX * (to_tau - from_tau) / width_px
    found: list[tuple[int, str]] = []
    for cut_tau, stretch in zip(clock.cuts_tau, clock.stretches, strict=True):
        first = clock.moment(stretch.wall_start_min)
        to_next = -(first.hour * 60 + first.minute) % step
        for wall in range(stretch.wall_start_min + to_next, stretch.wall_end_min, step):
            tau = cut_tau + wall - stretch.wall_start_min
            if from_tau <= tau < to_tau and (not found or tau - found[-1][0] >= apart):
                found.append((tau, f"{clock.moment(wall):%H:%M}"))
    return [tau for tau, _ in found], [text for _, text in found]


def day_ticks(clock: ShopClock, from_tau: int, to_tau: int) -> tuple[list[float], list[str]]:
    """A tick in the middle of each day inside [from, to); (shop minutes, "Mon 2 Mar")."""
    shown = [(max(one.from_tau, from_tau), min(one.to_tau, to_tau), one) for one in shop_days(clock)]
    kept = [(start, end, one) for start, end, one in shown if start < end]
    return [(start + end) / 2 for start, end, _ in kept], [one.short for _, _, one in kept]


def cuts_inside(clock: ShopClock, from_tau: int, to_tau: int) -> list[int]:
    """Places strictly inside [from, to) where closed time has been cut out."""
    return [tau for tau in clock.cuts_tau if from_tau < tau < to_tau]

"""Pieces of wall time as (from, to) minutes counted from the planning moment: sorted, apart, none empty."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

from scheduler.domain.shop import Hours

Span = tuple[int, int]
Spans = tuple[Span, ...]

DAY_MIN = 1440


def union(spans: Iterable[Span]) -> Spans:
    """All minutes in any of the spans; touching ones become one."""
    joined: list[Span] = []
    for start, end in sorted(spans):
        if end <= start:
            continue
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return tuple(joined)


def intersect(one: Spans, other: Spans) -> Spans:
    """Minutes in both."""
    found: list[Span] = []
    i = j = 0
    while i < len(one) and j < len(other):
        start, end = max(one[i][0], other[j][0]), min(one[i][1], other[j][1])
        if start < end:
            found.append((start, end))
        if one[i][1] < other[j][1]:
            i += 1
        else:
            j += 1
    return tuple(found)


def subtract(one: Spans, other: Spans) -> Spans:
    """Minutes of `one` that are not in `other`."""
    left: list[Span] = []
    for start, end in one:
        at = start
        for cut_start, cut_end in other:
            if cut_end <= at:
                continue
            if cut_start >= end:
                break
            if cut_start > at:
                left.append((at, cut_start))
            at = max(at, cut_end)
        if at < end:
            left.append((at, end))
    return tuple(left)


def total_min(spans: Spans) -> int:
    """Minutes in all spans together."""
    return sum(end - start for start, end in spans)


def covers(spans: Spans, start: int, end: int) -> bool:
    """True if one of the spans holds all of [start, end)."""
    index = bisect_right(spans, (start, 1 << 60)) - 1
    return index >= 0 and spans[index][0] <= start and end <= spans[index][1]


@dataclass(frozen=True, kw_only=True)
class Days:
    """The local days a week is planned over, and their clock times as wall minutes.

    now: the planning moment, wall minute 0. The last day ends `days_ahead` local midnights later. Wall minutes are
    elapsed minutes, so the night in which clocks go forward is 60 of them shorter.
    """

    zone: str
    now: datetime
    days_ahead: int

    @cached_property
    def _info(self) -> ZoneInfo:
        return ZoneInfo(self.zone)

    @cached_property
    def first(self) -> date:
        """The local day of the planning moment."""
        return self.now.astimezone(self._info).date()

    @cached_property
    def all(self) -> tuple[date, ...]:
        """Every day planned over, the planning moment's own first."""
        return tuple(self.first + timedelta(days=number) for number in range(max(1, self.days_ahead)))

    def aware(self, moment: datetime) -> datetime:
        """The moment with the shop's zone, where it was typed without one."""
        return moment.replace(tzinfo=self._info) if moment.tzinfo is None else moment

    def wall(self, moment: datetime) -> int:
        """Wall minutes from the planning moment, rounded down; negative before it."""
        return int((self.aware(moment).astimezone(UTC) - self.now.astimezone(UTC)) // timedelta(minutes=1))

    def at(self, day: date, minute: int) -> int:
        """Wall minute of a clock time: `minute` of the local day, 1440 and more running into the next."""
        moved = day + timedelta(days=minute // DAY_MIN)
        clock_time = time(hour=minute % DAY_MIN // 60, minute=minute % 60)
        return self.wall(datetime.combine(moved, clock_time, tzinfo=self._info))

    def day_of(self, wall_min: int) -> date:
        """Local day of a wall minute."""
        return (self.now.astimezone(UTC) + timedelta(minutes=wall_min)).astimezone(self._info).date()

    def spans(self, hours: Hours, days_off: Iterable[date] = ()) -> Spans:
        """When these hours are open from the planning moment on, breaks and days off cut out.

        The evening before the first day counts where its hours run past midnight.
        """
        return self.from_now_on(self.spans_since_yesterday(hours, days_off))

    def spans_since_yesterday(self, hours: Hours, days_off: Iterable[date] = ()) -> Spans:
        """The same from the day before the first one on: what is over by the planning moment has minutes below 0."""
        off = set(days_off)
        opened: list[Span] = []
        shut: list[Span] = []
        for day in (self.first - timedelta(days=1), *self.all):
            if day in off:
                continue
            for one in hours:
                if day.weekday() in one.weekdays:
                    opened.append((self.at(day, one.from_min), self.at(day, one.to_min)))
                    shut.extend((self.at(day, start), self.at(day, end)) for start, end in one.breaks)
        return subtract(union(opened), union(shut))

    @staticmethod
    def from_now_on(spans: Spans) -> Spans:
        """What lies at or after the planning moment."""
        return tuple((max(0, start), end) for start, end in spans if end > 0)

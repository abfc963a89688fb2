"""The shop axis: the only place where wall time and shop minutes are turned into each other.

Two whole-minute axes count from the planning moment:

- wall minutes: elapsed minutes (taken in UTC, so clock changes cost or give nothing);
- shop minutes ("tau"): only the minutes in which anything is open or offered as overtime. The rest is cut out.

A cut has one place on the shop axis but two wall times: work that ends there ends before the cut, work that starts
there starts after it. Hence `wall_at_end` and `wall_at_start`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

from scheduler.domain.pickled import OwnFieldsOnly


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """An unbroken piece of the shop axis: wall minutes [wall_start_min, wall_end_min)."""

    wall_start_min: int
    wall_end_min: int


@dataclass(frozen=True, kw_only=True)
class ShopClock(OwnFieldsOnly):
    """Turns wall minutes into shop minutes and back.

    stretches are sorted and lie apart (touching ones are merged by whoever builds them); none is empty.
    """

    zone: str
    now: datetime
    stretches: tuple[Stretch, ...]

    def __post_init__(self) -> None:
        """Refuse a clock that could not be read."""
        if self.now.tzinfo is None:
            raise ValueError("the planning moment needs a time zone")
        if not self.stretches:
            raise ValueError("a shop axis needs at least one open stretch")
        last = -1
        for stretch in self.stretches:
            if stretch.wall_start_min <= last or stretch.wall_end_min <= stretch.wall_start_min:
                raise ValueError("stretches must be sorted, apart and not empty")
            last = stretch.wall_end_min

    @cached_property
    def _starts(self) -> list[int]:
        return [stretch.wall_start_min for stretch in self.stretches]

    @cached_property
    def cuts_tau(self) -> tuple[int, ...]:
        """Shop minute at which each stretch starts; the first is 0."""
        taus = [0]
        for stretch in self.stretches[:-1]:
            taus.append(taus[-1] + stretch.wall_end_min - stretch.wall_start_min)
        return tuple(taus)

    @cached_property
    def horizon_tau(self) -> int:
        """Shop minutes on the whole axis."""
        last = self.stretches[-1]
        return self.cuts_tau[-1] + last.wall_end_min - last.wall_start_min

    def tau(self, wall_min: int) -> int:
        """Shop minute of a wall minute; a wall minute inside a cut maps to the cut's place. Clamped to the axis."""
        index = bisect_right(self._starts, wall_min) - 1
        if index < 0:
            return 0
        stretch = self.stretches[index]
        return self.cuts_tau[index] + min(wall_min, stretch.wall_end_min) - stretch.wall_start_min

    def wall_at_start(self, tau: int) -> int:
        """Wall minute at which work that starts at this shop minute starts (after the cut, if it stands on one)."""
        index = max(0, bisect_right(self.cuts_tau, tau) - 1)
        return self.stretches[index].wall_start_min + tau - self.cuts_tau[index]

    def wall_at_end(self, tau: int) -> int:
        """Wall minute at which work that ends at this shop minute ends (before the cut, if it stands on one)."""
        index = max(0, bisect_left(self.cuts_tau, tau) - 1)
        return self.stretches[index].wall_start_min + tau - self.cuts_tau[index]

    def tau_after(self, end_tau: int, elapsed_min: int) -> int:
        """Shop minute reached when `elapsed_min` wall minutes have gone by after work that ended at `end_tau`."""
        return self.tau(self.wall_at_end(end_tau) + elapsed_min)

    def wall_of(self, moment: datetime) -> int:
        """Wall minutes from the planning moment to `moment` (negative before it), rounded down."""
        return int((moment.astimezone(UTC) - self.now.astimezone(UTC)).total_seconds() // 60)

    def tau_of(self, moment: datetime) -> int:
        """Shop minute of a moment; clamped to the axis."""
        return self.tau(self.wall_of(moment))

    def moment(self, wall_min: int) -> datetime:
        """Local time of a wall minute."""
        return (self.now.astimezone(UTC) + timedelta(minutes=wall_min)).astimezone(ZoneInfo(self.zone))

    def starts_at(self, tau: int) -> datetime:
        """Local time at which work that starts at this shop minute starts."""
        return self.moment(self.wall_at_start(tau))

    def ends_at(self, tau: int) -> datetime:
        """Local time at which work that ends at this shop minute ends."""
        return self.moment(self.wall_at_end(tau))

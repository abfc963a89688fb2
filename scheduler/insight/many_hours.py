"""Open hours for many replays at once: the same counting as one by one, over whole rows of minutes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.domain.calendars import Calendar
from scheduler.domain.clock import ShopClock
from scheduler.domain.plan import Plan
from scheduler.review.hours import open_windows

Minutes = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class ManyHours:
    """Open windows of one place as arrays. Past its last window a place counts as open without end: what is so late is
    later than any pick-up of the week all the same.
    """

    starts: Minutes
    ends: Minutes
    opened: Minutes
    total: int

    def start(self, tau: Minutes) -> Minutes:
        """The first open minute at or after each minute."""
        return self._minute(self._index(tau))

    def end(self, tau: Minutes, work_min: Minutes) -> Minutes:
        """When work that starts at the open minutes `tau` is through; where it takes no time, at once."""
        index = self._index(tau) + work_min
        if not len(self.starts):
            return tau + work_min
        window = np.clip(np.searchsorted(self.opened, index, side="left") - 1, 0, len(self.starts) - 1)
        return np.where(work_min > 0, self.starts[window] + index - self.opened[window], tau)

    def _index(self, tau: Minutes) -> Minutes:
        """Open minutes before each minute; past the last window every minute counts."""
        if not len(self.starts):
            return tau
        window = np.searchsorted(self.starts, tau, side="right") - 1
        at = np.clip(window, 0, None)
        inside = self.opened[at] + np.minimum(tau, self.ends[at]) - self.starts[at]
        inside = np.where(tau > self.ends[-1], self.total + tau - self.ends[-1], inside)
        return np.where(window < 0, 0, inside)

    def _minute(self, index: Minutes) -> Minutes:
        if not len(self.starts):
            return index
        window = np.searchsorted(self.opened, index, side="right") - 1
        return self.starts[window] + index - self.opened[window]


def many_hours(calendar: Calendar, plan: Plan) -> ManyHours:
    """The hours of a calendar and the overtime the plan buys."""
    windows = [window for window in open_windows(calendar, plan) if window.end_tau > window.start_tau]
    lengths = np.array([window.end_tau - window.start_tau for window in windows], dtype=np.int64)
    return ManyHours(
        starts=np.array([window.start_tau for window in windows], dtype=np.int64),
        ends=np.array([window.end_tau for window in windows], dtype=np.int64),
        opened=np.concatenate([[0], np.cumsum(lengths)[:-1]]).astype(np.int64) if windows else lengths,
        total=int(lengths.sum()),
    )


@dataclass(frozen=True, slots=True, eq=False)
class ManyClock:
    """Wall time on the shop axis for many minutes at once."""

    cuts_tau: Minutes
    walls: Minutes
    wall_ends: Minutes

    def after(self, end_tau: Minutes, wall_min: int) -> Minutes:
        """Shop minutes at which so many wall minutes have gone by after work that ended at `end_tau`."""
        at = np.clip(np.searchsorted(self.cuts_tau, end_tau, side="left") - 1, 0, None)
        wall = self.walls[at] + end_tau - self.cuts_tau[at] + wall_min
        return self._tau(wall)

    def later(self, tau: int, days: Minutes) -> Minutes:
        """A shop minute so many wall days later."""
        at = max(int(np.searchsorted(self.cuts_tau, tau, side="right")) - 1, 0)
        wall = self.walls[at] + tau - self.cuts_tau[at] + days * (24 * 60)
        return np.where(days > 0, self._tau(wall), tau)

    def _tau(self, wall: Minutes) -> Minutes:
        at = np.clip(np.searchsorted(self.walls, wall, side="right") - 1, 0, None)
        last = len(self.walls) - 1
        over = np.where(at == last, np.maximum(wall - self.wall_ends[last], 0), 0)
        return self.cuts_tau[at] + np.minimum(wall, self.wall_ends[at]) - self.walls[at] + over


def many_clock(clock: ShopClock) -> ManyClock:
    """The clock's stretches as arrays."""
    return ManyClock(
        cuts_tau=np.array(clock.cuts_tau, dtype=np.int64),
        walls=np.array([stretch.wall_start_min for stretch in clock.stretches], dtype=np.int64),
        wall_ends=np.array([stretch.wall_end_min for stretch in clock.stretches], dtype=np.int64),
    )

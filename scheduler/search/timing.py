"""When paused work ends: a resource's open minutes, counted one by one, and back to shop minutes.

Two counts are in use here. `_tau` is a shop minute. `index` counts only the minutes in which the resource is open:
minute number 0 is its first open minute. Work without restarts from index c takes exactly [c, c + work).
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from typing import NamedTuple

from scheduler.domain.calendars import Calendar, Restart
from scheduler.domain.clock import ShopClock

NEVER = 1 << 40
"""An index or a shop minute past every axis."""


class Rinsed(NamedTuple):
    """When a print whose inks dry is through, and the stops it is rinsed out for.

    start_from: -1, or the first index at which a start may help where a window is too short to rinse out in.
    """

    end_index: int
    stops: int
    start_from: int


@dataclass(frozen=True, slots=True)
class Hours:
    """Open windows of one resource as parallel tuples.

    opened[i] is the number of open minutes before window i. stops: wall minutes closed before each window. restarts:
    minutes it costs a print to go on in window i after that stop.
    """

    starts: tuple[int, ...]
    ends: tuple[int, ...]
    opened: tuple[int, ...]
    stops: tuple[int, ...]
    restarts: tuple[int, ...]
    total: int

    def index_from(self, tau: int) -> int:
        """Index of the first open minute at or after `tau`; `total` if there is none."""
        i = bisect_right(self.starts, tau) - 1
        if i < 0:
            return 0
        end = self.ends[i]
        return self.opened[i] + (tau if tau < end else end) - self.starts[i]

    def minute(self, index: int) -> int:
        """Shop minute of an open minute: where work that starts with it starts. Needs 0 <= index < total."""
        i = bisect_right(self.opened, index) - 1
        return self.starts[i] + index - self.opened[i]

    def end(self, index: int) -> int:
        """Shop minute at which work ends that has used the open minutes before `index`. Needs 0 < index <= total."""
        i = bisect_left(self.opened, index) - 1
        return self.starts[i] + index - self.opened[i]

    def is_open(self, tau: int) -> bool:
        """True if work may start at `tau`."""
        i = bisect_right(self.starts, tau) - 1
        return i >= 0 and tau < self.ends[i]

    def print_end(self, index: int, work_min: int) -> int:
        """Index at which a print that starts at open minute `index` is through, restarts after stops included.

        NEVER if the hours do not suffice.
        """
        if index >= self.total:
            return NEVER
        i = bisect_right(self.opened, index) - 1
        opened, restarts = self.opened, self.restarts
        last = len(opened) - 1
        left_min = work_min
        while True:
            window_end = opened[i + 1] if i < last else self.total
            room_min = window_end - index
            if left_min <= room_min:
                return index + left_min
            if i == last:
                return NEVER
            left_min -= room_min
            i += 1
            index = window_end
            left_min += restarts[i]

    def rinsed_print_end(self, index: int, work_min: int, idle_ok_min: int, rinse_min: int, ink_min: int) -> Rinsed:
        """As `print_end`, for inks that are rinsed out before each stop longer than `idle_ok_min` and loaded after it.

        The window before such a stop must hold the rinsing, else the print cannot start here.
        """
        if index >= self.total:
            return Rinsed(NEVER, 0, -1)
        first = at = bisect_right(self.opened, index) - 1
        last, left_min, stops = len(self.opened) - 1, work_min, 0
        while True:
            window_end = self.opened[at + 1] if at < last else self.total
            room_min = window_end - index
            if left_min <= room_min:
                return Rinsed(index + left_min, stops, -1)
            if at == last:
                return Rinsed(NEVER, stops, -1)
            if self.stops[at + 1] > idle_ok_min:
                if room_min < rinse_min:
                    return Rinsed(NEVER, stops, window_end if at == first else self.opened[at])
                left_min += rinse_min + ink_min
                stops += 1
            at += 1
            index = window_end
            left_min += self.restarts[at] - room_min

    def after_long_stop(self, index: int, end_index: int, idle_ok_min: int) -> int:
        """Index just after the first stop longer than `idle_ok_min` inside the work [index, end_index); -1 if none."""
        i = bisect_right(self.opened, index)
        opened, stops = self.opened, self.stops
        while i < len(opened) and opened[i] < end_index:
            if stops[i] > idle_ok_min:
                return opened[i]
            i += 1
        return -1

    def pieces(self, index: int, end_index: int) -> list[tuple[int, int]]:
        """Shop minutes [from, to) in which the work [index, end_index) goes on, pauses left out."""
        i = bisect_right(self.opened, index) - 1
        opened, starts = self.opened, self.starts
        found: list[tuple[int, int]] = []
        while index < end_index:
            window_end = opened[i] + self.ends[i] - starts[i]
            stop = end_index if end_index < window_end else window_end
            offset = starts[i] - opened[i]
            found.append((index + offset, stop + offset))
            index = stop
            i += 1
        return found


def open_hours(calendar: Calendar, bought: frozenset[str], restart: Restart | None = None) -> Hours:
    """The hours of a calendar with the bought overtime, ready for counting."""
    windows = calendar.with_bought(bought).windows
    opened: list[int] = []
    total = 0
    for window in windows:
        opened.append(total)
        total += window.end_tau - window.start_tau
    stops = tuple(window.stop_before_min for window in windows)
    return Hours(
        starts=tuple(window.start_tau for window in windows),
        ends=tuple(window.end_tau for window in windows),
        opened=tuple(opened),
        stops=stops,
        restarts=tuple(restart.after(stop) if restart else 0 for stop in stops),
        total=total,
    )


def advance(hours: Hours, start_tau: int, work_min: int, *, is_print: bool = False) -> int:
    """Shop minute at which work started at the open minute `start_tau` ends; NEVER if the hours do not suffice.

    A print also spends its restart minutes after every stop. Work of 0 minutes ends where it starts.
    """
    if work_min == 0:
        return start_tau
    index = hours.index_from(start_tau)
    end_index = hours.print_end(index, work_min) if is_print else index + work_min
    return hours.end(end_index) if end_index <= hours.total else NEVER


def first_print(hours: Hours, prints: Hours, ready_index: int) -> int:
    """First minute of print of a run set up by the press's open minute `ready_index`; `NEVER` if there is none."""
    return prints.index_from(hours.minute(ready_index)) if ready_index < hours.total else NEVER


def set_up_by(hours: Hours, prints: Hours, print_from_tau: int) -> int:
    """The press's first open minute at which a run may be set up without printing before `print_from_tau`."""
    if prints is hours:
        return hours.index_from(print_from_tau)
    index = prints.index_from(print_from_tau)
    return hours.index_from(prints.end(index)) if index else 0


@dataclass(frozen=True, slots=True)
class Drying:
    """Wall time on the shop axis, for screens that dry while nobody is there."""

    cuts_tau: tuple[int, ...]
    walls: tuple[int, ...]
    wall_ends: tuple[int, ...]

    def dry_tau(self, end_tau: int, dry_min: int) -> int:
        """Shop minute at which `dry_min` wall minutes have gone by after work that ended at `end_tau`."""
        cuts = self.cuts_tau
        i = bisect_left(cuts, end_tau) - 1
        i = max(i, 0)
        wall = self.walls[i] + end_tau - cuts[i] + dry_min
        last = len(cuts) - 1
        while i < last and self.walls[i + 1] <= wall:
            i += 1
        end = self.wall_ends[i]
        return cuts[i] + (wall if wall < end else end) - self.walls[i]


def drying(clock: ShopClock) -> Drying:
    """The clock's stretches as plain numbers."""
    return Drying(
        cuts_tau=clock.cuts_tau,
        walls=tuple(stretch.wall_start_min for stretch in clock.stretches),
        wall_ends=tuple(stretch.wall_end_min for stretch in clock.stretches),
    )

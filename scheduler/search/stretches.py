"""The week cut into a few stretches, and the open minutes of a press in any of them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from scheduler.domain.calendars import Calendar
from scheduler.search.timing import NEVER, Hours, open_hours

CROWDED = 2.0
"""The week is cut until all promises are due and the presses could have done all work so many times over."""


@dataclass(frozen=True, slots=True)
class Capacity:
    """Open minutes of one resource: normal ones, and those of each block of overtime."""

    hours: Hours
    blocks: dict[str, tuple[tuple[int, int], ...]]

    def normal(self, from_tau: int, to_tau: int) -> int:
        """Normal open minutes in [from, to)."""
        return max(0, self.hours.index_from(to_tau) - self.hours.index_from(from_tau))

    def overtime(self, block_id: str, from_tau: int, to_tau: int) -> int:
        """Minutes that a block adds in [from, to)."""
        return sum(max(0, min(b, to_tau) - max(a, from_tau)) for a, b in self.blocks.get(block_id, ()))

    def most(self, from_tau: int, to_tau: int) -> int:
        """Open minutes in [from, to) with all overtime."""
        return self.normal(from_tau, to_tau) + sum(
            self.overtime(block_id, from_tau, to_tau) for block_id in self.blocks
        )


def capacity_of(calendar: Calendar) -> Capacity:
    """The open minutes of a calendar."""
    blocks: dict[str, list[tuple[int, int]]] = {}
    for window in calendar.windows:
        if window.overtime_id is not None:
            blocks.setdefault(window.overtime_id, []).append((window.start_tau, window.end_tau))
    return Capacity(open_hours(calendar, frozenset()), {block: tuple(spans) for block, spans in blocks.items()})


@dataclass(frozen=True, slots=True)
class Stretches:
    """Stretch i reaches from cut i - 1 (or the start) to cut i; the last cut is the end of the axis."""

    cuts_tau: tuple[int, ...]

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.cuts_tau)

    def from_tau(self, at: int) -> int:
        """Where a stretch starts."""
        return self.cuts_tau[at - 1] if at else 0

    def to_tau(self, at: int) -> int:
        """Where a stretch ends."""
        return self.cuts_tau[at]

    def index(self, tau: int) -> int:
        """The stretch by whose end everything done by `tau` is done."""
        return min(self.count - 1, bisect_left(self.cuts_tau, tau))


def cut_week(moments: Collection[int], horizon_tau: int, most: int) -> Stretches:
    """At most so many stretches, cut at the last moment of each crowd of moments; the widest gaps part the crowds."""
    known = sorted({tau for tau in moments if 0 < tau < horizon_tau})
    gaps = sorted(range(1, len(known)), key=lambda i: known[i - 1] - known[i])
    ends = sorted(gaps[: most - 2])
    cuts = [known[i - 1] for i in ends] + known[-1:]
    return Stretches((*cuts, horizon_tau))


def crowded_until(hours: Sequence[Capacity], work_min: int, horizon_tau: int) -> int:
    """First moment by which presses with these hours could have done the work of `work_min` minutes `CROWDED` times."""
    low, high = 0, horizon_tau
    while low < high:
        middle = (low + high) // 2
        if sum(one.normal(0, middle) for one in hours) >= CROWDED * work_min:
            high = middle
        else:
            low = middle + 1
    return low


def least_print_min(hours: Hours, work_min: int) -> int:
    """Open minutes that a print takes at the best of times, restarts after the stops it cannot but span included.

    Whoever starts elsewhere spans no fewer stops than from the opening before. With more overtime, stops only shrink.
    """
    takes = [hours.print_end(index, work_min) - index for index in hours.opened]
    return max(work_min, min(takes, default=work_min)) if min(takes, default=NEVER) < NEVER // 2 else work_min

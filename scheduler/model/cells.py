"""A calendar cut into cells: where work may start and end, and which stops lie between.

Cells are the windows of a calendar, neighbours joined wherever nothing happens between them. Overtime on offer stays a
cell of its own; the stop between two cells holds on condition that they are open and nothing between them is bought.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

from scheduler.domain.calendars import Calendar, Window


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Shop minutes [start_tau, end_tau), open always or once `block_id` is bought."""

    start_tau: int
    end_tau: int
    block_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """Closed shop minutes [from_tau, to_tau) between two cells, `stop_min` wall minutes long.

    The stop is there if every block of `bought` is bought and none of `unbought`; else another one is in its place.
    """

    from_tau: int
    to_tau: int
    stop_min: int
    bought: frozenset[str] = frozenset()
    unbought: frozenset[str] = frozenset()

    @property
    def gap_min(self) -> int:
        """Shop minutes for which work pauses here; 0 where the whole shop is closed."""
        return self.to_tau - self.from_tau

    @property
    def is_certain(self) -> bool:
        """True if no overtime on offer changes it."""
        return not self.bought and not self.unbought


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCells:
    """Cells of one calendar in order, and every stop between two of them that costs minutes or may not be spanned."""

    cells: tuple[Cell, ...]
    stops: tuple[Stop, ...]


def open_cells(
    calendar: Calendar,
    *,
    matters: Callable[[int], bool],
    offered: Collection[str] = (),
    bought: Collection[str] = (),
    split_at: Collection[int] = (),
) -> OpenCells:
    """Cut a calendar into cells.

    matters: tells whether a stop of so many wall minutes means something to the work although the shop axis does not
    show it (a restart, ink that dries). offered: overtime still to be decided; bought: overtime that counts as open;
    all other overtime is closed. split_at: shop minutes at which a cell is to be cut though nothing stops there.
    """
    windows = _split(_joined(_settled(calendar, offered, bought), matters), split_at)
    cells = tuple(Cell(start_tau=w.start_tau, end_tau=w.end_tau, block_id=w.overtime_id) for w in windows)
    stops = [stop for after in range(1, len(windows)) for stop in _stops_before(windows, after)]
    return OpenCells(
        cells=cells, stops=tuple(stop for stop in stops if stop.gap_min or (stop.stop_min and matters(stop.stop_min)))
    )


def always_open(horizon_tau: int, split_at: Collection[int] = ()) -> OpenCells:
    """The whole axis as one calendar, for what takes no time and so needs no open minute."""
    whole = Window(start_tau=0, end_tau=horizon_tau + 1, stop_before_min=0)
    cells = tuple(Cell(start_tau=w.start_tau, end_tau=w.end_tau) for w in _split([whole], split_at))
    return OpenCells(cells=cells, stops=())


def _settled(calendar: Calendar, offered: Collection[str], bought: Collection[str]) -> list[Window]:
    """Leave out the overtime that is not to be had; its length goes into the stop before the next window."""
    kept: list[Window] = []
    carried_min = 0
    for window in calendar.windows:
        stop_min = window.stop_before_min + carried_min
        block_id = window.overtime_id
        if block_id is not None and block_id not in offered and block_id not in bought:
            carried_min = stop_min + window.end_tau - window.start_tau
            continue
        carried_min = 0
        kept.append(replace(window, stop_before_min=stop_min, overtime_id=None if block_id in bought else block_id))
    return kept


def _joined(windows: list[Window], matters: Callable[[int], bool]) -> list[Window]:
    """Join neighbours that are always open, wherever the stop between them changes nothing."""
    kept: list[Window] = []
    for window in windows:
        last = kept[-1] if kept else None
        if last is not None and last.overtime_id is None and window.overtime_id is None:
            stop_min = window.stop_before_min
            is_touching = last.end_tau == window.start_tau
            if stop_min == 0 or (is_touching and not matters(stop_min)):
                kept[-1] = replace(last, end_tau=window.end_tau)
                continue
        kept.append(window)
    return kept


def _split(windows: list[Window], split_at: Collection[int]) -> list[Window]:
    pieces: list[Window] = []
    for window in windows:
        inside = sorted({tau for tau in split_at if window.start_tau < tau < window.end_tau})
        starts = [window.start_tau, *inside]
        ends = [*inside, window.end_tau]
        for number, (start, end) in enumerate(zip(starts, ends, strict=True)):
            stop_min = window.stop_before_min if number == 0 else 0
            pieces.append(replace(window, start_tau=start, end_tau=end, stop_before_min=stop_min))
    return pieces


def _stops_before(windows: list[Window], after: int) -> list[Stop]:
    """Every stop that can end where window `after` opens: one per window that can be the last open one before it."""
    found: list[Stop] = []
    stop_min = windows[after].stop_before_min
    unbought: set[str] = set()
    for before in range(after - 1, -1, -1):
        ends = {windows[before].overtime_id, windows[after].overtime_id} - {None}
        bought = frozenset(block_id for block_id in ends if block_id is not None)
        if not bought & unbought:
            found.append(
                Stop(
                    from_tau=windows[before].end_tau,
                    to_tau=windows[after].start_tau,
                    stop_min=stop_min,
                    bought=bought,
                    unbought=frozenset(unbought),
                )
            )
        block_id = windows[before].overtime_id
        if block_id is None:
            break
        unbought.add(block_id)
        stop_min += windows[before].end_tau - windows[before].start_tau + windows[before].stop_before_min
    return found

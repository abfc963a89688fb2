"""When something is open, on the shop axis, with overtime as windows that count only once bought."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

LONG_STOP_MIN = 240
"""Wall minutes from which a stop counts as a night (test print again), not a break. Common practice, no source."""

ALWAYS_CLOSED_BEFORE_MIN = 1_000_000
"""`stop_before_min` of a calendar's first window: nothing can span it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Shop minutes [start_tau, end_tau) in which the resource is open.

    overtime_id: None for normal hours, else the block that must be bought for the window to count.
    stop_before_min: wall minutes for which the resource stood closed just before (0: it goes straight on from the
    window before, e.g. evening overtime after the day).
    """

    start_tau: int
    end_tau: int
    stop_before_min: int
    overtime_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFree:
    """Room kept free on a press for reprints and rushes, left out of its calendar. overtime_id: the block that opens
    it when bought.
    """

    start_tau: int
    end_tau: int
    overtime_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Restart:
    """Extra minutes at the press when printing goes on after a stop: `break_min`, or `night_min` after a long one."""

    break_min: int = 0
    night_min: int = 0

    def after(self, stop_min: int) -> int:
        """Restart minutes after a stop of `stop_min` wall minutes; a stop of 0 is no stop."""
        if stop_min <= 0:
            return 0
        return self.night_min if stop_min >= LONG_STOP_MIN else self.break_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """Sorted windows that do not overlap."""

    windows: tuple[Window, ...]

    def __post_init__(self) -> None:
        """Refuse windows out of order."""
        last = -1
        for window in self.windows:
            if window.start_tau < last or window.end_tau <= window.start_tau:
                raise ValueError("windows must be sorted, apart and not empty")
            last = window.end_tau

    def with_bought(self, bought: Collection[str]) -> Calendar:
        """Normal hours and bought overtime only.

        An unbought block becomes part of the stop before the next window; windows that then touch (stop 0) are merged.
        """
        kept: list[Window] = []
        carried_min = 0
        for window in self.windows:
            stop_min = window.stop_before_min + carried_min
            if window.overtime_id is not None and window.overtime_id not in bought:
                carried_min = stop_min + window.end_tau - window.start_tau
                continue
            carried_min = 0
            if kept and stop_min == 0:
                kept[-1] = replace(kept[-1], end_tau=window.end_tau)
            else:
                kept.append(replace(window, stop_before_min=stop_min, overtime_id=None))
        return Calendar(windows=tuple(kept))

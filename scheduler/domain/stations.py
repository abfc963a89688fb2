"""Work on an order away from the presses: at a station of the shop (embroidery, heat press), or sent out for days."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.calendars import Calendar


@dataclass(frozen=True, slots=True, kw_only=True)
class StationLine:
    """A station as the plan sees it. units: orders at once; None for work sent out, which has no limit and no hours."""

    station_id: str
    name: str
    calendar: Calendar
    crew: tuple[tuple[str, int], ...] = ()
    units: int | None = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class StationStep:
    """One visit of an order to a station, before its prints or after them.

    work_min: worked on the station's calendar. returns, for work sent out: (from, until, back) in shop minutes; what
    leaves in [from, until) is back at `back`.
    """

    station_id: str
    is_before: bool
    work_min: int = 0
    returns: tuple[tuple[int, int, int], ...] = ()

    @property
    def is_sent_out(self) -> bool:
        """True for work sent out for days."""
        return not self.work_min

    def back_tau(self, leaves_tau: int) -> int | None:
        """Shop minute at which what is sent out at `leaves_tau` is back; None if that is past the planned days."""
        return next((back for first, until, back in self.returns if first <= leaves_tau < until), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStep:
    """When an order is at a station: [start, end)."""

    station_id: str
    start_tau: int
    end_tau: int

"""Work beside the presses: which stations the week's orders go to, for how long, and what is back when."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from scheduler.domain.calendars import Calendar
from scheduler.domain.orders import Order, Visit
from scheduler.domain.shop import OUTWORK, Station
from scheduler.domain.stations import StationLine, StationStep
from scheduler.trade.rounding import up
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis
from scheduler.workload.room_for import all_bought, end_of_work
from scheduler.workload.spans import DAY_MIN, intersect

Returns = tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, kw_only=True)
class Stations:
    """Works out visits. calendars: of every station of the shop that has hours, by name."""

    axis: Axis
    calendars: Mapping[str, Calendar]
    notes: Notes

    def steps(self, order: Order, pieces: int, *, has_started: bool) -> tuple[StationStep, ...]:
        """An order's visits one after the other. What comes before its prints is done once one of them has started."""
        if has_started and order.before:
            text = "work before printing taken as done: printing has started"
            self.notes.add("before_done", text, "orders", where=order.order_id)
        before = () if has_started else order.before
        return (
            *(self._step(visit, pieces, is_before=True) for visit in before),
            *(self._step(visit, pieces, is_before=False) for visit in order.after),
        )

    def lines(self, steps: Iterable[StationStep]) -> tuple[StationLine, ...]:
        """The stations these visits need, in the order of the shop's list."""
        used = {step.station_id for step in steps}
        return tuple(self._line(one) for one in self._known.values() if one.name in used)

    def ready_tau(self, steps: Iterable[StationStep], from_tau: int) -> int | None:
        """Earliest end of visits one after the other, each as if it were alone; None if the hours run out."""
        tau: int | None = from_tau
        for step in steps:
            if tau is not None:
                tau = self._end_tau(step, tau)
        return tau

    def _end_tau(self, step: StationStep, from_tau: int) -> int | None:
        if step.is_sent_out:
            return step.back_tau(from_tau)
        return end_of_work(all_bought(self.calendars[step.station_id]), from_tau, step.work_min)

    @cached_property
    def _known(self) -> dict[str, Station]:
        listed = {one.name: one for one in self.axis.shop.stations}
        return listed if OUTWORK in listed else {**listed, OUTWORK: Station(name=OUTWORK)}

    def _step(self, visit: Visit, pieces: int, *, is_before: bool) -> StationStep:
        station = self._known[visit.station]
        days = visit.days if visit.days is not None else station.days
        if station.pcs_h is not None:
            return StationStep(
                station_id=station.name, is_before=is_before, work_min=max(1, up(pieces * 60 / station.pcs_h))
            )
        if station.each_s is not None:
            return StationStep(
                station_id=station.name, is_before=is_before, work_min=max(1, up(pieces * station.each_s / 60))
            )
        return StationStep(station_id=station.name, is_before=is_before, returns=self._returns(days or 1))

    def _line(self, station: Station) -> StationLine:
        is_sent_out = station.pcs_h is None and station.each_s is None
        return StationLine(
            station_id=station.name,
            name=station.name,
            calendar=Calendar(windows=()) if is_sent_out else self.calendars[station.name],
            crew=() if is_sent_out else station.crew,
            units=None if is_sent_out else station.at_once,
        )

    def _returns(self, days: int) -> Returns:
        """When what is sent out on each day is back: at the shop's closing `days` working days later.

        The day it leaves does not count, nor does a day on which the shop is closed. What leaves on a day off counts as
        having left on the working day before. Nothing can leave that would come back after the last planned day.
        """
        axis, clock = self.axis, self.axis.clock
        closing: list[tuple[int, int]] = []
        for day in axis.days.all:
            start = axis.days.at(day, 0)
            opened = intersect(axis.shop_times.normal, ((start, axis.days.at(day, DAY_MIN)),))
            if opened:
                closing.append((clock.tau(start) if closing else 0, clock.tau(opened[-1][1])))
        firsts = [first for first, _ in closing]
        found = []
        for number, (first, until) in enumerate(zip(firsts, [*firsts[1:], clock.horizon_tau + 1], strict=True)):
            if number + days < len(closing) and first < until:
                found.append((first, until, closing[number + days][1]))
        return tuple(found)


@dataclass(frozen=True, kw_only=True)
class Visits:
    """Which order goes where. arrives_tau: when the last garments of an order are there."""

    stations: Stations
    steps: Mapping[str, tuple[StationStep, ...]]
    arrives_tau: Mapping[str, int]

    def staged_from_tau(self, order_id: str) -> int | None:
        """Earliest minute at which an order's runs may be staged, what comes before them done; None if never."""
        before = [step for step in self.steps.get(order_id, ()) if step.is_before]
        return self.stations.ready_tau(before, self.arrives_tau.get(order_id, 0)) if before else 0

    def why_not(self, order_id: str, from_tau: int) -> str | None:
        """Why an order's visits do not fit the planned hours, its prints over at `from_tau` at the earliest."""
        if self.staged_from_tau(order_id) is None:
            return f"{self._named(order_id, is_before=True)} before printing is not over within the planned hours"
        after = [step for step in self.steps.get(order_id, ()) if not step.is_before]
        if after and self.stations.ready_tau(after, from_tau) is None:
            return f"{self._named(order_id, is_before=False)} after printing is not over within the planned hours"
        return None

    def _named(self, order_id: str, *, is_before: bool) -> str:
        return " and ".join(step.station_id for step in self.steps[order_id] if step.is_before is is_before)

"""What of a week is still to be decided: all of it, or a few runs beside a plan that stays."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.domain.calendars import Calendar
from scheduler.domain.plan import Burn, Plan, PlannedRun
from scheduler.domain.week import PressChoice, Run, Stack, Week


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUp:
    """The queue of one press as far as it is open.

    stands, kept: what is on the press before it. in_order: runs that keep their order among themselves. holes: the
    runs that may go before the first of them, before the second, ..., after the last.
    """

    press_id: str
    stands: Stack
    kept: frozenset[str]
    in_order: tuple[str, ...]
    holes: tuple[frozenset[str], ...]

    @property
    def loose(self) -> tuple[str, ...]:
        """Runs that may go into some hole, or onto another press."""
        return tuple(sorted(frozenset[str]().union(*self.holes)))

    @property
    def runs(self) -> tuple[str, ...]:
        """Every run whose place in this queue is open."""
        return (*self.in_order, *self.loose)

    def pairs(self) -> list[tuple[str | None, str | None]]:
        """Who may stand straight before whom; None is what is on the press before, or the end of the queue."""
        if not self.runs:
            return []
        edges: list[str | None] = [None, *self.in_order, None]
        found: list[tuple[str | None, str | None]] = []
        for hole, before, after in zip(self.holes, edges[:-1], edges[1:], strict=True):
            found.append((before, after))
            for run_id in sorted(hole):
                found += [(before, run_id), (run_id, after)]
        return found + sorted({(one, other) for hole in self.holes for one in hole for other in hole if one != other})


class Scope:
    """Everything is open: each run on any press it fits, at any time, all overtime on offer."""

    def __init__(self, week: Week) -> None:
        """Open the whole week."""
        self.week = week
        self.offered: frozenset[str] = frozenset(block.block_id for block in week.overtime)
        self.bought: frozenset[str] = frozenset()
        self._lines = {press.press_id: self._line_up(press.press_id) for press in week.presses}

    def line_up(self, press_id: str) -> LineUp:
        """The press's queue as far as it is open."""
        return self._lines[press_id]

    def _line_up(self, press_id: str) -> LineUp:
        stands = self.week.press[press_id].now_on
        loose = frozenset(run.run_id for run in self.week.runs if press_id in run.on_press)
        return LineUp(press_id=press_id, stands=stands, kept=frozenset(), in_order=(), holes=(loose,))

    def choices(self, run: Run) -> tuple[PressChoice, ...]:
        """Presses the run may go on."""
        return tuple(choice for choice in run.choices if choice.press_id in self.week.press)

    def span(self, kind: str, owner_id: str) -> tuple[int, int]:
        """Least and greatest value of a time or of set-up minutes; kind e.g. "set_up_start" of a run."""
        return 0, self.week.horizon_tau

    def way(self, run_id: str) -> int | None:
        """How a run is printed whose print is settled; None if that is open."""
        return None

    def kept_inks(self, run_id: str) -> tuple[str, ...] | None:
        """Inks kept beside a run whose set-up is settled; None if that is open."""
        return None

    def uses_in_order(self, set_id: str) -> tuple[str, ...] | None:
        """The order of a set's uses where it is settled, with the set's reclaims; None if both are open."""
        return None

    def reclaim_block(self, run_id: str) -> str | None:
        """The block of the reclaim after a run where that is settled, and there is one."""
        return None


BURN_TIMES: dict[str, Callable[[Burn], int]] = {
    "burn_start": lambda burn: burn.start_tau,
    "burn_end": lambda burn: burn.end_tau,
    "dry": lambda burn: burn.dry_tau,
    "tape_start": lambda burn: burn.tape_start_tau,
    "tape_end": lambda burn: burn.tape_end_tau,
}
RUN_TIMES: dict[str, Callable[[PlannedRun], int]] = {
    "stage_start": lambda one: one.stage_start_tau,
    "stage_end": lambda one: one.stage_end_tau,
    "set_up_start": lambda one: one.set_up_start_tau,
    "set_up_min": lambda one: one.set_up_min,
    "print_start": lambda one: one.print_start_tau,
    "print_end": lambda one: one.print_end_tau,
}
PRINT_TIMES = {"print_start", "print_end"}
VISIT = "visit "
"""Kinds of times of an order's visits to stations start with it; the number of the visit follows."""


class LocalScope(Scope):
    """A few runs are open beside a plan that stays.

    A run that stays keeps its press, its place among those that stay and its print; its set-up (and staging) is settled
    only while nothing open can come before it on its press. A set is open if an open run prints from it, an order if it
    has an open run, an overtime block if nothing settled works in it or pauses over it. What the model finds is a whole
    plan that keeps every rule.
    """

    def __init__(self, week: Week, free: frozenset[str], incumbent: Plan) -> None:
        """Open `free` beside `incumbent`, which plans every run of the week."""
        self._free, self._plan = free, incumbent
        self._sets = {set_id for set_id, uses in week.runs_of_set.items() if free & set(uses)}
        self._settled: set[str] = set()
        super().__init__(week)
        held = frozenset(_blocks_in_use(week, self))
        self.offered -= held
        self.bought = held & frozenset(incumbent.overtime)

    def choices(self, run: Run) -> tuple[PressChoice, ...]:
        """A run that stays keeps its press."""
        offered = super().choices(run)
        if run.run_id in self._free:
            return offered
        return tuple(choice for choice in offered if choice.press_id == self._plan.run[run.run_id].press_id)

    def _line_up(self, press_id: str) -> LineUp:
        open_runs = [run for run in self.week.runs if run.run_id in self._free and press_id in run.on_press]
        staying = [one for one in self._plan.queue.get(press_id, ()) if one.run_id not in self._free]
        ends = [0, *(one.print_end_tau for one in staying)]
        starts = [*(one.print_start_tau for one in staying), self.week.horizon_tau]
        holes = [
            frozenset(run.run_id for run in open_runs if run.on_press[press_id].work_min <= start - end)
            for end, start in zip(ends, starts, strict=True)
        ]
        first = next((number for number, hole in enumerate(holes) if hole), len(staying))
        self._settled.update(one.run_id for one in staying[:first])
        stands, kept = self.week.press[press_id].now_on, frozenset[str]()
        if first:
            last = staying[first - 1]
            stands, kept = self.week.run[last.run_id].on_press[press_id].stack, frozenset(last.kept_inks)
        in_order = tuple(one.run_id for one in staying[first:])
        return LineUp(press_id=press_id, stands=stands, kept=kept, in_order=in_order, holes=tuple(holes[first:]))

    def is_settled(self, run_id: str) -> bool:
        """True for a run that stays with its set-up and staging."""
        return run_id in self._settled

    def span(self, kind: str, owner_id: str) -> tuple[int, int]:
        """What stays has one value."""
        value = self._value(kind, owner_id)
        return (value, value) if value is not None else super().span(kind, owner_id)

    def _value(self, kind: str, owner_id: str) -> int | None:
        if kind.startswith(("packing", VISIT)):
            order = self._plan.order[owner_id]
            if not self._free.isdisjoint(self.week.order[owner_id].run_ids):
                return None
            if kind.startswith(VISIT):
                number, edge = kind.removeprefix(VISIT).split("_")
                return order.stations[int(number)].start_tau if edge == "start" else order.stations[int(number)].end_tau
            return order.finish_start_tau if kind == "packing_start" else order.packed_tau
        planned = self._plan.run[owner_id]
        if kind in BURN_TIMES:
            if self.week.run[owner_id].set_id in self._sets:
                return None
            return BURN_TIMES[kind](planned.burn) if planned.burn is not None else 0
        if kind == "ready":
            return None  # it follows from the set-up
        if owner_id in self._free or not (self.is_settled(owner_id) or kind in PRINT_TIMES):
            return None
        return RUN_TIMES[kind](planned)

    def way(self, run_id: str) -> int | None:
        """A run that stays keeps its print."""
        return None if run_id in self._free else self._plan.run[run_id].way

    def kept_inks(self, run_id: str) -> tuple[str, ...] | None:
        """Inks kept beside a run that stays with its set-up."""
        return self._plan.run[run_id].kept_inks if self.is_settled(run_id) else None

    def uses_in_order(self, set_id: str) -> tuple[str, ...] | None:
        """The order of the uses of a set no open run prints from."""
        if set_id in self._sets:
            return None
        uses = self.week.runs_of_set[set_id]
        return tuple(sorted(uses, key=lambda run_id: self._plan.run[run_id].set_up_start_tau))

    def reclaim_block(self, run_id: str) -> str | None:
        """The block of the reclaim after a run, as planned."""
        return next((one.block_id for one in self._plan.reclaims if one.after_run_id == run_id), None)

    def settled_work(self) -> Iterator[tuple[Calendar, int, int]]:
        """What stays: on which calendar, from when to when."""
        room, staging, finishing = self.week.screen_room, self.week.staging, self.week.finishing
        for one in self._plan.runs:
            if one.run_id in self._free:
                continue
            start = one.set_up_start_tau if self.is_settled(one.run_id) else one.print_start_tau
            press = self.week.press[one.press_id]
            yield press.calendar, start, one.print_end_tau
            if press.print_calendar is not None:
                yield press.print_calendar, start, one.print_end_tau
            if staging is not None and self.is_settled(one.run_id):
                yield staging.calendar, one.stage_start_tau, one.stage_end_tau
        for one in self._plan.runs:
            if room is not None and one.burn is not None and self.week.run[one.run_id].set_id not in self._sets:
                yield room.calendar, one.burn.start_tau, one.burn.end_tau
                yield room.calendar, one.burn.tape_start_tau, one.burn.tape_end_tau
        for done in self._plan.orders:
            if not self._free.isdisjoint(self.week.order[done.order_id].run_ids):
                continue
            if finishing is not None:
                yield finishing.calendar, done.finish_start_tau, done.packed_tau
            for visit in done.stations:
                yield self.week.station[visit.station_id].calendar, visit.start_tau, visit.end_tau


def scope_of(week: Week, free: frozenset[str] | None, incumbent: Plan | None) -> Scope:
    """The whole week, or `free` beside `incumbent`. Raises ValueError for `free` without a plan of the whole week."""
    if free is None:
        return Scope(week)
    if incumbent is None or not incumbent.run.keys() >= week.run.keys():
        raise ValueError("opening a part of a week needs a plan of all its runs")
    return LocalScope(week, free, incumbent)


def _blocks_in_use(week: Week, scope: LocalScope) -> Iterator[str]:
    """Overtime that something settled works in or pauses over: buying or returning it would move that."""
    settled = list(scope.settled_work())
    for calendar in {id(calendar): calendar for calendar, _, _ in settled}.values():
        for window in calendar.windows:
            if window.overtime_id is not None and any(
                start < window.end_tau and end > window.start_tau for other, start, end in settled if other is calendar
            ):
                yield window.overtime_id

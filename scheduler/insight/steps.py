"""The steps of a finished plan: each piece of work and each passing of time, with its name, place and hours."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from scheduler.domain.plan import Burn, Plan, PlannedRun
from scheduler.domain.stations import StationLine
from scheduler.domain.week import Crew, FloorLine, ScreenRoomLine, Week
from scheduler.insight.texts import press_text, run_text
from scheduler.review.hours import Windows, open_min, open_windows, pieces

SCREEN_ROOM, PACKING, STAGING = "screen room", "packing", "staging"


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of work or passing of time [start, end).

    kind: "set-up", "print", "cure", "box", "first pieces", "pack", "stage", "station", "tape", "dry", "burn", "reclaim"
    or "coat". at: which of the order's visits to stations.
    """

    kind: str
    owner_id: str
    place: str
    start_tau: int
    end_tau: int
    words: str
    at: int = -1


class Steps:
    """Steps of one plan, made when asked for."""

    def __init__(self, week: Week, plan: Plan) -> None:
        """Keep both at hand."""
        self.week, self.plan = week, plan
        self._known_hours: dict[tuple[str, str], Windows | None] = {}

    def is_open_between(self, step: Step, from_tau: int, to_tau: int) -> bool:
        """True if the step's place has an open minute in [from, to)."""
        windows = self._hours(step)
        return windows is None or open_min(windows, from_tau, to_tau) > 0

    def closed_since(self, step: Step) -> int:
        """The minute from which on the step's place has no open minute before the step starts; its start where it is
        open up to then, and later than that where every shop minute counts.
        """
        windows = self._hours(step)
        if windows is None:
            return step.start_tau + 1
        return max((min(w.end_tau, step.start_tau) for w in windows if w.start_tau < step.start_tau), default=0)

    def stretches(self, step: Step) -> tuple[tuple[int, int], ...]:
        """The open stretches of a step; from its start to its end where every shop minute counts."""
        windows = self._hours(step)
        if windows is None or step.start_tau == step.end_tau:
            return ((step.start_tau, step.end_tau),)
        return pieces(windows, step.start_tau, step.end_tau)

    def closed_words(self, step: Step) -> str:
        """Why nothing happens at a step's place while it is closed."""
        place = press_text(self.week, step.place) if step.place in self.week.press else step.place
        return f"{place} closed"

    def crew(self, step: Step) -> Crew:
        """Who is needed at once for a step."""
        if step.place in self.week.press:
            press = self.week.press[step.place]
            return press.run_crew if step.kind == "print" else press.set_up_crew
        found = self._line(step)
        return found.crew if found is not None else ()

    def _line(self, step: Step) -> FloorLine | ScreenRoomLine | StationLine | None:
        """Who does a step off the presses, and in which hours; None for what only takes time."""
        week = self.week
        if step.kind == "station":
            return week.station[step.place]
        lines = {"pack": week.finishing, "stage": week.staging, "burn": week.screen_room, "tape": week.screen_room}
        return lines.get(step.kind)

    def _hours(self, step: Step) -> Windows | None:
        """The step's open hours; None where every shop minute counts."""
        asked = (step.kind, step.place)
        if asked not in self._known_hours:
            self._known_hours[asked] = self._read_hours(step)
        return self._known_hours[asked]

    def _read_hours(self, step: Step) -> Windows | None:
        week = self.week
        if step.place in week.press:
            press = week.press[step.place]
            return open_windows(press.prints_in if step.kind == "print" else press.calendar, self.plan)
        found = self._line(step)
        is_sent_out = isinstance(found, StationLine) and found.units is None
        return None if found is None or is_sent_out else open_windows(found.calendar, self.plan)

    @cached_property
    def all_work(self) -> tuple[Step, ...]:
        """Everything that people do."""
        found: list[Step] = []
        for one in self.plan.runs:
            found += [self.print(one), self.set_up(one), self.stage(one)]
            if one.burn is not None:
                found += [self.burn(one), self.tape(one)]
        found += [self.pack(packed.order_id) for packed in self.plan.orders]
        found += [self.visit(packed.order_id, at) for packed in self.plan.orders for at in range(len(packed.stations))]
        return tuple(step for step in found if step.end_tau > step.start_tau)

    def last_cured(self, run_ids: tuple[str, ...]) -> PlannedRun:
        """The run whose pieces are out of the dryer last."""
        return max((self.plan.run[run_id] for run_id in run_ids), key=lambda one: (self.cured_tau(one), one.run_id))

    def cured_tau(self, one: PlannedRun) -> int:
        """When the last piece of a run is out of the dryer."""
        return one.print_end_tau + self.week.run[one.run_id].cure_min

    def reason(self, one: PlannedRun) -> str:
        """What the plan itself says about why the run starts when it does."""
        return one.reason.split(";")[0] or "kept back"

    def burn_of(self, one: PlannedRun) -> Burn:
        """The burn of a run that has one."""
        assert one.burn is not None
        return one.burn

    def name(self, one: PlannedRun) -> str:
        """A run as people call it."""
        return run_text(self.week, one.run_id)

    def print(self, one: PlannedRun) -> Step:
        """Printing a run."""
        words = f"printing {self.name(one)} on {press_text(self.week, one.press_id)}"
        return Step("print", one.run_id, one.press_id, one.print_start_tau, one.print_end_tau, words)

    def set_up(self, one: PlannedRun) -> Step:
        """Setting a run up."""
        words = f"setting up {self.name(one)} on {press_text(self.week, one.press_id)}"
        return Step("set-up", one.run_id, one.press_id, one.set_up_start_tau, one.set_up_end_tau, words)

    def cure(self, one: PlannedRun, until_tau: int | None = None) -> Step:
        """The last pieces in the dryer; with `until_tau`, the rest garments need after it as well."""
        end_tau = self.cured_tau(one) if until_tau is None else until_tau
        words = f"{self.name(one)} through the dryer" if until_tau is None else f"{self.name(one)} curing and resting"
        return Step("cure", one.run_id, "", one.print_end_tau, end_tau, words)

    def stage(self, one: PlannedRun) -> Step:
        """Filling a cart for a run."""
        words = f"filling the cart of {self.name(one)}"
        return Step("stage", one.run_id, STAGING, one.stage_start_tau, one.stage_end_tau, words)

    def burn(self, one: PlannedRun) -> Step:
        """Exposing and washing out."""
        burn = self.burn_of(one)
        words = f"burning the screens of {self.name(one)}"
        return Step("burn", one.run_id, SCREEN_ROOM, burn.start_tau, burn.end_tau, words)

    def dry(self, one: PlannedRun) -> Step:
        """Screens drying."""
        burn = self.burn_of(one)
        words = f"screens of {self.name(one)} drying"
        return Step("dry", one.run_id, SCREEN_ROOM, burn.end_tau, burn.dry_tau, words)

    def tape(self, one: PlannedRun) -> Step:
        """Blocking out and taping."""
        burn = self.burn_of(one)
        words = f"taping the screens of {self.name(one)}"
        return Step("tape", one.run_id, SCREEN_ROOM, burn.tape_start_tau, burn.tape_end_tau, words)

    def visit(self, order_id: str, at: int) -> Step:
        """One visit of an order to a station."""
        visit = self.plan.order[order_id].stations[at]
        words = f"{order_id} at {self.week.station[visit.station_id].name}"
        return Step("station", order_id, visit.station_id, visit.start_tau, visit.end_tau, words, at)

    def pack(self, order_id: str) -> Step:
        """Packing an order."""
        packed = self.plan.order[order_id]
        return Step("pack", order_id, PACKING, packed.finish_start_tau, packed.packed_tau, f"packing {order_id}")

"""What the solver decides about a week, and questions the rules may ask about it.

Every decision lives in one of these containers; `make_variables` fills them. Times are shop minutes. Something that
does not happen (a burn that is not needed) has all its times at 0.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, TypeVar

from ortools.sat.python import cp_model

from scheduler.domain.stations import StationStep
from scheduler.domain.week import (
    AnnouncedRun,
    CoatWindow,
    Crew,
    OrderDue,
    PressChoice,
    PressLine,
    ReclaimBlock,
    Run,
    ScreenSet,
)
from scheduler.model.cells import Cell, OpenCells, Stop

T = TypeVar("T")
Expr = cp_model.LinearExpr | int
"""A whole number the solver knows: a variable, a sum, or a plain int."""

Literal = cp_model.BoolVarT
"""Something that is true or false."""


def total(parts: Iterable[Expr]) -> Expr:
    """Sum of any number of expressions; 0 for none."""
    listed = list(parts)
    if all(isinstance(part, int) for part in listed):
        return sum(part for part in listed if isinstance(part, int))
    added: cp_model.LinearExpr = cp_model.LinearExpr.sum(listed)
    return added


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spot:
    """A cell something may start or end in, the minutes of it that are possible, and whether it does."""

    cell: Cell
    first_tau: int
    last_tau: int
    literal: Literal


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """When something starts or ends, told by the cell: exactly one spot is true if it happens, none if it does not."""

    spots: tuple[Spot, ...]

    def by(self, tau: int) -> Expr:
        """1 if it lies in a cell that is over at `tau` (a cell edge), else 0."""
        return total(spot.literal for spot in self.spots if spot.cell.end_tau <= tau)

    def inside(self, cell: Cell) -> Literal | None:
        """Whether it lies in this cell; None if it cannot."""
        return next((spot.literal for spot in self.spots if spot.cell == cell), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Work off the presses, e.g. a burn. happens: whether it is done at all. owner_id: its run or order."""

    kind: str
    owner_id: str
    hours: OpenCells
    work_min: int
    happens: Literal
    start: Expr
    end: Expr
    began: Moment
    ended: Moment
    interval: cp_model.IntervalVar


@dataclass(frozen=True, slots=True, kw_only=True)
class DryingPiece:
    """For burns that end in [first_tau, last_tau] the set is dry at `dry_tau`, plus the burn's end if `is_moving`."""

    first_tau: int
    last_tau: int
    dry_tau: int
    is_moving: bool
    literal: Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnVars:
    """Making a set ready for one run: burn, dry, tape."""

    run: Run
    screens: ScreenSet
    burn: Work
    dry: Expr
    pieces: tuple[DryingPiece, ...]
    on_rack: cp_model.IntervalVar
    tape: Work


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOnPress:
    """A run on one press it may go on; everything here is 0 or false if it goes on another.

    ways: how it may be printed, by number. ready: the first open minute after its set-up; where nothing has to get hot
    first, the print starts then.
    kept: inks that stand by beside it. found: inks that stood by beside the run before. Both by ink id.
    """

    run_id: str
    press: PressLine
    choice: PressChoice
    idle_ok_min: int | None
    is_here: Literal
    set_up_min: Expr
    set_up_hours: OpenCells
    print_hours: OpenCells
    set_up: Moment
    ready: Moment
    printing: Moment
    end: Moment
    holds_press: cp_model.IntervalVar
    sets_up: cp_model.IntervalVar
    prints: cp_model.IntervalVar
    kept: dict[str, Literal] = field(default_factory=dict)
    found: dict[str, Literal] = field(default_factory=dict)
    ways: dict[int, Literal] = field(default_factory=dict)

    def in_ways(self) -> Iterator[tuple[PressChoice, Literal]]:
        """The choice in each way it may be printed in, and whether it is."""
        for way, literal in self.ways.items():
            choice = self.choice.in_way(way)
            if choice is not None:
                yield choice, literal

    def after_stop_min(self, stop_min: int) -> int:
        """Minutes that a stop inside the print adds: restarting, and for a long one rinsing out and inking again."""
        is_long = self.idle_ok_min is not None and stop_min > self.idle_ok_min
        return self.press.restart.after(stop_min) + (self.choice.long_stop_min if is_long else 0)

    @property
    def long_stops(self) -> tuple[Stop, ...]:
        """Stops that its inks may not stand; they are rinsed out for them."""
        limit_min = self.idle_ok_min
        return () if limit_min is None else tuple(s for s in self.print_hours.stops if s.stop_min > limit_min)

    @property
    def warms_up(self) -> bool:
        """True if the press may be open for set-up and not for printing."""
        return self.ready is not self.printing


@dataclass(frozen=True, slots=True, kw_only=True)
class RunVars:
    """A run: its times, the presses it may go on, its staging and its burn where it may have them.

    ready: the first open minute after its set-up; print_start itself where no press of the run has to get hot.
    holds_lots: from its first print until its garments may be printed again.
    """

    run: Run
    set_up_start: Expr
    ready: Expr
    print_start: Expr
    print_end: Expr
    on: dict[str, RunOnPress]
    holds_lots: cp_model.IntervalVar
    stage: Work | None
    burn: BurnVars | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """One run straight after another on a press; None stands for what is on it now, or for the end of the queue."""

    press_id: str
    before: str | None
    after: str | None
    literal: Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class SetVars:
    """The uses of one screen set: their order, and what is reclaimed after which.

    precedes[u, v]: use u comes before use v. follows[u, v]: v is the very next use. first, last: ends of the order.
    reclaimed[u, block]: the set is reclaimed in that block, after use u.
    """

    screens: ScreenSet
    uses: tuple[str, ...]
    precedes: dict[tuple[str, str], Literal]
    follows: dict[tuple[str, str], Literal]
    first: dict[str, Literal]
    last: dict[str, Literal]
    reclaimed: dict[tuple[str, ReclaimBlock], Literal]

    def reclaims_after(self, run_id: str) -> list[tuple[ReclaimBlock, Literal]]:
        """The blocks in which the set may be reclaimed after this use, and whether it is."""
        return [(block, literal) for (use, block), literal in self.reclaimed.items() if use == run_id]


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitVars:
    """A visit to a station: worked there, or sent out. back: for what leaves in (first, last) the minute it is back."""

    step: StationStep
    start: Expr
    end: Expr
    work: Work | None
    back: tuple[tuple[int, int, int, Literal], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderVars:
    """An order: packing, and what missing its pick-ups costs. late: by number of the pick-up.

    visits: in the order of `OrderDue.stations`.
    """

    order: OrderDue
    run_ids: tuple[str, ...]
    packing: Work | None
    packed: Expr
    late: dict[int, Literal]
    in_cushion: Literal
    visits: tuple[VisitVars, ...] = ()

    def visits_after(self) -> tuple[VisitVars, ...]:
        """Its visits after its prints."""
        return tuple(one for one in self.visits if not one.step.is_before)


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveVars:
    """Whether an announced run is moved: to another press, or too early, or too late."""

    run_id: str
    told: AnnouncedRun
    moved: Literal
    too_early: Literal
    too_late: Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatVars:
    """Frames of one class coated in one window."""

    window: CoatWindow
    class_id: str
    count: Expr


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """People needed for one activity: `crew` at `place`. owner: whose pauses it shares (press id, or the kind of work).

    is_alone: no two demands of this owner go on (or pause) at once.
    """

    owner: str
    place: str
    crew: Crew
    hours: OpenCells
    interval: cp_model.IntervalVar
    began: Moment
    ended: Moment
    is_alone: bool


class Variables:
    """Every decision of a week. Rules ask it; nobody else makes solver variables."""

    def __init__(self, model: cp_model.CpModel) -> None:
        """Start empty; `make_variables` fills in."""
        self._model = model
        self.always: Literal = model.new_constant(1)
        self.runs: dict[str, RunVars] = {}
        self.orders: dict[str, OrderVars] = {}
        self.sets: dict[str, SetVars] = {}
        self.moves: dict[str, MoveVars] = {}
        self.arcs: dict[str, tuple[Arc, ...]] = {}
        self.coated: list[CoatVars] = []
        self.bought: dict[str, Literal] = {}
        self._spans: dict[tuple[Stop, Moment, Moment], Literal] = {}
        self._states: dict[tuple[frozenset[str], frozenset[str]], Literal] = {}
        self._once: dict[tuple[str, ...], Any] = {}

    def on_press(self, press_id: str) -> list[RunOnPress]:
        """Every run that may go on this press."""
        return [run.on[press_id] for run in self.runs.values() if press_id in run.on]

    def burns(self) -> list[BurnVars]:
        """Every burn that may be needed."""
        return [run.burn for run in self.runs.values() if run.burn is not None]

    def works(self) -> Iterator[Work]:
        """All work off the presses."""
        for run in self.runs.values():
            if run.stage is not None:
                yield run.stage
            if run.burn is not None:
                yield run.burn.burn
                yield run.burn.tape
        for order in self.orders.values():
            if order.packing is not None:
                yield order.packing
            for visit in order.visits:
                if visit.work is not None:
                    yield visit.work

    def conditions(self, stop: Stop) -> list[Literal]:
        """What must hold for the stop to be there: overtime bought and not bought."""
        return [self.bought[block] for block in sorted(stop.bought)] + [
            ~self.bought[block] for block in sorted(stop.unbought)
        ]

    def spanned(self, stop: Stop, began: Moment, ended: Moment) -> Expr:
        """1 if something that starts at `began` and ends at `ended` goes on across this stop, and the stop is there."""
        across = _difference(began, ended, stop.from_tau)
        if isinstance(across, int) or stop.is_certain:
            return across
        key = (stop, began, ended)
        if key not in self._spans:
            both = self._model.new_bool_var(f"across[{stop.from_tau},{stop.to_tau}]")
            there = self._is_there(stop)
            self._model.add(both <= there)
            self._model.add(both <= across)
            self._model.add(both >= across + there - 1)
            self._spans[key] = both
        return self._spans[key]

    def once(self, key: tuple[str, ...], make: Callable[[], T]) -> T:
        """What a rule needs more of, made at the first asking."""
        if key not in self._once:
            self._once[key] = make()
        found: T = self._once[key]
        return found

    def both(self, across: Expr, literal: Literal) -> Expr:
        """1 if something goes on across a stop (0 or 1) and the literal holds."""
        if isinstance(across, int) and not across:
            return 0
        found = self._model.new_bool_var("across_in_way")
        self._model.add(found <= across)
        self._model.add_implication(found, literal)
        self._model.add(found >= across + literal - 1)
        return found

    def _is_there(self, stop: Stop) -> Literal:
        conditions = self.conditions(stop)
        if len(conditions) == 1:
            return conditions[0]
        key = (stop.bought, stop.unbought)
        if key not in self._states:
            there = self._model.new_bool_var(f"open[{','.join(sorted(stop.bought))}|{','.join(sorted(stop.unbought))}]")
            self._model.add_bool_and(conditions).only_enforce_if(there)
            self._model.add_bool_or([there, *(~literal for literal in conditions)])
            self._states[key] = there
        return self._states[key]

    def question(self, name: str) -> Literal:
        """A yes or no that a rule settles itself."""
        return self._model.new_bool_var(name)

    def amount(self, name: str, most: int) -> Expr:
        """A number in [0, most] that a rule fixes itself."""
        return self._model.new_int_var(0, most, name)


def _difference(began: Moment, ended: Moment, tau: int) -> Expr:
    """began.by(tau) - ended.by(tau), as a plain 0 where it can never be anything else."""
    if not any(spot.cell.end_tau <= tau for spot in began.spots):
        return 0
    if all(spot.cell.end_tau <= tau for spot in ended.spots):
        return 0
    return began.by(tau) - ended.by(tau)

"""One planning question, ready to be timed: everything on the shop axis, every choice spelled out.

`scheduler.workload` makes a Week from what the shop typed; decoder, model and checker all read it. All `_tau` are
shop minutes (see `domain.clock`), all `_min` whole minutes of work, all money integer cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from scheduler.domain.calendars import Calendar
from scheduler.domain.clock import ShopClock
from scheduler.domain.floor import CoatWindow as CoatWindow
from scheduler.domain.floor import DryerLine as DryerLine
from scheduler.domain.floor import DryerSetting as DryerSetting
from scheduler.domain.floor import FlashPool as FlashPool
from scheduler.domain.floor import FloorLine as FloorLine
from scheduler.domain.floor import FrameStock as FrameStock
from scheduler.domain.floor import PressLine as PressLine
from scheduler.domain.floor import ReclaimBlock as ReclaimBlock
from scheduler.domain.floor import ScreenNote as ScreenNote
from scheduler.domain.floor import ScreenRoomLine as ScreenRoomLine
from scheduler.domain.floor import ScreenSet as ScreenSet
from scheduler.domain.pickled import OwnFieldsOnly
from scheduler.domain.runs import Crew as Crew
from scheduler.domain.runs import InkUse as InkUse
from scheduler.domain.runs import Part as Part
from scheduler.domain.runs import PressChoice as PressChoice
from scheduler.domain.runs import Run as Run
from scheduler.domain.runs import SetUpMinutes as SetUpMinutes
from scheduler.domain.runs import Stack as Stack
from scheduler.domain.runs import StackHead as StackHead
from scheduler.domain.runs import Way as Way
from scheduler.domain.stations import StationLine, StationStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who works here. press_ids: presses they can run; empty for all. Calendar: their own hours."""

    person_id: str
    name: str
    roles: frozenset[str]
    press_ids: frozenset[str]
    calendar: Calendar

    def can(self, role: str, place: str) -> bool:
        """True if this person can fill `role` at `place` (a press id, or "" off the presses)."""
        return role in self.roles and (not place or not self.press_ids or place in self.press_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reservation:
    """People booked by the calendar itself: coating and reclaiming."""

    role: str
    count: int
    start_tau: int
    end_tau: int
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OvertimeBlock:
    """Overtime on offer. after_id: the block that must be bought first (nested)."""

    block_id: str
    name: str
    start_tau: int
    end_tau: int
    price_cents: int
    after_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderDue:
    """When an order must leave, and what missing it costs.

    pickups_tau: shop minutes by which it must be packed for each pick-up, rising; the last is the axis's end.
    must_leave: index of the pick-up that keeps the promise; every pick-up missed from there on is a late day.
    finish_min: packing minutes; it may start `finish_lag_min` after the last of its runs starts printing and ends no
    sooner than `last_box_min` after the last cure. cushion_min: shop minutes before the promised pick-up. is_past_due:
    the promise was missed before the planning moment; must_leave is then the next pick-up.
    """

    order_id: str
    client: str
    firmness: str
    run_ids: tuple[str, ...]
    pickups_tau: tuple[int, ...]
    must_leave: int
    late_cents: int
    cushion_min: int
    cushion_cents: int
    finish_min: int = 0
    finish_lag_min: int = 0
    last_box_min: int = 0
    is_past_due: bool = False
    stations: tuple[StationStep, ...] = ()
    """Visits to stations one after the other: those before its prints, then those after them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """A run that stays where it is.

    kind: "started", "locked" or "announced". press_id and set_up_start_tau: fixed where not None. A started run has
    both, needs no staging and no burn, comes first on its press, and its whole set-up is `set_up_left_min`.
    """

    run_id: str
    kind: str
    press_id: str | None = None
    set_up_start_tau: int | None = None
    set_up_left_min: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AnnouncedRun:
    """Where an earlier plan put a run; moving it costs `Prices.move_cents`."""

    run_id: str
    press_id: str
    set_up_start_tau: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """Money that belongs to no single thing. A run moved more than `move_free_min` shop minutes, or to another press,
    counts as moved.
    """

    move_cents: int = 0
    move_free_min: int = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class NotPlanned:
    """An order, or one run of it, that cannot be planned, and why in shop words.

    kind: "no press", "waiting" (for art, blanks, an answer), "clash" (of fixed runs), "no time" (never fits the hours),
    "no screens" (not enough frames).
    """

    order_id: str
    run_id: str | None
    reasons: tuple[str, ...]
    kind: str = "no press"


@dataclass(frozen=True, kw_only=True)
class Week(OwnFieldsOnly):
    """Everything about one planning question, with look-ups by id."""

    clock: ShopClock
    presses: tuple[PressLine, ...]
    runs: tuple[Run, ...]
    orders: tuple[OrderDue, ...]
    inks: tuple[InkUse, ...] = ()
    sets: tuple[ScreenSet, ...] = ()
    frames: tuple[FrameStock, ...] = ()
    screen_room: ScreenRoomLine | None = None
    staging: FloorLine | None = None
    finishing: FloorLine | None = None
    stations: tuple[StationLine, ...] = ()
    people: tuple[Person, ...] = ()
    lead_covers: int = 1
    """On how many presses at once one lead may watch."""
    least_stay_min: int = 30
    """Nobody is sent to a press for less, where any roster can help it."""
    reservations: tuple[Reservation, ...] = ()
    overtime: tuple[OvertimeBlock, ...] = ()
    early_reclaims: tuple[tuple[str, str, int], ...] = ()
    """(reclaim block, frame class, frames): burned sets that hang and are to be reclaimed first of all."""
    fixings: tuple[Fixing, ...] = ()
    announced: tuple[AnnouncedRun, ...] = ()
    prices: Prices = Prices()
    flash_pools: tuple[FlashPool, ...] = ()
    dryers: tuple[DryerLine, ...] = ()
    not_planned: tuple[NotPlanned, ...] = ()
    digest: str = ""

    @cached_property
    def press(self) -> dict[str, PressLine]:
        """Presses by id."""
        return {press.press_id: press for press in self.presses}

    @cached_property
    def run(self) -> dict[str, Run]:
        """Runs by id."""
        return {run.run_id: run for run in self.runs}

    @cached_property
    def order(self) -> dict[str, OrderDue]:
        """Orders by id."""
        return {order.order_id: order for order in self.orders}

    @cached_property
    def ink(self) -> dict[str, InkUse]:
        """Inks by id."""
        return {ink.ink_id: ink for ink in self.inks}

    @cached_property
    def screen_set(self) -> dict[str, ScreenSet]:
        """Screen sets by id."""
        return {one.set_id: one for one in self.sets}

    @cached_property
    def station(self) -> dict[str, StationLine]:
        """Stations by id."""
        return {one.station_id: one for one in self.stations}

    @cached_property
    def fixing(self) -> dict[str, Fixing]:
        """Fixings by run id."""
        return {fixing.run_id: fixing for fixing in self.fixings}

    @cached_property
    def runs_of_set(self) -> dict[str, tuple[str, ...]]:
        """Run ids by the screen set they print from."""
        found: dict[str, list[str]] = {}
        for run in self.runs:
            if run.set_id is not None:
                found.setdefault(run.set_id, []).append(run.run_id)
        return {set_id: tuple(run_ids) for set_id, run_ids in found.items()}

    @property
    def horizon_tau(self) -> int:
        """Shop minutes on the whole axis."""
        return self.clock.horizon_tau

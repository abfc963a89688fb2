"""One planning question, ready to be timed: everything on the shop axis, every choice spelled out.

`scheduler.workload` makes a Week from what the shop typed; decoder, model and checker all read it. All `_tau` are
shop minutes (see `domain.clock`), all `_min` whole minutes of work, all money integer cents.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from scheduler.domain.calendars import Calendar, KeptFree, Restart
from scheduler.domain.clock import ShopClock
from scheduler.domain.pickled import OwnFieldsOnly
from scheduler.domain.stations import StationLine, StationStep

Crew = tuple[tuple[str, int], ...]
"""People needed at once: (role, how many), e.g. (("print", 1), ("catch", 1)). Roles are the shop's own words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InkUse:
    """An ink as the press sees it. dries: it may not stand in the mesh longer than `idle_ok_min` wall minutes.

    flash_s, tunnel_s, cure_f: start values of its family, for paper; 0 where nothing is known.
    pot_life_min: minutes a mixed batch lasts, None if it does not go off; remix_min: press minutes for a further batch.
    """

    ink_id: str
    name: str
    family: str
    is_dark: bool
    idle_ok_min: int | None = None
    flash_s: float = 0.0
    tunnel_s: int = 0
    cure_f: int = 0
    pot_life_min: int | None = None
    remix_min: int = 0

    @property
    def dries(self) -> bool:
        """True for inks that must be rinsed out when their run ends."""
        return self.idle_ok_min is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpMinutes:
    """Set-up minutes of one press. No published source: shop settings.

    mount_min: per screen mounted and registered. load_min: per head that gets an ink. card_min: per ink carded over
    into another screen. swap_min: per ink that leaves where a spare squeegee and floodbar exist (cleaned off the
    press), else None and clean_light_min / clean_dark_min count, by the ink that leaves. strike_off_min: test print,
    one pass through the dryer included.
    """

    mount_min: int = 0
    load_min: int = 0
    card_min: int = 0
    swap_min: int | None = None
    clean_light_min: int = 0
    clean_dark_min: int = 0
    pallet_min: int = 0
    flash_move_min: int = 0
    strike_off_min: int = 0

    def leave_min(self, ink: InkUse) -> int:
        """Minutes on the press's clock for one head's ink to leave."""
        if self.swap_min is not None:
            return self.swap_min
        return self.clean_dark_min if ink.is_dark else self.clean_light_min


@dataclass(frozen=True, slots=True, kw_only=True)
class StackHead:
    """One printing head of a run, in print order: which screen, which ink, how many hits."""

    screen_id: str
    ink_id: str
    hits: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """What stands on a press: heads in print order, after which of them a flash stands (0-based), pallet kind."""

    set_id: str | None = None
    heads: tuple[StackHead, ...] = ()
    flash_after: tuple[int, ...] = ()
    pallet: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """Another way to print a run on a press: slower, to share the belt, or at another setting of the dryer.

    step_permille: of the press's full rate. setting_id: of its dryer, None where that has one setting for all.
    mixing_min: as `PressChoice.mixing_min`.
    print_cents: as in `PressChoice`.
    """

    print_min: int
    part_min: tuple[int, ...]
    rate_pcs_h: int
    belt_permille: int
    step_permille: int = 1000
    setting_id: str | None = None
    mixing_min: int = 0
    print_cents: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PressChoice:
    """A run on one press it fits.

    heads_needed counts flashes in heads and cool-down heads too. print_min: all pieces. wash_up_min: rinsing out the
    inks that dry, at the end of the run and before every stop they may not stand, on the press's clock; re_ink_min:
    loading them again after such a stop. mixing_min: mixing the batches after the first of inks that go off, within the
    print. set_up_extra_min: always added (client approval).
    belt_permille: share of its dryer's belt while printing, 0 to 1000. stated_set_up_min: replaces the whole set-up
    arithmetic where the shop stated it. part_min: print minutes of each part, in order; they sum to print_min.
    slowed_to_pcs_h: the belt's rate where the belt by itself is slower than the press, else None. flash_units: units of
    its press's flash pool it takes, from set-up to last piece. step_permille: rate against the full one. other_ways:
    ways to print it that take no fewer minutes than this one, way 0; none of them where printing takes no time.
    print_cents: what its print crew's minutes cost beyond those on the press where they cost least.
    """

    press_id: str
    stack: Stack
    heads_needed: int
    print_min: int
    part_min: tuple[int, ...]
    rate_pcs_h: int
    wash_up_min: int = 0
    set_up_extra_min: int = 0
    belt_permille: int = 0
    stated_set_up_min: int | None = None
    is_preferred: bool = False
    slowed_to_pcs_h: int | None = None
    flash_units: int = 0
    re_ink_min: int = 0
    step_permille: int = 1000
    setting_id: str | None = None
    other_ways: tuple[Way, ...] = ()
    mixing_min: int = 0
    print_cents: int = 0

    @property
    def work_min(self) -> int:
        """Press minutes after set-up: printing, mixing further batches and rinsing out."""
        return self.print_min + self.mixing_min + self.wash_up_min

    @property
    def long_stop_min(self) -> int:
        """Press minutes that a stop the inks may not stand adds: rinsing out before it, inking again after it."""
        return self.wash_up_min + self.re_ink_min

    def in_way(self, way: int) -> PressChoice | None:
        """The same choice printed in this way; None if there is no such way."""
        if way == 0:
            return self
        if not 0 < way <= len(self.other_ways):
            return None
        other = self.other_ways[way - 1]
        return replace(
            self,
            print_min=other.print_min,
            part_min=other.part_min,
            rate_pcs_h=other.rate_pcs_h,
            belt_permille=other.belt_permille,
            step_permille=other.step_permille,
            setting_id=other.setting_id,
            mixing_min=other.mixing_min,
            print_cents=other.print_cents,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One lot's share of a run. kind: "tee", "fleece" ..., "" where it does not matter."""

    lot_id: str
    garment: str
    pieces: int
    kind: str = ""


@dataclass(frozen=True, kw_only=True)
class Run(OwnFieldsOnly):
    """Imprints of one design on lots of one shade, printed in one go.

    set_id None: no screens are needed. blanks_tau: garments are there. art_tau: the set may be burned from then on.
    idle_ok_min: its inks may not stand over a stop longer than this (wall minutes), None if they may. cure_min: shop
    minutes from press to the end of the belt. between_min: shop minutes a lot needs after this run's cure before its
    next print. print_after: runs whose cure and `between_min` must be over before this one prints. pot_life_min: print
    minutes a mixed batch of its inks lasts, None if they do not go off; remix_min: press minutes for a further one.
    """

    run_id: str
    order_id: str
    design_id: str
    location: str
    set_id: str | None
    parts: tuple[Part, ...]
    choices: tuple[PressChoice, ...]
    blanks_tau: int = 0
    art_tau: int = 0
    idle_ok_min: int | None = None
    cure_min: int = 0
    between_min: int = 0
    print_after: tuple[str, ...] = ()
    pot_life_min: int | None = None
    remix_min: int = 0

    @property
    def pieces(self) -> int:
        """Pieces in all parts."""
        return sum(part.pieces for part in self.parts)

    @cached_property
    def lot_ids(self) -> frozenset[str]:
        """Lots this run prints on."""
        return frozenset(part.lot_id for part in self.parts)

    @cached_property
    def on_press(self) -> dict[str, PressChoice]:
        """The choice for each press the run fits."""
        return {choice.press_id: choice for choice in self.choices}

    def printed_on(self, press_id: str, way: int) -> PressChoice | None:
        """The run on this press in this way; None if it does not fit the press, or there is no such way."""
        choice = self.on_press.get(press_id)
        return choice.in_way(way) if choice is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressLine:
    """A press as the plan sees it. Its calendar already holds breaks, closures, its dryer's hours and the hours in
    which people who can set it up and run it are there; room kept free is no longer in it. print_calendar: None if it
    prints whenever it is open, else the part of the calendar in which its dryer and flashes are hot. flash_pool: id of
    the pool its flashes come from, None where they are its own. flash_takes: what takes a head of its own after each
    flash: "flash", "cool-down".
    """

    press_id: str
    name: str
    head_count: int
    calendar: Calendar
    restart: Restart
    set_up: SetUpMinutes
    set_up_crew: Crew
    run_crew: Crew
    dryer_id: str | None
    set_up_cents_per_min: int
    now_on: Stack
    print_calendar: Calendar | None = None
    flash_pool: str | None = None
    flash_takes: tuple[str, ...] = ()
    kept_free: tuple[KeptFree, ...] = ()

    @property
    def prints_in(self) -> Calendar:
        """When it can print; set-up may go on in all of `calendar`."""
        return self.calendar if self.print_calendar is None else self.print_calendar


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashPool:
    """Flash units on wheels that several presses share."""

    pool_id: str
    units: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerSetting:
    """How a dryer is set: degrees Fahrenheit, seconds in the tunnel, and the words for both."""

    setting_id: str
    temperature_f: int
    tunnel_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerLine:
    """A dryer the week needs at more than one setting.

    heat_min, cool_min: shop minutes it takes to settle 10 degrees hotter, or cooler. switched_on_tau: shop minutes at
    which it opens after having been off, whatever overtime is bought: the setting of the next run is its first.
    """

    dryer_id: str
    name: str
    settings: tuple[DryerSetting, ...]
    heat_min: int
    cool_min: int
    switched_on_tau: tuple[int, ...]

    def settle_min(self, before_id: str, after_id: str) -> int:
        """Shop minutes from the last piece at one setting to the first at another, whole ones, rounded up."""
        degrees = {one.setting_id: one.temperature_f for one in self.settings}
        change = degrees[after_id] - degrees[before_id]
        return -(-change * self.heat_min // 10) if change > 0 else -(change * self.cool_min // 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenNote:
    """One screen for the screen tech: what it prints ("white base", "red"), mesh (threads per inch), frame size."""

    screen_id: str
    prints: str
    mesh: int
    frame_size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenSet:
    """The screens of one design. frames: how many of each frame class. burn_min: expose and wash out, hands-on."""

    set_id: str
    design_id: str
    screen_ids: tuple[str, ...]
    frames: tuple[tuple[str, int], ...]
    burn_min: int
    tape_min: int
    is_burned_now: bool
    notes: tuple[ScreenNote, ...] = ()

    @property
    def screen_count(self) -> int:
        """Screens in the set."""
        return len(self.screen_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameStock:
    """Frames of one size and mesh: coated and ready, and clean, at the planning moment. Burned ones are not in it."""

    class_id: str
    name: str
    coated_now: int
    clean_now: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatWindow:
    """A booked time for coating at most `places` clean frames; they can be burned from `ready_tau` on."""

    window_id: str
    start_tau: int
    end_tau: int
    ready_tau: int
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReclaimBlock:
    """A booked time for reclaiming at most `places` screens; their frames are clean from `end_tau` on."""

    block_id: str
    start_tau: int
    end_tau: int
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenRoomLine:
    """Burning and taping: hours, crew of one task, and what is finite beside frames.

    dry_min: wall minutes from wash-out to dry. idle_ok_min: a burn may not span a longer stop (wall minutes).
    ahead_min: how long burned screens should stand ready before their set-up, in shop minutes; every minute missing
    costs not_ahead_cents_per_min.
    """

    calendar: Calendar
    crew: Crew
    exposure_units: int
    rack_places: int
    dry_min: int
    idle_ok_min: int
    burn_cents_per_screen: int
    coat_windows: tuple[CoatWindow, ...]
    reclaim_blocks: tuple[ReclaimBlock, ...]
    ahead_min: int = 0
    not_ahead_cents_per_min: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorLine:
    """Work off the press: staging a cart before each set-up; finishing an order."""

    calendar: Calendar
    crew: Crew
    minutes: int = 0


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

"""Small shops for tests: every builder has harmless defaults, so a test states only what it is about.

The default shop opens Monday 2 March 2026, 08:00 to 17:00 on five days (540 shop minutes a day, no breaks, 15 hours
of night between). Day d therefore covers shop minutes [540 * d, 540 * (d + 1)). Nothing takes set-up minutes, nobody is
demanded and no screen is needed unless a test says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from scheduler.domain.calendars import Calendar, Restart
from scheduler.domain.stations import StationLine, StationStep
from scheduler.domain.week import (
    AnnouncedRun,
    CoatWindow,
    Crew,
    Fixing,
    FlashPool,
    FloorLine,
    FrameStock,
    InkUse,
    OrderDue,
    OvertimeBlock,
    Part,
    Person,
    PressChoice,
    PressLine,
    ReclaimBlock,
    Reservation,
    Run,
    ScreenRoomLine,
    ScreenSet,
    SetUpMinutes,
    Stack,
    StackHead,
    Week,
)
from tests.small_hours import DAY_MIN as DAY_MIN
from tests.small_hours import DAYS as DAYS
from tests.small_hours import ZONE as ZONE
from tests.small_hours import clock as clock
from tests.small_hours import every_day as every_day
from tests.small_hours import hot as hot
from tests.small_hours import hours as hours
from tests.small_plans import plan as plan
from tests.small_plans import planned_burn as planned_burn
from tests.small_plans import planned_order as planned_order
from tests.small_plans import planned_run as planned_run
from tests.small_plans import visits as visits


def ink(ink_id: str = "white", *, is_dark: bool = False, idle_ok_min: int | None = None) -> InkUse:
    """A plastisol that may stand; water-based if it has `idle_ok_min`."""
    family = "plastisol" if idle_ok_min is None else "water-based"
    return InkUse(ink_id=ink_id, name=ink_id, family=family, is_dark=is_dark, idle_ok_min=idle_ok_min)


def stack(
    *heads: tuple[str, str], set_id: str | None = None, flash_after: tuple[int, ...] = (), pallet: str | None = None
) -> Stack:
    """Heads as (screen, ink) in print order."""
    return Stack(
        set_id=set_id,
        heads=tuple(StackHead(screen_id=screen, ink_id=ink_id) for screen, ink_id in heads),
        flash_after=flash_after,
        pallet=pallet,
    )


def choice(
    press_id: str = "P1",
    *,
    print_min: int = 60,
    on: Stack | None = None,
    heads_needed: int | None = None,
    wash_up_min: int = 0,
    set_up_extra_min: int = 0,
    belt_permille: int = 0,
    stated_set_up_min: int | None = None,
    part_min: tuple[int, ...] | None = None,
    flash_units: int = 0,
    re_ink_min: int = 0,
    mixing_min: int = 0,
    print_cents: int = 0,
) -> PressChoice:
    """A run on one press: an hour of printing and no screens."""
    stands = on or Stack()
    return PressChoice(
        press_id=press_id,
        stack=stands,
        heads_needed=len(stands.heads) if heads_needed is None else heads_needed,
        print_min=print_min,
        part_min=(print_min,) if part_min is None else part_min,
        rate_pcs_h=60,
        wash_up_min=wash_up_min,
        set_up_extra_min=set_up_extra_min,
        belt_permille=belt_permille,
        stated_set_up_min=stated_set_up_min,
        flash_units=flash_units,
        re_ink_min=re_ink_min,
        mixing_min=mixing_min,
        print_cents=print_cents,
    )


def run(
    run_id: str = "r1",
    *,
    order_id: str | None = None,
    set_id: str | None = None,
    lots: Sequence[str] | None = None,
    choices: Sequence[PressChoice] | None = None,
    **more: Any,
) -> Run:
    """A run of one part on a lot of its own; its order is "o" + its id unless given."""
    lot_ids = (f"lot {run_id}",) if lots is None else tuple(lots)
    return Run(
        run_id=run_id,
        order_id=order_id or f"o{run_id}",
        design_id=more.pop("design_id", f"design {run_id}"),
        location=more.pop("location", "front"),
        set_id=set_id,
        parts=tuple(Part(lot_id=lot, garment="tee", pieces=60) for lot in lot_ids),
        choices=(choice(),) if choices is None else tuple(choices),
        **more,
    )


def order_due(order_id: str = "or1", run_ids: Sequence[str] = ("r1",), **more: Any) -> OrderDue:
    """An order of `run_ids` that leaves on the last pick-up of the default week, at no price when late."""
    return OrderDue(
        order_id=order_id,
        client=more.pop("client", "a client"),
        firmness=more.pop("firmness", "normal"),
        run_ids=tuple(run_ids),
        pickups_tau=more.pop("pickups_tau", (DAYS * DAY_MIN,)),
        must_leave=more.pop("must_leave", 0),
        late_cents=more.pop("late_cents", 0),
        cushion_min=more.pop("cushion_min", 0),
        cushion_cents=more.pop("cushion_cents", 0),
        **more,
    )


def press_line(press_id: str = "P1", **more: Any) -> PressLine:
    """A six-head press open all day, without people, dryer or set-up minutes."""
    return PressLine(
        press_id=press_id,
        name=more.pop("name", press_id),
        head_count=more.pop("head_count", 6),
        calendar=more.pop("calendar", None) or every_day(),
        restart=more.pop("restart", Restart()),
        set_up=more.pop("set_up", SetUpMinutes()),
        set_up_crew=more.pop("set_up_crew", ()),
        run_crew=more.pop("run_crew", ()),
        dryer_id=more.pop("dryer_id", None),
        set_up_cents_per_min=more.pop("set_up_cents_per_min", 0),
        now_on=more.pop("now_on", Stack()),
        **more,
    )


def flash_pool(units: int = 1, pool_id: str = "wheels") -> FlashPool:
    """Flashes on wheels."""
    return FlashPool(pool_id=pool_id, units=units)


def screen_set(
    set_id: str = "s1",
    *,
    screens: int = 2,
    class_id: str = "23x31/156",
    frames: tuple[tuple[str, int], ...] | None = None,
    burn_min: int = 30,
    tape_min: int = 10,
    is_burned_now: bool = False,
) -> ScreenSet:
    """A set of `screens` screens in one frame class, not burned yet."""
    return ScreenSet(
        set_id=set_id,
        design_id=f"design {set_id}",
        screen_ids=tuple(f"{set_id}.{number}" for number in range(1, screens + 1)),
        frames=((class_id, screens),) if frames is None else frames,
        burn_min=burn_min,
        tape_min=tape_min,
        is_burned_now=is_burned_now,
    )


def frame_stock(class_id: str = "23x31/156", *, coated_now: int = 20, clean_now: int = 20) -> FrameStock:
    """Plenty of frames of one class."""
    return FrameStock(class_id=class_id, name=class_id, coated_now=coated_now, clean_now=clean_now)


def coat_window(
    window_id: str = "coat Mon", *, start: int = 480, end: int = 540, ready: int = 540, places: int = 10
) -> CoatWindow:
    """Coating in the last hour of Monday, ready on Tuesday at opening."""
    return CoatWindow(window_id=window_id, start_tau=start, end_tau=end, ready_tau=ready, places=places)


def reclaim_block(block_id: str = "reclaim Tue", *, start: int = 540, end: int = 600, places: int = 10) -> ReclaimBlock:
    """Reclaiming in the first hour of Tuesday."""
    return ReclaimBlock(block_id=block_id, start_tau=start, end_tau=end, places=places)


def screen_room(**more: Any) -> ScreenRoomLine:
    """A screen room with two exposure units, thirty places on the rack and an hour of drying."""
    return ScreenRoomLine(
        calendar=more.pop("calendar", None) or every_day(),
        crew=more.pop("crew", ()),
        exposure_units=more.pop("exposure_units", 2),
        rack_places=more.pop("rack_places", 30),
        dry_min=more.pop("dry_min", 60),
        idle_ok_min=more.pop("idle_ok_min", 60),
        burn_cents_per_screen=more.pop("burn_cents_per_screen", 0),
        coat_windows=more.pop("coat_windows", ()),
        reclaim_blocks=more.pop("reclaim_blocks", ()),
        **more,
    )


def floor_line(*, minutes: int = 0, crew: Crew = (), calendar: Calendar | None = None) -> FloorLine:
    """Staging or finishing, open all day."""
    return FloorLine(calendar=calendar or every_day(), crew=crew, minutes=minutes)


def station(
    station_id: str = "embroidery", *, units: int | None = 1, crew: Crew = (), calendar: Calendar | None = None
) -> StationLine:
    """A station open all day that takes one order at once; with units None, work sent out."""
    hours_there = Calendar(windows=()) if units is None else calendar or every_day()
    return StationLine(station_id=station_id, name=station_id, calendar=hours_there, crew=crew, units=units)


Stay = int | tuple[tuple[int, int, int], ...]
"""Minutes of work at a station, or (from, until, back) of work sent out."""


def step(station_id: str = "embroidery", *, before: Stay | None = None, after: Stay | None = None) -> StationStep:
    """A visit before the prints or after them."""
    stay = before if before is not None else after
    return StationStep(
        station_id=station_id,
        is_before=before is not None,
        work_min=stay if isinstance(stay, int) else 0,
        returns=() if stay is None or isinstance(stay, int) else stay,
    )


def person(
    person_id: str = "Ana",
    *,
    roles: Iterable[str] = ("print",),
    press_ids: Iterable[str] = (),
    calendar: Calendar | None = None,
) -> Person:
    """Somebody who prints on any press, all day."""
    return Person(
        person_id=person_id,
        name=person_id,
        roles=frozenset(roles),
        press_ids=frozenset(press_ids),
        calendar=calendar or every_day(),
    )


def reservation(role: str = "screens", *, count: int = 1, start: int = 480, end: int = 540) -> Reservation:
    """People booked for coating."""
    return Reservation(role=role, count=count, start_tau=start, end_tau=end, what="coating")


def overtime(
    block_id: str = "late Mon", *, start: int = 480, end: int = 540, price_cents: int = 5_000, after: str | None = None
) -> OvertimeBlock:
    """An hour of overtime on offer."""
    return OvertimeBlock(
        block_id=block_id, name=block_id, start_tau=start, end_tau=end, price_cents=price_cents, after_id=after
    )


def fixing(
    run_id: str = "r1",
    kind: str = "locked",
    *,
    press_id: str | None = None,
    at: int | None = None,
    left: int | None = None,
) -> Fixing:
    """A run that stays; `at` is its set-up start, `left` the set-up minutes a started run still has."""
    return Fixing(run_id=run_id, kind=kind, press_id=press_id, set_up_start_tau=at, set_up_left_min=left)


def announced(run_id: str = "r1", *, press_id: str = "P1", at: int = 0) -> AnnouncedRun:
    """Where an earlier plan put a run."""
    return AnnouncedRun(run_id=run_id, press_id=press_id, set_up_start_tau=at)


def week(*, runs: Sequence[Run] | None = None, orders: Sequence[OrderDue] | None = None, **more: Any) -> Week:
    """A week of one run on one press. Orders not given are made up from the runs; so are inks that are not given."""
    all_runs = (run(),) if runs is None else tuple(runs)
    axis = more.pop("clock", None) or clock()
    if orders is None:
        of_order: dict[str, list[str]] = {}
        for one in all_runs:
            of_order.setdefault(one.order_id, []).append(one.run_id)
        orders = [order_due(order, ids, pickups_tau=(axis.horizon_tau,)) for order, ids in of_order.items()]
    presses = tuple(more.pop("presses", None) or (press_line(),))
    if "inks" not in more:
        stacks = [offer.stack for one in all_runs for offer in one.choices] + [press.now_on for press in presses]
        more["inks"] = tuple(ink(name) for name in sorted({head.ink_id for on in stacks for head in on.heads}))
    listed = {key: tuple(value) if isinstance(value, list) else value for key, value in more.items()}
    return Week(clock=axis, presses=presses, runs=all_runs, orders=tuple(orders), **listed)

"""A week in plain numbers for the decoder: runs, presses and screen sets by number, needs packed, hours counted."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from scheduler.domain.calendars import Calendar
from scheduler.domain.stations import StationStep
from scheduler.domain.week import Fixing, PressChoice, Run, Stack, Week
from scheduler.search.dryers import DryerSpec, dryer_specs
from scheduler.search.frames import Frames, FrameShop, frame_shop
from scheduler.search.profiles import Limits, Track, floor_track, limits_of, plain_track
from scheduler.search.timing import NEVER, Drying, Hours, drying, open_hours


@dataclass(frozen=True, slots=True)
class ChoiceSpec:
    """A run on one press. key numbers all choices of the week; keep_room: heads left for kept inks.

    flash_need: packed flashes of its press's pool, held from set-up to last piece, pauses included. other_ways: the
    same run on the same press, printed more slowly; they share its key. re_ink_min: loading inks that dry again after a
    long stop. print_cents: print crew beyond its cost on the cheapest press.
    """

    key: int
    press: int
    stack: Stack
    work_min: int
    extra_min: int
    stated_min: int | None
    wash_up_min: int
    is_preferred: bool
    set_up_need: int
    print_need: int
    cents_per_min: int
    keep_room: int
    flash_need: int
    re_ink_min: int
    way: int = 0
    other_ways: tuple[ChoiceSpec, ...] = ()
    setting_id: str | None = None
    print_cents: int = 0


@dataclass(frozen=True, slots=True)
class RunSpec:
    """A run by numbers. idle_ok_min -1: may stand for ever. fixed_press, fixed_start_tau -1: free.

    gap_min: cure and between minutes after its print before its lots are printed again, or its followers print.
    least_cents: set-up and rinsing it costs on any press, whatever stands there before.
    """

    number: int
    run_id: str
    order: int
    screen_set: int
    choices: tuple[ChoiceSpec, ...]
    by_press: dict[int, ChoiceSpec]
    blanks_tau: int
    art_tau: int
    idle_ok_min: int
    cure_min: int
    gap_min: int
    after: tuple[int, ...]
    before: tuple[int, ...]
    mates: tuple[int, ...]
    is_started: bool
    fixed_press: int
    fixed_start_tau: int
    set_up_left_min: int
    announced_press: int
    announced_tau: int
    least_cents: int


@dataclass(frozen=True, slots=True)
class SetSpec:
    """A screen set by numbers; burn_cents for one burn of all its screens."""

    set_id: str
    screens: int
    frames: Frames
    burn_min: int
    tape_min: int
    is_burned_now: bool
    burn_cents: int
    is_started: bool
    runs: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OrderSpec:
    """An order by numbers."""

    order_id: str
    runs: tuple[int, ...]
    pickups_tau: tuple[int, ...]
    must_leave: int
    late_cents: int
    cushion_from_tau: int
    cushion_cents: int
    finish_min: int
    finish_lag_min: int
    last_box_min: int
    before: tuple[StationStep, ...]
    after: tuple[StationStep, ...]

    @property
    def promised_tau(self) -> int:
        """Shop minute of the pick-up that keeps the promise."""
        return self.pickups_tau[self.must_leave]


@dataclass(frozen=True, slots=True)
class StationSpec:
    """A station by number; crew_need while it is worked on, unit_need from its start to its end."""

    number: int
    crew_need: int
    unit_need: int


@dataclass(frozen=True, slots=True)
class Tables:
    """Everything about a week that no genome changes."""

    week: Week
    runs: tuple[RunSpec, ...]
    orders: tuple[OrderSpec, ...]
    sets: tuple[SetSpec, ...]
    limits: Limits
    frames: FrameShop
    drying: Drying
    run_number: dict[str, int]
    press_number: dict[str, int]
    blocks: tuple[tuple[int, int, int], ...]
    block_ids: tuple[str, ...]
    room_need: int
    stage_need: int
    stage_min: int
    finish_need: int
    stations: dict[str, StationSpec]
    room_idle_ok_min: int
    dry_min: int
    ahead_min: int
    not_ahead_cents_per_min: int
    horizon_tau: int
    overtime_cents: dict[str, int]
    overtime_after: dict[str, str | None]


@dataclass(frozen=True, slots=True)
class Opened:
    """Hours and free capacities under one set of bought overtime.

    prints: when presses can print; the very same hours where nothing has to get hot first. dryers: by press, None where
    its dryer has one setting for all. cure_min: by run.
    """

    bought: frozenset[str]
    presses: tuple[Hours, ...]
    prints: tuple[Hours, ...]
    dryers: tuple[DryerSpec | None, ...]
    cure_min: tuple[int, ...]
    room: Hours
    staging: Hours
    finishing: Hours
    stations: tuple[Hours, ...]
    floor: Track
    shots: Track
    rack: Track


def tables_of(week: Week) -> Tables:
    """Number everything in a week."""
    limits = limits_of(week)
    frames = frame_shop(week)
    press_number = {press.press_id: i for i, press in enumerate(week.presses)}
    set_number = {one.set_id: i for i, one in enumerate(week.sets)}
    run_number = {run.run_id: i for i, run in enumerate(week.runs)}
    room = week.screen_room
    blocks = sorted(room.reclaim_blocks, key=lambda b: (b.start_tau, b.block_id)) if room else []
    planned = [order for order in week.orders if any(run_id in run_number for run_id in order.run_ids)]
    order_number = {order.order_id: i for i, order in enumerate(planned)}
    used = dict.fromkeys((block_id for block_id, _, _ in week.early_reclaims), 0)
    for block_id, _, count in week.early_reclaims:
        used[block_id] += count
    return Tables(
        week=week,
        runs=_runs(week, limits, press_number, set_number, run_number, order_number),
        orders=tuple(
            OrderSpec(
                order_id=order.order_id,
                runs=tuple(run_number[run_id] for run_id in order.run_ids if run_id in run_number),
                pickups_tau=order.pickups_tau,
                must_leave=order.must_leave,
                late_cents=order.late_cents,
                cushion_from_tau=order.pickups_tau[order.must_leave] - order.cushion_min,
                cushion_cents=order.cushion_cents,
                finish_min=order.finish_min,
                finish_lag_min=order.finish_lag_min,
                last_box_min=order.last_box_min,
                before=tuple(step for step in order.stations if step.is_before),
                after=tuple(step for step in order.stations if not step.is_before),
            )
            for order in planned
        ),
        sets=_sets(week, frames, run_number),
        limits=limits,
        frames=frames,
        drying=drying(week.clock),
        run_number=run_number,
        press_number=press_number,
        blocks=tuple((b.start_tau, b.end_tau, b.places - used.get(b.block_id, 0)) for b in blocks),
        block_ids=tuple(b.block_id for b in blocks),
        room_need=limits.crew_need(room.crew, "") if room else 0,
        stage_need=limits.crew_need(week.staging.crew, "") if week.staging else 0,
        stage_min=week.staging.minutes if week.staging else 0,
        finish_need=limits.crew_need(week.finishing.crew, "") if week.finishing else 0,
        stations={
            one.station_id: StationSpec(
                number=number,
                crew_need=limits.crew_need(one.crew, ""),
                unit_need=0 if one.units is None else limits.station_need(one.station_id),
            )
            for number, one in enumerate(week.stations)
        },
        room_idle_ok_min=room.idle_ok_min if room else NEVER,
        dry_min=room.dry_min if room else 0,
        ahead_min=room.ahead_min if room else 0,
        not_ahead_cents_per_min=room.not_ahead_cents_per_min if room else 0,
        horizon_tau=week.horizon_tau,
        overtime_cents={block.block_id: block.price_cents for block in week.overtime},
        overtime_after={block.block_id: block.after_id for block in week.overtime},
    )


def opened_with(tables: Tables, bought: frozenset[str]) -> Opened:
    """Count the open hours with this overtime. Raises ValueError if the calendar's own bookings ask for too many."""
    week = tables.week
    nothing = Calendar(windows=())
    room = week.screen_room
    presses = tuple(open_hours(press.calendar, bought, press.restart) for press in week.presses)
    return Opened(
        bought=bought,
        presses=presses,
        prints=tuple(
            hours if press.print_calendar is None else open_hours(press.print_calendar, bought, press.restart)
            for hours, press in zip(presses, week.presses, strict=True)
        ),
        dryers=dryer_specs(week),
        cure_min=tuple(run.cure_min for run in week.runs),
        room=open_hours(room.calendar if room else nothing, bought),
        staging=open_hours(week.staging.calendar if week.staging else nothing, bought),
        finishing=open_hours(week.finishing.calendar if week.finishing else nothing, bought),
        stations=tuple(open_hours(one.calendar, bought) for one in week.stations),
        floor=floor_track(week, tables.limits, [open_hours(person.calendar, bought) for person in week.people]),
        shots=plain_track(room.exposure_units if room else 0),
        rack=plain_track(room.rack_places if room else 0),
    )


def _runs(
    week: Week,
    limits: Limits,
    press_number: dict[str, int],
    set_number: dict[str, int],
    run_number: dict[str, int],
    order_number: dict[str, int],
) -> tuple[RunSpec, ...]:
    on_lot: dict[str, list[int]] = defaultdict(list)
    before: dict[int, list[int]] = defaultdict(list)
    for number, run in enumerate(week.runs):
        for lot_id in sorted(run.lot_ids):
            on_lot[lot_id].append(number)
        for run_id in run.print_after:
            if run_id in run_number:
                before[run_number[run_id]].append(number)
    announced = {one.run_id: one for one in week.announced}
    found = []
    key = 0
    for number, run in enumerate(week.runs):
        choices = tuple(
            _choice(week, limits, press_number, choice, key + i) for i, choice in enumerate(_fitting(week, run))
        )
        key += len(choices)
        fixing = week.fixing.get(run.run_id)
        told = announced.get(run.run_id) if fixing is None else None
        mates = {mate for lot_id in run.lot_ids for mate in on_lot[lot_id]} - {number}
        found.append(
            RunSpec(
                number=number,
                run_id=run.run_id,
                order=order_number[run.order_id],
                screen_set=-1 if run.set_id is None else set_number[run.set_id],
                choices=choices,
                by_press={choice.press: choice for choice in choices},
                blanks_tau=run.blanks_tau,
                art_tau=run.art_tau,
                idle_ok_min=-1 if run.idle_ok_min is None else run.idle_ok_min,
                cure_min=run.cure_min,
                gap_min=run.cure_min + run.between_min,
                after=tuple(run_number[run_id] for run_id in run.print_after if run_id in run_number),
                before=tuple(before[number]),
                mates=tuple(sorted(mates)),
                is_started=fixing is not None and fixing.kind == "started",
                fixed_press=press_number[fixing.press_id] if fixing and fixing.press_id is not None else -1,
                fixed_start_tau=-1 if fixing is None or fixing.set_up_start_tau is None else fixing.set_up_start_tau,
                set_up_left_min=(fixing.set_up_left_min or 0) if fixing else 0,
                announced_press=press_number.get(told.press_id, -2) if told else -1,
                announced_tau=told.set_up_start_tau if told else -1,
                least_cents=_least_cents(week, choices, fixing),
            )
        )
    return tuple(found)


def _least_cents(week: Week, choices: tuple[ChoiceSpec, ...], fixing: Fixing | None) -> int:
    """Rinsing, approval, a stated or half-done set-up, and loading what dries, on the cheapest press."""
    offers = []
    for choice in choices:
        drying = sum(week.ink[head.ink_id].dries for head in choice.stack.heads)
        minutes = choice.extra_min + drying * week.presses[choice.press].set_up.load_min
        if fixing is not None and fixing.kind == "started":
            minutes = fixing.set_up_left_min or 0
        elif choice.stated_min is not None:
            minutes = choice.extra_min + choice.stated_min
        offers.append((minutes + choice.wash_up_min) * choice.cents_per_min)
    return min(offers, default=0)


def _fitting(week: Week, run: Run) -> list[PressChoice]:
    return [choice for choice in run.choices if choice.heads_needed <= week.press[choice.press_id].head_count]


def _choice(week: Week, limits: Limits, press_number: dict[str, int], choice: PressChoice, key: int) -> ChoiceSpec:
    press = week.press[choice.press_id]
    ways = [choice.in_way(way) for way in range(1, len(choice.other_ways) + 1)]
    return ChoiceSpec(
        key=key,
        press=press_number[choice.press_id],
        stack=choice.stack,
        work_min=choice.work_min,
        extra_min=choice.set_up_extra_min,
        stated_min=choice.stated_set_up_min,
        wash_up_min=choice.wash_up_min,
        is_preferred=choice.is_preferred,
        set_up_need=limits.crew_need(press.set_up_crew, press.press_id),
        print_need=limits.crew_need(press.run_crew, press.press_id)
        + limits.belt_need(press.dryer_id, choice.belt_permille),
        cents_per_min=press.set_up_cents_per_min,
        keep_room=press.head_count - choice.heads_needed,
        flash_need=limits.flash_need(press.flash_pool, choice.flash_units),
        re_ink_min=choice.re_ink_min,
        setting_id=choice.setting_id,
        print_cents=choice.print_cents,
        other_ways=tuple(
            replace(_choice(week, limits, press_number, replace(one, other_ways=()), key), way=way)
            for way, one in enumerate(ways, start=1)
            if one is not None
        ),
    )


def _sets(week: Week, frames: FrameShop, run_number: dict[str, int]) -> tuple[SetSpec, ...]:
    class_number = {class_id: i for i, class_id in enumerate(frames.class_ids)}
    cents = week.screen_room.burn_cents_per_screen if week.screen_room else 0
    return tuple(
        SetSpec(
            set_id=one.set_id,
            screens=one.screen_count,
            frames=tuple((class_number[name], count) for name, count in one.frames if count),
            burn_min=one.burn_min,
            tape_min=one.tape_min,
            is_burned_now=one.is_burned_now,
            burn_cents=cents * one.screen_count,
            is_started=any(
                week.fixing[run_id].kind == "started"
                for run_id in week.runs_of_set.get(one.set_id, ())
                if run_id in week.fixing
            ),
            runs=tuple(run_number[run_id] for run_id in week.runs_of_set.get(one.set_id, ())),
        )
        for one in week.sets
    )


def with_nested(tables: Tables, blocks: frozenset[str]) -> frozenset[str]:
    """The blocks and every block that must be bought before one of them."""
    found = set(blocks)
    for block_id in blocks:
        after = tables.overtime_after.get(block_id)
        while after is not None and after not in found:
            found.add(after)
            after = tables.overtime_after.get(after)
    return frozenset(found)

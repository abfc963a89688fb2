"""Seeded random weeks, small enough to prove and nasty enough to meet every rule."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, Calendar, Restart, Window
from scheduler.domain.clock import ShopClock, Stretch
from scheduler.domain.week import (
    AnnouncedRun,
    CoatWindow,
    Fixing,
    FloorLine,
    FrameStock,
    InkUse,
    OrderDue,
    OvertimeBlock,
    Part,
    Person,
    PressChoice,
    PressLine,
    Prices,
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
from scheduler.workload.print_labour import with_print_cents
from tests.random_cure import with_cure
from tests.random_flashes import with_flash_pool
from tests.random_inks import with_long_drying
from tests.random_leads import with_leads
from tests.random_stations import with_stations

DAY_MIN = 600
"""Wall minutes of a shop day, 07:00 to 17:00, evening overtime of 60 minutes after it."""
OVERTIME_MIN = 60
INKS = (
    InkUse(ink_id="white", name="white", family="plastisol", is_dark=False),
    InkUse(ink_id="red", name="red", family="plastisol", is_dark=True),
    InkUse(ink_id="black", name="black", family="plastisol", is_dark=True),
    InkUse(ink_id="wb blue", name="blue", family="water-based", is_dark=True, idle_ok_min=40),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How big a random week is."""

    presses: tuple[int, int]
    runs: tuple[int, int]
    days: int
    people: tuple[int, int]


SIZES = {
    "tiny": Size(presses=(1, 2), runs=(2, 3), days=3, people=(1, 3)),
    "small": Size(presses=(1, 2), runs=(3, 6), days=4, people=(2, 4)),
    "medium": Size(presses=(2, 3), runs=(12, 25), days=7, people=(4, 6)),
}


def plain_week(seed: int, *, size: str = "small", run_count: int | None = None) -> Week:
    """The same week without what is drawn apart."""
    return _Draw(random.Random(f"{size}-{seed}"), SIZES[size], run_count).week()


def random_week(seed: int, *, size: str = "small", run_count: int | None = None) -> Week:
    """A week drawn from `seed`; the same seed gives the same week on every machine."""
    week = plain_week(seed, size=size, run_count=run_count)
    week = _screens_ahead(week, random.Random(f"{size}-{seed} ahead"))
    week = with_cure(week, random.Random(f"cure {size}-{seed}"))
    week = with_flash_pool(week, random.Random(f"{size}-{seed} flashes"))
    week = with_stations(week, random.Random(f"stations-{size}-{seed}"))
    week = with_leads(week, random.Random(f"leads-{size}-{seed}"))
    week = with_long_drying(week, random.Random(f"{size}-{seed} inks"))
    return _crews_priced(week, random.Random(f"{size}-{seed} crews"))


def _crews_priced(week: Week, rng: random.Random) -> Week:
    """In half of the weeks a press whose crew costs more, or that is slower, is the dearer one to print on."""
    if rng.random() < 0.5:
        return week
    prices = {press.press_id: rng.choice([0.0, 2.5, 6.0]) for press in week.presses}
    return replace(week, runs=tuple(replace(run, choices=with_print_cents(run.choices, prices)) for run in week.runs))


def _screens_ahead(week: Week, rng: random.Random) -> Week:
    """In half of the weeks screens should stand ready a while before their set-up."""
    if week.screen_room is None or rng.random() < 0.5:
        return week
    ahead_min, cents = rng.choice([30, 90, 240]), rng.choice([1, 7])
    return replace(week, screen_room=replace(week.screen_room, ahead_min=ahead_min, not_ahead_cents_per_min=cents))


class _Draw:
    def __init__(self, rng: random.Random, size: Size, run_count: int | None) -> None:
        self.rng = rng
        self.size = size
        self.run_count = run_count or rng.randint(*size.runs)
        self.has_overtime = rng.random() < 0.4
        self.clock = self._clock()
        self.day_starts_tau = self.clock.cuts_tau

    def _clock(self) -> ShopClock:
        length_min = DAY_MIN + (OVERTIME_MIN if self.has_overtime else 0)
        stretches = tuple(
            Stretch(wall_start_min=day * 1440, wall_end_min=day * 1440 + length_min)
            for day in range(self.size.days)
            if day != 4  # a closed day in longer weeks
        )
        now = datetime(2026, 3, 2, 7, 0, tzinfo=ZoneInfo("Europe/Lisbon"))
        return ShopClock(zone="Europe/Lisbon", now=now, stretches=stretches)

    def _calendar(
        self, breaks: tuple[tuple[int, int], ...] = (), *, days_off: tuple[int, ...] = (), overtime: bool = False
    ) -> Calendar:
        """A calendar with breaks (minutes after opening, start and end) on every day it is open."""
        windows: list[Window] = []
        last_end_wall = -ALWAYS_CLOSED_BEFORE_MIN
        for day, (start_tau, stretch) in enumerate(zip(self.day_starts_tau, self.clock.stretches, strict=True)):
            if day in days_off:
                continue
            edges = [0, *[edge for pair in breaks for edge in pair], DAY_MIN]
            pieces = [(edges[i], edges[i + 1], None) for i in range(0, len(edges), 2)]
            if overtime and self.has_overtime:
                pieces.append((DAY_MIN, DAY_MIN + OVERTIME_MIN, f"evening {day}"))
            for start, end, block in pieces:
                stop = stretch.wall_start_min + start - last_end_wall
                last_end_wall = stretch.wall_start_min + end
                windows.append(
                    Window(
                        start_tau=start_tau + start, end_tau=start_tau + end, stop_before_min=stop, overtime_id=block
                    )
                )
        return Calendar(windows=tuple(windows))

    def _presses(self) -> tuple[PressLine, ...]:
        rng = self.rng
        lines = []
        shared_dryer = rng.random() < 0.7
        for number in range(rng.randint(*self.size.presses)):
            lunch = rng.choice([(), ((300, 330),), ((270, 330),), ((240, 300),)])
            lines.append(
                PressLine(
                    press_id=f"press-{number + 1}",
                    name=f"press {number + 1}",
                    head_count=rng.randint(3, 5),
                    calendar=self._calendar(lunch, overtime=True),
                    restart=Restart(break_min=rng.choice([0, 3]), night_min=rng.choice([0, 8, 12])),
                    set_up=SetUpMinutes(
                        mount_min=rng.randint(3, 8),
                        load_min=rng.randint(1, 4),
                        card_min=rng.randint(0, 2),
                        swap_min=rng.choice([None, None, 2]),
                        clean_light_min=rng.randint(2, 6),
                        clean_dark_min=rng.randint(6, 12),
                        pallet_min=rng.randint(0, 8),
                        flash_move_min=rng.randint(0, 4),
                        strike_off_min=rng.randint(0, 10),
                    ),
                    set_up_crew=(("print", 1),),
                    run_crew=(("print", 1),) if rng.random() < 0.5 else (("print", 1), ("catch", 1)),
                    dryer_id=f"dryer-{1 if shared_dryer else number + 1}",
                    set_up_cents_per_min=rng.randint(20, 80),
                    now_on=rng.choice(
                        [Stack(), Stack(heads=(StackHead(screen_id="old:1", ink_id=rng.choice(["white", "black"])),))]
                    ),
                )
            )
        return tuple(lines)

    def _people(self) -> tuple[Person, ...]:
        rng = self.rng
        everyone = frozenset({"print", "catch", "screens", "pack"})
        people = []
        for number in range(rng.randint(*self.size.people)):
            roles = everyone if number == 0 else frozenset(rng.sample(sorted(everyone), rng.randint(1, 3)))
            days_off = (rng.randrange(1, self.size.days),) if number > 1 and rng.random() < 0.3 else ()
            presses = frozenset({"press-1"}) if number > 1 and rng.random() < 0.3 else frozenset[str]()
            people.append(
                Person(
                    person_id=f"p{number + 1}",
                    name=f"Person {number + 1}",
                    roles=roles,
                    press_ids=presses,
                    calendar=self._calendar(rng.choice([(), ((300, 330),)]), days_off=days_off, overtime=True),
                )
            )
        # Somebody must be able to catch beside the one who prints, else half the weeks have no plan.
        if not any("catch" in person.roles for person in people[1:]) or rng.random() < 0.5:
            people.append(
                Person(
                    person_id="p9",
                    name="Person 9",
                    roles=frozenset({"catch", "pack", "screens"}),
                    press_ids=frozenset(),
                    calendar=self._calendar(overtime=True),
                )
            )
        return tuple(people)

    def _screen_room(self) -> ScreenRoomLine:
        rng = self.rng
        coats, blocks = [], []
        for day, start_tau in enumerate(self.day_starts_tau):
            next_tau = self.day_starts_tau[day + 1] if day + 1 < len(self.day_starts_tau) else self.clock.horizon_tau
            coats.append(
                CoatWindow(
                    window_id=f"coat {day}",
                    start_tau=start_tau + DAY_MIN - 30,
                    end_tau=start_tau + DAY_MIN,
                    ready_tau=next_tau,
                    places=rng.randint(2, 6),
                )
            )
            blocks.append(
                ReclaimBlock(
                    block_id=f"reclaim {day}",
                    start_tau=start_tau + DAY_MIN - 90,
                    end_tau=start_tau + DAY_MIN - 60,
                    places=rng.randint(2, 6),
                )
            )
        return ScreenRoomLine(
            calendar=self._calendar(rng.choice([(), ((300, 330),)])),
            crew=(("screens", 1),),
            exposure_units=rng.choice([1, 1, 2]),
            rack_places=rng.randint(4, 8),
            dry_min=rng.choice([20, 45, 90]),
            idle_ok_min=35,
            burn_cents_per_screen=rng.randint(300, 900),
            coat_windows=tuple(coats),
            reclaim_blocks=tuple(blocks),
        )

    def _sets(self, count: int) -> tuple[ScreenSet, ...]:
        rng = self.rng
        found = []
        for number in range(count):
            screens = rng.randint(1, 3)
            frame_class = rng.choice(["156", "156", "230"])
            found.append(
                ScreenSet(
                    set_id=f"set-{number + 1}",
                    design_id=f"design-{number + 1}",
                    screen_ids=tuple(f"set-{number + 1}:{i + 1}" for i in range(screens)),
                    frames=((frame_class, screens),),
                    burn_min=10 + 8 * screens,
                    tape_min=rng.choice([0, 3 * screens]),
                    is_burned_now=rng.random() < 0.2,
                )
            )
        return tuple(found)

    def _run(self, number: int, one: ScreenSet, order_id: str, lot_id: str, presses: tuple[PressLine, ...]) -> Run:
        rng = self.rng
        inks = [rng.choice(INKS).ink_id for _ in one.screen_ids]
        start = 1 if len(inks) > 1 and rng.random() < 0.25 else 0  # the light lot: first screen off
        heads = tuple(
            StackHead(screen_id=screen, ink_id=ink)
            for screen, ink in list(zip(one.screen_ids, inks, strict=True))[start:]
        )
        dries = any(ink.dries for ink in INKS if ink.ink_id in {head.ink_id for head in heads})
        flash = (0,) if rng.random() < 0.3 else ()
        pieces = rng.randint(24, 400)
        choices = []
        for press in presses:
            needed = len(heads) + (len(flash) if rng.random() < 0.5 else 0)
            if needed > press.head_count or (choices and rng.random() < 0.3):
                continue
            print_min = max(5, pieces * 60 // rng.randint(60, 300))
            print_min = min(print_min, 180) if dries else print_min
            choices.append(
                PressChoice(
                    press_id=press.press_id,
                    stack=Stack(
                        set_id=one.set_id,
                        heads=heads,
                        flash_after=flash,
                        pallet=rng.choice(["adult", "adult", "youth"]),
                    ),
                    heads_needed=needed,
                    print_min=print_min,
                    part_min=(print_min,),
                    rate_pcs_h=max(1, pieces * 60 // print_min),
                    wash_up_min=5 if dries else 0,
                    set_up_extra_min=rng.choice([0, 0, 0, 6]),
                    belt_permille=rng.choice([300, 450, 600, 800, 1000]),
                    stated_set_up_min=rng.choice([None] * 9 + [12]),
                )
            )
        return Run(
            run_id=f"r{number}",
            order_id=order_id,
            design_id=one.design_id,
            location=f"place {number}",
            set_id=one.set_id,
            parts=(Part(lot_id=lot_id, garment="tee", pieces=pieces),),
            choices=tuple(choices),
            blanks_tau=rng.choice([0, 0, 0, rng.randrange(self.day_starts_tau[1])]),
            art_tau=rng.choice([0, 0, 0, rng.randrange(300)]),
            idle_ok_min=40 if dries else None,
            cure_min=3,
            between_min=rng.choice([0, 0, 15]),
        )

    def _orders(self, runs: list[Run]) -> tuple[OrderDue, ...]:
        rng = self.rng
        found = []
        for order_id in sorted({run.order_id for run in runs}):
            pickups = [start + rng.choice([DAY_MIN - 120, DAY_MIN]) for start in self.day_starts_tau]
            pickups.append(self.clock.horizon_tau)
            found.append(
                OrderDue(
                    order_id=order_id,
                    client=f"client {order_id}",
                    firmness=rng.choice(["firm", "normal", "easy"]),
                    run_ids=tuple(run.run_id for run in runs if run.order_id == order_id),
                    pickups_tau=tuple(sorted(set(pickups))),
                    must_leave=rng.randrange(min(3, self.size.days - 1)),
                    late_cents=rng.choice([500, 2000, 8000]),
                    cushion_min=240,
                    cushion_cents=rng.choice([0, 300]),
                    finish_min=rng.choice([0, 15, 60]),
                    finish_lag_min=rng.choice([0, 10]),
                    last_box_min=rng.choice([0, 5]),
                )
            )
        return tuple(found)

    def week(self) -> Week:
        rng = self.rng
        presses = self._presses()
        sets = self._sets(max(1, self.run_count * 2 // 3))
        runs: list[Run] = []
        order_number = 0
        while len(runs) < self.run_count:
            if not runs or rng.random() < 0.6:
                order_number += 1
            order_id = f"order-{order_number:02d}"
            lot_id = f"{order_id} lot {rng.choice([1, 1, 2])}"
            run = self._run(len(runs) + 1, rng.choice(sets), order_id, lot_id, presses)
            if run.choices:
                runs.append(run)
        if len(runs) > 2 and runs[0].order_id == runs[1].order_id and rng.random() < 0.5:
            runs[1] = Run(**{**_fields(runs[1]), "print_after": (runs[0].run_id,)})
        room = self._screen_room()
        used = {run.set_id for run in runs}
        reservations = [
            Reservation(role="screens", count=1, start_tau=one.start_tau, end_tau=one.end_tau, what=what)
            for what, booked in (("coating", room.coat_windows), ("reclaiming", room.reclaim_blocks))
            for one in booked
        ]
        return Week(
            clock=self.clock,
            presses=presses,
            runs=tuple(runs),
            orders=self._orders(runs),
            inks=INKS,
            sets=tuple(one for one in sets if one.set_id in used),
            frames=tuple(
                FrameStock(
                    class_id=name, name=f"mesh {name}", coated_now=rng.randint(1, 5), clean_now=rng.randint(1, 5)
                )
                for name in ("156", "230")
            ),
            screen_room=room,
            staging=FloorLine(calendar=self._calendar(), crew=(("catch", 1),), minutes=rng.choice([0, 5]))
            if rng.random() < 0.6
            else None,
            finishing=FloorLine(calendar=self._calendar(((300, 330),)), crew=(("pack", 1),)),
            people=self._people(),
            reservations=tuple(reservations),
            overtime=self._overtime(),
            early_reclaims=(("reclaim 0", "156", 1),) if rng.random() < 0.2 else (),
            fixings=self._fixings(runs),
            announced=self._announced(runs),
            prices=Prices(move_cents=rng.choice([0, 700]), move_free_min=30),
        )

    def _overtime(self) -> tuple[OvertimeBlock, ...]:
        if not self.has_overtime:
            return ()
        return tuple(
            OvertimeBlock(
                block_id=f"evening {day}",
                name=f"evening {day}",
                start_tau=start_tau + DAY_MIN,
                end_tau=start_tau + DAY_MIN + OVERTIME_MIN,
                price_cents=self.rng.choice([800, 3000]),
                after_id=f"evening {day - 1}" if day and self.rng.random() < 0.2 else None,
            )
            for day, start_tau in enumerate(self.day_starts_tau)
        )

    def _fixings(self, runs: list[Run]) -> tuple[Fixing, ...]:
        rng = self.rng
        found = []
        if rng.random() < 0.2:
            first = runs[0]
            found.append(
                Fixing(
                    run_id=first.run_id,
                    kind="started",
                    press_id=first.choices[0].press_id,
                    set_up_start_tau=0,
                    set_up_left_min=rng.choice([0, 5]),
                )
            )
        if len(runs) > 2 and rng.random() < 0.25:
            last = runs[-1]
            start = rng.choice([None, self.day_starts_tau[2] + rng.randrange(200)])
            found.append(
                Fixing(run_id=last.run_id, kind="locked", press_id=last.choices[-1].press_id, set_up_start_tau=start)
            )
        return tuple(found)

    def _announced(self, runs: list[Run]) -> tuple[AnnouncedRun, ...]:
        if self.rng.random() < 0.7:
            return ()
        return tuple(
            AnnouncedRun(run_id=run.run_id, press_id=run.choices[0].press_id, set_up_start_tau=self.rng.randrange(900))
            for run in runs[1:3]
        )


def _fields(run: Run) -> dict[str, object]:
    return {name: getattr(run, name) for name in run.__dataclass_fields__}

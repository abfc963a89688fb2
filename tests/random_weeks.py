"""Seeded random weeks, small enough to prove and nasty enough to meet every rule."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.week import (
    AnnouncedRun,
    Fixing,
    FloorLine,
    FrameStock,
    OrderDue,
    Part,
    PressChoice,
    PressLine,
    Prices,
    Reservation,
    Run,
    ScreenSet,
    Stack,
    StackHead,
    Week,
)
from scheduler.workload.print_labour import with_print_cents
from tests.random_cure import with_cure
from tests.random_flashes import with_flash_pool
from tests.random_floors import DAY_MIN, INKS, DrawnFloor
from tests.random_floors import SIZES as SIZES
from tests.random_inks import with_long_drying
from tests.random_leads import with_leads
from tests.random_stations import with_stations


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


class _Draw(DrawnFloor):
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
        presses = self.drawn_presses()
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
        room = self.drawn_screen_room()
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
            staging=FloorLine(calendar=self.drawn_calendar(), crew=(("catch", 1),), minutes=rng.choice([0, 5]))
            if rng.random() < 0.6
            else None,
            finishing=FloorLine(calendar=self.drawn_calendar(((300, 330),)), crew=(("pack", 1),)),
            people=self.drawn_people(),
            reservations=tuple(reservations),
            overtime=self.drawn_overtime(),
            early_reclaims=(("reclaim 0", "156", 1),) if rng.random() < 0.2 else (),
            fixings=self._fixings(runs),
            announced=self._announced(runs),
            prices=Prices(move_cents=rng.choice([0, 700]), move_free_min=30),
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

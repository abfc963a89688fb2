"""The shop of a random week: presses, people, screen room and overtime."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, Calendar, Restart, Window
from scheduler.domain.clock import ShopClock, Stretch
from scheduler.domain.week import (
    CoatWindow,
    InkUse,
    OvertimeBlock,
    Person,
    PressLine,
    ReclaimBlock,
    ScreenRoomLine,
    SetUpMinutes,
    Stack,
    StackHead,
)

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


class DrawnFloor:
    """What stands in the shop: drawn in the order in which it is asked for."""

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

    def drawn_calendar(
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

    def drawn_presses(self) -> tuple[PressLine, ...]:
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
                    calendar=self.drawn_calendar(lunch, overtime=True),
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

    def drawn_people(self) -> tuple[Person, ...]:
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
                    calendar=self.drawn_calendar(rng.choice([(), ((300, 330),)]), days_off=days_off, overtime=True),
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
                    calendar=self.drawn_calendar(overtime=True),
                )
            )
        return tuple(people)

    def drawn_screen_room(self) -> ScreenRoomLine:
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
            calendar=self.drawn_calendar(rng.choice([(), ((300, 330),)])),
            crew=(("screens", 1),),
            exposure_units=rng.choice([1, 1, 2]),
            rack_places=rng.randint(4, 8),
            dry_min=rng.choice([20, 45, 90]),
            idle_ok_min=35,
            burn_cents_per_screen=rng.randint(300, 900),
            coat_windows=tuple(coats),
            reclaim_blocks=tuple(blocks),
        )

    def drawn_overtime(self) -> tuple[OvertimeBlock, ...]:
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

"""Seeded invented weeks of any size and load, typed as a shop would type them."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from scipy.optimize import linprog

from scheduler.domain.calendars import Restart
from scheduler.domain.orders import Imprint, Ink, Lot, Order, WeekInputs
from scheduler.domain.shop import (
    BurnedSet,
    Carrier,
    DayHours,
    Defaults,
    Dryer,
    Frames,
    InkFamily,
    OvertimeOffer,
    Press,
    ScreenRoom,
    Shop,
    Worker,
)
from scheduler.domain.week import PressLine, SetUpMinutes, Stack, Week
from scheduler.trade.set_up import pair_minutes, pair_set_up
from scheduler.workload.build import build_workload

LOADS = {"calm": 0.60, "full": 0.90, "overloaded": 1.30}
"""Press hours booked of those open until the last promised day, see `booked_share`."""

ZONE = ZoneInfo("Europe/Lisbon")
MONDAY = datetime(2026, 3, 2, 7, 0, tzinfo=ZONE)
WORKDAYS = (0, 1, 2, 3, 4)
RUNS_A_PRESS_AND_WEEK = 16
MOST_PRESSES = 6
DRYING_PIECES = 450
"""Most pieces of a run in ink that dries: it has to go through between two breaks."""

INKS = ("white", "black", "red", "royal", "gold", "navy", "green", "grey", "orange", "sky")
INK_ODDS = (30, 22, 10, 8, 8, 7, 5, 4, 3, 3)
COLOUR_ODDS = (34, 28, 18, 12, 6, 2)
"""Odds of one to six colours."""
KINDS = (("tee", 70), ("fleece", 14), ("long sleeve", 8), ("youth", 5), ("bag", 3))
FAMILIES = (("plastisol", 76), ("water-based", 15), ("discharge", 9))


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A shop's size: presses, and working days in which everything is promised."""

    runs: int

    @property
    def presses(self) -> int:
        """Presses: one for about fourteen runs a week, six at most."""
        return min(MOST_PRESSES, max(1, round(self.runs / 14)))

    @property
    def days(self) -> int:
        """Working days until the last promise, whole weeks."""
        return 5 * max(1, round(self.runs / self.presses / RUNS_A_PRESS_AND_WEEK))


def benchmark_inputs(runs: int, load: str, seed: int) -> WeekInputs:
    """A typed week of so many runs at a load of `LOADS`; the same arguments give the same week on every machine.

    The load is met by more or fewer pieces in every order.
    """
    draft = _Draw(random.Random(f"bench-{runs}-{seed}"), Size(runs=runs)).inputs()
    low, high = 0.02, 20.0
    for _ in range(9):
        middle = (low * high) ** 0.5
        if booked_share(build_workload(_scaled(draft, middle)).week, Size(runs=runs).days) < LOADS[load]:
            low = middle
        else:
            high = middle
    return _scaled(draft, (low * high) ** 0.5)


def booked_share(week: Week, days: int) -> float:
    """Least press minutes of all runs, spread as evenly as they fit, over the open minutes of the first days."""
    end_tau = week.clock.tau((days + 2 * ((days - 1) // 5)) * 1440)
    opened = {press.press_id: _open_min(press, end_tau) for press in week.presses}
    offers = [(number, choice) for number, run in enumerate(week.runs) for choice in run.choices]
    # One share per offer, then the busiest press's share of its hours, which is to be least.
    busiest = np.zeros((len(week.presses), len(offers) + 1))
    whole = np.zeros((len(week.runs), len(offers) + 1))
    for at, (number, choice) in enumerate(offers):
        minutes = week.press[choice.press_id].set_up
        empty = pair_minutes(pair_set_up(Stack(), choice.stack, minutes, week.ink), minutes, week.ink)
        press = list(opened).index(choice.press_id)
        busiest[press, at] = (empty + choice.work_min) / opened[choice.press_id]
        whole[number, at] = 1.0
    busiest[:, -1] = -1.0
    costs = np.zeros(len(offers) + 1)
    costs[-1] = 1.0
    found = linprog(costs, A_ub=busiest, b_ub=np.zeros(len(opened)), A_eq=whole, b_eq=np.ones(len(week.runs)))
    return float(found.fun)


def _open_min(press: PressLine, end_tau: int) -> int:
    windows = [one for one in press.calendar.windows if one.overtime_id is None and one.start_tau < end_tau]
    return sum(min(one.end_tau, end_tau) - one.start_tau for one in windows)


def _scaled(inputs: WeekInputs, factor: float) -> WeekInputs:
    dries = {
        lot_id
        for imprint in inputs.imprints
        if any(ink.family != "plastisol" for ink in imprint.inks)
        for lot_id in imprint.lot_ids
    }
    lots = []
    for lot in inputs.lots:
        pieces = max(6, round(lot.pieces * factor))
        lots.append(replace(lot, pieces=min(pieces, DRYING_PIECES) if lot.lot_id in dries else pieces))
    return replace(inputs, lots=tuple(lots))


class _Draw:
    def __init__(self, rng: random.Random, size: Size) -> None:
        self.rng = rng
        self.size = size
        self.designs: list[tuple[str, tuple[Ink, ...]]] = []

    def inputs(self) -> WeekInputs:
        orders: list[Order] = []
        lots: list[Lot] = []
        imprints: list[Imprint] = []
        left = self.size.runs
        while left:
            order, own_lots, own_imprints = self._order(len(orders) + 1, left)
            left -= sum(len({self._shade(own_lots, lot_id) for lot_id in one.lot_ids}) for one in own_imprints)
            orders.append(order)
            lots += own_lots
            imprints += own_imprints
        shop = _shop(self.size, self._burned())
        return WeekInputs(shop=shop, orders=tuple(orders), lots=tuple(lots), imprints=tuple(imprints))

    @staticmethod
    def _shade(lots: list[Lot], lot_id: str) -> str:
        return next(lot.shade for lot in lots if lot.lot_id == lot_id)

    def _order(self, number: int, most_runs: int) -> tuple[Order, list[Lot], list[Imprint]]:
        rng = self.rng
        order_id = f"{1000 + number}"
        day = min(self.size.days, 1 + int(rng.betavariate(1.6, 1.3) * self.size.days))
        by_parcel = rng.random() < 0.3
        order = Order(
            order_id=order_id,
            client=f"Client {number}",
            due_at=_working_day(day),
            firmness=rng.choices(["firm", "normal", "easy"], [20, 60, 20])[0],
            carrier="Parcel" if by_parcel else None,
        )
        shades = ["dark", "light"] if most_runs > 1 and rng.random() < 0.25 else [rng.choice(["dark", "dark", "light"])]
        places = min(rng.choices([1, 2, 3], [50, 40, 10])[0], most_runs // len(shades))
        arrives = _working_day(max(1, day - rng.randint(1, 3)), 9) if day > 2 and rng.random() < 0.2 else None
        kind = rng.choices([name for name, _ in KINDS], [odds for _, odds in KINDS])[0]
        lots = [
            Lot(
                lot_id=f"{order_id} {shade}",
                order_id=order_id,
                garment=f"{shade} {kind}",
                kind=kind,
                shade=shade,
                pieces=round(rng.lognormvariate(5.2, 0.8)),
                blanks_at=arrives,
            )
            for shade in shades
        ]
        imprints = []
        for place in ("front", "back", "sleeve")[:places]:
            design_id, inks = self._design(f"{order_id} {place}")
            imprints.append(
                Imprint(
                    order_id=order_id,
                    location=place,
                    design_id=design_id,
                    inks=inks,
                    lot_ids=tuple(lot.lot_id for lot in lots),
                )
            )
        return order, lots, imprints

    def _design(self, name: str) -> tuple[str, tuple[Ink, ...]]:
        """A new design, or one ordered before, in the same inks."""
        rng = self.rng
        if self.designs and rng.random() < 0.15:
            return rng.choice(self.designs)
        family = rng.choices([one for one, _ in FAMILIES], [odds for _, odds in FAMILIES])[0]
        count = min(rng.choices(range(1, 7), COLOUR_ODDS)[0], 4 if self.size.presses == 1 else 6)
        names: list[str] = []
        while len(names) < count:
            ink = rng.choices(INKS, INK_ODDS)[0]
            if ink not in names:
                names.append(ink)
        design = (name, tuple(Ink(name=ink, family=family) for ink in sorted(names, key=INKS.index)))
        self.designs.append(design)
        return design

    def _burned(self) -> tuple[BurnedSet, ...]:
        """Screens of a few old designs hang and wait to be reclaimed."""
        count = self.size.presses
        return tuple(
            BurnedSet(design_id=f"old {number}", frames=(("23x31", 156, 1), ("23x31", 230, 2)), to_reclaim=True)
            for number in range(count)
        )


def _working_day(number: int, hour: int | None = None) -> date | datetime:
    """The first, second, ... working day, or a moment on it."""
    day = MONDAY + timedelta(days=number - 1 + 2 * ((number - 1) // 5))
    return day.date() if hour is None else day.replace(hour=hour)


def _press(number: int, count: int) -> Press:
    is_manual = count >= 3 and number == count - 1
    heads = 6 if is_manual else (10, 8, 12, 8, 10)[number % 5]
    return Press(
        press_id=f"p{number + 1}",
        name=f"press {number + 1}",
        kind="manual" if is_manual else "automatic",
        heads=heads,
        flash_place="over a pallet" if is_manual or heads == 8 else "in a head",
        flashes=1 if heads < 10 else 2,
        stated_pcs_h=70 if is_manual else None,
        stroke_s=4.0,
        dryer_id=f"d{number // 2 + 1}",
        set_up=SetUpMinutes(
            mount_min=5 if is_manual else 4,
            load_min=2,
            card_min=1,
            swap_min=1 if heads >= 10 else None,
            clean_light_min=3,
            clean_dark_min=5,
            pallet_min=8,
            flash_move_min=2,
            strike_off_min=4 if is_manual else 6,
        ),
        restart=Restart(break_min=3, night_min=8),
        run_crew=(("print", 1),) if is_manual else (("print", 1), ("catch", 1)),
    )


def _people(presses: int) -> tuple[Worker, ...]:
    """Printers and catchers for every press, one more of each for three, and as many for screens and packing."""
    more = 1 + presses // 3
    teams = {
        "printer": (("print", "stage"), presses),
        "catcher": (("catch", "stage"), presses),
        "screen tech": (("screens",), more),
        "packer": (("pack", "catch"), more + presses // 2),
    }
    return tuple(
        Worker(person_id=f"{title} {number + 1}", name=f"{title} {number + 1}", roles=roles)
        for title, (roles, count) in teams.items()
        for number in range(count)
    )


def _shop(size: Size, burned: tuple[BurnedSet, ...]) -> Shop:
    presses = size.presses
    per_class = 30 + 42 * presses
    evening = (MONDAY + timedelta(days=2)).date()
    return Shop(
        name="Invented",
        zone="Europe/Lisbon",
        plan_from=MONDAY,
        days_ahead=size.days * 3 + 8,
        hours=(DayHours(weekdays=WORKDAYS, from_min=420, to_min=930, breaks=((720, 750),)),),
        presses=tuple(_press(number, presses) for number in range(presses)),
        dryers=tuple(
            Dryer(dryer_id=f"d{number + 1}", name=f"dryer {number + 1}", heated_length_in=288.0, belt_width_in=72.0)
            for number in range((presses + 1) // 2)
        ),
        people=_people(presses),
        screen_room=ScreenRoom(
            exposure_units=1 + presses // 4,
            per_exposure=2,
            expose_min=3.0,
            wash_out_min=3.0,
            dry_min=40,
            tape_each_min=1.0,
            rack_places=12 + 8 * presses,
            coat_from_min=840,
            coat_each_min=1.0,
            coat_places=16 + 14 * presses,
            reclaim_from_min=750,
            reclaim_each_min=1.5,
        ),
        frames=tuple(Frames(size="23x31", mesh=mesh, count=per_class, coated=per_class // 3) for mesh in (156, 230)),
        burned=burned,
        carriers=(Carrier(name="Parcel", weekdays=WORKDAYS, pick_up_min=900, transit_days=1),),
        overtime=(
            OvertimeOffer(day=evening, from_min=930, to_min=1050, price_cents=15_000 * presses),
            OvertimeOffer(day=evening + timedelta(days=1), from_min=930, to_min=1050, price_cents=15_000 * presses),
        ),
        families=(
            InkFamily(name="plastisol", tunnel_s=60, flash_s=6.0),
            InkFamily(name="water-based", tunnel_s=120, flash_s=9.0, idle_ok_min=15),
            InkFamily(name="discharge", tunnel_s=130, flash_s=9.0, idle_ok_min=15),
        ),
        defaults=Defaults(finish_each_s=5.0),
        stage_min=6,
        stage_crew=(("stage", 1),),
        finish_crew=(("pack", 1),),
    )

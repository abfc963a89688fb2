"""Seeded random typed shops and their orders: everything a sheet can say, in shops of one to five people."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from scheduler.domain.calendars import Restart
from scheduler.domain.orders import Imprint, Ink, Lot, Order, Progress, WeekInputs
from scheduler.domain.shop import (
    BurnedSet,
    Carrier,
    Closure,
    Defaults,
    Dryer,
    Frames,
    NowOn,
    OvertimeOffer,
    Press,
    ScreenRoom,
    Shop,
    Worker,
)
from scheduler.domain.week import SetUpMinutes
from scheduler.inputs.splitting import NOT_SPLIT, cut_lots
from tests.workload import shops

INKS = ("white", "red", "navy", "yellow", "black", "green")
VAN = Carrier(name="Van", weekdays=shops.WORKDAYS, pick_up_min=960, transit_days=1)


def random_inputs(seed: int) -> WeekInputs:
    """A typed week drawn from `seed`; the same seed gives the same week on every machine."""
    inputs = _Draw(random.Random(f"typed-{seed}")).inputs()
    inputs = _with_splits(inputs, random.Random(f"split-{seed}"))
    return shops.with_shop(inputs, room_kept_free_min=random.Random(f"room-{seed}").choice([0, 0, 30, 45, 120]))


class _Draw:
    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.has_people = rng.random() < 0.75
        self.start = shops.at(rng.choice([2, 3, 26, 27]), rng.choice(["07:00", "08:00", "11:30"]))
        self.first = self.start.date()
        self.hours = rng.choice(
            [
                shops.hours("08:00", "17:00", ("12:00", "12:30")),
                shops.hours("07:00", "15:30"),
                shops.hours("06:00", "22:00", ("10:00", "10:15"), ("18:00", "18:30")),
                shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS),
            ]
        )

    def _moment(self, most_days: int) -> datetime:
        day = self.first + timedelta(days=self.rng.randint(0, most_days))
        return datetime(day.year, day.month, day.day, self.rng.randint(7, 16), tzinfo=self.start.tzinfo)

    def _presses(self) -> tuple[Press, ...]:
        rng = self.rng
        crew = (("print", 1),) if self.has_people else ()
        found = []
        for number in range(rng.randint(1, 3)):
            is_manual = rng.random() < 0.4
            found.append(
                Press(
                    press_id=f"press-{number + 1}",
                    name=f"press {number + 1}",
                    kind="manual" if is_manual else "automatic",
                    heads=rng.randint(4, 6) if is_manual else rng.randint(6, 10),
                    flash_place=rng.choice(["over a pallet", "in a head", "between heads"]),
                    flashes=rng.randint(1, 2),
                    cool_down_head=rng.random() < 0.3,
                    stated_pcs_h=rng.choice([None, 60 if is_manual else 380]),
                    dryer_id="dryer" if rng.random() < 0.8 else None,
                    set_up=SetUpMinutes(
                        mount_min=rng.randint(3, 9),
                        load_min=2,
                        card_min=1,
                        swap_min=rng.choice([None, 2]),
                        clean_light_min=4,
                        clean_dark_min=8,
                        flash_move_min=1,
                        strike_off_min=5,
                    ),
                    restart=Restart(break_min=2, night_min=6),
                    set_up_crew=crew,
                    run_crew=crew,
                    now_on=NowOn(design_id=None, inks=("black",)) if rng.random() < 0.5 else None,
                )
            )
        return tuple(found)

    def _people(self) -> tuple[Worker, ...]:
        if not self.has_people:
            return ()
        found = [Worker(person_id="ana", name="Ana", roles=("print", "screens", "pack"))]
        for number in range(self.rng.randint(0, 4)):
            roles = self.rng.choice([("print",), ("screens", "pack"), ("print", "screens")])
            hours = self.rng.choice([None, shops.hours("09:00", "16:00", ("12:30", "13:00"))])
            off = (self.first + timedelta(days=1),) if self.rng.random() < 0.3 else ()
            found.append(
                Worker(person_id=f"p{number}", name=f"Person {number}", roles=roles, hours=hours, days_off=off)
            )
        return tuple(found)

    def _shop(self) -> Shop:
        rng = self.rng
        more: dict[str, Any] = {}
        crew = (("screens", 1),) if self.has_people else ()
        if rng.random() < 0.8:
            more["screen_room"] = ScreenRoom(
                crew=crew, per_exposure=rng.randint(1, 2), ready_after_min=rng.choice([None, 90])
            )
            more["frames"] = rng.choice(
                [
                    (),
                    (
                        Frames(size="23x31", mesh=156, count=30, coated=8),
                        Frames(size="23x31", mesh=230, count=40, coated=9),
                    ),
                ]
            )
            more["burned"] = (BurnedSet(design_id="old", frames=(("23x31", 156, 2),), to_reclaim=True),)
        if rng.random() < 0.4:
            day = self.first + timedelta(days=1)
            more["overtime"] = (
                OvertimeOffer(day=day, from_min=1320, to_min=1380, price_cents=4000),
                OvertimeOffer(day=day, from_min=1380, to_min=1440, price_cents=4000),
            )
        if rng.random() < 0.3:
            at = self._moment(4)
            more["closures"] = (Closure(what="press-1", from_at=at, to_at=at + timedelta(hours=5), why="motor"),)
        return Shop(
            name="Random",
            zone=shops.ZONE,
            plan_from=self.start,
            days_ahead=rng.randint(9, 14),
            hours=self.hours,
            presses=self._presses(),
            dryers=(Dryer(dryer_id="dryer", name="dryer", heated_length_in=96, belt_width_in=rng.choice([24, 44])),),
            people=self._people(),
            carriers=(VAN,),
            defaults=Defaults(
                white_on_dark=rng.choice(["two screens", "same screen twice"]), finish_each_s=rng.choice([0.0, 12.0])
            ),
            stage_min=rng.choice([0, 8]),
            stage_crew=crew,
            finish_crew=(("pack", 1),) if self.has_people else (),
            dont_touch_before=None,
            **more,
        )

    def _inks(self) -> tuple[Ink, ...]:
        family = "water-based" if self.rng.random() < 0.2 else None
        names = self.rng.sample(INKS, self.rng.randint(1, 3))
        return tuple(Ink(name=name, family=family, hits=2 if self.rng.random() < 0.1 else 1) for name in names)

    def _order(self, number: int) -> tuple[Order, list[Lot], list[Imprint]]:
        rng = self.rng
        order_id = str(100 + number)
        due: date = self.first + timedelta(days=rng.randint(-1, 12))
        order = Order(
            order_id=order_id,
            client=f"Client {number}",
            due_at=due if rng.random() < 0.8 else self._moment(8),
            due_kind=rng.choice(["leaves", "in_hands"]),
            carrier=rng.choice([None, "Van"]),
            firmness=rng.choice([None, "firm", "easy"]),
        )
        lots = [
            Lot(
                lot_id=f"{order_id} lot {at}",
                order_id=order_id,
                garment=f"garment {at}",
                kind=rng.choice(["tee", "fleece", "bag"]),
                shade=rng.choice(["light", "dark"]),
                pieces=rng.randint(12, 150),
                blanks_at=self._moment(3) if rng.random() < 0.2 else None,
                is_waiting=rng.random() < 0.04,
            )
            for at in range(rng.randint(1, 3))
        ]
        imprints = [
            Imprint(
                order_id=order_id,
                location=location,
                design_id=f"{order_id} {location}",
                inks=self._inks(),
                lot_ids=tuple(lot.lot_id for lot in lots),
                art_at=self._moment(2) if rng.random() < 0.2 else None,
                print_after=("front",) if location == "back" and rng.random() < 0.5 else (),
                approval_at_press=rng.random() < 0.1,
                lock_at=self._moment(5) if rng.random() < 0.06 else None,
                lock_press="press-1" if rng.random() < 0.06 else None,
            )
            for location in ("front", "back")[: rng.randint(1, 2)]
        ]
        return order, lots, imprints

    def inputs(self) -> WeekInputs:
        """The shop, its orders and perhaps a run that has started."""
        shop = self._shop()
        orders, lots, imprints = [], [], []
        for number in range(self.rng.randint(2, 7)):
            order, own_lots, own_imprints = self._order(number)
            orders.append(order)
            lots.extend(own_lots)
            imprints.extend(own_imprints)
        progress = ()
        if self.rng.random() < 0.3:
            progress = (
                Progress(
                    order_id=orders[0].order_id,
                    location="front",
                    shade=lots[0].shade,
                    press_id="press-1",
                    started_at=self.start,
                    pieces_left=self.rng.randint(1, 12),
                    set_up_left_min=self.rng.choice([0, 5]),
                ),
            )
        return WeekInputs(
            shop=shop, orders=tuple(orders), lots=tuple(lots), imprints=tuple(imprints), progress=progress
        )


def _with_splits(inputs: WeekInputs, rng: random.Random) -> WeekInputs:
    """In a share of weeks some fronts are split in two, half of them with a second set of screens."""
    if rng.random() < 0.6:
        return inputs
    lots, imprints = [], []
    for order in inputs.orders:
        own = [lot for lot in inputs.lots if lot.order_id == order.order_id]
        prints = [one for one in inputs.imprints if one.order_id == order.order_id]
        total = sum(lot.pieces for lot in own)
        first = rng.randint(1, total - 1)
        is_split = rng.random() < 0.5
        splits = [((first, total - first), rng.randint(1, 2)) if is_split else NOT_SPLIT, *[NOT_SPLIT] * len(prints)]
        cut, cut_prints = cut_lots(own, prints, splits[: len(prints)])
        lots.extend(cut)
        imprints.extend(cut_prints)
    return replace(inputs, lots=tuple(lots), imprints=tuple(imprints))

"""A small shop with one order that stands in the morning, and its plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

from scheduler import api
from scheduler.domain.answers import Answers
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import Frames, MoneySettings
from scheduler.domain.week import SetUpMinutes
from scheduler.domain.what_if import Rush, WhatIf
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.workload import shops

SET_UP = SetUpMinutes(mount_min=5, load_min=2, clean_light_min=3, clean_dark_min=4, strike_off_min=6)
QUICK = SearchSettings(iterations=60, workers=1)


def shop_inputs(orders: int = 1, **more: Any) -> WeekInputs:
    """One automatic and a screen room; `orders` orders of 400 pieces, an hour each, all due on Tuesday."""
    press = shops.press(set_up=SET_UP, set_up_crew=(("print", 1),), run_crew=(("print", 1),))
    known: dict[str, Any] = {
        "screen_room": shops.room(dry_min=30),
        "frames": (
            Frames(size="23x31", mesh=156, count=30, coated=20),
            Frames(size="23x31", mesh=230, count=30, coated=20),
        ),
        "money": MoneySettings(person_hour_cents=2_400, cushion_cents=0),
    }
    shop = shops.shop(press, **{**known, **more})
    ids = [str(number) for number in range(1, orders + 1)]
    return shops.week_inputs(
        shop,
        orders=tuple(shops.order(one, date(2026, 3, 3)) for one in ids),
        lots=tuple(shops.lot(f"{one} tee", order_id=one, pieces=400, shade="light") for one in ids),
        imprints=tuple(shops.imprint("red", order_id=one, lot_ids=(f"{one} tee",)) for one in ids),
        digest="small",
    )


def rush(order_id: str = "R", pieces: int = 200, due: date | datetime = date(2026, 3, 3), **more: Any) -> Rush:
    """An order of blue on light tees, half an hour of printing."""
    lot_id = f"{order_id} tee"
    return Rush(
        order=shops.order(order_id, due, **more),
        lots=(shops.lot(lot_id, order_id=order_id, pieces=pieces, shade="light"),),
        imprints=(shops.imprint("blue", order_id=order_id, lot_ids=(lot_id,)),),
    )


def plan_of(inputs: WeekInputs) -> Plan:
    """The first plan of a week."""
    found = first_plan(api.build_workload(inputs).week)
    assert isinstance(found, Decoded)
    return found.plan


def ask(inputs: WeekInputs, *what_ifs: WhatIf, plan: Plan | None = None, **more: Any) -> Answers:
    """The answers to what-ifs tried on a plan of these inputs."""
    settings = more.pop("settings", QUICK)
    return api.ask_what_if(inputs, plan or plan_of(inputs), what_ifs, settings, **more)


def with_shop(inputs: WeekInputs, **more: Any) -> WeekInputs:
    """The same week in a shop that differs in these settings."""
    return replace(inputs, shop=replace(inputs.shop, **more))

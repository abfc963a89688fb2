"""Typed shops for tests: one automatic, plain hours, nothing that costs minutes unless a test says so.

The default shop opens Monday to Friday 08:00 to 17:00 without breaks and is planned from Monday 2 March 2026, 08:00,
for seven days: day d covers shop minutes [540 * d, 540 * (d + 1)).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from scheduler.domain.orders import Imprint, Ink, Lot, Order, WeekInputs
from scheduler.domain.shop import DayHours, Defaults, Hours, Press, ScreenRoom, Shop, Worker

DAY_MIN = 540
ZONE = "Europe/Lisbon"
WORKDAYS = (0, 1, 2, 3, 4)
ALL_DAYS = (0, 1, 2, 3, 4, 5, 6)


def at(day: int, clock_time: str = "08:00", month: int = 3, zone: str = ZONE) -> datetime:
    """A local moment in 2026, March unless said otherwise."""
    hour, minute = clock_time.split(":")
    return datetime(2026, month, day, int(hour), int(minute), tzinfo=ZoneInfo(zone))


def hours(
    start: str = "08:00",
    end: str = "17:00",
    *breaks: tuple[str, str],
    weekdays: tuple[int, ...] = WORKDAYS,
) -> Hours:
    """Hours as (from, to) with breaks, Monday to Friday."""
    return (
        DayHours(
            weekdays=weekdays,
            from_min=clock_min(start),
            to_min=clock_min(end),
            breaks=tuple((clock_min(one), clock_min(other)) for one, other in breaks),
        ),
    )


def clock_min(clock_time: str) -> int:
    """Minute of the day of "HH:MM"; 24:00 is 1440."""
    hour, minute = clock_time.split(":")
    return int(hour) * 60 + int(minute)


def press(press_id: str = "auto-1", **more: Any) -> Press:
    """An eight-head automatic at a stated 400 an hour, run by nobody in particular."""
    known: dict[str, Any] = {
        "name": press_id,
        "kind": "automatic",
        "heads": 8,
        "stated_pcs_h": 400,
        "flashes": 2,
        "set_up_crew": (),
        "run_crew": (),
    }
    return Press(press_id=press_id, **{**known, **more})


def manual(press_id: str = "manual-1", **more: Any) -> Press:
    """A six-screen manual at 60 an hour."""
    return press(press_id, **{"kind": "manual", "heads": 6, "flashes": 1, "stated_pcs_h": 60, **more})


def shop(*presses: Press, **more: Any) -> Shop:
    """A shop that packs in no time and has no screen room unless told."""
    known: dict[str, Any] = {
        "name": "Test shop",
        "zone": ZONE,
        "plan_from": at(2),
        "days_ahead": 7,
        "hours": hours(),
        "presses": presses or (press(),),
        "defaults": Defaults(finish_each_s=0.0),
    }
    return Shop(**{**known, **more})


def solo(**more: Any) -> Worker:
    """The one person who does everything."""
    return Worker(person_id="ana", name="Ana", **{"roles": ("print", "screens", "pack"), **more})


def room(**more: Any) -> ScreenRoom:
    """A screen room nobody needs to be booked for."""
    return ScreenRoom(**{"crew": (), **more})


def order(order_id: str = "1", due: datetime | date = date(2026, 3, 6), **more: Any) -> Order:
    """An order due Friday."""
    return Order(order_id=order_id, client="Client", due_at=due, **more)


def lot(lot_id: str = "1 navy tee", *, order_id: str = "1", shade: str = "dark", pieces: int = 100, **more: Any) -> Lot:
    """A hundred dark tees, in."""
    known: dict[str, Any] = {"garment": lot_id, "kind": "tee", "is_counted": True}
    return Lot(lot_id=lot_id, order_id=order_id, shade=shade, pieces=pieces, **{**known, **more})


def imprint(*inks: str | Ink, order_id: str = "1", location: str = "front", **more: Any) -> Imprint:
    """A print of these inks (red and yellow if none are named) on lot "1 navy tee"."""
    known: dict[str, Any] = {"design_id": f"{order_id} {location}", "lot_ids": ("1 navy tee",)}
    named = inks or ("red", "yellow")
    return Imprint(
        order_id=order_id,
        location=location,
        inks=tuple(ink if isinstance(ink, Ink) else Ink(name=ink) for ink in named),
        **{**known, **more},
    )


def week_inputs(
    in_shop: Shop | None = None,
    *,
    orders: tuple[Order, ...] | None = None,
    lots: tuple[Lot, ...] | None = None,
    imprints: tuple[Imprint, ...] | None = None,
    **more: Any,
) -> WeekInputs:
    """One order of one print on one lot, in a plain shop."""
    return WeekInputs(
        shop=in_shop or shop(),
        orders=(order(),) if orders is None else orders,
        lots=(lot(),) if lots is None else lots,
        imprints=(imprint(),) if imprints is None else imprints,
        **more,
    )


def with_shop(inputs: WeekInputs, **more: Any) -> WeekInputs:
    """The same week in a shop that differs in these settings."""
    return replace(inputs, shop=replace(inputs.shop, **more))

"""Random weeks in which some orders go to stations before their prints or after them, or are sent out for days."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.calendars import Calendar
from scheduler.domain.stations import StationLine, StationStep
from scheduler.domain.week import OrderDue, Week

SHARE = 0.35
"""Share of random weeks with stations; the others are as they were without this file."""
EMBROIDERY, OUTWORK = "embroidery", "outwork"


def with_stations(week: Week, rng: random.Random) -> Week:
    """The week with an embroidery machine and work sent out, in a share of weeks."""
    if rng.random() >= SHARE:
        return week
    hours = next(one.calendar for one in (week.finishing, week.staging) if one is not None)
    crew = (("pack", 1),) if rng.random() < 0.5 else ()
    stations = (
        StationLine(station_id=EMBROIDERY, name=EMBROIDERY, calendar=hours, crew=crew, units=rng.choice([1, 1, 1, 2])),
        StationLine(station_id=OUTWORK, name=OUTWORK, calendar=Calendar(windows=()), units=None),
    )
    started = {one.run_id for one in week.fixings if one.kind == "started"}
    orders = tuple(
        replace(order, stations=_steps(week, rng, is_started=bool(started & set(order.run_ids))))
        if rng.random() < 0.7
        else order
        for order in week.orders
    )
    return replace(week, stations=stations, orders=orders)


def _steps(week: Week, rng: random.Random, *, is_started: bool) -> tuple[StationStep, ...]:
    found = []
    for is_before in (True, False):
        for _ in range(0 if is_before and is_started else rng.choice([0, 0, 1, 1, 2])):
            if rng.random() < 0.15:
                found.append(StationStep(station_id=OUTWORK, is_before=is_before, returns=returns_after_a_day(week)))
            else:
                found.append(StationStep(station_id=EMBROIDERY, is_before=is_before, work_min=rng.choice([1, 20, 75])))
    return tuple(found)


def returns_after_a_day(week: Week) -> tuple[tuple[int, int, int], ...]:
    """What leaves on one open day is back when the next one closes."""
    starts = [*week.clock.cuts_tau, week.horizon_tau]
    return tuple(
        (start, until, back) for start, until, back in zip(starts, starts[1:], starts[2:], strict=False) if back > until
    )


def orders_with_stations(week: Week) -> tuple[OrderDue, ...]:
    """The orders that go somewhere."""
    return tuple(order for order in week.orders if order.stations)

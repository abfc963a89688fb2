"""Stations in a typed week: minutes by rate, days away, hours, what cannot be done in time."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest

from scheduler.domain.orders import Progress, Visit, WeekInputs
from scheduler.domain.shop import Closure, Station
from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.workload.build import build_workload
from tests.search.decoding import plan
from tests.workload import shops

STITCH = Station(name="embroidery", pcs_h=40)


def _inputs(*stations: Station, in_shop: Any = None, **of_order: Any) -> WeekInputs:
    shop = replace(in_shop or shops.shop(), stations=stations)
    return shops.week_inputs(shop, orders=(shops.order(**of_order),))


def _week(inputs: WeekInputs) -> Week:
    return build_workload(inputs).week


def test_minutes_come_from_the_rate_or_from_the_time_for_a_piece() -> None:
    """A hundred pieces at 40 an hour are 150 minutes; at 90 s each as well; parts of a minute count whole."""
    visits = {"before": (Visit(station="embroidery"),), "after": (Visit(station="heat press"),)}
    week = _week(_inputs(STITCH, Station(name="heat press", each_s=90.4, at_once=2), **visits))
    (order,) = week.orders
    assert [(step.station_id, step.is_before, step.work_min) for step in order.stations] == [
        ("embroidery", True, 150),
        ("heat press", False, 151),
    ]
    assert [(one.station_id, one.units) for one in week.stations] == [("embroidery", 1), ("heat press", 2)]
    one = plan(week)
    assert one.run["1 front dark"].set_up_start_tau == 150
    assert check(week, one) == ()


def test_a_week_that_goes_nowhere_has_no_stations() -> None:
    """A shop may have stations no order of the week asks for."""
    week = _week(_inputs(STITCH))
    assert week.stations == ()
    assert week.orders[0].stations == ()


@pytest.mark.parametrize(
    ("leaves", "days", "back"),
    [
        (shops.at(2, "08:00"), 1, shops.at(3, "17:00")),
        (shops.at(2, "16:59"), 1, shops.at(3, "17:00")),
        (shops.at(3, "08:00"), 1, shops.at(4, "17:00")),
        (shops.at(5, "10:00"), 2, shops.at(9, "17:00")),
        (shops.at(6, "10:00"), 3, shops.at(11, "17:00")),
    ],
)
def test_work_sent_out_is_back_when_the_shop_closes(leaves: datetime, days: int, back: datetime) -> None:
    """So many working days later, the day it leaves and the weekend not counted."""
    inputs = _inputs(in_shop=shops.shop(days_ahead=14), after=(Visit(station="outwork", days=days),))
    week = _week(inputs)
    (step,) = week.orders[0].stations
    found = step.back_tau(week.clock.tau_of(leaves))
    assert found is not None
    assert week.clock.ends_at(found) == back


def test_a_holiday_is_no_working_day() -> None:
    """Tuesday closed: what leaves on Monday for a day is back on Wednesday evening."""
    closed = Closure(what="", from_at=shops.at(3, "00:00"), to_at=shops.at(4, "00:00"), why="holiday")
    week = _week(_inputs(in_shop=shops.shop(closures=(closed,)), after=(Visit(station="outwork", days=1),)))
    found = week.orders[0].stations[0].back_tau(0)
    assert found is not None
    assert week.clock.ends_at(found) == shops.at(4, "17:00")


def test_nothing_leaves_that_would_come_back_too_late() -> None:
    """The last planned Friday takes what is away a day no more; an order that needs it is told as not planned."""
    week = _week(_inputs(after=(Visit(station="outwork", days=1),)))
    (step,) = week.orders[0].stations
    assert step.back_tau(4 * shops.DAY_MIN - 1) == 5 * shops.DAY_MIN
    assert step.back_tau(4 * shops.DAY_MIN) is None
    (told,) = _week(_inputs(after=(Visit(station="outwork", days=5),))).not_planned
    assert (told.kind, told.reasons) == (
        "no time",
        ("outwork after printing is not over within the planned hours",),
    )


def test_days_come_from_the_order_or_from_the_station() -> None:
    """The order's own days win."""
    finisher = Station(name="foil house", days=2)
    for visit, back_day in ((Visit(station="foil house"), 3), (Visit(station="foil house", days=1), 2)):
        week = _week(_inputs(finisher, after=(visit,)))
        assert week.orders[0].stations[0].back_tau(0) == back_day * shops.DAY_MIN
        assert week.stations[0].units is None


def test_a_station_has_hours_of_its_own() -> None:
    """It opens later than the shop, is closed for a day, and its crew must be in."""
    line = Station(name="embroidery", pcs_h=40, hours=shops.hours("09:00", "12:00"), crew=(("stitch", 1),))
    closed = Closure(what="embroidery", from_at=shops.at(3, "00:00"), to_at=shops.at(4, "00:00"), why="service")
    stitcher = shops.solo(roles=("print", "stitch", "pack"), hours=shops.hours("10:00", "17:00"))
    shop = shops.shop(people=(stitcher,), closures=(closed,))
    week = _week(_inputs(line, in_shop=shop, before=(Visit(station="embroidery"),)))
    (station,) = week.stations
    assert [(w.start_tau, w.end_tau) for w in station.calendar.windows][:2] == [
        (120, 240),
        (2 * 540 + 120, 2 * 540 + 240),
    ]
    one = plan(week)
    assert one.order["1"].stations[0].start_tau == 120
    assert one.order["1"].stations[0].end_tau == 2 * 540 + 120 + 30


def test_what_comes_before_is_done_once_printing_has_started() -> None:
    """A started order goes on; that its visit is taken as done is told."""
    started = Progress(
        order_id="1", location="front", shade=None, press_id="auto-1", started_at=shops.at(2), pieces_left=50
    )
    made = build_workload(replace(_inputs(STITCH, before=(Visit(station="embroidery"),)), progress=(started,)))
    assert made.week.orders[0].stations == ()
    assert "work before printing taken as done: printing has started" in [one.text for one in made.assumptions]


def test_a_locked_run_must_leave_time_for_what_comes_before() -> None:
    """A lock before the garments are back is told as a clash; on the minute they are it holds."""
    for clock_time, fits in (("10:30", True), ("10:29", False)):
        inputs = _inputs(STITCH, before=(Visit(station="embroidery"),))
        locked = replace(inputs.imprints[0], lock_press="auto-1", lock_at=shops.at(2, clock_time))
        week = _week(replace(inputs, imprints=(locked,)))
        assert bool(week.fixings) == fits
        assert [one.kind for one in week.not_planned] == ([] if fits else ["clash"])


def test_the_garments_of_all_rows_must_be_there() -> None:
    """A visit before the prints starts when the last lot of the order is in."""
    lots = (shops.lot("black"), shops.lot("navy", blanks_at=shops.at(3, "09:00")))
    inputs = replace(
        _inputs(STITCH, before=(Visit(station="embroidery"),), due=date(2026, 3, 6)),
        lots=lots,
        imprints=(shops.imprint(lot_ids=("black", "navy")),),
    )
    one = plan(_week(inputs))
    assert one.order["1"].stations[0].start_tau == shops.DAY_MIN + 60

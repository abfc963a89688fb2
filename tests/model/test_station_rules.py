"""Rules of stations in the model, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.plan import Plan
from scheduler.domain.stations import StationStep
from scheduler.domain.week import Week
from scheduler.model.station_rules import station_after_print, station_before_print, station_has_room
from tests import builders as b
from tests.model.asserting import allowed, refused


def _week(*steps: StationStep, blanks_tau: int = 0) -> Week:
    """One run of an hour, cured in 3 minutes, of an order with these visits."""
    stations = (b.station("embroidery"), b.station("outwork", units=None))
    run = b.run(cure_min=3, blanks_tau=blanks_tau)
    return b.week(runs=[run], orders=[b.order_due(stations=steps)], stations=stations)


def _plan(at: int, *visits: tuple[str, int, int], packed: int | None = None) -> Plan:
    done = b.planned_order(packed=at + 63 if packed is None else packed, stations=b.visits(*visits))
    return b.plan(b.planned_run(at=at), orders=[done])


def test_a_run_waits_for_its_garments_to_come_back() -> None:
    """Set-up starts no sooner than the last visit before the prints is over; visits start with the garments there."""
    week = _week(b.step(before=30), b.step(before=20), blanks_tau=10)
    visits = (("embroidery", 10, 40), ("embroidery", 40, 60))
    allowed(week, _plan(60, *visits))
    refused(station_before_print, week, _plan(59, *visits))
    refused(station_before_print, week, _plan(70, ("embroidery", 9, 39), visits[1]))
    refused(station_before_print, week, _plan(70, ("embroidery", 10, 40), ("embroidery", 39, 59)), station_has_room)
    refused(station_before_print, week, _plan(70, ("embroidery", 10, 39), visits[1]))


def test_staging_waits_where_there_is_any() -> None:
    """The cart is filled with garments that are back."""
    week = replace(_week(b.step(before=30)), staging=b.floor_line(minutes=10))
    for stage, fits in ((30, True), (29, False)):
        done = b.planned_order(packed=123, stations=b.visits(("embroidery", 0, 30)))
        plan = b.plan(b.planned_run(at=60, stage=(stage, stage + 10)), orders=[done])
        if fits:
            allowed(week, plan)
        else:
            refused(station_before_print, week, plan)


def test_work_after_printing_starts_with_the_last_piece_cured() -> None:
    """And packing starts no sooner than it is over; with nothing to pack the order is packed then."""
    week = _week(b.step(after=30))
    allowed(week, _plan(0, ("embroidery", 63, 93), packed=93))
    refused(station_after_print, week, _plan(0, ("embroidery", 62, 92), packed=92))
    packing = replace(week, orders=(replace(week.orders[0], finish_min=10),), finishing=b.floor_line())
    for start, fits in ((93, True), (92, False)):
        done = b.planned_order(start=start, packed=start + 10, stations=b.visits(("embroidery", 63, 93)))
        plan = b.plan(b.planned_run(), orders=[done])
        if fits:
            allowed(packing, plan)
        else:
            refused(station_after_print, packing, plan)


def test_work_sent_out_is_back_on_the_minute() -> None:
    """By the day it leaves on; what would come back after the planned days cannot leave."""
    week = _week(b.step("outwork", after=((0, 540, 1080), (540, 1080, 1620))))
    allowed(week, _plan(476, ("outwork", 539, 1080), packed=1080))
    refused(station_after_print, week, _plan(477, ("outwork", 540, 1080), packed=1080))
    allowed(week, _plan(477, ("outwork", 540, 1620), packed=1620))
    refused(station_after_print, week, _plan(0, ("outwork", 1080, 1620), packed=1620))


def test_a_station_holds_so_many_orders_at_once() -> None:
    """Two orders may touch at a station for one; a station for two takes both."""
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")])]
    orders = [b.order_due(f"o{run.run_id}", [run.run_id], stations=(b.step(after=30),)) for run in runs]
    week = b.week(runs=runs, orders=orders, presses=[b.press_line("P1"), b.press_line("P2")], stations=(b.station(),))

    def at(start: int) -> Plan:
        done = [
            b.planned_order("or1", packed=start + 30, stations=b.visits(("embroidery", start, start + 30))),
            b.planned_order("or2", packed=90, stations=b.visits(("embroidery", 60, 90))),
        ]
        return b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2"), orders=done)

    allowed(week, at(90))
    refused(station_has_room, week, at(89))
    allowed(replace(week, stations=(b.station(units=2),)), at(60))

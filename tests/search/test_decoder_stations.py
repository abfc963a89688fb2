"""The decoder's stations: before the prints, after them, room and crew."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.week import Week
from scheduler.search.bounds import lower_bound
from tests import builders as b
from tests.search.decoding import decoded, plan, refusal


def _visits(week: Week) -> dict[str, list[tuple[str, int, int]]]:
    return {
        one.order_id: [(step.station_id, step.start_tau, step.end_tau) for step in one.stations]
        for one in plan(week).orders
    }


def _two(station: object, *steps: object, **more: object) -> Week:
    """Two orders of one run each, on two presses, with the same visits."""
    runs = [b.run("r1", cure_min=3, choices=[b.choice("P1")]), b.run("r2", cure_min=3, choices=[b.choice("P2")])]
    orders = [b.order_due(f"o{run.run_id}", [run.run_id], stations=steps) for run in runs]
    presses = [b.press_line("P1"), b.press_line("P2")]
    return b.week(runs=runs, orders=orders, presses=presses, stations=(station,), **more)


def test_a_run_is_set_up_when_its_garments_are_back() -> None:
    """The visits come first, one after the other, from the arrival of the garments on."""
    order = b.order_due(stations=(b.step(before=30), b.step(before=20)))
    week = b.week(runs=[b.run(blanks_tau=100)], orders=[order], stations=(b.station(),))
    assert _visits(week) == {"or1": [("embroidery", 100, 130), ("embroidery", 130, 150)]}
    assert plan(week).run["r1"].set_up_start_tau == 150


def test_a_station_for_one_takes_orders_in_turn() -> None:
    """The second order waits for the first; a station for two takes both at once."""
    week = _two(b.station(), b.step(before=30), b.step(after=10))
    assert _visits(week) == {
        "or1": [("embroidery", 0, 30), ("embroidery", 93, 103)],
        "or2": [("embroidery", 30, 60), ("embroidery", 123, 133)],
    }
    both = replace(week, stations=(b.station(units=2),))
    assert [visits[0] for visits in _visits(both).values()] == [("embroidery", 0, 30)] * 2


def test_packing_waits_for_what_comes_after_the_prints() -> None:
    """Work sent out on Monday comes back when Tuesday closes; packing starts then."""
    away = b.step("outwork", after=((0, 540, 1080), (540, 1080, 1620)))
    order = b.order_due(stations=(away,), finish_min=10)
    week = b.week(orders=[order], stations=(b.station("outwork", units=None),), finishing=b.floor_line())
    assert _visits(week) == {"or1": [("outwork", 60, 1080)]}
    assert plan(week).order["or1"].finish_start_tau == 1080
    assert plan(week).order["or1"].packed_tau == 1090


def test_a_crew_is_at_one_station_or_press_at_a_time() -> None:
    """The one person who stitches and prints does one after the other, and a break pauses the work."""
    hours = b.every_day(breaks=[(100, 30)])
    station = b.station(crew=(("stitch", 1),), calendar=hours)
    order = b.order_due(stations=(b.step(after=50),))
    press = b.press_line(run_crew=(("print", 1),))
    runs = [b.run("r1"), b.run("r2")]
    week = b.week(
        runs=runs,
        orders=[order, b.order_due("or2", ["r2"])],
        presses=[press],
        stations=(station,),
        people=(b.person("Ana", roles=("print", "stitch")),),
    )
    one = plan(week, "r1", "r2")
    ((visit,),) = [packed.stations for packed in one.orders if packed.stations]
    assert (visit.start_tau, visit.end_tau) == (60, 140)
    assert one.run["r2"].print_start_tau == 140


def test_a_week_without_the_hours_is_refused_in_words() -> None:
    """Work that does not fit the planned days before the prints, or after them."""
    long = b.week(orders=[b.order_due(stations=(b.step(before=100_000),))], stations=(b.station(),))
    assert refusal(long).reason == "its garments are not back from other stations in time"
    late = b.week(orders=[b.order_due(stations=(b.step(after=100_000),))], stations=(b.station(),))
    assert refusal(late).reason == "its order cannot be packed before the last pick-up"


def test_a_fixed_run_waits_for_its_garments_too() -> None:
    """A locked run starts where it is locked if the visit is over by then, and not otherwise."""
    order = b.order_due(stations=(b.step(before=30),))
    week = b.week(orders=[order], stations=(b.station(),), fixings=[b.fixing(press_id="P1", at=30)])
    assert plan(week).run["r1"].set_up_start_tau == 30
    early = replace(week, fixings=(b.fixing(press_id="P1", at=29),))
    assert refusal(early).run_ids == ("r1",)


def test_visits_move_the_bound() -> None:
    """An order that can only be late is late in the bound as well: before, after, and sent out."""
    late = {"pickups_tau": (540, 3780), "late_cents": 1000}
    for steps in ((b.step(before=490),), (b.step(after=490),), (b.step("outwork", after=((0, 540, 1080),)),)):
        stations = (b.station(), b.station("outwork", units=None))
        week = b.week(orders=[b.order_due(stations=steps, **late)], stations=stations)
        assert lower_bound(week).terms["late"] == decoded(week).terms["late"] == 1000
    near = b.week(orders=[b.order_due(stations=(b.step(before=480),), **late)], stations=(b.station(),))
    assert lower_bound(near).terms["late"] == decoded(near).terms["late"] == 0

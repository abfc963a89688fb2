"""Rules of stations, on both sides of their boundaries."""

from __future__ import annotations

from scheduler.domain.plan import Plan
from scheduler.domain.stations import StationStep
from scheduler.domain.week import Week
from scheduler.review.order_rules import finishing_ends_last
from scheduler.review.people_rules import inside_open_hours, people_suffice
from scheduler.review.station_rules import station_after_print, station_before_print, station_has_room
from tests import builders as b
from tests.review.asserting import broken, kept

STITCH = b.station("embroidery")
AWAY = b.station("outwork", units=None)


def _week(*steps: StationStep, **more: object) -> Week:
    """One run of an hour, cured in 3 minutes, of an order with these visits."""
    run = b.run(cure_min=3, blanks_tau=int(str(more.pop("blanks_tau", 0))))
    orders = [b.order_due(stations=steps)]
    return b.week(runs=[run], orders=orders, stations=(STITCH, AWAY), **more)


def _plan(
    at: int, *visits: tuple[str, int, int], packed: int | None = None, stage: tuple[int, int] | None = None
) -> Plan:
    end = at + 63 if packed is None else packed
    done = b.planned_order(packed=end, stations=b.visits(*visits))
    return b.plan(b.planned_run(at=at, stage=stage), orders=[done])


def test_a_run_is_set_up_once_its_garments_are_back() -> None:
    """Set-up, or staging where there is any, starts no sooner than the last visit before the prints is over."""
    week = _week(b.step("embroidery", before=30), b.step("embroidery", before=20))
    visits = (("embroidery", 0, 30), ("embroidery", 35, 55))
    kept(station_before_print, week, _plan(55, *visits))
    found = broken(station_before_print, week, _plan(54, *visits))
    assert found.message == "or1 is back from embroidery Mon 2 Mar 08:55, or1 front starts Mon 2 Mar 08:54"
    staged = _week(b.step("embroidery", before=30), staging=b.floor_line(minutes=10))
    kept(station_before_print, staged, _plan(60, ("embroidery", 0, 30), stage=(30, 40)))
    broken(station_before_print, staged, _plan(60, ("embroidery", 0, 30), stage=(29, 39)))


def test_a_visit_starts_with_all_garments_there() -> None:
    """A minute before the last garments come is too early."""
    week = _week(b.step("embroidery", before=30), blanks_tau=100)
    kept(station_before_print, week, _plan(130, ("embroidery", 100, 130)))
    broken(station_before_print, week, _plan(130, ("embroidery", 99, 129)))


def test_visits_follow_each_other() -> None:
    """The next one starts no sooner than the one before ends."""
    week = _week(b.step("embroidery", before=30), b.step("embroidery", before=20))
    kept(station_before_print, week, _plan(90, ("embroidery", 0, 30), ("embroidery", 30, 50)))
    broken(station_before_print, week, _plan(90, ("embroidery", 0, 30), ("embroidery", 29, 49)))


def test_an_order_goes_where_it_must_and_nowhere_else() -> None:
    """Every visit asked for is planned, in its order, and no other."""
    week = _week(b.step("embroidery", before=30))
    broken(station_before_print, week, _plan(60))
    broken(station_before_print, week, _plan(60, ("outwork", 0, 30)))
    found = broken(station_before_print, _week(), _plan(60, ("embroidery", 0, 30)))
    assert found.message == "or1 goes to embroidery, it needs none"


def test_a_started_run_is_not_held_up() -> None:
    """What has started is printed whatever was to come before it."""
    week = _week(b.step("embroidery", before=30), fixings=[b.fixing(kind="started", press_id="P1", at=0, left=0)])
    kept(station_before_print, week, _plan(0, ("embroidery", 0, 30)))


def test_work_after_printing_starts_with_the_last_piece_cured() -> None:
    """Not a minute before; and packing starts no sooner than it is over."""
    week = _week(b.step("embroidery", after=30))
    kept(station_after_print, week, _plan(0, ("embroidery", 63, 93), packed=93))
    broken(station_after_print, week, _plan(0, ("embroidery", 62, 92), packed=93))
    broken(station_after_print, week, _plan(0, ("embroidery", 63, 93), packed=92))
    broken(station_after_print, week, _plan(0, ("embroidery", 63, 92), packed=93))
    broken(station_after_print, week, _plan(0, ("embroidery", 63, 94), packed=94))


def test_with_nothing_to_pack_the_order_is_packed_when_it_is_back() -> None:
    """Packed is the end of the last visit, where that is after the last box."""
    week = _week(b.step("embroidery", after=30))
    kept(finishing_ends_last, week, _plan(0, ("embroidery", 63, 93), packed=93))
    broken(finishing_ends_last, week, _plan(0, ("embroidery", 63, 93), packed=94))


def test_work_sent_out_is_back_on_the_minute() -> None:
    """What leaves in a stretch of the table is back at its minute; past the table nothing can leave."""
    week = _week(b.step("outwork", after=((0, 540, 1080), (540, 1080, 1620))))
    kept(station_after_print, week, _plan(0, ("outwork", 63, 1080), packed=1080))
    kept(station_after_print, week, _plan(0, ("outwork", 539, 1080), packed=1080))
    broken(station_after_print, week, _plan(0, ("outwork", 540, 1080), packed=1080))
    kept(station_after_print, week, _plan(0, ("outwork", 540, 1620), packed=1620))
    found = broken(station_after_print, week, _plan(0, ("outwork", 1080, 1620), packed=1620))
    assert "never back within the planned days" in found.message


def test_a_station_holds_so_many_orders_at_once() -> None:
    """Two orders at a station for one may touch and not overlap; a station for two takes both."""
    runs = [b.run("r1"), b.run("r2")]
    orders = [b.order_due(f"o{run.run_id}", [run.run_id], stations=(b.step("embroidery", after=30),)) for run in runs]
    week = b.week(runs=runs, orders=orders, presses=[b.press_line("P1"), b.press_line("P2")], stations=(STITCH,))

    def at(start: int, second: int = 60, station: str = "embroidery") -> Plan:
        done = [
            b.planned_order("or1", packed=start + 30, stations=b.visits((station, start, start + 30))),
            b.planned_order("or2", packed=second + 30, stations=b.visits((station, second, second + 30))),
        ]
        return b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2"), orders=done)

    kept(station_has_room, week, at(90))
    found = broken(station_has_room, week, at(89))
    assert found.message == "2 orders are at embroidery Mon 2 Mar 09:29, it takes 1 at once"
    two = b.week(runs=runs, orders=orders, presses=list(week.presses), stations=(b.station("embroidery", units=2),))
    kept(station_has_room, two, at(60))


def test_station_work_is_done_in_open_hours_by_people_who_can() -> None:
    """A visit is work on the station's calendar, and takes its crew while it goes on."""
    hours = b.every_day(breaks=[(100, 30)])
    line = b.station("embroidery", calendar=hours, crew=(("stitch", 1),))
    order = b.order_due(stations=(b.step("embroidery", after=30),))
    week = b.week(orders=[order], stations=(line,), people=(b.person("p", roles=("print", "stitch")),))

    def at(start: int, end: int) -> Plan:
        return b.plan(
            b.planned_run(), orders=[b.planned_order(packed=end, stations=b.visits(("embroidery", start, end)))]
        )

    kept(inside_open_hours, week, at(60, 90))
    kept(inside_open_hours, week, at(80, 140))
    broken(inside_open_hours, week, at(100, 160))
    kept(people_suffice, week, at(60, 90))
    nobody = b.week(orders=[order], stations=(line,), people=(b.person("p", roles=("print",)),))
    broken(people_suffice, nobody, at(60, 90))

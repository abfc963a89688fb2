from dataclasses import replace
from datetime import datetime
from itertools import pairwise

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import NotPlanned, Week
from scheduler.papers.roster_table import roster_rows
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.tables import (
    garments_text,
    heads_text,
    kept_text,
    order_rows,
    press_queue,
    staging_rows,
)
from scheduler.review.rules import check
from tests import builders
from tests.papers import small_shop


@pytest.fixture(scope="module")
def week() -> Week:
    """The small shop's week."""
    return small_shop.week()


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The small shop's plan."""
    return small_shop.plan()


def clock(moment: datetime | None) -> str:
    """A moment as day of the month and time."""
    return f"{moment:%d %H:%M}" if moment else ""


def test_the_example_plan_keeps_every_rule(week: Week, plan: Plan) -> None:
    """The plan these tests tell about is one a shop could keep."""
    assert check(week, plan) == ()


def test_queues_are_told_press_by_press_in_order(week: Week, plan: Plan) -> None:
    """Each press's runs come in the order they are set up, numbered from 1."""
    assert [(row.press_name, row.number, row.run_id) for row in press_queue(week, plan)] == [
        ("Big Eight", 1, "1042 front dark"),
        ("Big Eight", 2, "1042 front light"),
        ("Big Eight", 3, "1042 back dark"),
        ("Big Eight", 4, "1044 front dark"),
        ("Manual", 1, "1045 left chest light"),
    ]


def test_a_queue_row_holds_what_an_operator_needs(week: Week, plan: Plan) -> None:
    """A run's row has its times, garments, rate, dryer, pallet, flash, screens, lateness and reason."""
    row = press_queue(week, plan)[0]
    assert (clock(row.stage_at), clock(row.set_up_at), clock(row.print_at), clock(row.end_at)) == (
        "02 08:00",
        "02 08:05",
        "02 08:43",
        "02 09:43",
    )
    assert (row.client, row.design, row.location, garments_text(row)) == (
        "Harbour Run Club",
        "crest",
        "front",
        "240 black tee",
    )
    assert (row.rate_pcs_h, row.dryer, row.pallet, row.flash, row.screens) == (
        240,
        "long",
        "adult",
        "after head 1",
        "screens stand ready",
    )
    assert (row.late, row.reason) == ("▲ late 1 day", "first: its screens stand ready")
    assert heads_text(row) == ("1 white base (156): mount, load; 3 white (156): mount, load; 4 red (230): mount, load")


def test_all_heads_are_listed_first_to_last(week: Week, plan: Plan) -> None:
    """Flashes that sit in a head stand among the screens, in head order."""
    rows = press_queue(week, plan)
    assert [(line.head, line.prints) for line in rows[0].all_heads] == [
        (1, "white base"),
        (2, "flash"),
        (3, "white"),
        (4, "red"),
    ]
    assert kept_text(rows[2]) == "white on head 3"


def test_lots_are_told_one_by_one(week: Week, plan: Plan) -> None:
    """A run on two garments tells pieces and minutes of each, in print order."""
    row = press_queue(week, plan)[1]
    assert row.garments == (("ash tee", 120, 24), ("white tee", 60, 12))
    assert garments_text(row) == "120 ash tee and 60 white tee"


def test_inks_that_dry_are_rinsed_out_at_the_end(week: Week, plan: Plan) -> None:
    """A water-based run says what is rinsed out when it is over, and only such a run."""
    assert [row.wash_up for row in press_queue(week, plan)] == ["", "", "", "", "rinse out blue: 5 min"]


def test_late_orders_come_first_and_the_rest_by_date(week: Week, plan: Plan) -> None:
    """The late order leads, then orders by when they must leave, and what is not planned ends the list."""
    rows = order_rows(week, plan)
    assert [(row.order_id, row.late, row.state) for row in rows] == [
        ("1042", "▲ late 1 day", "planned"),
        ("1044", "", "planned"),
        ("1045", "", "planned"),
        ("1046", "", "waiting"),
    ]


def test_an_order_row_says_when_it_leaves_and_why(week: Week, plan: Plan) -> None:
    """A late order tells the pick-up it missed, the one it makes, the money and the run that decides it."""
    row = order_rows(week, plan)[0]
    assert (clock(row.must_leave_at), clock(row.packed_at), clock(row.leaves_at)) == (
        "02 11:20",
        "02 11:38",
        "03 13:00",
    )
    assert (row.late_days, row.late_cents, row.pieces, row.locations) == (1, 40_000, 420, "front and back")
    assert row.why == "back comes off Big Eight Mon 2 Mar 11:30: its garments come off the front print"


def test_an_order_row_names_who_goes_first(week: Week, plan: Plan) -> None:
    """Where another order's run stands before it on the press, that run is named."""
    row = next(row for row in order_rows(week, plan) if row.order_id == "1044")
    assert row.why == (
        "front comes off Big Eight Tue 3 Mar 11:44, after 1042 back: its screens are coated on Monday evening"
    )


def test_a_date_that_had_passed_is_told(week: Week, plan: Plan) -> None:
    """An order promised before the planning moment says so before anything else."""
    orders = tuple(replace(order, is_past_due=order.order_id == "1044") for order in week.orders)
    row = next(row for row in order_rows(replace(week, orders=orders), plan) if row.order_id == "1044")
    assert row.why.startswith("its date had passed before this plan; front comes off Big Eight")


def test_a_run_that_fits_nowhere_names_its_location() -> None:
    """Part of an order that is not planned is told with its print location and every reason."""
    told = NotPlanned(order_id="7", run_id="7 back dark", reasons=("needs 9 heads", "no frames"), kind="no press")
    week = builders.week(not_planned=(told,))
    row = order_rows(week, builders.plan(builders.planned_run()))[-1]
    assert (row.order_id, row.locations, row.state, row.why) == (
        "7",
        "back dark",
        "no press",
        "needs 9 heads; no frames",
    )


def test_screen_work_is_told_in_the_order_it_starts(week: Week, plan: Plan) -> None:
    """Coat, burn, tape and reclaim stand in the order they start, each with when somebody waits for it."""
    rows = screen_rows(week, plan)
    assert all(one.start_at <= other.start_at for one, other in pairwise(rows))
    assert [(row.what, row.design, clock(row.start_at), clock(row.needed_by)) for row in rows] == [
        ("burn", "route", "02 08:00", "02 10:23"),
        ("burn", "wave", "02 08:20", "02 10:10"),
        ("tape", "route", "02 09:12", "02 10:23"),
        ("tape", "wave", "02 09:32", "02 10:10"),
        ("coat", "", "02 16:00", "03 08:00"),
        ("burn", "badge", "03 08:00", "03 09:40"),
        ("reclaim", "route", "03 09:00", ""),
        ("tape", "badge", "03 09:24", "03 09:40"),
    ]


def _row(week: Week, plan: Plan, what: str, design: str) -> ScreenRow:
    return next(row for row in screen_rows(week, plan) if (row.what, row.design) == (what, design))


def test_a_burn_says_what_each_screen_prints(week: Week, plan: Plan) -> None:
    """The screen tech sees each screen's ink, mesh and frame, when it is dry and who waits for it."""
    row = _row(week, plan, "burn", "badge")
    assert row.prints == (("white", 156, "23x31"), ("black", 230, "23x31"))
    assert (row.screens, row.frames) == (2, "1 of 23x31/156 and 1 of 23x31/230")
    assert (clock(row.dry_at), row.press_name, row.order_id) == ("03 09:24", "Big Eight", "1044")


def test_coating_names_the_burn_that_needs_it(week: Week, plan: Plan) -> None:
    """A coating batch says which order's burn waits for it; without one it is for stock."""
    row = _row(week, plan, "coat", "")
    assert (row.order_id, row.screens, row.note) == ("1044", 1, "first for the burn of 1044 front")
    unburned = replace(plan, runs=tuple(replace(one, burn=None) for one in plan.runs))
    assert _row(week, unburned, "coat", "").note == "for stock"


def test_coating_uses_the_oldest_coat_first(week: Week, plan: Plan) -> None:
    """Frames coated before are used up first; what no burn needs is told as stock."""
    three = replace(plan, coat_batches=tuple(replace(one, count=3) for one in plan.coat_batches))
    assert _row(week, three, "coat", "").note == "first for the burn of 1044 front; 2 of them for stock"
    plenty = tuple(replace(stock, coated_now=9) for stock in week.frames)
    row = _row(replace(week, frames=plenty), plan, "coat", "")
    assert (row.note, row.needed_by) == ("for stock", None)


def test_screens_that_hang_are_reclaimed_too(week: Week, plan: Plan) -> None:
    """Old burned screens booked into a reclaim block are on the list."""
    hung = replace(week, early_reclaims=(("reclaim Tue", "23x31/156", 2),))
    assert _row(hung, plan, "reclaim", "").note == "old screens that hang to be reclaimed"


def test_a_shop_without_a_screen_room_has_no_list() -> None:
    """A shop that has its screens made elsewhere gets an empty list."""
    assert screen_rows(builders.week(), builders.plan(builders.planned_run())) == ()


def test_carts_are_told_in_the_order_they_are_staged(week: Week, plan: Plan) -> None:
    """Each cart says what goes on it and by when; without staging there is none."""
    rows = staging_rows(week, plan)
    assert [clock(row.start_at) for row in rows] == ["02 08:00", "02 09:38", "02 10:05", "02 10:18", "03 09:35"]
    assert (rows[-1].garments, rows[-1].screens, rows[-1].inks, rows[-1].pallet, clock(rows[-1].needed_at)) == (
        "500 navy youth tee",
        2,
        "white and black",
        "youth",
        "03 09:40",
    )
    assert staging_rows(builders.week(), builders.plan(builders.planned_run())) == ()


def test_the_roster_names_people_and_presses(week: Week, plan: Plan) -> None:
    """The roster says who sets up what, and nobody is missing in a plan that keeps the rules."""
    rows = roster_rows(week, plan)
    assert ("Ana", "set-up", "Big Eight", "1042 front dark") in [
        (row.person, row.activity, row.place, row.run_or_order) for row in rows
    ]
    assert "nobody" not in {row.person for row in rows}

"""Pick-ups, promises, prices and packing."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from scheduler.domain.orders import Order
from scheduler.domain.shop import Carrier, Closure, Defaults, MoneySettings, Shop
from scheduler.domain.week import OrderDue
from scheduler.errors import InputError
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import build_axis
from scheduler.workload.build import build_workload
from scheduler.workload.due import Dues
from tests.workload import shops

VAN = Carrier(name="Van", weekdays=shops.WORKDAYS, pick_up_min=15 * 60, transit_days=2)


def _due(order: Order, shop: Shop | None = None, pieces: int = 100, notes: Notes | None = None) -> OrderDue:
    known = shop or shops.shop(carriers=(VAN,))
    return Dues(axis=build_axis(known), notes=notes or Notes()).due(order, ("r",), pieces)


def _by_van(due: date | datetime, **more: object) -> Order:
    return shops.order(due=due, carrier="van", **more)  # type: ignore[arg-type]


def _holiday(day: int) -> Closure:
    return Closure(what="", from_at=shops.at(day, "00:00"), to_at=shops.at(day + 1, "00:00"), why="holiday")


def test_a_carrier_comes_on_its_weekdays_at_its_time() -> None:
    """15:00 each day is 7 hours after opening; the last pick-up is the end of the axis."""
    due = _due(_by_van(date(2026, 3, 4)))
    assert due.pickups_tau == (420, 960, 1500, 2040, 2580, 2700)
    assert due.must_leave == 2


def test_collected_means_any_open_day_by_closing() -> None:
    """Closing time of every open day; the last one is the axis's end itself."""
    due = _due(shops.order(due=date(2026, 3, 5)))
    assert due.pickups_tau == (540, 1080, 1620, 2160, 2700)
    assert due.must_leave == 3


def test_a_day_without_pick_up_is_kept_by_the_one_before() -> None:
    """Due on Sunday means Friday's van."""
    assert _due(_by_van(date(2026, 3, 8))).must_leave == 4


def test_holidays_and_closures_have_no_pick_up() -> None:
    """Neither van nor door on a holiday; a power cut over 15:00 stops the van, one over noon does not."""
    holiday = shops.shop(carriers=(VAN,), closures=(_holiday(3),))
    assert _due(_by_van(date(2026, 3, 3)), holiday).pickups_tau[:2] == (420, 540 + 420)
    assert _due(_by_van(date(2026, 3, 3)), holiday).must_leave == 0
    assert _due(shops.order(due=date(2026, 3, 3)), holiday).pickups_tau[:2] == (540, 1080)

    def cut(start: str, end: str) -> Shop:
        closure = Closure(what="", from_at=shops.at(2, start), to_at=shops.at(2, end), why="power cut")
        return shops.shop(carriers=(VAN,), closures=(closure,))

    assert _due(_by_van(date(2026, 3, 2)), cut("14:30", "15:01")).is_past_due
    assert not _due(_by_van(date(2026, 3, 2)), cut("12:00", "15:00")).is_past_due


@pytest.mark.parametrize(
    ("in_hands", "transit", "leaves"),
    [
        (date(2026, 3, 6), 0, 4),
        (date(2026, 3, 6), 1, 3),
        (date(2026, 3, 6), 2, 2),
        (date(2026, 3, 9), 1, 4),  # Monday, a day on the road: Friday's van
        (date(2026, 3, 9), 2, 3),  # Monday, two days on the road: Thursday's
        (date(2026, 3, 8), 1, 3),  # nothing arrives on Sunday: in hands by Friday
    ],
)
def test_in_hands_takes_off_days_on_which_the_carrier_drives(in_hands: date, transit: int, leaves: int) -> None:
    """Transit days are Monday to Friday, so a weekend is no day on the road."""
    shop = shops.shop(carriers=(replace(VAN, transit_days=transit),))
    assert _due(_by_van(in_hands, due_kind="in_hands"), shop).must_leave == leaves


def test_leaves_takes_nothing_off_and_holidays_are_no_transit_days() -> None:
    """Due means the pick-up day itself; with Thursday a holiday, two transit days before Friday begin on Tuesday."""
    shop = shops.shop(carriers=(VAN,), closures=(_holiday(5),))
    assert _due(_by_van(date(2026, 3, 6)), shop).must_leave == 3
    assert _due(_by_van(date(2026, 3, 6), due_kind="in_hands"), shop).must_leave == 1


def test_a_carrier_that_drives_on_saturday_counts_it() -> None:
    """In hands on Monday, one day on the road: Saturday's van will do, which goes after Friday's closing."""
    van = replace(VAN, weekdays=(0, 1, 2, 3, 4, 5), transit_days=1)
    shop = shops.shop(hours=shops.hours(weekdays=(0, 1, 2, 3, 4, 5)), carriers=(van,))
    due = _due(_by_van(date(2026, 3, 9), due_kind="in_hands"), shop)
    assert due.must_leave == 5
    assert due.pickups_tau[5] == 5 * 540 + 420


def test_a_moment_is_the_pick_up_and_further_ones_follow_daily() -> None:
    """Wednesday 11:00, whatever the van does; then 11:00 on each open day."""
    due = _due(shops.order(due=shops.at(4, "11:00")))
    assert due.pickups_tau == (180, 720, 1260, 1800, 2340, 2700)
    assert due.must_leave == 2


def test_a_moment_on_a_closed_day_is_the_end_of_the_work_before_it() -> None:
    """Saturday 12:00 in a shop that closes on Friday is Friday's closing; other Saturdays are no pick-ups."""
    shop = shops.shop(days_ahead=14)
    due = _due(shops.order(due=shops.at(7, "12:00")), shop)
    assert due.pickups_tau[due.must_leave] == 2700
    assert due.pickups_tau == (240, 780, 1320, 1860, 2400, 2700, 2940, 3480, 4020, 4560, 5100, 5400)


@pytest.mark.parametrize(("planned_from", "past"), [("14:59", False), ("15:00", True), ("16:00", True)])
def test_a_promise_that_is_over_is_the_next_pick_up(planned_from: str, past: bool) -> None:
    """Due today by the 15:00 van: at 15:00 there is no minute left, so tomorrow's is the first that can be kept."""
    shop = shops.shop(plan_from=shops.at(2, planned_from), carriers=(VAN,))
    notes = Notes()
    due = _due(_by_van(date(2026, 3, 2)), shop, notes=notes)
    assert (due.is_past_due, due.must_leave) == (past, 0)
    assert any(one.code == "past_due" for one in notes.merged_with(())) is past


def test_a_promise_long_past_is_index_0() -> None:
    """Last month's date: every day from now on is a late day."""
    due = _due(_by_van(date(2026, 2, 20)))
    assert (due.is_past_due, due.must_leave, due.pickups_tau[0]) == (True, 0, 420)


def test_a_promise_after_the_last_planned_day_is_the_axis_s_end_without_cushion() -> None:
    """Due in April: no pick-up of this week matters, and being done late this week costs nothing."""
    due = _due(_by_van(date(2026, 4, 10)))
    assert due.must_leave == len(due.pickups_tau) - 1
    assert (due.cushion_cents, due.is_past_due) == (0, False)


def test_a_date_after_the_axis_with_its_last_pick_up_inside_keeps_that_one() -> None:
    """Due on the Sunday after the last planned hour: Friday's van is still the promise."""
    shop = shops.shop(days_ahead=5, carriers=(VAN,))
    due = _due(_by_van(date(2026, 3, 8)), shop)
    assert due.pickups_tau[due.must_leave] == 4 * 540 + 420
    assert due.cushion_cents == shop.money.cushion_cents


def test_pick_ups_with_no_work_between_them_are_one() -> None:
    """A van at 18:00 on Friday and one on Saturday take the same things."""
    van = replace(VAN, weekdays=(4, 5), pick_up_min=18 * 60)
    due = _due(_by_van(date(2026, 3, 7)), shops.shop(carriers=(van,), days_ahead=14))
    assert due.pickups_tau == (2700, 5400)
    assert due.must_leave == 0


def test_pick_ups_keep_the_clock_when_clocks_change() -> None:
    """15:00 is seven open hours into the Monday after clocks went forward, as on any Monday."""
    shop = shops.shop(plan_from=shops.at(27), carriers=(VAN,))
    assert _due(_by_van(date(2026, 3, 30)), shop).pickups_tau[:2] == (420, 540 + 420)


@pytest.mark.parametrize(("firmness", "cents"), [("firm", 1), ("normal", 2), ("easy", 3), (None, 2)])
def test_firmness_sets_the_price_of_a_late_day(firmness: str | None, cents: int) -> None:
    """Money by firmness, the shop's default where none was typed; a price on the order wins."""
    money = MoneySettings(late_firm_cents=1, late_normal_cents=2, late_easy_cents=3)
    shop = shops.shop(money=money)
    assert _due(shops.order(firmness=firmness), shop).late_cents == cents
    assert _due(shops.order(firmness=firmness, late_cents=99), shop).late_cents == 99


@pytest.mark.parametrize(("pieces", "minutes"), [(100, 25), (101, 26), (0, 0)])
def test_packing_minutes_are_rounded_up(pieces: int, minutes: int) -> None:
    """15 s a piece: a hundred take 25 min, one more begins another."""
    due = _due(shops.order(finish_each_s=15.0), pieces=pieces)
    assert due.finish_min == minutes
    assert (due.finish_lag_min, due.last_box_min) == ((15, 5) if minutes else (0, 0))


def test_every_garment_is_packed_once() -> None:
    """Front and back on a hundred tees are a hundred pieces to pack."""
    shop = shops.shop(defaults=Defaults(finish_each_s=6.0))
    inputs = shops.week_inputs(shop, imprints=(shops.imprint(), shops.imprint(location="back")))
    assert build_workload(inputs).week.orders[0].finish_min == 10


def test_a_carrier_nobody_knows_is_a_fault() -> None:
    """The order's row and what to do about it."""
    with pytest.raises(InputError, match="'pigeon' is no carrier of the shop"):
        _due(shops.order(carrier="pigeon", source_row=4))

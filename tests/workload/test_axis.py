"""The shop axis and calendars on it."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, Calendar
from scheduler.domain.shop import Closure, DayHours, Dryer, OvertimeOffer, Shop
from scheduler.errors import InputError
from scheduler.workload.axis import OpenTimes, any_of, build_axis
from tests.workload import shops


def _windows(calendar: Calendar) -> list[tuple[int, int, int]]:
    return [(one.start_tau, one.end_tau, one.stop_before_min) for one in calendar.windows]


def _press_calendar(shop: Shop) -> Calendar:
    axis = build_axis(shop)
    return axis.calendar(axis.press_times[shop.presses[0].press_id])


def test_nights_and_weekends_are_cut_out() -> None:
    """Five days of nine hours are five stretches that lie side by side on the shop axis."""
    axis = build_axis(shops.shop())
    assert axis.clock.cuts_tau == (0, 540, 1080, 1620, 2160)
    assert axis.clock.horizon_tau == 2700
    assert axis.clock.starts_at(540) == shops.at(3)


def test_windows_carry_the_wall_minutes_closed_before_them() -> None:
    """A break stays on the axis only where something else is open; its length is the stop before the next window."""
    shop = shops.shop(shops.press(hours=shops.hours("08:00", "17:00", ("12:00", "12:30"))), days_ahead=2)
    assert _windows(_press_calendar(shop)) == [
        (0, 240, ALWAYS_CLOSED_BEFORE_MIN),
        (270, 540, 30),
        (540, 780, 900),
        (810, 1080, 30),
    ]


def test_a_break_of_the_whole_shop_is_cut_out_too() -> None:
    """Where nobody is open at noon the axis has no noon, but the stop is still 30 wall minutes."""
    shop = shops.shop(hours=shops.hours("08:00", "17:00", ("12:00", "12:30")), days_ahead=1)
    assert _windows(_press_calendar(shop)) == [(0, 240, ALWAYS_CLOSED_BEFORE_MIN), (240, 510, 30)]


def test_a_shop_that_never_closes_has_one_stretch_and_one_window() -> None:
    """Midnight is no stop."""
    shop = shops.shop(hours=shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS), plan_from=shops.at(2, "00:00"))
    axis = build_axis(shop)
    assert len(axis.clock.stretches) == 1
    assert axis.clock.horizon_tau == 7 * 1440
    assert _windows(_press_calendar(shop)) == [(0, 7 * 1440, ALWAYS_CLOSED_BEFORE_MIN)]


def test_two_shifts_that_touch_are_one_window() -> None:
    """06:00 to 14:00 and 14:00 to 22:00 go straight on."""
    early = DayHours(weekdays=shops.WORKDAYS, from_min=360, to_min=840)
    late = DayHours(weekdays=shops.WORKDAYS, from_min=840, to_min=1320)
    shop = shops.shop(hours=(early, late), plan_from=shops.at(2, "06:00"), days_ahead=2)
    assert _windows(_press_calendar(shop)) == [(0, 960, ALWAYS_CLOSED_BEFORE_MIN), (960, 1920, 480)]


def test_two_shifts_with_a_gap_are_two_windows() -> None:
    """An hour between the shifts is a stop of an hour."""
    early = DayHours(weekdays=shops.WORKDAYS, from_min=360, to_min=840)
    late = DayHours(weekdays=shops.WORKDAYS, from_min=900, to_min=1320)
    shop = shops.shop(hours=(early, late), plan_from=shops.at(2, "06:00"), days_ahead=1)
    assert _windows(_press_calendar(shop)) == [(0, 480, ALWAYS_CLOSED_BEFORE_MIN), (480, 900, 60)]


def test_clock_changes_move_no_opening() -> None:
    """The Monday after clocks went forward opens at 08:00 by the clock, after a night and Sunday an hour shorter."""
    shop = shops.shop(plan_from=shops.at(27), days_ahead=4)
    axis = build_axis(shop)
    assert [axis.clock.starts_at(tau) for tau in axis.clock.cuts_tau] == [shops.at(27), shops.at(30)]
    assert _windows(_press_calendar(shop))[1] == (540, 1080, 63 * 60 - 60)


def test_clocks_going_forward_in_an_open_night_cost_no_minutes() -> None:
    """A shop open from Saturday to Monday loses an hour of wall clock, not of work: 48 hours less one."""
    always = shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS)
    axis = build_axis(shops.shop(hours=always, plan_from=shops.at(28, "00:00"), days_ahead=2))
    assert axis.clock.horizon_tau == 47 * 60


@pytest.mark.parametrize(
    ("what", "open_min"),
    [("", 240 + 540), ("auto-1", 240 + 540), ("dry", 540 + 540), ("other", 540 + 540)],
)
def test_closures_close_what_they_name(what: str, open_min: int) -> None:
    """A closure from noon to Tuesday 08:00 shuts the whole shop or the press it names, and nothing else."""
    shop = shops.shop(
        shops.press(dryer_id="dry"),
        dryers=(Dryer(dryer_id="dry", name="dryer", heated_length_in=96, belt_width_in=30),),
        closures=(Closure(what=what, from_at=shops.at(2, "12:00"), to_at=shops.at(3), why="power"),),
        days_ahead=2,
    )
    assert sum(end - start for start, end, _ in _windows(_press_calendar(shop))) == open_min


def _overtime(start: str, end: str, day: int = 2, **more: object) -> OvertimeOffer:
    return OvertimeOffer(
        day=date(2026, 3, day),
        from_min=shops.clock_min(start),
        to_min=shops.clock_min(end),
        price_cents=5000,
        **more,  # type: ignore[arg-type]
    )


def test_overtime_is_on_the_axis_but_only_counts_once_bought() -> None:
    """An evening block touches the day: bought it prolongs the window, unbought it is part of the night."""
    shop = shops.shop(overtime=(_overtime("17:00", "19:00"),), days_ahead=2)
    calendar = _press_calendar(shop)
    block = build_axis(shop).overtime[0]
    assert (block.start_tau, block.end_tau, block.price_cents) == (540, 660, 5000)
    assert _windows(calendar.with_bought({block.block_id})) == [(0, 660, ALWAYS_CLOSED_BEFORE_MIN), (660, 1200, 780)]
    assert _windows(calendar.with_bought(())) == [(0, 540, ALWAYS_CLOSED_BEFORE_MIN), (660, 1200, 900)]


def test_evening_blocks_hang_on_the_earlier_one() -> None:
    """The second hour of an evening can be bought only after the first."""
    axis = build_axis(shops.shop(overtime=(_overtime("18:00", "19:00"), _overtime("17:00", "18:00"))))
    first, second = axis.overtime
    assert (first.after_id, second.after_id) == (None, first.block_id)


def test_morning_blocks_hang_on_the_later_one() -> None:
    """Before opening it is the hour next to the day that comes first."""
    offers = (_overtime("06:00", "07:00", 3), _overtime("07:00", "08:00", 3))
    early, late = build_axis(shops.shop(overtime=offers)).overtime
    assert (early.after_id, late.after_id) == (late.block_id, None)


def test_blocks_apart_or_for_other_presses_do_not_hang_together() -> None:
    """A Saturday block, and an evening of another press, are bought by themselves."""
    offers = (
        _overtime("17:00", "18:00", press_ids=("auto-1",)),
        _overtime("18:00", "19:00", press_ids=("auto-2",)),
        _overtime("09:00", "12:00", 7),
    )
    axis = build_axis(shops.shop(shops.press(), shops.press("auto-2"), overtime=offers))
    assert [block.after_id for block in axis.overtime] == [None, None, None]


def test_overtime_opens_only_the_presses_it_names() -> None:
    """A block for one press leaves the other closed."""
    shop = shops.shop(
        shops.press(), shops.press("auto-2"), overtime=(_overtime("17:00", "18:00", press_ids=("auto-2",)),)
    )
    axis = build_axis(shop)
    assert not axis.press_times["auto-1"].overtime
    assert list(axis.press_times["auto-2"].overtime.values()) == [((540, 600),)]


def test_overtime_on_a_holiday_is_still_on_offer_but_not_through_a_power_cut() -> None:
    """A closure of whole days does not cancel overtime dated on it; a closure by the clock does."""
    holiday = Closure(what="", from_at=shops.at(3, "00:00"), to_at=shops.at(4, "00:00"), why="holiday")
    cut = Closure(what="", from_at=shops.at(3, "09:00"), to_at=shops.at(3, "10:00"), why="power cut")
    shop = shops.shop(overtime=(_overtime("08:00", "12:00", 3),), closures=(holiday, cut))
    spans = build_axis(shop).press_times["auto-1"].overtime
    day = 1440
    assert list(spans.values()) == [((day, day + 60), (day + 120, day + 240))]


def test_a_shop_that_never_opens_is_told() -> None:
    """No open minute at all is a fault, not an empty plan."""
    with pytest.raises(InputError, match="nothing is open"):
        build_axis(shops.shop(hours=shops.hours(weekdays=())))


def test_open_times_of_several_join_and_meet() -> None:
    """Open when any is, and open when both are, overtime counted beyond normal hours only."""
    one = OpenTimes(normal=((0, 100),), overtime={"late": ((100, 160),)})
    other = OpenTimes(normal=((50, 130),), overtime={"late": ((130, 200),)})
    assert any_of(one, other) == OpenTimes(normal=((0, 130),), overtime={"late": ((130, 200),)})
    assert one.and_also(other) == OpenTimes(normal=((50, 100),), overtime={"late": ((100, 160),)})


clock_minutes = st.integers(0, 96).map(lambda quarter: quarter * 15)


@settings(max_examples=60, deadline=None)
@given(
    shop_hours=st.tuples(clock_minutes, clock_minutes),
    press_hours=st.tuples(clock_minutes, clock_minutes),
    lunch=st.tuples(clock_minutes, clock_minutes),
    day=st.integers(25, 31),
)
def test_windows_and_stretches_agree_for_any_hours(
    shop_hours: tuple[int, int], press_hours: tuple[int, int], lunch: tuple[int, int], day: int
) -> None:
    """Every window lies in one stretch, its stop is the wall time since the window before, and no minute is lost."""

    def made(pair: tuple[int, int]) -> tuple[DayHours, ...]:
        breaks = ((min(lunch), max(lunch)),) if lunch[0] != lunch[1] else ()
        return (DayHours(weekdays=shops.ALL_DAYS, from_min=min(pair), to_min=max(pair), breaks=breaks),)

    shop = shops.shop(shops.press(hours=made(press_hours)), hours=made(shop_hours), plan_from=shops.at(day, "00:00"))
    try:
        axis = build_axis(shop)
    except InputError:
        return
    calendar = axis.calendar(axis.press_times["auto-1"])
    cuts = set(axis.clock.cuts_tau)
    for window in calendar.windows:
        assert not cuts & set(range(window.start_tau + 1, window.end_tau))
    for before, after in pairwise(calendar.windows):
        closed = axis.clock.wall_at_start(after.start_tau) - axis.clock.wall_at_end(before.end_tau)
        assert after.stop_before_min == closed > 0
    worked = sum(one.end_tau - one.start_tau for one in calendar.windows)
    assert worked == sum(end - start for start, end in axis.press_times["auto-1"].normal)

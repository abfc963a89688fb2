"""Room kept free at the end of each press's day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from scheduler.domain.calendars import KeptFree, Restart
from scheduler.domain.orders import Announced, Ink, Progress, WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.shop import Dryer, OvertimeOffer, Shop, Worker
from scheduler.domain.week import PressLine, Week
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.workload.build import build_workload
from tests.workload import shops

EVENING = OvertimeOffer(day=date(2026, 3, 2), from_min=17 * 60, to_min=19 * 60, price_cents=9000)


def _week(in_shop: Shop | None = None, **more: object) -> Week:
    shop = in_shop or shops.shop(days_ahead=2)
    return build_workload(shops.week_inputs(replace(shop, room_kept_free_min=45), **more)).week  # type: ignore[arg-type]


def _windows(press: PressLine) -> list[tuple[int, int, str | None]]:
    return [(one.start_tau, one.end_tau, one.overtime_id) for one in press.calendar.windows]


def _kept(press: PressLine) -> list[tuple[int, int]]:
    return [(one.start_tau, one.end_tau) for one in press.kept_free]


def _started(pieces: int, left: int, **more: int) -> dict[str, object]:
    row = Progress(
        order_id="1",
        location="front",
        shade=None,
        press_id="auto-1",
        started_at=shops.at(2, "07:00"),
        pieces_left=left,
        **more,
    )
    return {"lots": (shops.lot(pieces=pieces),), "progress": (row,)}


def test_the_last_minutes_of_each_day_are_left_out() -> None:
    """A day of nine hours ends 45 min sooner for what is planned; the axis keeps the minutes."""
    week = _week()
    assert _windows(week.presses[0]) == [(0, 495, None), (540, 1035, None)]
    assert _kept(week.presses[0]) == [(495, 540), (1035, 1080)]
    assert week.horizon_tau == 1080


def test_a_shop_that_keeps_none_has_its_whole_day() -> None:
    """Nothing is left out where the setting is 0."""
    week = build_workload(shops.week_inputs(shops.shop(days_ahead=1))).week
    assert _windows(week.presses[0]) == [(0, 540, None)]
    assert week.presses[0].kept_free == ()


def test_open_minutes_are_kept_not_clock_time() -> None:
    """With a break at 16:30 the room is the 20 min after it and 25 min before it; lunch is not in it."""
    own = shops.hours("08:00", "17:00", ("16:30", "16:40"))
    week = _week(shops.shop(shops.press(hours=own), days_ahead=1))
    assert _windows(week.presses[0]) == [(0, 485, None)]
    assert _kept(week.presses[0]) == [(485, 510), (520, 540)]


def test_the_day_that_counts_is_what_dryer_and_people_leave() -> None:
    """A dryer that cools from 16:00 and a printer who goes at 15:00 end the press's day, each by itself."""
    dryer = Dryer(
        dryer_id="long", name="long", heated_length_in=96, belt_width_in=36, hours=shops.hours("08:00", "16:00")
    )
    cooled = _week(shops.shop(shops.press(dryer_id="long"), dryers=(dryer,), days_ahead=1))
    assert _windows(cooled.presses[0]) == [(0, 435, None)]
    ana = Worker(person_id="ana", name="Ana", roles=("print",), hours=shops.hours("08:00", "15:00"))
    manned = _week(shops.shop(shops.press(run_crew=(("print", 1),)), people=(ana,), days_ahead=1))
    assert _windows(manned.presses[0]) == [(0, 375, None)]


def test_what_is_left_of_today_is_kept_if_it_is_less() -> None:
    """Planned from 16:30, half an hour is left of Monday: all of it is kept, and Tuesday keeps its own."""
    week = _week(shops.shop(plan_from=shops.at(2, "16:30"), days_ahead=2))
    assert _windows(week.presses[0]) == [(30, 525, None)]
    assert _kept(week.presses[0]) == [(0, 30), (525, 570)]


def test_a_night_shift_ends_its_day_after_midnight() -> None:
    """A shift from 20:00 to 02:00 is one working day."""
    (late,) = shops.hours("20:00", "24:00", weekdays=(0,))
    own = (replace(late, to_min=26 * 60),)
    week = _week(shops.shop(shops.press(hours=own), hours=own, days_ahead=2))
    assert _windows(week.presses[0]) == [(0, 315, None)]


def test_a_press_that_never_stops_keeps_room_before_midnight() -> None:
    """Where no night ends the day, the day of the calendar does."""
    always = shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS)
    week = _week(shops.shop(hours=always, plan_from=shops.at(2, "00:00"), days_ahead=2))
    assert _kept(week.presses[0]) == [(1395, 1440), (2835, 2880)]


def test_overtime_that_follows_opens_the_room_too() -> None:
    """The evening's block goes on from 17:00: bought, the press is open from 16:15 on without a stop."""
    week = _week(shops.shop(overtime=(EVENING,), days_ahead=1))
    (press,), (block,) = week.presses, week.overtime
    assert press.kept_free == (KeptFree(start_tau=495, end_tau=540, overtime_id=block.block_id),)
    assert [(one.start_tau, one.end_tau) for one in press.calendar.with_bought(()).windows] == [(0, 495)]
    assert [(one.start_tau, one.end_tau) for one in press.calendar.with_bought({block.block_id}).windows] == [(0, 660)]


def test_overtime_after_a_pause_leaves_the_room_kept() -> None:
    """A block from 17:30 on does not follow directly: bought or not, the room stays free."""
    later = replace(EVENING, from_min=EVENING.from_min + 30)
    (press,) = _week(shops.shop(overtime=(later,), days_ahead=1)).presses
    bought = press.calendar.with_bought({"overtime 2026-03-02 17:30"})
    assert [(one.start_tau, one.end_tau) for one in bought.windows] == [(0, 495), (540, 630)]
    assert [one.overtime_id for one in press.kept_free] == [None]


def test_only_the_first_block_of_an_evening_opens_the_room() -> None:
    """Of two blocks in a row it belongs to the one that starts at closing time."""
    late = replace(EVENING, from_min=EVENING.to_min, to_min=EVENING.to_min + 60)
    (press,) = _week(shops.shop(overtime=(late, EVENING), days_ahead=1)).presses
    assert [one.overtime_id for one in press.kept_free] == ["overtime 2026-03-02 17:00"]


@pytest.mark.parametrize(("left", "kept"), [(3300, [(495, 540), (1035, 1080)]), (3301, [(1035, 1080)])])
def test_a_started_run_may_use_the_room(left: int, kept: list[tuple[int, int]]) -> None:
    """At 400 an hour 3,300 pieces end at 16:15 to the minute; one more and Monday keeps no room, Tuesday does."""
    inputs = shops.week_inputs(replace(shops.shop(days_ahead=2), room_kept_free_min=45), **_started(3600, left))  # type: ignore[arg-type]
    workload = build_workload(inputs)
    assert _kept(workload.week.presses[0]) == kept
    assert any(one.code == "room_given_up" for one in workload.assumptions) == (len(kept) == 1)


def test_a_started_run_s_restarts_count() -> None:
    """The run ends at 16:15 but for the 10 min it takes to go on after lunch: the room is given up."""
    lunch = shops.hours("08:00", "17:00", ("12:00", "13:00"))
    for restart, is_kept in ((0, True), (10, False)):
        own = shops.press(hours=lunch, restart=Restart(break_min=restart))
        week = _week(shops.shop(own, days_ahead=1), **_started(3600, 2900))
        assert bool(week.presses[0].kept_free) == is_kept


@pytest.mark.parametrize(
    ("clock_time", "is_kept"), [("08:00", True), ("16:00", True), ("16:01", False), ("16:20", False)]
)
def test_a_run_locked_into_the_room_may_use_it(clock_time: str, is_kept: bool) -> None:
    """A quarter of an hour's print locked to 16:00 ends at 16:15; a minute later it needs the room, and has it."""
    imprints = (shops.imprint(lock_at=shops.at(2, clock_time)),)
    week = _week(shops.shop(days_ahead=1), imprints=imprints)
    assert bool(week.presses[0].kept_free) == is_kept
    assert week.not_planned == ()
    planned = first_plan(week)
    assert isinstance(planned, Decoded)
    assert check(week, planned.plan) == ()


def test_an_announced_run_gives_up_the_room_only_where_it_starts_in_it() -> None:
    """A run that paused over the room in the earlier plan does so again."""
    for clock_time, is_kept in (("16:10", True), ("16:14", True), ("16:15", False)):
        earlier = Announced(run_id="1 front dark", press_id="auto-1", set_up_at=shops.at(2, clock_time))
        shop = shops.shop(days_ahead=2, dont_touch_before=shops.at(3))
        week = _week(shop, announced=(earlier,))
        assert bool(week.fixings)
        assert ((495, 540) in _kept(week.presses[0])) == is_kept


def test_ink_that_dries_goes_on_the_next_day_rather_than_into_the_room() -> None:
    """A water-based print of 500 min goes into a day of 540; with 495 of it planned it needs a second day."""
    blue = shops.imprint(Ink(name="blue", family="water-based"))
    slow = shops.shop(shops.press(stated_pcs_h=60), days_ahead=2)
    lots = (shops.lot(pieces=500),)
    assert not build_workload(shops.week_inputs(slow, lots=lots, imprints=(blue,))).week.not_planned
    assert not _week(slow, lots=lots, imprints=(blue,)).not_planned
    one_day = replace(slow, days_ahead=1)
    assert [one.kind for one in _week(one_day, lots=lots, imprints=(blue,)).not_planned] == ["no time"]
    locked = replace(blue, lock_at=shops.at(2, "08:00"))
    assert not _week(slow, lots=lots, imprints=(locked,)).not_planned


def _plan(inputs: WeekInputs) -> tuple[Week, Plan]:
    week = build_workload(inputs).week
    planned = first_plan(week)
    assert isinstance(planned, Decoded)
    return week, planned.plan


def test_planned_work_pauses_over_the_room() -> None:
    """A print of 520 min on a Monday morning goes on on Tuesday, 25 min into the day."""
    shop = shops.shop(shops.press(stated_pcs_h=60), days_ahead=2, room_kept_free_min=45)
    week, plan = _plan(shops.week_inputs(shop, lots=(shops.lot(pieces=520),)))
    (run,) = plan.runs
    assert (run.print_start_tau, run.print_end_tau) == (0, 565)
    assert check(week, plan) == ()

"""Dryers and flashes that have to get hot: when a press may print, beside when it may be set up."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN
from scheduler.domain.shop import Closure, Dryer, OvertimeOffer, Shop
from scheduler.workload.build import build_workload
from tests.workload import shops


def _dryer(**more: Any) -> Dryer:
    return Dryer(dryer_id="long", name="long", heated_length_in=96, belt_width_in=40, **{"warm_up_min": 20, **more})


def _shop(dryer: Dryer | None = None, **more: Any) -> Shop:
    presses = more.pop("presses", (shops.press(dryer_id="long"),))
    return shops.shop(*presses, **{"dryers": (dryer or _dryer(),), "days_ahead": 2, **more})


def _prints(shop: Shop, bought: tuple[str, ...] = (), press: int = 0) -> list[tuple[int, int]]:
    """When a press can print, in shop minutes."""
    line = build_workload(shops.week_inputs(shop)).week.presses[press]
    return [(one.start_tau, one.end_tau) for one in line.prints_in.with_bought(bought).windows]


def test_a_press_prints_once_its_dryer_is_hot() -> None:
    """Twenty minutes after each opening it may print; it may be set up from the opening on, and the night is longer."""
    line = build_workload(shops.week_inputs(_shop())).week.presses[0]
    assert [(one.start_tau, one.end_tau) for one in line.calendar.windows] == [(0, 540), (540, 1080)]
    assert [(one.start_tau, one.end_tau, one.stop_before_min) for one in line.prints_in.windows] == [
        (20, 540, ALWAYS_CLOSED_BEFORE_MIN),
        (560, 1080, 920),
    ]


def test_nothing_that_warms_up_leaves_a_press_as_it_is() -> None:
    """Without warm-up minutes, and without a dryer, a press has one calendar."""
    for shop in (_shop(_dryer(warm_up_min=0)), shops.shop(shops.press(flash_warm_up_min=10, flashes=0))):
        assert build_workload(shops.week_inputs(shop)).week.presses[0].print_calendar is None


@pytest.mark.parametrize(("off_after", "starts"), [(61, [20, 300, 560, 840]), (60, [20, 320, 560, 860])])
def test_a_dryer_stays_on_over_a_shorter_stop(off_after: int, starts: list[int]) -> None:
    """Over an hour at noon it stays on if it is switched off for stops of 61 minutes, and not for stops of 60."""
    hours = shops.hours("08:00", "17:00", ("12:00", "13:00"))
    shop = _shop(_dryer(off_after_min=off_after), hours=hours, finish_crew=(), packing_hours=shops.hours())
    assert [start for start, _ in _prints(shop)] == starts


def test_a_dryer_hot_before_the_press_opens_costs_nothing() -> None:
    """A dryer that runs from 08:00 is hot when a press opens at 10:00, and not yet when one opens at 08:10."""
    late, early = (
        shops.press(name, dryer_id="long", hours=shops.hours(at)) for name, at in (("a", "10:00"), ("b", "08:10"))
    )
    shop = _shop(presses=(late, early), days_ahead=1)
    assert _prints(shop) == [(120, 540)]
    assert _prints(shop, press=1) == [(20, 540)]


@pytest.mark.parametrize(("now", "first"), [("08:00", 20), ("08:15", 5), ("08:20", 0), ("11:00", 0)])
def test_a_week_planned_in_the_middle_of_a_day_finds_the_dryer_on(now: str, first: int) -> None:
    """What is left of the warm-up at the planning moment is all that is waited for."""
    assert _prints(_shop(plan_from=shops.at(2, now)))[0][0] == first


def test_a_dryer_left_on_over_night_was_hot_all_along() -> None:
    """Switched off for stops of 16 hours and more, it is on in the morning after a working day, not after a Sunday."""
    assert _prints(_shop(_dryer(off_after_min=960), plan_from=shops.at(3)))[0][0] == 0
    assert _prints(_shop(_dryer(off_after_min=960), plan_from=shops.at(2)))[0][0] == 20


def _overtime(start: str, end: str, **more: Any) -> OvertimeOffer:
    known: dict[str, Any] = {"day": date(2026, 3, 3), "price_cents": 1_000}
    return OvertimeOffer(from_min=shops.clock_min(start), to_min=shops.clock_min(end), **{**known, **more})


def test_overtime_before_the_opening_warms_the_dryer_up() -> None:
    """With two hours bought before Tuesday's opening, those warm it up; with the later one alone, that one does."""
    shop = _shop(overtime=(_overtime("06:00", "07:00"), _overtime("07:00", "08:00")))
    earlier, later = "overtime 2026-03-03 06:00", "overtime 2026-03-03 07:00"
    assert _prints(shop)[1:] == [(680, 1200)]
    assert _prints(shop, (later,))[1:] == [(620, 1200)]
    assert _prints(shop, (later, earlier))[1:] == [(560, 1200)]


def test_overtime_after_the_day_finds_the_dryer_hot() -> None:
    """An evening that follows the day prints from its first minute on; one after a longer stop warms up again."""
    shop = _shop(overtime=(_overtime("17:00", "18:00"),))
    assert _prints(shop, ("overtime 2026-03-03 17:00",))[-1] == (560, 1140)
    shop = _shop(_dryer(off_after_min=120), overtime=(_overtime("19:00", "20:00"),))
    assert _prints(shop, ("overtime 2026-03-03 19:00",))[1:] == [(560, 1080), (1100, 1140)]


def test_another_presss_overtime_warms_the_dryer_they_share() -> None:
    """Bought for one press alone, the hour before opening spares the other the wait."""
    presses = tuple(shops.press(name, dryer_id="long") for name in ("a", "b"))
    shop = _shop(presses=presses, overtime=(_overtime("07:00", "08:00", press_ids=("a",)),))
    block = "overtime 2026-03-03 07:00"
    assert _prints(shop, (block,))[1:] == [(560, 1140)]
    assert _prints(shop, (block,), press=1)[1:] == [(600, 1140)]
    assert _prints(shop, press=1)[1:] == [(620, 1140)]


def test_a_repaired_dryer_warms_up_again() -> None:
    """After a closure as long as a night it was off."""
    closed = Closure(what="long", from_at=shops.at(2, "09:00"), to_at=shops.at(2, "13:00"), why="belt")
    assert _prints(_shop(closures=(closed,)))[:2] == [(20, 60), (320, 540)]


def test_flashes_warm_up_with_their_press() -> None:
    """A manual press without a dryer prints once its flash is hot."""
    shop = shops.shop(shops.manual(flash_warm_up_min=10), days_ahead=1)
    assert _prints(shop) == [(10, 540)]


@pytest.mark.parametrize(("pieces", "fits"), [(3466, True), (3467, False)])
def test_a_run_that_needs_the_cold_minutes_is_not_planned(pieces: int, fits: bool) -> None:
    """In the 520 hot minutes of Monday's nine hours 3466 pieces can be printed at 400 an hour, not one more."""
    inputs = shops.week_inputs(
        _shop(_dryer(), days_ahead=1),
        lots=(shops.lot(pieces=pieces),),
        imprints=(shops.imprint("red"),),
    )
    week = build_workload(inputs).week
    assert bool(week.runs) is fits
    if not fits:
        assert week.not_planned[0].kind == "no time"

"""Shop time for pictures: days, ticks and cuts are where the shop's clock says."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from dashboard.charts.shop_axis import TICK_PX, clock_ticks, cuts_inside, day_at, day_ticks, shop_days
from scheduler.domain.clock import ShopClock, Stretch
from tests import builders as b


def two_stretches() -> ShopClock:
    """Monday 08:00 to 12:00 and 13:00 to 17:00."""
    return ShopClock(
        zone=b.ZONE,
        now=datetime(2026, 3, 2, 8, 0, tzinfo=ZoneInfo(b.ZONE)),
        stretches=(Stretch(wall_start_min=0, wall_end_min=240), Stretch(wall_start_min=300, wall_end_min=540)),
    )


def test_a_day_holds_all_its_stretches() -> None:
    """A day with a lunch cut out is one day from its first open minute to its last."""
    days = shop_days(two_stretches())
    assert [(day.day, day.from_tau, day.to_tau) for day in days] == [(date(2026, 3, 2), 0, 480)]
    assert days[0].short == "Mon 2 Mar"
    assert days[0].long == "Monday 2 Mar"


def test_a_stretch_over_midnight_is_cut_at_midnight() -> None:
    """A shop that works around the clock has days that end at midnight."""
    clock = ShopClock(
        zone=b.ZONE,
        now=datetime(2026, 3, 2, 22, 0, tzinfo=ZoneInfo(b.ZONE)),
        stretches=(Stretch(wall_start_min=0, wall_end_min=240),),
    )
    assert [(day.from_tau, day.to_tau) for day in shop_days(clock)] == [(0, 120), (120, 240)]


def test_a_day_of_changed_clocks_ends_at_its_own_midnight() -> None:
    """The Sunday on which clocks go forward in Chicago (8 March 2026) has 23 hours."""
    clock = ShopClock(
        zone=b.ZONE,
        now=datetime(2026, 3, 8, 0, 0, tzinfo=ZoneInfo(b.ZONE)),
        stretches=(Stretch(wall_start_min=0, wall_end_min=3000),),
    )
    assert [(day.from_tau, day.to_tau) for day in shop_days(clock)][:2] == [(0, 1380), (1380, 2820)]


@pytest.mark.parametrize(("tau", "day"), [(0, 2), (539, 2), (540, 3), (2699, 6), (9999, 6)])
def test_a_minute_belongs_to_the_day_in_which_its_work_starts(tau: int, day: int) -> None:
    """The last minute of Monday is Monday's, the next is Tuesday's; beyond the end it is the last day."""
    assert day_at(b.clock(), tau).day == date(2026, 3, day)


def test_ticks_stand_at_round_clock_times() -> None:
    """Each tick's shop minute is the clock time written at it, lunch cut out, one tick at a cut."""
    clock = two_stretches()
    ticks, texts = clock_ticks(clock, 0, 480, width_px=1200)
    assert dict(zip(ticks, texts, strict=True))[0] == "08:00"
    assert dict(zip(ticks, texts, strict=True))[300] == "14:00"
    assert all(f"{clock.starts_at(tau):%H:%M}" == text for tau, text in zip(ticks, texts, strict=True))


@pytest.mark.parametrize("width_px", [300, 390, 800, 1400])
def test_ticks_leave_room_for_their_words(width_px: int) -> None:
    """However narrow the picture, two ticks are no closer than a clock time is wide, and there are some."""
    ticks, _ = clock_ticks(b.clock(days=1), 0, 540, width_px=width_px)
    assert len(ticks) >= 2
    assert all((later - tick) * width_px / 540 >= TICK_PX for tick, later in pairwise(ticks))


def test_days_are_named_in_their_middle() -> None:
    """The tick of a day stands in the middle of what is shown of it."""
    assert day_ticks(b.clock(), 0, 1080) == ([270.0, 810.0], ["Mon 2 Mar", "Tue 3 Mar"])
    assert day_ticks(b.clock(), 440, 1080)[0] == [490.0, 810.0]


def test_cuts_are_those_strictly_inside() -> None:
    """A cut at either end of what is shown is no line in it."""
    assert cuts_inside(b.clock(), 0, 1080) == [540]
    assert cuts_inside(b.clock(), 540, 1080) == []
    assert cuts_inside(b.clock(), 539, 1081) == [540, 1080]

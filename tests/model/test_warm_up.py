"""A press whose dryer warms up, as the model reads it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.calendars import Calendar, Restart
from scheduler.model.press_rules import print_follows_set_up, print_takes_its_time
from tests import builders as b
from tests.model.asserting import allowed, refused

WEEK = b.week(
    runs=[b.run(choices=[b.choice(stated_set_up_min=10, print_min=60)])], presses=[b.press_line(print_calendar=b.hot())]
)


def test_a_print_waits_until_the_dryer_is_hot() -> None:
    """Set up by 08:10, it prints at 08:20; a minute later is refused, and a minute earlier is no minute to print in."""
    allowed(WEEK, b.plan(b.planned_run(set_up=10, print_start_tau=20, print_end_tau=80)))
    refused(print_follows_set_up, WEEK, b.plan(b.planned_run(set_up=10, print_start_tau=21, print_end_tau=81)))


def test_a_set_up_over_while_it_is_hot_prints_at_once() -> None:
    """Set up by 08:20 or 09:00 it prints then, not a minute later."""
    for at in (10, 50):
        allowed(WEEK, b.plan(b.planned_run(at=at, set_up=10)))
        late = b.planned_run(at=at, set_up=10, print_start_tau=at + 11, print_end_tau=at + 71)
        refused(print_follows_set_up, WEEK, b.plan(late))


def test_a_print_over_night_pauses_until_it_is_hot_again() -> None:
    """Half an hour left over goes on at 08:20 the next morning, restart first."""
    week = b.week(presses=[b.press_line(print_calendar=b.hot(), restart=Restart(night_min=8))])
    allowed(week, b.plan(b.planned_run(at=510, print_end_tau=598)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(at=510, print_end_tau=597)))


@pytest.mark.parametrize(("bought", "starts"), [((), 620), (("early Tue",), 600)])
def test_overtime_decides_when_it_is_hot(bought: tuple[str, ...], starts: int) -> None:
    """Tuesday's first minutes can print if the hour before them was bought; a run set up at opening starts then."""
    on = b.clock(days=2, day_min=600)
    opened = b.hours((0, 540), (540, 600, "early Tue"), (600, 1140), on=on)
    cold = replace(opened.windows[2], end_tau=620, overtime_id="early Tue")
    hot = replace(opened.windows[2], start_tau=620)
    early = replace(opened.windows[1], start_tau=560, stop_before_min=opened.windows[1].stop_before_min + 20)
    prints = Calendar(windows=(*b.hot(b.hours((0, 540), on=on)).windows, early, cold, hot))
    week = b.week(
        clock=on,
        presses=[b.press_line(calendar=opened, print_calendar=prints)],
        overtime=[b.overtime("early Tue", start=540, end=600)],
    )
    good = b.planned_run(at=600, print_start_tau=starts, print_end_tau=starts + 60)
    allowed(week, b.plan(good, overtime=bought))
    late = b.planned_run(at=600, print_start_tau=starts + 1, print_end_tau=starts + 61)
    refused(print_follows_set_up, week, b.plan(late, overtime=bought))

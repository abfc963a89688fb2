"""A press whose dryer warms up, as the checker reads it."""

from __future__ import annotations

from scheduler.domain.calendars import Restart
from scheduler.review.activities import activities
from scheduler.review.people_rules import inside_open_hours
from scheduler.review.press_rules import belt_is_shared, print_follows_set_up, print_takes_its_time
from scheduler.review.rules import check
from tests import builders as b

WEEK = b.week(
    runs=[b.run(choices=[b.choice(stated_set_up_min=10, print_min=60)])], presses=[b.press_line(print_calendar=b.hot())]
)


def test_a_print_waits_until_the_dryer_is_hot() -> None:
    """Set up by 08:10, it prints at 08:20: not a minute before, and not a minute after."""
    good = b.planned_run(set_up=10, print_start_tau=20, print_end_tau=80)
    assert check(WEEK, b.plan(good)) == ()
    for start in (19, 21):
        early = b.planned_run(set_up=10, print_start_tau=start, print_end_tau=start + 60)
        assert "print_follows_set_up" in {one.rule for one in check(WEEK, b.plan(early))}


def test_a_set_up_over_while_it_is_hot_prints_at_once() -> None:
    """Set up by 08:20 on the dot there is nothing to wait for, and no waiting either."""
    assert check(WEEK, b.plan(b.planned_run(at=10, set_up=10))) == ()
    late = b.plan(b.planned_run(at=10, set_up=10, print_start_tau=21, print_end_tau=81))
    assert [one.rule for one in print_follows_set_up(WEEK, late)] == ["print_follows_set_up"]


def test_a_print_over_night_pauses_until_it_is_hot_again() -> None:
    """Half an hour left for the morning goes on at 08:20, restart first, and nobody is asked to run it before."""
    press = b.press_line(print_calendar=b.hot(), restart=Restart(night_min=8), run_crew=(("print", 1),))
    week = b.week(presses=[press])
    good = b.plan(b.planned_run(at=510, print_end_tau=598))
    assert check(week, good) == ()
    assert [one.stretches for one in activities(week, good) if one.kind == "printing"] == [((510, 540), (560, 598))]
    short = b.plan(b.planned_run(at=510, print_end_tau=578))
    assert [one.rule for one in print_takes_its_time(week, short)] == ["print_takes_its_time"]


def test_a_print_lies_in_hot_minutes() -> None:
    """It neither starts nor ends while the dryer warms up, though the press is open."""
    for start, end in ((5, 65), (500, 550)):
        plan = b.plan(b.planned_run(print_start_tau=start, print_end_tau=end))
        assert "inside_open_hours" in {one.rule for one in inside_open_hours(WEEK, plan)}
    assert inside_open_hours(WEEK, b.plan(b.planned_run(print_start_tau=20, print_end_tau=560 + 1))) == []


def test_a_belt_is_free_while_it_warms_up() -> None:
    """A print that pauses for the warm-up leaves the belt to one whose own dryer hours are longer."""
    full = [b.choice(press_id, print_min=60, belt_permille=1000) for press_id in ("P1", "P2")]
    presses = [b.press_line("P1", dryer_id="d", print_calendar=b.hot()), b.press_line("P2", dryer_id="d")]
    week = b.week(runs=[b.run("r1", choices=full[:1]), b.run("r2", choices=full[1:])], presses=presses)
    pausing = b.planned_run("r1", at=510, print_end_tau=590)
    beside = b.planned_run("r2", press_id="P2", at=540, printing=20)
    assert belt_is_shared(week, b.plan(pausing, beside)) == []
    a_minute_more = b.planned_run("r2", press_id="P2", at=541, printing=20)
    assert [one.rule for one in belt_is_shared(week, b.plan(pausing, a_minute_more))] == ["belt_is_shared"]

"""What the floor reads: the run on the press, the runs to come, the screens, one person's day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from dashboard.charts.floor import (
    about,
    at_press,
    cautions_of_the_shop,
    print_of,
    rounded,
    screen_work,
    screens_for_later,
    screens_sentence,
    steps_of,
    work_days,
)
from tests import builders as b
from tests.dashboard.charts.shown_plans import ShownPlan, over_lunch, seen, two_press_shop

MONDAY = datetime(2026, 3, 2, 8, 0, tzinfo=ZoneInfo(b.ZONE))


def at(minutes: int) -> datetime:
    """So many minutes after Monday 08:00."""
    return MONDAY + timedelta(minutes=minutes)


@pytest.mark.parametrize(("minute", "shown"), [(0, 0), (2, 0), (3, 5), (5, 5), (7, 5), (8, 10), (58, 60)])
def test_times_are_shown_to_the_nearest_five_minutes(minute: int, shown: int) -> None:
    """Two minutes past is the five before, three the next; 58 past is the next hour."""
    assert rounded(at(minute)) == at(shown)


def test_a_time_of_another_day_says_which() -> None:
    """Today it is a clock time, tomorrow the day stands before it."""
    assert about(at(61), MONDAY) == "09:00"
    assert about(at(24 * 60), MONDAY) == "Tue 08:00"


@pytest.mark.parametrize(
    ("minute", "now", "to_come", "done"),
    [(0, "r1", ["r2"], 0), (59, "r1", ["r2"], 0), (60, None, ["r2"], 1), (99, None, ["r2"], 1), (100, "r2", [], 1)],
)
def test_now_is_from_first_mounting_to_last_piece(minute: int, now: str | None, to_come: list[str], done: int) -> None:
    """r1 stands on the press from 0 to 60, r2 from 100; between them nothing does."""
    week = b.week(runs=[b.run("r1"), b.run("r2")])
    shop = seen(week, b.plan(b.planned_run("r1", set_up=10, printing=50), b.planned_run("r2", at=100)))
    here = at_press(shop.view, "P1", at(minute))
    assert (here.now.run_id if here.now else None) == now
    assert [row.run_id for row in here.to_come] == to_come
    assert here.done == done


def test_prints_of_an_order_are_counted_in_time() -> None:
    """The run that prints first is print 1 of 2, on whatever press, whatever its name."""
    runs = [b.run("a", order_id="o"), b.run("b", order_id="o", choices=[b.choice("P2")]), b.run("c")]
    week = b.week(presses=[b.press_line("P1"), b.press_line("P2")], runs=runs)
    plan = b.plan(
        b.planned_run("a", at=60),
        b.planned_run("b", press_id="P2"),
        b.planned_run("c"),
        orders=[b.planned_order("o", packed=120), b.planned_order("oc", packed=60)],
    )
    assert [print_of(week, plan, run_id) for run_id in ("b", "a", "c")] == [(1, 2), (2, 2), (1, 1)]


def test_screen_work_that_is_over_is_not_shown() -> None:
    """From the minute it ends a burn is done; before it is still to do."""
    week, _, view = two_press_shop()
    first = min((row for row in view.screens if row.what == "burn"), key=lambda row: row.end_at)
    assert first in screen_work(view, first.end_at - timedelta(minutes=1))
    assert first not in screen_work(view, first.end_at)
    assert screen_work(view, week.clock.now, until=week.clock.now) == ()


def test_the_sentence_counts_screens_and_names_who_waits_first() -> None:
    """It counts screens, not sets, and names the press whose set-up comes first."""
    week, plan, view = two_press_shop()
    burns = [row for row in view.screens if row.what == "burn"]
    told = screens_sentence(view.screens, week.clock.now)
    assert told.startswith(f"{sum(row.screens for row in burns)} screens to burn; ")
    first = min((one for one in plan.runs if one.burn is not None), key=lambda one: one.set_up_start_tau)
    assert f"{week.press[first.press_id].name} waits for {week.run[first.run_id].order_id}" in told
    assert screens_sentence([], week.clock.now) == "No screen waits to be burned: every set of the plan is burned."


def test_screens_for_later_are_those_nobody_needs_today() -> None:
    """What is needed at midnight or later counts, what is needed before does not, nor does taping."""
    week, _, view = two_press_shop()
    row = next(row for row in view.screens if row.what == "burn")
    midnight = row.start_at.replace(hour=0, minute=0) + timedelta(days=1)
    for needed_by, count in ((midnight - timedelta(minutes=1), 0), (midnight, 1), (None, 1)):
        tape = replace(row, what="tape", needed_by=midnight)
        changed = replace(view, screens=(replace(row, needed_by=needed_by), tape))
        assert len(screens_for_later(changed, week.clock.now, midnight)) == count


def staffed() -> ShownPlan:
    """Ann sets up r1 from 0 to 20 and prints it to 40 and, after lunch, from 60 to 100."""
    ann = b.person("ann", roles=["print"], calendar=b.every_day())
    shop = over_lunch()
    press = replace(shop.week.presses[0], set_up_crew=(("print", 1),), run_crew=(("print", 1),))
    return seen(replace(shop.week, presses=(press, shop.week.presses[1]), people=(ann,)), shop.plan)


def test_somebodys_day_is_told_in_steps() -> None:
    """Set-up and print of one run are one step with the lunch inside; the next day is empty."""
    shop = staffed()
    steps = steps_of(shop.week, shop.view, "ann", date(2026, 3, 2))
    assert [(step.verb, step.start_at, step.end_at, step.place) for step in steps] == [
        ("set up, print", at(0), at(100), "P1")
    ]
    assert steps[0].what == "or1 front, 60 pieces, a client"
    assert steps_of(shop.week, shop.view, "ann", date(2026, 3, 3)) == ()


def test_a_shop_that_names_nobody_has_one_day_for_all() -> None:
    """Without names everything done that day is in the list."""
    shop = over_lunch()
    assert [step.verb for step in steps_of(shop.week, shop.view, None, date(2026, 3, 2))] == ["set up, print"]


def test_days_of_work_are_those_on_which_something_is_done() -> None:
    """A plan of one Monday run has one day."""
    assert work_days(over_lunch().view) == (date(2026, 3, 2),)


def test_every_caution_stands_once() -> None:
    """The shop's cautions are those of its presses and its screen room, none twice."""
    view = two_press_shop().view
    cautions = cautions_of_the_shop(view)
    assert len(set(cautions)) == len(cautions)
    of_presses = {text for texts in view.press_cautions.values() for text in texts}
    assert set(cautions) == of_presses | set(view.screen_cautions)

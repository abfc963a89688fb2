"""What screens show of a plan: belts, ink minutes, open hours."""

from __future__ import annotations

from scheduler import api
from scheduler.domain.week import SetUpMinutes
from tests import builders as b
from tests.papers import small_shop


def two_presses_one_dryer() -> api.PlanView:
    """r1 on P1 from 0 to 60 fills 600 permille, r2 on P2 from 30 to 90 fills 400."""
    presses = [b.press_line("P1", dryer_id="belt"), b.press_line("P2", dryer_id="belt")]
    runs = [
        b.run("r1", choices=[b.choice("P1", belt_permille=600)]),
        b.run("r2", choices=[b.choice("P2", belt_permille=400)]),
    ]
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=30))
    return api.plan_view(b.week(presses=presses, runs=runs), plan)


def test_a_belt_carries_what_prints_at_the_minute() -> None:
    """A stretch ends at the minute a run starts or stops printing, and says who shares the belt."""
    belts = two_presses_one_dryer().belts
    assert [(one.start_tau, one.end_tau, one.permille) for one in belts] == [
        (0, 30, 600),
        (30, 60, 1000),
        (60, 90, 400),
    ]
    assert [one.run_ids for one in belts] == [("r1",), ("r1", "r2"), ("r2",)]
    assert {one.dryer_id for one in belts} == {"belt"}


def test_a_belt_is_empty_in_breaks_and_in_set_ups() -> None:
    """A paused run lets go of the belt, and a set-up has not taken it yet."""
    press = b.press_line("P1", dryer_id="belt", calendar=b.every_day(breaks=[(40, 20)]))
    week = b.week(presses=[press], runs=[b.run("r1", choices=[b.choice("P1", belt_permille=500)])])
    plan = b.plan(b.planned_run("r1", set_up=10, print_end_tau=90))
    assert [(one.start_tau, one.end_tau) for one in api.plan_view(week, plan).belts] == [(10, 40), (60, 90)]


def test_ink_minutes_are_those_in_which_inks_leave() -> None:
    """Black takes 8 minutes to leave, and of the 10-minute set-up of the next run these are the ink minutes."""
    press = b.press_line("P1", set_up=SetUpMinutes(load_min=2, clean_dark_min=8), now_on=b.stack(("a", "black")))
    runs = [b.run("r1", choices=[b.choice(on=b.stack(("b", "white")))])]
    inks = [b.ink("black", is_dark=True), b.ink("white")]
    plan = b.plan(b.planned_run("r1", set_up=10))
    assert api.plan_view(b.week(presses=[press], runs=runs, inks=inks), plan).ink_min == {"r1": 8}


def test_hours_hold_bought_overtime_and_no_other() -> None:
    """A press is open in its normal hours and in the block the plan buys."""
    calendar = b.hours((0, 100), (100, 150, "bought"), (150, 200, "not bought"))
    blocks = [b.overtime("bought", start=100, end=150), b.overtime("not bought", start=150, end=200)]
    week = b.week(presses=[b.press_line("P1", calendar=calendar)], overtime=blocks)
    view = api.plan_view(week, b.plan(b.planned_run("r1"), overtime=["bought"]))
    assert [(window.start_tau, window.end_tau) for window in view.press_hours["P1"]] == [(0, 150)]


def test_rows_are_found_by_their_ids() -> None:
    """Every planned run has its queue row and every planned order its row."""
    week, plan = small_shop.week(), small_shop.plan()
    view = api.plan_view(week, plan)
    assert set(view.queue_row) == set(plan.run)
    assert set(view.order_row) == set(plan.order)
    assert sum(view.ink_min.values()) <= sum(one.set_up_min for one in plan.runs)

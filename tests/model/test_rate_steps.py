"""Runs slowed down to share a belt, as the model reads them."""

from __future__ import annotations

from scheduler.model.press_rules import belt_is_shared, print_takes_its_time
from scheduler.model.solver_run import Task, solve_here
from tests import builders as b
from tests.model.asserting import allowed, refused
from tests.review.test_rate_steps import shared_belt


def test_a_slowed_run_shares_the_belt() -> None:
    """Beside 700 permille there is room for 300, not for 301; at full rate there never is."""
    plan = b.plan(b.planned_run("r1", printing=120), b.planned_run("r2", press_id="P2", printing=120, way=1))
    allowed(shared_belt(300), plan)
    refused(belt_is_shared, shared_belt(301), plan)
    full = b.plan(b.planned_run("r1", printing=120), b.planned_run("r2", press_id="P2"))
    refused(belt_is_shared, shared_belt(300), full)


def test_a_slowed_run_takes_its_own_minutes() -> None:
    """At half its rate it takes two hours, not a minute less."""
    week = shared_belt(300)
    short = b.plan(b.planned_run("r1", printing=120), b.planned_run("r2", press_id="P2", printing=119, way=1))
    refused(print_takes_its_time, week, short)


def test_a_belt_is_free_while_a_slowed_run_pauses() -> None:
    """Over its own press's noon a slowed run leaves the belt to a full one, in which it would not fit beside it."""
    week = shared_belt(300)
    noon = b.press_line("P2", dryer_id="d", calendar=b.every_day(breaks=[(60, 30)]))
    full = b.run("r1", choices=[b.choice("P1", print_min=30, belt_permille=1000)])
    paused = b.week(runs=[full, week.run["r2"]], presses=[week.presses[0], noon])
    beside = b.planned_run("r2", press_id="P2", way=1, print_end_tau=150)
    allowed(paused, b.plan(b.planned_run("r1", at=60, printing=30), beside))
    refused(belt_is_shared, paused, b.plan(b.planned_run("r1", at=61, printing=30), beside))


def test_the_best_plan_slows_a_run_down() -> None:
    """Both orders leave at ten o'clock only if the second prints at half its rate."""
    week = shared_belt(300)
    orders = [b.order_due(f"or{n}", (f"r{n}",), pickups_tau=(120, 2700), late_cents=100) for n in (1, 2)]
    for half_permille, late_cents in ((300, 0), (301, 100)):
        runs = shared_belt(half_permille).runs
        found = solve_here(Task(week=b.week(runs=runs, presses=week.presses, orders=orders), hint=None, seconds=20))
        assert found.status == "proven"
        assert found.cost_cents == late_cents

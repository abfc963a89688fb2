"""Dryers that must be set differently for different runs, as the model reads them."""

from __future__ import annotations

from dataclasses import replace

from scheduler.model.dryer_rules import dryer_setting_is_shared, setting_settles
from scheduler.model.solver_run import Task, solve_here
from tests import builders as b
from tests.model.asserting import allowed, refused
from tests.review.test_dryer_rules import COOL, HOT, behind, line, two_settings


def test_runs_at_one_setting_share_the_dryer() -> None:
    """At the same setting two runs print at once; at different ones they do not."""
    allowed(two_settings(COOL, COOL), behind(0))
    allowed(two_settings(COOL, HOT, COOL), behind(0, printing=75, way=1))
    refused(dryer_setting_is_shared, two_settings(), behind(0))


def test_another_setting_waits_for_the_last_piece_and_settles() -> None:
    """Through by 62 and nine minutes hotter, the next starts at 71, not at 70, and not at 61 for two reasons."""
    allowed(two_settings(), behind(71))
    refused(setting_settles, two_settings(), behind(70))
    refused(setting_settles, two_settings(), behind(62))
    refused(dryer_setting_is_shared, two_settings(), behind(61))
    allowed(two_settings(HOT, COOL), behind(76))
    refused(setting_settles, two_settings(HOT, COOL), behind(75))


def test_a_night_settles_everything() -> None:
    """Printed by closing, the dryer comes on next morning at the setting that is wanted."""
    allowed(two_settings(), behind(540, first_at=480))
    refused(dryer_setting_is_shared, two_settings(), behind(541, first_at=481))
    refused(dryer_setting_is_shared, replace(two_settings(), dryers=(line(on=(0,)),)), behind(540, first_at=480))


def test_the_best_plan_prints_at_the_setting_that_is_on() -> None:
    """Both orders leave by a quarter past nine only if the second goes at the first's setting."""
    orders = [b.order_due(f"or{n}", (f"r{n}",), pickups_tau=(77, 2700), late_cents=100) for n in (1, 2)]
    for others, late_cents in (((COOL,), 0), ((), 100)):
        week = two_settings(COOL, HOT, *others)
        one = b.week(runs=week.runs, presses=week.presses, dryers=week.dryers, orders=orders)
        found = solve_here(Task(week=one, hint=None, seconds=20))
        assert (found.status, found.cost_cents) == ("proven", late_cents)

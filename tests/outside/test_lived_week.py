"""Two weeks lived day by day in an independent event simulation: planned on every morning from what was noted."""

from __future__ import annotations

from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.outside.lived import Days, kept_monday, planned_daily, small_week

SETTINGS = SearchSettings(iterations=100, workers=1)


def test_planning_every_morning_beats_keeping_mondays_plan() -> None:
    """Every morning's plan passes the check and moves nothing started; these two weeks together cost less than with
    Monday's plan kept, and no more orders are late. Twenty weeks, won and lost: tests/benchmarks/lived_weeks.py.
    """
    kept, daily = [], []
    for seed, length in ((2, 3), (4, 2)):
        inputs = small_week(seed, days=length)
        workload = api.build_workload(inputs)
        plan = api.plan_week(workload, SETTINGS).plan
        assert plan is not None
        kept.append(kept_monday(workload.week, plan, Days(seed=seed)))
        daily.append(planned_daily(inputs, workload.week, plan, Days(seed=seed), SETTINGS, mornings=length - 1))
    assert sum(one.cents for one in daily) < sum(one.cents for one in kept)
    assert sum(one.late for one in daily) <= sum(one.late for one in kept)


def test_days_that_go_as_planned_are_lived_as_planned() -> None:
    """Without anything in between, every order of a lived week is packed at the minute the plan says."""
    inputs = small_week(3, days=3)
    week = api.build_workload(inputs).week
    first = first_plan(week)
    assert isinstance(first, Decoded)
    quiet = Days(seed=3, set_up_spread=0, print_spread=0, stop_chance=0)
    found = kept_monday(week, first.plan, quiet)
    assert found.late == len(api.measure(week, first.plan).late_orders)
    assert found.cents == api.measure(week, first.plan).cost.total

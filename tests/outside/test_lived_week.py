"""Two weeks lived day by day in an independent event simulation: planned on every morning from what was noted."""

from __future__ import annotations

from functools import cache

import pytest

from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.outside.lived import Days, kept_monday, planned_daily, small_week

SETTINGS = SearchSettings(iterations=100, workers=1)


@cache
def monday(seed: int, length: int) -> tuple[WeekInputs, Week, Plan]:
    """A small week of so many days and its plan."""
    inputs = small_week(seed, days=length)
    workload = api.build_workload(inputs)
    plan = api.plan_week(workload, SETTINGS).plan
    assert plan is not None
    return inputs, workload.week, plan


@pytest.mark.parametrize(("seed", "length"), [(2, 3), (4, 2)])
def test_planning_every_morning_costs_nothing_while_days_go_as_planned(seed: int, length: int) -> None:
    """Every morning's plan passes the check and moves nothing started. In days that go as planned it is no dearer than
    Monday's plan kept, and no more orders are late. Days that do not go as planned,
    won and lost over many weeks: tests/benchmarks/lived_weeks.py.
    """
    inputs, week, plan = monday(seed, length)
    quiet = Days(seed=seed, set_up_spread=0, print_spread=0, stop_chance=0)
    kept = kept_monday(week, plan, quiet)
    daily = planned_daily(inputs, week, plan, quiet, SETTINGS, mornings=length - 1)
    assert daily.cents <= kept.cents
    assert daily.late <= kept.late


@pytest.mark.parametrize(("seed", "length"), [(2, 3), (4, 2)])
def test_every_morning_of_a_rough_week_can_be_planned(seed: int, length: int) -> None:
    """Where set-ups, prints and stops take other minutes than planned every morning's plan passes the check, moves
    nothing started, and no more orders are late than with Monday's plan kept.
    """
    inputs, week, plan = monday(seed, length)
    kept = kept_monday(week, plan, Days(seed=seed))
    daily = planned_daily(inputs, week, plan, Days(seed=seed), SETTINGS, mornings=length - 1)
    assert daily.late <= kept.late


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

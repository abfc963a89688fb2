"""The whole search: never dearer than the due-date list, repeatable, stoppable, honest about what it proved."""

from dataclasses import replace
from typing import Any

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.errors import SettingsError
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search import engine
from scheduler.search.engine import plan_week
from scheduler.search.result import Improved, Progress
from tests.builders import choice, fixing, hours, order_due, overtime, press_line, run, week
from tests.random_weeks import random_week

COUNTED = SearchSettings(iterations=60)


def test_plans_are_valid_priced_and_no_dearer_than_the_due_date_list() -> None:
    """Every result is checked and measured by the independent eye, and its bound lies below it."""
    planned = 0
    for seed in range(25):
        one = random_week(seed)
        result = plan_week(one, COUNTED)
        if result.plan is None:
            assert result.status == "none"
            continue
        planned += 1
        assert check(one, result.plan) == ()
        assert result.terms == {name: getattr(cost(one, result.plan), name) for name in result.terms}
        assert result.cost_cents == sum(result.terms.values())
        assert result.lower_bound_cents <= result.cost_cents
        assert (result.status == "proven") is (result.lower_bound_cents == result.cost_cents)
        assert 0 <= result.gap < 1 or result.cost_cents == 0
        assert all(planned_run.reason for planned_run in result.plan.runs)
        assert result.baseline is not None
        if result.baseline.plan is not None:
            assert result.cost_cents <= result.baseline.cost_cents
            assert check(one, result.baseline.plan) == ()
    assert planned >= 20


def test_counted_searches_repeat_and_read_no_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """With iterations given, a search never asks for the time, and gives the same result again."""

    def no_clock() -> float:
        raise AssertionError("the clock was read")

    monkeypatch.setattr(engine, "perf_counter", no_clock)
    monkeypatch.setattr("scheduler.search.local.perf_counter", no_clock)
    one = random_week(4, size="medium")
    first, again = plan_week(one, COUNTED), plan_week(one, COUNTED)
    assert first == again
    assert first.wall_seconds is None
    assert first.first_plan_seconds is None
    assert first.genomes >= 60
    other = plan_week(one, replace(COUNTED, seed=2))
    assert other.trace != first.trace


def test_a_timed_search_keeps_its_time() -> None:
    """Half a second is half a second, and the first plan is there long before."""
    result = plan_week(random_week(7, size="medium"), SearchSettings(seconds=0.5))
    assert result.wall_seconds is not None
    assert result.first_plan_seconds is not None
    assert 0.45 < result.wall_seconds < 1.5
    assert result.first_plan_seconds < result.wall_seconds
    assert result.trace[0].cost_cents >= result.trace[-1].cost_cents == result.cost_cents


def test_progress_tells_of_every_better_plan() -> None:
    """What is told is valid, only gets cheaper, and ends with the result."""
    told: list[Progress] = []
    one = random_week(2, size="medium")
    result = plan_week(one, COUNTED, on_progress=told.append)
    assert told
    assert told[0].phase == "first plans"
    costs = [progress.cost_cents for progress in told]
    assert costs == sorted(costs, reverse=True)
    assert costs[-1] == result.cost_cents
    assert check(one, told[0].plan) == ()
    assert check(one, told[-1].plan) == ()


def test_stopping_keeps_the_best_plan() -> None:
    """Told to stop at once, the search still has its first plan."""
    result = plan_week(random_week(2, size="medium"), SearchSettings(seconds=60.0), stop=lambda: True)
    assert result.plan is not None
    assert result.wall_seconds is not None
    assert result.wall_seconds < 5


def test_a_week_without_runs_is_planned() -> None:
    """Nothing to do is a plan that costs nothing."""
    result = plan_week(week(runs=[]), COUNTED)
    assert (result.status, result.plan) == ("proven", Plan(runs=(), orders=()))


def test_a_plan_at_the_bound_is_proven() -> None:
    """Where nothing can be saved the search says so and stops early."""
    result = plan_week(week(runs=[run("r1"), run("r2")]), SearchSettings(seconds=30.0))
    assert (result.status, result.cost_cents, result.lower_bound_cents) == ("proven", 0, 0)
    assert result.wall_seconds is not None
    assert result.wall_seconds < 10


def test_no_plan_says_why() -> None:
    """Reason and runs concerned, in shop words."""
    result = plan_week(week(runs=[run("r1"), run("r2", choices=[choice(print_min=9999)])]), COUNTED)
    assert (result.status, result.plan) == ("none", None)
    assert result.reason == "no press has room for it in time"
    assert result.run_ids == ("r2",)


def test_clashing_locks_are_told() -> None:
    """Locks that cannot stand together end the search with the smallest clash."""
    locks = [fixing("r1", press_id="P1", at=100), fixing("r2", press_id="P1", at=130)]
    result = plan_week(week(runs=[run("r1"), run("r2"), run("r3")], fixings=locks), COUNTED)
    assert result.status == "none"
    assert result.run_ids == ("r1", "r2")
    assert "r2 is locked on P1 at Mon 10:10, but r1, locked there too, prints until Mon 10:40" in result.reason


def test_overtime_is_bought_when_it_pays_and_given_back_when_not() -> None:
    """An evening cheaper than the late day is bought, a dearer one is not."""
    windows = hours((0, 480), (480, 540, "late Mon"), (540, 1020))
    for price_cents, bought in ((100, ("late Mon",)), (5000, ())):
        due = order_due("or1", pickups_tau=(540, 2700), late_cents=900)
        one = week(
            runs=[run(choices=[choice(print_min=500)])],
            orders=[due],
            presses=[press_line(calendar=windows)],
            overtime=[overtime(price_cents=price_cents)],
        )
        result = plan_week(one, COUNTED)
        assert result.plan is not None
        assert result.plan.overtime == bought
        assert result.cost_cents == min(price_cents, 900)


class Polish:
    """An improver that gives back what it is told to."""

    def __init__(self, answer: Improved) -> None:
        self.answer = answer
        self.asked: dict[str, Any] = {}

    def __call__(self, one: Week, plan: Plan, **more: Any) -> Improved:
        self.asked = {"plan": plan, **more}
        return self.answer


def test_an_improver_gets_the_best_plan_and_may_prove_it() -> None:
    """Its proof makes the plan proven; its bound is taken if it is higher."""
    one = random_week(3)
    plain = plan_week(one, COUNTED)
    proof = Polish(Improved(plan=None, is_proven=True))
    result = plan_week(one, COUNTED, improver=proof)
    assert result.status == "proven"
    assert result.lower_bound_cents == result.cost_cents == plain.cost_cents
    assert proof.asked["cost_cents"] == plain.cost_cents
    assert proof.asked["seconds"] is None
    almost = Polish(Improved(plan=None, lower_bound_cents=plain.cost_cents - 1))
    higher = plan_week(one, COUNTED, improver=almost)
    assert higher.status == "found"
    assert higher.lower_bound_cents == plain.cost_cents - 1


def test_an_improvers_plan_is_taken_only_if_it_is_cheaper() -> None:
    """A dearer plan is not taken, a cheaper one is, with its own terms."""
    one = random_week(3)
    good = plan_week(one, COUNTED)
    first = plan_week(one, SearchSettings(iterations=0))
    assert good.plan is not None
    assert first.plan is not None
    assert good.cost_cents < first.cost_cents
    dearer = plan_week(one, COUNTED, improver=Polish(Improved(plan=first.plan)))
    assert dearer.cost_cents == good.cost_cents
    cheaper = plan_week(one, SearchSettings(iterations=0), improver=Polish(Improved(plan=good.plan)))
    assert (cheaper.cost_cents, cheaper.terms) == (good.cost_cents, good.terms)


@pytest.mark.parametrize(
    "wrong", [{"seconds": 0.0}, {"seconds": float("nan")}, {"workers": 0}, {"iterations": -1}, {"seed": -1}]
)
def test_limits_that_make_no_sense_are_refused(wrong: dict[str, Any]) -> None:
    """A search of no time, no worker or a negative count is a mistake of whoever asked."""
    with pytest.raises(SettingsError):
        SearchSettings(**wrong)

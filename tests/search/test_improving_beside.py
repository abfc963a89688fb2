"""An improver beside the search: both look, the better plan counts, whichever ends first ends with a proof."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.errors import SolverError
from scheduler.search.engine import plan_week
from scheduler.search.improving_beside import ImprovingBeside
from scheduler.search.proof import exact
from scheduler.search.result import Improved
from scheduler.search.small_enough import PLAIN_PAIRS, WHOLE_MODEL_RUNS, is_solved_whole
from tests.builders import choice, press_line, run, week
from tests.random_weeks import random_week

TIMED = SearchSettings(seconds=20, workers=2)


def test_a_week_of_five_runs_is_proven_with_both_at_work() -> None:
    """The proof ends the search long before its time is up."""
    one = random_week(1, size="medium", run_count=5)
    result = plan_week(one, TIMED, improver=exact)
    assert result.status == "proven"
    assert result.wall_seconds is not None
    assert result.wall_seconds < TIMED.seconds - 1


def test_bounds_are_heard_while_it_works() -> None:
    """A bound that meets the cost ends the search although the improver itself would go on."""
    one = random_week(4, size="medium", run_count=5)
    best = plan_week(one, TIMED, improver=exact).cost_cents
    ended = threading.Event()

    def improver(_week: Week, _plan: Plan, *, on_bound: Callable[[int], None], stop: Any, **_: Any) -> Improved:
        on_bound(best)
        while not stop():
            ended.wait(0.01)
        ended.set()
        return Improved(plan=None)

    result = plan_week(one, TIMED, improver=improver)
    assert (result.status, result.cost_cents, ended.is_set()) == ("proven", best, True)


def test_what_goes_wrong_in_it_is_told() -> None:
    """An improver that fails does not fail silently."""

    def improver(*_: Any, **__: Any) -> Improved:
        raise SolverError("out of paper")

    with pytest.raises(SolverError, match="out of paper"):
        plan_week(random_week(3, size="medium", run_count=8), TIMED, improver=improver)


def test_plans_are_handed_over_once() -> None:
    """Every plan it finds is heard, and none twice."""
    plans = [Plan(runs=(), orders=()) for _ in range(3)]

    def improver(_week: Week, _plan: Plan, *, on_better: Callable[[Plan], None], **_: Any) -> Improved:
        for plan in plans:
            on_better(plan)
        return Improved(plan=plans[-1], lower_bound_cents=7)

    beside = ImprovingBeside(improver)
    beside.start(week(), plans[0], 0, TIMED, 1.0)
    assert beside.end().lower_bound_cents == 7
    assert [id(plan) for plan in beside.plans()] == [id(plan) for plan in plans]
    assert beside.plans() == []


@pytest.mark.parametrize(
    ("runs", "mount_min", "stated_min", "is_whole"),
    [(20, 5, None, True), (21, 5, None, False), (21, 0, None, True), (21, 5, 9, True)],
)
def test_what_is_solved_whole(runs: int, mount_min: int, stated_min: int | None, is_whole: bool) -> None:
    """Up to twenty runs always; more only where no set-up takes any time, or each takes what was stated."""
    assert WHOLE_MODEL_RUNS == 20
    offers = [choice(stated_set_up_min=stated_min)]
    one = week(
        runs=[run(f"r{number}", choices=offers) for number in range(runs)],
        presses=[press_line(set_up=SetUpMinutes(mount_min=mount_min))],
    )
    assert is_solved_whole(one) == is_whole


@pytest.mark.parametrize(("presses", "is_whole"), [(4, True), (5, False)])
def test_many_pairs_are_too_many(presses: int, is_whole: bool) -> None:
    """Fifty runs that fit four presses make 10,000 pairs; five presses make too many."""
    assert PLAIN_PAIRS == 12000
    names = [f"P{number}" for number in range(presses)]
    one = week(
        runs=[run(f"r{number}", choices=[choice(name) for name in names]) for number in range(50)],
        presses=[press_line(name) for name in names],
    )
    assert is_solved_whole(one) == is_whole

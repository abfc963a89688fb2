"""Local windows and the solver's own process: never dearer, always valid, repeatable where work is counted."""

from __future__ import annotations

import pytest

from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.search.engine import plan_week
from scheduler.search.proof import exact
from scheduler.search.solve import solve
from scheduler.search.windows import improve
from tests.random_weeks import random_week


def planned(seed: int, size: str = "small", run_count: int | None = None) -> tuple[Week, Decoded]:
    """A random week and its first plan."""
    week = random_week(seed, size=size, run_count=run_count)
    decoded = first_plan(week)
    assert isinstance(decoded, Decoded)
    return week, decoded


@pytest.mark.parametrize("seed", [1, 3, 6])
def test_windows_give_valid_plans_that_are_never_dearer(seed: int) -> None:
    """Every plan told of keeps every rule and is cheaper than the one before; the last one comes back."""
    week, first = planned(seed)
    told = [first.cost_cents]
    plans = [first.plan]

    def hear(plan: object) -> None:
        plans.append(plan)  # type: ignore[arg-type]
        told.append(cost(week, plans[-1]).total)

    best = improve(week, first.plan, rounds=4, seed=seed, on_plan=hear)
    assert all(check(week, plan) == () for plan in plans)
    assert told == sorted(set(told), reverse=True)
    assert best == plans[-1]


def test_windows_find_something_somewhere() -> None:
    """On some of a few weeks the windows save money: they are not idle."""
    saved = 0
    for seed in (1, 3, 8):
        week, first = planned(seed)
        saved += first.cost_cents - cost(week, improve(week, first.plan, rounds=2, seed=seed)).total
    assert saved > 0


def test_counted_windows_repeat_exactly() -> None:
    """The same seed and rounds give the same plan twice."""
    week, first = planned(1)
    assert improve(week, first.plan, rounds=4, seed=7) == improve(week, first.plan, rounds=4, seed=7)


def test_windows_stop_when_told() -> None:
    """Told to stop before it began, the search gives its plan back untouched."""
    week, first = planned(1)
    assert improve(week, first.plan, seconds=60, stop=lambda: True) == first.plan


@pytest.mark.parametrize("seed", [3, 8])
def test_the_solver_in_its_own_process_never_worsens_its_start(seed: int) -> None:
    """A small week comes back proven, valid, at most as dear as the plan it started from, and its bound is its cost."""
    week, first = planned(seed)
    outcome = solve(week, hint=first.plan, seconds=60, workers=2)
    assert outcome.status == "proven"
    assert outcome.plan is not None
    assert check(week, outcome.plan) == ()
    assert outcome.cost_cents == outcome.bound_cents == cost(week, outcome.plan).total
    assert outcome.cost_cents <= first.cost_cents


def test_a_counted_search_with_proof_repeats_exactly() -> None:
    """Iterations instead of seconds: the same week and seed give the same plan, cost and bound twice."""
    week, _ = planned(3)
    settings = SearchSettings(iterations=100, seed=5)
    one, other = (plan_week(week, settings, improver=exact) for _ in range(2))
    assert (one.plan, one.cost_cents, one.lower_bound_cents, one.status) == (
        other.plan,
        other.cost_cents,
        other.lower_bound_cents,
        other.status,
    )
    assert one.plan is not None
    assert check(week, one.plan) == ()

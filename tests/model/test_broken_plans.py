"""The model refuses what the checker refuses: plans with one planted fault, every decision held to them."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from ortools.sat.python import cp_model

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.model.build import CONSTRAINTS, build_model
from scheduler.model.pin import pin
from tests.review.good_plans import good_plans
from tests.review.test_planted_faults import BREAKERS

FAULTS_PER_RULE = 6
NOT_A_DECISION = {"burn_one_set_too_many", "buy_an_evening_twice"}
"""A run or an evening listed twice: the model decides once on each, so it cannot even be told of the second."""


def model_allows(week: Week, plan: Plan) -> bool:
    """True if the model has a solution with every decision held to the plan."""
    built = build_model(week)
    pin(built, plan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(built.ctx.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


@pytest.mark.parametrize("rule", [rule.__name__ for rule in CONSTRAINTS])
def test_a_planted_fault_has_no_solution(rule: str) -> None:
    """Each way of breaking a rule is tried on several good plans; the pinned model refuses every one of them."""
    planted: Counter[str] = Counter()
    allowed = []
    for breaker in [one for one in BREAKERS[rule] if one.__name__ not in NOT_A_DECISION]:
        for name, week, plan in good_plans():
            if planted[breaker.__name__] == FAULTS_PER_RULE:
                break
            broken = breaker(week, plan, random.Random(f"{name} {breaker.__name__}"))
            if broken is None or broken == plan:
                continue
            planted[breaker.__name__] += 1
            if model_allows(week, broken):
                allowed.append((name, breaker.__name__))
    assert allowed == []
    assert planted.total() >= FAULTS_PER_RULE

"""Decoder, model and checker are three readings of the same rules: held to each other on random small weeks."""

from __future__ import annotations

from itertools import islice

import pytest
from ortools.sat.python import cp_model

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.model.build import build_model
from scheduler.model.pin import pin
from scheduler.model.solver_run import Task, solve_here
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search.construction import first_plans
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import genes_of
from scheduler.search.local import Annealing, Counted
from tests.random_weeks import random_week

WEEKS = 200
IN_ONE_TEST = 20
PROOF_LIMIT = 6.0
"""The solver's own count of work, the same on every machine."""


def decoded_plans(week: Week) -> list[Decoded]:
    """Plans of the construction rules and of a short walk from the first, each once."""
    decoder = Decoder(week)
    found = first_plans(week, decoder)
    plans = [one.decoded for one in found]
    if found:
        start = genes_of(decoder.tables, found[0].genome)
        best = Annealing(decoder, start, 1, lambda _best: None, lambda: False).run(Counted(60))
        if best is not None:
            plans.append(best.decoded)
    return list({one.plan: one for one in islice(plans, 6)}.values())


def pinned_cost_cents(week: Week, plan: Plan) -> int | None:
    """The model's cost with every decision held to the plan; None if the model does not allow it."""
    built = build_model(week)
    pin(built, plan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(built.ctx.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return round(solver.objective_value)


@pytest.mark.parametrize("first", range(0, WEEKS, IN_ONE_TEST))
def test_three_readings_of_the_rules_agree(first: int) -> None:
    """A decoder plan passes the checker and the pinned model at the same cost; no decoder plan beats a proven one."""
    planned = proven = 0
    for seed in range(first, first + IN_ONE_TEST):
        week = random_week(seed)
        plans = decoded_plans(week)
        for decoded in plans:
            plan = decoded.plan
            assert check(week, plan) == (), f"week {seed}"
            assert cost(week, plan).total == decoded.cost_cents, f"week {seed}"
            assert pinned_cost_cents(week, plan) == decoded.cost_cents, f"week {seed}"
        planned += bool(plans)
        hint = min(plans, key=lambda one: one.cost_cents).plan if plans else None
        outcome = solve_here(Task(week=week, hint=hint, seconds=600, deterministic_seconds=PROOF_LIMIT))
        if outcome.status == "impossible":
            assert plans == [], f"week {seed}"
        if outcome.plan is not None and outcome.cost_cents is not None:
            assert check(week, outcome.plan) == (), f"week {seed}"
            assert cost(week, outcome.plan).total == outcome.cost_cents, f"week {seed}"
            assert all(outcome.cost_cents <= one.cost_cents for one in plans), f"week {seed}"
        assert all(outcome.bound_cents <= one.cost_cents for one in plans), f"week {seed}"
        proven += outcome.status == "proven"
    print(f"weeks {first} to {first + IN_ONE_TEST - 1}: {planned} planned, {proven} proven")
    assert planned >= IN_ONE_TEST // 2
    assert proven >= IN_ONE_TEST // 2

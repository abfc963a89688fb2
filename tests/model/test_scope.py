"""A part of a week opened beside a plan, the plan as a start, and constraints that only help."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from scheduler.domain.week import Week
from scheduler.model.build import build_model
from scheduler.model.pin import start_from
from scheduler.model.solver_run import Task, solve_here
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from tests import builders as b
from tests.model.asserting import built_without
from tests.random_weeks import random_week


def any_plan(week: Week, seed: int) -> Decoded | None:
    """A plan of a shuffled order with some evenings bought and some sets reclaimed: seldom good, always valid."""
    rng = random.Random(seed)
    order = list(week.run)
    rng.shuffle(order)
    genome = Genome(
        order=tuple(order),
        overtime=frozenset(block.block_id for block in week.overtime if rng.random() < 0.5),
        release=frozenset(run_id for run_id in order if rng.random() < 0.3),
    )
    decoded = Decoder(week).decode(genome)
    return decoded if isinstance(decoded, Decoded) else None


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_a_part_of_a_week_holds_the_plan_and_gives_whole_plans(first: int) -> None:
    """Opened beside a plan, a part of a week allows that plan at its cost, and its best is valid and no dearer."""
    looked_at = cheaper = 0
    for seed in range(first, first + 20):
        week = random_week(seed)
        decoded = any_plan(week, seed)
        if decoded is None:
            continue
        looked_at += 1
        plan = decoded.plan
        free = frozenset(random.Random(seed).sample(sorted(week.run), min(3, len(week.run))))
        assert start_from(build_model(week, free, plan), plan) == decoded.cost_cents, f"week {seed}"
        task = Task(week=week, hint=plan, free=free, incumbent=plan, seconds=600, deterministic_seconds=1.0)
        outcome = solve_here(task)
        assert outcome.plan is not None
        assert check(week, outcome.plan) == (), f"week {seed}"
        assert cost(week, outcome.plan).total == outcome.cost_cents, f"week {seed}"
        assert outcome.cost_cents <= decoded.cost_cents, f"week {seed}"
        stay = [run_id for run_id in week.run if run_id not in free]
        assert all(outcome.plan.run[one].print_start_tau == plan.run[one].print_start_tau for one in stay)
        cheaper += outcome.cost_cents < decoded.cost_cents
    assert looked_at >= 10
    assert cheaper >= 3


def test_opening_a_part_needs_a_plan_of_the_whole() -> None:
    """Without a plan, or beside one that misses a run, nothing can stay."""
    week = b.week(runs=[b.run("r1"), b.run("r2")])
    with pytest.raises(ValueError, match="needs a plan of all its runs"):
        build_model(week, frozenset({"r1"}))
    with pytest.raises(ValueError, match="needs a plan of all its runs"):
        build_model(week, frozenset({"r1"}), b.plan(b.planned_run("r1")))


def test_a_start_is_complete_and_costs_what_the_plan_costs() -> None:
    """Every variable is given its value in the plan; a plan that breaks a rule is no start."""
    week = random_week(1)
    decoded = first_plan(week)
    assert isinstance(decoded, Decoded)
    built = build_model(week)
    assert start_from(built, decoded.plan) == decoded.cost_cents
    assert len(built.ctx.model.proto.solution_hint.vars) == len(built.ctx.model.proto.variables)
    one = b.week()
    assert start_from(build_model(one), b.plan(b.planned_run(printing=59))) is None


def proven_cents(model: cp_model.CpModel) -> int | None:
    """Cost of the cheapest plan of a model; None if there is none."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@pytest.mark.parametrize("seed", range(12))
def test_what_only_helps_the_solver_changes_no_optimum(seed: int) -> None:
    """The cheapest plan costs the same with and without the constraints that follow from the rules."""
    week = random_week(seed, size="tiny")
    assert proven_cents(build_model(week).ctx.model) == proven_cents(built_without(week).ctx.model)


def test_a_week_that_cannot_be_planned_is_told_so() -> None:
    """Two runs locked to one minute of one press have no plan."""
    locked = [b.fixing(name, press_id="P1", at=0) for name in ("r1", "r2")]
    week = b.week(runs=[b.run("r1"), b.run("r2")], fixings=locked)
    outcome = solve_here(Task(week=week, seconds=20))
    assert (outcome.status, outcome.plan, outcome.cost_cents) == ("impossible", None, None)

"""The solver in a process of its own: plans on the way, stopping, overrunning, dying."""

from __future__ import annotations

import os
import subprocess
import sys
import textwrap
from pathlib import Path
from time import monotonic

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import SolverError
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search import solve as solving
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.search.solve import Task, solve, solve_here
from tests import builders as b
from tests.random_weeks import random_week


def hard_week() -> tuple[Week, Decoded]:
    """A week no solver proves within the seconds of a test, and its first plan."""
    week = random_week(1, size="medium", run_count=20)
    decoded = first_plan(week)
    assert isinstance(decoded, Decoded)
    return week, decoded


def test_better_plans_are_told_as_they_are_found() -> None:
    """Each plan told of is valid, costs what is said and less than the one before; the last one comes back."""
    week = random_week(8)
    decoded = first_plan(week)
    assert isinstance(decoded, Decoded)
    told: list[tuple[Plan, int, int]] = []
    outcome = solve(week, hint=decoded.plan, seconds=60, on_plan=lambda *one: told.append(one))
    assert outcome.status == "proven"
    costs = [cents for _, cents, _ in told]
    assert costs == sorted(set(costs), reverse=True)
    assert all(check(week, plan) == () and cost(week, plan).total == cents for plan, cents, _ in told)
    assert all(bound <= outcome.bound_cents for _, _, bound in told)
    assert outcome.plan == told[-1][0]


def test_stopping_keeps_the_best_plan() -> None:
    """Told to stop, the solver comes back soon with a plan no dearer than its start."""
    week, decoded = hard_week()
    began = monotonic()
    outcome = solve(week, hint=decoded.plan, seconds=300, stop=lambda: monotonic() - began > 3)
    assert monotonic() - began < 60
    assert outcome.status == "plan"
    assert outcome.plan is not None
    assert outcome.cost_cents == cost(week, outcome.plan).total <= decoded.cost_cents


def test_a_solver_that_overruns_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """A process past its time and grace is ended from outside, without an error."""
    week, decoded = hard_week()
    monkeypatch.setattr(solving, "GRACE_S", -299.5)
    began = monotonic()
    outcome = solve(week, hint=decoded.plan, seconds=300)
    assert monotonic() - began < 60
    assert outcome.status in ("plan", "none")


def test_a_process_that_dies_is_told() -> None:
    """A week the model cannot be built from ends in an error that says why, not in silence."""
    stands = b.press_line(now_on=b.stack(("s.1", "an ink nobody knows")))
    week = b.week(presses=[stands], inks=())
    with pytest.raises(SolverError, match=r"ended with code 1 .*KeyError: 'an ink nobody knows'"):
        solve(week, seconds=5)


def test_a_hint_that_breaks_a_rule_is_left_aside() -> None:
    """A plan that is no plan is not handed back as one."""
    week = b.week()
    wrong = b.plan(b.planned_run(printing=59))
    outcome = solve_here(Task(week=week, hint=wrong, seconds=20))
    assert outcome.status == "proven"
    assert outcome.plan is not None
    assert check(week, outcome.plan) == ()


def test_a_script_needs_no_guard(tmp_path: Path) -> None:
    """A plain script may call the solver on its first level: it is not run a second time."""
    script = tmp_path / "plan.py"
    script.write_text(
        textwrap.dedent(
            """
            from scheduler.search.solve import solve
            from tests import builders as b
            print(solve(b.week(), seconds=20).status)
            """
        )
    )
    root = Path(__file__).resolve().parents[2]
    done = subprocess.run(
        [sys.executable, str(script)],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
        env={**os.environ, "PYTHONPATH": str(root)},
    )
    assert done.stdout == "proven\n"

"""Lets the solver loose on a week: starts it from a plan, sets its limits, reads its plans back."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.model.build import BuiltModel, build_model
from scheduler.model.pin import start_from
from scheduler.model.read_out import read_plan

POLL_S = 0.1
"""How often the caller is asked whether to stop."""
DEFAULT_SECONDS = 20.0
"""How long a solver runs if nobody says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How a solver run ended.

    status: "proven" (no plan is cheaper), "plan" (a plan, perhaps not the cheapest), "none" (no plan found in time) or
    "impossible" (there is none). bound_cents: no plan costs less, as far as the run has proved; with `free`, no plan
    that leaves the other runs where they are. lost: what befell the solver's process, if it was ended from outside.
    """

    status: str
    plan: Plan | None
    cost_cents: int | None
    bound_cents: int
    lost: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What a solver is asked: a week, a plan to start from, limits, and how much is open (see `build_model`).

    deterministic_seconds: the solver's own count of work, the same on every machine; with it a run repeats exactly.
    """

    week: Week
    hint: Plan | None = None
    seconds: float = DEFAULT_SECONDS
    seed: int = 0
    workers: int = 1
    deterministic_seconds: float | None = None
    free: frozenset[str] | None = None
    incumbent: Plan | None = None


OnPlan = Callable[[Plan, int, int], None]
"""Told of each better plan: the plan, its cost in cents, the bound in cents."""
OnBound = Callable[[int], None]
"""Told of each better bound: cents that no plan can be cheaper than."""
Stop = Callable[[], bool]
"""Asked now and then; True ends the search, the best plan so far is kept."""


def solve_here(task: Task, on_plan: OnPlan | None = None, stop: Stop | None = None) -> Outcome:
    """Search a week in this process. A hint that keeps every rule is never made worse.

    Raises ValueError if the solver refuses the model.
    """
    return search(task, *prepare(task), on_plan, stop)


Start = tuple[Plan, int]
"""A plan to start from and its cost in cents."""


def prepare(task: Task) -> tuple[BuiltModel, Start | None]:
    """The model, with the hint in it if that keeps every rule."""
    built = build_model(task.week, free=task.free, incumbent=task.incumbent)
    cost_cents = start_from(built, task.hint) if task.hint is not None else None
    return built, None if cost_cents is None or task.hint is None else (task.hint, cost_cents)


def search(
    task: Task,
    built: BuiltModel,
    start: Start | None,
    on_plan: OnPlan | None = None,
    stop: Stop | None = None,
    on_bound: OnBound | None = None,
) -> Outcome:
    """Let the solver run on a prepared model."""
    solver = cp_model.CpSolver()
    if on_bound is not None:
        solver.best_bound_callback = lambda bound: on_bound(_whole(bound))
    _set_limits(solver, task)
    watch = _Watch(built, start, on_plan, stop)
    with _Stopper(solver, stop):
        status = solver.solve(built.ctx.model, watch)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(built.ctx.model.validate())
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        watch.take(read_plan(task.week, built.ctx.vars, solver), round(solver.objective_value), _bound(solver))
    return _outcome(status, watch.best, _bound(solver))


def _set_limits(solver: cp_model.CpSolver, task: Task) -> None:
    """The one place where solver parameters are set.

    On 12-run weeks one worker with the full linear relaxation proved in seconds what the default left open after a
    quarter of a minute, with two workers or eight. A second worker looks for better plans meanwhile.
    """
    parameters = solver.parameters
    parameters.linearization_level = 2
    if task.workers == 2:
        parameters.subsolvers.append("max_lp")
    parameters.max_time_in_seconds = task.seconds
    parameters.random_seed = task.seed
    parameters.num_workers = task.workers
    if task.deterministic_seconds is not None:
        parameters.max_deterministic_time = task.deterministic_seconds
        parameters.interleave_search = task.workers > 1


def _bound(solver: cp_model.CpSolver) -> int:
    return _whole(solver.best_objective_bound)


def _whole(bound: float) -> int:
    return math.floor(bound + 1e-6) if math.isfinite(bound) else 0


def _outcome(status: cp_model.CpSolverStatus, best: Start | None, bound_cents: int) -> Outcome:
    if best is None:
        told = "impossible" if status == cp_model.INFEASIBLE else "none"
        return Outcome(status=told, plan=None, cost_cents=None, bound_cents=max(0, bound_cents))
    plan, cost_cents = best
    return Outcome(
        status="proven" if status == cp_model.OPTIMAL else "plan",
        plan=plan,
        cost_cents=cost_cents,
        bound_cents=max(0, min(bound_cents, cost_cents)),
    )


class _Watch(cp_model.CpSolverSolutionCallback):
    """Keeps the best plan and tells of better ones."""

    def __init__(self, built: BuiltModel, best: Start | None, on_plan: OnPlan | None, stop: Stop | None) -> None:
        super().__init__()
        self._built, self.best, self._on_plan, self._stop = built, best, on_plan, stop

    def on_solution_callback(self) -> None:
        """Read the plan, unless it is no better."""
        cost_cents = round(self.objective_value)
        if self.best is None or cost_cents < self.best[1]:
            plan = read_plan(self._built.ctx.week, self._built.ctx.vars, self)
            self.take(plan, cost_cents, math.floor(self.best_objective_bound + 1e-6))

    def take(self, plan: Plan, cost_cents: int, bound_cents: int) -> None:
        """Keep a plan if it is better than the best."""
        if self.best is None or cost_cents < self.best[1]:
            self.best = (plan, cost_cents)
            if self._on_plan is not None:
                self._on_plan(plan, cost_cents, bound_cents)


class _Stopper:
    """Asks `stop` in a thread beside the solver, since a solver that finds nothing asks nobody."""

    def __init__(self, solver: cp_model.CpSolver, stop: Stop | None) -> None:
        self._solver, self._stop = solver, stop
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._ask, daemon=True)

    def __enter__(self) -> None:
        if self._stop is not None:
            self._thread.start()

    def __exit__(self, *_: object) -> None:
        self._over.set()
        if self._stop is not None:
            self._thread.join()

    def _ask(self) -> None:
        while self._stop is not None and not self._over.wait(POLL_S):
            if self._stop():
                self._solver.stop_search()

"""Runs the solver on a week in a process of its own: one that overruns its time is ended, the best plan is kept."""

from __future__ import annotations

import multiprocessing
import time
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Event

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import SolverError
from scheduler.model.solver_run import (
    DEFAULT_SECONDS,
    POLL_S,
    OnPlan,
    Outcome,
    Stop,
    Task,
    prepare,
    search,
    solve_here,
)

READY_S = 120.0
"""How long a solver's process may take to load and to build its model."""
GRACE_S = 5.0
"""How long past its time a solver may run before it is ended from outside."""

__all__ = ["OnPlan", "Outcome", "Stop", "Task", "solve", "solve_here"]


def solve(
    week: Week,
    *,
    hint: Plan | None = None,
    seconds: float = DEFAULT_SECONDS,
    seed: int = 0,
    workers: int = 1,
    deterministic_seconds: float | None = None,
    free: frozenset[str] | None = None,
    incumbent: Plan | None = None,
    on_plan: OnPlan | None = None,
    stop: Stop | None = None,
) -> Outcome:
    """Search a week in a process of its own. A hint that keeps every rule is never made worse.

    Raises SolverError if that process dies.
    """
    task = Task(
        week=week,
        hint=hint,
        seconds=seconds,
        seed=seed,
        workers=workers,
        deterministic_seconds=deterministic_seconds,
        free=free,
        incumbent=incumbent,
    )
    return _Parent(task, on_plan, stop).run()


def _child(task: Task, channel: Connection, is_stopped: Event) -> None:
    """What the solver's own process does: solve, and tell the caller of every better plan."""
    prepared = prepare(task)
    channel.send("started")

    def tell(plan: Plan, cost_cents: int, bound_cents: int) -> None:
        channel.send(("plan", plan, cost_cents, bound_cents))

    channel.send(search(task, *prepared, tell, is_stopped.is_set))


class _Parent:
    """Watches a solver in its own process."""

    def __init__(self, task: Task, on_plan: OnPlan | None, stop: Stop | None) -> None:
        self._task, self._on_plan, self._stop = task, on_plan, stop
        self._best: tuple[Plan, int] | None = None
        self._bound_cents = 0

    def run(self) -> Outcome:
        spawn = multiprocessing.get_context("spawn")
        ours, theirs = spawn.Pipe(duplex=False)
        is_stopped = spawn.Event()
        process = spawn.Process(target=_child, args=(self._task, theirs, is_stopped), daemon=True)
        process.start()
        theirs.close()
        try:
            outcome = self._listen(ours, is_stopped)
        finally:
            if process.is_alive():
                process.join(0.5)
            if process.is_alive():
                process.terminate()
            process.join()
            ours.close()
        if outcome is not None:
            return outcome
        if self._best is None and not is_stopped.is_set():
            raise SolverError(f"the solver's process ended with code {process.exitcode} and without an answer")
        plan, cost_cents = self._best or (None, None)
        return Outcome(
            status="plan" if plan is not None else "none",
            plan=plan,
            cost_cents=cost_cents,
            bound_cents=self._bound_cents,
        )

    def _listen(self, channel: Connection, is_stopped: Event) -> Outcome | None:
        """The outcome; None if the solver ended without one or had to be given up."""
        ends_at = time.monotonic() + READY_S + self._task.seconds
        while time.monotonic() < ends_at:
            if self._stop is not None and not is_stopped.is_set() and self._stop():
                is_stopped.set()
                ends_at = min(ends_at, time.monotonic() + GRACE_S)
            try:
                message = channel.recv() if channel.poll(POLL_S) else None
            except (EOFError, OSError):
                return None
            if isinstance(message, Outcome):
                return message
            if message == "started":
                ends_at = time.monotonic() + self._task.seconds + GRACE_S
            elif message is not None:
                _, plan, cost_cents, self._bound_cents = message
                self._best = (plan, cost_cents)
                if self._on_plan is not None:
                    self._on_plan(plan, cost_cents, self._bound_cents)
        is_stopped.set()
        return None

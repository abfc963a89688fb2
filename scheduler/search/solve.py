"""Runs the solver on a week in a process of its own: one that overruns its time is ended, the best plan is kept.

The process is a plain Python that is handed the week and hands back plans; it never loads the caller's own script, so
scripts need no guard around their first line.
"""

from __future__ import annotations

import os
import pickle
import queue
import subprocess
import sys
import tempfile
import threading
import time
from typing import IO

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import SolverError
from scheduler.model.solver_run import DEFAULT_SECONDS, POLL_S, OnBound, OnPlan, Outcome, Stop, Task, solve_here
from scheduler.search.solver_process import Message

READY_S = 120.0
"""How long a solver's process may take to load and to build its model."""
GRACE_S = 5.0
"""How long past its time a solver may run before it is ended from outside."""
LIMIT_GRACE_S = 0.5
"""How long it may take to stop where all its time is over: its plans have been heard already."""
OUT_OF_MEMORY = ("MemoryError", "bad_alloc", "Cannot allocate memory", "failed to map segment")
"""What a process says, in one way or another, that got no more memory."""

__all__ = ["OnBound", "OnPlan", "Outcome", "Stop", "Task", "solve", "solve_here"]


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
    on_bound: OnBound | None = None,
    stop: Stop | None = None,
    limit_s: float | None = None,
) -> Outcome:
    """Search a week in a process of its own. A hint that keeps every rule is never made worse.

    seconds: of search, once the process has loaded and the model stands; limit_s: of everything. A process that is
    ended from outside, or finds no memory, leaves the hint as it is: `Outcome.lost` says so. Raises SolverError if
    it dies in any other way without a plan.
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
    return _Parent(task, on_plan, on_bound, stop, limit_s).run()


class _Parent:
    """Watches a solver in its own process."""

    def __init__(
        self,
        task: Task,
        on_plan: OnPlan | None,
        on_bound: OnBound | None,
        stop: Stop | None,
        limit_s: float | None = None,
    ) -> None:
        self._task, self._on_plan, self._on_bound, self._stop = task, on_plan, on_bound, stop
        self._over_at = None if limit_s is None else time.monotonic() + limit_s
        self._best: tuple[Plan, int] | None = None
        self._bound_cents = 0
        self._is_given_up = False

    def run(self) -> Outcome:
        """Start the process, listen until it is through or given up, and end it."""
        with tempfile.TemporaryFile() as complaints:
            process = subprocess.Popen(
                [sys.executable, "-c", "from scheduler.search.solver_process import main; main()"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=complaints,
                env={**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)},
            )
            try:
                outcome = self._listen(process)
            finally:
                self._end(process)
            if outcome is not None:
                return outcome
            lost = "" if self._is_given_up else _lost(process.returncode, complaints)
            if self._best is None and not self._is_given_up and not (lost and self._task.hint):
                raise SolverError(_died(process.returncode, complaints))
        plan, cost_cents = self._best or (None, None)
        return Outcome(
            status="plan" if plan is not None else "none",
            plan=plan,
            cost_cents=cost_cents,
            bound_cents=self._bound_cents,
            lost=lost,
        )

    def _listen(self, process: subprocess.Popen[bytes]) -> Outcome | None:
        """The outcome; None if the solver ended without one or had to be given up."""
        assert process.stdin is not None
        assert process.stdout is not None
        heard: queue.Queue[Message | None] = queue.Queue()
        threading.Thread(target=_hear, args=(process.stdout, heard), daemon=True).start()
        _tell(process.stdin, self._task)
        ends_at = time.monotonic() + READY_S + self._task.seconds
        while time.monotonic() < ends_at:
            is_late = self._over_at is not None and time.monotonic() >= self._over_at
            if not self._is_given_up and (is_late or (self._stop is not None and self._stop())):
                # The process takes the end of its input as the word to stop.
                self._is_given_up = True
                _close(process.stdin)
                ends_at = min(ends_at, time.monotonic() + (LIMIT_GRACE_S if is_late else GRACE_S))
            try:
                message = heard.get(timeout=POLL_S)
            except queue.Empty:
                continue
            if message is None or isinstance(message, Outcome):
                return message
            if isinstance(message, str):
                if not self._is_given_up:
                    ends_at = time.monotonic() + self._task.seconds + GRACE_S
            elif isinstance(message, int):
                self._take_bound(message)
            else:
                self._take(message)
        self._is_given_up = True
        return None

    def _take(self, message: tuple[Plan, int, int]) -> None:
        plan, cost_cents, bound_cents = message
        self._best = (plan, cost_cents)
        if self._on_plan is not None:
            self._on_plan(plan, cost_cents, bound_cents)
        self._take_bound(bound_cents)

    def _take_bound(self, bound_cents: int) -> None:
        self._bound_cents = max(self._bound_cents, bound_cents)
        if self._on_bound is not None:
            self._on_bound(bound_cents)

    def _end(self, process: subprocess.Popen[bytes]) -> None:
        """Let the process end by itself if it is about to, else end it."""
        if process.stdin is not None:
            _close(process.stdin)
        try:
            process.wait(0.0 if self._is_given_up else GRACE_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        if process.stdout is not None:
            _close(process.stdout)


def _hear(source: IO[bytes], heard: queue.Queue[Message | None]) -> None:
    """Pass on what the process says; None when it says no more."""
    try:
        while True:
            heard.put(pickle.load(source))
    except (EOFError, OSError, ValueError, pickle.UnpicklingError):
        heard.put(None)


def _tell(sink: IO[bytes], task: Task) -> None:
    """Hand the task over; a process that died meanwhile is found out by its silence."""
    try:
        pickle.dump(task, sink)
        sink.flush()
    except OSError:
        return


def _close(pipe: IO[bytes]) -> None:
    try:
        pipe.close()
    except OSError:
        return


def _lost(code: int, complaints: IO[bytes]) -> str:
    """What befell a process that did not end of its own will; "" where it ended by a fault of ours."""
    complaints.seek(0)
    said = complaints.read().decode(errors="replace")
    if any(words in said for words in OUT_OF_MEMORY):
        return "there was not enough memory for it"
    return "its process was ended from outside, for want of memory perhaps" if code < 0 else ""


def _died(code: int, complaints: IO[bytes]) -> str:
    """What is known about a process that ended without an answer."""
    complaints.seek(0)
    lines = complaints.read().decode(errors="replace").strip().splitlines()
    return f"the solver's process ended with code {code} and without an answer" + (f": {lines[-1]}" if lines else "")

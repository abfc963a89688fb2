"""What the solver's own process runs: a task comes in, plans go out as they are found, then the outcome."""

from __future__ import annotations

import os
import pickle
import sys
import threading

from scheduler.domain.plan import Plan
from scheduler.model.solver_run import Outcome, prepare, search

STARTED = "started"
"""Said when the model stands and the time begins to count."""

NICE = 5
"""Several workers give way to the search that goes on beside them."""

Message = str | int | tuple[Plan, int, int] | Outcome
"""`STARTED`; then (plan, cost in cents, bound in cents) for each better plan, and each better bound in cents between
them; then the outcome.
"""


def main() -> None:
    """Read one task, solve it, write messages. The end of the input is the word to stop."""
    # A stream of its own: Python cannot shut down while a thread reads the one it made itself.
    source = os.fdopen(os.dup(sys.stdin.fileno()), "rb")
    sink = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # whatever else is printed must not garble the messages
    task = pickle.load(source)
    if task.workers > 1 and hasattr(os, "nice"):
        os.nice(NICE)
    is_stopped = threading.Event()

    def wait_for_the_end() -> None:
        source.read()
        is_stopped.set()

    threading.Thread(target=wait_for_the_end, daemon=True).start()

    speaks_one = threading.Lock()

    def say(message: Message) -> None:
        with speaks_one:  # plans and bounds come from different threads
            pickle.dump(message, sink)
            sink.flush()

    prepared = prepare(task)
    say(STARTED)
    say(search(task, *prepared, lambda plan, cost, bound: say((plan, cost, bound)), is_stopped.is_set, say))

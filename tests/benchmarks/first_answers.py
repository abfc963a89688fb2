"""How soon a what-if has its first answer: `python -m tests.benchmarks.first_answers [TIMES]`.

Every what-if of the tests on the mid-size week so many times over (2: a hundred runs), without any search: seconds on
the wall to the first answer (5 s are asked), and seconds of this process's own for all four answers.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from dashboard import kept
from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError
from tests.dashboard.weeks import many_orders
from tests.what_if.midsize import WHAT_IFS

FIRST = SearchSettings(iterations=0, workers=1)


def main(times: int) -> None:
    """Ask all of them, one after the other."""
    with tempfile.TemporaryDirectory() as place:
        folder = many_orders(Path(place), times)
        inputs = api.read_week(folder)
        used = kept.in_use(folder)
        assert used is not None
        plan, _ = api.read_plan(used.plan_file, api.build_workload(inputs).week)
        print(f"{len(plan.runs)} runs")
        firsts, owns = [], []
        for what_if in WHAT_IFS:
            try:
                (read,) = api.read_what_ifs([what_if], folder, inputs, None)
            except InputError as fault:
                print(f"not asked: {what_if}: {fault}")
                continue
            began = time.process_time()
            answers = api.ask_what_if(inputs, plan, read.what_ifs, FIRST, name=what_if)
            owns.append(time.process_time() - began)
            first = answers.first_seconds
            said = "no answer" if first is None else f"first answer after {first:.2f} s"
            print(f"{said}, all four in {owns[-1]:.2f} s of one core: {what_if}", flush=True)
            firsts += [] if first is None else [first]
        print(f"{len(owns)} asked, {len(firsts)} answered: {_told(firsts)} to the first answer")
        print(f"{_told(owns)} of one core for all four")


def _told(seconds: list[float]) -> str:
    ordered = sorted(seconds)
    return f"{ordered[len(ordered) // 2]:.2f} s in the middle, {ordered[-1]:.2f} s at most"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)

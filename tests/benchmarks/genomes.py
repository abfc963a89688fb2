"""How many genomes a second a walk tries: decoded, and compiled, on the same weeks in the same seconds of one core.

    python -m tests.benchmarks.genomes [--weeks solo,midsize,contract,contract+locked,12-full,40-full] [--seconds 3]

A week is a folder of `scenarios`, or runs and load of an invented one; with "+locked" behind it half of its due-date
list, the earliest that can be, is locked where that list has it.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from time import process_time

from scheduler import api
from scheduler.domain.week import Fixing, Week
from scheduler.search.construction import due_date_list
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import genes_of
from scheduler.search.local import Annealing
from scheduler.search.quick.trials import Trials
from tests.benchmarks.weeks import benchmark_inputs

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


class CoreSeconds:
    """A budget of seconds of one core: what else runs on the machine counts less."""

    def __init__(self, seconds: float) -> None:
        """Start the watch."""
        self.is_timed = True
        self.seconds = seconds
        self.began = process_time()

    def share(self) -> float:
        """Seconds gone of those allowed."""
        return (process_time() - self.began) / self.seconds

    def spend(self) -> None:
        """Count nothing: time goes by itself."""

    def genomes_left(self, runs: int) -> float:
        """None: which way is measured is said beforehand."""
        return 0.0


def week_of(name: str) -> Week:
    """A week by its name."""
    if name.endswith("+locked"):
        return half_locked(week_of(name.removesuffix("+locked")))
    runs, dash, load = name.partition("-")
    if dash and runs.isdigit():
        return api.build_workload(benchmark_inputs(int(runs), load, 1)).week
    return api.build_workload(api.read_week(SCENARIOS / name)).week


def half_locked(week: Week) -> Week:
    """The week with half of its due-date list locked, the earliest runs that can be."""
    made = Decoder(week).decode(due_date_list(week))
    assert isinstance(made, Decoded)
    runs = sorted(made.plan.runs, key=lambda run: (run.set_up_start_tau, run.run_id))
    for run in runs:
        if run.run_id in week.fixing or 2 * len(week.fixings) >= len(runs):
            continue
        lock = Fixing(run_id=run.run_id, kind="locked", press_id=run.press_id, set_up_start_tau=run.set_up_start_tau)
        locked = replace(week, fixings=(*week.fixings, lock))
        if not isinstance(Decoder(locked).base(frozenset()), Refused):
            week = locked
    return week


def genomes_a_second(week: Week, seconds: float, *, is_quick: bool) -> tuple[float, int | None]:
    """Genomes a second of a walk from the due-date list, and the cost in cents it came to."""
    decoder = Decoder(week)
    if is_quick:
        decoder.trials = Trials(decoder)
        # Loading or making the compiled code does not count.
        begun = decoder.trials.begin(genes_of(decoder.tables, due_date_list(week)))
        decoder.trials.finish(genes_of(decoder.tables, due_date_list(week)), begun)  # type: ignore[arg-type]
    counted = 0

    def count(genomes: int) -> None:
        nonlocal counted
        counted += genomes

    walk = Annealing(decoder, genes_of(decoder.tables, due_date_list(week)), 1)
    walk.on_genomes = count
    began = process_time()
    best = walk.run(CoreSeconds(seconds))
    return counted / (process_time() - began), None if best is None else best.decoded.cost_cents


def main(arguments: Sequence[str] | None = None) -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.genomes")
    parser.add_argument("--weeks", default="solo,midsize,contract,contract+locked,12-full,40-full,100-full")
    parser.add_argument("--seconds", type=float, default=3.0)
    asked = parser.parse_args(arguments)
    for name in asked.weeks.split(","):
        week = week_of(name)
        if not Trials.can_try(Decoder(week)):
            print(f"{name}: has longer stacks than are matched compiled, the decoder walks alone")
            continue
        slow, slow_cents = genomes_a_second(week, asked.seconds, is_quick=False)
        quick, quick_cents = genomes_a_second(week, asked.seconds, is_quick=True)
        print(
            f"{name}: {len(week.runs)} runs, {len(week.presses)} presses; "
            f"decoded {slow:,.0f} a second to {slow_cents}, compiled {quick:,.0f} to {quick_cents}; "
            f"{quick / slow:.1f} times",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())

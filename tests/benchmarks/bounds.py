"""Whether the bounds hold, and how close they lie: random weeks solved to the cheapest plan there is.

    python -m tests.benchmarks.bounds [--size tiny] [--first 0] [--times 1000] [--seconds 20]

For each week that the exact model proves within the seconds: every bound must be at most what the cheapest plan costs.
Prints weeks tried and proven, and how much of all costs each bound proves; 1 if any bound lay above.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence

from scheduler.domain.week import Week
from scheduler.search.bounds import lower_bound
from scheduler.search.crowding import crowding_programme
from scheduler.search.one_queue import OneQueue, is_one_queue
from scheduler.search.queue_week import NO_PLAN_CENTS
from scheduler.search.solve import Task, solve_here
from scheduler.search.tables import tables_of
from scheduler.search.whole_runs import whole_runs_programme
from tests.random_weeks import SIZES, random_week

STRETCHES = (3, 8, 32)


def all_bounds(week: Week) -> dict[str, int]:
    """Every bound of a week by name, as cents that no plan undercuts."""
    tables = tables_of(week)
    found = {"orders one by one": lower_bound(week).cents}
    for stretches in STRETCHES:
        found[f"{stretches} stretches"] = crowding_programme(tables, stretches).bound_cents() or 0
    for name, in_queues in (("whole runs", False), ("whole runs in queues", True)):
        programme = whole_runs_programme(tables, in_queues=in_queues)
        found[name] = max(programme.learned_bounds(counted_s=5.0), default=0)
    if is_one_queue(tables):
        found["all queues of one press"] = OneQueue(tables).best(NO_PLAN_CENTS).bound_cents
    return found


def main(arguments: Sequence[str] | None = None) -> int:
    """Try and print; 1 if any bound lies above a cheapest plan."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.bounds")
    parser.add_argument("--size", default="tiny", choices=sorted(SIZES))
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--times", type=int, default=1000, help="weeks")
    parser.add_argument("--seconds", type=float, default=20.0, help="for each proof")
    asked = parser.parse_args(arguments)
    proven, wrong = 0, 0
    sums: Counter[str] = Counter()
    costs: Counter[str] = Counter()
    for seed in range(asked.first, asked.first + asked.times):
        week = random_week(seed, size=asked.size)
        best = solve_here(Task(week=week, seconds=asked.seconds))
        if best.status != "proven" or best.cost_cents is None:
            continue
        proven += 1
        for name, cents in all_bounds(week).items():
            sums[name] += cents
            costs[name] += best.cost_cents
            if cents > best.cost_cents:
                wrong += 1
                print(f"seed {seed}: {name} says {cents}, the cheapest plan costs {best.cost_cents}", flush=True)
    print(f"{asked.times} {asked.size} weeks, {proven} proven, {wrong} bounds above the cheapest plan")
    for name, cents in sums.items():
        print(f"  {name}: {cents / costs[name] if costs[name] else 1.0:.1%} of what the cheapest plans cost")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())

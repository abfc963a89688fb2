"""Rosters of the invented weeks: how long they take, how many short stays are left, and how many must be.

Run as `python -m tests.benchmarks.rosters`; `--thorough` gives every step sixty times the effort.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from scheduler import api
from scheduler.roster.by_name import QUICK, THOROUGH, full_roster, hand_overs
from scheduler.roster.first_filling import first_filling
from scheduler.roster.moments import days_of, short_stays
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


def main() -> None:
    """Print a line for each week."""
    effort = THOROUGH if "--thorough" in sys.argv else QUICK
    for name in ("solo", "midsize", "contract"):
        week = api.build_workload(api.read_week(SCENARIOS / name)).week
        decoded = first_plan(week)
        assert isinstance(decoded, Decoded)
        plan = decoded.plan
        first = sum(len(short_stays(week, day, first_filling(week, day, {}))) for day in days_of(week, plan))
        began, worked = time.perf_counter(), time.process_time()
        found = full_roster(week, plan, effort)
        seconds, busy = time.perf_counter() - began, time.process_time() - worked
        needed = sum(one.is_needed for one in found.short)
        print(
            f"{name}: {len(week.runs)} runs, {len(week.people)} people, {seconds:.1f} s ({busy:.1f} s of a core): "
            f"{first} short stays filled moment by moment, {len(found.short)} left, {needed} of them proven, "
            f"{hand_overs(found.stretches)} hand-overs",
            flush=True,
        )


if __name__ == "__main__":
    main()

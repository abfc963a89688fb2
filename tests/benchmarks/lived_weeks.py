"""Weeks lived day by day: Monday's plan kept against a plan on every morning, with figures.

python -m tests.benchmarks.lived_weeks --weeks 20 --seconds 3
"""

from __future__ import annotations

import argparse
from time import perf_counter

from scheduler import api
from scheduler.domain.settings import SearchSettings
from tests.outside.lived import Days, kept_monday, planned_daily, small_week


def main() -> None:
    """Live the weeks, and print a line for each and the sums."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weeks", type=int, default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=3.0)
    asked = parser.parse_args()
    settings = SearchSettings(seconds=asked.seconds, workers=1)
    print("seed  runs  planned late | kept: late   money | daily: late   money  moved |  s")
    kept_late = daily_late = kept_cents = daily_cents = better = worse = 0
    for seed in range(asked.first, asked.first + asked.weeks):
        began = perf_counter()
        inputs = small_week(seed)
        workload = api.build_workload(inputs)
        plan = api.plan_week(workload, settings).plan
        assert plan is not None
        days = Days(seed=seed)
        planned_late = len(api.measure(workload.week, plan).late_orders)
        kept = kept_monday(workload.week, plan, days)
        daily = planned_daily(inputs, workload.week, plan, days, settings)
        kept_late, daily_late = kept_late + kept.late, daily_late + daily.late
        kept_cents, daily_cents = kept_cents + kept.cents, daily_cents + daily.cents
        better += daily.late < kept.late or daily.cents < kept.cents
        worse += (daily.late, daily.cents) > (kept.late, kept.cents)
        print(
            f"{seed:4}  {len(plan.runs):4}  {planned_late:12} | {kept.late:10} {kept.cents / 100:7.0f} |"
            f" {daily.late:11} {daily.cents / 100:7.0f} {daily.moved:6} | {perf_counter() - began:4.0f}",
            flush=True,
        )
    print(
        f"sum: kept {kept_late} late, {kept_cents / 100:.0f}; daily {daily_late} late, {daily_cents / 100:.0f}; "
        f"fewer late or less money in {better} of {asked.weeks}, more late (or as many and dearer) in {worse}"
    )


if __name__ == "__main__":
    main()

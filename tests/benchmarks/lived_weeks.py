"""Weeks lived day by day: Monday's plan kept against a plan on every morning, with figures.

python -m tests.benchmarks.lived_weeks --weeks 20 --seconds 3
python -m tests.benchmarks.lived_weeks --weeks 20 --iterations 300 --noises 8   # luck? the same weeks on other days
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev
from time import perf_counter

from scheduler import api
from scheduler.domain.settings import SearchSettings
from tests.outside.lived import Days, Outcome, kept_monday, planned_daily, small_week

OTHER_DAYS = 1_000
"""The seeds of a week's further noises lie so far apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """One week lived both ways, on the same days each time."""

    seed: int
    runs: int
    planned_late: int
    both: tuple[tuple[Outcome, Outcome], ...]

    @property
    def gains(self) -> list[float]:
        """Money that planning daily saved, once for each noise."""
        return [(kept.cents - daily.cents) / 100 for kept, daily in self.both]


def main() -> None:
    """Live the weeks, and print a line for each and the sums."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weeks", type=int, default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=3.0)
    parser.add_argument("--iterations", type=int, help="Counted instead of seconds: the same plans on any machine.")
    parser.add_argument("--noises", type=int, default=1, help="How often each week is lived, on other days each time.")
    parser.add_argument("--quiet", action="store_true", help="Days on which everything goes as planned.")
    asked = parser.parse_args()
    settings = SearchSettings(seconds=asked.seconds, iterations=asked.iterations, workers=1)
    print("seed  runs  planned late | kept: late   money | daily: late   money  moved | saved +- |   s   (a noise)")
    weeks = []
    for seed in range(asked.first, asked.first + asked.weeks):
        began = perf_counter()
        weeks.append(lived_both_ways(seed, asked.noises, settings, is_quiet=asked.quiet))
        tell(weeks[-1], perf_counter() - began)
    sums(weeks)


def lived_both_ways(seed: int, noises: int, settings: SearchSettings, *, is_quiet: bool = False) -> Week:
    """One week with Monday's plan kept, and planned on every morning, on the same days."""
    inputs = small_week(seed)
    workload = api.build_workload(inputs)
    plan = api.plan_week(workload, settings).plan
    assert plan is not None
    both = []
    for noise in range(noises):
        spreads = {"set_up_spread": 0, "print_spread": 0, "stop_chance": 0} if is_quiet else {}
        days = Days(seed=seed + OTHER_DAYS * noise, **spreads)
        kept = kept_monday(workload.week, plan, days)
        both.append((kept, planned_daily(inputs, workload.week, plan, days, settings)))
    late = len(api.measure(workload.week, plan).late_orders)
    return Week(seed=seed, runs=len(plan.runs), planned_late=late, both=tuple(both))


def tell(week: Week, seconds: float) -> None:
    """A line for one week: means over its noises, and what was saved with the error of its mean."""
    kept, daily = [one for one, _ in week.both], [one for _, one in week.both]
    print(
        f"{week.seed:4}  {week.runs:4}  {week.planned_late:12} | {fmean(one.late for one in kept):10.1f} "
        f"{fmean(one.cents for one in kept) / 100:7.0f} | {fmean(one.late for one in daily):11.1f} "
        f"{fmean(one.cents for one in daily) / 100:7.0f} {fmean(one.moved for one in daily):6.1f} | "
        f"{fmean(week.gains):6.0f} {error(week.gains):4.0f} | {seconds:4.0f}",
        flush=True,
    )


def sums(weeks: Sequence[Week]) -> None:
    """All weeks together; how often a single week was won and lost."""
    both = [one for week in weeks for one in week.both]
    better = sum(daily.late < kept.late or daily.cents < kept.cents for kept, daily in both)
    worse = sum((daily.late, daily.cents) > (kept.late, kept.cents) for kept, daily in both)
    gains = [gain for week in weeks for gain in week.gains]
    print(
        f"{len(both)} lived weeks: kept {sum(one.late for one, _ in both)} late, "
        f"{sum(one.cents for one, _ in both) / 100:.0f}; daily {sum(one.late for _, one in both)} late, "
        f"{sum(one.cents for _, one in both) / 100:.0f}; fewer late or less money in {better}, more late (or as "
        f"many and dearer) in {worse}; saved a week {fmean(gains):.0f} +- {error(gains):.0f}"
    )


def error(found: Sequence[float]) -> float:
    """The standard error of a mean."""
    return stdev(found) / sqrt(len(found)) if len(found) > 1 else 0.0


if __name__ == "__main__":
    main()

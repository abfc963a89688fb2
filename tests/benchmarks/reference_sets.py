"""How far from the published optimum: `python -m tests.benchmarks.reference_sets [--json] [--only NAME …]`.

Every instance goes through the same search as a shop's week (first plans, annealing, exact model). Printed: what was
found beside the published optimum, what was proven, and after how long.
"""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict, dataclass

from scheduler.domain.settings import SearchSettings
from scheduler.review.rules import check
from scheduler.search.engine import plan_week
from scheduler.search.proof import exact
from tests.benchmarks.reference_weeks import REFERENCE_DATA, Instance, instances

SECONDS = 60.0
TARDINESS_SECONDS = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One instance and what the search made of it, in the instance's own units."""

    name: str
    runs: int
    best: int
    found: int | None
    bound: int
    is_proven: bool
    seconds: float
    violations: int

    @property
    def off(self) -> float | None:
        """Share by which the plan misses the published optimum; against one unit where that is 0."""
        return None if self.found is None else (self.found - self.best) / max(1, self.best)


def solved(instance: Instance, seconds: float, workers: int) -> Row:
    """One instance through the search."""
    result = plan_week(instance.week, SearchSettings(seconds=seconds, workers=workers), improver=exact)
    return Row(
        name=instance.name,
        runs=len(instance.week.runs),
        best=instance.best,
        found=None if result.plan is None else instance.least + result.cost_cents,
        bound=instance.least + result.lower_bound_cents,
        is_proven=result.status == "proven",
        seconds=result.wall_seconds or 0.0,
        violations=0 if result.plan is None else len(check(instance.week, result.plan)),
    )


def main(arguments: list[str] | None = None) -> int:
    """Print the table; 1 if a plan is better than its published optimum or breaks a rule."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", nargs="*", default=[], help="names, or how they begin")
    parser.add_argument("--seconds", type=float, default=None, help=f"default {SECONDS:g}, wt40 {TARDINESS_SECONDS:g}")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(arguments)
    if not REFERENCE_DATA.is_dir():
        print(f"no public instances at {REFERENCE_DATA}", file=sys.stderr)
        return 2
    rows = []
    for instance in instances():
        if asked.only and not instance.name.startswith(tuple(asked.only)):
            continue
        seconds = asked.seconds or (TARDINESS_SECONDS if instance.name.startswith("wt40") else SECONDS)
        rows.append(solved(instance, seconds, asked.workers))
        if not asked.json:
            print(line(rows[-1]), flush=True)
    if asked.json:
        print(json.dumps([{**asdict(row), "off": row.off} for row in rows], indent=2))
    return int(any(row.violations or (row.found is not None and row.found < row.best) for row in rows))


def line(row: Row) -> str:
    """One row for people."""
    if row.found is None or row.off is None:
        return f"{row.name:10} {row.runs:4} runs  best {row.best:6}  no plan"
    told = "proven" if row.is_proven else f"bound {row.bound}"
    figures = f"{row.name:10} {row.runs:4} runs  best {row.best:6}  ours {row.found:6}  {row.off:+7.1%}"
    return f"{figures}  {told:12} {row.seconds:5.1f} s"


if __name__ == "__main__":
    sys.exit(main())

"""Random shops planned from end to end, half of them stopped at a random moment.

    python -m tests.benchmarks.random_shops [--times 2000] [--from 0] [--seconds 0.5]

Every plan keeps every rule, ends in the replay at the planned minute and reads back from its file; says how far
searches overran their limit, how many weeks had no plan, and the most memory held. Leaves with 1 where anything failed.
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import traceback
from pathlib import Path

from tests.hard_use.shops import Lived, live_through


def main() -> int:
    """Plan them all, print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=2000)
    parser.add_argument("--from", dest="first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=0.5)
    asked = parser.parse_args()
    lived: list[Lived] = []
    failed, early_kb = 0, 0
    with tempfile.TemporaryDirectory(prefix="pressweek-tests-") as place:
        for seed in range(asked.first, asked.first + asked.times):
            try:
                lived.append(live_through(seed, asked.seconds, Path(place)))
            except Exception:  # every failure is told, and the next shop tried
                failed += 1
                print(f"shop {seed}:", traceback.format_exc(limit=-3), flush=True)
            if len(lived) == min(100, asked.times // 2):
                early_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    late_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    over = sorted(one.over_s for one in lived)
    print(f"{len(lived)} shops lived through, {failed} failed; {sum(one.has_plan for one in lived)} have a plan,")
    print(f"{sum(one.is_stopped for one in lived)} were stopped; runs {min(one.runs for one in lived)} to", end=" ")
    print(f"{max(one.runs for one in lived)}; over the limit: half below {over[len(over) // 2]:.2f} s,", end=" ")
    print(f"19 of 20 below {over[len(over) * 19 // 20]:.2f} s, worst {over[-1]:.2f} s", end=" ")
    print(f"(shop {max(lived, key=lambda one: one.over_s).seed})")
    print(f"most memory after the first shops {early_kb / 1024:.0f} MB, after all {late_kb / 1024:.0f} MB")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

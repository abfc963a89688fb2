"""Thousands of spoiled weeks, workbooks, what-ifs, plan files, books and own sheets, brought to the front doors.

    python -m tests.benchmarks.spoiled_files [--times 20000] [--from 0] [--kinds folder,workbook,...]

Says how many were read and refused, the slowest, and which faults came without a row; prints every failure with its
kind and number, so that it can be tried again alone. Leaves with 1 where anything failed.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import traceback
from collections import Counter
from pathlib import Path

from tests.hard_use.trying import TRIES, HungError, Tried, try_one

SHARE = {"folder": 6, "workbook": 2, "packed": 2, "what-if": 4, "plan file": 2, "own sheet": 2, "book": 2}
"""Of twenty spoiled things, how many are of which kind."""


def main() -> int:
    """Try them all, print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=20_000)
    parser.add_argument("--from", dest="first", type=int, default=0)
    parser.add_argument("--kinds", default=",".join(TRIES))
    asked = parser.parse_args()
    kinds = [kind for kind in asked.kinds.split(",") for _ in range(SHARE[kind])]
    done: list[Tried] = []
    failed: Counter[str] = Counter()
    for number in range(asked.first, asked.first + asked.times):
        kind = kinds[number % len(kinds)]
        with tempfile.TemporaryDirectory(prefix="pressweek-tests-") as place:
            try:
                done.append(try_one(kind, number, Path(place)))
            except (Exception, HungError) as fault:  # every kind of failure is told, and the next one tried
                at = traceback.extract_tb(fault.__traceback__)[-1]
                where = f"{kind}: {type(fault).__name__} at {Path(at.filename).name}:{at.lineno}: {str(fault)[:160]}"
                failed[where] += 1
                if failed[where] == 1:
                    print(f"number {number}, {where}", flush=True)
    _tell(done, failed)
    return 1 if failed else 0


def _tell(done: list[Tried], failed: Counter[str]) -> None:
    for kind in TRIES:
        own = [one for one in done if one.kind == kind]
        if own:
            slow = max(own, key=lambda one: one.seconds)
            came = Counter(one.came for one in own)
            print(f"{kind}: {dict(came)}, slowest {slow.seconds:.2f} s (number {slow.seed})")
    bare = Counter(one.code for tried in done for one in tried.problems if one.row is None and not one.is_warning)
    print("faults without a row:", dict(bare.most_common()))
    print(f"{len(done)} as they should be, {sum(failed.values())} not")


if __name__ == "__main__":
    sys.exit(main())

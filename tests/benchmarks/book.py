"""The shop's book under load: weeks brought and read back, killed while it is written, a crowd on a file and a server.

    python -m tests.benchmarks.book --weeks 200 --kills 200 --people 20 --seconds 60 --server

Prints what was done, what was lost and how long people waited; ends with 1 if anything was lost or went wrong.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from scheduler import shop_book
from scheduler.book.opening import open_book
from scheduler.book.weeks import load_week, store_week
from tests.book.books import NOW, book_at, good_week
from tests.book.crowd import crowd, spread
from tests.book.killed import kill_while_writing
from tests.book.planned import solo_plan
from tests.book.postgres import another, server
from tests.workload.random_inputs import random_inputs


def weeks(folder: Path, count: int) -> list[str]:
    """So many drawn weeks, each brought over the one before and read back; at the end every version once more."""
    book_at(folder / "weeks.book").close()
    book = open_book(str(folder / "weeks.book"))
    faults = []
    began = time.perf_counter()
    for seed in range(count):
        inputs = random_inputs(seed)
        store_week(book, inputs, [], seen=seed, at=NOW, who="Ana", why="brought")
        faults += [] if load_week(book).inputs == inputs else [f"week {seed} came back otherwise"]
    for seed in range(count):
        faults += (
            [] if load_week(book, seed + 1).inputs == random_inputs(seed) else [f"version {seed + 1} is otherwise"]
        )
    print(f"{count} drawn weeks brought and read back, {len(faults)} otherwise, {time.perf_counter() - began:.0f} s")
    return faults


def kills(folder: Path, count: int) -> list[str]:
    """So many processes killed while they wrote into one book, which is looked at after each."""
    book_at(folder / "killed.book").close()
    inputs, plan = solo_plan()
    kept: Counter[str] = Counter()
    faults: list[str] = []
    began = time.perf_counter()
    for seed in range(count):
        found = kill_while_writing(str(folder / "killed.book"), inputs, plan, seed)
        kept.update(found.acknowledged)
        faults += [f"kill {seed}: {fault}" for fault in found.faults]
    told = ", ".join(f"{number} of {kind}" for kind, number in sorted(kept.items()))
    print(f"{count} times killed, {len(faults)} faults, {time.perf_counter() - began:.0f} s; acknowledged: {told}")
    return faults


def people(folder: Path, address: str, where: str, count: int, seconds: float, pause_s: float) -> list[str]:
    """As many who write as who read, at once."""
    inputs = good_week(folder / f"week of {where}")
    found = crowd(address, inputs, writers=count, readers=count, seconds=seconds, pause_s=pause_s)
    second = sum(one.second for one in found.writers)
    print(f"{where}: {count} writers and {count} readers, {seconds:.0f} s, thinking {pause_s:g} s between")
    print(f"  {found.events_kept} events, {found.changes_kept} changes of the week, {second} times second and told so")
    print(f"  writing {spread([wait for one in found.writers for wait in one.waits])}")
    print(f"  reading {spread([wait for one in found.readers for wait in one.waits])}")
    print(f"  {len(found.faults)} faults")
    return list(found.faults)


def main() -> int:
    """Everything that is asked for, one after the other."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weeks", type=int, default=0)
    parser.add_argument("--kills", type=int, default=0)
    parser.add_argument("--people", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--pause", type=float, default=0.5)
    parser.add_argument("--server", action="store_true", help="the crowd on a server too")
    asked = parser.parse_args()
    faults: list[str] = []
    with tempfile.TemporaryDirectory(prefix="book-") as name:
        folder = Path(name)
        steps: list[Callable[[], list[str]]] = []
        if asked.weeks:
            steps.append(lambda: weeks(folder, asked.weeks))
        if asked.kills:
            steps.append(lambda: kills(folder, asked.kills))
        if asked.people:
            book_at(folder / "crowd.book").close()
            path = str(folder / "crowd.book")
            steps.append(lambda: people(folder, path, "file", asked.people, asked.seconds, asked.pause))
        for step in steps:
            faults += step()
        if asked.people and asked.server:
            with server() as address:
                place = another(address, "crowd")
                shop_book.new_book(place, NOW)
                faults += people(folder, place, "server", asked.people, asked.seconds, asked.pause)
    for fault in faults[:20]:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())

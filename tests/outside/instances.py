"""Public scheduling instances written as weeks a shop could type.

An order is a job; an imprint pinned to one press with a stated run time is an operation; `print_after` is the
listed order. No screens, no set-up, no people, open round the clock.

One instance unit is UNIT_MIN minutes. Every print spends a minute on the belt; a due time is put at the last minute
before the next unit, so that those minutes never add up to a unit and the published optimum holds as it is.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

START = datetime(2026, 3, 2, 0, 0)
UNIT_MIN = 60

SHOP = """\
name = "Round-the-clock bench"
zone = "UTC"
plan_from = "2026-03-02 00:00"
days_ahead = {days}

[hours]
mon-sun = "00:00-24:00"

[money]
late_normal = 1
cushion = 0
person_hour = 0

[defaults]
finish_each = "0 s"
finish_lag = "0 min"
last_box = "0 min"

[room_kept_free]
minutes = "0 min"
"""

PRESS = """
[[press]]
id = "{press_id}"
kind = "automatic"
heads = 1
set_up_crew = "none"
run_crew = "none"
"""

HEADINGS = (
    "order", "client", "due", "garment", "shade", "pieces", "location", "inks", "blanks", "art",
    "press", "run", "set_up", "print_after", "late",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Operation:
    """One step of a job: minutes by press it may run on."""

    units_on: dict[str, int]


@dataclass(frozen=True, kw_only=True)
class Job:
    """A job: its steps in order, the unit by which it is due, what a late pick-up costs."""

    steps: Sequence[Operation]
    due: int
    late: int = 1


def due_min(due: int) -> int:
    """Minutes from the start by which something due at `due` units must be packed."""
    return due * UNIT_MIN + UNIT_MIN - 1


def write_week(folder: Path, jobs: Sequence[Job], *, days: int) -> Path:
    """Write the folder and return it. Steps that fit several presses must take the same time on each."""
    presses = sorted({press_id for job in jobs for step in job.steps for press_id in step.units_on})
    folder.mkdir(parents=True, exist_ok=True)
    shop = SHOP.format(days=days) + "".join(PRESS.format(press_id=press_id) for press_id in presses)
    (folder / "shop.toml").write_text(shop, encoding="utf-8")
    with (folder / "orders.csv").open("w", encoding="utf-8", newline="") as out:
        rows = csv.writer(out)
        rows.writerow(HEADINGS)
        for number, job in enumerate(jobs, start=1):
            due = START + timedelta(minutes=due_min(job.due))
            for index, step in enumerate(job.steps):
                minutes = set(step.units_on.values())
                if len(minutes) != 1:
                    raise ValueError("a step's stated time is one for all its presses")
                rows.writerow(
                    [
                        f"J{number:02d}", f"Client {number}", due.strftime("%Y-%m-%d %H:%M"), "white tee", "light", 1,
                        f"step {index + 1}", "black", "in", "ok", ", ".join(sorted(step.units_on)),
                        f"{minutes.pop() * UNIT_MIN} min", "0 min", f"step {index}" if index else "", job.late,
                    ]
                )  # fmt: skip
    return folder


def job_shop(durations: Sequence[Sequence[int]], machines: Sequence[Sequence[int]], due: int) -> list[Job]:
    """Jobs of a classical job shop, all due at `due`: none late means a makespan of at most `due`."""
    return [
        Job(
            steps=[Operation(units_on={f"m{machine}": length}) for length, machine in zip(lengths, route, strict=True)],
            due=due,
        )
        for lengths, route in zip(durations, machines, strict=True)
    ]


def one_press(lengths: Sequence[int], dues: Sequence[int], weights: Sequence[int]) -> list[Job]:
    """Single-step jobs on one press."""
    return [
        Job(steps=[Operation(units_on={"m0": length})], due=due, late=weight)
        for length, due, weight in zip(lengths, dues, weights, strict=True)
    ]

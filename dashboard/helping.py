"""What one thing more would save, tried in a process of its own: `python -m dashboard.helping WEEK FOLDER`.

FOLDER is the plan's. Into it goes `what-helps.json` when everything has been tried; until then `what-helps.trying`
tells every page and every browser that it is on its way.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from dashboard import kept
from dashboard.jobs import child, write_whole
from scheduler import api

FOUND, TRYING, COMPLAINTS = "what-helps.json", "what-helps.trying", "what-helps.complaints.txt"
SECONDS = 20.0
DEAD_AFTER_S = 90.0
"""Silence after which a process that another server started is taken for dead; the report itself takes a while too."""

_CHILDREN: dict[Path, subprocess.Popen[bytes]] = {}
_ONE_STARTS = threading.Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found: the sentence to read first, what it was compared with, and the table."""

    sentence: str
    notes: tuple[str, ...]
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def start(week: Path, folder: Path) -> None:
    """Begin to try, unless somebody is at it."""
    with _ONE_STARTS:
        if is_trying(folder):
            return
        (folder / TRYING).write_text(str(time.time()), encoding="utf-8")
        _CHILDREN[folder] = child("dashboard.helping", week, folder, folder / COMPLAINTS)


def is_trying(folder: Path) -> bool:
    """True while a process is at work on it."""
    own = _CHILDREN.get(folder)
    if own is not None:
        return own.poll() is None
    try:
        return time.time() - (folder / TRYING).stat().st_mtime < DEAD_AFTER_S
    except OSError:
        return False


def has_failed(folder: Path) -> bool:
    """True if a process began and ended, or fell silent, without a result."""
    return (folder / TRYING).exists() and not is_trying(folder)


def found(folder: Path) -> Found | None:
    """What was found for this plan, None where nobody has asked yet."""
    try:
        told = json.loads((folder / FOUND).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return Found(
        sentence=told["sentence"],
        notes=tuple(told["notes"]),
        headings=tuple(told["headings"]),
        rows=tuple(tuple(row) for row in told["rows"]),
    )


def main(arguments: Sequence[str]) -> None:
    """Try everything on the list, and write down what it brings."""
    week_path, folder = Path(arguments[0]), Path(arguments[1])
    trying = folder / TRYING
    inputs = api.read_week(kept.made_from(week_path, folder))
    week = api.build_workload(inputs).week
    plan, _ = api.read_plan(folder / kept.PLAN, week)
    helps = api.what_helps(inputs, week, plan, seconds=SECONDS, on_help=lambda _: trying.touch())
    sentence, sections = api.holding_up_report(api.holding_up(week, plan, helps), currency=inputs.shop.money.currency)
    table = sections[0]
    told = {
        "sentence": sentence,
        "notes": table.sentences,
        "headings": table.headings,
        "rows": [line.cells for line in table.lines],
    }
    write_whole(folder / FOUND, json.dumps(told))
    trying.unlink()


if __name__ == "__main__":
    main(sys.argv[1:])

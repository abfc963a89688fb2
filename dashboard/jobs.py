"""Plans in the making: started in a process of their own, watched through the files they write.

Every page and every browser sees the same one, because what there is to know stands in files beside the week:
`plans/in-work` names the folder of the plan in the making, or of a finished one about which nobody has decided yet.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dashboard import kept

ASKED, TRACE, ALIVE, OUTCOME, STOP, COMPLAINTS = (
    "asked.json",
    "trace.jsonl",
    "alive",
    "outcome.json",
    "stop",
    "complaints.txt",
)
IN_WORK = "in-work"
USE, COMPARE = "use", "compare"
ALIVE_EVERY_S = 1.0
DEAD_AFTER_S = 60.0
"""Silence after which a process is taken for dead; one that this server started is asked directly."""

_CHILDREN: dict[Path, subprocess.Popen[bytes]] = {}
_ONE_STARTS = threading.Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class TracePoint:
    """A better plan: after how many seconds, what it costs, what no plan can undercut, how many orders are late."""

    seconds: float
    cost_cents: int
    limit_cents: int
    late: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InWork:
    """A plan in the making. state: "waiting" (for others to be through), "working", "stopping", "done", "none" (there
    is no plan; reason) or "failed".
    """

    folder: Path
    state: str
    asked_seconds: float
    began_at: float
    trace: tuple[TracePoint, ...]
    outcome: dict[str, Any]
    complaints: str = ""

    @property
    def is_working(self) -> bool:
        """True while its process may still find something, or is still to be started."""
        return self.state in ("waiting", "working", "stopping")

    @property
    def reason(self) -> str:
        """Why there is no plan."""
        return str(self.outcome.get("reason") or "none was found in time")


def start(week: Path, *, seconds: float, seed: int = 1, workers: int = 2, iterations: int | None = None) -> Path:
    """Start planning the week as its files are now; where a plan is in the making already, that one goes on."""
    with _ONE_STARTS:  # of twenty who click at once, one starts it and all watch it
        running = in_work(week)
        if running is not None and running.is_working:
            return running.folder
        folder = kept.new_folder(week)
        asked = {"seconds": seconds, "seed": seed, "workers": workers, "iterations": iterations}
        launch("dashboard.planning", week, folder, asked)
        write_whole(kept.plans_folder(week) / IN_WORK, folder.name)
        return folder


def launch(module: str, week: Path, folder: Path, asked: dict[str, Any]) -> None:
    """Start a program of ours on a week; it finds what was asked in its folder and writes there."""
    write_whole(folder / ASKED, json.dumps({**asked, "began": time.time()}))
    _CHILDREN[folder] = child(module, week, folder, folder / COMPLAINTS)


def child(module: str, week: Path, folder: Path, complaints: Path) -> subprocess.Popen[bytes]:
    """`python -m module WEEK FOLDER` in a process that outlives the page; what it complains of goes into a file."""
    root = str(Path(__file__).resolve().parent.parent)
    paths = os.pathsep.join([root, *filter(None, os.environ.get("PYTHONPATH", "").split(os.pathsep))])
    with complaints.open("wb") as told:
        return subprocess.Popen(
            [sys.executable, "-m", module, str(week), str(folder)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=told,
            env={**os.environ, "PYTHONPATH": paths},
            start_new_session=True,
        )


def in_work(week: Path) -> InWork | None:
    """The plan in the making, or the finished one nobody has decided about."""
    plans = kept.plans_folder(week)
    try:
        name = (plans / IN_WORK).read_text(encoding="utf-8").strip()
    except OSError:
        return None
    return watched(plans / name) if name and Path(name).name == name else None


def watched(folder: Path) -> InWork | None:
    """How far a program has come, from what it wrote into its folder."""
    asked = _read(folder / ASKED)
    if not asked:
        return None
    outcome = _read(folder / OUTCOME)
    return InWork(
        folder=folder,
        state=_state(folder, outcome, float(asked["began"])),
        asked_seconds=float(asked["seconds"]),
        began_at=float(asked["began"]),
        trace=_trace(folder / TRACE),
        outcome=outcome,
        complaints=_text(folder / COMPLAINTS),
    )


def ask_to_stop(folder: Path, *, then: str) -> None:
    """Let the search end with the best plan so far. then: "use" puts it into use, "compare" only shows it."""
    write_whole(folder / STOP, then)


def decide(week: Path, *, takes_new: bool) -> None:
    """Put the new plan into use, or keep the old one; either way nothing is in the making any more."""
    pending = in_work(week)
    if pending is not None and takes_new and pending.state == "done":
        kept.use(week, pending.folder)
    (kept.plans_folder(week) / IN_WORK).unlink(missing_ok=True)


def write_whole(path: Path, text: str) -> None:
    """The file holds the whole text or what it held before."""
    swap = path.with_name(f".{path.name}.{os.getpid()}.{threading.get_ident()}.part")
    try:
        swap.write_text(text, encoding="utf-8")
        os.replace(swap, path)
    except OSError:
        swap.unlink(missing_ok=True)
        raise


def _state(folder: Path, outcome: dict[str, Any], began_at: float) -> str:
    if outcome:
        return "none" if outcome.get("status") == "none" else "done"
    child = _CHILDREN.get(folder)
    if child is not None:
        is_dead = child.poll() is not None
    else:
        try:
            seen_at = (folder / ALIVE).stat().st_mtime
        except OSError:
            seen_at = began_at
        is_dead = time.time() - seen_at > DEAD_AFTER_S
    if is_dead:
        # it may have ended well between the two looks
        outcome = _read(folder / OUTCOME)
        return "failed" if not outcome else _state(folder, outcome, began_at)
    return "stopping" if (folder / STOP).exists() else "working"


def _trace(path: Path) -> tuple[TracePoint, ...]:
    found = []
    for line in _text(path).splitlines():
        try:
            one = json.loads(line)
            found.append(
                TracePoint(seconds=one["s"], cost_cents=one["cents"], limit_cents=one["limit"], late=one["late"])
            )
        except (ValueError, KeyError):
            continue  # a line that is still being written
    return tuple(found)


def tell_alive(folder: Path) -> None:
    """Give signs of life for as long as this process lives."""

    def told() -> None:
        while True:
            (folder / ALIVE).write_text(str(time.time()), encoding="utf-8")
            time.sleep(ALIVE_EVERY_S)

    threading.Thread(target=told, daemon=True).start()


def _read(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(_text(path) or "{}")
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""

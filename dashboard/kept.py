"""Plans kept beside a week: each in a folder of its own with the files it was made from, and which of them is in use.

    <week>/plans/in-use                 the name of the plan in use
    <week>/plans/20260413T114000Z/      one plan: plan.json, its papers, made-from/ (the week's files as they were)

A workbook's plans stand beside it, in `<its name> plans/`. Which plan is in use is one small file that is swapped in
one go, so nobody ever sees half a plan.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from scheduler import api

IN_USE, MADE_FROM, PLAN = "in-use", "made-from", "plan.json"
STAMP = "%Y%m%dT%H%M%SZ"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlan:
    """A plan that was kept: its folder, the week it was made from, and when."""

    folder: Path
    made_from: Path
    made_at: datetime

    @property
    def plan_file(self) -> Path:
        """The plan itself."""
        return self.folder / PLAN


def plans_folder(week: Path) -> Path:
    """Where a week's plans are kept."""
    return week.with_name(f"{week.stem} plans") if week.is_file() else week / "plans"


def new_folder(week: Path) -> Path:
    """A fresh folder for a plan, holding a copy of the week's files as they are now."""
    plans = plans_folder(week)
    at = datetime.now(UTC).strftime(STAMP)
    folder, again = plans / at, 1
    while True:
        try:
            folder.mkdir(parents=True)
            break
        except FileExistsError:
            again += 1
            folder = plans / f"{at}-{again}"
    (folder / MADE_FROM).mkdir()
    for path in api.week_files(week):
        shutil.copy2(path, folder / MADE_FROM / path.name)
    return folder


def made_from(week: Path, folder: Path) -> Path:
    """The copy of the week that a plan was made from."""
    return folder / MADE_FROM / week.name if week.is_file() else folder / MADE_FROM


def in_use(week: Path) -> KeptPlan | None:
    """The plan in use, if there is one."""
    plans = plans_folder(week)
    try:
        name = (plans / IN_USE).read_text(encoding="utf-8").strip()
    except OSError:
        return None
    return in_folder(week, plans / name) if name and Path(name).name == name else None


def use(week: Path, folder: Path) -> None:
    """From now on this plan is the one in use."""
    plans = plans_folder(week)
    swap = plans / f".{IN_USE}.{os.getpid()}.part"
    swap.write_text(folder.name, encoding="utf-8")
    os.replace(swap, plans / IN_USE)


def adopt(week: Path, plan: Path) -> None:
    """Put a plan that was made elsewhere from this week's files into use, with its papers."""
    now = in_use(week)
    if now is not None and now.plan_file.read_bytes() == (plan / PLAN).read_bytes():
        return
    folder = new_folder(week)
    for path in sorted(plan.iterdir(), key=lambda one: one.name == PLAN):  # the plan last: it stands for a full set
        if path.is_file():
            shutil.copy2(path, folder / path.name)
    use(week, folder)


def kept_plans(week: Path) -> Iterator[KeptPlan]:
    """Every whole plan that was kept, the newest first."""
    plans = plans_folder(week)
    for folder in sorted(plans.iterdir(), reverse=True) if plans.is_dir() else ():
        kept = in_folder(week, folder)
        if kept is not None:
            yield kept


def in_folder(week: Path, folder: Path) -> KeptPlan | None:
    """The whole plan in a folder, if there is one."""
    if not (folder / PLAN).is_file():
        return None
    try:
        made_at = datetime.strptime(folder.name.partition("-")[0], STAMP).replace(tzinfo=UTC)
    except ValueError:
        made_at = datetime.fromtimestamp((folder / PLAN).stat().st_mtime, UTC)
    return KeptPlan(folder=folder, made_from=made_from(week, folder), made_at=made_at)


def stamp(week: Path) -> tuple[tuple[str, int, int], ...]:
    """What changes whenever the week's files or the plan in use change."""
    found = []
    for path in (*api.week_files(week), plans_folder(week) / IN_USE):
        try:
            seen = path.stat()
        except OSError:
            continue
        found.append((path.name, seen.st_mtime_ns, seen.st_size))
    return tuple(found)

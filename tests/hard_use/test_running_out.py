"""Time, memory, disk and rights run out, processes are killed: one clear message, the last good plan still there."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError, SolverError
from scheduler.search import solve as solving
from tests.dashboard.weeks import copied, planned_once
from tests.hard_use.limits import disk_of, memory_of, pressweek, rights_count, started

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


def with_plan(place: Path) -> tuple[Path, Path, bytes]:
    """The one-person week, a folder with a good plan of it, and that plan's bytes."""
    week = copied("solo", place)
    out = shutil.copytree(planned_once("solo"), place / "out")
    return week, out, (out / "plan.json").read_bytes()


def assert_told(done: subprocess.CompletedProcess[str], code: int, *words: str) -> None:
    """It left with this code, said these words, and no traceback."""
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr
    assert all(word in done.stderr for word in words), done.stderr


def assert_whole(week: Path, plan: Path) -> None:
    """The plan reads back and keeps every rule."""
    asked = api.build_workload(api.read_week(week)).week
    assert api.check(asked, api.read_plan(plan, asked)[0]) == ()


def test_no_time_at_all_still_gives_a_plan(tmp_path: Path) -> None:
    """A search of a thousandth of a second hands over the first plan it made, which keeps every rule."""
    done = pressweek("plan", SCENARIOS / "midsize", "--seconds", "0.001", "--workers", "1", "--out", tmp_path / "out")
    assert_told(done, 0)
    assert_whole(SCENARIOS / "midsize", tmp_path / "out" / "plan.json")


def test_stopped_before_a_first_plan() -> None:
    """Asked to stop before anything was found, the search still ends well: a valid plan, or why there is none."""
    workload = api.build_workload(api.read_week(SCENARIOS / "solo"))
    result = api.plan_week(workload, SearchSettings(seconds=60, workers=1), stop=lambda: True)
    assert result.plan is None or api.check(workload.week, result.plan) == ()
    assert result.plan is not None or result.reason


@pytest.mark.parametrize("size", [2_000, 30_000])
def test_a_full_disk_is_told_and_the_last_plan_stays(tmp_path: Path, size: int) -> None:
    """Where the disk is full at the first paper or at the plan file: exit code 2, one sentence, the old plan whole."""
    week, out, before = with_plan(tmp_path)
    done = pressweek("plan", week, "--seconds", "0.5", "--workers", "1", "--out", out, under=disk_of(size))
    assert_told(done, 2, "cannot be written (file too large)")
    assert (out / "plan.json").read_bytes() == before
    assert [path.name for path in out.iterdir() if path.name.endswith(".part")] == []


def test_a_folder_nobody_may_write_to_is_told_before_the_search(tmp_path: Path) -> None:
    """A read-only folder for the papers is told, and the plan that is there stays."""
    week, out, before = with_plan(tmp_path)
    out.chmod(0o555)
    try:
        done = pressweek("plan", week, "--seconds", "0.5", "--workers", "1", "--out", out, under=rights_count)
    finally:
        out.chmod(0o755)
    assert_told(done, 2, "cannot be written (permission denied)")
    assert "Stopped" not in done.stderr
    assert (out / "plan.json").read_bytes() == before


def test_a_week_nobody_may_read_is_told(tmp_path: Path) -> None:
    """A file of the week without the right to read it is one fault with its name."""
    week = copied("solo", tmp_path)
    (week / "orders.csv").chmod(0o000)
    done = pressweek("plan", week, under=rights_count)
    assert_told(done, 2, "orders.csv: cannot be read (permission denied)")


def test_a_program_without_memory_says_so(tmp_path: Path) -> None:
    """Where the program itself finds too little memory it leaves with a sentence, and the plan that is there stays."""
    week, out, before = with_plan(tmp_path)
    done = pressweek("plan", week, "--seconds", "1", "--out", out, under=memory_of(150_000_000))
    assert_told(done, 1, "not enough memory")
    assert (out / "plan.json").read_bytes() == before


@pytest.mark.parametrize("fate", ["killed", "out of memory"])
def test_a_helper_that_is_lost_costs_no_plan(monkeypatch: pytest.MonkeyPatch, fate: str) -> None:
    """The process that looks most closely is killed, or finds no memory: the best plan so far stays, and it is told."""
    began = solving.subprocess.Popen

    def unlucky(*arguments: Any, **more: Any) -> Any:
        if fate == "killed":
            process = began(*arguments, **more)
            process.kill()
            return process
        return began(*arguments, **more, preexec_fn=memory_of(200_000_000))

    monkeypatch.setattr(solving.subprocess, "Popen", unlucky)
    workload = api.build_workload(api.read_week(SCENARIOS / "solo"))
    result = api.plan_week(workload, SearchSettings(iterations=50, workers=1))
    assert result.plan is not None
    assert api.check(workload.week, result.plan) == ()
    assert result.told.startswith("The closest look ended early: ")
    assert ("memory for it" in result.told) == (fate == "out of memory")


def test_a_helper_that_fails_by_our_fault_is_no_secret(monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that ends with a traceback of ours is still an error: it is not passed off as bad luck."""
    began = solving.subprocess.Popen

    def faulty(arguments: list[str], **more: Any) -> Any:
        return began([arguments[0], "-c", "import sys; sys.stdin.buffer.read(1); raise KeyError('ours')"], **more)

    monkeypatch.setattr(solving.subprocess, "Popen", faulty)
    workload = api.build_workload(api.read_week(SCENARIOS / "solo"))
    with pytest.raises(SolverError, match="KeyError: 'ours'"):
        api.plan_week(workload, SearchSettings(iterations=50, workers=1))


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_ended_at_any_moment_it_leaves_a_whole_plan_or_none(tmp_path: Path, sign: signal.Signals) -> None:
    """Ctrl-C, an end from outside or a kill at a random moment: plan.json is the old one or a whole new one."""
    week, out, _ = with_plan(tmp_path)
    dice = random.Random(int(sign))
    process = started("plan", week, "--seconds", "1.5", "--workers", "1", "--out", out)
    time.sleep(dice.uniform(0.5, 4))
    os.killpg(process.pid, sign)
    _, err = process.communicate(timeout=60)
    assert_whole(week, out / "plan.json")
    assert "Traceback" not in err


def test_a_week_edited_on_a_full_disk_stays_as_it_was(tmp_path: Path, at_limit: Callable[[int], None]) -> None:
    """An edit that cannot be written is refused with one sentence, and every file of the week is as before."""
    week = copied("midsize", tmp_path)
    before = {path.name: path.read_bytes() for path in week.iterdir()}
    seen = api.read_cells(week, "orders")
    at_limit(1_000)
    with pytest.raises(InputError, match="cannot be written"):
        api.edit_week(week, rows=[(seen, seen.headings, seen.rows[::-1])])
    assert {path.name: path.read_bytes() for path in week.iterdir()} == before

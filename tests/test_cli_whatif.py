"""`pressweek whatif` as people run it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.command_line import BAD_INPUT, DONE, NO_PLAN, SCENARIOS, pressweek

RUSH = "rush order=R1 client=Rush due={due} garment='black tee' shade=dark pieces=24 location=front inks=white \
blanks=in art=ok"


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The one-person week with its plan beside it."""
    folder = tmp_path_factory.mktemp("weeks") / "solo"
    shutil.copytree(SCENARIOS / "solo", folder)
    done = pressweek("plan", folder, "--seconds", 1, "--out", folder.parent / "plan")
    assert done.returncode == DONE, done.stderr
    return folder


def due_of(folder: Path) -> str:
    """A day of the week, from the plan file."""
    told = json.loads((folder.parent / "plan" / "plan.json").read_text(encoding="utf-8"))
    return str(sorted(one["must_leave"] for one in told["orders"])[-1])[:10]


def test_a_rush_is_answered_taken_and_taken_back(planned: Path, tmp_path: Path) -> None:
    """Report and streamed answers, then --take changes week and plan so that verify keeps, and --undo puts it back."""
    week, plan = tmp_path / "solo", tmp_path / "plan.json"
    shutil.copytree(planned, week)
    shutil.copy(planned.parent / "plan" / "plan.json", plan)
    before = plan.read_bytes()
    asked = (RUSH.format(due=due_of(planned)), "--plan", plan, "--seconds", 2)
    done = pressweek("whatif", week, *asked, "--take")
    assert done.returncode == DONE, done.stderr
    assert "R1 is ready" in done.stdout.splitlines()[0]
    assert "Answers side by side" in done.stdout
    assert "after  " in done.stderr
    assert "Taken: " in done.stderr
    assert max(len(line) for line in done.stdout.splitlines()[1:]) <= 100
    assert "\x1b" not in done.stdout
    verified = pressweek("verify", week, plan)
    assert verified.returncode == DONE, verified.stdout
    assert "other inputs" not in verified.stdout
    back = pressweek("whatif", week, "--undo")
    assert back.returncode == DONE, back.stderr
    assert plan.read_bytes() == before
    assert not (week / "taken.toml").exists()


def test_figures_for_other_programs(planned: Path) -> None:
    """--json prints one object and nothing else; with --each a list in the order in which they were asked."""
    plan = planned.parent / "plan" / "plan.json"
    done = pressweek("whatif", planned, RUSH.format(due=due_of(planned)), "--plan", plan, "--seconds", 1, "--json")
    assert done.returncode == DONE, done.stderr
    told = json.loads(done.stdout)
    assert told["orders"] == ["R1"]
    assert told["first_answer_seconds"] < 5
    order = json.loads(plan.read_text(encoding="utf-8"))["orders"][0]["order"]
    asked = [RUSH.format(due=due_of(planned)), f"cancel order={order}"]
    done = pressweek("whatif", planned, *asked, "--plan", plan, "--seconds", 1, "--json", "--each")
    assert done.returncode == DONE, done.stderr
    assert [one["what_if"] for one in json.loads(done.stdout)] == asked


def test_every_fault_is_told_at_once_and_nothing_happens(planned: Path) -> None:
    """Unknown orders, kinds, answers and options that do not go together: exit 2, one line each, no traceback."""
    done = pressweek("whatif", planned, "cancel order=nobody", "presout x=1")
    assert done.returncode == BAD_INPUT
    assert "what if:cancel.order: 'nobody' is no order of this week" in done.stderr
    assert "'presout' is no kind of what-if; did you mean press_out?" in done.stderr
    done = pressweek("whatif", planned, "--answer", "mine", "--take", "--each", "--dask", "tcp://x:1")
    assert done.returncode == BAD_INPUT
    assert done.stderr.count("whatif: ") == 3
    assert "Traceback" not in done.stderr
    assert pressweek("whatif", planned, "--undo").returncode == BAD_INPUT


def test_an_impossible_rush_says_why_and_leaves_with_one(planned: Path) -> None:
    """No plan in any answer: exit 1, and the first line says why."""
    words = RUSH.format(due=due_of(planned)) + " blanks=?"
    done = pressweek(
        "whatif", planned, words.replace("blanks=in ", ""), "--plan", planned.parent / "plan" / "plan.json"
    )
    assert done.returncode == NO_PLAN, done.stderr
    assert done.stdout.startswith("No: R1: waiting for garments: black tee")

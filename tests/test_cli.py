"""The command as people run it: a real process, its output, its exit code."""

import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from scheduler import api
from scheduler.api import weeks
from scheduler.errors import SolverError
from tests.command_line import (
    BAD_INPUT,
    DONE,
    ORDERS,
    OUR_FAULT,
    ROOT,
    SHOP,
    pressweek,
    run_here,
    write_week,
)
from tests.inputs.bad_input import BadInput
from tests.inputs.bad_inputs import BAD_INPUTS
from tests.inputs.weeks import good_files, write_folder, write_workbook
from tests.papers import small_shop


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small week without faults."""
    return write_week(tmp_path_factory.mktemp("weeks") / "plain")


def test_help_names_every_command() -> None:
    """`pressweek --help` lists check, plan, verify and demo."""
    done = pressweek("--help")
    assert done.returncode == DONE
    assert all(f"\n  {command} " in done.stdout for command in ("check", "plan", "verify", "demo"))


@pytest.mark.parametrize("arguments", [("nonsense",), ("plan",), ("plan", "x", "--seconds", "soon"), ("verify", "x")])
def test_bad_usage_is_told(arguments: tuple[str, ...]) -> None:
    """An unknown command, a missing argument or a number that is none exits with 2 and says what is wrong."""
    done = pressweek(*arguments)
    assert done.returncode == BAD_INPUT
    assert "Error" in done.stderr
    assert "Traceback" not in done.stderr


def test_no_command_shows_the_help() -> None:
    """`pressweek` alone shows what there is."""
    done = pressweek()
    assert "check" in done.stdout + done.stderr
    assert done.returncode == BAD_INPUT


@pytest.mark.parametrize(
    ("option", "value"), [("--seconds", "0"), ("--seconds", "-3"), ("--workers", "0"), ("--seed", "-1")]
)
def test_limits_that_make_no_sense_are_told(week: Path, option: str, value: str) -> None:
    """A search of no seconds, no workers or a negative seed exits with 2 and one sentence."""
    done = pressweek("plan", week, option, value)
    assert done.returncode == BAD_INPUT
    assert done.stderr.startswith("pressweek: ")
    assert len(done.stderr.splitlines()) == 1


def test_check_says_what_it_believes(week: Path) -> None:
    """A week without faults is told with what cannot be planned, each press's figures, and what is assumed."""
    done = pressweek("check", week)
    assert done.returncode == DONE, done.stderr
    assert done.stdout.startswith("Test Shop: 3 orders, 2 runs to plan, no faults.")
    figures, assumed = done.stdout.split("Assumed, because nothing else was said")
    assert "Does this look right?" in figures
    assert "white base and a flash assumed on dark garments (1 print)" in assumed
    assert "settings of the shop that nobody typed, by section: [" in assumed
    assert len(assumed.splitlines()) < 25
    assert "- 3 Tide & Co: waiting for garments: white tee" in done.stdout
    assert "Big Eight" in figures


def test_check_lists_every_assumption_when_asked(week: Path) -> None:
    """With --all each assumption has a line of its own, with its value and where it was made."""
    done = pressweek("check", week, "--all")
    assert done.returncode == DONE, done.stderr
    lines = done.stdout.split("Assumed, because nothing else was said")[1].splitlines()[2:]
    found = api.build_workload(api.read_week(week)).assumptions
    assert sum(line.startswith("- ") for line in lines) == len(found)
    assert "white base and a flash assumed on dark garments, 1 print (" in done.stdout


def test_a_workbook_is_a_week_too(tmp_path: Path) -> None:
    """The same week as one .xlsx file is checked and planned like its folder."""
    book = write_workbook(tmp_path / "week.xlsx", good_files())
    checked, planned = pressweek("check", book), pressweek("plan", book, "--seconds", 1, "--json")
    assert (checked.returncode, planned.returncode) == (DONE, DONE), checked.stdout + planned.stderr
    assert json.loads(planned.stdout)["violations"] == 0


def test_check_tells_every_fault_with_its_place(tmp_path: Path) -> None:
    """Faults of all files come at once, each on one line with file, row, column and what to write; the exit is 2."""
    orders = ORDERS.replace("2026-03-03", "31/02/2026").replace(",300,", ",many,")
    done = pressweek("check", write_week(tmp_path, orders=orders, shop=SHOP.replace("heads = 8", 'heads = "lots"')))
    assert done.returncode == BAD_INPUT
    lines = done.stdout.splitlines()
    assert any(line.startswith("orders.csv:2:due: ") and "; " in line for line in lines)
    assert any(line.startswith("orders.csv:3:pieces: ") for line in lines)
    assert any(line.startswith("shop.toml:") for line in lines)
    assert lines[-1] == "3 faults in 2 files; nothing was planned."


def test_plan_refuses_what_check_refuses(tmp_path: Path) -> None:
    """Planning a week with faults tells them on standard error and exits with 2."""
    done = pressweek("plan", write_week(tmp_path, orders=ORDERS.replace("2026-03-03", "soon")))
    assert done.returncode == BAD_INPUT
    assert "orders.csv:2:due: " in done.stderr
    assert done.stdout == ""


@pytest.mark.parametrize("command", ["check", "plan"])
def test_a_week_that_is_not_there_is_told(tmp_path: Path, command: str) -> None:
    """A folder that does not exist is one clear message and exit 2, not a traceback."""
    done = pressweek(command, tmp_path / "nowhere")
    assert done.returncode == BAD_INPUT
    assert "nowhere" in done.stdout + done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_that_cannot_be_written_is_told_first(week: Path, tmp_path: Path) -> None:
    """Where the folder cannot be made, one message says so before any searching, and the exit is 2."""
    (tmp_path / "plans").write_text("a file", encoding="utf-8")
    began = time.monotonic()
    done = pressweek("plan", week, "--seconds", 60, "--out", tmp_path / "plans")
    assert time.monotonic() - began < 30
    assert done.returncode == BAD_INPUT
    assert "cannot be written" in done.stderr.splitlines()[0]
    assert "Traceback" not in done.stderr


def test_the_late_mark_gives_way_where_it_cannot_be_shown(tmp_path: Path) -> None:
    """On a console without the triangle, late is ^ and the word, and letters it lacks become question marks."""
    late = write_week(tmp_path, orders=ORDERS.replace("2026-03-03", "2026-03-02").replace(",200,", ",3900,"))
    for encoding, mark in (("utf-8", "▲"), ("cp1252", "^")):
        done = subprocess.run(
            [sys.executable, "-m", "scheduler", "plan", str(late), "--seconds", "1"],
            cwd=ROOT,
            capture_output=True,
            env={**os.environ, "PYTHONIOENCODING": encoding},
            timeout=60,
        )
        assert done.returncode == DONE
        assert f"{mark} late " in done.stdout.decode(encoding)


@pytest.mark.parametrize("sign", ["\x1b", "\x9b", "\u202e"])
def test_a_client_cannot_steer_the_terminal(tmp_path: Path, sign: str) -> None:
    """Signs that steer a terminal or turn the writing round do not reach it, whether the week is refused or planned."""
    done = pressweek("plan", write_week(tmp_path, orders=ORDERS.replace("Harbour", f"{sign}Harbour")), "--seconds", 1)
    assert sign not in done.stdout + done.stderr
    assert done.returncode in (DONE, BAD_INPUT)
    assert ("Harbour Run Club" if done.returncode == DONE else "orders.csv:3") in done.stdout + done.stderr


@pytest.mark.parametrize("arguments", [("--help",), ("check",)])
def test_light_commands_load_no_solver(week: Path, arguments: tuple[str, ...]) -> None:
    """Help and check answer at once: neither loads the solver's library."""
    asked = "import atexit, sys; from scheduler import cli; sys.argv = sys.argv[1:]; "
    asked += "atexit.register(lambda: print(*sys.modules)); cli.main()"
    if arguments == ("check",):
        arguments = ("check", str(week))
    done = subprocess.run(
        [sys.executable, "-c", asked, "pressweek", *arguments], cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    loaded = done.stdout.split()
    assert "scheduler.cli" in loaded
    assert "ortools" not in loaded


def test_demo_plans_the_mid_size_week(tmp_path: Path) -> None:
    """`pressweek demo` plans the invented mid-size week and writes its papers."""
    done = pressweek("demo", "--seconds", 3, "--out", tmp_path)
    assert done.returncode == DONE, done.stderr
    assert "How good is this plan" in done.stdout
    assert (tmp_path / "plan.json").is_file()


def test_demo_without_its_week_says_so(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Installed without the scenarios beside it, the demo says where to get them."""
    monkeypatch.setattr(weeks, "DEMO_WEEK", "nowhere")
    assert run_here(monkeypatch, "demo") == BAD_INPUT
    assert "the demo week is not beside this program; run it from a checkout" in capsys.readouterr().err


# A sheet without orders can be checked, so that a new shop's settings can be looked at; it cannot be planned.
@pytest.mark.parametrize("bad", [one for one in BAD_INPUTS if one.name != "only headings"], ids=lambda bad: bad.name)
def test_every_bad_input_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path, bad: BadInput
) -> None:
    """Each known kind of bad input exits with 2 and tells exactly its messages, one line each."""
    assert run_here(monkeypatch, "check", str(write_folder(tmp_path, bad.files))) == BAD_INPUT
    told = capsys.readouterr()
    lines = told.out.splitlines()
    assert [line for line in lines if line in bad.expected] == list(bad.expected)
    assert re.fullmatch(r"\d+ faults? in \d+ files?; nothing was planned\.", lines[-1])
    assert told.err == ""


def test_our_own_fault_is_told_as_ours(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], week: Path
) -> None:
    """A plan of ours that breaks a rule ends with a traceback, an apology and exit 3."""

    def fail(*_: object) -> None:
        raise SolverError("a plan of ours breaks 1 rules")

    monkeypatch.setattr(api, "plan_week", fail)
    assert run_here(monkeypatch, "plan", str(week)) == OUR_FAULT
    told = capsys.readouterr().err
    assert "Traceback" in told
    assert "a plan of ours breaks 1 rules" in told
    assert "Please report it" in told


def test_a_plan_that_breaks_a_rule_never_leaves(monkeypatch: pytest.MonkeyPatch, week: Path) -> None:
    """The front door checks every plan: one that breaks a rule is our fault, whatever the search says."""
    from scheduler.domain.settings import SearchSettings
    from scheduler.search import engine
    from scheduler.search.result import SearchResult

    workload = api.build_workload(api.read_week(week))
    wrong = SearchResult(status="found", plan=small_shop.plan())
    monkeypatch.setattr(engine, "plan_week", lambda *_: wrong)
    with pytest.raises(SolverError, match="every_run_once"):
        api.plan_week(workload, SearchSettings(seconds=1))

"""The commands plan and verify as people run them: what they print and write, and what Ctrl-C keeps."""

import csv
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from scheduler import api
from tests.command_line import (
    BAD_INPUT,
    DONE,
    NO_PLAN,
    ORDERS,
    ROOT,
    SCENARIOS,
    pressweek,
    write_week,
)


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small week without faults."""
    return write_week(tmp_path_factory.mktemp("weeks") / "plain")


@pytest.fixture(scope="module")
def planned(week: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[subprocess.CompletedProcess[str], Path]:
    """What planning the small week prints, and the folder it fills."""
    out = tmp_path_factory.mktemp("out") / "plans"
    return pressweek("plan", week, "--seconds", 1, "--out", out), out


def test_plan_prints_what_a_planner_acts_on(planned: tuple[subprocess.CompletedProcess[str], Path]) -> None:
    """Late orders, what is not planned, the queue with reasons, orders, money and how good it is, in this order."""
    done, _ = planned
    assert done.returncode == DONE, done.stderr
    assert done.stdout.startswith(
        "Test Shop, planned from Mon 2 Mar 2026 07:00. 2 runs of 2 orders planned, none late; 1 order"
    )
    titles = [
        "Late orders",
        "Pencilled in, waiting for a yes",
        "Big Eight: queue",
        "When each order is ready",
        "What the plan costs",
        "How good is this plan",
    ]
    places = [done.stdout.index(f"\n{title}\n") for title in titles]
    assert places == sorted(places)
    assert done.stdout.count("    why: ") >= 2
    assert "EUR" in done.stdout


def test_plan_tells_its_progress_apart(planned: tuple[subprocess.CompletedProcess[str], Path]) -> None:
    """The best cost so far goes to standard error in plain words, never into the report."""
    done, _ = planned
    assert "the best plan so far costs " in done.stderr
    assert "best plan so far" not in done.stdout


def test_output_is_plain_when_piped(planned: tuple[subprocess.CompletedProcess[str], Path]) -> None:
    """Without a terminal no control code leaves, and no line is longer than 100 columns."""
    done, _ = planned
    for text in (done.stdout, done.stderr):
        assert "\x1b" not in text
        assert "\r" not in text
    assert max(len(line) for line in done.stdout.splitlines()) <= 100


def test_plan_fills_the_folder(planned: tuple[subprocess.CompletedProcess[str], Path]) -> None:
    """The folder gets the plan file, the tables and the papers for the floor, and the command says so."""
    done, out = planned
    names = {path.name for path in out.iterdir()}
    assert {
        "plan.json",
        "press-queue.csv",
        "screens.csv",
        "orders.csv",
        "press-auto-1-days.html",
        "press-auto-1-runs.html",
    } <= names
    assert not any(name.startswith(".") for name in names)
    *_, written, to_print = done.stdout.splitlines()
    assert written.rstrip(".").endswith("plan.json")
    assert to_print.startswith("To print: open press-auto-1-days.html")
    assert "press-auto-1.html" not in names, "one kind of page"
    with (out / "orders.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {row["order"]: row for row in csv.DictReader(file)}
    assert (rows["1"]["client"], rows["3"]["client"], rows["3"]["planned"]) == ("Café São", "Tide & Co", "pencilled in")


def test_verify_passes_what_plan_wrote(week: Path, planned: tuple[subprocess.CompletedProcess[str], Path]) -> None:
    """The plan file of `plan` keeps every rule, and `verify` exits with 0."""
    done = pressweek("verify", week, planned[1] / "plan.json")
    assert (done.returncode, done.stderr) == (DONE, "")
    assert done.stdout == f"The plan keeps all {api.rule_count()} rules.\n"


def _changed_plan(
    planned: tuple[subprocess.CompletedProcess[str], Path], folder: Path
) -> tuple[Path, dict[str, object]]:
    path = folder / "plan.json"
    return path, json.loads((planned[1] / "plan.json").read_text(encoding="utf-8"))


def test_verify_names_the_broken_rule(
    week: Path, planned: tuple[subprocess.CompletedProcess[str], Path], tmp_path: Path
) -> None:
    """A plan whose set-up was shortened by hand is told by the rule's name, and the exit is 1."""
    path, document = _changed_plan(planned, tmp_path)
    for item in document["activities"]:  # type: ignore[attr-defined]
        if item["kind"] == "set-up":
            item["work_min"] += 1
    path.write_text(json.dumps(document), encoding="utf-8")
    done = pressweek("verify", week, path)
    assert done.returncode == NO_PLAN
    assert "set_up_follows_the_run_before: " in done.stdout
    assert f" of {api.rule_count()} rules, in " in done.stdout.splitlines()[-1]


def test_verify_says_when_the_file_lies_about_money(
    week: Path, planned: tuple[subprocess.CompletedProcess[str], Path], tmp_path: Path
) -> None:
    """A cost in the file that is not the plan's cost is told."""
    path, document = _changed_plan(planned, tmp_path)
    document["cost_cents"] = 1
    path.write_text(json.dumps(document), encoding="utf-8")
    done = pressweek("verify", week, path)
    assert "But the file says it costs 0.01; it costs " in done.stdout


def test_verify_says_when_the_inputs_have_changed(
    planned: tuple[subprocess.CompletedProcess[str], Path], tmp_path: Path
) -> None:
    """A plan of other inputs is told as such in one sentence and still checked."""
    other = write_week(tmp_path / "other", orders=ORDERS.replace(",200,", ",900,"))
    done = pressweek("verify", other, planned[1] / "plan.json")
    assert done.stdout.startswith("This plan was made from other inputs")
    assert "print_takes_its_time: " in done.stdout
    assert done.returncode == NO_PLAN


def test_verify_refuses_what_is_no_plan(week: Path, tmp_path: Path) -> None:
    """A file that is no plan is a fault of the input: exit 2."""
    (tmp_path / "plan.json").write_text("{}", encoding="utf-8")
    done = pressweek("verify", week, tmp_path / "plan.json")
    assert done.returncode == BAD_INPUT
    assert "plan.json: is not a plan file of this program" in done.stderr


def test_json_is_one_object_with_every_figure(week: Path) -> None:
    """`--json` prints one object with the plan's figures and the same ones for the due-date list."""
    done = pressweek("plan", week, "--seconds", 1, "--seed", 5, "--json")
    assert done.returncode == DONE
    told = json.loads(done.stdout)
    figures = {"cost", "cost_terms", "runs", "late_orders", "late_days", "ink_changes", "screens_burned", "reburns"}
    assert figures | {"violations"} <= set(told)
    assert set(told["baseline"]) == figures | {"violations"}
    assert {"status", "lower_bound", "gap", "wall_seconds", "first_plan_seconds", "not_planned"} <= set(told)
    assert (told["seed"], told["runs"], told["violations"], told["late_orders"]) == (5, 2, 0, 0)
    assert sum(told["cost_terms"].values()) == told["cost"]
    assert told["lower_bound"] <= told["cost"] <= told["baseline"]["cost"]
    assert [one["order"] for one in told["not_planned"]] == ["3"]


def test_a_week_where_everything_waits_has_no_plan(tmp_path: Path) -> None:
    """Where no order can be planned, the report says what is pencilled in and the exit is 1."""
    done = pressweek("plan", write_week(tmp_path, orders=ORDERS.replace(",in,", ",?,")), "--seconds", 1)
    assert done.returncode == NO_PLAN
    assert "Pencilled in, waiting for a yes" in done.stdout


def interrupt(process: subprocess.Popen[str]) -> None:
    """Ctrl-C as a terminal sends it: to the command and to every process it has started."""
    if os.name == "nt":
        process.send_signal(signal.CTRL_BREAK_EVENT)  # type: ignore[attr-defined,unused-ignore]
    else:
        os.killpg(process.pid, signal.SIGINT)


@pytest.fixture(params=["solo", "midsize"])
def long_search(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], Path, Path]]:
    """A search that would take minutes, in a process of its own, once it has told of a first plan."""
    week, out = SCENARIOS / request.param, tmp_path / "plans"
    process = subprocess.Popen(
        [sys.executable, "-m", "scheduler", "plan", str(week), "--seconds", "100", "--out", str(out)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        start_new_session=True,
        creationflags=subprocess.CREATE_NEW_PROCESS_GROUP if os.name == "nt" else 0,  # type: ignore[attr-defined,unused-ignore]
    )
    assert process.stderr is not None
    assert "best plan so far" in process.stderr.readline()
    yield process, week, out
    process.kill()
    process.communicate()


def test_ctrl_c_keeps_the_best_plan(long_search: tuple[subprocess.Popen[str], Path, Path]) -> None:
    """Interrupted in the middle, the command prints and writes the best plan so far, says so, and exits with 0."""
    process, week, out = long_search
    time.sleep(6)  # a small week is with the exact model by then, in a process of its own
    assert process.poll() is None
    interrupt(process)
    began = time.monotonic()
    told, complaints = process.communicate(timeout=60)
    assert time.monotonic() - began < 30
    assert process.returncode == DONE, complaints
    assert "Stopped: the best plan so far is kept." in complaints
    assert "Traceback" not in complaints
    assert "How good is this plan" in told
    done = pressweek("verify", week, out / "plan.json")
    assert (done.returncode, done.stderr) == (DONE, "")


def test_a_reader_who_leaves_early_loses_nothing(week: Path, tmp_path: Path) -> None:
    """Piped into a pager that is quit after one line, the plan is written all the same."""
    command = [sys.executable, "-m", "scheduler", "plan", str(week), "--seconds", "1", "--out", str(tmp_path / "plans")]
    running = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, bufsize=1)
    assert running.stdout is not None
    assert running.stderr is not None
    assert running.stdout.readline()
    running.stdout.close()
    complaints = running.stderr.read()
    assert running.wait(timeout=60) == DONE, complaints
    assert "Traceback" not in complaints
    assert pressweek("verify", week, tmp_path / "plans" / "plan.json").returncode == DONE
    assert list((tmp_path / "plans").glob("press-*-days.html"))

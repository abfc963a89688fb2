"""The command as people run it: a real process, its output, its exit code."""

import csv
import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from scheduler import api, cli
from scheduler.api import weeks
from scheduler.errors import SolverError
from tests.inputs.bad_input import BadInput
from tests.inputs.bad_inputs import BAD_INPUTS
from tests.inputs.weeks import good_files, write_folder, write_workbook
from tests.papers import small_shop

ROOT = Path(__file__).resolve().parent.parent
SCENARIOS = ROOT / "scenarios"
DONE, NO_PLAN, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3

SHOP = """\
name = "Test Shop"
zone = "Europe/Lisbon"
plan_from = "2026-03-02 07:00"
days_ahead = 7

[hours]
mon-fri = "07:00-12:00, 12:30-16:00"

[[press]]
id = "auto-1"
name = "Big Eight"
kind = "automatic"
heads = 8
flashes = 2
stated_rate = "400/h"
set_up_crew = "print 1"
run_crew = "print 1"
set_up = { mount = "4 min", load = "2 min", card = "1 min", clean_dark = "6 min", strike_off = "6 min" }

[[person]]
id = "ana"
name = "Ana"
roles = "print, pack"

[finishing]
crew = "pack 1"

[money]
currency = "EUR"
"""
ORDERS = """\
order,client,due,garment,shade,pieces,location,inks,blanks,art,firm
1,Café São,2026-03-03,black tee,dark,200,front,"white, red",in,ok,firm
2,Harbour Run Club,2026-03-04,white tee,light,300,front,black,in,ok,normal
3,Tide & Co,2026-03-05,white tee,light,50,back,red,?,ok,easy
"""


def pressweek(*arguments: object, environment: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "scheduler", *map(str, arguments)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **(environment or {})},
        timeout=110,
    )


def write_week(folder: Path, *, shop: str = SHOP, orders: str = ORDERS) -> Path:
    """A week's folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "shop.toml").write_text(shop, encoding="utf-8")
    (folder / "orders.csv").write_text(orders, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small week without faults."""
    return write_week(tmp_path_factory.mktemp("weeks") / "plain")


@pytest.fixture(scope="module")
def planned(week: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[subprocess.CompletedProcess[str], Path]:
    """What planning the small week prints, and the folder it fills."""
    out = tmp_path_factory.mktemp("out") / "plans"
    return pressweek("plan", week, "--seconds", 1, "--out", out), out


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


def run_here(monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    """The command in this process, for faults that cannot be planted in another; its exit code."""
    monkeypatch.setattr(sys, "argv", ["pressweek", *arguments])
    with pytest.raises(SystemExit) as left:
        cli.main()
    return int(left.value.code or 0)


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

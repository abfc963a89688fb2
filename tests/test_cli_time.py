"""`pressweek time`, and whom to ring in `pressweek plan`, as people run them."""

import csv
import json
from pathlib import Path

import pytest

from tests.command_line import BAD_INPUT, DONE, NO_PLAN, ORDERS, SCENARIOS, pressweek, write_week


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two orders and one that waits, with the planner's own column of places: the second order first."""
    rows = ORDERS.splitlines()
    places = ["place", "2", "1", "3"]
    orders = "\n".join(f"{row},{place}" for row, place in zip(rows, places, strict=True))
    return write_week(tmp_path_factory.mktemp("weeks") / "own", orders=f"{orders}\n")


def figures(week: Path, *arguments: object) -> dict[str, object]:
    """What `time --json` prints."""
    done = pressweek("time", week, "--seconds", 1, "--json", *arguments)
    assert done.returncode == DONE, done.stderr
    told: dict[str, object] = json.loads(done.stdout)
    return told


def test_a_column_is_timed_beside_ours(week: Path) -> None:
    """One sentence, how the list was read, one table, the waits; lines fit a page and hold nothing that steers."""
    done = pressweek("time", week, "--order-as", "place", "--seconds", 1)
    assert done.returncode == DONE, done.stderr
    assert done.stdout.startswith("Yours: none late; ")
    assert "3: waiting for garments: white tee; it is left out." in done.stdout
    titles = ["How your order was read", "Yours and ours", "Where presses wait, and for what"]
    places = [done.stdout.index(f"\n{title}\n") for title in titles if title in done.stdout]
    assert places == sorted(places)
    assert "together, EUR" in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 100
    assert "\x1b" not in done.stdout


def test_the_queue_is_the_list_and_ours_is_never_dearer(week: Path, tmp_path: Path) -> None:
    """A column, a file and the rows as they stand give the queues they say; both plans break no rule."""
    (tmp_path / "queue.csv").write_text("order,location,press\n2,front,Big Eight\n", encoding="utf-8")
    for arguments, queue, not_named in (
        (("--order-as", "place"), ["2 front light", "1 front dark"], []),
        (("--order-as", tmp_path / "queue.csv"), ["2 front light", "1 front dark"], ["1 front dark"]),
        ((), ["1 front dark", "2 front light"], []),
    ):
        told = figures(week, *arguments)
        yours, ours = told["yours"], told["ours"]
        assert isinstance(yours, dict)
        assert isinstance(ours, dict)
        assert yours["queues"] == {"auto-1": queue}
        assert (yours["violations"], ours["violations"]) == (0, 0)
        assert ours["cost"] <= yours["cost"]
        assert sum(yours["cost_terms"].values()) == yours["cost"]
        assert told["not_named"] == not_named


def test_faults_of_a_list_are_told(week: Path, tmp_path: Path) -> None:
    """A name that is neither file nor column, and a list with an unknown order, exit with 2 and say what to write."""
    done = pressweek("time", week, "--order-as", "plcae")
    assert done.returncode == BAD_INPUT
    assert "'plcae' is neither a file nor a column here; did you mean place?" in done.stderr
    (tmp_path / "queue.csv").write_text("order\n77\n", encoding="utf-8")
    done = pressweek("time", week, "--order-as", tmp_path / "queue.csv")
    assert done.returncode == BAD_INPUT
    assert "queue.csv:2:order: '77' is no order of this week" in done.stderr
    assert (done.stdout, "Traceback" in done.stderr) == ("", False)


def test_a_list_that_makes_no_plan_exits_with_one(tmp_path: Path) -> None:
    """Where nothing fits the days there is one sentence with the reason."""
    long = write_week(tmp_path, orders=ORDERS.replace(",200,", ",9000,").replace(",300,", ",9000,"))
    done = pressweek("time", long, "--seconds", 1)
    assert done.returncode == NO_PLAN
    assert done.stdout.startswith("Your order makes no plan: ")


def test_the_solo_week_in_its_sheets_order() -> None:
    """The one-person shop's sheet as it stands is late with three orders; ours with none, and one change saves most."""
    told = figures(SCENARIOS / "solo")
    yours, ours, changes = told["yours"], told["ours"], told["changes"]
    assert isinstance(yours, dict)
    assert isinstance(ours, dict)
    assert isinstance(changes, list)
    assert (yours["late_orders"], ours["late_orders"]) == (3, 0)
    assert str(told["sentence"]).startswith("Yours: 3 late; ours: none late")
    assert changes[0]["saves"] > 0


def test_the_plan_says_whom_to_ring(week: Path, tmp_path: Path) -> None:
    """The waiting order is among the late and the queues with its latest yes, and in chase.csv."""
    done = pressweek("plan", week, "--seconds", 1, "--out", tmp_path)
    assert done.returncode == DONE, done.stderr
    assert (
        done.stdout.index("\nPencilled in, waiting for a yes\n")
        < done.stdout.index("\nWhom to ring\n")
        < done.stdout.index(": queue\n")
    )
    with (tmp_path / "chase.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["order"], row["what is missing"], row["expected"]) for row in rows] == [
        ("3", "garments: 50 white tee", "?")
    ]
    assert rows[0]["latest yes"].startswith("2026-03-05 1")
    told = json.loads(pressweek("plan", week, "--seconds", 1, "--json").stdout)
    assert told["chase"][0]["order"] == "3"
    assert told["chase"][0]["latest_yes"].startswith("2026-03-05T1")


def test_a_week_without_anything_missing_has_nobody_to_ring(tmp_path: Path) -> None:
    """No table and no file where everything is there."""
    whole = write_week(tmp_path / "week", orders=ORDERS.replace(",?,", ",in,"))
    done = pressweek("plan", whole, "--seconds", 1, "--out", tmp_path / "plans")
    assert done.returncode == DONE, done.stderr
    assert "Whom to ring" not in done.stdout
    assert not (tmp_path / "plans" / "chase.csv").exists()

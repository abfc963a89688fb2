"""A stranger's path: nothing but the README's commands, from an empty folder to a queue that can be printed.

Keystrokes are counted, not timed: every character and every Enter that goes into the program, and for the sheet every
character of a cell and one key to leave it, as in any spreadsheet. A slow typist makes 100 a minute.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SHOP = "Copper Lane Prints"
SLOW_TYPIST = 100
FIFTEEN_MIN = 15

ROWS = """
2101|Rosa's Diner|Dec 2|black tee|dark|48|front|white|in|ok
2102|Elm Street FC|Fri 4 Dec|navy tee|dark|60|front|white, gold|in|ok
2102|Elm Street FC|Fri 4 Dec|navy tee|dark|60|back|white|in|ok
2103|Bean Counters|2026-12-01|natural tote||100|front|brown|yes|approved
2104|Vera Yoga|Dec 4|white tee||36|left chest|teal|28 Nov|ok
2105|Little Acorns School|Dec 4|red tee||72|front|white|in|?
2106|The Kettles|Dec 2|black hoodie||24|back|white / red|in|yes
2107|Mo's Garage|Dec 3|grey tee|light|50|front|black|in stock|ok
2108|Pilates Hub|Dec 1|white tee||24|front|pink|in|ok
2109|Run Club|Dec 5|lime tee|light|80|front|black, white|Nov 27|ok
2110|Harbour Cafe|Dec 7|navy apron||30|front|white|in|ok
2111|Chess Society|Dec 8|black tee||40|front|white|?|ok
"""
"""Twelve rows as people type them: days without a year, words for in and ok, shade left to the garment's colour."""

PLAN_FROM = "2026-11-26 08:00"


def _typed(folder: Path, *command: str, keys: str = "") -> tuple[int, str]:
    """Run a command in a folder: how many keys it took, and what it said. keys: what is typed while it runs."""
    done = subprocess.run(
        [sys.executable, "-m", "scheduler", *command],
        input=keys,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return len("pressweek " + " ".join(command)) + 1 + len(keys), done.stdout


@pytest.fixture(scope="module")
def path_walked(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, int]]:
    """The folder at the end of the path, and the keys each step took."""
    folder = tmp_path_factory.mktemp("stranger")
    enter = "\n"
    # The planning moment is typed so that the dates of the sheet stay near it, whatever day the test is run on.
    answers = f"{SHOP}\n{enter * 3}{PLAN_FROM}\n{enter * 14}"
    keys = {"new": _typed(folder, "new", "my-week", keys=answers)[0]}
    rows = [line.split("|") for line in ROWS.strip().splitlines()]
    with (folder / "my-week" / "orders.csv").open("a", encoding="utf-8", newline="") as sheet:
        csv.writer(sheet).writerows(rows)
    keys["sheet"] = sum(len(cell) + 1 for row in rows for cell in row)
    keys["check"] = _typed(folder, "check", "my-week")[0]
    keys["plan"], told = _typed(folder, "plan", "my-week", "--out", "my-plan", "--seconds", "2")
    (folder / "told.txt").write_text(told, encoding="utf-8")
    return folder, keys


def test_twelve_rows_become_a_queue_on_paper(path_walked: tuple[Path, dict[str, int]]) -> None:
    """The plan names every order, says which pages to print, and the page of the press holds the queue."""
    folder, _ = path_walked
    told = (folder / "told.txt").read_text(encoding="utf-8")
    assert "To print: open press-manual-days.html" in told
    page = (folder / "my-plan" / "press-manual-days.html").read_text(encoding="utf-8")
    for number in range(2101, 2112):
        assert f"{number}" in page
    assert page.count("pencilled in, yes by") == 2


def test_the_path_is_short(path_walked: tuple[Path, dict[str, int]]) -> None:
    """Without the rows themselves it takes fewer than 200 keys, with them fewer than 1,100: eleven minutes of slow
    typing, and so less than fifteen with the reading.
    """
    _, keys = path_walked
    print(keys, sum(keys.values()))
    assert sum(keys.values()) - keys["sheet"] < 200
    assert sum(keys.values()) < 1_100 < SLOW_TYPIST * FIFTEEN_MIN

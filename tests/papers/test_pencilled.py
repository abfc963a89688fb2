"""Pencilled runs on paper and in the plan file: a word beside them, and no cart or burn for them."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.plan import Pencilled
from scheduler.domain.week import NotPlanned
from scheduler.inputs.plan_document import PlanFacts
from scheduler.inputs.plan_files import read_plan, write_plan
from scheduler.papers import csv_files
from scheduler.papers.summary import opening_line, plan_sections
from scheduler.papers.tables import order_rows, press_queue, staging_rows
from scheduler.review.measures import measure
from tests import builders as b

WEEK = b.week(
    runs=[b.run("r1"), b.run("r2")],
    orders=[b.order_due("or1", ["r1"]), b.order_due("or2", ["r2"], client="Ann & Co")],
    digest="the same",
)
YES = (
    LatestYes(order_id="or2", latest_tau=440, promised_tau=500),
    LatestYes(order_id="or3", latest_tau=None, why="no place for it within the planned days"),
)
PLAN = replace(
    b.plan(b.planned_run("r1")),
    pencilled=Pencilled(
        runs=(b.planned_run("r2", at=440, reason="pencilled in as late as keeps its date"),),
        orders=(b.planned_order("or2", packed=500),),
        yes=YES,
    ),
)
SAID = "pencilled in, yes by Mon 2 Mar 15:20"


def test_the_queue_marks_them_with_words() -> None:
    """In the queue and its table a pencilled run says by when it needs its yes; a firm one nothing."""
    firm, pencilled = press_queue(WEEK, PLAN)
    assert (firm.number, firm.pencilled) == (1, "")
    assert (pencilled.number, pencilled.run_id, pencilled.pencilled) == (2, "r2", SAID)
    lines = list(csv.DictReader(io.StringIO(csv_files.press_queue_csv((firm, pencilled)), newline="")))
    assert [line["pencilled"] for line in lines] == ["", SAID]


def test_a_week_that_does_not_know_them_shows_the_firm_ones() -> None:
    """Without the waiting order in the week its runs are left out of the queue."""
    firm = replace(WEEK, runs=WEEK.runs[:1], orders=WEEK.orders[:1])
    assert [row.run_id for row in press_queue(firm, PLAN)] == ["r1"]


def test_late_anyway_is_said() -> None:
    """Where no place keeps the date the words say how late it is even with the yes."""
    late = replace(PLAN, pencilled=replace(PLAN.pencilled, yes=(replace(YES[0], missed=2),)))
    assert press_queue(WEEK, late)[1].pencilled == f"{SAID}, 2 days late even then"


def test_the_report_counts_them_by_themselves() -> None:
    """Orders and report call them pencilled in; cost, measures and carts do not know them."""
    rows = {row.order_id: row for row in order_rows(WEEK, PLAN)}
    assert (rows["or1"].state, rows["or2"].state, rows["or2"].why) == ("planned", "pencilled in", SAID)
    assert "; 1 order pencilled in" in opening_line(WEEK, PLAN)
    assert "Pencilled in, waiting for a yes" in [part.title for part in plan_sections(WEEK, PLAN)]
    assert measure(WEEK, PLAN).cost == measure(WEEK, replace(PLAN, pencilled=Pencilled())).cost
    assert staging_rows(WEEK, PLAN) == ()


def test_the_plan_file_gives_them_back(tmp_path: Path) -> None:
    """Runs, orders and yes are read back as written; a file without them has none."""
    write_plan(tmp_path / "plan.json", WEEK, PLAN, PlanFacts(digest="the same"))
    assert read_plan(tmp_path / "plan.json", WEEK)[0] == PLAN
    text = (tmp_path / "plan.json").read_text(encoding="utf-8").replace('"pencilled"', '"of later versions"')
    (tmp_path / "older.json").write_text(text, encoding="utf-8")
    assert read_plan(tmp_path / "older.json", WEEK)[0] == replace(PLAN, pencilled=Pencilled())


def test_an_order_without_a_place_says_so_among_those_not_planned() -> None:
    """It waits, and nobody found a place for it: both are told; one nobody looked for tells only what it waits for."""
    waits = (
        NotPlanned(order_id="or3", run_id=None, reasons=("waits for art",), kind="waiting"),
        NotPlanned(order_id="or4", run_id=None, reasons=("waits for art",), kind="waiting"),
    )
    rows = order_rows(replace(WEEK, not_planned=waits), PLAN)
    assert [row.why for row in rows if row.order_id in ("or3", "or4")] == [
        "waits for art; not pencilled in: no place for it within the planned days",
        "waits for art",
    ]

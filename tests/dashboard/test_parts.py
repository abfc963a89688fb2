"""What the pages say and hand out, looked at without a page."""

from __future__ import annotations

import io
import zipfile
from datetime import datetime
from pathlib import Path

import openpyxl
import pytest

from dashboard import state
from dashboard.parts import editing, plan_line, shipping, side_by_side, take_away, words
from scheduler import api
from scheduler.errors import Problem
from tests.dashboard.weeks import planned


@pytest.fixture
def seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> state.Current:
    """The demo week with its plan, as a page sees it."""
    monkeypatch.setenv(state.WEEK_VARIABLE, str(planned("midsize", tmp_path)))
    return state.current()


def test_money_counts_and_moments_read_as_people_write_them() -> None:
    """One thing is singular, none is "no", and somebody's own signs do not format a line."""
    assert words.money(118_600, "USD") == "1,186.00 USD"
    assert words.money(-50, "") == "-0.50"
    assert [words.counted(count, "order") for count in (0, 1, 2)] == ["no orders", "1 order", "2 orders"]
    assert words.moment(datetime(2026, 4, 4, 7, 5)) == "Sat 4 Apr 07:05"
    assert words.listed(["a", "b", "c"]) == "a, b and c"
    assert words.plain("*A* [b](c) $d$") == r"\*A\* \[b\]\(c\) \$d\$"


def test_a_plan_beside_itself_changes_nothing(seen: state.Current) -> None:
    """The same plan on both sides costs the same, moves nothing and is late alike."""
    assert side_by_side.opening(seen, seen) == "The new plan costs the same, with as many orders late; no runs move."
    assert side_by_side.moved_rows(seen, seen) == []
    rows = side_by_side.figures(seen, seen)
    assert all(row["in use now"] == row["new"] for row in rows)
    assert seen.measures is not None
    assert rows[-1]["new"] == words.money(seen.measures.cost.total, "USD")


def test_a_kept_plan_is_read_on_the_week_it_was_made_from(seen: state.Current) -> None:
    """Read from its folder, the plan in use is the same plan; without one in it there is none."""
    assert seen.plan_folder is not None
    again = state.of_folder(seen.plan_folder)
    assert again is not None
    assert again.plan == seen.plan
    assert state.of_folder(seen.plan_folder / "made-from") is None


def test_every_order_has_its_answer(seen: state.Current) -> None:
    """On time or late by the same reckoning as everywhere, or waiting with what it waits for."""
    assert seen.measures is not None
    late = {one.order_id for one in seen.measures.late_orders}
    for order in seen.inputs.orders:
        answer = shipping.answer(seen, order.order_id)
        assert ("▲ LATE" in answer.beside) == (order.order_id in late)
        assert answer.runs or answer.waits
    waiting = shipping.answer(seen, "4126")
    assert waiting.sentence == "Nothing can be said yet."
    assert "waiting for art" in waiting.waits[0]


def test_the_plan_line_counts(seen: state.Current) -> None:
    """It names the day and time the plan was made, and nothing else while nothing changed."""
    assert seen.made_at is not None
    assert plan_line.plan_line_text(seen) == f"Plan of {seen.made_at:%a %H:%M}"


def test_the_workbook_holds_every_list_as_text(seen: state.Current) -> None:
    """One sheet per list, each with the list's own cells, and no cell that a spreadsheet would run."""
    assert seen.plan_folder is not None
    book = openpyxl.load_workbook(io.BytesIO(take_away.workbook(seen.plan_folder)))
    lists = [path for path in take_away.files(seen.plan_folder) if path.suffix == ".csv"]
    assert book.sheetnames == [path.stem for path in lists]
    queue = book["press-queue"]
    assert queue.max_row == 52
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


def test_what_a_client_typed_never_runs(tmp_path: Path) -> None:
    """A name that looks like a formula stands in the workbook as the words it is."""
    (tmp_path / "orders.csv").write_text('\ufefforder,client\n4102,"\'=1+1"\n4103,=2+2\n', encoding="utf-8")
    sheet = openpyxl.load_workbook(io.BytesIO(take_away.workbook(tmp_path)))["orders"]
    assert [(sheet.cell(row, 2).data_type, sheet.cell(row, 2).value) for row in (2, 3)] == [
        ("s", "'=1+1"),
        ("s", "=2+2"),
    ]


def test_the_archive_holds_every_file(seen: state.Current) -> None:
    """Pages, lists and the plan are all in it, as they stand in the folder."""
    assert seen.plan_folder is not None
    with zipfile.ZipFile(io.BytesIO(take_away.archive(seen.plan_folder))) as packed:
        assert "plan.json" in packed.namelist()
        assert len(packed.namelist()) == len(take_away.files(seen.plan_folder))
        assert packed.read("plan.json") == (seen.plan_folder / "plan.json").read_bytes()


def test_the_floor_gets_all_its_papers_in_one_file(seen: state.Current) -> None:
    """The archive for the floor holds every paper as it is, in the units that were asked for."""
    papers = seen.papers("metric")
    assert seen.papers("metric") is papers
    with zipfile.ZipFile(io.BytesIO(take_away.floor_archive(papers))) as packed:
        assert packed.namelist() == [one.name for one in papers]
        assert "160 °C (320 °F)" in packed.read("press-auto-1-runs.html").decode()
    assert all(take_away.kind_of(one.name) for one in papers)
    us = {one.name: one.content.decode() for one in seen.papers("US") if one.is_page}
    assert "320 °F (160 °C)" in us["press-auto-1-runs.html"]


def test_faults_stand_at_their_rows() -> None:
    """A fault is told at the place of its row, whatever line that is; those of other files are not."""

    def fault(file: str, row: int | None, message: str) -> Problem:
        return Problem(file=file, row=row, column="pieces", code="x", message=message, hint="write 144")

    problems = [fault("orders.csv", 5, "a"), fault("orders.csv", 5, "b"), fault("shop.toml", 5, "c")]
    problems.append(fault("orders.csv", None, "d"))
    assert editing.wrong_by_row(problems, "orders.csv", [2, 5, 9]) == (
        (1, "pieces: a; write 144 / pieces: b; write 144"),
    )


def test_rows_without_a_word_are_left_out(tmp_path: Path) -> None:
    """An empty row at the end of the editor is no order; texts lose blanks around them."""
    frame = editing.as_frame(
        editing.Draft(
            seen=api.read_cells(tmp_path, "orders"),
            headings=("order", "client"),
            rows=(("1", " A "), ("", "")),
            wrong=((0, "pieces: x"),),
        )
    )
    assert list(frame.columns) == [editing.WRONG, "order", "client"]
    assert editing.rows_of(frame, ("order", "client")) == (("1", "A"),)


def test_the_day_to_say_stands_with_its_odds(seen: state.Current) -> None:
    """Every planned order has a day and rising odds in twentieths; one that waits has none."""
    for order in seen.week.orders:
        sure = shipping.how_sure(seen, order.order_id)
        assert sure is not None
        assert "The promised pick-up is kept in" in sure[0]
        counts = [int(row[1]) for row in sure[1].rows]
        assert counts == sorted(counts)
    assert shipping.how_sure(seen, "nobody's") is None

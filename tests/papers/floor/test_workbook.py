"""The workbook holds the same tables as the pages, numbers as numbers, and nothing typed ever runs."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime

import openpyxl
import pytest

from scheduler.papers.floor.checks import checks_due
from scheduler.papers.floor.files import WORKBOOK, Paper, floor_lists, floor_papers
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.pull_lists import pulls
from scheduler.papers.floor.sheet import Sheet, Table
from scheduler.papers.floor.workbook import LONGEST_TEXT, workbook
from tests.papers.floor.grounds import NAMES, ground, ground_of, papers, wall

AT = datetime(2026, 4, 13, 14, 30)


def book_of(of: Ground) -> openpyxl.Workbook:
    """The workbook among a week's papers, opened again."""
    return opened(floor_papers(of))


def opened(made: tuple[Paper, ...]) -> openpyxl.Workbook:
    """The workbook among these papers."""
    content = next(one.content for one in made if one.name == WORKBOOK)
    return openpyxl.load_workbook(io.BytesIO(content))


@pytest.mark.parametrize("name", NAMES)
def test_the_workbook_has_the_tables_of_the_pages(name: str) -> None:
    """Each kind of table is a sheet with as many rows and the same cells as on paper, pages named in front."""
    of = ground(name)
    book = opened(papers(name))
    wanted: dict[str, list[tuple[object, ...]]] = {}
    for _, sheets in floor_lists(of).values():
        for sheet in sheets:
            for table in sheet.tables:
                if table.rows:
                    wanted.setdefault(table.kind, []).extend(table.rows)
    for kind, rows in wanted.items():
        found = list(book[kind].iter_rows(min_row=2, values_only=True))
        plain = [tuple(_bare(cell) for cell in row) for row in rows]
        assert [tuple(cell or None for cell in row[1 : 1 + len(plain[0])]) for row in found] == plain


def _bare(cell: object) -> object:
    """A cell as a spreadsheet holds it: moments of the shop's own clock, nothing for an empty text."""
    return (cell.replace(tzinfo=None) if isinstance(cell, datetime) else cell) or None


def test_pieces_are_numbers() -> None:
    """Pieces can be summed in the spreadsheet, and their sum is that of the garments."""
    of = ground("midsize")
    sheet = opened(papers("midsize"))["garments"]
    at = [cell.value for cell in sheet[1]].index("pieces")
    found = [row[at] for row in sheet.iter_rows(min_row=2, values_only=True)]
    assert sum(found) == sum(one.pieces for one in pulls(of))


@pytest.mark.parametrize("name", NAMES)
def test_the_press_sheets_are_tables_too(name: str) -> None:
    """Runs, their garments, heads, flashes and checks stand in the workbook as they do on the press sheets."""
    of, book = ground(name), opened(papers(name))

    def column(sheet: str, heading: str) -> list[object]:
        at = [cell.value for cell in book[sheet][1]].index(heading)
        return [row[at] for row in book[sheet].iter_rows(min_row=2, values_only=True)]

    runs = [of.week.run[one.run_id] for press in of.week.presses for one in of.plan.queue.get(press.press_id, ())]
    assert column("runs", "pieces") == [sum(part.pieces for part in run.parts) for run in runs]
    assert column("runs", "set up at") == [
        wall(of.week.clock, of.plan.run[run.run_id].set_up_start_tau).replace(tzinfo=None) for run in runs
    ]
    assert column("runs, garments", "pieces") == [part.pieces for run in runs for part in run.parts]
    stacks = [run.on_press[of.plan.run[run.run_id].press_id].stack for run in runs]
    heads = [number for number in column("runs, heads", "print order") if number is not None]
    assert heads == [at for stack in stacks for at in range(1, len(stack.heads) + 1)]
    assert column("runs, heads", "prints").count("flash") == sum(len(set(stack.flash_after)) for stack in stacks)
    due = [at for run in runs for at in checks_due(of.week, of.plan, of.plan.run[run.run_id])]
    assert column("runs, checks", "due") == [at.replace(tzinfo=None) for at in due]


STARTS = ("=", "+", "-", "@", "\t", "\r")
"""Signs with which a spreadsheet takes a text for a formula."""


def test_cells_that_look_like_formulas_stay_text() -> None:
    """Clients called like formulas are text in every sheet, marked as such for whoever edits the cell."""
    solo = ground("solo")
    orders = tuple(
        replace(order, client=f"{STARTS[at % len(STARTS)]}HYPERLINK({at})")
        for at, order in enumerate(solo.inputs.orders)
    )
    assert len(orders) >= len(STARTS)
    book = book_of(ground_of(replace(solo.inputs, orders=orders), solo.plan))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    named = [cell for cell in cells if "HYPERLINK" in str(cell.value)]
    assert all(cell.data_type == "s" for cell in named)
    first = [cell for cell in named if str(cell.value)[0] in "=+-@"]
    assert {str(cell.value)[0] for cell in first} == set("=+-@")
    assert all(cell.quotePrefix for cell in first)
    assert not [cell for cell in cells if cell.data_type == "f"]


def test_texts_no_cell_can_hold_are_held_as_far_as_they_can() -> None:
    """Control signs become "?", a text longer than a cell is cut at its limit, and the file opens."""
    long = "x" * (LONGEST_TEXT + 10)
    table = Table(kind="odd", headings=("text", "moment"), rows=(("a\x00b\x1bc", AT), (long, None)))
    book = openpyxl.load_workbook(io.BytesIO(workbook([Sheet(title="Odd", tables=(table,))], AT)))
    rows = list(book["odd"].iter_rows(min_row=2, values_only=True))
    assert rows[0] == ("Odd", "a?b?c", AT)
    assert len(rows[1][1]) == LONGEST_TEXT


def test_a_week_without_work_is_a_workbook_too() -> None:
    """A workbook must have a sheet: it says that nothing is planned."""
    book = openpyxl.load_workbook(io.BytesIO(workbook([], AT)))
    assert book.sheetnames == ["nothing planned"]

"""The tables of the papers as a workbook: a sheet for each kind of table, texts never run as formulas."""

from __future__ import annotations

import io
from collections.abc import Iterable
from datetime import datetime

from openpyxl import Workbook
from openpyxl.cell.cell import Cell as BookCell
from openpyxl.styles import Alignment, Font

from scheduler.papers.floor.sheet import Cell, Sheet, Table
from scheduler.papers.text import harmless

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
LONGEST_TEXT = 32_767
"""Letters a cell of a workbook can hold."""

LONGEST_NAME = 31
WRAPPED = Alignment(wrap_text=True, vertical="top")
WIDEST, NARROWEST = 48, 9


def workbook(sheets: Iterable[Sheet], at: datetime) -> bytes:
    """Every table, those of one kind below each other with the page they stand on in front. at: when it was written."""
    by_kind: dict[str, list[tuple[str, Table]]] = {}
    for sheet in sheets:
        for table in sheet.tables:
            if table.rows:
                where = " - ".join(part for part in (sheet.title, table.title) if part)
                by_kind.setdefault(table.kind, []).append((where, table))
    book = Workbook()
    book.remove(book.active)
    for kind, tables in by_kind.items():
        _write(book, kind, tables)
    if not by_kind:
        book.create_sheet("nothing planned")
    book.properties.created = book.properties.modified = at.replace(tzinfo=None)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _write(book: Workbook, kind: str, tables: list[tuple[str, Table]]) -> None:
    page = book.create_sheet(kind[:LONGEST_NAME])
    first = tables[0][1]
    headings = ("page", *first.headings, *(blank for blank, _ in first.blanks))
    rows = [(where, *row) for where, table in tables for row in table.rows]
    for column, heading in enumerate(headings, start=1):
        _fill(page.cell(row=1, column=column), heading)
        page.cell(row=1, column=column).font = Font(bold=True)
    for number, row in enumerate(rows, start=2):
        for column, cell in enumerate(row, start=1):
            _fill(page.cell(row=number, column=column), cell)
    for column in range(1, len(headings) + 1):
        longest = max(len(str(page.cell(row=row, column=column).value or "")) for row in range(1, len(rows) + 2))
        page.column_dimensions[page.cell(row=1, column=column).column_letter].width = min(
            WIDEST, max(NARROWEST, longest + 2)
        )
    page.freeze_panes = "A2"
    page.print_title_rows = "1:1"
    page.page_setup.orientation = "landscape"
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.page_setup.fitToHeight = 0


def _fill(at: BookCell, cell: Cell) -> None:
    """Numbers and moments as such; text as text, whatever it begins with."""
    if cell is None or isinstance(cell, int):
        at.value = cell
        return
    if isinstance(cell, datetime):
        at.value = cell.replace(tzinfo=None)
        at.number_format = "yyyy-mm-dd hh:mm"
        return
    text = "\n".join(harmless(line) for line in cell.split("\n"))[:LONGEST_TEXT]
    at.value = text
    at.data_type = "s"
    at.quotePrefix = text.startswith(FORMULA_STARTS)
    at.alignment = WRAPPED

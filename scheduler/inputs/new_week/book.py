"""A new week as one .xlsx workbook: the sheets Shop and Orders, a note on every column, examples, what to do."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from scheduler.inputs.columns import ORDER_COLUMNS, SCREENS, shown
from scheduler.inputs.new_week.papers import (
    SHEET_HEADINGS,
    burned_rows,
    column_note,
    example_rows,
    readme,
    sheet_rows,
)
from scheduler.inputs.new_week.question import Answers
from scheduler.inputs.new_week.settings import Block, blocks
from scheduler.inputs.new_week.shop_text import explained, own_name, settings_of
from scheduler.inputs.workbook import SHEET_NAMES, SHOP

TEXT_COLUMNS = ("order", "sizes", "note")
"""Headings under which a spreadsheet must not make numbers or dates of what is typed."""

ONCE = ("screen_room", "people", "staging", "finishing", "room_kept_free", "ink")
"""Sections that may stand empty: they are there once, and what they do not say is taken anyway."""

TEXT_ROWS = 500
"""Rows of such a column that are told so beforehand."""


def book(answers: Answers, place: str) -> bytes:
    """The workbook, as it is saved. place: its name as it is typed in a command."""
    import openpyxl

    made = openpyxl.Workbook()
    shop = made.active
    shop.title = SHEET_NAMES[SHOP]
    _fill(shop, [["setting", "value", "what it means"], *shop_rows(blocks(answers))], (28, 34, 90))
    _orders(made.create_sheet("Orders"), [])
    burned = burned_rows(answers)
    if len(burned) > 1:
        _fill(made.create_sheet(SHEET_NAMES[SCREENS]), burned, (24,) * len(burned[0]))
    _orders(made.create_sheet("Order examples"), sheet_rows(example_rows(answers))[1:])
    lines = [[line] for line in readme(answers, place).splitlines() if line.strip("=")]
    _fill(made.create_sheet("Read me"), lines, (100,))
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def shop_rows(told: Sequence[Block]) -> list[list[str]]:
    """Every setting under its section, its value empty where nobody told it, and what it means."""
    found: list[list[str]] = []
    seen: set[str] = set()
    for block in told:
        is_first = block.kind not in seen
        seen.add(block.kind)
        if not block.is_used and block.kind not in ONCE:
            continue  # an empty press or person would be one more of them
        if block.head:
            found.append([block.head, "", block.title])
        if block.kind == "hours":
            found += [[name, value, ""] for name, value in block.values.items()]
        for setting in settings_of(block.kind):
            value = block.values.get(own_name(setting), "") if block.is_used else ""
            if value or is_first:
                found.append([own_name(setting), value, explained(setting)])
        for name, table in block.tables.items():
            found += [[f"{name}.{key}", value, ""] for key, value in table.items()]
    return found


def _fill(sheet: Any, rows: Sequence[Sequence[str]], widths: Sequence[int]) -> None:
    for number, row in enumerate(rows, start=1):
        for column, text in enumerate(row, start=1):
            cell = sheet.cell(row=number, column=column)
            cell.value = int(text) if text.isdecimal() and not text.startswith("0") and len(text) < 10 else text or None
            if isinstance(cell.value, str):
                cell.data_type = "s"  # a name that starts with = is no formula
                cell.number_format = "@"
    for column, width in enumerate(widths, start=1):
        sheet.column_dimensions[_letter(column)].width = width
    _freeze_headings(sheet)


def _orders(sheet: Any, rows: Sequence[Sequence[str]]) -> None:
    """An orders sheet with a note on each heading."""
    from openpyxl.comments import Comment

    known = {one.name: one for one in ORDER_COLUMNS}
    _fill(sheet, [[shown(name) for name in SHEET_HEADINGS], *rows], (14,) * len(SHEET_HEADINGS))
    for column, name in enumerate(SHEET_HEADINGS, start=1):
        note = Comment(column_note(known[name]), "Pressweek")
        note.width, note.height = 280, 90
        sheet.cell(row=1, column=column).comment = note
        if name in TEXT_COLUMNS:
            for row in range(2, TEXT_ROWS + 2):
                sheet.cell(row=row, column=column).number_format = "@"


def _freeze_headings(sheet: Any) -> None:
    from openpyxl.styles import Font

    sheet.freeze_panes = "A2"
    for cell in sheet[1]:
        cell.font = Font(bold=True)


def _letter(column: int) -> str:
    from openpyxl.utils import get_column_letter

    return str(get_column_letter(column))

"""The shop's own spreadsheet as rows of text that know their place: .csv in any usual spelling, or .xlsx.

Unlike a week's own sheets it may have titles above its headings, cells merged over several rows, and text with line
breaks; all of it is kept as it stands.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from scheduler.inputs.faults import Faults, Place, key_of, nearest, one_of, quoted
from scheduler.inputs.letters import visible
from scheduler.inputs.tables import MOST_COLUMNS, MOST_ROWS, NumberedCells, read_bytes, records, text_of
from scheduler.inputs.workbook import FARTHEST_ROW, SUFFIXES, can_be_unpacked, text_of_cell

SEPARATORS = ",;\t|"
SAMPLE_LINES = 40
TEXT_SUFFIXES = (".csv", ".txt", ".tsv")


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSheet:
    """One sheet. file: what messages call it. title: the worksheet's name, "" of a CSV file. rows: filled ones only."""

    file: str
    title: str
    rows: tuple[NumberedCells, ...]


def read_own(path: Path, faults: Faults) -> tuple[OwnSheet, ...]:
    """Every sheet of the file that holds anything; none, and a fault noted, if it cannot be read."""
    raw = read_bytes(path, faults)
    if raw is None:
        return ()
    suffix = path.suffix.lower()
    if suffix in SUFFIXES or (suffix not in TEXT_SUFFIXES and raw.startswith(b"PK")):
        return _of_workbook(path.name, raw, faults)
    if suffix not in TEXT_SUFFIXES and suffix:
        message, hint = "is no sheet that can be read", "save it as .xlsx or as .csv and bring that"
        faults.add(Place(file=path.name), "not_a_sheet", message, hint)
        return ()
    return _of_text(path.name, raw, faults)


def chosen(sheets: tuple[OwnSheet, ...], title: str, file: str, faults: Faults) -> tuple[OwnSheet, ...]:
    """The sheet of this name; all of them if none is named; none, and a fault noted, if there is no such sheet."""
    if not title:
        return sheets
    found = tuple(one for one in sheets if key_of(one.title) == key_of(title))
    if not found:
        titles = [one.title for one in sheets if one.title]
        near = nearest(title, titles)
        hint = f"did you mean {quoted(near)}?" if near else one_of(titles) if titles else "leave --sheet out"
        faults.add(Place(file=file), "no_such_sheet", f"has no sheet {quoted(title)}", hint)
    return found


def _of_text(file: str, raw: bytes, faults: Faults) -> tuple[OwnSheet, ...]:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raw = raw.decode("utf-16", errors="replace").encode()
    text = text_of(raw, f"{file}" if file.lower().endswith(".csv") else f"{file}.csv", faults)
    if text is None:
        return ()
    separator, first_line = _separator(text), 1
    if text[:4].casefold() == "sep=" and text[5:6] == "\n":
        separator, text, first_line = text[4], text[6:], 2
    rows = records(text, separator, first_line, file, faults)
    if not rows:
        if rows is not None:
            faults.add(Place(file=file), "empty", "is empty", "look whether it is the right file")
        return ()
    return (OwnSheet(file=file, title="", rows=tuple(rows)),)


def _separator(text: str) -> str:
    """The sign that cuts the first lines into the most cells, the same number line by line counting double."""
    lines = [line for line in text.split("\n") if line.strip(" ,;\t|")][:SAMPLE_LINES]

    def cut(separator: str) -> float:
        widths = [len(cells) for cells in csv.reader(io.StringIO("\n".join(lines)), delimiter=separator)]
        common = max(set(widths), key=lambda width: (widths.count(width), width), default=1)
        return (common - 1) * widths.count(common) * 2 + sum(width - 1 for width in widths) / 1000

    return max(SEPARATORS, key=cut)


def _of_workbook(file: str, raw: bytes, faults: Faults) -> tuple[OwnSheet, ...]:
    place = Place(file=file)
    hint = "save it as an Excel workbook (.xlsx), without a password"
    if not can_be_unpacked(raw):
        faults.add(place, "not_a_workbook", "is not a workbook that can be read", hint)
        return ()
    import openpyxl

    try:
        book = openpyxl.load_workbook(io.BytesIO(raw), data_only=True)
        sheets = [
            OwnSheet(file=f"{file} ({one.title})", title=one.title, rows=tuple(_rows(one)))
            for one in book.worksheets
            if one.sheet_state == "visible"
        ]
    except Exception:  # a damaged workbook fails in as many ways as there are parts in it
        faults.add(place, "not_a_workbook", "is a damaged workbook", hint)
        return ()
    found = tuple(one for one in sheets if one.rows)
    if not found:
        faults.add(place, "empty", "is empty", "look whether it is the right file")
    return found


def _rows(sheet: Any) -> Iterator[NumberedCells]:
    """Filled rows; a cell merged over several rows says the same in each of them."""
    below: dict[tuple[int, int], tuple[int, int]] = {}
    for area in sheet.merged_cells.ranges:
        if area.min_col == area.max_col:
            below |= {
                (row, area.min_col): (area.min_row, area.min_col) for row in range(area.min_row + 1, area.max_row + 1)
            }
    last = min(sheet.max_row or 0, FARTHEST_ROW)
    count = 0
    for number, row in enumerate(sheet.iter_rows(min_row=1, max_row=last, max_col=MOST_COLUMNS), start=1):
        cells = [_text(cell) for cell in row]
        if not any(cells):
            continue  # cells merged over an otherwise empty row say nothing
        for column in range(len(cells)):
            if (number, column + 1) in below:
                top, left = below[number, column + 1]
                cells[column] = _text(sheet.cell(row=top, column=left))
        while cells and not cells[-1]:
            cells.pop()
        yield number, cells
        count += 1
        if count > MOST_ROWS:
            return


def _text(cell: Any) -> str:
    """What stands in a cell, as one would type it; texts as they are, with their line breaks."""
    value = cell.value
    if isinstance(value, str):
        return "".join(sign if sign.isprintable() or sign in "\n\t" else " " for sign in visible(value)).strip()
    if value is None or isinstance(value, (bool, int, float, datetime, date, time, timedelta)):
        return text_of_cell(value, "" if value is None else str(cell.number_format))
    return str(value).strip()

"""A week in one .xlsx workbook: its sheets as rows of text with their real row numbers.

Cells become text the way one would type them: dates as 2026-03-06, whole numbers without a point, yes and no. Formulas
count by the value they had when the workbook was last saved; one saved without a value is a fault.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from scheduler.inputs.columns import SHEETS
from scheduler.inputs.faults import Faults, Place, key_of, nearest, quoted
from scheduler.inputs.letters import visible
from scheduler.inputs.tables import MOST_COLUMNS, MOST_ROWS, NumberedCells, Unsaid

SHOP = "shop"
SHEET_NAMES = {SHOP: "Shop", **{sheet: sheet.capitalize() for sheet in SHEETS}}
SUFFIXES = (".xlsx", ".xlsm")

MOST_UNPACKED_BYTES = 200_000_000
"""A workbook is packed; a small file that unpacks to more than this is no week."""

FARTHEST_ROW = 200_000
"""Rows looked at: a stray cell far below the table is not followed for ever."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One worksheet. file: what messages call it, as "week.xlsx (Orders)"."""

    file: str
    rows: tuple[NumberedCells, ...]
    unsaid: Unsaid


def read_sheets(file: str, raw: bytes, faults: Faults) -> dict[str, Sheet]:
    """The sheets a week knows, by "shop", "orders", …; empty, and a fault noted, if the file is no workbook."""
    place = Place(file=file)
    if not can_be_unpacked(raw):
        hint = "save it as an Excel workbook (.xlsx), without a password"
        faults.add(place, "not_a_workbook", "is not a workbook that can be read", hint)
        return {}
    import openpyxl

    try:
        values = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
        typed = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=False)
        found = _known_sheets(values, file, faults)
        return {name: _sheet(values[title], typed[title], f"{file} ({title})", faults) for name, title in found.items()}
    except Exception:  # a damaged workbook fails in as many ways as there are parts in it
        hint = "open it, look whether it is all there, and save it again as .xlsx"
        faults.add(place, "not_a_workbook", "is a damaged workbook", hint)
        return {}


def can_be_unpacked(raw: bytes) -> bool:
    """True if the file is a packed workbook of a sensible size, and every part unpacks to the size it claims."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            size = sum(part.file_size for part in packed.infolist())
            # A part that lies about its size is found bit by bit; opened at once it would fill the memory.
            return size <= MOST_UNPACKED_BYTES and packed.testzip() is None
    except (zipfile.BadZipFile, zlib.error, ValueError, OSError, EOFError, RuntimeError):
        # RuntimeError: a part under a password, or packed in a way that the library does not know.
        return False


def _known_sheets(workbook: Any, file: str, faults: Faults) -> dict[str, str]:
    """Title of each known sheet; a title that looks like one of them is warned of."""
    by_key = {key_of(title): name for name, title in SHEET_NAMES.items()}
    titles = [sheet.title for sheet in workbook.worksheets]
    found: dict[str, str] = {}
    for title in titles:
        name = by_key.get(key_of(title))
        if name is not None:
            found.setdefault(name, title)
    for title in titles:
        near = nearest(title, [SHEET_NAMES[name] for name in SHEET_NAMES if name not in found])
        if title not in found.values() and near:
            message = f"the sheet {quoted(title)} is not read"
            faults.warn(Place(file=file), "unknown_sheet", message, f"did you mean {near}?")
    return found


def _sheet(values: Any, typed: Any, file: str, faults: Faults) -> Sheet:
    rows: list[NumberedCells] = []
    unsaid: dict[tuple[int, int], str] = {}
    for number, (cells, formulas, formats) in enumerate(_rows_of(values, typed), start=1):
        if all(value is None for value in formulas):
            continue
        if len(rows) > MOST_ROWS:
            hint = f"keep it below {MOST_ROWS:,} rows: is it the right sheet?"
            faults.add(Place(file=file, row=number), "too_many_rows", f"has more than {MOST_ROWS:,} rows", hint)
            break
        texts = []
        for column, (value, formula) in enumerate(zip(cells, formulas, strict=True)):
            fault = _formula_fault(value, formula)
            if fault:
                unsaid[number, column] = fault
            texts.append("" if fault else text_of_cell(value, formats[column]))
        rows.append((number, texts))
    return Sheet(file=file, rows=tuple(rows), unsaid=unsaid)


def _rows_of(values: Any, typed: Any) -> Iterator[tuple[list[Any], list[Any], list[str]]]:
    """Values, what was typed, and number formats, row by row; the sheet's own word on its size is not trusted."""
    for sheet in (values, typed):
        sheet.reset_dimensions()
    for cells, formulas in zip(_rows(values), _rows(typed), strict=False):
        width = max(len(cells), len(formulas))
        missing = [None] * width
        said = [cell.value for cell in cells]
        formats = ["" if cell.value is None else str(cell.number_format) for cell in cells]
        yield (
            (said + missing)[:width],
            ([cell.value for cell in formulas] + missing)[:width],
            (formats + [""] * width)[:width],
        )


def _rows(sheet: Any) -> Iterable[tuple[Any, ...]]:
    found: Iterable[tuple[Any, ...]] = sheet.iter_rows(min_row=1, max_row=FARTHEST_ROW, max_col=MOST_COLUMNS)
    return found


def _formula_fault(value: Any, formula: Any) -> str | None:
    """What is wrong with a cell's formula, if it has one that says nothing."""
    is_formula = not isinstance(formula, (str, int, float, date, time, timedelta, type(None))) or (
        isinstance(formula, str) and formula.startswith("=")
    )
    if isinstance(value, str) and value in _ERRORS:
        return f"the cell says {value}"
    return "the formula was saved without a value" if is_formula and value is None else None


_ERRORS = {"#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!"}


def text_of_cell(value: Any, number_format: str = "") -> str:
    """A cell's value as one would type it; the number format tells percent."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value * 100:.10g} %" if "%" in number_format else _number(value)
    if isinstance(value, datetime):
        moment = (value + timedelta(milliseconds=500)).replace(microsecond=0)  # 14:59:59.999 is three o'clock
        return moment.strftime("%Y-%m-%d" if moment.time() == time() else "%Y-%m-%d %H:%M")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if isinstance(value, timedelta):
        return f"{value.total_seconds() / 60:g} min"
    return "".join(sign if sign.isprintable() else " " for sign in visible(str(value))).strip()


def _number(value: int | float) -> str:
    is_whole = isinstance(value, float) and value.is_integer() and abs(value) < 1e15
    return str(int(value)) if is_whole else repr(value)


def canonical(sheets: Mapping[str, Sheet]) -> bytes:
    """What the sheets say, free of how the workbook was saved; for the digest."""
    lines = []
    for name in sorted(sheets):
        lines.append(f"[{name}]")
        lines += ["\x1f".join((str(number), *cells)) for number, cells in sheets[name].rows]
    return "\x1e".join(lines).encode()

"""A week as one workbook instead of a folder, or the other way round: every sheet and setting, row by row, as typed.

Remarks in shop.toml, colours, and sheets that are no part of a week stay behind. A workbook has no place for an
announced plan.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit

from scheduler.inputs.columns import SHEETS
from scheduler.inputs.faults import Faults, Place
from scheduler.inputs.reader import SHOP_FILE
from scheduler.inputs.shop_tree import Leaf, Tree, tree_of_sheet, tree_of_toml
from scheduler.inputs.tables import NumberedCells, csv_records, text_of
from scheduler.inputs.workbook import SHEET_NAMES, SHOP, read_sheets


def as_workbook(files: Mapping[str, bytes]) -> bytes:
    """The workbook that says what the files of a folder say. Raises InputError where they cannot be read."""
    import openpyxl

    faults = Faults()
    if SHOP_FILE not in files:
        faults.add(Place(file=SHOP_FILE), "no_file", "is not among the files of the week", "bring the week again")
        faults.raise_if_any()
    text = text_of(files[SHOP_FILE], SHOP_FILE, faults)
    tree = None if text is None else tree_of_toml(SHOP_FILE, text, faults)
    rows = {sheet: _csv_rows(sheet, files, faults) for sheet in SHEETS}
    faults.raise_if_any()
    made = openpyxl.Workbook()
    shop = made.active
    shop.title = SHEET_NAMES[SHOP]
    settings = [["setting", "value"], *_settings(tree or {}, "")]
    _fill(shop, list(enumerate(settings, start=1)))
    for sheet, records in rows.items():
        if records:
            _fill(made.create_sheet(SHEET_NAMES[sheet]), records)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def as_folder(file: str, raw: bytes) -> dict[str, bytes]:
    """The files of a folder that say what a workbook says. Raises InputError where it cannot be read."""
    faults = Faults()
    sheets = read_sheets(file, raw, faults)
    shop = sheets[SHOP]
    tree = tree_of_sheet(shop.file, shop.rows, shop.unsaid, faults)
    faults.raise_if_any()
    found = {SHOP_FILE: tomlkit.dumps(_plain(tree)).encode()}
    for sheet in SHEETS:
        if sheet in sheets and sheets[sheet].rows:
            found[f"{sheet}.csv"] = _csv_bytes(sheets[sheet].rows)
    return found


def _csv_rows(sheet: str, files: Mapping[str, bytes], faults: Faults) -> Sequence[NumberedCells]:
    file = f"{sheet}.csv"
    return csv_records(sheet, file, files[file], faults) or () if file in files else ()


def _settings(tree: Tree, path: str) -> list[list[str]]:
    """Every setting by its full name, as "press.1.heads"."""
    found: list[list[str]] = []
    for name, value in tree.items():
        here = f"{path}.{name}" if path else name
        if isinstance(value, Leaf):
            found.append([here, value.text])
        else:
            tables = {here: value} if isinstance(value, dict) else {f"{here}.{at}": one for at, one in _numbered(value)}
            for full, table in tables.items():
                found += _settings(table, full)
    return found


def _numbered(tables: list[Tree]) -> Sequence[tuple[int, Tree]]:
    return list(enumerate(tables, start=1))


def _fill(page: Any, rows: Sequence[NumberedCells]) -> None:
    """Every cell a text, on the row whose number it had."""
    for number, cells in rows:
        for column, text in enumerate(cells, start=1):
            if text:
                cell = page.cell(row=number, column=column)
                cell.value, cell.data_type, cell.number_format = text, "s", "@"


def _csv_bytes(rows: Sequence[NumberedCells]) -> bytes:
    """Each row on the line that is its number."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    line = 1
    for number, cells in rows:
        out.write("\n" * (number - line))
        writer.writerow(cells)
        line = number + 1
    return out.getvalue().encode()


def _plain(tree: Tree) -> dict[str, Any]:
    def plain(value: Any) -> Any:
        if isinstance(value, Leaf):
            return value.text
        return [_plain(one) for one in value] if isinstance(value, list) else _plain(value)

    return {name: plain(value) for name, value in tree.items()}

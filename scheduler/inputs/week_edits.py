"""A week's files changed from a page: all edits at once, checked on a copy first, written whole or not at all.

Cells, rows and settings keep everything that is not edited: other columns, their order, remarks in shop.toml, the other
sheets of a workbook.
"""

from __future__ import annotations

import csv
import io
import os
import shutil
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from scheduler.errors import InputError, Problem
from scheduler.inputs.columns import heading_key
from scheduler.inputs.faults import Faults
from scheduler.inputs.reader import ANNOUNCED_FILE, SHOP_FILE
from scheduler.inputs.shop_tree import Leaf, Tree, tree_of_sheet
from scheduler.inputs.tables import read_bytes, sniff, text_of
from scheduler.inputs.week_cells import SheetCells, is_workbook, read_cells, week_files
from scheduler.inputs.workbook import SHEET_NAMES, SHOP, read_sheets


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRows:
    """A sheet's rows as they shall be. seen: the sheet as it was when somebody began to change it. headings: those it
    has, and perhaps more after them; a cell for each in every row.
    """

    seen: SheetCells
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def sheet(self) -> str:
        """Which sheet."""
        return self.seen.sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekEdit:
    """What to change. sheets: whole sheets. settings: (full name as "person.2.days_off", text), "" takes it out.
    added: (section as "overtime", its settings) put at the end. announced: a plan file to announce, None: as it is.
    """

    sheets: tuple[NewRows, ...] = ()
    settings: tuple[tuple[str, str], ...] = ()
    added: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()
    announced: Path | None = None


def edit_week(path: Path, edit: WeekEdit, check: Callable[[Path], None]) -> None:
    """Make the edits on a copy, let `check` raise InputError for what is wrong with it, then swap the files in.

    Nothing is changed where an edit cannot be made or `check` finds a fault.
    """
    before = {one.name: one.read_bytes() for one in week_files(path)}
    for sheet in edit.sheets:
        if read_cells(path, sheet.sheet) != sheet.seen:
            hint = "load the page anew and make the change again"
            raise _fault(sheet.seen.file, "changed_meanwhile", "was changed by somebody else meanwhile", hint)
    with tempfile.TemporaryDirectory(prefix="pressweek-edit-") as folder:
        copy = Path(folder) / path.name if is_workbook(path) else Path(folder)
        try:
            for name, raw in before.items():
                (Path(folder) / name).write_bytes(raw)
            if is_workbook(path):
                _edit_workbook(copy, edit)
            else:
                _edit_folder(copy, edit)
        except OSError as fault:
            raise _cannot_write(path.name, fault) from fault
        check(copy)
        homes = {
            changed: path if is_workbook(path) else path / changed.name
            for changed in week_files(copy)
            if before.get(changed.name) != changed.read_bytes()
        }
        for changed, home in homes.items():
            _refuse_if_moved_on(home, before.get(changed.name))
        _swap_in(homes)


def _refuse_if_moved_on(home: Path, before: bytes | None) -> None:
    """Somebody else saved the file while this edit was being checked."""
    if (home.read_bytes() if home.exists() else None) != before:
        raise _fault(home.name, "changed_meanwhile", "was changed by somebody else just now", "load the page anew")


def _swap_in(homes: Mapping[Path, Path]) -> None:
    """Every changed file to its place; all of them stand beside it before the first is swapped in."""
    swaps = {home: home.with_name(f".{home.name}.{os.getpid()}.part") for home in homes.values()}
    try:
        for changed, home in homes.items():
            shutil.copyfile(changed, swaps[home])
        for home, swap in swaps.items():
            os.replace(swap, home)
    except OSError as fault:
        for swap in swaps.values():
            swap.unlink(missing_ok=True)
        raise _cannot_write(", ".join(sorted(home.name for home in swaps)), fault) from fault


def _cannot_write(file: str, fault: OSError) -> InputError:
    why = (fault.strerror or type(fault).__name__).lower()
    return _fault(file, "cannot_write", f"cannot be written ({why})", "close it if it is open elsewhere")


def _edit_folder(folder: Path, edit: WeekEdit) -> None:
    for sheet in edit.sheets:
        _write_csv(folder / f"{sheet.sheet}.csv", sheet)
    if edit.settings or edit.added:
        path = folder / SHOP_FILE
        try:
            document = tomlkit.parse(path.read_text(encoding="utf-8-sig"))
        except (OSError, UnicodeDecodeError, TOMLKitError) as fault:
            raise _fault(SHOP_FILE, "not_toml", "cannot be read as it stands", "mend it in an editor first") from fault
        for name, text in edit.settings:
            _put(document, name.split("."), text)
        for section, settings in edit.added:
            _append(document, section, settings)
        path.write_text(tomlkit.dumps(document), encoding="utf-8", newline="")
    if edit.announced is not None:
        shutil.copyfile(edit.announced, folder / ANNOUNCED_FILE)


def _write_csv(path: Path, sheet: NewRows) -> None:
    """Separator, line ends and mark at the start stay as they were."""
    raw = path.read_bytes() if path.exists() else b""
    text = text_of(raw, path.name, Faults()) or ""
    out = io.StringIO()
    has_separator = text[:4].casefold() == "sep="
    separator = text[4:5] if has_separator else sniff(text, sheet.sheet)
    line_end = "\r\n" if b"\r\n" in raw else "\n"
    if has_separator:
        out.write(f"sep={separator}{line_end}")
    csv.writer(out, delimiter=separator, lineterminator=line_end).writerows([sheet.headings, *sheet.rows])
    has_mark = raw.startswith(b"\xef\xbb\xbf")
    path.write_text(out.getvalue(), encoding="utf-8-sig" if has_mark else "utf-8", newline="")


def _put(table: Any, names: Sequence[str], text: str) -> None:
    """Set, add or take out one setting of a TOML document."""
    name, *rest = names
    key = next((one for one in table if heading_key(str(one)) == heading_key(name)), name)
    if rest and rest[0].isdigit() and isinstance(table.get(key), list):
        number, *deeper = rest
        _put(table[key][int(number) - 1], deeper, text)
    elif rest:
        if key not in table:
            table.add(key, tomlkit.inline_table())
        _put(table[key], rest, text)
    elif text == "":
        if key in table:
            table.remove(key)
    else:
        old = table.get(key)
        is_number = isinstance(old, int) and not isinstance(old, bool) and text.lstrip("-").isdigit()
        table[key] = int(text) if is_number else text


def _append(document: Any, section: str, settings: Sequence[tuple[str, str]]) -> None:
    table = tomlkit.table()
    for name, text in settings:
        if text:
            _put(table, name.split("."), text)
    key = next((one for one in document if heading_key(str(one)) == heading_key(section)), section)
    if key in document:
        document[key].append(table)
    else:
        document.add(key, tomlkit.aot())
        document[key].append(table)


def _edit_workbook(path: Path, edit: WeekEdit) -> None:
    import openpyxl

    if edit.announced is not None:
        hint = "keep the week as a folder, or lock the runs one by one"
        raise _fault(path.name, "no_place", "a workbook has no place for an announced plan", hint)
    book = openpyxl.load_workbook(path, keep_vba=path.suffix.lower() == ".xlsm")
    titles = {heading_key(one.title): one for one in book.worksheets}
    for sheet in edit.sheets:
        title = SHEET_NAMES[sheet.sheet]
        page = titles.get(heading_key(title)) or book.create_sheet(title)
        _write_rows(page, sheet)
    if edit.settings or edit.added:
        _write_settings(titles[SHOP], _places(path), edit)
    book.save(path)


def _write_rows(page: Any, sheet: NewRows) -> None:
    """Cells whose text changes are written; the others keep their value and format."""
    from scheduler.inputs.workbook import text_of_cell

    filled = [row[0].row for row in page.iter_rows() if any(cell.value is not None for cell in row)]
    places = filled + list(
        range((filled[-1] if filled else 0) + 1, (filled[-1] if filled else 0) + len(sheet.rows) + 2)
    )
    for place, cells in zip(places, [sheet.headings, *sheet.rows], strict=False):
        for column, text in enumerate(cells, start=1):
            cell = page.cell(place, column)
            if text_of_cell(cell.value, str(cell.number_format)) != text:
                cell.value, cell.data_type = (text, "s") if text else (None, "n")
    for place in filled[len(sheet.rows) + 1 :]:
        for cell in page[place]:
            cell.value = None


def _places(path: Path) -> Mapping[str, int]:
    """The row of the Shop sheet on which each setting stands."""
    faults = Faults()
    raw = read_bytes(path, faults)
    sheets = {} if raw is None else read_sheets(path.name, raw, faults)
    faults.raise_if_any()
    found: dict[str, int] = {}
    tree = tree_of_sheet(sheets[SHOP].file, sheets[SHOP].rows, sheets[SHOP].unsaid, faults)
    if tree is not None:
        _find(tree, "", found)
    return found


def _find(tree: Tree, path: str, found: dict[str, int]) -> None:
    for name, value in tree.items():
        here = f"{path}.{name}" if path else name
        if isinstance(value, Leaf):
            if value.row is not None:
                found[here] = value.row
        elif isinstance(value, dict):
            _find(value, here, found)
        else:
            for number, one in enumerate(value, start=1):
                _find(one, f"{here}.{number}", found)


def _write_settings(page: Any, places: Mapping[str, int], edit: WeekEdit) -> None:
    new = []
    for name, text in edit.settings:
        if name in places:
            page.cell(places[name], 2).value = text or None
            if not text:
                page.cell(places[name], 1).value = None
        elif text:
            new.append((name, text))
    for section, settings in edit.added:
        page.append([f"[[{section}]]"])
        for name, text in settings:
            page.append([name, text])
    if new:  # above everything: below a section a bare name would belong to it
        page.insert_rows(2, len(new))
        for place, (name, text) in enumerate(new, start=2):
            page.cell(place, 1).value, page.cell(place, 2).value = name, text


def _fault(file: str, code: str, message: str, hint: str) -> InputError:
    return InputError((Problem(file=file, code=code, message=message, hint=hint),))

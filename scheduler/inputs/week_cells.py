"""A week's files as they are typed, cell by cell, and what two states of one week say differently."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.errors import InputError
from scheduler.inputs.columns import SHEETS, heading_key, shown
from scheduler.inputs.faults import Faults
from scheduler.inputs.reader import ANNOUNCED_FILE, FILES, SHOP_FILE
from scheduler.inputs.shop_tree import Leaf, Tree, tree_of_sheet, tree_of_toml
from scheduler.inputs.tables import NumberedCells, csv_records, read_bytes, text_of
from scheduler.inputs.workbook import SHOP, SUFFIXES, read_sheets

TAKEN_FILE = "taken.toml"
"""What-ifs that were taken, beside the week's own files."""

Cells = Mapping[str, str]
"""One row: cells that are not empty, by heading as it is known here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCells:
    """One sheet as typed. headings: as written. rows: a cell for each heading. numbers: their lines."""

    sheet: str
    file: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...]

    def by_heading(self) -> list[Cells]:
        """Each row's filled cells by heading."""
        keys = [heading_key(one) for one in self.headings]
        return [{key: text for key, text in zip(keys, row, strict=True) if text} for row in self.rows]


def is_workbook(path: Path) -> bool:
    """True if the week is one workbook."""
    return path.suffix.lower() in SUFFIXES and not path.is_dir()


def week_files(path: Path) -> tuple[Path, ...]:
    """The files of a week that are there."""
    if is_workbook(path):
        return tuple(one for one in (path, path.with_name(f"{path.stem}.{TAKEN_FILE}")) if one.is_file())
    return tuple(path / name for name in (*FILES, TAKEN_FILE) if (path / name).is_file())


def read_cells(path: Path, sheet: str) -> SheetCells:
    """A sheet of the week as typed. Raises InputError if it cannot be read; without rows where it is not there."""
    faults = Faults()
    file, records = _records(path, sheet, faults)
    faults.raise_if_any()
    if not records:
        return SheetCells(sheet=sheet, file=file, headings=(), rows=(), numbers=())
    headings = tuple(records[0][1])
    width = len(headings)
    return SheetCells(
        sheet=sheet,
        file=file,
        headings=headings,
        rows=tuple(tuple(text.strip() for text in [*cells, *[""] * width][:width]) for _, cells in records[1:]),
        numbers=tuple(number for number, _ in records[1:]),
    )


def _records(path: Path, sheet: str, faults: Faults) -> tuple[str, Sequence[NumberedCells]]:
    if is_workbook(path):
        raw = read_bytes(path, faults)
        found = {} if raw is None else read_sheets(path.name, raw, faults)
        return (found[sheet].file, found[sheet].rows) if sheet in found else (f"{path.name} ({sheet})", ())
    file = f"{sheet}.csv"
    if not (path / file).is_file():
        return file, ()
    raw = read_bytes(path / file, faults)
    return file, (() if raw is None else csv_records(sheet, file, raw, faults) or ())


def shop_texts(path: Path) -> dict[str, str]:
    """Every setting of the shop as typed, by its full name, as "press.1.heads". Raises InputError where unreadable."""
    faults = Faults()
    tree: Tree | None = None
    if is_workbook(path):
        raw = read_bytes(path, faults)
        sheet = {} if raw is None else read_sheets(path.name, raw, faults)
        if SHOP in sheet:
            tree = tree_of_sheet(sheet[SHOP].file, sheet[SHOP].rows, sheet[SHOP].unsaid, faults)
    elif (path / SHOP_FILE).is_file():
        raw = read_bytes(path / SHOP_FILE, faults)
        text = None if raw is None else text_of(raw, SHOP_FILE, faults)
        tree = None if text is None else tree_of_toml(SHOP_FILE, text, faults)
    faults.raise_if_any()
    return {} if tree is None else dict(_leaves(tree, ""))


def _leaves(tree: Tree, path: str) -> Iterator[tuple[str, str]]:
    for name, value in tree.items():
        here = f"{path}.{name}" if path else name
        if isinstance(value, Leaf):
            yield here, value.text
        elif isinstance(value, dict):
            yield from _leaves(value, here)
        else:
            for number, one in enumerate(value, start=1):
                yield from _leaves(one, f"{here}.{number}")


def changes_since(before: Path, now: Path) -> tuple[str, ...]:
    """What a week says differently now, a sentence for each changed cell, row or setting.

    A file that cannot be read now is one change: its faults are told elsewhere.
    """
    told: list[str] = []
    for sheet in SHEETS:
        old, new = _typed(before, sheet), _typed(now, sheet)
        told += [f"{sheet}: cannot be read now"] if old is None or new is None else _sheet_changes(sheet, old, new)
    old_shop, new_shop = _settings(before), _settings(now)
    if old_shop is None or new_shop is None:
        told.append("shop: cannot be read now")
    else:
        told += [
            f"shop: {_setting(name)} {_was(old_shop.get(name, ''), new_shop.get(name, ''))}"
            for name in dict.fromkeys([*old_shop, *new_shop])
            if old_shop.get(name) != new_shop.get(name)
        ]
    if _bytes(before) != _bytes(now):
        told.append("the plan announced to the shop is another one")
    return tuple(told)


def _typed(path: Path, sheet: str) -> list[Cells] | None:
    try:
        return read_cells(path, sheet).by_heading()
    except InputError:
        return None


def _settings(path: Path) -> dict[str, str] | None:
    try:
        return shop_texts(path)
    except InputError:
        return None


def _bytes(path: Path) -> bytes:
    file = path / ANNOUNCED_FILE
    return file.read_bytes() if not is_workbook(path) and file.is_file() else b""


def _sheet_changes(sheet: str, old: Sequence[Cells], new: Sequence[Cells]) -> Iterator[str]:
    """Rows are paired where they stand between rows that are the same."""
    pairs = difflib.SequenceMatcher(None, [_key(row) for row in old], [_key(row) for row in new], autojunk=False)
    for _, a_from, a_to, b_from, b_to in pairs.get_opcodes():
        gone, come = old[a_from:a_to], new[b_from:b_to]
        for was, is_now in zip(gone, come, strict=False):
            names = dict.fromkeys([*was, *is_now])
            yield from (
                f"{sheet}: {_named(was)}: {shown(name)} {_was(was.get(name, ''), is_now.get(name, ''))}"
                for name in names
                if was.get(name) != is_now.get(name)
            )
        yield from (f"{sheet}: {_named(row)} is gone" for row in gone[len(come) :])
        yield from (f"{sheet}: {_named(row)} is new" for row in come[len(gone) :])


def _key(row: Cells) -> tuple[tuple[str, str], ...]:
    return tuple(sorted(row.items()))


def _named(row: Cells) -> str:
    """What people call a row: order and location, or its first cell."""
    names = [row[name] for name in ("order", "location", "design") if row.get(name)]
    return " ".join(names[:2]) or next(iter(row.values()), "a row")


def _setting(name: str) -> str:
    return shown(name.replace(".", " "))


def _was(old: str, new: str) -> str:
    if not old:
        return f"is now {new}"
    return f"is now {new}, was {old}" if new else f"is empty now, was {old}"

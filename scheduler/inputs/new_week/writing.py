"""Writing a new week: whole or not at all, and never over one that is there."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from scheduler.errors import InputError, Problem
from scheduler.inputs.columns import SCREENS, SHEETS
from scheduler.inputs.new_week.book import book
from scheduler.inputs.new_week.papers import burned_rows, csv_of, example_rows, readme, sheet_rows
from scheduler.inputs.new_week.question import Answers
from scheduler.inputs.new_week.settings import blocks
from scheduler.inputs.new_week.shop_text import shop_text
from scheduler.safe_files import make_folder

SHOP_FILE, ORDERS_FILE, EXAMPLE_FILE, README_FILE = "shop.toml", "orders.csv", "orders-example.csv", "READ-ME.txt"
TAKEN = (SHOP_FILE, *(f"{sheet}.csv" for sheet in SHEETS), "announced.json", EXAMPLE_FILE, README_FILE)
"""Names a new week may write or would be read with: where one of them is, there is a week already."""

CSV_ENCODING = "utf-8-sig"
"""Spreadsheets take accents for rubbish without a mark at the start."""

Check = Callable[[Path], None]
"""Raises InputError if a week cannot be read."""


def place_of(path: Path, *, is_workbook: bool) -> Path:
    """Where the week goes: the folder, or the workbook with its ending."""
    if not is_workbook or path.suffix.lower() == ".xlsx":
        return path
    return path.with_name(f"{path.name}.xlsx")


def refuse_if_taken(path: Path, *, is_workbook: bool) -> None:
    """Raises InputError with one sentence where a week, or a file in the way, is there already."""
    if is_workbook:
        if path.exists():
            raise _in_the_way(path, "is there already", "name another file, or move it away first")
        return
    if path.exists() and not path.is_dir():
        raise _in_the_way(path, "is a file", "name a folder that is not there yet")
    there = [name for name in TAKEN if (path / name).exists()]
    if there:
        raise _in_the_way(
            path, f"holds a week already ({', '.join(there)})", "name another folder: nothing is replaced"
        )


def write_folder(path: Path, answers: Answers, check: Check) -> tuple[str, ...]:
    """The week's files in a folder of their own; their names. It appears whole, once it has been read and checked."""
    refuse_if_taken(path, is_workbook=False)
    path = path.absolute()
    make_folder(path.parent)
    texts = _texts(answers, path.name)
    made = Path(_told(path, lambda: tempfile.mkdtemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")))
    try:
        _told(path, lambda: _write_all(made, texts))
        check(made)
        _told(path, lambda: _move(made, path, tuple(texts)))
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return tuple(texts)


def write_workbook(path: Path, answers: Answers, check: Check) -> tuple[str, ...]:
    """The week as one workbook; its name. It appears whole, once it has been read and checked."""
    refuse_if_taken(path, is_workbook=True)
    path = path.absolute()
    make_folder(path.parent)
    raw = book(answers, path.name)
    folder = Path(_told(path, lambda: tempfile.mkdtemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")))
    try:
        made = folder / path.name
        _told(path, lambda: made.write_bytes(raw))
        check(made)
        refuse_if_taken(path, is_workbook=True)
        _told(path, lambda: os.replace(made, path))
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    return (path.name,)


def _texts(answers: Answers, place: str) -> dict[str, tuple[str, str]]:
    """Text and encoding of each file; orders and settings last, so that they stand for a full set."""
    separator = answers.machine.separator
    burned = burned_rows(answers)
    return {
        README_FILE: (readme(answers, place), "utf-8"),
        EXAMPLE_FILE: (csv_of(sheet_rows(example_rows(answers)), separator), CSV_ENCODING),
        **({f"{SCREENS}.csv": (csv_of(burned, separator), CSV_ENCODING)} if len(burned) > 1 else {}),
        ORDERS_FILE: (csv_of(sheet_rows([]), separator), CSV_ENCODING),
        SHOP_FILE: (shop_text(blocks(answers)), "utf-8"),
    }


def _write_all(folder: Path, texts: dict[str, tuple[str, str]]) -> None:
    for name, (text, encoding) in texts.items():
        # Line ends as this system's editors want them; what reads the files takes either.
        (folder / name).write_bytes(text.replace("\n", os.linesep).encode(encoding))


def _move(made: Path, path: Path, names: tuple[str, ...]) -> None:
    """One rename where the folder is new; file by file into one that is there, all back if one cannot be moved."""
    refuse_if_taken(path, is_workbook=False)
    if not path.exists():
        os.chmod(made, _usual_folder_mode())  # a temporary folder is private; a week is for the whole shop
        os.rename(made, path)
        return
    moved: list[Path] = []
    try:
        for name in names:
            os.rename(made / name, path / name)
            moved.append(path / name)
    except BaseException:
        for one in moved:
            with contextlib.suppress(OSError):
                one.unlink()
        raise


def _usual_folder_mode() -> int:
    """The rights an ordinary new folder would get here."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o777 & ~mask


def _told(path: Path, act: Callable[[], object]) -> str:
    """What `act` returns, as text; a fault of the disk in one plain sentence."""
    try:
        return str(act())
    except OSError as fault:
        why = (fault.strerror or type(fault).__name__).lower()
        problem = Problem(
            file=str(path), code="cannot_write", message=f"cannot be written ({why})", hint="name another folder"
        )
        raise InputError((problem,)) from fault


def _in_the_way(path: Path, message: str, hint: str) -> InputError:
    return InputError((Problem(file=str(path), code="in_the_way", message=message, hint=hint),))

"""Books and weeks for the tests of the book."""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from scheduler.book.opening import Book, new_book, open_book
from scheduler.domain.orders import WeekInputs
from scheduler.inputs.reader import read_week
from tests.inputs.weeks import good_files, write_folder

NOW = datetime(2026, 3, 2, 7, 5, tzinfo=UTC)


def good_week(folder: Path) -> WeekInputs:
    """The small good week as it is read."""
    return read_week(write_folder(folder, good_files()))


def book_at(path: Path) -> Book:
    """A new empty book in a file."""
    path.write_bytes(_empty())
    return open_book(str(path))


@cache
def _empty() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "empty.book"
        new_book(str(path), NOW)
        return path.read_bytes()

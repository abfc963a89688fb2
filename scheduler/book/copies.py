"""Backups: the whole book as one file, taken at one moment while others go on writing, and brought back."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from contextlib import closing
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, delete, insert, select, text, update

from scheduler.book.faults import BRING_BACK, fault, told_in_shop_words
from scheduler.book.opening import Book, new_book, open_book
from scheduler.book.schema import BOOK, METADATA
from scheduler.errors import InputError
from scheduler.safe_files import make_folder

Rows = dict[str, list[dict[str, Any]]]

COUNTS = (BOOK.c.last_version, BOOK.c.last_plan, BOOK.c.last_event)


def back_up(book: Book, path: Path, now: datetime) -> None:
    """The file holds the book of one moment, whole or not at all; readers and writers go on meanwhile.

    Raises InputError where the book is damaged, or the file is there already or cannot be written.
    """
    if path.exists():
        raise fault(path.name, "file_there", "is there already", "name another file: a backup is never written over")
    _refuse_unsound(book, BRING_BACK)  # nothing could be brought back from a copy of it
    make_folder(path.parent)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with book.reading() as connection:
            rows = _all_rows(connection)
        copy = new_book(str(part), now)
        with copy.writing() as connection:
            _fill(connection, rows)
        copy.close()
        with told_in_shop_words(path.name):
            os.replace(part, path)
    finally:
        part.unlink(missing_ok=True)


def restore(book: Book, path: Path) -> None:
    """The book says again what the backup says, all of it or nothing; whoever reads sees the one or the other.

    Numbers of versions, plans and events go on from the highest there ever was: what somebody saw before is not taken
    for what stands now. The backup itself is not touched. Raises InputError where it is no book.
    """
    if not path.is_file():
        raise fault(path.name, "no_book", "is not there", "look at its name and its folder")
    with tempfile.TemporaryDirectory(prefix="pressweek-restore-") as folder:
        copy_path = Path(folder) / path.name
        _copy_file(path, copy_path)
        copy = open_book(str(copy_path))
        try:
            _refuse_unsound(copy, "take an earlier backup")
            with copy.reading() as connection:
                rows = _all_rows(connection)
        finally:
            copy.close()
    with book.writing() as connection:
        before = connection.execute(select(*COUNTS)).one()
        for table in reversed(METADATA.sorted_tables):
            if table is not BOOK:
                connection.execute(delete(table))
        _fill(connection, rows)
        told = rows[BOOK.name][0]
        highest = {column: max(was, told[column.name]) for column, was in zip(COUNTS, before, strict=True)}
        connection.execute(update(BOOK).values(highest))


def _copy_file(path: Path, to: Path) -> None:
    """A copy of a file that somebody may be writing just now: what stands in its log is in the copy too."""
    with (
        told_in_shop_words(path.name),
        closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(to)) as target,
    ):
        source.backup(target)


def _refuse_unsound(book: Book, hint: str) -> None:
    told = unsound(book)
    if told:
        raise fault(book.name, "damaged", f"is damaged ({told})", hint)


def unsound(book: Book) -> str:
    """What is wrong with the book's file or its links, "" where all is sound."""
    if not book.is_file:
        return ""
    with book.reading() as connection:
        said = str(connection.scalar(text("PRAGMA integrity_check")))
    if said != "ok":
        return said.splitlines()[0]
    try:
        with told_in_shop_words(book.name):
            book.refuse_damage()
    except InputError as refused:
        (one,) = refused.problems
        return f"{one.column}, row {one.row}: {one.message}" if one.column else one.message
    return ""


def _all_rows(connection: Connection) -> Rows:
    """Every row of every table; numbers that only this database gave are left out."""
    found: Rows = {}
    for table in METADATA.sorted_tables:
        columns = [column for column in table.c if column.name != "row_id"]
        asked = select(*columns).order_by(*table.primary_key.columns)
        found[table.name] = [dict(row._mapping) for row in connection.execute(asked)]
    return found


def _fill(connection: Connection, rows: Rows) -> None:
    for table in METADATA.sorted_tables:
        if table is BOOK:
            connection.execute(update(BOOK).values(rows[table.name][0]))
        elif rows[table.name]:
            connection.execute(insert(table), rows[table.name])

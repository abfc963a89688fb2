"""The book looked through row by row: what is not as it was written, and where."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from sqlalchemy import JSON, Boolean, Connection, Integer, LargeBinary, Table

from scheduler.book.schema import BOOK, METADATA, VERSIONS
from scheduler.book.seals import (
    SEAL,
    DamagedRowError,
    as_written,
    key_of,
    seal_of_rows,
    seals_at,
)

COUNTED = {"last_version": "versions", "last_plan": "plans", "last_event": "events"}
"""What the one row of `book` counts, and where that stands."""


MAPPINGS = ("more", "told")
"""Documents that say something by name."""
MOMENTS: dict[str, tuple[tuple[str, bool | None], ...]] = {
    "versions": (("at", None),),
    "plans": (("made_at", True),),
    "announcements": (("at", True),),
    "events": (("at", False), ("noted_at", True)),
}
"""Texts that are moments, and whether they stand with their distance from UTC; None: either."""


def refuse_damage(connection: Connection, *, is_sealed: bool) -> None:
    """Raise DamagedRowError for the first row that is not as it was written. Of a book in a file.

    is_sealed: its form is the newest; an earlier one has no seals, of which only the kinds of values are looked at.
    """
    bare = connection.connection.dbapi_connection
    assert isinstance(bare, sqlite3.Connection)
    with _any_letters(bare):
        for table in METADATA.sorted_tables:
            for row in _rows(bare, table):
                _look_at(table, row, is_sealed=is_sealed)
        _look_at_counts(bare)
    for table_name, row_id, *_ in bare.execute("PRAGMA foreign_key_check").fetchall():
        raise DamagedRowError(table_name, row_id)  # it belongs to a row that is not there
    if is_sealed:
        for version, told in bare.execute("SELECT version, rows_seal FROM versions").fetchall():
            if told != seal_of_rows(seals_at(connection, version)):
                raise DamagedRowError(VERSIONS.name, version)


@contextmanager
def _any_letters(bare: sqlite3.Connection) -> Iterator[None]:
    """Texts whose bytes are no letters are read all the same, so that their row can be named."""
    before, bare.text_factory = bare.text_factory, lambda raw: raw.decode("utf-8", "surrogateescape")
    try:
        yield
    finally:
        bare.text_factory = before


def _rows(bare: sqlite3.Connection, table: Table) -> Iterator[dict[str, Any]]:
    cursor = bare.execute(f'SELECT * FROM "{table.name}"')
    names = [column[0] for column in cursor.description]
    for values in cursor:
        yield dict(zip(names, values, strict=True))


def _look_at(table: Table, row: dict[str, Any], *, is_sealed: bool) -> None:
    for column in table.c:
        if column.name not in row and not is_sealed:
            continue  # an earlier form has it not yet
        value = row.get(column.name)
        if value is None and column.nullable:
            continue
        try:
            row[column.name] = _of_kind(column.type, value)
            if column.name in MAPPINGS and not isinstance(row[column.name], dict):
                raise TypeError(f"{value!r} maps nothing")
        except (TypeError, ValueError) as odd:
            raise DamagedRowError(table.name, row.get(key_of(table))) from odd
    for name, has_zone in MOMENTS.get(table.name, ()):
        if name not in row or not _is_moment(row[name], has_zone=has_zone):
            raise DamagedRowError(table.name, row.get(key_of(table)))
    if is_sealed and SEAL in table.c:
        as_written(table, row)


def _of_kind(kind: object, value: Any) -> Any:
    """The value as it is read. Raises TypeError or ValueError where it is of another kind."""
    meant: type = str
    if isinstance(kind, Boolean | Integer):
        meant = int
    elif isinstance(kind, LargeBinary):
        meant = bytes
    if isinstance(kind, JSON):
        return json.loads(value)
    if not isinstance(value, meant):
        raise TypeError(f"{value!r} is no {meant.__name__}")
    return bool(value) if isinstance(kind, Boolean) else value


def _is_moment(text: str, *, has_zone: bool | None) -> bool:
    try:
        return has_zone in (None, datetime.fromisoformat(text).tzinfo is not None)
    except ValueError:
        return False


def _look_at_counts(bare: sqlite3.Connection) -> None:
    counts = list(_rows(bare, BOOK))
    if len(counts) != 1:
        raise DamagedRowError(BOOK.name, 1)
    for name, table in COUNTED.items():
        (most,) = bare.execute(f'SELECT max("{key_of(METADATA.tables[table])}") FROM "{table}"').fetchone()
        if name not in counts[0] or counts[0][name] < (most or 0):
            raise DamagedRowError(BOOK.name, 1)

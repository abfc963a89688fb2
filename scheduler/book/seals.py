"""Every row of the book carries a seal, a few signs that follow from what it says: a row that a failing disk or another
program has changed is noticed before anybody plans with it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from hashlib import blake2b
from typing import Any

from sqlalchemy import Connection, LargeBinary, Table, select, update

from scheduler.book.schema import DATED, METADATA, PLANS, VERSIONS

SEAL = "seal"

UNSEALED = ("row_id", "until", SEAL)
"""What may change in a row that is not changed: its number, and the version until which it counts."""

DOCUMENTS = tuple(column.name for column in PLANS.c if isinstance(column.type, LargeBinary))
"""Columns of a plan that are packed documents: packing notices by itself what was changed."""

SIGNS_BYTES = 8


class DamagedRowError(Exception):
    """A row no longer says what was written. Never leaves the book: it is told as a fault there."""

    def __init__(self, table: str, row: object) -> None:
        """Keep which row of which table."""
        super().__init__(f"{table} {row}")
        self.table, self.row = table, row


def seal_of(table: Table, row: Mapping[Any, Any]) -> str:
    """The seal of a row: the same for the same values, whether they are to be written or were read."""
    left_out = (*UNSEALED, *DOCUMENTS) if table is PLANS else UNSEALED
    told = {name: _plain(value) for name, value in row.items() if name not in left_out}
    text = json.dumps(json.loads(json.dumps(told)), sort_keys=True)
    return blake2b(text.encode(), digest_size=SIGNS_BYTES).hexdigest()


def sealed(table: Table, row: Mapping[Any, Any]) -> dict[str, Any]:
    """The row with its seal, ready to be written."""
    return {**row, SEAL: seal_of(table, row)}


def as_written(table: Table, row: Mapping[Any, Any]) -> Mapping[Any, Any]:
    """The row, if it says what was written. Raises DamagedRowError."""
    if row[SEAL] != seal_of(table, row):
        raise DamagedRowError(table.name, row[key_of(table)])
    return row


def key_of(table: Table) -> str:
    """The column that tells the rows of a table from each other."""
    return next(iter(table.primary_key.columns)).name


def seal_of_rows(seals: Iterable[str]) -> str:
    """The seal of all rows a version of the week consists of: none is gone and none too many."""
    return blake2b(" ".join(seals).encode(), digest_size=SIGNS_BYTES).hexdigest()


def seal_all(connection: Connection) -> None:
    """Every row of a book is sealed as it stands: after its tables have come to another form."""
    for table in METADATA.sorted_tables:
        if SEAL not in table.c or table is VERSIONS:
            continue
        key = table.c[key_of(table)]
        for row in connection.execute(select(table)).mappings().all():
            connection.execute(update(table).where(key == row[key.name]).values({SEAL: seal_of(table, row)}))
    for row in connection.execute(select(VERSIONS)).mappings().all():
        seal_version(connection, row)


def seal_version(connection: Connection, row: Mapping[Any, Any]) -> None:
    """A version of the week, and which rows it consists of, are sealed."""
    told = {**row, "rows_seal": seal_of_rows(seals_at(connection, row["version"]))}
    connection.execute(update(VERSIONS).where(VERSIONS.c.version == row["version"]).values(sealed(VERSIONS, told)))


def seals_at(connection: Connection, version: int) -> Iterable[str]:
    """The seals of the rows that count at a version, in the order in which they stand."""
    for table in DATED:
        yield from connection.scalars(select(table.c.seal).where(counts_at(table, version)).order_by(table.c.place))


def counts_at(table: Table, version: int) -> Any:
    """Which rows of a table count at a version."""
    return (table.c.since <= version) & (table.c.until.is_(None) | (table.c.until > version))


def _plain(value: Any) -> Any:
    return bytes(value).hex() if isinstance(value, bytes | memoryview) else value

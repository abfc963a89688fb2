"""The week in the book: kept as it is typed and as it is read, version by version; nobody writes over what he has not
seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, Table, insert, select, update

from scheduler.book import schema
from scheduler.book.faults import fault
from scheduler.book.opening import Book, next_number
from scheduler.book.records import record_of, row_of
from scheduler.book.seals import DamagedRowError, as_written, counts_at, seal_of_rows, seal_version, sealed
from scheduler.domain.orders import (
    Announced,
    Assumption,
    DesignRecord,
    Imprint,
    Lot,
    Order,
    Progress,
    WeekInputs,
)
from scheduler.domain.shop import BurnedSet, Frames, Shop

Listed = tuple[tuple[str, Table, type], ...]

LISTS: Listed = (
    ("orders", schema.ORDERS, Order),
    ("lots", schema.LOTS, Lot),
    ("imprints", schema.IMPRINTS, Imprint),
    ("designs", schema.DESIGNS, DesignRecord),
    ("progress", schema.PROGRESS, Progress),
    ("announced", schema.ANNOUNCED, Announced),
    ("assumptions", schema.ASSUMPTIONS, Assumption),
)
"""What a week lists, and where each list is kept."""

OF_SHOP: Listed = (
    ("frames", schema.FRAMES, Frames),
    ("burned", schema.SCREEN_SETS, BurnedSet),
)
"""What a shop lists of its screens and frames, and where it is kept."""

IDENTITY = ("row_id", "since", "until", "place", "seal")

File = tuple[str, bytes]
"""A file of the week: its name, and every letter of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """A state the week has been in. changes: what it says differently from the one before, in sentences."""

    number: int
    at: datetime
    who: str
    why: str
    changes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptWeek:
    """The week as the book has it: of which version, as it was read, and its files as they were typed."""

    version: Version
    inputs: WeekInputs
    files: tuple[File, ...] = ()


def store_week(
    book: Book,
    inputs: WeekInputs,
    files: Sequence[File],
    *,
    seen: int,
    at: datetime,
    who: str,
    why: str,
    changes: Sequence[str] = (),
) -> int:
    """The week is what was brought, all of it or nothing; its version. Rows that say the same stay as they are.

    seen: the version the changes were made to, 0 for a book that has none. Raises InputError where somebody has
    changed the week since, with who and what.
    """
    with book.reading() as connection:  # rows of a version never change: nobody has to wait while they are compared
        turns = [_turn(connection, table, rows, seen) for table, rows in _rows_of(inputs, files).items()]
    with book.writing() as connection:
        last = last_version(connection)
        if last != seen:
            raise _changed_meanwhile(book, versions_within(connection, seen))
        version = next_number(connection, "last_version")
        told = {"version": version, "at": at.isoformat(), "who": who, "why": why, "digest": inputs.digest}
        told |= {"changes": list(changes)}
        connection.execute(insert(schema.VERSIONS).values(**told, seal="", rows_seal=""))
        _add_names(connection, (order.order_id for order in inputs.orders))
        for turn in turns:
            turn.make(connection, version)
        seal_version(connection, told)
    return version


def load_week(book: Book, version: int | None = None) -> KeptWeek:
    """The week as it stands, or as it stood at a version. Raises InputError where the book has none."""
    with book.reading() as connection:
        return week_within(connection, book.name, version)


def week_within(connection: Connection, name: str, version: int | None = None) -> KeptWeek:
    """The week, read together with whatever else is read on this connection."""
    number = last_version(connection) if version is None else version
    told = connection.execute(select(schema.VERSIONS).where(schema.VERSIONS.c.version == number)).one_or_none()
    if told is None:
        raise fault(name, "no_week", "holds no week yet", "bring one with: pressweek book bring")
    rows = _dated(connection, number, told.rows_seal)
    if not rows[schema.SHOPS]:
        raise DamagedRowError(schema.VERSIONS.name, number)  # a version of a book without seals has lost its shop
    shop = rows[schema.SHOPS][0]
    zone = str(shop["zone"])

    def listed(lists: Listed) -> dict[str, Any]:
        return {field: tuple(record_of(kind, row, zone) for row in rows[table]) for field, table, kind in lists}

    inputs = WeekInputs(
        shop=replace(record_of(Shop, shop, zone), **listed(OF_SHOP)), digest=told.digest, **listed(LISTS)
    )
    lots, orders = {lot.lot_id for lot in inputs.lots}, {order.order_id for order in inputs.orders}
    is_whole = all(one.order_id in orders and lots.issuperset(one.lot_ids) for one in inputs.imprints)
    if not is_whole or not orders.issuperset(lot.order_id for lot in inputs.lots):
        raise DamagedRowError(schema.VERSIONS.name, number)  # nor has it all the garments and orders it speaks of
    files = tuple((row["name"], bytes(row["content"])) for row in rows[schema.FILES])
    return KeptWeek(version=_version(told), inputs=inputs, files=files)


def versions(book: Book, since: int = 0) -> tuple[Version, ...]:
    """Every state of the week after a version, the oldest first."""
    with book.reading() as connection:
        return versions_within(connection, since)


def last_version(connection: Connection) -> int:
    """The version of the week as it stands; 0 where there is none."""
    return int(connection.scalar(select(schema.VERSIONS.c.version).order_by(schema.VERSIONS.c.version.desc())) or 0)


def versions_within(connection: Connection, since: int) -> tuple[Version, ...]:
    """Every state of the week after a version, read together with whatever else is read on this connection."""
    asked = select(schema.VERSIONS).where(schema.VERSIONS.c.version > since).order_by(schema.VERSIONS.c.version)
    return tuple(_version(row) for row in connection.execute(asked))


def _version(row: Row[Any]) -> Version:
    as_written(schema.VERSIONS, row._mapping)
    return Version(
        number=row.version,
        at=datetime.fromisoformat(row.at),
        who=row.who,
        why=row.why,
        changes=tuple(row.changes),
    )


def _changed_meanwhile(book: Book, since: Sequence[Version]) -> Exception:
    said = [f"{one.who or 'somebody'} {one.at:%d %b %H:%M} ({'; '.join(one.changes[:3]) or one.why})" for one in since]
    told = (
        f"was changed meanwhile by {', '.join(said)}" if said else "is another one than the one these files came from"
    )
    return fault(book.name, "changed_meanwhile", told, "hand it out anew, make your change there and bring it again")


def _rows_of(inputs: WeekInputs, files: Sequence[File]) -> dict[Table, list[dict[str, Any]]]:
    """Every row a week consists of, by table."""
    bare = replace(inputs.shop, frames=(), burned=())
    found = {
        schema.SHOPS: [row_of(bare, schema.SHOPS)],
        schema.FILES: [{"name": name, "content": content, "more": {}} for name, content in files],
    }
    for record, lists in ((inputs, LISTS), (inputs.shop, OF_SHOP)):
        found |= {table: [row_of(one, table) for one in getattr(record, field)] for field, table, _ in lists}
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turn:
    """What a new version changes in a table: rows that end, by their places, and rows that begin."""

    table: Table
    ended: list[int]
    added: list[dict[str, Any]]

    def make(self, connection: Connection, version: int) -> None:
        """The table says so from this version on."""
        if self.ended:
            places = self.table.c.until.is_(None) & self.table.c.place.in_(self.ended)
            connection.execute(update(self.table).where(places).values(until=version))
        if self.added:
            connection.execute(
                insert(self.table), [sealed(self.table, {**row, "since": version}) for row in self.added]
            )


def _turn(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]], seen: int) -> _Turn:
    """What is to change in a table that says what it said at version `seen`, so that it has these rows."""
    stands = {row.place: row for row in connection.execute(_counting(table, seen))}
    kept = {place for place, row in enumerate(rows) if place in stands and _values(stands[place]) == row}
    return _Turn(
        table=table,
        ended=[place for place in stands if place not in kept],
        added=[{**row, "place": place} for place, row in enumerate(rows) if place not in kept],
    )


def _values(row: Row[Any]) -> dict[str, Any]:
    return {name: value for name, value in row._mapping.items() if name not in IDENTITY}


def _counting(table: Table, version: int) -> Select[Any]:
    """The rows of a table that count at a version."""
    return select(table).where(counts_at(table, version))


def _dated(connection: Connection, version: int, rows_seal: str) -> dict[Table, list[dict[str, Any]]]:
    """The rows that count at a version, each as it was put in, in the order in which they stand. Raises
    DamagedRowError where they are not those that were put in.
    """
    found: dict[Table, list[dict[str, Any]]] = {}
    seals: list[str] = []
    for table in schema.DATED:
        rows = connection.execute(_counting(table, version).order_by(table.c.place)).all()
        seals += [as_written(table, row._mapping)["seal"] for row in rows]
        values = [_values(row) for row in rows]
        found[table] = [{**row, **row.pop("more")} for row in values]
    if seal_of_rows(seals) != rows_seal:
        raise DamagedRowError(schema.VERSIONS.name, version)
    return found


def _add_names(connection: Connection, order_ids: Iterable[str]) -> None:
    known = set(connection.scalars(select(schema.ORDER_NAMES.c.order_id)))
    new = [{"order_id": order_id} for order_id in dict.fromkeys(order_ids) if order_id not in known]
    if new:
        connection.execute(insert(schema.ORDER_NAMES), new)

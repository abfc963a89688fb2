"""Opening the book: a file on this computer, or a server that several computers share.

On a file nobody who reads ever waits (write-ahead log), and whoever writes says so at once and waits for those before
(BEGIN IMMEDIATE, busy timeout). On a server, writers take hold of the book's one row, readers see one moment.
"""

from __future__ import annotations

import os
import random
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, insert, inspect, select, text, update
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError, OperationalError, SQLAlchemyError

from scheduler.book.faults import BRING_BACK, fault, told_in_shop_words
from scheduler.book.schema import BOOK, METADATA
from scheduler.book.seals import DamagedRowError, seal_all
from scheduler.book.soundness import refuse_damage
from scheduler.errors import InputError

NEWEST = "0003"
"""The migration that makes the tables as they are now."""

BUSY_SECONDS = 60.0
"""How long somebody who writes waits for those who write already."""

LOOK_AGAIN_S = 0.02
"""Whoever waits to write looks again after this long at most."""

MIGRATING = 2_160_731
"""The lock on a server that only one computer can hold while it makes tables; any number of our own."""

MIGRATIONS = Path(__file__).parent / "migrations"


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """An opened book. name: what messages call it, without any password."""

    engine: Engine
    name: str

    @property
    def is_file(self) -> bool:
        """True if the book is a file on this computer."""
        return self.engine.dialect.name == "sqlite"

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """The book as it stands at one moment, whatever is written meanwhile."""
        with self.damage_told(), self.engine.connect() as connection:
            if not self.is_file:
                connection = connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """The book to be written, by one at a time: everything is kept when this ends well, else nothing."""
        with self.damage_told(), self.engine.connect() as connection:
            connection = connection.execution_options(writes=True)
            with connection.begin():
                if not self.is_file:
                    connection.execute(select(BOOK.c.book_id).with_for_update())
                yield connection

    @contextmanager
    def damage_told(self) -> Iterator[None]:
        """Whatever a damaged row leads to is told as that row; what goes wrong in a sound book is our own fault."""
        with told_in_shop_words(self.name):
            try:
                yield
            except (InputError, DamagedRowError, OSError, OperationalError, UnicodeDecodeError):
                raise
            except Exception:
                if self.is_file:
                    self.refuse_damage()
                raise

    def refuse_damage(self) -> None:
        """Raise DamagedRowError where a row of the book's file is not as it was written."""
        with self.engine.connect() as connection, connection.begin():
            refuse_damage(connection, is_sealed=_form(connection, self.name) == NEWEST)

    def close(self) -> None:
        """Let go of file or server."""
        self.engine.dispose()


def new_book(address: str, now: datetime) -> Book:
    """An empty book, whole or not at all. Raises InputError where one is there already or cannot be made."""
    book = _connected(address)
    with told_in_shop_words(book.name):
        if not book.is_file:
            _make_tables(book, now)
            return book
        path = Path(str(book.engine.url.database))
        _refuse_taken_place(path, book.name)
        part = path.with_name(f".{path.name}.{os.getpid()}.part")
        try:
            making = Book(engine=_sqlite_engine(f"sqlite:///{part}"), name=book.name)
            _make_tables(making, now)
            making.close()
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    return book


def _make_tables(book: Book, now: datetime) -> None:
    with _migrating(book) as connection:
        if inspect(connection).get_table_names():
            raise fault(book.name, "book_there", "holds something already", "name another place, or use that book")
        _migrate(connection)
        connection.execute(
            insert(BOOK).values(
                book_id=1, last_version=0, last_plan=0, last_event=0, made_at=now.isoformat(timespec="seconds")
            )
        )


def open_book(address: str) -> Book:
    """The book at a path or a server's address, brought to the newest form. Raises InputError where it is none."""
    book = _connected(address)
    with book.damage_told():
        if book.is_file and not Path(str(book.engine.url.database)).is_file():
            raise fault(book.name, "no_book", "is not there", "look at its name, or start one with: pressweek book new")
        with book.engine.connect() as connection, connection.begin():
            form = _form(connection, book.name)
        if form != NEWEST:
            with _migrating(book) as connection:
                if _form(connection, book.name) != NEWEST:  # somebody else may have been quicker
                    if book.is_file:
                        refuse_damage(connection, is_sealed=False)  # what is sealed now counts from now on
                    _migrate_told(connection, book.name)
    return book


def _form(connection: Connection, name: str) -> str:
    """The migration the book stands at. Raises InputError where it is no book, or one of a later program."""
    if not inspect(connection).has_table("alembic_version"):
        raise fault(name, "no_book", "is no book of a shop", "look at its name, or start one with: pressweek book new")
    forms = connection.scalars(text("SELECT version_num FROM alembic_version")).all()
    form = str(forms[0]) if len(forms) == 1 else ""
    if not (len(form) == len(NEWEST) and form.isdecimal()):
        raise fault(name, "damaged", f"has no form this program knows ({form[:20]!r})", BRING_BACK)
    if form > NEWEST:
        hint = "bring this computer's Pressweek up to date first"
        raise fault(name, "newer_book", "was written by a later Pressweek than this one", hint)
    return form


def next_number(connection: Connection, of: str) -> int:
    """The next version, plan or event: one more than there ever was. of: a column of the book's row."""
    column = BOOK.c[of]
    number = connection.execute(update(BOOK).values({column: column + 1}).returning(column)).scalar_one()
    return int(number)


def _connected(address: str) -> Book:
    if "://" not in address:
        path = Path(address).absolute()
        return Book(engine=_sqlite_engine(f"sqlite:///{path}"), name=path.name)
    try:
        url = make_url(address)
        name = url.render_as_string(hide_password=True)
        if url.get_backend_name() == "sqlite":
            if url.database in (None, "", ":memory:"):
                raise fault(name, "no_address", "names no file", "write a path, as shop.book")
            return Book(engine=_sqlite_engine(address), name=name)
        return Book(engine=create_engine(url, pool_pre_ping=True), name=name)
    except (ArgumentError, NoSuchModuleError, ModuleNotFoundError, ValueError) as refused:
        hint = "write a path, or an address as postgresql+psycopg://name@server/book, and install its driver"
        raise fault(_bare(address), "no_address", "is no address that can be reached from here", hint) from refused


def _bare(address: str) -> str:
    """An address without what may be a password."""
    return f"{address.split('://', 1)[0]}://…"


def _sqlite_engine(url: str) -> Engine:
    engine = create_engine(url, connect_args={"timeout": BUSY_SECONDS})
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _: Any) -> None:
    """Every connection: beginnings are said aloud, rows belong to rows that are there, what is kept is on the disk."""
    connection.isolation_level = None
    for pragma in ("foreign_keys = ON", "synchronous = FULL"):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    if connection.get_execution_options().get("writes", False):
        bare = connection.connection.dbapi_connection
        assert isinstance(bare, sqlite3.Connection)
        _begin_writing(bare)
    else:
        connection.exec_driver_sql("BEGIN")


def _begin_writing(bare: sqlite3.Connection) -> None:
    """The book is ours to write. Everybody who waits looks again equally soon: SQLite's own waiting looks ever more
    seldom, so that among many who write somebody waits for ever.
    """
    until = time.monotonic() + BUSY_SECONDS
    bare.execute("PRAGMA busy_timeout = 0")
    try:
        while True:
            try:
                bare.execute("BEGIN IMMEDIATE")
            except sqlite3.OperationalError as busy:
                if "locked" not in str(busy) or time.monotonic() > until:
                    raise
                time.sleep(random.random() * LOOK_AGAIN_S)
            else:
                return
    finally:
        bare.execute(f"PRAGMA busy_timeout = {int(1000 * BUSY_SECONDS)}")


@contextmanager
def _migrating(book: Book) -> Iterator[Connection]:
    """A connection on which tables may be made anew: all of it or nothing; every row still leads to its own then."""
    with book.engine.connect() as connection:
        if book.is_file:
            bare = connection.connection.dbapi_connection
            assert isinstance(bare, sqlite3.Connection)
            bare.execute("PRAGMA journal_mode = WAL")  # it stays so
            bare.execute("PRAGMA foreign_keys = OFF")  # else no table that others lead to could be made anew
        connection = connection.execution_options(writes=True)
        try:
            with connection.begin():
                if connection.dialect.name == "postgresql":
                    connection.execute(text("SELECT pg_advisory_xact_lock(:room)"), {"room": MIGRATING})
                yield connection
                if book.is_file and connection.exec_driver_sql("PRAGMA foreign_key_check").all():
                    raise fault(book.name, "damaged", "holds rows that belong to nothing", BRING_BACK)
        finally:
            connection.invalidate()  # the next one holds to links again


def _migrate_told(connection: Connection, name: str) -> None:
    """The tables are brought to the newest form. Raises InputError where they are not those of an earlier one."""
    try:
        _migrate(connection)
    except SQLAlchemyError as odd:
        if isinstance(odd, DBAPIError):
            raise  # what the database itself says is told by `told_in_shop_words`
        raise fault(name, "damaged", "has other tables than any Pressweek made", BRING_BACK) from odd


def _migrate(connection: Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    config.attributes["connection"] = connection
    config.attributes["metadata"] = METADATA
    command.upgrade(config, NEWEST)
    seal_all(connection)


def _refuse_taken_place(path: Path, name: str) -> None:
    if path.exists():
        raise fault(name, "book_there", "is there already", "name another file, or use that book")
    if not path.parent.is_dir():
        raise fault(name, "no_folder", "stands in a folder that is not there", f"make the folder {path.parent.name}")

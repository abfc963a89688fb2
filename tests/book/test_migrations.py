"""Books of every earlier form, kept as they were written then, are brought to the newest when they are opened."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Connection

from scheduler import shop_book
from scheduler.book import opening
from scheduler.book.copies import unsound
from scheduler.book.opening import open_book
from scheduler.book.schema import METADATA
from scheduler.book.weeks import load_week, store_week
from scheduler.domain.plan import Plan
from scheduler.errors import InputError
from scheduler.record.events import Done
from tests.book.books import NOW

FORMS = {"0001": "first_form.sql", "0002": "second_form.sql"}
"""A book of each earlier form: two versions of the small good week, a plan that was announced, one event."""


@pytest.fixture(params=FORMS)
def old(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A book of an earlier form."""
    connection = sqlite3.connect(tmp_path / "old.book")
    connection.executescript((Path(__file__).parent / FORMS[request.param]).read_text(encoding="utf-8"))
    connection.close()
    return tmp_path / "old.book"


def test_an_earlier_form_becomes_the_newest(old: Path) -> None:
    """Tables are those of today, and everything that was in the book still is."""
    book = open_book(str(old))
    with book.reading() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    assert unsound(book) == ""
    kept = load_week(book)
    inputs = kept.inputs
    assert [(order.order_id, order.client) for order in inputs.orders] == [
        ("4102", "Fennick Street Brewery"),
        ("4103", "Low Ford Elementary"),
    ]
    assert [(lot.garment, lot.pieces) for lot in inputs.lots] == [
        ("black tee", 144),
        ("natural tee", 1200),
        ("Royal Hoodie", 40),
    ]
    assert [len(one.inks) for one in inputs.imprints] == [2, 1, 2]
    assert [one.pieces_left for one in inputs.progress] == [90]
    assert (inputs.shop.name, f"{inputs.shop.plan_from:%a %H:%M %Z}") == ("Harbour Row Prints", "Mon 07:00 WET")
    assert [one.actual_set_up_min for one in inputs.designs] == [35, None]
    assert kept.version.who == "Bruno"
    assert kept.version.changes == ("orders: 4103 left chest is new",)
    assert load_week(book, 1).inputs.orders == inputs.orders[:1]
    announced = shop_book.announced_plan(str(old))
    assert announced is not None
    assert announced.plan == Plan(runs=(), orders=())
    assert announced.inputs == inputs
    assert announced.entry.after is None
    (event,) = shop_book.events_of(str(old))
    assert isinstance(event, Done)
    assert (event.number, event.who, event.pieces) == (1, "Ben", 144)
    assert store_week(book, inputs, [], seen=2, at=NOW, who="Ana", why="brought") == 3


def test_a_backup_of_an_earlier_form_can_be_brought_back(old: Path, tmp_path: Path) -> None:
    """A backup taken by an earlier program is restored into a book of today, and stays as it was itself."""
    before = old.read_bytes()
    shop_book.new_book(str(tmp_path / "new.book"), NOW)
    shop_book.restore(str(tmp_path / "new.book"), old)
    assert len(shop_book.status(str(tmp_path / "new.book")).versions) == 2
    assert old.read_bytes() == before


def _form_of(book: Path) -> str:
    with sqlite3.connect(book) as connection:
        return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])


def test_a_migration_that_fails_leaves_the_book_as_it_was(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a migration is none: the book can still be opened, by the old program as well as by this one."""
    migrate, form = opening._migrate, _form_of(old)

    def then_fail(connection: Connection) -> None:
        migrate(connection)
        raise RuntimeError("the lights go out")

    with monkeypatch.context() as patched:
        patched.setattr(opening, "_migrate", then_fail)
        with pytest.raises(RuntimeError):
            open_book(str(old))
    with sqlite3.connect(old) as connection:
        assert "seal" not in {row[1] for row in connection.execute("PRAGMA table_info(plans)")}
    assert _form_of(old) == form != opening.NEWEST
    assert load_week(open_book(str(old))).version.number == 2


@pytest.mark.parametrize("table", ["lots", "orders"])
def test_an_earlier_form_that_lost_what_it_speaks_of_is_told(old: Path, table: str) -> None:
    """A book without seals whose prints name garments, or whose garments name orders, that are gone: damaged."""
    with closing(sqlite3.connect(old)) as connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute(f"DELETE FROM {table} WHERE place = 1")
        connection.commit()
    with pytest.raises(InputError) as refused:
        shop_book.question(str(old))
    assert [problem.code for problem in refused.value.problems] == ["damaged"]

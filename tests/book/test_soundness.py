"""A row of the book that is not as it was written is noticed, and told with its table and number."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import create_engine

from scheduler import cli, shop_book
from scheduler.book.copies import unsound
from scheduler.book.opening import open_book
from scheduler.book.seals import DamagedRowError
from scheduler.book.soundness import refuse_damage
from scheduler.errors import InputError
from tests.book.books import NOW
from tests.book.planned import announced_book, noted

DAMAGE = {
    "UPDATE lots SET pieces = pieces + 1 WHERE row_id = 2": ("lots", 2),
    "UPDATE lots SET pieces = 'many' WHERE row_id = 1": ("lots", 1),
    "UPDATE orders SET more = '{' WHERE row_id = 3": ("orders", 3),
    "UPDATE shops SET zone = 'Mars/Deep' WHERE row_id = 1": ("shops", 1),
    "DELETE FROM lots WHERE row_id = 1": ("versions", 1),
    "UPDATE versions SET who = 'Bruno' WHERE version = 1": ("versions", 1),
    "UPDATE events SET at = 'noon' WHERE number = 1": ("events", 1),
    "UPDATE events SET kind = 'lost' WHERE number = 1": ("events", 1),
    "UPDATE plans SET cost_cents = 7 WHERE number = 1": ("plans", 1),
    "UPDATE announcements SET who = 'Bruno' WHERE \"plan\" = 1": ("announcements", 1),
    "UPDATE book SET last_event = 0": ("book", 1),
    "DELETE FROM order_names WHERE order_id = (SELECT order_id FROM orders WHERE row_id = 1)": ("orders", 1),
}
"""What was done to a book, and the table and row that are told."""


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a week, an announced plan and one event."""
    book = announced_book(tmp_path_factory.mktemp("good"))
    found = shop_book.announced_plan(book)
    assert found is not None
    noted(book, "start", found.plan.runs[0].run_id)
    return Path(book)


def spoiled(good: Path, folder: Path, statement: str) -> Path:
    """A copy of the book after a statement."""
    path = folder / "shop.book"
    with closing(sqlite3.connect(good)) as source, closing(sqlite3.connect(path)) as copy:
        source.backup(copy)
        copy.execute(statement)
        copy.commit()
    return path


@pytest.mark.parametrize("statement", DAMAGE)
def test_a_changed_row_is_told_with_its_table_and_number(good: Path, tmp_path: Path, statement: str) -> None:
    """Whatever was changed behind the program's back is found by looking."""
    path, (table, row) = spoiled(good, tmp_path, statement), DAMAGE[statement]
    book = open_book(str(path))
    assert unsound(book) == f"{table}, row {row}: is not as it was written"
    book.close()


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("UPDATE events SET told = 'null' WHERE number = 1", ("events", 1)),
        ("UPDATE orders SET more = '[]' WHERE row_id = 2", ("orders", 2)),
        ("ALTER TABLE book DROP COLUMN last_event", ("book", 1)),
        ("SELECT 1", None),
    ],
)
def test_a_row_of_an_earlier_form_is_looked_at_without_its_seal(
    good: Path, tmp_path: Path, statement: str, told: tuple[str, int] | None
) -> None:
    """A document that says nothing by name, or a count that is gone, is damage in a book without seals too."""
    with closing(create_engine(f"sqlite:///{spoiled(good, tmp_path, statement)}").connect()) as connection:
        if told is None:
            refuse_damage(connection, is_sealed=False)
            return
        with pytest.raises(DamagedRowError) as refused:
            refuse_damage(connection, is_sealed=False)
    assert (refused.value.table, refused.value.row) == told


def test_a_damaged_book_is_neither_backed_up_nor_brought_back(good: Path, tmp_path: Path) -> None:
    """Both are refused with the row that is at fault; no file is left, and the good book says what it said."""
    path = spoiled(good, tmp_path, "UPDATE lots SET pieces = 1 WHERE row_id = 2")
    other = tmp_path / "other" / "shop.book"
    other.parent.mkdir()
    spoiled(good, other.parent, "SELECT 1")
    before = shop_book.status(str(other))
    with pytest.raises(InputError, match="lots, row 2"):
        shop_book.restore(str(other), path)
    with pytest.raises(InputError, match="lots, row 2"):
        shop_book.back_up(str(path), tmp_path / "backup.book", NOW)
    assert not (tmp_path / "backup.book").exists()
    assert shop_book.status(str(other)) == before
    assert before.fault == ""


@pytest.mark.parametrize(
    ("statement", "door"),
    [
        ("UPDATE lots SET pieces = pieces + 1 WHERE row_id = 1", shop_book.question),
        ("UPDATE events SET kind = 'lost' WHERE number = 1", shop_book.events_of),
        ("UPDATE events SET told = '{' WHERE number = 1", shop_book.history),
        ("UPDATE plans SET cost_cents = 'dear' WHERE number = 1", shop_book.history),
        ("UPDATE announcements SET at = 'noon'", shop_book.announced_plan),
        ("UPDATE versions SET changes = '{'", shop_book.status),
        ("DELETE FROM shops", shop_book.question),
    ],
)
def test_a_changed_row_is_not_planned_with(
    good: Path, tmp_path: Path, statement: str, door: Callable[[str], object]
) -> None:
    """Each door that needs such a row refuses with one fault that names the book."""
    path = spoiled(good, tmp_path, statement)
    with pytest.raises(InputError) as refused:
        door(str(path))
    (problem,) = refused.value.problems
    assert (problem.file, problem.code, problem.row) == ("shop.book", "damaged", 1)


def test_the_command_tells_it_in_one_line(
    good: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 2, one line that names file, row and table and says what to do."""
    path = spoiled(good, tmp_path, "UPDATE orders SET client = 'Someone else' WHERE row_id = 2")
    monkeypatch.setattr("sys.argv", ["pressweek", "book", "status", str(path)])
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == cli.BAD_INPUT
    told = "shop.book:2:orders: is not as it was written; bring the last backup back with: pressweek book restore"
    assert " ".join(capsys.readouterr().err.split()).startswith(told)

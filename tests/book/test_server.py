"""The book on a server that several computers share: PostgreSQL, started by the tests themselves."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from scheduler import api, shop_book
from scheduler.book import opening
from scheduler.book.opening import open_book
from scheduler.book.schema import METADATA
from scheduler.book.weeks import load_week, store_week
from scheduler.errors import InputError
from tests.book.books import NOW, good_week
from tests.book.crowd import crowd
from tests.book.killed import kill_while_writing
from tests.book.planned import CLOCK, SOLO, noted, planned_again, solo_plan
from tests.book.postgres import another, server
from tests.inputs.weeks import write_folder
from tests.workload.random_inputs import random_inputs

pytestmark = pytest.mark.server


@pytest.fixture(scope="module")
def running() -> Iterator[str]:
    """The address of a server."""
    with server() as address:
        yield address


@pytest.fixture
def address(running: str, tmp_path: Path) -> str:
    """An empty book on the server."""
    place = another(running, f"book_{abs(hash(str(tmp_path)))}")
    shop_book.new_book(place, NOW)
    return place


def test_the_tables_are_those_of_the_program(address: str) -> None:
    """The migrations make on the server what the program's schema has."""
    with open_book(address).reading() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_weeks_come_back(address: str, tmp_path: Path) -> None:
    """The small good week and five drawn ones, each over the one before, are read back the same, then and later."""
    book = open_book(address)
    weeks = [good_week(tmp_path / "week"), *(random_inputs(seed) for seed in range(5))]
    for number, inputs in enumerate(weeks):
        store_week(book, inputs, [("a", b"\xff\x00")], seen=number, at=NOW, who="Ana", why="brought")
        assert load_week(book).inputs == inputs
    assert [load_week(book, number).inputs for number in range(1, 7)] == weeks


def test_the_whole_way_of_a_week(address: str, tmp_path: Path) -> None:
    """Brought, planned, announced, noted, taken back, planned again, announced: as in a file."""
    week = write_folder(tmp_path / "solo", {path.name: path.read_bytes() for path in api.week_files(SOLO)})
    shop_book.bring(address, week, who="Ana", now=NOW)
    shop_book.keep_plan(address, shop_book.question(address), solo_plan()[1], who="Ana", now=CLOCK)
    shop_book.announce(address, who="Ana", now=CLOCK)
    noted(address, "start", "312", "08:35")
    noted(address, "done", "312", "12:40")
    with pytest.raises(InputError, match="has it already"):
        noted(address, "done", "312")
    noted(address, "undo")
    asked, _, number = planned_again(address, "2026-03-02 12:50")
    assert asked.stands is not None
    assert asked.stands.started == ("312 front light",)
    assert shop_book.announce(address, who="Ana", now=CLOCK).entry.number == number == 2
    assert len(shop_book.history(address)) == 8
    assert shop_book.status(address).fault == ""
    assert "postgres@" in shop_book.status(address).name


def test_a_crowd_loses_nothing(address: str, tmp_path: Path) -> None:
    """Five who write and five who read for two seconds: no fault, nothing acknowledged is lost, nothing is half."""
    found = crowd(address, good_week(tmp_path / "week"), writers=5, readers=5, seconds=2, pause_s=0.05)
    assert found.faults == ()
    assert found.events_kept + found.changes_kept > 0


def test_killed_in_the_midst_of_writing(address: str) -> None:
    """A computer switched off while it writes leaves the server's book sound, with all that was acknowledged."""
    inputs, plan = solo_plan()
    assert [kill_while_writing(address, inputs, plan, seed).faults for seed in range(4)] == [(), (), (), ()]


def test_backed_up_into_a_file_and_brought_back(address: str, running: str, tmp_path: Path) -> None:
    """A server's book becomes a file that is a book itself; from it the server's book, or another, is what it was."""
    inputs = good_week(tmp_path / "week")
    store_week(open_book(address), inputs, [("a", b"b")], seen=0, at=NOW, who="Ana", why="brought")
    shop_book.back_up(address, tmp_path / "copy.book", NOW)
    assert load_week(open_book(str(tmp_path / "copy.book"))).inputs == inputs
    store_week(open_book(address), inputs, [], seen=1, at=NOW, who="Ana", why="brought")
    shop_book.restore(address, tmp_path / "copy.book")
    assert load_week(open_book(address)).files == (("a", b"b"),)
    assert store_week(open_book(address), inputs, [], seen=1, at=NOW, who="Ana", why="brought") == 3
    second = another(running, "second")
    shop_book.new_book(second, NOW)
    shop_book.restore(second, tmp_path / "copy.book")
    assert load_week(open_book(second)).inputs == inputs


def test_brought_to_the_newest_form_by_two_at_once(running: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two computers that open a book of the first form at once both find the newest; it is made once."""
    place = another(running, "old_form")
    with monkeypatch.context() as patched:
        patched.setattr(opening, "NEWEST", "0001")
        patched.setattr(opening, "seal_all", lambda _: None)  # the first form has no seals
        shop_book.new_book(place, NOW)
    with ThreadPoolExecutor(2) as both:
        books = list(both.map(open_book, [place, place]))
    for book in books:
        with book.reading() as connection:
            assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_a_server_that_is_not_there_is_told(tmp_path: Path) -> None:
    """An address nobody answers at is one fault, without the password."""
    with pytest.raises(InputError, match="cannot be reached") as refused:
        open_book(f"postgresql+psycopg://ana:secret@/book?host={tmp_path}")
    assert "secret" not in str(refused.value)

import os
from pathlib import Path

import pytest

from scheduler import shop_book
from scheduler.book.copies import unsound
from scheduler.book.opening import open_book
from scheduler.book.weeks import load_week, store_week
from tests.book.books import NOW, book_at, good_week
from tests.book.crowd import crowd
from tests.book.killed import kill_while_writing
from tests.book.planned import solo_plan


def test_a_crowd_loses_nothing(tmp_path: Path) -> None:
    """Five who write and five who read for two seconds: no fault, nothing acknowledged is lost, nothing is half."""
    book_at(tmp_path / "shop.book").close()
    path = str(tmp_path / "shop.book")
    found = crowd(path, good_week(tmp_path / "week"), writers=5, readers=5, seconds=2, pause_s=0.05)
    assert found.faults == ()
    assert found.events_kept + found.changes_kept > 0
    assert sum(len(one.waits) for one in found.readers) > 0


@pytest.mark.parametrize("seed", range(4))
def test_killed_in_the_midst_of_writing(tmp_path: Path, seed: int) -> None:
    """Killed at a random moment of bringing, planning, announcing or noting: the book is sound, and what was said to be
    kept is there.
    """
    book_at(tmp_path / "shop.book").close()
    inputs, plan = solo_plan()
    found = [kill_while_writing(str(tmp_path / "shop.book"), inputs, plan, 10 * seed + again) for again in range(2)]
    assert [one.faults for one in found] == [(), ()]


def test_readers_do_not_wait_for_who_writes(tmp_path: Path) -> None:
    """While somebody holds the book to write, a week is read at once, as it was before."""
    book_at(tmp_path / "shop.book").close()
    inputs = good_week(tmp_path / "week")
    book = open_book(str(tmp_path / "shop.book"))
    store_week(book, inputs, [], seen=0, at=NOW, who="Ana", why="brought")
    with book.writing():
        assert load_week(open_book(str(tmp_path / "shop.book"))).inputs == inputs


def test_restored_while_in_use(tmp_path: Path) -> None:
    """Somebody who reads when a backup is brought back sees the week of before to the end, then the one restored."""
    book_at(tmp_path / "shop.book").close()
    path = str(tmp_path / "shop.book")
    inputs = good_week(tmp_path / "week")
    book = open_book(path)
    store_week(book, inputs, [], seen=0, at=NOW, who="Ana", why="brought")
    shop_book.back_up(path, tmp_path / "copy.book", NOW)
    store_week(book, inputs, [("x", b"y")], seen=1, at=NOW, who="Ana", why="brought")
    with book.reading() as connection:
        before = connection.exec_driver_sql("SELECT count(*) FROM versions").scalar()
        shop_book.restore(path, tmp_path / "copy.book")
        assert connection.exec_driver_sql("SELECT count(*) FROM versions").scalar() == before == 2
    assert load_week(book).version.number == 1
    assert unsound(book) == ""
    assert store_week(book, inputs, [], seen=1, at=NOW, who="Ana", why="brought") == 3


def test_restored_from_a_book_in_use(tmp_path: Path) -> None:
    """What was written last, and stands in the log of the file alone, is restored too; a book restored from itself is
    what it was.
    """
    inputs = good_week(tmp_path / "week")
    for name in ("used.book", "other.book"):
        book_at(tmp_path / name).close()
    used = open_book(str(tmp_path / "used.book"))
    store_week(used, inputs, [], seen=0, at=NOW, who="Ana", why="brought")
    with used.reading() as connection:
        connection.exec_driver_sql("SELECT count(*) FROM versions").scalar()  # keeps the log from being taken in
        store_week(used, inputs, [("x", b"y")], seen=1, at=NOW, who="Ana", why="brought")
        assert (tmp_path / "used.book-wal").stat().st_size > 0
        for name in ("other.book", "used.book"):
            shop_book.restore(str(tmp_path / name), tmp_path / "used.book")
            assert load_week(open_book(str(tmp_path / name))).files == (("x", b"y"),)


def test_a_restore_that_is_killed_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A restore that ends before it is through leaves the book as it was, whole."""
    from scheduler.book import copies

    book_at(tmp_path / "shop.book").close()
    path = str(tmp_path / "shop.book")
    inputs = good_week(tmp_path / "week")
    store_week(open_book(path), inputs, [], seen=0, at=NOW, who="Ana", why="brought")
    shop_book.back_up(path, tmp_path / "copy.book", NOW)
    store_week(open_book(path), inputs, [("x", b"y")], seen=1, at=NOW, who="Ana", why="brought")
    child = os.fork()
    if child == 0:
        monkeypatch.setattr(copies, "_fill", lambda *_: os.kill(os.getpid(), 9))
        shop_book.restore(path, tmp_path / "copy.book")
        os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -9
    assert load_week(open_book(path)).files == (("x", b"y"),)
    assert unsound(open_book(path)) == ""

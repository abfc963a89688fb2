from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import func, select

from scheduler import api
from scheduler.book import schema
from scheduler.book.opening import Book, open_book
from scheduler.book.weeks import load_week, store_week, versions
from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError
from tests.book.books import NOW, book_at, good_week
from tests.workload.random_inputs import random_inputs

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """An empty book."""
    return book_at(tmp_path / "shop.book")


def kept(book: Book, inputs: WeekInputs, seen: int = 0, who: str = "Ana") -> int:
    """The version under which a week is kept."""
    return store_week(book, inputs, [("orders.csv", b"\xff\x00\n")], seen=seen, at=NOW, who=who, why="brought")


@pytest.mark.parametrize("name", ["solo", "midsize", "contract"])
def test_a_week_comes_back_as_it_was_read(book: Book, tmp_path: Path, name: str) -> None:
    """Every value of the three weeks is the same after the book was closed and opened, each file byte for byte."""
    inputs = api.read_week(SCENARIOS / name)
    kept(book, inputs)
    book.close()
    again = load_week(open_book(str(tmp_path / "shop.book")))
    assert again.inputs == inputs
    assert again.files == (("orders.csv", b"\xff\x00\n"),)


def test_every_setting_and_heading_comes_back(book: Book, tmp_path: Path) -> None:
    """The week that has something under every heading is the same afterwards, progress and assumptions too."""
    inputs = good_week(tmp_path / "week")
    kept(book, inputs)
    assert load_week(book).inputs == inputs
    assert inputs.progress
    assert inputs.assumptions
    assert inputs.shop.burned


def test_random_weeks_come_back_and_earlier_ones_stay(book: Book) -> None:
    """Eight drawn weeks, each brought over the one before: each is the same when it is read, and at the end too."""
    weeks = [random_inputs(seed) for seed in range(8)]
    for number, inputs in enumerate(weeks):
        kept(book, inputs, seen=number)
        assert load_week(book).inputs == inputs
    for number, inputs in enumerate(weeks, start=1):
        assert load_week(book, number).inputs == inputs


def test_the_hour_that_comes_twice_stays_the_one_it_was(book: Book, tmp_path: Path) -> None:
    """A moment in the second of two equal hours comes back as the second, one in the first as the first."""
    inputs = good_week(tmp_path / "week")
    twice = inputs.shop.plan_from.replace(month=10, day=25, hour=1, minute=30)
    for version, fold in enumerate((0, 1)):
        moved = replace(inputs, shop=replace(inputs.shop, plan_from=twice.replace(fold=fold)))
        kept(book, moved, seen=version)
        assert load_week(book).inputs.shop.plan_from.utcoffset() == twice.replace(fold=fold).utcoffset()
    assert twice.replace(fold=0).utcoffset() != twice.replace(fold=1).utcoffset()


def test_rows_that_say_the_same_are_kept_once(book: Book, tmp_path: Path) -> None:
    """One changed client is one new row: the other orders stand as they stood."""
    inputs = good_week(tmp_path / "week")
    kept(book, inputs)
    first, *others = inputs.orders
    kept(book, replace(inputs, orders=(replace(first, client="Somebody Else"), *others)), seen=1)
    with book.reading() as connection:
        assert connection.scalar(select(func.count()).select_from(schema.ORDERS)) == len(inputs.orders) + 1
        assert connection.scalar(select(func.count()).select_from(schema.LOTS)) == len(inputs.lots)


def test_nobody_writes_over_what_he_has_not_seen(book: Book, tmp_path: Path) -> None:
    """Changes made to version 1 are refused once there is a version 2, told by whom; made to 2 they are kept."""
    inputs = good_week(tmp_path / "week")
    kept(book, inputs)
    kept(book, replace(inputs, orders=inputs.orders[:1]), seen=1, who="Bruno")
    with pytest.raises(InputError) as refused:
        kept(book, inputs, seen=1, who="Carla")
    assert [one.code for one in refused.value.problems] == ["changed_meanwhile"]
    assert "Bruno" in str(refused.value)
    assert [one.who for one in versions(book)] == ["Ana", "Bruno"]
    assert kept(book, inputs, seen=2, who="Carla") == 3


def test_a_book_without_a_week_says_so(book: Book) -> None:
    """Reading the week of an empty book is told in one sentence."""
    with pytest.raises(InputError, match="holds no week yet"):
        load_week(book)

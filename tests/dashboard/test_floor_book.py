"""The floor noted on the pages, from the shop's book: two taps, drift at once, taken back, who changed what."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.floor_book import BOOK_VARIABLE, CLOCK_VARIABLE
from scheduler import shop_book
from tests.book.planned import CLOCK, announced_book, slow_first_run
from tests.dashboard.conftest import Open
from tests.dashboard.test_pages import texts
from tests.dashboard.weeks import planned


@pytest.fixture
def opened(open_page: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[str, Path, Open]:
    """The one-person shop with a plan announced in its book, seen at ten to one on Monday."""
    book = announced_book(tmp_path)
    monkeypatch.setenv(BOOK_VARIABLE, book)
    monkeypatch.setenv(CLOCK_VARIABLE, CLOCK.isoformat())
    return book, planned("solo", tmp_path / "week"), open_page


def first_run(book: str) -> str:
    """The run the announced plan begins with."""
    told = shop_book.announced_plan(book)
    assert told is not None
    return min(told.plan.runs, key=lambda one: one.set_up_start_tau).run_id


def tapped(page: AppTest, key: str) -> AppTest:
    """A button tapped, and nothing broken by it."""
    page.button(key=key).click()
    page.run()
    assert not page.exception
    return page


def test_a_run_is_started_stopped_and_done_at_the_press(opened: tuple[str, Path, Open]) -> None:
    """Each tap is an event in the book with the name of who tapped, and the page goes on from there."""
    book, week, open_page = opened
    page = open_page(week, "press")
    run_id = first_run(book)
    tapped(page, "start next")
    assert f"Noted: set-up started: {run_id}" in texts(page)
    tapped(page, "stop screen broke")
    assert "stands, screen broke" in texts(page)
    tapped(page, "on")
    page.number_input(key="spoiled pieces").set_value(3)
    tapped(page, "spoil")
    page.number_input(key="done pieces").set_value(20)
    tapped(page, "done")
    kinds = [(event.kind, event.number) for event in shop_book.events_of(book)]
    assert kinds == [("set-up started", 1), ("stopped", 2), ("went on", 3), ("spoiled", 4), ("done", 5)]
    assert {event.who for event in shop_book.events_of(book)} == {"Nuala"}
    assert page.button(key="start next").label == "Set-up has started"


def test_what_was_noted_by_mistake_is_taken_back(opened: tuple[str, Path, Open]) -> None:
    """Right after the tap one more tap takes it back: the run is to be started again."""
    book, week, open_page = opened
    page = tapped(open_page(week, "press"), "start next")
    tapped(page, "take back")
    assert "Taken back: number 1" in texts(page)
    assert shop_book.that_count(shop_book.events_of(book)) == ()
    assert page.button(key="start next")


def test_two_phones_do_not_note_the_same_twice(opened: tuple[str, Path, Open]) -> None:
    """Who taps second hears that it was noted already, and by whom; it is noted once."""
    book, week, open_page = opened
    page = open_page(week, "press")
    told = shop_book.Note(word="start", about=first_run(book), who="Zed")
    shop_book.note(book, told, now=CLOCK)
    tapped(page, "start next")
    assert any("Not noted" in one.value for one in page.error)
    assert "Zed" in texts(page)
    assert len(shop_book.events_of(book)) == 1


def test_the_floor_page_tells_drift_and_takes_back(opened: tuple[str, Path, Open]) -> None:
    """Where the floor stands is told in a sentence and by press; each note has its way back, each change its name."""
    book, week, open_page = opened
    shop_book.note(book, shop_book.Note(word="start", about=first_run(book), who="Zed"), now=CLOCK)
    page = open_page(week, "floor")
    told = texts(page)
    assert "Presses against the announced plan" in told
    assert "behind" in told or "late" in told or "miss" in told
    assert "Zed" in told
    tapped(page, "back 1")
    assert "Nothing was noted yet" in texts(page)
    assert any("took back number 1" in str(frame.value) for frame in page.dataframe)


def test_screens_are_ticked_off(opened: tuple[str, Path, Open]) -> None:
    """A set that is to be burned is ticked as burned, and hangs from then on."""
    book, week, open_page = opened
    page = open_page(week, "screens")
    key = next(one.key for one in page.button if one.key and one.key.startswith("burned "))
    tapped(page, key)
    (event,) = shop_book.events_of(book)
    assert (event.kind, getattr(event, "state", "")) == ("screen", "burned")
    assert not [one for one in page.button if one.key == key]
    assert page.button(key=key.replace("burned ", "reclaimed ", 1))


def test_told_days_are_held_against_what_happened(opened: tuple[str, Path, Open]) -> None:
    """The page on ship days tells whether the odds were true, or that it is too early to say."""
    book, week, open_page = opened
    told = shop_book.announced_plan(book)
    assert told is not None
    shop_book.note(book, shop_book.Note(word="packed", about=told.plan.orders[0].order_id), now=CLOCK)
    page = open_page(week, "ship")
    assert "Were the told days true?" in texts(page)
    assert "Too few orders to judge the odds by: 1 packed" in texts(page)


def test_without_a_book_the_pages_are_as_before(open_page: Open, tmp_path: Path) -> None:
    """A folder alone shows the press as planned, and the floor page says how a book is opened."""
    week = planned("solo", tmp_path)
    assert not [one for one in open_page(week, "press").button if one.key]
    assert 'the README tells how, under "The week is never as planned"' in texts(open_page(week, "floor"))


def test_the_page_says_which_figures_are_the_records(opened: tuple[str, Path, Open]) -> None:
    """Before anything was noted no figure is the record's; after a slow set-up the page says which one is."""
    book, week, open_page = opened
    page = open_page(week, "floor")
    assert "your own record" not in texts(page)
    slow_first_run(book)
    page.run()
    assert not page.exception
    assert "By what your own record says, not by the stated figures" in texts(page)
    assert "from the one time noted: 1." in texts(page)

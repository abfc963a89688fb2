"""The floor noted on a phone in a real browser, from the shop's book."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from dashboard.floor_book import CLOCK_VARIABLE
from scheduler import shop_book
from tests.book.planned import CLOCK, announced_book
from tests.dashboard.browsing import PHONE, go, served, settled, violations
from tests.dashboard.weeks import planned

pytestmark = pytest.mark.browser


def test_a_run_is_started_and_done_in_two_taps_each_and_taken_back(
    page: Page, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a phone: start in two taps, done in two, back in one; nothing scrolls sideways and every page reads."""
    monkeypatch.setenv(CLOCK_VARIABLE, CLOCK.isoformat())
    book = announced_book(tmp_path)
    page.set_viewport_size(PHONE)
    with served(planned("solo", tmp_path / "week"), book=book) as site:
        go(page, site, "press")
        page.get_by_role("button", name="Start set-up of").first.click()
        page.get_by_role("button", name="Set-up has started").first.click()
        page.get_by_text("Noted: set-up started").wait_for()
        settled(page)
        page.get_by_role("button", name="Done", exact=True).click()
        page.get_by_role("button", name="Yes, it is done").click()
        page.get_by_text("Noted: done").wait_for()
        settled(page)
        assert [event.kind for event in shop_book.events_of(book)] == ["set-up started", "done"]
        page.get_by_role("button", name="Take it back").click()
        page.get_by_text("Taken back: number 2").wait_for()
        assert [event.kind for event in shop_book.that_count(shop_book.events_of(book))] == ["set-up started"]
        for address in ("press", "screens", "floor"):
            go(page, site, address)
            assert page.get_by_test_id("stException").count() == 0
            assert page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth") <= PHONE["width"]
            assert violations(page) == []
        page.goto("about:blank")  # the server may go now


def announced_number(book: str) -> int:
    """The number of the plan that counts."""
    told = shop_book.status(book).announced
    assert told is not None
    return told.number


def test_the_floor_plans_again_can_be_stopped_and_announces(
    page: Page, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The search tells its best so far and ends when it is told to; the new plan is in the book, announced on a tap."""
    monkeypatch.setenv(CLOCK_VARIABLE, CLOCK.isoformat())
    book = announced_book(tmp_path)
    page.set_viewport_size(PHONE)
    with served(planned("solo", tmp_path / "week"), book=book) as site:
        go(page, site, "floor")
        page.get_by_role("button", name="Plan again", exact=True).click()
        page.get_by_text("Best so far:").wait_for()
        page.get_by_role("button", name="That will do").click()
        page.get_by_text("Keeping the announced order:").wait_for()
        assert announced_number(book) == 1
        go(page, site, "floor")  # another phone, or a reload, sees the same new plan
        page.get_by_role("button", name="Announce it").click()
        page.get_by_text("Plan 2 is announced.").wait_for()
        page.get_by_role("button", name="Plan again", exact=True).wait_for()
        assert announced_number(book) == 2
        page.goto("about:blank")

"""A rush order in a real browser: typed as the client says it, answered, taken and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from dashboard import kept
from scheduler import api
from tests.dashboard.browsing import PATIENCE_MS, Site, go, served
from tests.dashboard.weeks import planned

pytestmark = pytest.mark.browser


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Site]:
    """The demo week with a plan in use."""
    with served(planned("midsize", tmp_path)) as site:
        yield site


def orders_of(week: Path) -> set[str]:
    """The orders the week's files hold now."""
    return {order.order_id for order in api.read_week(week).orders}


FRONT, BACK = "Inks on the front, in print order", "Inks on the back"


def ask(page: Page, **typed: str) -> None:
    """Type a rush and ask whether it can be taken."""
    for label, text in typed.items():
        box = page.get_by_label(label, exact=True)
        box.fill(text)
        box.press("Tab")
    page.get_by_role("button", name="Can we?").click()


def test_a_rush_is_typed_answered_taken_and_taken_back(page: Page, shop: Site) -> None:
    """No ink, no answer; trying it changes nothing; taken, week and plan hold it; taken back, all is as it was."""
    before, used = orders_of(shop.week), kept.in_use(shop.week)
    go(page, shop, "rush")
    ask(page, **{FRONT: ""})
    page.get_by_text("Say which inks are printed").wait_for(timeout=PATIENCE_MS)
    ask(page, **{"Client": "Wrenfold Choir", "Pieces": "48", FRONT: "white, red", BACK: "gold"})
    stop = page.get_by_role("button", name="That will do")
    expect(stop).to_be_enabled(timeout=PATIENCE_MS)
    stop.click()
    page.get_by_text("48 black tee for Wrenfold Choir:", exact=True).wait_for(timeout=PATIENCE_MS)
    page.get_by_role("heading", name="rush-1 is ready").wait_for(timeout=PATIENCE_MS)
    way = page.get_by_test_id("stExpander").first
    ready = page.locator("table").first.locator("tbody tr").first
    expect(ready).to_contain_text("rush-1")
    assert orders_of(shop.week) == before
    assert kept.in_use(shop.week) == used
    way.locator("summary").click()
    expect(way).to_contain_text("Wrenfold Choir")
    way.get_by_role("button", name="Take it").click()
    page.get_by_text("Taken: ").wait_for(timeout=PATIENCE_MS)
    assert orders_of(shop.week) == before | {"rush-1"}
    taken = kept.in_use(shop.week)
    assert taken is not None
    assert "rush-1 back" in taken.plan_file.read_text(encoding="utf-8")
    page.get_by_role("button", name="Take the last one back").click()
    page.get_by_text("Taken back.").wait_for(timeout=PATIENCE_MS)
    assert orders_of(shop.week) == before
    assert kept.in_use(shop.week) == used
    page.get_by_role("button", name="Can we?").wait_for(timeout=PATIENCE_MS)

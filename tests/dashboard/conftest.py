"""What the tests of the pages share: a page run in this process, or a visitor in a browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page
from streamlit.testing.v1 import AppTest

from dashboard.app import PAGES
from dashboard.state import WEEK_VARIABLE
from tests.dashboard.browsing import DESK, HARMLESS

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
ADDRESSES = [address for _, _, address in PAGES]

Open = Callable[[Path, str], AppTest]


@pytest.fixture
def open_page(monkeypatch: pytest.MonkeyPatch) -> Open:
    """Opens a page of the dashboard of a week."""

    def opened(week: Path, name: str) -> AppTest:
        monkeypatch.setenv(WEEK_VARIABLE, str(week))
        page = AppTest.from_file(str(APP), default_timeout=30).run()
        assert not page.exception
        return page.switch_page(f"views/{name}.py").run()

    return opened


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A fresh visitor at a desk. Nothing may be complained of in the browser's console."""
    errors: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        if message.type == "error" and not message.location.get("url", "").endswith(HARMLESS):
            errors.append(f"{message.text} ({message.location.get('url')})")

    context = browser.new_context(viewport=DESK, accept_downloads=True)
    visitor = context.new_page()
    visitor.on("console", heard)
    visitor.on("pageerror", lambda error: errors.append(str(error)))
    yield visitor
    context.close()
    assert errors == []

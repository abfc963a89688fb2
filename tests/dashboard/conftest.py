"""What the tests of the pages share: a page run in this process, on a week of the test's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.app import PAGES
from dashboard.state import WEEK_VARIABLE

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

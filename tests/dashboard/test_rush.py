"""A rush order tried from the page: asked, answered, taken, taken back, or refused."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard import kept, questions
from dashboard.parts import told
from scheduler import api
from tests.dashboard.conftest import Open
from tests.dashboard.test_pages import texts
from tests.dashboard.weeks import planned


@pytest.fixture(autouse=True)
def _soon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Questions are tried for three seconds: what an answer is does not hang on how long it was looked for."""
    monkeypatch.setattr(questions, "SECONDS", 3.0)


def answered(week: Path) -> None:
    """Wait until the open question is answered."""
    ends_at = time.monotonic() + 120
    while True:
        found = questions.open_question(week)
        assert found is not None
        if not found[1].is_working:
            assert found[1].state == "done", found[1].complaints
            return
        assert time.monotonic() < ends_at
        time.sleep(0.1)


def press(page: AppTest, label: str) -> None:
    """Press the button whose label starts so."""
    next(one for one in page.button if one.label.startswith(label)).click().run()
    assert not page.exception


def test_a_rush_is_answered_taken_and_taken_back(
    open_page: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing changes while it is tried; taken, the order is in plan and week; taken back, all is as it was."""
    week = planned("solo", tmp_path)
    before, used = kept.stamp(week), kept.in_use(week)
    page = open_page(week, "rush")
    press(page, "Can we?")
    answered(week)
    page.run()
    assert "rush-1 is ready" in texts(page) or "Only late" in texts(page)
    assert list(page.table[0].value.columns)[1:] == [
        *("ready", "others that turn late", "runs that move", "costs the shop"),
    ]
    assert kept.stamp(week) == before
    press(page, "Take it: ")
    assert "Taken: " in texts(page)
    page.run()  # the page's clock may tick just then
    assert "Taken: " in texts(page)
    monkeypatch.setattr(told, "STAYS_S", 0.0)
    page.run()
    assert "Taken: " not in texts(page)
    assert "rush-1" in {order.order_id for order in api.read_week(week).orders}
    taken = kept.in_use(week)
    assert taken is not None
    assert taken != used
    assert (taken.folder / "press-queue.csv").is_file()
    assert "Plan of " in page.markdown[0].value
    assert "since" not in page.markdown[0].value
    press(page, "Take the last one back")
    assert kept.in_use(week) == used
    assert "rush-1" not in {order.order_id for order in api.read_week(week).orders}


def test_a_press_that_is_down_is_tried_too(open_page: Open, tmp_path: Path) -> None:
    """Any other surprise is asked by its own few fields; what is missing is told, and nothing is tried then."""
    week = planned("midsize", tmp_path)
    page = open_page(week, "rush")
    page.selectbox(key="surprise").set_value("press_out").run()
    page.selectbox(key="press_out-press").set_value("auto-2")
    press(page, "What then?")
    assert "It cannot be tried like this." in texts(page)
    assert questions.open_question(week) is None
    page.selectbox(key="press_out-press").set_value("auto-2")
    page.text_input(key="press_out-to").set_value("2026-04-13 12:00")
    press(page, "What then?")
    assert questions.open_question(week) is not None
    answered(week)
    page.run()
    assert len(page.table) >= 1
    press(page, "Forget it")
    assert questions.open_question(week) is None


def test_a_rush_needs_a_plan_of_the_files_as_they_are(open_page: Open, tmp_path: Path) -> None:
    """Where the files moved on since the plan, the page asks for a new plan first."""
    week = planned("solo", tmp_path)
    shop = (week / "shop.toml").read_text(encoding="utf-8")
    (week / "shop.toml").write_text(shop.replace("late_easy = 15", "late_easy = 16"), encoding="utf-8")
    page = open_page(week, "rush")
    assert "Make a new plan" in page.info[0].value
    assert not page.button

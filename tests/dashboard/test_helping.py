"""What one thing more would save: tried beside the page, shown when it is there, and told when it failed."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from dashboard import helping, kept
from tests.dashboard.conftest import Open
from tests.dashboard.weeks import planned

BUTTON = "What would help most?"


def folder_of(week: Path) -> Path:
    """The folder of the plan in use."""
    plan = kept.in_use(week)
    assert plan is not None
    return plan.folder


def wait(folder: Path) -> None:
    """Until nobody tries any more."""
    until = time.monotonic() + 60
    while helping.is_trying(folder):
        assert time.monotonic() < until
        time.sleep(0.1)


def labels(page: object) -> list[str]:
    """The buttons of a page."""
    return [one.label for one in page.button]  # type: ignore[attr-defined]


def test_what_helps_is_found_and_kept_with_the_plan(
    open_page: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page asks, and shows what was found: sentence, table, and what it was compared with; asked once, kept."""
    monkeypatch.setattr(helping, "SECONDS", 1.0)
    week = planned("solo", tmp_path)
    folder = folder_of(week)
    assert helping.found(folder) is None
    assert BUTTON in labels(open_page(week, "holding_up"))
    (folder / helping.TRYING).touch()
    helping.main([str(week), str(folder)])
    found = helping.found(folder)
    assert found is not None
    assert not helping.is_trying(folder)
    assert not helping.has_failed(folder)
    assert all(len(row) == len(found.headings) for row in found.rows)
    page = open_page(week, "holding_up")
    assert BUTTON not in labels(page)
    told = " ".join(one.value for one in page.markdown).replace("\\", "")
    assert found.sentence in told
    assert all(note in told for note in found.notes)


def test_a_process_of_its_own_that_breaks_changes_nothing(open_page: Open, tmp_path: Path) -> None:
    """Where the process ends without an answer the page says so and offers to try again; the plan is still shown."""
    week = planned("solo", tmp_path)
    folder = folder_of(week)
    nowhere = tmp_path / "nowhere"
    nowhere.mkdir()
    helping.start(nowhere, nowhere)
    wait(nowhere)
    assert helping.has_failed(nowhere)
    assert (nowhere / helping.COMPLAINTS).stat().st_size
    (folder / helping.TRYING).touch()
    silent = time.time() - helping.DEAD_AFTER_S - 1
    os.utime(folder / helping.TRYING, (silent, silent))
    page = open_page(week, "holding_up")
    assert BUTTON in labels(page)
    assert any("without an answer" in one.value for one in page.warning)


@pytest.mark.parametrize(("silent_s", "tries"), [(0.0, True), (helping.DEAD_AFTER_S + 1, False)])
def test_another_servers_try_counts_until_it_falls_silent(tmp_path: Path, silent_s: float, tries: bool) -> None:
    """What another process began is on its way while it lets itself be heard, and failed after a long silence."""
    (tmp_path / helping.TRYING).touch()
    at = time.time() - silent_s
    os.utime(tmp_path / helping.TRYING, (at, at))
    assert helping.is_trying(tmp_path) is tries
    assert helping.has_failed(tmp_path) is not tries


def test_while_it_tries_the_page_says_so(open_page: Open, tmp_path: Path) -> None:
    """No second button while somebody is at it."""
    week = planned("solo", tmp_path)
    (folder_of(week) / helping.TRYING).touch()
    page = open_page(week, "holding_up")
    assert BUTTON not in labels(page)
    assert any("Trying what one thing more would save" in one.value for one in page.markdown)

"""Plans in the making: in a process of their own, seen through files, ended early, lost, or without a plan."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from dashboard import jobs, kept
from tests.dashboard.conftest import Open
from tests.dashboard.test_pages import texts
from tests.dashboard.weeks import copied, planned


def until(week: Path, *states: str) -> jobs.InWork:
    """Wait for a plan in the making to come so far."""
    ends_at = time.monotonic() + 120
    while time.monotonic() < ends_at:
        seen = jobs.in_work(week)
        assert seen is not None
        if seen.state in states:
            return seen
        time.sleep(0.1)
    raise AssertionError(f"still {seen.state}: {seen.complaints}")


def test_a_week_is_planned_in_a_process_of_its_own(tmp_path: Path) -> None:
    """The trace goes down towards its limit, the plan and its papers lie in a folder, and nothing is in use yet."""
    week = copied("solo", tmp_path)
    folder = jobs.start(week, seconds=2)
    assert jobs.start(week, seconds=30) == folder, "one plan at a time"
    done = until(week, "done")
    assert done.trace
    costs = [one.cost_cents for one in done.trace]
    assert costs == sorted(costs, reverse=True)
    assert all(one.limit_cents <= one.cost_cents for one in done.trace)
    assert done.outcome["cents"] == costs[-1]
    assert {"plan.json", "press-queue.csv", "screens.csv"} <= {path.name for path in folder.iterdir()}
    assert kept.in_use(week) is None
    jobs.decide(week, takes_new=True)
    assert jobs.in_work(week) is None
    used = kept.in_use(week)
    assert used is not None
    assert used.folder == folder


@pytest.mark.parametrize("then", [jobs.USE, jobs.COMPARE])
def test_stopping_keeps_the_best_so_far(tmp_path: Path, then: str) -> None:
    """Stopped long before its time, the search hands over its best plan; "use" puts it into use at once."""
    week = copied("midsize", tmp_path)
    folder = jobs.start(week, seconds=500)
    ends_at = time.monotonic() + 120
    while not (seen := jobs.in_work(week)) or not seen.trace:
        assert time.monotonic() < ends_at
        time.sleep(0.1)
    jobs.ask_to_stop(folder, then=then)
    done = until(week, "done", "failed")
    assert done.state == "done", done.complaints
    assert done.outcome["seconds"] < 200
    ends_at = time.monotonic() + 10
    while (kept.in_use(week) is not None) != (then == jobs.USE) and time.monotonic() < ends_at:
        time.sleep(0.1)
    assert (kept.in_use(week) is not None) == (then == jobs.USE)


def test_a_crash_is_shown_and_changes_nothing(open_page: Open, tmp_path: Path) -> None:
    """A process that dies without a word leaves the plan in use, and the page says so with what the program said."""
    week = planned("solo", tmp_path)
    used = kept.in_use(week)
    folder = jobs.start(week, seconds=30)
    (folder / kept.MADE_FROM / "shop.toml").write_text("no longer a shop", encoding="utf-8")
    failed = until(week, "failed", "done")
    assert failed.state == "failed"
    page = open_page(week, "new_plan")
    assert "Nothing was changed" in texts(page)
    assert page.code
    page.button[0].click().run()
    assert jobs.in_work(week) is None
    assert kept.in_use(week) == used


def in_the_making(week: Path, outcome: dict[str, object] | None, began: float) -> Path:
    """A plan in the making as another server would have started it."""
    folder = kept.new_folder(week)
    asked = {"seconds": 20, "seed": 1, "workers": 1, "iterations": None, "began": began}
    jobs.write_whole(folder / jobs.ASKED, json.dumps(asked))
    if outcome is not None:
        jobs.write_whole(folder / jobs.OUTCOME, json.dumps(outcome))
    jobs.write_whole(kept.plans_folder(week) / jobs.IN_WORK, folder.name)
    return folder


def test_no_plan_is_told_with_its_reason(open_page: Open, tmp_path: Path) -> None:
    """Where the rules leave no plan, the page gives the reason and the old plan stays."""
    week = planned("solo", tmp_path)
    in_the_making(week, {"status": "none", "reason": "two locked runs want the press at once"}, time.time())
    page = open_page(week, "new_plan")
    assert "There is no plan: two locked runs want the press at once. Nothing was changed." in texts(page)
    assert kept.in_use(week) is not None


def test_a_silent_process_counts_as_dead_after_a_while(tmp_path: Path) -> None:
    """One started elsewhere is believed to work while it gives signs of life, and for a minute without any."""
    week = copied("solo", tmp_path)
    in_the_making(week, None, time.time() - jobs.DEAD_AFTER_S + 20)
    seen = jobs.in_work(week)
    assert seen is not None
    assert seen.state == "working"
    folder = in_the_making(week, None, time.time() - jobs.DEAD_AFTER_S - 1)
    seen = jobs.in_work(week)
    assert seen is not None
    assert seen.state == "failed"
    (folder / jobs.ALIVE).write_text("", encoding="utf-8")
    seen = jobs.in_work(week)
    assert seen is not None
    assert seen.state == "working"


def test_old_and_new_stand_side_by_side(open_page: Open, tmp_path: Path) -> None:
    """A finished plan is compared with the one in use in figures, and one click keeps the old one."""
    week = planned("midsize", tmp_path)
    used = kept.in_use(week)
    jobs.start(week, seconds=2)
    until(week, "done")
    page = open_page(week, "new_plan")
    assert "The new plan" in texts(page)
    table = page.table[0].value
    assert list(table.columns)[1:] == ["in use now", "new"]
    buttons = {button.label: button for button in page.button}
    assert {"Use the new plan", "Keep the old one"} <= set(buttons)
    buttons["Keep the old one"].click().run()
    assert jobs.in_work(week) is None
    assert kept.in_use(week) == used

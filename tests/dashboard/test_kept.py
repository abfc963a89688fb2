"""Plans kept beside a week: whole, with the files they were made from, one of them in use."""

from __future__ import annotations

import shutil
from pathlib import Path

from dashboard import kept
from tests.dashboard.weeks import copied, planned, planned_once


def test_a_kept_plan_holds_the_files_it_was_made_from(tmp_path: Path) -> None:
    """Later changes of the week do not reach the copy that a plan was made from."""
    week = planned("solo", tmp_path)
    plan = kept.in_use(week)
    assert plan is not None
    before = (week / "orders.csv").read_bytes()
    (week / "orders.csv").write_bytes(before + b"\n")
    assert (plan.made_from / "orders.csv").read_bytes() == before


def test_the_plan_of_a_workbook_stands_beside_it(tmp_path: Path) -> None:
    """A week in one file keeps its plans in a folder of its own name."""
    book = tmp_path / "week 7.xlsx"
    book.write_bytes(b"not looked at here")
    folder = kept.new_folder(book)
    assert folder.parent == tmp_path / "week 7 plans"
    assert kept.made_from(book, folder).read_bytes() == b"not looked at here"


def test_half_a_plan_is_never_in_use(tmp_path: Path) -> None:
    """A folder without its plan file, or a name that leads elsewhere, counts as no plan."""
    week = copied("solo", tmp_path)
    assert kept.in_use(week) is None
    folder = kept.new_folder(week)
    kept.use(week, folder)
    assert kept.in_use(week) is None
    shutil.copy(planned_once("solo") / "plan.json", folder)
    assert kept.in_use(week) is not None
    (kept.plans_folder(week) / kept.IN_USE).write_text("../../elsewhere", encoding="utf-8")
    assert kept.in_use(week) is None


def test_the_same_plan_is_not_adopted_twice(tmp_path: Path) -> None:
    """Starting the dashboard again with the plan that is in use keeps one copy of it; the newest comes first."""
    week = planned("solo", tmp_path)
    kept.adopt(week, planned_once("solo"))
    assert len(list(kept.kept_plans(week))) == 1
    folder = kept.new_folder(week)
    shutil.copy(planned_once("solo") / "plan.json", folder)
    assert next(kept.kept_plans(week)).folder == folder


def test_a_changed_file_or_plan_changes_the_stamp(tmp_path: Path) -> None:
    """What the pages read anew by: it changes with a file of the week and with the plan in use, and not otherwise."""
    week = planned("solo", tmp_path)
    before = kept.stamp(week)
    assert kept.stamp(week) == before
    (week / "READ-ME.txt").write_text("no file of the week", encoding="utf-8")
    assert kept.stamp(week) == before
    with (week / "orders.csv").open("a", encoding="utf-8") as orders:
        orders.write("\n")
    changed = kept.stamp(week)
    assert changed != before
    kept.use(week, kept.new_folder(week))
    assert kept.stamp(week) != changed

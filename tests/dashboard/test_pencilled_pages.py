"""Orders that wait for a yes, on the pages: on time, today and orders say by when it is needed."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard import kept
from scheduler import api
from scheduler.domain.settings import SearchSettings
from tests.daily_life.typed import SCREENS, automatic, shop
from tests.dashboard.conftest import Open
from tests.dashboard.test_pages import texts

ORDERS = """order,client,due,garment,shade,pieces,location,inks,blanks,art
801,Pebble Beach Bakers,2026-03-05,white tee,light,120,front,red,in,ok
802,Stone Quay Choir,2026-03-06,white tee,light,200,front,blue,in,?
"""


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A week with a firm order and one that waits for its art, planned, the plan in use."""
    place = tmp_path_factory.mktemp("pencilled")
    folder, made = place / "week", place / "plan"
    folder.mkdir()
    made.mkdir()
    (folder / "shop.toml").write_text(shop(automatic(), SCREENS), encoding="utf-8")
    (folder / "orders.csv").write_text(ORDERS, encoding="utf-8")
    inputs = api.read_week(folder)
    workload = api.build_workload(inputs)
    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    plan = api.pencil_in(inputs, workload.week, result.plan, seconds=0.5)
    api.write_plan_folder(
        made,
        api.joint_week(inputs, workload.week, plan),
        plan,
        api.plan_facts(workload.week, result, ""),
        clients={},
    )
    kept.adopt(folder, made)
    return folder


def _read(page: AppTest) -> str:
    return "\n".join(str(one.proto.body) for one in page.get("html"))


@pytest.mark.parametrize("name", ["on_time", "today", "orders"])
def test_a_pencilled_order_is_shown_with_its_latest_yes(open_page: Open, week: Path, name: str) -> None:
    """The order that waits stands on the page with the moment by which its yes must be there, and only once."""
    page = open_page(week, name)
    assert not page.exception
    shown = _read(page)
    assert shown.count("pencilled in, yes by ") == 1
    assert "Stone Quay Choir" in shown
    assert "Pebble Beach Bakers" not in shown.partition("pencilled in, yes by ")[2].partition("</ul>")[0]


def test_it_counts_neither_as_planned_nor_as_not_planned(open_page: Open, week: Path) -> None:
    """The answer speaks of the one firm order, and of the other as pencilled in; it leaves by no pick-up yet."""
    page = open_page(week, "on_time")
    said = texts(page)
    assert "Yes: the one planned order makes its pick-up. 1 order pencilled in." in said
    assert "not planned" not in said
    leaves = _read(open_page(week, "today"))
    assert "Stone Quay Choir" in leaves
    assert "802" not in leaves.partition("pencilled in, yes by ")[2].partition("</ul>")[2]

"""Every page on every week: it opens, answers, and says what to do where there is nothing to show."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.app import PAGES
from tests.dashboard.conftest import Open
from tests.dashboard.weeks import NAMES, copied, planned, without_orders

VIEWS = [name for name, _, _ in PAGES]
TITLES = {name: title for name, title, _ in PAGES}


@pytest.fixture(scope="session")
def shown(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Weeks that are only looked at: planned, not planned, empty, faulty, and faulty behind a plan."""
    place = tmp_path_factory.mktemp("weeks")
    weeks = {name: planned(name, place / "planned") for name in NAMES}
    weeks["no plan"] = copied("midsize", place)
    weeks["no orders"] = without_orders(place)
    weeks["faulty"] = with_a_fault(copied("midsize", place / "faulty"))
    weeks["half done"] = with_a_fault(planned("midsize", place / "half"))
    return weeks


def with_a_fault(week: Path) -> Path:
    """The week with a word where a number belongs."""
    orders = week / "orders.csv"
    text = orders.read_text(encoding="utf-8")
    orders.write_text(text.replace(",1380,front", ",many,front"), encoding="utf-8")
    return week


def texts(page: AppTest) -> str:
    """Everything a page says in plain blocks of text, as it is read there."""
    found = [*page.title, *page.subheader, *page.markdown, *page.info, *page.error, *page.warning, *page.success]
    return re.sub(r"\\(\W)", r"\1", "\n".join(str(one.value) for one in found))


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize("week", NAMES)
def test_every_page_opens_on_a_planned_week(open_page: Open, shown: dict[str, Path], week: str, name: str) -> None:
    """A page of a planned week shows its title, the plan line and something beneath, and nothing breaks."""
    page = open_page(shown[week], name)
    assert not page.exception
    assert [one.value for one in page.title] == [TITLES[name]]
    assert "Plan of " in page.markdown[0].value
    assert len(page.main.children) > 2


@pytest.mark.parametrize("name", VIEWS)
def test_every_page_opens_before_the_first_plan(open_page: Open, shown: dict[str, Path], name: str) -> None:
    """Without a plan a page says so, or offers what does not need one."""
    page = open_page(shown["no plan"], name)
    assert not page.exception
    assert "No plan yet" in page.markdown[0].value
    needs_none = {"orders", "holds", "new_plan"}
    assert bool(page.info) == (name not in needs_none)


@pytest.mark.parametrize("name", VIEWS)
def test_every_page_opens_on_a_week_without_orders(open_page: Open, shown: dict[str, Path], name: str) -> None:
    """Before the first order every page still opens and says what to do."""
    page = open_page(shown["no orders"], name)
    assert not page.exception
    assert page.title[0].value == TITLES[name]


@pytest.mark.parametrize("name", VIEWS)
def test_every_page_tells_the_faults_of_a_week(open_page: Open, shown: dict[str, Path], name: str) -> None:
    """A week that cannot be read and has no plan shows every fault with what to write instead, on every page."""
    page = open_page(shown["faulty"], name)
    assert not page.exception
    assert page.error
    assert "many" in texts(page)
    assert "Instead:" in texts(page)


@pytest.mark.parametrize("name", VIEWS)
def test_a_plan_stays_readable_while_the_files_hold_faults(open_page: Open, shown: dict[str, Path], name: str) -> None:
    """Half an edit in the files does not take the plan away; the page says that it is from before."""
    page = open_page(shown["half done"], name)
    assert not page.exception
    assert "Plan of " in page.markdown[0].value
    assert "change" in page.markdown[0].value
    assert any("1 fault now" in one.value for one in page.warning)


def test_changes_since_the_plan_are_counted(open_page: Open, tmp_path: Path) -> None:
    """The plan line is quiet while the files are as they were, and counts what changed since, in bold."""
    week = planned("midsize", tmp_path)
    line = open_page(week, "on_time").markdown[0].value
    assert "since" not in line
    orders = week / "orders.csv"
    text = orders.read_text(encoding="utf-8").replace("natural tee,light,340,front", "natural tee,light,360,front")
    orders.write_text(text.replace("Fennick Street Brewery,2026-04-17", "Fennick Street Brewery,2026-04-20"), "utf-8")
    line = open_page(week, "on_time").markdown[0].value
    assert "2 changes since" in line
    assert line.startswith("**")


def test_a_plan_whose_files_are_gone_is_not_shown(open_page: Open, tmp_path: Path) -> None:
    """A kept plan that can no longer be read counts as none."""
    week = planned("solo", tmp_path)
    for path in week.glob("plans/*/plan.json"):
        path.write_text("{", encoding="utf-8")
    page = open_page(week, "on_time")
    assert not page.exception
    assert "No plan yet" in page.markdown[0].value


def test_the_paper_page_offers_everything_for_the_floor(open_page: Open, shown: dict[str, Path]) -> None:
    """Each press, the screen room and every list can be taken, in the units and sheet size of the shop's settings."""
    page = open_page(shown["midsize"], "papers")
    assert not page.exception
    offered = {one.proto.label for one in page.get("download_button")}
    for name in (
        *(f"press-{press}-{what}.html" for press in ("auto-1", "auto-2", "manual") for what in ("days", "runs")),
        *("screen-room-days.html", "garments.html", "ink.html", "frames.html", "who-is-where.html", "leaving.html"),
        *("ringing.html", "lists.xlsx", "press-auto-1.ics", "screen-room.ics"),
    ):
        assert f"Take {name}" in offered
    assert {"Everything for the floor", "All its pages as PDF", "All lists as one workbook"} <= offered
    assert [one.value for one in page.segmented_control] == ["US", "Letter"]
    page.segmented_control(key="paper units").set_value("metric").run()
    assert not page.exception


def test_a_page_without_a_plan_leads_to_where_one_is_made(open_page: Open, tmp_path: Path) -> None:
    """Where nothing is planned yet the page has one button, which opens the page on which a plan is made."""
    page = open_page(copied("solo", tmp_path), "rush")
    assert [one.label for one in page.button] == ["Make a new plan"]
    page.button[0].click().run()
    assert not page.exception
    assert page.title[0].value == "Make a new plan"
    assert "Start planning" in [one.label for one in page.button]

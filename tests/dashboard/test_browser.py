"""The pages in a real browser, on a server of their own, from the first plan to an edited order and a download."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page

from dashboard import kept
from tests.dashboard.browsing import ADDRESSES, PHONE, Site, choose, go, served, settled, violations
from tests.dashboard.weeks import copied, planned

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def looked_at(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The demo week with a plan, only looked at."""
    with served(planned("midsize", tmp_path_factory.mktemp("looked"))) as site:
        yield site


@pytest.mark.parametrize("address", ADDRESSES)
def test_every_page_reads_on_desk_and_phone(page: Page, looked_at: Site, address: str) -> None:
    """Each page opens without an error, keeps the accessibility rules, and does not scroll sideways on a phone."""
    go(page, looked_at, address)
    assert page.get_by_test_id("stException").count() == 0
    assert violations(page) == []
    page.set_viewport_size(PHONE)
    settled(page)
    width = page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")
    assert width <= PHONE["width"]
    assert violations(page) == []


def test_the_demo_is_planned_from_the_page_and_stopped_early(
    page: Page, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Start, see the best so far with its limit, read another page meanwhile, stop, and take the plan into use."""
    with served(copied("midsize", tmp_path_factory.mktemp("first"))) as site:
        go(page, site, "new-plan")
        page.get_by_role("button", name="Start planning").click()
        page.get_by_text("Best plan so far:").wait_for(timeout=60_000)
        assert "No plan can cost less than" in page.inner_text("body")
        second = page.context.new_page()
        go(second, site, "new-plan")
        second.get_by_text("Best plan so far:").wait_for(timeout=60_000)
        began = time.monotonic()
        go(second, site, "orders")
        assert time.monotonic() - began < 20
        second.close()
        page.get_by_role("button", name="Stop and compare").click()
        page.get_by_role("button", name="Use the new plan").click(timeout=60_000)
        page.get_by_text("Plan of").first.wait_for(timeout=30_000)
        assert kept.in_use(site.week) is not None


def test_a_run_is_locked_and_the_next_plan_keeps_it(page: Page, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Lock a run to a press, plan again using the best so far at once: it is on that press."""
    with served(planned("midsize", tmp_path_factory.mktemp("locked"))) as site:
        go(page, site, "stay-put")
        choose(page, "Which run", "4102 front dark")
        choose(page, "On which press", "Six")
        page.get_by_role("button", name="Lock it").click()
        page.get_by_text("is locked.").wait_for(timeout=30_000)
        assert ",auto-2," in row_of(site.week, "4102", "black tee")
        go(page, site, "new-plan")
        assert "change" in page.inner_text("body")
        page.get_by_role("button", name="Start planning").click()
        page.get_by_text("Best plan so far:").wait_for(timeout=60_000)
        page.get_by_role("button", name="Use the best so far").click()
        page.get_by_text("The new plan is in use.").wait_for(timeout=60_000)
        used = kept.in_use(site.week)
        assert used is not None
        plan = json.loads(used.plan_file.read_text(encoding="utf-8"))
        printed = {one["run"]: one["where"] for one in plan["activities"] if one["kind"] == "print"}
        assert printed["4102 front dark"] == "auto-2"


def test_an_order_is_edited_and_saved(page: Page, tmp_path_factory: pytest.TempPathFactory) -> None:
    """A word for a number is refused, told at its row and kept as typed; a number is saved, to that cell alone."""
    with served(planned("midsize", tmp_path_factory.mktemp("edited"))) as site:
        go(page, site, "orders")
        before = (site.week / "orders.csv").read_text(encoding="utf-8")
        type_into(page, BAG_ROW, "Pieces", "many")
        page.get_by_role("button", name="Save").first.click()
        page.get_by_text("Not saved: nothing was changed yet.").wait_for(timeout=60_000)
        assert "'many'" in page.inner_text("body")
        assert (site.week / "orders.csv").read_text(encoding="utf-8") == before
        cell(page, BAG_ROW, "what is wrong").get_by_text("'many'").wait_for(state="attached", timeout=60_000)
        page.get_by_role("button", name="Forget what I typed").click()
        page.get_by_role("button", name="Forget what I typed").wait_for(state="hidden", timeout=60_000)
        settled(page)
        type_into(page, BAG_ROW, "Pieces", "210")
        page.get_by_role("button", name="Save").first.click()
        page.get_by_text("not in the plan yet").wait_for(timeout=60_000)
        after = (site.week / "orders.csv").read_text(encoding="utf-8")
        assert after == before.replace("natural bag,light,200,", "natural bag,light,210,")


BAG_ROW = 12
"""Order 4107, 200 natural bags: the place of its row, from 0."""


def test_the_plan_and_its_lists_are_taken_away(page: Page, looked_at: Site, tmp_path: Path) -> None:
    """The plan, a list, pages and the workbook come down as files that hold what they promise."""
    go(page, looked_at, "paper")
    for button, start in (
        ("Take plan.json", b"{"),
        ("Take press-queue.csv", b"\xef\xbb\xbf"),
        ("Take press-auto-1-runs.html", b"<!doctype html>"),
        ("Take screen-room-days.html", b"<!doctype html>"),
        ("Take press-auto-1.ics", b"BEGIN:VCALENDAR"),
        ("Take lists.xlsx", b"PK"),
        ("Everything for the floor", b"PK"),
        ("All lists as one workbook", b"PK"),
        ("Everything in one archive", b"PK"),
    ):
        with page.expect_download() as coming:
            page.get_by_role("button", name=button).click()
        path = tmp_path / coming.value.suggested_filename
        coming.value.save_as(path)
        assert path.read_bytes()[: len(start)].lower() == start.lower()


def test_over_the_network_nothing_is_shown_without_the_password(
    page: Page, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Every address asks for the password first; the wrong one opens nothing, the right one the page."""
    with served(planned("solo", tmp_path_factory.mktemp("wifi")), password="abcd-efgh-jkmn") as site:
        page.goto(site.address("orders"))
        page.get_by_role("heading", name="Password").wait_for(timeout=30_000)
        assert "Quillbeck" not in page.content()
        for typed in ("abcd", "ABCD-efgh-jkmn"):
            page.get_by_label("Password, as it was said").fill(typed)
            page.get_by_role("button", name="Let me in").click()
            if typed == "abcd":
                page.get_by_text("That is not the password.").wait_for(timeout=30_000)
        page.get_by_role("heading", name="Orders and people").wait_for(timeout=30_000)


def cell(page: Page, row: int, heading: str) -> Locator:
    """A cell of the first table, as a screen reader is told it; rows from 0."""
    sheet = page.get_by_test_id("stDataFrame").first
    head = sheet.locator(f'th:text-is("{heading}")')
    head.wait_for(state="attached", timeout=30_000)
    return sheet.locator(f"#glide-cell-{head.get_attribute('aria-colindex')}-{row}")


def type_into(page: Page, row: int, heading: str, text: str) -> None:
    """Replace a cell of the first table with the keys alone, each step once the one before has been taken up."""
    sheet = page.get_by_test_id("stDataFrame").first
    sheet.scroll_into_view_if_needed()
    wanted = cell(page, row, heading)
    column = int((wanted.get_attribute("id") or "").split("-")[2])
    box = sheet.locator("canvas").first.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + 60, box["y"] + 50)
    chosen = sheet.locator('[role="gridcell"][aria-selected="true"]').first
    while (at := (chosen.get_attribute("id", timeout=30_000) or "").split("-")[2:]) != [str(column), str(row)]:
        across, down = column - int(at[0]), row - int(at[1])
        key = ("ArrowDown" if down > 0 else "ArrowUp") if down else ("ArrowRight" if across > 0 else "ArrowLeft")
        page.keyboard.press(key)
        page.wait_for_function(
            "was => !document.getElementById(was)?.ariaSelected?.includes('true')", arg=f"glide-cell-{at[0]}-{at[1]}"
        )
    page.keyboard.press("Enter")
    page.locator("#portal input, #portal textarea").first.fill(text)
    page.keyboard.press("Enter")
    wanted.get_by_text(text, exact=True).wait_for(state="attached", timeout=30_000)


def row_of(week: Path, order: str, garment: str) -> str:
    """A line of the orders sheet."""
    lines = (week / "orders.csv").read_text(encoding="utf-8").splitlines()
    return next(line for line in lines if line.startswith(f"{order},") and garment in line)

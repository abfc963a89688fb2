"""How soon the pages stand and a click is answered, in a real browser that has the machine to itself."""

from __future__ import annotations

import time

import pytest
from playwright.sync_api import Browser

from tests.dashboard.browsing import DESK, READY, go, served, settled
from tests.dashboard.weeks import many_orders, planned

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(("times", "most_s"), [(1, 2.0), (6, 3.0)])
def test_pages_are_quick(
    browser: Browser,
    tmp_path_factory: pytest.TempPathFactory,
    capsys: pytest.CaptureFixture[str],
    times: int,
    most_s: float,
) -> None:
    """Fifty runs stand there within two seconds, three hundred within three; a click is answered in half a second."""
    place = tmp_path_factory.mktemp("quick")
    week = planned("midsize", place) if times == 1 else many_orders(place, times)
    with served(week) as site:
        context = browser.new_context(viewport=DESK)
        page = context.new_page()
        go(page, site, "")
        page.wait_for_selector(".barlayer .point path", timeout=60_000)
        loads, answers = [], []
        while len(loads) < TRIES and min(loads, default=most_s) >= most_s:
            began = time.monotonic()
            page.goto(site.address(""))
            page.wait_for_selector(".barlayer .point path", timeout=60_000)
            page.wait_for_selector(READY)
            loads.append(time.monotonic() - began)
        go(page, site, "ship")
        page.get_by_text("The dates above are the plan").wait_for()
        for order in ("4102", "4105", "4109", "4111"):
            if min(answers, default=CLICK_S) < CLICK_S:
                break
            settled(page)
            page.get_by_label("Which order").click()
            option = page.get_by_role("option", name=f"{order}, ").first
            option.wait_for()
            page.wait_for_timeout(300)  # the list unfolds
            began = time.monotonic()
            option.click()
            page.wait_for_function("order => location.search.includes(order)", arg=order)
            page.wait_for_selector(READY)
            answers.append(time.monotonic() - began)
        context.close()
        with capsys.disabled():
            print(f"\n{51 * times} runs: load {min(loads):.2f} s, a click answered in {min(answers):.2f} s")
        assert min(loads) < most_s
        assert min(answers) < CLICK_S


TRIES = 5
"""Loads of which the quickest counts, so none is needed after a quick one: what else the machine does is no matter."""
CLICK_S = 0.5

"""Pages in a real browser, as wide as a printed sheet: nothing sticks out, nothing lies over anything else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, Page

from scheduler.domain.orders import WeekInputs
from scheduler.papers.floor.files import floor_papers
from scheduler.papers.floor.ground import Ground
from tests.papers.floor.grounds import ground, ground_of
from tests.papers.floor.test_hostile import ARABIC, HEBREW, LONG, renamed, twelve_inks

pytestmark = pytest.mark.browser

WIDTHS = {"A4": 711, "Letter": 733}
"""Pixels between the margins: 210 and 215.9 mm less 11 mm on either side, at 96 pixels an inch."""

STICKS_OUT = """
() => [...document.querySelectorAll('h1, h2, h3, p, td, th, span, bdi, div')]
  .filter(e => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline'
    || e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
  .map(e => e.outerHTML.slice(0, 200))
"""

OVERLAP = """
() => {
  const found = [];
  for (const row of document.querySelectorAll('tr')) {
    const cells = [...row.children].map(c => c.getBoundingClientRect());
    for (let i = 1; i < cells.length; i++)
      if (cells[i].left < cells[i - 1].right - 1) found.push(row.outerHTML.slice(0, 200));
  }
  for (const sheet of document.querySelectorAll('section'))
    for (let at = sheet.firstElementChild; at && at.nextElementSibling; at = at.nextElementSibling)
      if (at.nextElementSibling.getBoundingClientRect().top < at.getBoundingClientRect().bottom - 1)
        found.push(at.nextElementSibling.outerHTML.slice(0, 200));
  return found;
}
"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """An empty page in print."""
    opened = browser.new_page()
    opened.emulate_media(media="print")
    yield opened
    opened.close()


def asked(case: str) -> Ground:
    """The one-press week, spoiled in one way, or the mid-size week as it is."""
    if case == "midsize":
        return ground("midsize")
    if case == "twelve inks":
        return ground_of(twelve_inks(ground("solo").inputs))
    return ground_of(_spoiled(case, ground("solo").inputs), ground("solo").plan)


def _spoiled(case: str, solo: WeekInputs) -> WeekInputs:
    if case == "5,000 letters":
        first = {order.order_id for order in solo.orders[:2]}  # two such clients make a hundred pages
        long = renamed(solo, LONG)
        return replace(
            solo,
            orders=tuple(a if a.order_id in first else b for a, b in zip(long.orders, solo.orders, strict=True)),
            lots=tuple(a if a.order_id in first else b for a, b in zip(long.lots, solo.lots, strict=True)),
        )
    return renamed(solo, f"{ARABIC} & {HEBREW} 12")


@pytest.mark.parametrize("case", ["midsize", "twelve inks", "5,000 letters", "right to left"])
def test_nothing_is_cut_or_overlaps_on_either_paper(page: Page, case: str) -> None:
    """At the width of A4 and of Letter no text leaves its cell or the sheet, and no block lies on the next one."""
    made = [one for one in floor_papers(asked(case)) if one.is_page]
    assert len(made) >= 9
    for one in made:
        page.set_content(one.content.decode())
        for size, width in WIDTHS.items():
            page.set_viewport_size({"width": width, "height": 1000})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (one.name, size)
            assert page.evaluate(STICKS_OUT) == [], (one.name, size)
            assert page.evaluate(OVERLAP) == [], (one.name, size)


def test_the_checks_of_this_file_see_what_is_wrong(page: Page) -> None:
    """A word wider than its cell and a block pulled over the one before are both found."""
    page.set_viewport_size({"width": WIDTHS["A4"], "height": 1000})
    page.set_content(
        '<table style="table-layout: fixed; width: 100px"><tr><td>Aufdruckaufdruckaufdruck</td></tr></table>'
    )
    assert page.evaluate(STICKS_OUT) != []
    page.set_content('<section><p>first</p><p style="margin-top: -40px">second</p></section>')
    assert page.evaluate(OVERLAP) != []


def test_every_run_starts_a_page_of_its_own(page: Page) -> None:
    """Printed, the sheets of a press have at least as many pages as runs, on the paper that is in the printer."""
    of = asked("twelve inks")
    made = next(one for one in floor_papers(of) if one.name == "press-press-runs.html")
    page.set_content(made.content.decode())
    for size, box in (("A4", b"595"), ("Letter", b"612")):
        pdf = page.pdf(format=size)
        assert pdf.count(b"/Type /Page\n") >= len(of.plan.runs)
        assert box in pdf

"""Papers keep their shape whatever people type: scripts, 5,000 letters, right-to-left names, twelve inks."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from html.parser import HTMLParser

import pytest

from scheduler import api
from scheduler.domain.orders import Imprint, Ink, WeekInputs
from scheduler.papers.floor.files import Paper, floor_papers
from scheduler.papers.floor.ground import Ground
from tests.papers.floor.grounds import SCENARIOS, ground, ground_of, papers, sheets_of, tags_of

NASTY = "<script>alert(1)</script><b>&amp;"
ARABIC = "مطبعة القمر"
HEBREW = "שלום דפוס"
TURNING = "abc\u202edef\u2066ghi\x07"
LONG = "Aufdruck" * 625
INKS = ("white", "red", "blue", "green", "gold", "sky", "navy", "black", "orange", "pink", "teal", "plum")


def renamed(inputs: WeekInputs, name: str) -> WeekInputs:
    """The week with every client, note, garment and mock-up called so."""
    return replace(
        inputs,
        orders=tuple(replace(order, client=name, note=name) for order in inputs.orders),
        lots=tuple(replace(lot, garment=name, sizes=name) for lot in inputs.lots),
        imprints=tuple(replace(one, mock_up=name) for one in inputs.imprints),
    )


def twelve_inks(inputs: WeekInputs) -> WeekInputs:
    """The week with twelve inks in its first print, on a press with room for them."""
    first = inputs.imprints[0]
    many: Imprint = replace(first, inks=tuple(Ink(name=name) for name in INKS), with_base=False)
    presses = tuple(replace(press, heads=16) for press in inputs.shop.presses)
    frames = tuple(replace(one, count=60, coated=40) for one in inputs.shop.frames)
    room = inputs.shop.screen_room
    assert room is not None
    shop = replace(inputs.shop, presses=presses, frames=frames, screen_room=replace(room, rack_places=24))
    return replace(inputs, shop=shop, imprints=(many, *inputs.imprints[1:]))


@cache
def papers_of(name: str) -> tuple[Paper, ...]:
    """All papers of the one-press week with everything renamed."""
    solo = ground("solo")
    return floor_papers(ground_of(renamed(solo.inputs, name), solo.plan))


def pages(papers: tuple[Paper, ...]) -> list[str]:
    """What is printed."""
    return [one.content.decode() for one in papers if one.is_page]


def test_what_people_type_adds_no_tag() -> None:
    """A client called like a script is shown as text on every page."""
    plain = [tags_of(page) for page in pages(papers("solo"))]
    found = pages(papers_of(NASTY))
    assert [tags_of(page) for page in found] == plain
    assert sum(NASTY in " ".join(sheets_of(page)) for page in found) >= 5


def test_right_to_left_names_are_kept_apart() -> None:
    """A right-to-left name stands whole, in a direction of its own, on every page that names clients."""
    name = f"{ARABIC} {HEBREW}"
    found = [page for page in pages(papers_of(name)) if name in page]
    assert len(found) >= 5
    for page in found:
        for before in page.split(name)[:-1]:
            assert before.rfind("<bdi dir=") > before.rfind("</bdi>")


def test_marks_that_turn_texts_round_are_gone() -> None:
    """Direction overrides and control signs become "?" on every paper."""
    for one in papers_of(TURNING):
        if one.name.endswith((".html", ".ics")):
            text = one.content.decode()
            assert not set(text) & {"\u202e", "\u2066", "\x07"}
    assert any("abc?def?ghi?" in page for page in pages(papers_of(TURNING)))


def test_five_thousand_letters_are_all_there() -> None:
    """A client's name of 5,000 letters stands whole on the sheet of its run, and no page asks for a fixed width."""
    found = pages(papers_of(LONG))
    assert len(LONG) == 5000
    assert any(LONG in page for page in found)
    for page in found:
        assert "overflow-wrap: anywhere" in page
        assert "table-layout: fixed" in page


def test_twelve_inks_are_twelve_lines() -> None:
    """A print of twelve inks has twelve screens on its sheet, each with its head, its place and its ink."""
    of = ground_of(twelve_inks(api.read_week(SCENARIOS / "solo")))
    sheet = next(text for page in pages(floor_papers(of)) for text in sheets_of(page) if "12 plum" in text)
    for number, ink in enumerate(INKS, start=1):
        assert f"{number} {ink}" in sheet


@pytest.mark.parametrize("name", ["solo", "midsize"])
def test_pages_need_nothing_else_and_are_black(name: str) -> None:
    """No page loads anything, and the only colours are black and white."""
    for page in pages(papers(name)):
        assert not {"script", "link", "img", "iframe"} & tags_of(page)
        assert "url(" not in page
        assert "@import" not in page
        colours = {part[:6] for part in page.replace("&#", "").split("#")[1:] if part[:3].isalnum()}
        assert all(one.startswith(("fff", "000")) for one in colours)
        assert "size:" not in page.split("</style>")[0].replace("font-size:", "")


@pytest.mark.parametrize("name", ["solo", "midsize"])
def test_tags_are_closed_in_order(name: str) -> None:
    """Every tag that is opened is closed, in order, so no printer has to guess."""
    void = {"meta", "br"}

    class _Strict(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.open: list[str] = []

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            self.open += [] if tag in void else [tag]

        def handle_endtag(self, tag: str) -> None:
            assert self.open.pop() == tag

    for page in pages(papers(name)):
        reader = _Strict()
        reader.feed(page)
        reader.close()
        assert reader.open == []


def test_no_letter_is_smaller_than_ten_points() -> None:
    """Paper is read from a step away: nothing on it is set smaller than 10 pt."""
    for page in pages(papers("solo")):
        style = page.split("</style>")[0]
        sizes = [float(part.split()[-1]) for part in style.replace(":", " ").split("pt") if _is_font(part)]
        assert sizes
        assert min(sizes) >= 10


def _is_font(part: str) -> bool:
    words = part.split()
    return len(words) > 1 and words[-2] in ("font-size", "font") and words[-1].replace(".", "").isdigit()


def test_a_press_without_work_says_so() -> None:
    """A press nothing is planned on has pages that say so."""
    of = ground("solo")
    idle: Ground = replace(of, plan=replace(of.plan, runs=(), orders=(), coat_batches=(), reclaims=()))
    text = " ".join(text for page in pages(floor_papers(idle)) for text in sheets_of(page))
    assert "Nothing is planned on this press." in text
    assert "Nothing to do." in text

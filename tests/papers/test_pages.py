import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from scheduler.domain.week import Week
from scheduler.papers import cautions, pages
from tests import builders
from tests.papers import small_shop

WHO_WINS = "data sheets, the machine manual, local code and licensed practice win"


class _Text(HTMLParser):
    """Collects what a reader sees, and every tag and attribute."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.in_style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.in_style = tag == "style"

    def handle_endtag(self, tag: str) -> None:
        self.in_style = False

    def handle_data(self, data: str) -> None:
        if not self.in_style:
            self.words.append(data)


def parsed(html: str) -> _Text:
    """A page as a browser takes it apart."""
    reader = _Text()
    reader.feed(html)
    reader.close()
    return reader


def read(html: str) -> str:
    """The words of a page, blanks squeezed."""
    return re.sub(r"\s+", " ", " ".join(parsed(html).words))


def press_page(week: Week | None = None, press_id: str = "auto-1") -> str:
    """A press's page of the small shop."""
    asked = week or small_shop.week()
    return pages.press_page(asked, small_shop.plan(asked), press_id, shop_name="Northgate Prints")


def test_a_press_page_tells_each_run_in_full() -> None:
    """The operator reads start, order, client, garments, heads, set-up, rate, end, lateness and reason."""
    text = read(press_page())
    for part in (
        "Big Eight",
        "Northgate Prints",
        "planned from Mon 2 Mar 08:00",
        "Monday 2 Mar 2026",
        "08:05 1042 · Harbour Run Club ▲ late 1 day done 09:43",
        "1 white base, white 156 mount, load",
        "2 flash no screen here",
        "3 white 156 mount, load",
        "print front , design crest",
        "garments 240 black tee (60 min)",
        "set-up 38 min : clean out black (head 1); mount 3 screens; load red and white (2 heads)",
        "printing 08:43 to 09:43 , expect 240 pieces/h, dryer long, adult pallets",
        "flash after head 1",
        "screens stand ready; cart staged from Mon 2 Mar 08:00",
        "why now first: its screens stand ready",
        "120 ash tee (24 min); 60 white tee (12 min); together 180",
        "stays live white on head 3: leave it there",
        "screens ready Mon 2 Mar 09:16",
    ):
        assert part in text
    assert "left chest" not in text


def test_a_rinse_out_is_on_the_page() -> None:
    """A water-based run tells its operator what to rinse out afterwards."""
    assert "afterwards rinse out blue: 5 min" in read(press_page(press_id="manual"))


def test_an_empty_press_says_so() -> None:
    """A press without work has a page that says so, cautions included."""
    week = builders.week(presses=(builders.press_line(), builders.press_line("P2", name="Spare")))
    text = read(pages.press_page(week, builders.plan(builders.planned_run()), "P2"))
    assert "Nothing is planned on this press." in text
    assert WHO_WINS in text


def test_the_screen_room_page_tells_what_by_when() -> None:
    """The screen tech reads what to coat, burn, tape and reclaim, each screen's mesh, and by when; then the carts."""
    week = small_shop.week()
    text = read(pages.screen_room_page(week, small_shop.plan(week)))
    for part in (
        "4 screens to burn. Reclaim a set only when its order is packed and counted good.",
        "08:00 to 08:24 burn 2 badge , 1044 front for Big Eight white 156, black 230; frame 23x31; dry 09:24 09:40",
        "coat 1 23x31/230; first for the burn of 1044 front Tue 08:00",
        "reclaim 1 route , 1042 back; 1 of 23x31/230",
        "Carts to stage",
        "1044 front , Fennick Brewery 500 navy youth tee; 2 screens; white and black; youth pallets 09:40",
    ):
        assert part in text


def test_every_page_carries_the_cautions() -> None:
    """Who wins over any value of ours stands on every page, with the hazards of that place."""
    week = small_shop.week()
    press, room = read(press_page()), read(pages.screen_room_page(week, small_shop.plan(week)))
    for text in (press, room):
        assert "Start values only." in text
        assert WHO_WINS in text
        assert cautions.CHEMICALS in text
    assert cautions.MOVING_PARTS in press
    assert cautions.HEAT in press
    assert cautions.ULTRAVIOLET in room
    assert cautions.PRESSURE in room
    assert cautions.RECLAIMING in room


def test_discharge_ink_brings_its_own_caution() -> None:
    """Formaldehyde is named on the page of a press that prints discharge, and on no other."""
    week = small_shop.week()
    discharge = replace(week, inks=tuple(replace(ink, family="discharge") for ink in week.inks))
    assert "formaldehyde" in read(press_page(discharge))
    assert "formaldehyde" not in read(press_page(week))


def test_what_people_type_is_escaped() -> None:
    """A client called like a script is shown as text and adds no tag."""
    page = press_page(small_shop.week(client="<script>alert(1)</script>"))
    assert "script" not in {tag for tag, _ in parsed(page).tags}
    assert "1042 · <script>alert(1)</script>" in read(page)


def test_pages_need_nothing_else() -> None:
    """A page loads no file, font or script from anywhere."""
    week = small_shop.week()
    for page in (press_page(), pages.screen_room_page(week, small_shop.plan(week))):
        assert not {"script", "link", "img", "iframe"} & {tag for tag, _ in parsed(page).tags}
        assert not any({"src", "href"} & set(attributes) for _, attributes in parsed(page).tags)
        assert "url(" not in page
        assert "@import" not in page


def test_pages_are_black_on_white() -> None:
    """No colour but black and white is asked for, so a page prints alike everywhere."""
    colours = re.findall(r"#[0-9a-fA-F]{3,8}\b|rgba?\(|hsl", press_page())
    assert set(colours) <= {"#000", "#fff"}


def test_tags_are_closed_in_order() -> None:
    """Every tag that is opened is closed, in order, so no browser has to guess."""
    void = {"meta", "br", "link", "img"}

    class _Strict(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.open: list[str] = []

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            self.open += [] if tag in void else [tag]

        def handle_endtag(self, tag: str) -> None:
            assert self.open.pop() == tag

    week = small_shop.week()
    for page in (press_page(), pages.screen_room_page(week, small_shop.plan(week))):
        reader = _Strict()
        reader.feed(page)
        reader.close()
        assert reader.open == []


@pytest.mark.parametrize(
    ("press_id", "name"),
    [
        ("auto-1", "press-auto-1.html"),
        ("../etc/passwd", "press-etc-passwd.html"),
        ("Größe 8", "press-gr-e-8.html"),
        ("???", "press-x.html"),
    ],
)
def test_page_names_are_safe(press_id: str, name: str) -> None:
    """A press's id never leads out of the folder or into names a system refuses."""
    assert pages.press_file(press_id, [press_id]) == name


def test_two_presses_never_share_a_page() -> None:
    """Ids that come to the same file name are told apart."""
    ids = ["a/b", "a b", "A-B"]
    assert len({pages.press_file(one, ids) for one in ids}) == 3

"""Lists and cards: everything typed by somebody is shown as typed, late is marked, nothing is left out."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

from dashboard.charts import palette
from dashboard.charts.floor import Step, print_of
from dashboard.parts import cards
from tests.dashboard.charts.shown_plans import two_press_shop

NASTY = "<script>Bo & Co</script>"


def test_a_clients_name_is_shown_as_typed() -> None:
    """Markup in a name, a note or a reason is text in every list."""
    week, plan, view = two_press_shop()
    now = week.clock.now
    row = replace(view.queue[0], client=NASTY, changes=(NASTY,))
    order = replace(view.orders[0], client=NASTY, why=NASTY)
    screen = replace(view.screens[0], design=NASTY, note=NASTY)
    step = Step(start_at=now, end_at=now, verb="print", what=NASTY, place=NASTY)
    pages = [
        cards.now_html(row, now, (1, 1)),
        cards.next_html([(row, print_of(week, plan, row.run_id))], now),
        cards.late_list_html([order]),
        cards.not_planned_html([order]),
        cards.pencilled_html([order]),
        cards.leaving_html([order]),
        cards.screens_html([screen], now),
        cards.steps_html([step]),
        cards.figures_html([(NASTY, NASTY)]),
        cards.cautions_html([NASTY]),
    ]
    for page in pages:
        assert "<script" not in page
        assert "&lt;script&gt;" in page


def test_the_card_says_what_is_on_the_press() -> None:
    """Order, location, pieces, until when, which print of the order, and every head with what is done to it."""
    view = two_press_shop().view
    row = view.queue[0]
    card = cards.now_html(row, row.set_up_at, (1, 3))
    assert f"{row.order_id} {row.location}" in card
    assert f"{row.pieces} pieces, until about" in card
    assert "print 1 of 3 of this order" in card
    assert card.count("<tr>") == len(row.all_heads) + 1
    assert ("setting up" in card) == (row.set_up_at < row.print_at)
    assert "NOW, printing" in cards.now_html(row, row.print_at, (1, 3))


def test_late_is_marked_with_word_and_how_much() -> None:
    """Mark, word and days stand together; nothing is marked that is not late."""
    assert re.sub("<[^>]+>", "", cards.late_html("▲ late 2 days")) == "▲ LATE 2 days"
    assert cards.late_html("") == ""
    late = next(row for row in two_press_shop().view.orders if row.late_days)
    assert "▲ LATE" in cards.late_list_html([late])


def test_reclaiming_of_one_time_is_one_block() -> None:
    """Sets reclaimed together are told together with their screens added up; burns stay apart."""
    week, _, view = two_press_shop()
    burn = next(row for row in view.screens if row.what == "burn")
    reclaim = replace(burn, what="reclaim", screens=2, needed_by=None)
    later = replace(reclaim, start_at=reclaim.start_at + timedelta(minutes=60))
    page = cards.screens_html([reclaim, replace(reclaim, screens=3), later, burn, burn], week.clock.now)
    assert "reclaim 5 screens" in page
    assert "reclaim 2 screens" in page
    assert page.count("<li>") == 4


def test_the_style_sheet_has_the_palettes_colours() -> None:
    """Every colour of the lists is one of the palette, which is tried for contrast."""
    used = set(re.findall(r"#[0-9A-Fa-f]{6}", cards.STYLE.read_text(encoding="utf-8")))
    known = {value for value in vars(palette).values() if isinstance(value, str) and value.startswith("#")}
    assert used
    assert used <= known

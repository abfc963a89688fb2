"""Answers to a what-if as people read them, and in figures."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from scheduler import api
from scheduler.domain.answers import KEEP, STAY
from scheduler.domain.what_if import BlanksMoved, Cancelled
from scheduler.papers.answer_rows import DateRow
from scheduler.papers.answers import drawn
from tests.what_if import small

ZONE = ZoneInfo("Europe/Lisbon")
DUE = datetime(2026, 3, 4, 17, tzinfo=ZONE)


def row(before: timedelta | None, after: timedelta | None) -> DateRow:
    """An order ready at these distances from its pick-up."""
    return DateRow(
        order_id="1",
        client="Client",
        must_leave_at=DUE,
        before_at=None if before is None else DUE + before,
        after_at=None if after is None else DUE + after,
        late_before=0,
        late_after=0,
        is_new=before is None,
    )


@pytest.mark.parametrize(
    ("before", "after", "picture"),
    [
        (timedelta(days=-4), timedelta(days=4), "o.......|.......x"),
        (timedelta(0), timedelta(minutes=1), "........ox......."),
        (timedelta(minutes=-1), timedelta(hours=-12), ".......xo........"),
        (None, timedelta(days=-1), "......x.|........"),
        (timedelta(days=1), timedelta(days=1), "........|.*......"),
        (timedelta(hours=12), timedelta(hours=13), "........|ox......"),
    ],
)
def test_dates_are_drawn_around_the_pick_up(before: timedelta | None, after: timedelta, picture: str) -> None:
    """Half a day for each sign; a minute late is right of the pick-up, a minute early never beyond it."""
    assert drawn(row(before, after), timedelta(days=4)) == picture


def text_of(answers: api.Answers, currency: str = "EUR") -> str:
    """The whole report as printed."""
    opening, sections = api.answers_report(answers, currency)
    lines = [opening]
    for section in sections:
        lines += ["", section.title, *api.section_lines(section, 100)]
    assert max(len(line) for line in lines[1:]) <= 100
    return "\n".join(lines)


def test_a_rush_that_moves_nobody_is_a_yes_with_its_price() -> None:
    """The sentence has the moment, nobody moved, nobody late and the price; the table one column with all names."""
    text = text_of(small.ask(small.shop_inputs(), small.rush()))
    assert text.startswith(
        "Yes: R is ready Mon 2 Mar 10:38, nobody moves, nobody turns late. It costs the shop +14.20 EUR.\n"
    )
    assert "Every promise kept: the same plan as nobody moves." in text
    assert "With overtime: no overtime is on offer." in text
    assert "set-ups more" in text
    assert "Nobody moves: auto-1, queue before and after" in text
    assert "they are no part of these sums" in text
    assert "who moves" not in text


def test_who_moves_and_who_turns_late_stand_beside_each_other() -> None:
    """Two answers, two columns: in one the rush is late, in the other runs move, each by so much."""
    text = text_of(small.ask(small.shop_inputs(8), small.rush(due=date(2026, 3, 2))))
    assert text.startswith("Yes: R is ready Mon 2 Mar ")
    assert "R ▲ late 1 day" in text
    assert "Every promise kept: who moves" in text
    assert "min later" in text
    assert "pairs printed in the other order" in text or "pair printed in the other order" in text


def test_an_impossible_one_is_a_no_with_the_reason() -> None:
    """A rush no press takes: one sentence, and the four answers say the same once."""
    wide = small.rush()
    wide = replace(wide, imprints=(replace(wide.imprints[0], presses=("none",)),))
    answers = small.ask(small.shop_inputs(), wide)
    text = text_of(answers)
    assert text.startswith("No: R: ")
    assert text.count("R: ") == 5


def test_orders_that_leave_the_plan_are_told() -> None:
    """A cancelled order, and one whose garments nobody knows of, are named."""
    for what_if in (Cancelled(order_id="2"), BlanksMoved(order_id="2", at=None)):
        assert "2 is not planned any more." in text_of(small.ask(small.shop_inputs(3), what_if))


def test_figures_are_the_same_in_json() -> None:
    """Terms add up to the extra cost, moved runs and dates are those of the answer, and it is JSON."""
    answers = small.ask(small.shop_inputs(8), small.rush(due=date(2026, 3, 2)), name="squeeze")
    told = json.loads(json.dumps(api.answers_figures(answers, "EUR")))
    assert told["what_if"] == "squeeze"
    assert told["orders"] == ["R"]
    by_kind = {one["kind"]: one for one in told["answers"]}
    for kind in (STAY, KEEP):
        one, row_of = by_kind[kind], api.answer_values(answers, answers.of(kind))
        changes = {name: term["change"] for name, term in one["cost_terms"].items()}
        assert changes.pop("total") == sum(changes.values()) == one["extra_cost"] == row_of.extra_cents
        assert len(one["moved"]) == len(row_of.moved) == one["stability"]["moved"]
        assert one["ready"]["R"].startswith("2026-03-0")
    assert by_kind["with overtime"]["reason"] == "no overtime is on offer"

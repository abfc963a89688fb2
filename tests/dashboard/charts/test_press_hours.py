"""Hours split per press: every open minute once, and the table says what the bars show."""

from __future__ import annotations

import pytest

from dashboard.charts.press_hours import hours_of, press_hours
from scheduler.domain.week import SetUpMinutes
from tests import builders as b
from tests.dashboard.charts.shown_plans import ShownPlan, over_lunch, seen, two_press_shop


def waiting_for_garments() -> ShownPlan:
    """P1 prints r1 to 60, waits to 100 for garments, sets up 10 minutes (8 for black to leave), prints to 170."""
    press = b.press_line("P1", set_up=SetUpMinutes(load_min=2, clean_dark_min=8))
    runs = [
        b.run("r1", choices=[b.choice(on=b.stack(("s1", "black")), print_min=58)]),
        b.run("r2", blanks_tau=100, choices=[b.choice(on=b.stack(("s2", "white")))]),
    ]
    inks = [b.ink("black", is_dark=True), b.ink("white")]
    plan = b.plan(b.planned_run("r1", set_up=2, printing=58), b.planned_run("r2", at=100, set_up=10))
    return seen(b.week(presses=[press, b.press_line("P2")], runs=runs, inks=inks), plan)


def test_every_open_minute_is_counted_once() -> None:
    """Printing, set-up, inks, waiting and nothing booked add up to the open minutes until the last press stops."""
    for shop in (over_lunch(), waiting_for_garments(), two_press_shop()):
        end_tau = max(one.print_end_tau for one in shop.plan.runs)
        for press, row in zip(shop.week.presses, hours_of(*shop), strict=True):
            windows = shop.view.press_hours[press.press_id]
            assert row.open_min == sum(max(0, min(w.end_tau, end_tau) - w.start_tau) for w in windows)
            assert min(row.spent.values()) >= 0


def test_minutes_go_where_they_went() -> None:
    """40 minutes waiting for garments, 8 for black to leave, 4 for the rest of both set-ups; P2 has nothing booked."""
    first, second = hours_of(*waiting_for_garments())
    assert first.spent == {
        "printing": 118, "setting up": 4, "changing inks": 8, "waiting": 40, "nothing booked": 0,
    }  # fmt: skip
    assert first.waiting_min == {"garments": 40}
    assert second.spent["nothing booked"] == 170


def test_a_press_closed_over_lunch_is_not_open() -> None:
    """The lunch of 20 minutes is none of P1's open minutes."""
    first, second = hours_of(*over_lunch())
    assert (first.open_min, second.open_min) == (80, 100)


def test_the_bars_are_the_table() -> None:
    """Each trace holds the hours of one column, press by press."""
    shop = waiting_for_garments()
    picture = press_hours(*shop)
    rows = hours_of(*shop)
    for trace, name in zip(picture.figure.data, rows[0].spent, strict=True):
        assert list(trace.x) == pytest.approx([row.spent[name] / 60 for row in rows])
    assert picture.rows[0] == (
        "P1", "118 min", "4 min", "8 min", "40 min", "garments 40 min", "0 min", "2 h 50 min",
    )  # fmt: skip
    assert all(len(row) == len(picture.headings) for row in picture.rows)


def test_the_sentence_names_what_is_waited_for_longest() -> None:
    """It says how long presses wait in all, for what longest, and where; or that they do not."""
    told = press_hours(*waiting_for_garments()).sentence
    assert told == "Presses stand waiting for 40 min in all, longest for garments: 40 min on P1."
    assert press_hours(*over_lunch()).sentence == "No press stands waiting between its runs."

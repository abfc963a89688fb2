"""Are we on time: the sentence, the figures and the lists say what the plan says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.charts.verdict import (
    CHAIN_HEADINGS,
    LOAD_HEADINGS,
    ORDER_HEADINGS,
    chain_of,
    chain_runs,
    chain_table,
    late_orders,
    load_table,
    not_planned,
    order_table,
    verdict,
)
from scheduler import api
from scheduler.domain.week import NotPlanned
from tests import builders as b
from tests.dashboard.charts.shown_plans import over_lunch, seen, two_press_shop


def test_on_time_is_a_yes() -> None:
    """Where no order is late the sentence says yes and counts the planned ones."""
    told = verdict(*over_lunch())
    assert told.sentence == "Yes: the one planned order makes its pick-up."
    assert dict(told.figures)["Orders that will miss their date"] == "0"
    assert dict(told.figures)["Worst miss"] == "none"
    assert dict(told.figures)["Last press stops"] == "Mon 2 Mar 09:40"


def test_late_is_counted_with_its_mark() -> None:
    """One late order of one: mark, how many of how many, and the worst."""
    told = verdict(*over_lunch(late=True))
    assert told.sentence == "▲ 1 of 1 planned order will miss their date; the worst by 1 day."
    assert [row.order_id for row in late_orders(over_lunch(late=True).view)] == ["or1"]


def test_what_is_not_planned_is_said() -> None:
    """An order that waits is counted beside the planned ones, and listed with its reason."""
    shop = over_lunch()
    waiting = NotPlanned(order_id="or9", run_id=None, reasons=("art missing",), kind="waiting")
    week = replace(shop.week, not_planned=(waiting,))
    again = seen(week, shop.plan)
    assert verdict(*again).sentence.endswith(" 1 order not planned, in whole or in part.")
    assert [(row.order_id, row.why) for row in not_planned(again.view)] == [("or9", "art missing")]


def test_an_empty_plan_says_so() -> None:
    """Without any order there is nothing to be on time with."""
    assert verdict(*seen(b.week(runs=[], orders=[]), b.plan(orders=[]))).sentence == "No order is planned."


@pytest.mark.parametrize(("packed", "close"), [(60, "0"), (61, "1"), (100, "1"), (101, "0")])
def test_close_is_within_the_cushion_and_still_on_time(packed: int, close: str) -> None:
    """The cushion of 40 minutes is open at its first minute and ends with the pick-up at 100."""
    orders = [b.order_due(pickups_tau=(100, 2700), cushion_min=40)]
    shop = seen(b.week(orders=orders), b.plan(b.planned_run("r1"), orders=[b.planned_order(packed=packed)]))
    assert dict(verdict(*shop).figures)["Packed within 40 min of their pick-up"] == close


def test_the_table_holds_every_order() -> None:
    """Planned or not, each order has its row, as wide as the headings, late ones with mark and words."""
    view = two_press_shop().view
    rows = order_table(view.orders)
    assert [row[0] for row in rows] == [row.order_id for row in view.orders]
    assert all(len(row) == len(ORDER_HEADINGS) for row in rows)
    assert [row[4] for row in rows if row[4]] == [f"▲ LATE {late_orders(view)[0].late_days} day"]


def test_a_chain_leads_from_now_to_the_last_box() -> None:
    """Its stretches follow each other without a gap, its runs are those it goes through, in time."""
    runs = [b.run("r1"), b.run("r2")]
    shop = seen(b.week(runs=runs), b.plan(b.planned_run("r1"), b.planned_run("r2", at=60)))
    found = chain_of(api.holding_up(shop.week, shop.plan), "or2")
    assert chain_runs(shop.week, found) == ("r1", "r2")
    rows = chain_table(shop.week, found)
    assert all(len(row) == len(CHAIN_HEADINGS) for row in rows)
    assert rows[0][1] == "Mon 2 Mar 08:00"
    assert [row[2] for row in rows[:-1]] == [row[1] for row in rows[1:]]
    assert rows[-1][2] == "Mon 2 Mar 10:00"


def test_what_is_shared_is_told_by_its_name() -> None:
    """A belt that carries 80 % while anything is on it is 80 % in use and never full."""
    shop = over_lunch()
    rows = load_table(api.holding_up(shop.week, shop.plan))
    assert ("belt of dryer belt", "80 %", "0 min") in rows
    assert all(len(row) == len(LOAD_HEADINGS) for row in rows)

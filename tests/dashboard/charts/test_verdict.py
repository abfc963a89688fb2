"""Are we on time: the sentence, the figures and the lists say what the plan says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.charts.verdict import (
    ORDER_HEADINGS,
    chain_steps,
    last_run_of,
    late_orders,
    not_planned,
    order_table,
    verdict,
)
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
    assert [row[6] for row in rows if row[6]] == [f"▲ LATE {late_orders(view)[0].late_days} day"]


def test_a_chain_is_told_run_by_run() -> None:
    """Each step says which run, where, from when and why; the first is the run asked about."""
    runs = [b.run("r1"), b.run("r2")]
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", at=60, reason="press free at Mon 09:00"))
    shop = seen(b.week(runs=runs), plan)
    assert chain_steps(shop.week, shop.view, "r2") == (
        "or2 front on P1, set up from Mon 2 Mar 09:00: press free at Mon 09:00.",
        "or1 front on P1, set up from Mon 2 Mar 08:00.",
    )


def test_the_last_run_of_an_order_ends_it() -> None:
    """Of two runs the one that ends later, of none none."""
    runs = [b.run("a", order_id="o"), b.run("b", order_id="o")]
    week = b.week(runs=runs)
    plan = b.plan(b.planned_run("a", at=60), b.planned_run("b"), orders=[b.planned_order("o", packed=120)])
    assert last_run_of(week, plan, "o") == "a"
    assert last_run_of(week, plan, "nobody's") is None

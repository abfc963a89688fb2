"""Measures and cost, counted by hand on small weeks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.week import Prices, SetUpMinutes
from scheduler.review.measures import LateOrder, PressUse, cost, late_orders, measure, pickups_missed
from tests import builders as b


@pytest.mark.parametrize(("packed", "missed"), [(100, 0), (101, 1), (200, 1), (201, 2), (301, 3)])
def test_every_pick_up_missed_from_the_promised_one_on_is_a_late_day(packed: int, missed: int) -> None:
    """Packed at the minute of a pick-up still makes it; pick-ups before the promised one do not count."""
    order = b.order_due(pickups_tau=(50, 100, 200, 300), must_leave=1, late_cents=700)
    assert pickups_missed(order, packed) == missed
    week = b.week(orders=[order])
    assert cost(week, b.plan(orders=[b.planned_order(packed=packed)])).late == 700 * missed


def test_late_orders_tell_what_they_miss() -> None:
    """Only orders that miss their promised pick-up are listed."""
    orders = [b.order_due("on time", (), pickups_tau=(100, 200)), b.order_due("late", (), pickups_tau=(50, 60, 200))]
    week = b.week(orders=orders)
    plan = b.plan(orders=[b.planned_order("on time", packed=100), b.planned_order("late", packed=61)])
    assert late_orders(week, plan) == (LateOrder(order_id="late", packed_tau=61, must_leave_tau=50, pickups_missed=2),)


@pytest.mark.parametrize(("packed", "cents"), [(60, 0), (61, 250), (150, 250)])
def test_packing_within_the_cushion_costs_its_price_once(packed: int, cents: int) -> None:
    """The cushion is open at its first minute and has one price, late or not."""
    order = b.order_due(pickups_tau=(100, 200), cushion_min=40, cushion_cents=250)
    assert cost(b.week(orders=[order]), b.plan(orders=[b.planned_order(packed=packed)])).cushion == cents


def test_overtime_costs_what_each_bought_block_costs() -> None:
    """Blocks not bought, unknown or named twice add nothing."""
    week = b.week(overtime=[b.overtime("one", price_cents=300), b.overtime("two", price_cents=500)])
    assert cost(week, b.plan(overtime=["two"])).overtime == 500
    assert cost(week, b.plan(overtime=["two", "one", "two", "unknown"])).overtime == 800
    assert measure(week, b.plan(overtime=["two", "one"])).overtime_min == 120


def test_set_up_and_rinsing_out_cost_the_press_minutes() -> None:
    """Set-up minutes and rinsing minutes count at the price of the press they are on."""
    runs = [
        b.run("r1", choices=[b.choice("P1", wash_up_min=5)]),
        b.run("r2", choices=[b.choice("P2")]),
    ]
    presses = [b.press_line("P1", set_up_cents_per_min=40), b.press_line("P2", set_up_cents_per_min=70)]
    week = b.week(runs=runs, presses=presses)
    plan = b.plan(b.planned_run("r1", set_up=10), b.planned_run("r2", press_id="P2", set_up=3))
    assert cost(week, plan).set_up == (10 + 5) * 40 + 3 * 70


def test_burns_cost_per_screen_and_reburns_are_told() -> None:
    """Every burn costs its screens; one after a reclaim is a reburn."""
    week = b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1"), b.run("r3", set_id="s2")],
        sets=[b.screen_set("s1", screens=3), b.screen_set("s2", screens=1)],
        screen_room=b.screen_room(burn_cents_per_screen=90),
    )
    plan = b.plan(
        b.planned_run("r1", at=200, burn=b.planned_burn(0)),
        b.planned_run("r2", at=900, burn=b.planned_burn(600)),
        b.planned_run("r3", at=300, burn=b.planned_burn(100)),
    )
    seen = measure(week, plan)
    assert (seen.cost.burns, seen.screens_burned, seen.reburns) == (7 * 90, 7, 1)
    held = measure(week, replace(plan, runs=(plan.runs[0], b.planned_run("r2", at=900), plan.runs[2])))
    assert (held.cost.burns, held.screens_burned, held.reburns) == (4 * 90, 4, 0)


@pytest.mark.parametrize(
    ("at", "press", "cents"), [(130, "P1", 0), (131, "P1", 400), (69, "P1", 400), (100, "P2", 400)]
)
def test_an_announced_run_costs_when_it_moves(at: int, press: str, cents: int) -> None:
    """More than the free minutes either way, or another press, is a move."""
    week = b.week(
        presses=[b.press_line("P1"), b.press_line("P2")],
        announced=[b.announced(at=100)],
        prices=Prices(move_cents=400, move_free_min=30),
    )
    assert cost(week, b.plan(b.planned_run(press_id=press, at=at))).moves == cents
    fixed = replace(week, fixings=(b.fixing(),))
    assert cost(fixed, b.plan(b.planned_run(press_id=press, at=at))).moves == 0


def test_the_terms_add_up_to_the_total() -> None:
    """Terms come in reading order and sum to the total."""
    order = b.order_due(pickups_tau=(50, 2700), late_cents=100, cushion_min=10, cushion_cents=7)
    week = b.week(orders=[order], overtime=[b.overtime(price_cents=1000)])
    found = cost(week, b.plan(b.planned_run(), orders=[b.planned_order(packed=60)], overtime=["late Mon"]))
    assert found.terms == dict.fromkeys(found.terms, 0) | {"late": 100, "cushion": 7, "overtime": 1000}
    assert found.total == 1107


def test_a_press_works_sets_up_and_stands() -> None:
    """Minutes printing, in set-up, and closed with a run on the press: these by the clock, nights included."""
    press = b.press_line(calendar=b.every_day(breaks=[(240, 30)]), set_up=SetUpMinutes(mount_min=7, load_min=3))
    offer = b.choice(print_min=400, on=b.stack(("a1", "white")))
    week = b.week(runs=[b.run(choices=[offer])], presses=[press])
    seen = measure(week, b.plan(b.planned_run(at=200, set_up=10, printing=30 + 400)))
    assert seen.presses == (PressUse(press_id="P1", set_up_min=10, print_min=400, paused_min=30 + 900, finish_tau=640),)
    assert (seen.ink_loads, seen.set_ups, seen.finish_tau) == (1, 1, 640)
    assert measure(week, b.plan(b.planned_run(set_up=0))).set_ups == 0


def test_the_week_is_finished_with_its_last_packing() -> None:
    """The last print or packing ends the week; an empty plan is finished at once."""
    assert measure(b.week(), b.plan(b.planned_run(), orders=[b.planned_order(packed=75)])).finish_tau == 75
    assert measure(b.week(), b.plan()).finish_tau == 0


@pytest.mark.parametrize(("at", "cents"), [(100, 20 * 3), (119, 3), (120, 0), (121, 0)])
def test_screens_ready_late_cost_by_the_minute(at: int, cents: int) -> None:
    """Taped at 100 and wanted 20 minutes ahead: each minute missing before the set-up costs 3 cents, by the set."""
    week = b.week(
        runs=[b.run("r1", set_id="s1")],
        sets=[b.screen_set("s1", screens=3)],
        screen_room=b.screen_room(ahead_min=20, not_ahead_cents_per_min=3),
    )
    assert cost(week, b.plan(b.planned_run("r1", at=at, burn=b.planned_burn(0)))).ahead == cents
    assert cost(week, b.plan(b.planned_run("r1", at=at))).ahead == 0


def test_printing_where_it_takes_more_hands_costs_them() -> None:
    """A run on its cheapest press costs nothing for its printing; on another press, what it costs beyond that."""
    offers = [b.choice("P1", print_cents=0), b.choice("P2", print_cents=450)]
    week = b.week(presses=[b.press_line("P1"), b.press_line("P2")], runs=[b.run(choices=offers)])
    found = [cost(week, b.plan(b.planned_run(press_id=press_id))).printing for press_id in ("P1", "P2")]
    assert found == [0, 450]

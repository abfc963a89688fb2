"""Order rules and cost terms of the model, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import Prices
from scheduler.model.order_rules import (
    blanks_are_there,
    finishing_ends_last,
    leaves_by_a_pick_up,
    lot_is_in_one_place,
    print_after_is_kept,
    what_is_fixed_stays,
)
from tests import builders as b
from tests.model.asserting import allowed, refused, terms_cents

TWO = [b.press_line("P1"), b.press_line("P2")]


def test_prints_on_one_lot_keep_their_distance_either_way_round() -> None:
    """Cure and the minutes between lie between two prints on the same garments, whichever comes first."""
    runs = [
        b.run("r1", lots=["lot"], cure_min=5, between_min=15),
        b.run("r2", lots=["lot"], choices=[b.choice("P2")], cure_min=3),
    ]
    week = b.week(runs=runs, presses=TWO)

    def plan(first: int, second: int) -> Plan:
        done = [b.planned_order("or1", packed=first + 65), b.planned_order("or2", packed=second + 63)]
        return b.plan(b.planned_run("r1", at=first), b.planned_run("r2", press_id="P2", at=second), orders=done)

    allowed(week, plan(0, 80))
    refused(lot_is_in_one_place, week, plan(0, 79))
    allowed(week, plan(63, 0))
    refused(lot_is_in_one_place, week, plan(62, 0))


def test_a_print_follows_those_it_must_follow() -> None:
    """The run before is cured and rested when the next one prints."""
    runs = [
        b.run("r1", cure_min=5, between_min=15),
        b.run("r2", choices=[b.choice("P2")], print_after=("r1", "printed last week")),
    ]
    week = b.week(runs=runs, presses=TWO)
    done = b.planned_order("or1", packed=65)
    for at, fits in ((80, True), (79, False)):
        runs_planned = b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=at)
        plan = b.plan(*runs_planned, orders=[done, b.planned_order("or2", packed=at + 60)])
        if fits:
            allowed(week, plan)
        else:
            refused(print_after_is_kept, week, plan)


def test_nothing_starts_before_its_blanks_are_there() -> None:
    """Staging waits for the garments, set-up where nothing is staged; a started run has them."""
    week = b.week(runs=[b.run(blanks_tau=30)])
    allowed(week, b.plan(b.planned_run(at=30)))
    refused(blanks_are_there, week, b.plan(b.planned_run(at=29)))
    staged = replace(week, staging=b.floor_line(minutes=10))
    allowed(staged, b.plan(b.planned_run(at=40, stage=(30, 40))))
    refused(blanks_are_there, staged, b.plan(b.planned_run(at=40, stage=(29, 39))))
    started = replace(week, fixings=(b.fixing(kind="started", press_id="P1", at=0, left=0),))
    allowed(started, b.plan(b.planned_run(at=0)))


def test_packing_starts_after_the_lag_and_ends_after_the_last_box() -> None:
    """Ten minutes of packing start a lag after the last print starts and end a box after the last cure."""
    order = b.order_due(finish_min=10, finish_lag_min=20, last_box_min=2)
    week = b.week(runs=[b.run(cure_min=3)], orders=[order], finishing=b.floor_line())

    def packed(start: int, end: int) -> Plan:
        return b.plan(b.planned_run(), orders=[b.planned_order(start=start, packed=end)])

    allowed(week, packed(55, 65))
    refused(finishing_ends_last, week, packed(54, 64))
    refused(finishing_ends_last, week, packed(55, 66))
    short = replace(week, runs=(b.run(choices=[b.choice(print_min=5)], cure_min=3),))
    for start, fits in ((20, True), (19, False)):
        plan = b.plan(b.planned_run(printing=5), orders=[b.planned_order(start=start, packed=start + 10)])
        if fits:
            allowed(short, plan)
        else:
            refused(finishing_ends_last, short, plan)


def test_an_order_without_packing_is_packed_when_its_last_box_is_closed() -> None:
    """Without packing minutes the order is ready at one moment, no sooner and no later."""
    week = b.week(runs=[b.run(cure_min=3)], orders=[b.order_due(last_box_min=2)])
    allowed(week, b.plan(b.planned_run(), orders=[b.planned_order(packed=65)]))
    for wrong in (64, 66):
        refused(finishing_ends_last, week, b.plan(b.planned_run(), orders=[b.planned_order(packed=wrong)]))


def test_every_order_leaves_by_its_last_pick_up() -> None:
    """An order packed at its last pick-up leaves with it, one packed a minute later never."""
    for last, fits in ((60, True), (59, False)):
        week = b.week(orders=[b.order_due(pickups_tau=(last,))])
        if fits:
            allowed(week, b.plan(b.planned_run()))
        else:
            refused(leaves_by_a_pick_up, week, b.plan(b.planned_run()))


def test_what_is_fixed_stays() -> None:
    """A locked run keeps its press and its minute; a started one comes first on its press."""
    run = b.run(choices=[b.choice("P1"), b.choice("P2")])
    week = b.week(runs=[run], presses=TWO, fixings=[b.fixing(press_id="P2", at=30)])
    allowed(week, b.plan(b.planned_run(press_id="P2", at=30)))
    refused(what_is_fixed_stays, week, b.plan(b.planned_run(press_id="P1", at=30)))
    refused(what_is_fixed_stays, week, b.plan(b.planned_run(press_id="P2", at=31)))
    nowhere = replace(week, fixings=(b.fixing(press_id="P3"),))
    refused(what_is_fixed_stays, nowhere, b.plan(b.planned_run(press_id="P2", at=30)))


def test_a_started_run_comes_first_on_its_press() -> None:
    """Nothing is set up before what has started, even if the fixing leaves room."""
    started = b.fixing("r1", "started", press_id="P1", at=60, left=0)
    week = b.week(runs=[b.run("r1"), b.run("r2")], fixings=[started])
    allowed(week, b.plan(b.planned_run("r1", at=60), b.planned_run("r2", at=120)))
    refused(what_is_fixed_stays, week, b.plan(b.planned_run("r1", at=60), b.planned_run("r2", at=0)))


@pytest.mark.parametrize(
    ("packed", "late", "cushion"), [(90, 0, 0), (91, 0, 7), (100, 0, 7), (101, 50, 7), (201, 100, 7)]
)
def test_late_and_cushion_are_paid_to_the_minute(packed: int, late: int, cushion: int) -> None:
    """Each pick-up missed from the promised one on costs a late day; the cushion starts its minutes before it."""
    order = b.order_due(pickups_tau=(50, 100, 200, 540), must_leave=1, late_cents=50, cushion_min=10, cushion_cents=7)
    week = b.week(orders=[order])
    terms = terms_cents(week, b.plan(b.planned_run(at=packed - 60)))
    assert terms is not None
    assert (terms["late"], terms["cushion"]) == (late, cushion)


@pytest.mark.parametrize(
    ("press_id", "at", "cents"), [("P1", 70, 0), ("P1", 69, 9), ("P1", 130, 0), ("P1", 131, 9), ("P2", 100, 9)]
)
def test_a_move_is_paid_beyond_what_is_free(press_id: str, at: int, cents: int) -> None:
    """An announced run moves thirty minutes for nothing; further, or to another press, it costs."""
    told = b.announced(at=100)
    week = b.week(
        runs=[b.run(choices=[b.choice("P1"), b.choice("P2")])],
        presses=TWO,
        announced=[told],
        prices=Prices(move_cents=9, move_free_min=30),
    )
    plan = b.plan(b.planned_run(press_id=press_id, at=at))
    terms = terms_cents(week, plan)
    assert terms is not None
    assert terms["moves"] == cents
    fixed = replace(week, fixings=(b.fixing(press_id=press_id),))
    terms = terms_cents(fixed, plan)
    assert terms is not None
    assert terms["moves"] == 0

"""Order rules, on both sides of their boundaries."""

from __future__ import annotations

from scheduler.review.order_rules import (
    blanks_are_there,
    every_run_once,
    finishing_ends_last,
    leaves_by_a_pick_up,
    lot_is_in_one_place,
    print_after_is_kept,
    what_is_fixed_stays,
)
from tests import builders as b
from tests.review.asserting import broken, kept

TWO_PRESSES = [b.press_line("P1"), b.press_line("P2")]


def test_garments_are_printed_cured_and_rested_before_the_next_print() -> None:
    """Two prints on one lot are apart by cure and resting minutes, whichever comes first."""
    runs = [b.run("r1", lots=["tees"], cure_min=3, between_min=10), b.run("r2", lots=["tees", "bags"], cure_min=5)]
    week = b.week(runs=runs, presses=TWO_PRESSES)
    kept(lot_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=73)))
    found = broken(lot_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=72)))
    assert found.message == (
        "tees is printed by or1 front from Mon 2 Mar 08:00 and by or2 front from Mon 2 Mar 09:12, too close together"
    )
    kept(lot_is_in_one_place, week, b.plan(b.planned_run("r2"), b.planned_run("r1", press_id="P2", at=65)))
    broken(lot_is_in_one_place, week, b.plan(b.planned_run("r2"), b.planned_run("r1", press_id="P2", at=64)))
    # The same, with the later run listed first in the plan.
    kept(lot_is_in_one_place, week, b.plan(b.planned_run("r1", press_id="P2", at=65), b.planned_run("r2")))
    broken(lot_is_in_one_place, week, b.plan(b.planned_run("r1", press_id="P2", at=64), b.planned_run("r2")))


def test_different_garments_may_be_printed_together() -> None:
    """Runs that share no lot do not wait for each other."""
    week = b.week(runs=[b.run("r1"), b.run("r2")], presses=TWO_PRESSES)
    kept(lot_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2")))


def test_a_run_prints_after_those_it_must_follow() -> None:
    """Cure and resting minutes of the run before count; set-up may start earlier."""
    runs = [b.run("r1", cure_min=3, between_min=10), b.run("r2", print_after=("r1", "printed last week"))]
    week = b.week(runs=runs, presses=TWO_PRESSES)
    first = b.planned_run("r1")
    kept(print_after_is_kept, week, b.plan(first, b.planned_run("r2", press_id="P2", at=53, set_up=20)))
    found = broken(print_after_is_kept, week, b.plan(first, b.planned_run("r2", press_id="P2", at=52, set_up=20)))
    assert found.message == (
        "or2 front starts printing Mon 2 Mar 09:12; or1 front must be over before it and is Mon 2 Mar 09:13"
    )
    stranger = b.planned_run("printed last week", press_id="P2", at=500)
    kept(print_after_is_kept, week, b.plan(first, b.planned_run("r2", press_id="P2", at=73), stranger))


def test_nothing_is_staged_or_set_up_before_its_garments_come() -> None:
    """The first touch is staging, or set-up where nothing is staged."""
    staged = b.week(runs=[b.run(blanks_tau=100)], staging=b.floor_line(minutes=20))
    kept(blanks_are_there, staged, b.plan(b.planned_run(at=120, stage=(100, 120))))
    found = broken(blanks_are_there, staged, b.plan(b.planned_run(at=120, stage=(99, 119))))
    assert found.message == "or1 front is staged Mon 2 Mar 09:39, its garments come Mon 2 Mar 09:40"
    plain = b.week(runs=[b.run(blanks_tau=100)])
    kept(blanks_are_there, plain, b.plan(b.planned_run(at=100)))
    broken(blanks_are_there, plain, b.plan(b.planned_run(at=99)))
    broken(blanks_are_there, plain, b.plan(b.planned_run(at=99, stage=(100, 100))))


def test_what_has_started_has_its_garments() -> None:
    """A started run is not held up by a later delivery."""
    week = b.week(runs=[b.run(blanks_tau=100)], fixings=[b.fixing(kind="started", press_id="P1", at=0, left=0)])
    kept(blanks_are_there, week, b.plan(b.planned_run(at=0)))


def test_packing_takes_its_minutes_in_one_go() -> None:
    """Packing pauses over closed minutes only and is not stretched."""
    week = b.week(orders=[b.order_due(finish_min=30)], finishing=b.floor_line(calendar=b.every_day(breaks=[(240, 30)])))

    def packing(start: int, packed: int) -> object:
        return b.plan(b.planned_run(), orders=[b.planned_order(start=start, packed=packed)])

    kept(finishing_ends_last, week, packing(60, 90))
    broken(finishing_ends_last, week, packing(60, 89))
    broken(finishing_ends_last, week, packing(60, 91))
    kept(finishing_ends_last, week, packing(225, 285))
    broken(finishing_ends_last, week, packing(225, 255))


def test_packing_starts_a_while_after_the_last_print_starts_and_ends_after_the_last_box() -> None:
    """Both ends of packing follow the last of the order's runs, to the minute."""
    runs = [b.run("r1", order_id="o"), b.run("r2", order_id="o", cure_min=3)]
    order = b.order_due("o", ("r1", "r2"), finish_min=30, finish_lag_min=40, last_box_min=5)
    week = b.week(runs=runs, orders=[order], presses=TWO_PRESSES, finishing=b.floor_line())

    def packing(start: int, at: int = 20, printing: int = 60) -> object:
        second = b.planned_run("r2", press_id="P2", at=at, printing=printing)
        done = [b.planned_order("o", start=start, packed=start + 30)]
        return b.plan(b.planned_run("r1"), second, orders=done)

    kept(finishing_ends_last, week, packing(60))
    broken(finishing_ends_last, week, packing(57))
    kept(finishing_ends_last, week, packing(60, at=20, printing=62))
    broken(finishing_ends_last, week, packing(60, at=20, printing=63))
    kept(finishing_ends_last, week, packing(90, at=50))
    broken(finishing_ends_last, week, packing(89, at=50))


def test_an_order_without_packing_is_done_with_its_last_box() -> None:
    """Nothing to pack: the order is ready that minute, neither earlier nor later."""
    week = b.week(runs=[b.run(cure_min=3)], orders=[b.order_due(last_box_min=5)], finishing=b.floor_line())
    kept(finishing_ends_last, week, b.plan(b.planned_run(), orders=[b.planned_order(packed=68)]))
    for wrong in (b.planned_order(packed=67), b.planned_order(packed=69), b.planned_order(start=60, packed=68)):
        broken(finishing_ends_last, week, b.plan(b.planned_run(), orders=[wrong]))


def test_a_shop_without_a_packing_table_packs_in_no_time() -> None:
    """Packing minutes count where somebody packs."""
    week = b.week(orders=[b.order_due(finish_min=30)])
    kept(finishing_ends_last, week, b.plan(b.planned_run(), orders=[b.planned_order(packed=60)]))
    broken(finishing_ends_last, week, b.plan(b.planned_run(), orders=[b.planned_order(start=60, packed=90)]))


def test_an_order_is_packed_by_its_last_pick_up() -> None:
    """Packed to the minute is in time."""
    week = b.week(orders=[b.order_due(pickups_tau=(50, 100))])
    kept(leaves_by_a_pick_up, week, b.plan(orders=[b.planned_order(packed=100)]))
    found = broken(leaves_by_a_pick_up, week, b.plan(orders=[b.planned_order(packed=101)]))
    assert found.message == "or1 is packed Mon 2 Mar 09:41, the last pick-up is Mon 2 Mar 09:40"


def test_what_is_fixed_keeps_its_press_and_its_minute() -> None:
    """A fixed run moves neither by a press nor by a minute; what is not fixed of it may."""
    week = b.week(presses=TWO_PRESSES, fixings=[b.fixing(press_id="P1", at=30)])
    kept(what_is_fixed_stays, week, b.plan(b.planned_run(at=30)))
    broken(what_is_fixed_stays, week, b.plan(b.planned_run(at=31)))
    found = broken(what_is_fixed_stays, week, b.plan(b.planned_run(press_id="P2", at=30)))
    assert found.message == "or1 front stays on P1, it is on P2"
    press_only = b.week(presses=TWO_PRESSES, fixings=[b.fixing(press_id="P1")])
    kept(what_is_fixed_stays, press_only, b.plan(b.planned_run(at=31)))
    time_only = b.week(presses=TWO_PRESSES, fixings=[b.fixing(at=30)])
    kept(what_is_fixed_stays, time_only, b.plan(b.planned_run(press_id="P2", at=30)))


def test_started_runs_come_first_on_their_press() -> None:
    """Nothing is put before a run that has started, whatever its times say."""
    week = b.week(
        runs=[b.run("r1"), b.run("r2"), b.run("r3")],
        fixings=[b.fixing("r1", "started", press_id="P1", at=0), b.fixing("r2", "started", press_id="P1", at=60)],
    )
    runs = [b.planned_run("r1", at=0), b.planned_run("r2", at=60)]
    kept(what_is_fixed_stays, week, b.plan(*runs, b.planned_run("r3", at=120)))
    found = broken(what_is_fixed_stays, week, b.plan(*runs, b.planned_run("r3", at=59)))
    assert found.message == "or2 front has started on P1, or3 front is put before it"


def test_every_run_and_order_is_planned_once() -> None:
    """Left out, doubled or made up: each is told."""
    week = b.week(runs=[b.run("r1"), b.run("r2")])
    one, two = b.planned_run("r1"), b.planned_run("r2", at=60)
    kept(every_run_once, week, b.plan(one, two))
    orders = [b.planned_order("or1"), b.planned_order("or2")]
    for runs, told in (
        ([one], "or2 front is not planned"),
        ([one, two, two], "or2 front is planned 2 times"),
        ([one, two, b.planned_run("r9")], "run r9 is not of this week"),
    ):
        assert broken(every_run_once, week, b.plan(*runs, orders=orders)).message == told
    for done, told in (
        (orders[:1], "or2 is never packed"),
        (orders + orders[1:], "or2 is packed 2 times"),
        ([*orders, b.planned_order("o9")], "order o9 is not of this week"),
    ):
        assert broken(every_run_once, week, b.plan(one, two, orders=done)).message == told


def test_an_order_without_runs_need_not_be_packed() -> None:
    """An order whose runs are all left out of the week waits outside the plan."""
    week = b.week(orders=[b.order_due("or1", ("r1",)), b.order_due("waits", ("not planned",))])
    kept(every_run_once, week, b.plan(b.planned_run()))

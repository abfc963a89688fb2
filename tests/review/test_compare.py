"""One plan beside another."""

from __future__ import annotations

from scheduler.domain.week import Prices
from scheduler.review.compare import LateBeside, compare
from tests import builders as b


def test_terms_stand_side_by_side_and_end_with_the_total() -> None:
    """Each term of both plans, and what the second costs more."""
    week = b.week(presses=[b.press_line(set_up_cents_per_min=10)], overtime=[b.overtime(price_cents=900)])
    a = b.plan(b.planned_run(set_up=30))
    other = b.plan(b.planned_run(set_up=20), overtime=["late Mon"])
    found = {one.term: (one.a_cents, one.b_cents, one.change_cents) for one in compare(week, a, other).terms}
    assert found == {
        "late": (0, 0, 0),
        "cushion": (0, 0, 0),
        "overtime": (0, 900, 900),
        "set_up": (300, 200, -100),
        "printing": (0, 0, 0),
        "burns": (0, 0, 0),
        "ahead": (0, 0, 0),
        "moves": (0, 0, 0),
        "total": (300, 1100, 800),
    }


def test_orders_late_in_either_plan_are_told() -> None:
    """Late in one, in both, or not packed at all in the other; what is on time in both is left out."""
    orders = [b.order_due(name, (), pickups_tau=(50, 100, 2700)) for name in ("a", "b", "c", "d")]
    week = b.week(orders=orders)

    def packed(**at: int) -> object:
        return b.plan(orders=[b.planned_order(name, packed=tau) for name, tau in at.items()])

    found = compare(week, packed(a=50, b=51, c=50, d=60), packed(a=50, b=101, c=51)).late_orders
    assert found == (
        LateBeside(order_id="b", a_missed=1, b_missed=2),
        LateBeside(order_id="c", a_missed=0, b_missed=1),
        LateBeside(order_id="d", a_missed=1, b_missed=None),
    )


def test_runs_that_moved_are_told() -> None:
    """Another press, more than the free minutes, or in one plan only; less than that is where it was."""
    runs = [b.run(f"r{number}") for number in range(1, 6)]
    week = b.week(runs=runs, prices=Prices(move_free_min=30))
    a = b.plan(*(b.planned_run(f"r{number}", at=100) for number in (1, 2, 3, 4)))
    other = b.plan(
        b.planned_run("r1", at=130),
        b.planned_run("r2", at=69),
        b.planned_run("r3", at=100, press_id="P2"),
        b.planned_run("r5", at=0),
    )
    found = {one.run_id: (one.a is None, one.b is None, one.later_min) for one in compare(week, a, other).moved_runs}
    assert found == {"r2": (False, False, -31), "r3": (False, False, 0), "r4": (False, True, 0), "r5": (True, False, 0)}


def test_plans_of_two_weeks_are_compared_by_the_clock() -> None:
    """An extra hour each evening shifts every later shop minute; a run at the same clock time has not moved."""
    week, longer = b.week(), b.week(clock=b.clock(day_min=600))
    tuesday = b.plan(b.planned_run(at=540 + 60))
    same = b.plan(b.planned_run(at=600 + 60))
    assert compare(week, tuesday, same, week_b=longer).moved_runs == ()
    later = compare(week, tuesday, b.plan(b.planned_run(at=600 + 180)), week_b=longer).moved_runs
    assert [(one.run_id, one.later_min) for one in later] == [("r1", 120)]

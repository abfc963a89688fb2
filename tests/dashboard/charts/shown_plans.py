"""Small plans with their views, for charts."""

from __future__ import annotations

from typing import NamedTuple

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from tests import builders as b
from tests.papers import small_shop


class ShownPlan(NamedTuple):
    """A week, a plan of it and its view."""

    week: Week
    plan: Plan
    view: api.PlanView


def seen(week: Week, plan: Plan) -> ShownPlan:
    """A plan with its view."""
    return ShownPlan(week, plan, api.plan_view(week, plan))


def two_press_shop() -> ShownPlan:
    """The shop of two presses that papers are tried on: one order late, one waiting for art."""
    return seen(small_shop.week(), small_shop.plan())


def over_lunch(*, late: bool = False) -> ShownPlan:
    """r1 on P1: set-up 0 to 20, printing 20 to 40 and 60 to 100, lunch between; P2 works through, empty.

    late: it should have left at 90.
    """
    presses = [
        b.press_line("P1", dryer_id="belt", calendar=b.every_day(breaks=[(40, 20)])),
        b.press_line("P2", dryer_id="belt"),
    ]
    runs = [b.run("r1", choices=[b.choice("P1", print_min=60, belt_permille=800)])]
    orders = [b.order_due("or1", pickups_tau=(90 if late else 200, 2700))]
    week = b.week(presses=presses, runs=runs, orders=orders)
    plan = b.plan(
        b.planned_run("r1", set_up=20, print_end_tau=100, set_up_min=20), orders=[b.planned_order("or1", packed=100)]
    )
    return seen(week, plan)

"""Orders that wait, for tests: the week without them, what they wait for, and what pencilling them in finds."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.latest_yes import LatestYes, Waiting
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.search.pencilling import joint_week, pencil_in


def without(one: Week, *order_ids: str) -> Week:
    """The week that stands while these orders wait."""
    gone = {each.run_id for each in one.runs if each.order_id in order_ids}
    return replace(
        one,
        runs=tuple(
            replace(each, print_after=tuple(other for other in each.print_after if other not in gone))
            for each in one.runs
            if each.run_id not in gone
        ),
        orders=tuple(order for order in one.orders if order.order_id not in order_ids),
        sets=tuple(
            each for each in one.sets if any(run.set_id == each.set_id for run in one.runs if run.run_id not in gone)
        ),
        fixings=tuple(fixing for fixing in one.fixings if fixing.run_id not in gone),
        announced=tuple(told for told in one.announced if told.run_id not in gone),
    )


def garments(one: Week, order_id: str) -> Waiting:
    """An order whose runs wait for garments."""
    return Waiting(order_id=order_id, art=frozenset(), garments=frozenset(one.order[order_id].run_ids))


def art(one: Week, order_id: str) -> Waiting:
    """An order whose runs wait for art."""
    return Waiting(order_id=order_id, art=frozenset(one.order[order_id].run_ids), garments=frozenset())


def the_yes(full: Week, plan: Plan, *waiting: Waiting) -> list[LatestYes]:
    """What pencilling in these orders finds; firm and pencilled together keep every rule."""
    ids = [one.order_id for one in waiting]
    week = without(full, *ids)
    found = pencil_in(week, full, plan, waiting)
    assert replace(found, pencilled=plan.pencilled) == plan
    placed = [order.order_id for order in found.pencilled.orders]
    assert check(joint_week(week, full, placed), found.with_pencilled) == ()
    return list(found.pencilled.yes)


def planned(one: Week) -> Plan:
    """The cheapest plan that a rule makes."""
    found = first_plan(one)
    assert isinstance(found, Decoded)
    return found.plan

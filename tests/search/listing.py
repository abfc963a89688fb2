"""Short ways to time a planner's list in a test; every plan is held to the independent checker on the way out."""

from __future__ import annotations

from scheduler.domain.own_order import OwnLine, OwnOrder
from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.search.as_listed import AsListed, time_list


def own(*lines: OwnLine | str) -> OwnOrder:
    """A list; a text is a line with an order's number alone."""
    return OwnOrder(
        source="queue.csv", lines=tuple(OwnLine(order_id=one) if isinstance(one, str) else one for one in lines)
    )


def timed(one: Week, *lines: OwnLine | str) -> AsListed:
    """The list timed; the plan keeps every rule."""
    found = time_list(one, own(*lines))
    assert isinstance(found, AsListed), found
    assert check(one, found.plan) == ()
    return found


def queue(found: AsListed, press_id: str = "P1") -> list[str]:
    """Runs of a press in the order they are set up."""
    return [one.run_id for one in found.plan.queue.get(press_id, ())]

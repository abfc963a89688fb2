"""Short ways to decode a small week in a test; every plan is held to the independent checker on the way out."""

from __future__ import annotations

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.search.decoder import Decoded, Refused, decode
from scheduler.search.genome import Genome


def decoded(one: Week, *order: str, **more: object) -> Decoded:
    """The decoded plan of this order (default: the week's own), checked."""
    found = decode(one, _genome(one, order, more))
    assert isinstance(found, Decoded), found
    assert check(one, found.plan) == ()
    return found


def plan(one: Week, *order: str, **more: object) -> Plan:
    """The plan of this order, checked."""
    return decoded(one, *order, **more).plan


def refusal(one: Week, *order: str, **more: object) -> Refused:
    """Why there is no plan of this order."""
    found = decode(one, _genome(one, order, more))
    assert isinstance(found, Refused)
    return found


def _genome(one: Week, order: tuple[str, ...], more: dict[str, object]) -> Genome:
    return Genome(order=order or tuple(one.run), **more)  # type: ignore[arg-type]


def print_times(made: Plan) -> dict[str, tuple[int, int]]:
    """When each run prints."""
    return {run.run_id: (run.print_start_tau, run.print_end_tau) for run in made.runs}

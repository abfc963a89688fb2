"""A kept plan held against every rule, by the week and the figures it was made from."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler import api
from scheduler.shop_book.keeping import opened
from scheduler.shop_book.learning import learnt_lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """A kept plan's number, the rules it breaks, and which figures it was made with are the record's."""

    number: int
    broken: tuple[api.Violation, ...]
    learnt_lines: tuple[str, ...]


def verified(address: str, number: int | None = None) -> Verified:
    """A plan, the last one made where no number is given, checked. Raises InputError where there is none."""
    from scheduler.book.plans import last_plan, plan_within

    with opened(address) as book, book.reading() as connection:
        chosen = number if number is not None else last_plan(connection, book.name)
        kept = plan_within(connection, book.name, chosen)
    workload = api.planned_week(kept.inputs)
    broken = api.check(workload.week, kept.plan)
    if not broken and kept.plan.pencilled.runs:
        broken = api.check(api.joint_week(kept.inputs, workload.week, kept.plan), kept.plan.with_pencilled)
    return Verified(number=chosen, broken=broken, learnt_lines=learnt_lines(workload.assumptions))

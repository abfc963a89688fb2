"""One rule asked about one plan, both ways."""

from __future__ import annotations

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.rules import Rule
from scheduler.review.violation import Violation


def kept(rule: Rule, week: Week, plan: Plan) -> None:
    """The plan keeps the rule."""
    assert rule(week, plan) == []


def broken(rule: Rule, week: Week, plan: Plan) -> Violation:
    """The plan breaks the rule, told under its own name; the first violation."""
    found = rule(week, plan)
    assert found, f"{rule.__name__} found nothing"
    assert {one.rule for one in found} == {rule.__name__}
    return found[0]

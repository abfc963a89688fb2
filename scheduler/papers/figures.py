"""A plan in figures for other programs: the same keys for every plan, money in integer cents."""

from __future__ import annotations

from typing import Any

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.measures import measure
from scheduler.review.rules import check


def plan_figures(week: Week, plan: Plan) -> dict[str, Any]:
    """Cost, lateness, ink changes, screens and broken rules of a plan.

    cost and cost_terms: cents. late_days: pick-ups missed, over all orders. ink_changes: heads filled with an ink.
    violations: rules broken, once each place.
    """
    seen = measure(week, plan)
    return {
        "cost": seen.cost.total,
        "cost_terms": seen.cost.terms,
        "runs": len(plan.runs),
        "late_orders": len(seen.late_orders),
        "late_days": sum(order.pickups_missed for order in seen.late_orders),
        "ink_changes": seen.ink_loads,
        "screens_burned": seen.screens_burned,
        "reburns": seen.reburns,
        "violations": len(check(week, plan)),
    }

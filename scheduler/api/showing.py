"""What screens and terminals show of a plan: its view, its report, what holds it up."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from scheduler.api.planning import measure
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.holding_up import HoldingUp
    from scheduler.insight.helps import Help, WhatHelps
    from scheduler.papers.chase_list import ChaseRow
    from scheduler.papers.text import Section
    from scheduler.papers.yours_and_ours import YoursAndOurs
    from scheduler.plan_view import PlanView
    from scheduler.search.result import SearchResult
AHEAD_OF_RINGING = ("Late orders", "Pencilled in, waiting for a yes", "Not planned")
"""Sections of a report before the one that says whom to ring."""


def plan_view(week: Week, plan: Plan, clients: Mapping[str, str] | None = None, joint: Week | None = None) -> PlanView:
    """Everything screens show of a plan: queues, orders, screens, people, belts, what waits for what.

    joint: as of `joint_week`, so that pencilled orders stand among the orders with their latest yes.
    """
    from scheduler.plan_view import plan_view as view

    return view(week, plan, clients, joint)


def holding_up(week: Week, plan: Plan, helps: WhatHelps | None = None) -> HoldingUp:
    """What holds a plan up: who and when, what is used how much, why each order ends when it does."""
    from scheduler.holding_up import holding_up as read

    return read(week, plan, helps)


def holding_up_report(found: HoldingUp, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """What holds a plan up in one sentence, and section by section."""
    from scheduler.holding_up import opening, sections

    return opening(found, currency), sections(found, currency)


def holding_up_figures(found: HoldingUp) -> dict[str, Any]:
    """What holds a plan up in figures for other programs."""
    from scheduler.holding_up import figures as figures_of

    return figures_of(found)


def what_helps(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    seconds: float,
    seed: int = 1,
    on_help: Callable[[Help], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> WhatHelps:
    """What one thing more would save, thing by thing, within so many seconds."""
    from scheduler.insight.helps import what_helps as tried
    from scheduler.typed_offers import typed_offers

    more = typed_offers(inputs, week, plan)
    return tried(week, plan, seconds=seconds, seed=seed, more=more, on_help=on_help, stop=stop)


def report(
    week: Week,
    plan: Plan,
    result: SearchResult,
    *,
    currency: str = "",
    clients: Mapping[str, str] | None = None,
    chase: Sequence[ChaseRow] = (),
) -> tuple[str, tuple[Section, ...]]:
    """The plan in one sentence, and everything a planner acts on, section by section, whom to ring among it."""
    from scheduler.papers.chase_list import chase_section
    from scheduler.papers.summary import Beside, opening_line, plan_sections

    beside = Beside(
        lower_bound_cents=result.lower_bound_cents, baseline=result.baseline.plan if result.baseline else None
    )
    sections = list(plan_sections(week, plan, currency=currency, clients=clients, beside=beside))
    ring = chase_section(chase)
    if ring is not None:
        ahead = [at for at, section in enumerate(sections) if section.title in AHEAD_OF_RINGING]
        sections.insert(max(ahead, default=-1) + 1, ring)
    return opening_line(week, plan), tuple(sections)


def beside_report(both: YoursAndOurs, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The planner's sequence and our plan in one sentence, and the two side by side, section by section."""
    from scheduler.papers.yours_and_ours import beside_sections, opening_sentence

    return opening_sentence(both, currency), beside_sections(both, currency)


def beside_figures(both: YoursAndOurs, *, currency: str = "") -> dict[str, Any]:
    """The planner's sequence and our plan in figures for other programs. Money in integer cents."""
    from scheduler.papers.yours_and_ours import beside_figures as figures_of

    return figures_of(both, currency)


def figures(
    week: Week,
    result: SearchResult,
    *,
    is_stopped: bool = False,
    currency: str = "",
    chase: Sequence[ChaseRow] = (),
) -> dict[str, Any]:
    """A search in figures for other programs: plan, due-date list beside it, bound, time. Money in integer cents.

    Without a plan the plan's own figures are missing, gap and baseline are None and reason says why.
    """
    from scheduler.papers.chase_list import chase_figures
    from scheduler.papers.figures import plan_figures

    baseline = result.baseline.plan if result.baseline else None
    late = measure(week, result.plan).late_orders if result.plan else ()
    return {
        "status": result.status,
        "stopped": is_stopped,
        "reason": result.reason,
        "told": result.told,
        "currency": currency,
        "money_unit": "cents",
        **(plan_figures(week, result.plan) if result.plan else {}),
        "lower_bound": result.lower_bound_cents,
        "gap": round(result.gap, 6) if result.plan else None,
        "wall_seconds": result.wall_seconds,
        "first_plan_seconds": result.first_plan_seconds,
        "seed": result.seed,
        "late": [{"order": one.order_id, "days": one.pickups_missed} for one in late],
        "baseline": plan_figures(week, baseline) if baseline else None,
        "not_planned": [
            {"order": one.order_id, "run": one.run_id, "kind": one.kind, "reasons": list(one.reasons)}
            for one in week.not_planned
        ],
        "chase": chase_figures(chase),
    }


def section_lines(section: Section, width: int) -> list[str]:
    """A section's text, no line longer than `width`."""
    from scheduler.papers.text import section_text

    return section_text(section, width)


def table_lines(headings: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """A plain table, no line longer than `width`."""
    from scheduler.papers.text import Line, table_text

    return table_text(headings, [Line(cells=tuple(row)) for row in rows], width=width)


def harmless(line: str) -> str:
    """A line without anything that could steer a terminal."""
    from scheduler.papers.text import harmless as without_steering

    return without_steering(line)

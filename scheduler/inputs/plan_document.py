"""A plan as plain data, ready for JSON: what a plan file (format version 1) holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.plan import CoatBatch, Pencilled, Plan, PlannedRun, Reclaim
from scheduler.domain.stations import PlannedStep
from scheduler.domain.week import Crew, OrderDue, Week

FORMAT = "pressweek plan"
VERSION = 1
KINDS = ("stage", "burn", "tape", "set-up", "print", "station", "finish", "coat", "reclaim")
"""Kinds of activity in the order in which a reader meets them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFacts:
    """What a plan file says about its plan: which inputs, how it was found, what it costs (integer cents).

    digest: of the inputs it was made from. cost_terms: (name, cents) in the order shown to people.
    """

    digest: str = ""
    status: str = ""
    seed: int | None = None
    currency: str = ""
    cost_cents: int | None = None
    cost_terms: tuple[tuple[str, int], ...] = ()
    lower_bound_cents: int | None = None


def other_inputs(facts: PlanFacts, week: Week) -> str | None:
    """One sentence where the plan was made from other inputs than these; None where it was made from these."""
    if facts.digest == week.digest:
        return None
    return "This plan was made from other inputs: the week's files or its planning moment have changed since."


def plan_document(week: Week, plan: Plan, facts: PlanFacts) -> dict[str, Any]:
    """The whole plan file as dictionaries and lists; runs and orders keep the plan's own order."""
    activities: list[dict[str, Any]] = []
    for one in plan.runs:
        activities += _run_activities(week, one)
    for packed in plan.orders:
        activities += [_visit(week, packed.order_id, one) for one in packed.stations]
        activities.append(_finish(week, packed.order_id, packed.finish_start_tau, packed.packed_tau))
    activities += _screen_room_batches(week, plan.coat_batches, plan.reclaims)
    return {
        "format": FORMAT,
        "version": VERSION,
        "zone": week.clock.zone,
        "plan_from": week.clock.now.isoformat(),
        "inputs_digest": facts.digest,
        "status": facts.status,
        "seed": facts.seed,
        "currency": facts.currency,
        "cost_cents": facts.cost_cents,
        "cost_terms_cents": dict(facts.cost_terms),
        "lower_bound_cents": facts.lower_bound_cents,
        "orders": [_order(week, packed.order_id, packed.packed_tau) for packed in plan.orders],
        "not_planned": [
            {"order": one.order_id, "run": one.run_id, "kind": one.kind, "reasons": list(one.reasons)}
            for one in week.not_planned
        ],
        "overtime": list(plan.overtime),
        "pencilled": _pencilled(week, plan.pencilled),
        "activities": activities,
    }


def late_days(order: OrderDue, packed_tau: int) -> int:
    """Pick-ups missed from the promised one on: each is a late day."""
    return sum(1 for tau in order.pickups_tau[order.must_leave :] if tau < packed_tau)


def times(week: Week, start_tau: int, end_tau: int, *, names_end: bool = False) -> dict[str, Any]:
    """Start and end as local time with offset and as shop minutes.

    Something without length has one moment, not two on either side of a night: its start, or its end if `names_end`.
    """
    clock = week.clock
    start_at, end_at = clock.starts_at(start_tau), clock.ends_at(end_tau)
    if start_tau == end_tau:
        start_at = end_at = clock.ends_at(end_tau) if names_end else clock.starts_at(start_tau)
    return {
        "start": start_at.isoformat(timespec="minutes"),
        "end": end_at.isoformat(timespec="minutes"),
        "start_shop_min": start_tau,
        "end_shop_min": end_tau,
    }


def _crew(crew: Crew) -> dict[str, int]:
    return dict(crew)


def _run_activities(week: Week, one: PlannedRun) -> list[dict[str, Any]]:
    """Staging, burning, taping, set-up and print of one run; what is not planned is left out."""
    run = week.run.get(one.run_id)
    press = week.press.get(one.press_id)
    choice = run.printed_on(one.press_id, one.way) if run else None
    room = week.screen_room
    screen_set = week.screen_set.get(run.set_id) if run and run.set_id else None
    whose = {"run": one.run_id, "order": run.order_id if run else None}
    room_crew = _crew(room.crew) if room else {}
    found: list[dict[str, Any]] = []
    if not one.stage_start_tau == one.stage_end_tau == one.set_up_start_tau:
        staging = week.staging
        found.append(
            {"kind": "stage", **whose, "where": "staging", **times(week, one.stage_start_tau, one.stage_end_tau)}
            | {"work_min": staging.minutes if staging else 0, "crew": _crew(staging.crew) if staging else {}}
        )
    if one.burn is not None:
        burn = one.burn
        found.append(
            {"kind": "burn", **whose, "set": run.set_id if run else None, "where": "screen room"}
            | times(week, burn.start_tau, burn.end_tau)
            | {"dry": week.clock.starts_at(burn.dry_tau).isoformat(timespec="minutes"), "dry_shop_min": burn.dry_tau}
            | {"work_min": screen_set.burn_min if screen_set else 0, "crew": room_crew}
        )
        found.append(
            {"kind": "tape", **whose, "set": run.set_id if run else None, "where": "screen room"}
            | times(week, burn.tape_start_tau, burn.tape_end_tau)
            | {"work_min": screen_set.tape_min if screen_set else 0, "crew": room_crew}
        )
    found.append(
        {"kind": "set-up", **whose, "where": one.press_id, **times(week, one.set_up_start_tau, one.set_up_end_tau)}
        | {"work_min": one.set_up_min, "crew": _crew(press.set_up_crew) if press else {}}
        | {"kept_inks": list(one.kept_inks), "reason": one.reason}
    )
    found.append(
        {"kind": "print", **whose, "where": one.press_id, **times(week, one.print_start_tau, one.print_end_tau)}
        | {"work_min": choice.work_min if choice else 0, "crew": _crew(press.run_crew) if press else {}}
        | {"pieces": run.pieces if run else 0, "way": one.way, "reason": one.reason}
    )
    return found


def _visit(week: Week, order_id: str, planned: PlannedStep) -> dict[str, Any]:
    """A visit of an order to a station; those of one order stand in the order in which it makes them."""
    station = week.station.get(planned.station_id)
    told = times(week, planned.start_tau, planned.end_tau, names_end=True)
    crew = _crew(station.crew) if station else {}
    return {"kind": "station", "order": order_id, "where": planned.station_id} | told | {"crew": crew}


def _finish(week: Week, order_id: str, start_tau: int, packed_tau: int) -> dict[str, Any]:
    order = week.order.get(order_id)
    minutes = order.finish_min if order else 0
    crew = _crew(week.finishing.crew) if week.finishing and minutes else {}
    return {"kind": "finish", "order": order_id, "where": "packing"} | {
        **times(week, start_tau, packed_tau, names_end=True),
        "work_min": minutes,
        "crew": crew,
    }


def _pencilled(week: Week, pencilled: Pencilled) -> dict[str, Any]:
    """Orders that wait, where each can stand, and by when it needs its yes."""
    activities = [item for one in pencilled.runs for item in _run_activities(week, one)]
    for packed in pencilled.orders:
        activities += [_visit(week, packed.order_id, one) for one in packed.stations]
        activities.append(_finish(week, packed.order_id, packed.finish_start_tau, packed.packed_tau))
    activities += _screen_room_batches(week, pencilled.coat_batches, ())
    return {"yes": [_yes(week, one) for one in pencilled.yes], "activities": activities}


def _yes(week: Week, one: LatestYes) -> dict[str, Any]:
    told: dict[str, Any] = {"order": one.order_id, "missed": one.missed, "is_proven": one.is_proven, "why": one.why}
    for name, tau, at in (
        ("yes_by", one.latest_tau, week.clock.starts_at),
        ("must_leave", one.promised_tau, week.clock.ends_at),
    ):
        if tau is not None:
            told |= {name: at(tau).isoformat(timespec="minutes"), f"{name}_shop_min": tau}
    return told


def _screen_room_batches(week: Week, coated: Iterable[CoatBatch], reclaims: Iterable[Reclaim]) -> list[dict[str, Any]]:
    """Coating and reclaiming in their set times of the day."""
    room = week.screen_room
    windows = {window.window_id: window for window in room.coat_windows} if room else {}
    blocks = {block.block_id: block for block in room.reclaim_blocks} if room else {}
    found: list[dict[str, Any]] = []
    for batch in coated:
        window = windows.get(batch.window_id)
        found.append(
            {"kind": "coat", "where": batch.window_id, "frame_class": batch.class_id, "frames": batch.count}
            | (times(week, window.start_tau, window.end_tau) if window else {})
        )
    for reclaim in reclaims:
        block = blocks.get(reclaim.block_id)
        found.append(
            {"kind": "reclaim", "where": reclaim.block_id, "set": reclaim.set_id, "after_run": reclaim.after_run_id}
            | (times(week, block.start_tau, block.end_tau) if block else {})
        )
    return found


def _order(week: Week, order_id: str, packed_tau: int) -> dict[str, Any]:
    order = week.order.get(order_id)
    clock = week.clock
    told: dict[str, Any] = {
        "order": order_id,
        "packed": clock.ends_at(packed_tau).isoformat(timespec="minutes"),
        "packed_shop_min": packed_tau,
    }
    if order is not None:
        must_leave = clock.ends_at(order.pickups_tau[order.must_leave])
        told |= {
            "client": order.client,
            "firmness": order.firmness,
            "must_leave": must_leave.isoformat(timespec="minutes"),
            "late_days": late_days(order, packed_tau),
            "runs": list(order.run_ids),
        }
    return told

"""A given plan as values of the model's decisions: to hold the model to it, or to start the solver from it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.domain.plan import Burn, Plan, PlannedOrder, PlannedRun
from scheduler.model.build import BuiltModel
from scheduler.model.read_out import set_up_end_tau
from scheduler.model.variables import BurnVars, Expr, OrderVars, RunVars, SetVars, Variables, Work

Value = tuple[Expr, int]
"""A decision and what the plan says of it; (0, 1) where the plan says something no decision can."""

CANNOT_BE: Value = (0, 1)


def plan_values(variables: Variables, plan: Plan) -> Iterator[Value]:
    """What a plan says about every decision it speaks of."""
    for block_id in plan.overtime:
        if block_id not in variables.bought:
            yield CANNOT_BE
    for block_id, literal in variables.bought.items():
        yield literal, int(block_id in plan.overtime)
    for run_id, run in variables.runs.items():
        planned = plan.run.get(run_id)
        if planned is None:
            yield CANNOT_BE
        else:
            yield from _run_values(run, planned, plan.overtime)
    yield from _queue_values(variables, plan)
    for order_id, order in variables.orders.items():
        done = plan.order.get(order_id)
        if done is None:
            yield CANNOT_BE
        else:
            yield from _order_values(order, done)
    yield from _coat_values(variables, plan)
    for one in variables.sets.values():
        yield from _set_values(one, plan)


def _run_values(run: RunVars, planned: PlannedRun, bought: tuple[str, ...]) -> Iterator[Value]:
    yield run.set_up_start, planned.set_up_start_tau
    yield run.print_start, planned.print_start_tau
    yield run.print_end, planned.print_end_tau
    if planned.press_id not in run.on:
        yield CANNOT_BE
    for press_id, on in run.on.items():
        is_here = press_id == planned.press_id
        yield on.is_here, int(is_here)
        if is_here and planned.set_up_end_tau != set_up_end_tau(
            on.press, bought, planned.set_up_start_tau, planned.set_up_min
        ):
            yield CANNOT_BE
        if is_here and planned.way not in on.ways:
            yield CANNOT_BE
        for way, literal in on.ways.items():
            yield literal, int(is_here and way == planned.way)
        yield on.set_up_min, planned.set_up_min if is_here else 0
        kept = set(planned.kept_inks) if is_here else set()
        for ink_id, literal in on.kept.items():
            yield literal, int(ink_id in kept)
        if kept - on.kept.keys() or len(kept) < len(planned.kept_inks) * is_here:
            yield CANNOT_BE
    if run.stage is not None:
        yield from _work_values(run.stage, planned.stage_start_tau, planned.stage_end_tau)
    elif not planned.stage_start_tau == planned.stage_end_tau == planned.set_up_start_tau:
        yield CANNOT_BE
    yield from _burn_values(run.burn, planned.burn)


def _work_values(work: Work, start_tau: int, end_tau: int) -> Iterator[Value]:
    yield work.start, start_tau
    yield work.end, end_tau


def _burn_values(burn: BurnVars | None, planned: Burn | None) -> Iterator[Value]:
    if burn is None:
        if planned is not None:
            yield CANNOT_BE
        return
    yield burn.burn.happens, int(planned is not None)
    yield from _work_values(burn.burn, *((planned.start_tau, planned.end_tau) if planned else (0, 0)))
    yield burn.dry, planned.dry_tau if planned else 0
    yield from _work_values(burn.tape, *((planned.tape_start_tau, planned.tape_end_tau) if planned else (0, 0)))


def _queue_values(variables: Variables, plan: Plan) -> Iterator[Value]:
    for press_id, arcs in variables.arcs.items():
        open_runs = {arc.after for arc in arcs} | {arc.before for arc in arcs}
        queue = [None, *(one.run_id for one in plan.queue.get(press_id, ()) if one.run_id in open_runs), None]
        neighbours = set(pairwise(queue))
        for arc in arcs:
            yield arc.literal, int((arc.before, arc.after) in neighbours)


def _order_values(order: OrderVars, done: PlannedOrder) -> Iterator[Value]:
    yield order.packed, done.packed_tau
    if order.packing is not None:
        yield order.packing.start, done.finish_start_tau
    elif done.finish_start_tau != done.packed_tau:
        yield CANNOT_BE
    if [one.station_id for one in done.stations] != [visit.step.station_id for visit in order.visits]:
        yield CANNOT_BE
    for visit, planned in zip(order.visits, done.stations, strict=False):
        yield visit.start, planned.start_tau
        yield visit.end, planned.end_tau


def _coat_values(variables: Variables, plan: Plan) -> Iterator[Value]:
    counts: Counter[tuple[str, str]] = Counter()
    for batch in plan.coat_batches:
        counts[batch.window_id, batch.class_id] += batch.count
        if batch.count < 0:
            yield CANNOT_BE
    for coat in variables.coated:
        yield coat.count, counts.pop((coat.window.window_id, coat.class_id), 0)
    if counts:
        yield CANNOT_BE


def _set_values(one: SetVars, plan: Plan) -> Iterator[Value]:
    told = Counter(
        (reclaim.after_run_id, reclaim.block_id) for reclaim in plan.reclaims if reclaim.set_id == one.screens.set_id
    )
    for (use, block), literal in one.reclaimed.items():
        yield literal, told.pop((use, block.block_id), 0)
    if told:
        yield CANNOT_BE


def pin(built: BuiltModel, plan: Plan) -> None:
    """Allow this plan only: the model then has a solution if and only if the plan keeps every rule."""
    for decision, value in plan_values(built.ctx.vars, plan):
        if isinstance(decision, int):
            if decision != value:
                built.ctx.model.add_bool_or([])
        else:
            built.ctx.model.add(decision == value)


def start_from(built: BuiltModel, plan: Plan, *, seconds: float = 10.0) -> int | None:
    """Give the solver this plan to start from, every variable of it, and return its cost in cents.

    None, and no hint, if the plan breaks a rule or lies outside what is open.
    """
    model = built.ctx.model
    held = BuiltModel(ctx=built.ctx.on(model.clone()), terms=built.terms)
    pin(held, plan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    if solver.solve(held.ctx.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    model.clear_hints()  # type: ignore[no-untyped-call]  # the solver's package leaves it untyped
    for index in range(len(model.proto.variables)):
        variable = model.get_int_var_from_proto_index(index)
        model.add_hint(variable, solver.value(variable))
    return round(solver.objective_value)

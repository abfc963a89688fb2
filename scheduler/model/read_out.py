"""A solver's answer read back as a plan."""

from __future__ import annotations

from collections.abc import Collection
from typing import Protocol

from scheduler.domain.plan import Burn, CoatBatch, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.stations import PlannedStep
from scheduler.domain.week import PressLine, Week
from scheduler.model.variables import BurnVars, Expr, Literal, OrderVars, RunVars, Variables


class Answer(Protocol):
    """Anything that knows the value of every variable: a solver, or a solution callback."""

    def value(self, expression: Expr) -> int:
        """Value of an expression."""

    def boolean_value(self, expression: Literal) -> bool:
        """Value of a literal."""


def read_plan(week: Week, variables: Variables, answer: Answer) -> Plan:
    """The plan a solver has found."""
    bought = tuple(block for block, literal in variables.bought.items() if answer.boolean_value(literal))
    return Plan(
        runs=tuple(_run(run, answer, bought) for run in variables.runs.values()),
        orders=tuple(_order(order, answer) for order in variables.orders.values()),
        coat_batches=tuple(
            CoatBatch(window_id=coat.window.window_id, class_id=coat.class_id, count=answer.value(coat.count))
            for coat in variables.coated
            if answer.value(coat.count)
        ),
        reclaims=tuple(
            Reclaim(set_id=one.screens.set_id, after_run_id=use, block_id=block.block_id)
            for one in variables.sets.values()
            for (use, block), literal in one.reclaimed.items()
            if answer.boolean_value(literal)
        ),
        overtime=bought,
    )


def set_up_end_tau(press: PressLine, bought: Collection[str], start_tau: int, minutes: int) -> int:
    """When a set-up is over: it follows from its start, so the model has no decision for it."""
    end_tau, left_min = start_tau, minutes
    for window in press.calendar.with_bought(bought).windows:
        if left_min and window.end_tau > start_tau:
            begin_tau = max(start_tau, window.start_tau)
            worked_min = min(left_min, window.end_tau - begin_tau)
            left_min, end_tau = left_min - worked_min, begin_tau + worked_min
    return end_tau


def _run(run: RunVars, answer: Answer, bought: tuple[str, ...]) -> PlannedRun:
    on = next(one for one in run.on.values() if answer.boolean_value(one.is_here))
    start, minutes = answer.value(run.set_up_start), answer.value(on.set_up_min)
    return PlannedRun(
        run_id=run.run.run_id,
        press_id=on.press.press_id,
        stage_start_tau=answer.value(run.stage.start) if run.stage is not None else start,
        stage_end_tau=answer.value(run.stage.end) if run.stage is not None else start,
        set_up_start_tau=start,
        set_up_end_tau=set_up_end_tau(on.press, bought, start, minutes),
        set_up_min=minutes,
        print_start_tau=answer.value(run.print_start),
        print_end_tau=answer.value(run.print_end),
        kept_inks=tuple(ink_id for ink_id, literal in on.kept.items() if answer.boolean_value(literal)),
        burn=_burn(run.burn, answer) if run.burn is not None else None,
        way=next(way for way, literal in on.ways.items() if answer.boolean_value(literal)),
    )


def _burn(burn: BurnVars, answer: Answer) -> Burn | None:
    if not answer.boolean_value(burn.burn.happens):
        return None
    return Burn(
        start_tau=answer.value(burn.burn.start),
        end_tau=answer.value(burn.burn.end),
        dry_tau=answer.value(burn.dry),
        tape_start_tau=answer.value(burn.tape.start),
        tape_end_tau=answer.value(burn.tape.end),
    )


def _order(one: OrderVars, answer: Answer) -> PlannedOrder:
    packed = answer.value(one.packed)
    return PlannedOrder(
        order_id=one.order.order_id,
        finish_start_tau=answer.value(one.packing.start) if one.packing is not None else packed,
        packed_tau=packed,
        stations=tuple(
            PlannedStep(
                station_id=visit.step.station_id,
                start_tau=answer.value(visit.start),
                end_tau=answer.value(visit.end),
            )
            for visit in one.visits
        ),
    )

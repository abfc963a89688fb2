"""From a finished state to a plan."""

from __future__ import annotations

from scheduler.domain.plan import Burn, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.stations import PlannedStep
from scheduler.search.state import Placed, State
from scheduler.search.tables import OrderSpec, RunSpec, Tables


def plan_of(tables: Tables, state: State, bought: frozenset[str]) -> Plan:
    """The plan of a state in which every run is placed; frames are coated ahead as far as places allow."""
    return Plan(
        runs=tuple(_planned_run(tables, run, state.of(run.number)) for run in tables.runs),
        orders=tuple(
            PlannedOrder(
                order_id=order.order_id,
                finish_start_tau=state.finish_tau[i],
                packed_tau=state.packed_tau[i],
                stations=_visits(order, state, i) if order.before or order.after else (),
            )
            for i, order in enumerate(tables.orders)
        ),
        coat_batches=state.ledger.coat_batches(),
        reclaims=tuple(
            Reclaim(
                set_id=tables.sets[screen_set].set_id,
                after_run_id=tables.runs[run].run_id,
                block_id=tables.block_ids[block],
            )
            for (screen_set, run), block in state.reclaimed.items()
        ),
        overtime=tuple(sorted(bought)),
    )


def _visits(order: OrderSpec, state: State, number: int) -> tuple[PlannedStep, ...]:
    spans = [*state.steps.get((number, True), ()), *state.steps.get((number, False), ())]
    return tuple(
        PlannedStep(station_id=step.station_id, start_tau=span.start_tau, end_tau=span.end_tau)
        for step, span in zip((*order.before, *order.after), spans, strict=True)
    )


def _planned_run(tables: Tables, run: RunSpec, one: Placed) -> PlannedRun:
    ready = one.ready
    burn = ready.burn
    is_staged = ready.stage_start_tau >= 0
    return PlannedRun(
        run_id=run.run_id,
        press_id=tables.week.presses[one.choice.press].press_id,
        stage_start_tau=ready.stage_start_tau if is_staged else one.start_tau,
        stage_end_tau=ready.stage_end_tau if is_staged else one.start_tau,
        set_up_start_tau=one.start_tau,
        set_up_end_tau=one.set_up_end_tau,
        set_up_min=one.set_up_min,
        print_start_tau=one.print_start_tau,
        print_end_tau=one.end_tau,
        kept_inks=one.kept,
        way=one.choice.way,
        burn=None
        if burn is None
        else Burn(
            start_tau=burn.start_tau,
            end_tau=burn.end_tau,
            dry_tau=burn.dry_tau,
            tape_start_tau=burn.tape_start_tau,
            tape_end_tau=burn.tape_end_tau,
        ),
    )

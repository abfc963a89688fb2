"""Makes every decision of a week, once, before any rule speaks."""

from __future__ import annotations

from ortools.sat.python import cp_model

from scheduler.domain.stations import StationStep
from scheduler.domain.week import OrderDue, Week
from scheduler.model.make_runs import make_arcs, make_moves, make_run
from scheduler.model.make_screens import make_coating, make_set
from scheduler.model.maker import Maker
from scheduler.model.scope import VISIT, Scope
from scheduler.model.variables import OrderVars, Variables, VisitVars


def make_variables(model: cp_model.CpModel, week: Week, scope: Scope) -> Variables:
    """Every variable of the week, as far as `scope` leaves it open. Every run and every order of it gets one set."""
    found = Variables(model)
    maker = Maker(model, week, scope, found.always)
    for block_id in sorted({block.block_id for block in week.overtime}):
        found.bought[block_id] = maker.literal(f"bought[{block_id}]")
    for run in week.runs:
        found.runs[run.run_id] = make_run(maker, run)
    for press in week.presses:
        found.arcs[press.press_id] = make_arcs(maker, press.press_id)
    for order in week.orders:
        run_ids = tuple(run_id for run_id in order.run_ids if run_id in week.run)
        if run_ids:
            found.orders[order.order_id] = _make_order(maker, order, run_ids)
    for set_id, uses in week.runs_of_set.items():
        if set_id in week.screen_set:
            found.sets[set_id] = make_set(maker, week.screen_set[set_id], uses)
    found.moves = make_moves(maker)
    found.coated = make_coating(maker)
    return found


def _make_order(maker: Maker, order: OrderDue, run_ids: tuple[str, ...]) -> OrderVars:
    order_id, line = order.order_id, maker.week.finishing
    packing = None
    if line is not None and order.finish_min:
        packing = maker.work(
            "packing", order_id, maker.hours("finishing", line.calendar), order.finish_min, maker.always
        )
    last = len(order.pickups_tau) - 1
    visits = tuple(_make_visit(maker, order_id, number, step) for number, step in enumerate(order.stations))
    return OrderVars(
        order=order,
        run_ids=run_ids,
        packing=packing,
        packed=packing.end if packing is not None else maker.tau("packing_end", order_id),
        late={pickup: maker.literal(f"late[{order_id},{pickup}]") for pickup in range(order.must_leave, last)},
        in_cushion=maker.literal(f"in_cushion[{order_id}]"),
        visits=visits,
    )


def _make_visit(maker: Maker, order_id: str, number: int, step: StationStep) -> VisitVars:
    kind = f"{VISIT}{number}"
    if not step.is_sent_out:
        hours = maker.hours(f"station {step.station_id}", maker.week.station[step.station_id].calendar)
        work = maker.work(kind, order_id, hours, step.work_min, maker.always)
        return VisitVars(step=step, start=work.start, end=work.end, work=work)
    return VisitVars(
        step=step,
        start=maker.tau(f"{kind}_start", order_id),
        end=maker.tau(f"{kind}_end", order_id),
        work=None,
        back=tuple(
            (first, until - 1, back, maker.literal(f"{kind}_leaves[{order_id},{first}]"))
            for first, until, back in step.returns
        ),
    )

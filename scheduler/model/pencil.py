"""Where a waiting order stands when it is pencilled in: as late as still keeps its date, beside a plan that stays.

The latest yes is the last shop minute at which the missing thing may come: with it the order still makes the pick-up
that keeps its promise, one minute later it does not, wherever its runs go. Where no place makes that pick-up, the
fewest pick-ups are missed instead.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.latest_yes import Waiting
from scheduler.domain.plan import CoatBatch, Plan, PlannedOrder, PlannedRun
from scheduler.domain.week import OrderDue, Week
from scheduler.model.build import ruled
from scheduler.model.context import ModelContext
from scheduler.model.pencil_scope import PencilScope
from scheduler.model.read_out import read_plan
from scheduler.model.variables import Expr, Literal, total

Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a waiting order stands. coat_batches: those of the whole plan with it. missed: pick-ups missed.

    latest_tau: shop minute at which it first needs what is missing. is_proven: no place needs it later.
    """

    runs: tuple[PlannedRun, ...]
    order: PlannedOrder
    coat_batches: tuple[CoatBatch, ...]
    latest_tau: int
    missed: int
    is_proven: bool


def latest_place(
    week: Week, plan: Plan, waiting: Waiting, *, seconds: float | None, stop: Stop | None = None
) -> Place | None:
    """The place of a waiting order; None if it has none on the axis.

    week: every run of `plan` and those of the order, as if what it waits for were there. seconds: None for however
    long it takes. Raises TimeoutError if by then neither a place is found nor that there is none.
    """
    scope = PencilScope(week, waiting.order_id, plan)
    ctx = ruled(week, scope)
    _keep_the_plan(ctx, plan)
    needed = ctx.model.new_int_var(0, week.horizon_tau, "needed")
    for moment, happens in _needs(ctx, waiting):
        rule = ctx.model.add(needed <= moment)
        if happens is not None:
            rule.only_enforce_if(happens)
    missed = _missed(ctx, week.order[waiting.order_id])
    own = [run_id for run_id in week.order[waiting.order_id].run_ids if run_id not in plan.run]
    ends = [ctx.vars.runs[run_id].print_end for run_id in own] + [ctx.vars.orders[waiting.order_id].packed]
    # Fewest pick-ups missed, then as late as can be, then everything else as early as it can be.
    a_minute = (len(ends) + 1) * week.horizon_tau
    each_missed = a_minute * (week.horizon_tau + 1)
    ctx.model.minimize(total((total(missed) * each_missed, needed * -a_minute, *ends)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    if seconds is not None:
        solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(ctx.model) if stop is None else solver.solve(ctx.model, _Asked(stop))
    if status == cp_model.UNKNOWN:
        raise TimeoutError
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    found = read_plan(week, ctx.vars, solver)
    return Place(
        runs=tuple(found.run[run_id] for run_id in own),
        order=found.order[waiting.order_id],
        coat_batches=found.coat_batches,
        latest_tau=solver.value(needed),
        missed=sum(solver.boolean_value(literal) for literal in missed),
        is_proven=status == cp_model.OPTIMAL,
    )


def _keep_the_plan(ctx: ModelContext, plan: Plan) -> None:
    """What is burned, coated and reclaimed stays so; more may be coated, nothing else reclaimed."""
    for planned in plan.runs:
        burn = ctx.vars.runs[planned.run_id].burn
        if burn is not None:
            ctx.model.add(burn.burn.happens == int(planned.burn is not None))
    coated: dict[tuple[str, str], int] = {}
    for batch in plan.coat_batches:
        coated[batch.window_id, batch.class_id] = coated.get((batch.window_id, batch.class_id), 0) + batch.count
    for coat in ctx.vars.coated:
        ctx.model.add(coat.count >= coated.get((coat.window.window_id, coat.class_id), 0))
    reclaimed = {(one.set_id, one.after_run_id, one.block_id) for one in plan.reclaims}
    for set_id, one in ctx.vars.sets.items():
        for (use, block), literal in one.reclaimed.items():
            ctx.model.add(literal == int((set_id, use, block.block_id) in reclaimed))


def _needs(ctx: ModelContext, waiting: Waiting) -> Iterator[tuple[Expr, Literal | None]]:
    """Every moment at which something is done that what is missing is needed for, and whether it is done at all."""
    for run_id in waiting.art | waiting.garments:
        run = ctx.vars.runs[run_id]
        yield run.set_up_start, None
        if run_id in waiting.garments and run.stage is not None:
            yield run.stage.start, None
        if run_id in waiting.art and run.burn is not None:
            yield run.burn.burn.start, run.burn.burn.happens
    if waiting.garments:
        yield from ((one.start, None) for one in ctx.vars.orders[waiting.order_id].visits if one.step.is_before)


def _missed(ctx: ModelContext, order: OrderDue) -> list[Literal]:
    """Whether each pick-up from the one that keeps the promise on is missed, but the last."""
    packed = ctx.vars.orders[order.order_id].packed
    found: list[Literal] = []
    for number in range(order.must_leave, len(order.pickups_tau) - 1):
        literal = ctx.model.new_bool_var(f"missed[{number}]")
        ctx.model.add(packed <= order.pickups_tau[number]).only_enforce_if(~literal)
        found.append(literal)
    return found


class _Asked(cp_model.CpSolverSolutionCallback):
    """Stops the solver when it is asked to."""

    def __init__(self, stop: Stop) -> None:
        super().__init__()
        self._stop = stop

    def on_solution_callback(self) -> None:
        if self._stop():
            self.stop_search()

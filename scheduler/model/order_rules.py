"""Rules of orders: lots, print order, blanks, packing, pick-ups, what stays."""

from __future__ import annotations

from collections import defaultdict

from scheduler.model.calendar_rules import work_takes_its_minutes
from scheduler.model.context import ModelContext
from scheduler.model.variables import Expr, OrderVars, RunVars


def _free_tau(run: RunVars) -> Expr:
    """From when on the run's garments may be printed again."""
    return run.print_end + run.run.cure_min + run.run.between_min


def lot_is_in_one_place(ctx: ModelContext) -> None:
    """Two prints on the same garments never overlap, cure and the minutes between prints included.

    Per lot: the intervals [print_start, print_end + cure + between) of its runs do not overlap.
    """
    of_lot: dict[str, list[RunVars]] = defaultdict(list)
    for run in ctx.vars.runs.values():
        for lot_id in run.run.lot_ids:
            of_lot[lot_id].append(run)
    for runs in of_lot.values():
        if len(runs) > 1:
            ctx.model.add_no_overlap(run.holds_lots for run in runs)


def print_after_is_kept(ctx: ModelContext) -> None:
    """A run prints after the runs it must follow, their cure and the minutes between prints included.

    print_end[q] + cure[q] + between[q] <= print_start[r] for q in print_after[r].
    """
    for run in ctx.vars.runs.values():
        for first_id in run.run.print_after:
            if first_id in ctx.vars.runs:
                ctx.model.add(run.print_start >= _free_tau(ctx.vars.runs[first_id]))


def blanks_are_there(ctx: ModelContext) -> None:
    """Nothing is staged or set up before its garments are there; what has started has them.

    stage_start >= blanks_tau, or set_up_start >= blanks_tau where nothing is staged.
    """
    for run_id, run in ctx.vars.runs.items():
        if not ctx.is_started(run_id):
            first = run.stage.start if run.stage is not None else run.set_up_start
            ctx.model.add(first >= run.run.blanks_tau)


def finishing_ends_last(ctx: ModelContext) -> None:
    """Packing takes its minutes in one go and ends after the last cured piece is boxed.

    finish_start >= print_start + finish_lag_min and packed >= print_end + cure + last_box_min for each run; without
    packing, packed is the greatest of the latter and of the ends of stations after the prints.
    """
    for one in ctx.vars.orders.values():
        boxed = [_boxed(ctx, one, run_id) for run_id in one.run_ids]
        if one.packing is None:
            ctx.model.add_max_equality(one.packed, [*boxed, *(visit.end for visit in one.visits_after())])
            continue
        work_takes_its_minutes(ctx, one.packing)
        for run_id, done in zip(one.run_ids, boxed, strict=True):
            start = ctx.vars.runs[run_id].print_start
            ctx.model.add(one.packing.start >= start + one.order.finish_lag_min)
            ctx.model.add(one.packed >= done)


def _boxed(ctx: ModelContext, one: OrderVars, run_id: str) -> Expr:
    run = ctx.vars.runs[run_id]
    return run.print_end + run.run.cure_min + one.order.last_box_min


def leaves_by_a_pick_up(ctx: ModelContext) -> None:
    """Every order is packed in time for some pick-up.

    packed <= the last of pickups_tau.
    """
    for one in ctx.vars.orders.values():
        ctx.model.add(one.packed <= one.order.pickups_tau[-1])


def what_is_fixed_stays(ctx: ModelContext) -> None:
    """What has started or is fixed stays on its press and at its time, and started runs come first there.

    press = fixing.press_id and set_up_start = fixing.set_up_start_tau where given.
    """
    for run_id, run in ctx.vars.runs.items():
        fixing = ctx.week.fixing.get(run_id)
        if fixing is None:
            continue
        if fixing.set_up_start_tau is not None:
            ctx.model.add(run.set_up_start == fixing.set_up_start_tau)
        if fixing.press_id is not None:
            for press_id, on in run.on.items():
                ctx.model.add(on.is_here == int(press_id == fixing.press_id))
            if fixing.press_id not in run.on:
                ctx.model.add_bool_or([])
    for arcs in ctx.vars.arcs.values():
        for arc in arcs:
            if arc.before is None or arc.after is None or ctx.is_started(arc.before):
                continue
            if ctx.is_started(arc.after):
                ctx.model.add(arc.literal == 0)

"""Open hours and overtime: where work may start and end, and what its pauses add."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from scheduler.model.cells import OpenCells
from scheduler.model.context import ModelContext
from scheduler.model.variables import Expr, Literal, Moment, Work, total


def no_minutes(stop_min: int) -> int:
    """Nothing is added after a stop."""
    return 0


def paused_min(
    ctx: ModelContext,
    hours: OpenCells,
    began: Moment,
    ended: Moment,
    restart_min: Callable[[int], int] = no_minutes,
) -> Expr:
    """Shop minutes between two moments in which the calendar is closed, and minutes to restart after each stop.

    sum over stops of (gap + restart) x [the stop is there and lies between].
    """
    parts: list[Expr] = []
    for stop in hours.stops:
        minutes = stop.gap_min + restart_min(stop.stop_min)
        if minutes:
            parts.append(minutes * ctx.vars.spanned(stop, began, ended))
    return total(parts)


def may_not_span(ctx: ModelContext, hours: OpenCells, began: Moment, ended: Moment, limit_min: int) -> None:
    """No stop longer than `limit_min` wall minutes lies between two moments."""
    for stop in hours.stops:
        if stop.stop_min > limit_min:
            across = began.by(stop.from_tau) - ended.by(stop.from_tau)
            rule = ctx.model.add(across <= 0)
            if not stop.is_certain:
                rule.only_enforce_if(ctx.vars.conditions(stop))


def work_takes_its_minutes(ctx: ModelContext, work: Work) -> None:
    """Work off the presses takes its minutes, pauses left out.

    end = start + work x [it is done] + closed minutes between.
    """
    if work.work_min:
        pauses = paused_min(ctx, work.hours, work.began, work.ended)
        ctx.model.add(work.end == work.start + work.work_min * work.happens + pauses)
        ctx.model.add(work.end >= work.start + work.work_min * work.happens)


def _lies_in(ctx: ModelContext, tau: Expr, moments: Iterable[tuple[Moment, Literal]]) -> None:
    """The time lies in the true cell of the calendar that counts; a cell of overtime must be bought.

    sum of first x cell <= tau <= sum of last x cell; per calendar, sum of cells = [this calendar counts].
    """
    firsts: list[Expr] = []
    lasts: list[Expr] = []
    for moment, counts in moments:
        ctx.model.add(total(spot.literal for spot in moment.spots) == counts)
        for spot in moment.spots:
            firsts.append(spot.first_tau * spot.literal)
            lasts.append(spot.last_tau * spot.literal)
            if spot.cell.block_id is not None:
                ctx.model.add_implication(spot.literal, ctx.vars.bought[spot.cell.block_id])
    ctx.model.add(tau >= total(firsts))
    ctx.model.add(tau <= total(lasts))


def inside_open_hours(ctx: ModelContext) -> None:
    """Work starts in an open minute and ends after one.

    start in some open [a, b), end in some open (a, b], on the calendar of the press taken or of the place.
    """
    for run in ctx.vars.runs.values():
        places = run.on.values()
        _lies_in(ctx, run.set_up_start, [(on.set_up, on.is_here) for on in places])
        if run.ready is not run.print_start:
            _lies_in(ctx, run.ready, [(on.ready, on.is_here) for on in places])
        _lies_in(ctx, run.print_start, [(on.printing, on.is_here) for on in places])
        _lies_in(ctx, run.print_end, [(on.end, on.is_here) for on in places])
    for work in ctx.vars.works():
        _lies_in(ctx, work.start, [(work.began, work.happens)])
        if work.work_min:
            _lies_in(ctx, work.end, [(work.ended, work.happens)])


def overtime_is_nested(ctx: ModelContext) -> None:
    """Overtime is bought from what is on offer, and only after the block it follows.

    bought[b] <= bought[after_id[b]].
    """
    for block in ctx.week.overtime:
        literal = ctx.vars.bought[block.block_id]
        if block.block_id not in ctx.scope.offered:
            ctx.model.add(literal == int(block.block_id in ctx.scope.bought))
        if block.after_id is not None:
            ctx.model.add(literal <= ctx.vars.bought.get(block.after_id, 0))

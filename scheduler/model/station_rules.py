"""Rules of stations beside the presses: before the prints, after them, and room for so many orders at once."""

from __future__ import annotations

from itertools import pairwise

from scheduler.model.calendar_rules import work_takes_its_minutes
from scheduler.model.context import ModelContext
from scheduler.model.variables import VisitVars, total


def station_before_print(ctx: ModelContext) -> None:
    """What an order needs before its prints is over when its runs are staged; it starts with all garments there.

    start >= blanks_tau of the order's runs; start of the next >= end; stage_start (or set_up_start) >= last end.
    """
    for order in ctx.vars.orders.values():
        before = [one for one in order.visits if one.step.is_before]
        _one_after_the_other(ctx, before)
        if not before:
            continue
        for run_id in order.run_ids:
            run = ctx.vars.runs[run_id]
            ctx.model.add(before[0].start >= run.run.blanks_tau)
            if not ctx.is_started(run_id):
                first = run.stage.start if run.stage is not None else run.set_up_start
                ctx.model.add(first >= before[-1].end)


def station_after_print(ctx: ModelContext) -> None:
    """What an order needs after its prints starts with the last piece cured, and packing starts when it is over.

    start >= print_end + cure of its runs; start of the next >= end; finish_start >= last end.
    """
    for order in ctx.vars.orders.values():
        after = order.visits_after()
        _one_after_the_other(ctx, after)
        if not after:
            continue
        for run_id in order.run_ids:
            run = ctx.vars.runs[run_id]
            ctx.model.add(after[0].start >= run.print_end + run.run.cure_min)
        if order.packing is not None:
            ctx.model.add(order.packing.start >= after[-1].end)


def station_has_room(ctx: ModelContext) -> None:
    """A station never has more orders than it can work on at once; one that waits there over a stop counts.

    Per station: the visits [start, end) overlap at most `units` deep.
    """
    for station in ctx.week.stations:
        works = [
            visit.work
            for order in ctx.vars.orders.values()
            for visit in order.visits
            if visit.work is not None and visit.step.station_id == station.station_id
        ]
        if station.units is not None and len(works) > station.units:
            ctx.model.add_cumulative([work.interval for work in works], [1] * len(works), station.units)


def _one_after_the_other(ctx: ModelContext, visits: list[VisitVars] | tuple[VisitVars, ...]) -> None:
    """Each visit takes its minutes, or is back when it is due back, and the next one follows it."""
    for one, other in pairwise(visits):
        ctx.model.add(other.start >= one.end)
    for visit in visits:
        if visit.work is not None:
            work_takes_its_minutes(ctx, visit.work)
            continue
        ctx.model.add_exactly_one(literal for _, _, _, literal in visit.back)
        ctx.model.add(visit.start >= total(first * literal for first, _, _, literal in visit.back))
        ctx.model.add(visit.start <= total(last * literal for _, last, _, literal in visit.back))
        ctx.model.add(visit.end == total(back * literal for _, _, back, literal in visit.back))

"""The set-up rule: what stood on a press before decides how long the next set-up takes."""

from __future__ import annotations

from scheduler.domain.week import Stack
from scheduler.model.context import ModelContext
from scheduler.model.scope import LineUp
from scheduler.model.variables import Arc, Expr, Literal, RunOnPress, total
from scheduler.trade.set_up import may_keep, pair_minutes, pair_set_up, returning_extra_min


def set_up_follows_the_run_before(ctx: ModelContext) -> None:
    """A set-up takes the minutes that follow from what stood on the press, kept inks included.

    The runs of a press form one queue; a run starts after the one before it has ended, and
    set_up_min = sum over who may stand before of pair minutes x [stands before] + what keeping inks saves or costs.
    """
    for press in ctx.week.presses:
        line = ctx.scope.line_up(press.press_id)
        arcs = ctx.vars.arcs[press.press_id]
        if not arcs:
            continue
        _one_queue(ctx, line, arcs)
        for run_id in line.runs:
            on = ctx.vars.runs[run_id].on[press.press_id]
            before = [arc for arc in arcs if arc.after == run_id]
            _inks_stand_by(ctx, line, on, before)
            ctx.model.add(on.set_up_min == _minutes(ctx, line, on, before))


def _one_queue(ctx: ModelContext, line: LineUp, arcs: tuple[Arc, ...]) -> None:
    """Each run on the press has one run (or nothing) before and one (or nothing) after it, and waits for the former."""
    node = {run_id: number for number, run_id in enumerate((None, *line.runs))}
    circuit = [(node[arc.before], node[arc.after], arc.literal) for arc in arcs]
    for run_id in line.runs:
        is_here = ctx.vars.runs[run_id].on[line.press_id].is_here
        if is_here is not ctx.vars.always:
            circuit.append((node[run_id], node[run_id], ~is_here))
    ctx.model.add_circuit(circuit)
    for arc in arcs:
        if arc.before is not None and arc.after is not None:
            earlier, later = ctx.vars.runs[arc.before], ctx.vars.runs[arc.after]
            ctx.model.add(later.set_up_start >= earlier.print_end).only_enforce_if(arc.literal)


def _stack_before(ctx: ModelContext, line: LineUp, run_id: str | None) -> Stack:
    return line.stands if run_id is None else ctx.week.run[run_id].on_press[line.press_id].stack


def _inks_stand_by(ctx: ModelContext, line: LineUp, on: RunOnPress, before: list[Arc]) -> None:
    """An ink stood by before a run if it was kept beside the run before; it may be kept on, or newly from that run.

    [stands before] => found = kept of the run before; kept <= found + sum of [a run stands before that lets it stay].
    """
    for ink_id, found in on.found.items():
        sources: list[Literal] = []
        for arc in before:
            kept = _kept_by(ctx, line, arc.before, ink_id)
            if kept is None:
                continue
            sources.append(arc.literal)
            ctx.model.add_bool_or(~arc.literal, ~kept, found)
            ctx.model.add_bool_or(~arc.literal, ~found, kept)
        ctx.model.add(found <= total(sources))
    for ink_id, kept in on.kept.items():
        newly = [
            arc.literal
            for arc in before
            if ink_id in may_keep(_stack_before(ctx, line, arc.before), on.choice.stack, (), ctx.week.ink)
        ]
        ctx.model.add(kept <= on.found.get(ink_id, 0) + total(newly))


def _kept_by(ctx: ModelContext, line: LineUp, run_id: str | None, ink_id: str) -> Literal | None:
    """Whether an ink stands by beside a run (or what is on the press now); None if it cannot."""
    if run_id is None:
        return ctx.vars.always if ink_id in line.kept else None
    return ctx.vars.runs[run_id].on[line.press_id].kept.get(ink_id)


def _minutes(ctx: ModelContext, line: LineUp, on: RunOnPress, before: list[Arc]) -> Expr:
    """Set-up minutes of a run on this press; 0 if it goes on another."""
    fixing = ctx.week.fixing.get(on.run_id)
    if fixing is not None and fixing.kind == "started":
        return (fixing.set_up_left_min or 0) * on.is_here
    if on.choice.stated_set_up_min is not None:
        return (on.choice.stated_set_up_min + on.choice.set_up_extra_min) * on.is_here
    costs, inks = on.press.set_up, ctx.week.ink
    parts: list[Expr] = []
    for arc in before:
        pair = pair_set_up(_stack_before(ctx, line, arc.before), on.choice.stack, costs, inks)
        parts.append((pair_minutes(pair, costs, inks) + on.choice.set_up_extra_min) * arc.literal)
    printed = {head.ink_id for head in on.choice.stack.heads}
    for ink_id, found in on.found.items():
        if ink_id in printed:
            parts.append(returning_extra_min(costs) * found)
        else:
            parts.append(costs.leave_min(inks[ink_id]) * found)
    parts += [-costs.leave_min(inks[ink_id]) * kept for ink_id, kept in on.kept.items()]
    return total(parts)

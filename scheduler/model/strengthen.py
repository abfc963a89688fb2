"""Constraints that follow from the rules and only make the solver faster: the same plans keep them all."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.model.context import ModelContext
from scheduler.model.variables import total


def inks_stand_by_from_run_to_run(ctx: ModelContext) -> None:
    """What stands by beside a run stands by before the next one; only the last run of a press has no next.

    Per press and ink: kept at the start + sum of kept - 1 <= sum of found <= kept at the start + sum of kept.
    """
    for press in ctx.week.presses:
        line = ctx.scope.line_up(press.press_id)
        on_press = [ctx.vars.runs[run_id].on[press.press_id] for run_id in line.runs]
        for ink_id in sorted({ink_id for on in on_press for ink_id in on.found}):
            kept = total([on.kept[ink_id] for on in on_press if ink_id in on.kept])
            found = total([on.found[ink_id] for on in on_press if ink_id in on.found])
            at_start = int(ink_id in line.kept)
            ctx.model.add(found <= kept + at_start)
            ctx.model.add(found >= kept + at_start - 1)


CUTS: tuple[Callable[[ModelContext], None], ...] = (inks_stand_by_from_run_to_run,)
"""Every such constraint. A test holds that leaving them out changes no optimum."""

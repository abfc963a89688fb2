"""Rules of a dryer's settings: runs that share it share its setting, and another setting takes time to settle."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from scheduler.domain.week import DryerLine
from scheduler.model.context import ModelContext
from scheduler.model.variables import Expr, Literal, RunVars, total


def dryer_setting_is_shared(ctx: ModelContext) -> None:
    """Runs in one dryer at once want the same temperature and the same time in the tunnel.

    Two runs at different settings: one starts printing after the other's last piece is through, or the dryer is
    switched on anew in between.
    """
    for dryer in ctx.week.dryers:
        for one, other in _pairs(ctx, dryer):
            orders = [_order(ctx, dryer, *pair) for pair in ((one, other), (other, one))]
            for (before, after), (follows, was_off) in zip(((one, other), (other, one)), orders, strict=True):
                ctx.model.add(after.print_start >= before.print_end + before.run.cure_min).only_enforce_if(follows)
                ctx.model.add(_starts_after(ctx, dryer, after) >= _ends_before(ctx, dryer, before) + 1).only_enforce_if(
                    was_off
                )
            kept_apart = [literal for order in orders for literal in order]
            for its_setting, other_setting in _different(dryer):
                held = _at(ctx, dryer, one, its_setting), _at(ctx, dryer, other, other_setting)
                if held[0] is not None and held[1] is not None:
                    ctx.model.add_bool_or([~held[0], ~held[1], *kept_apart])


def setting_settles(ctx: ModelContext) -> None:
    """A dryer takes its minutes to settle before it is printed into at another setting.

    Where a run follows another at a different setting: print_start >= print_end before + cure + minutes to settle.
    """
    for dryer in ctx.week.dryers:
        for pair in _pairs(ctx, dryer):
            for before, after in (pair, pair[::-1]):
                follows, _ = _order(ctx, dryer, before, after)
                for its_setting, other_setting in _different(dryer):
                    held = _at(ctx, dryer, before, its_setting), _at(ctx, dryer, after, other_setting)
                    settle_min = dryer.settle_min(its_setting, other_setting)
                    if held[0] is not None and held[1] is not None and settle_min:
                        free_tau = before.print_end + before.run.cure_min + settle_min
                        ctx.model.add(after.print_start >= free_tau).only_enforce_if([follows, *held])


def _different(dryer: DryerLine) -> Iterator[tuple[str, str]]:
    for one in dryer.settings:
        for other in dryer.settings:
            if one is not other:
                yield one.setting_id, other.setting_id


def _pairs(ctx: ModelContext, dryer: DryerLine) -> Iterator[tuple[RunVars, RunVars]]:
    """Two runs that may print into the dryer at different settings, not both with a print that is settled."""
    there = [run for run in ctx.vars.runs.values() if _settings(ctx, dryer, run)]
    for one, other in combinations(there, 2):
        if all(ctx.scope.way(run.run.run_id) is not None for run in (one, other)):
            continue
        if len(_settings(ctx, dryer, one) | _settings(ctx, dryer, other)) > 1:
            yield one, other


def _settings(ctx: ModelContext, dryer: DryerLine, run: RunVars) -> set[str]:
    return {one.setting_id for one in dryer.settings if _at(ctx, dryer, run, one.setting_id) is not None}


def _at(ctx: ModelContext, dryer: DryerLine, run: RunVars, setting_id: str) -> Literal | None:
    """Whether the run prints into the dryer at this setting; None if it cannot."""
    presses = {press.press_id for press in ctx.week.presses if press.dryer_id == dryer.dryer_id}
    ways = [
        literal
        for press_id, on in run.on.items()
        if press_id in presses
        for choice, literal in on.in_ways()
        if choice.setting_id == setting_id
    ]
    if len(ways) <= 1:
        return ways[0] if ways else None

    def made() -> Literal:
        literal = ctx.model.new_bool_var(f"at[{run.run.run_id},{dryer.dryer_id},{setting_id}]")
        ctx.model.add(total(ways) == literal)
        return literal

    return ctx.vars.once(("at", run.run.run_id, dryer.dryer_id, setting_id), made)


def _order(ctx: ModelContext, dryer: DryerLine, before: RunVars, after: RunVars) -> tuple[Literal, Literal]:
    """Whether a run is known to follow another through the dryer, and whether it was switched on anew in between."""
    names = (dryer.dryer_id, before.run.run_id, after.run.run_id)
    follows = ctx.vars.once(("follows", *names), lambda: ctx.model.new_bool_var(f"follows{names}"))
    return follows, ctx.vars.once(("was_off", *names), lambda: ctx.model.new_bool_var(f"was_off{names}"))


def _ends_before(ctx: ModelContext, dryer: DryerLine, run: RunVars) -> Expr:
    """The number of a switching-on by which the run's print has ended, from 0; as many as there are if by none."""
    lasts = [*dryer.switched_on_tau, ctx.week.horizon_tau]
    return ctx.vars.once(
        ("ends_before", run.run.run_id, dryer.dryer_id), lambda: _numbered(ctx, run.print_end, lasts, 1)
    )


def _starts_after(ctx: ModelContext, dryer: DryerLine, run: RunVars) -> Expr:
    """How many switchings-on are over by the time the run's print starts, at most."""
    firsts = [0, *dryer.switched_on_tau]
    return ctx.vars.once(
        ("starts_after", run.run.run_id, dryer.dryer_id), lambda: _numbered(ctx, run.print_start, firsts, -1)
    )


def _numbered(ctx: ModelContext, tau: Expr, edges_tau: list[int], sign: int) -> Expr:
    """A number of an edge that the time does not pass: from above for sign 1, from below for sign -1."""
    literals = [ctx.model.new_bool_var("edge") for _ in edges_tau]
    ctx.model.add_exactly_one(literals)
    edge = total(at * literal for at, literal in zip(edges_tau, literals, strict=True))
    ctx.model.add(sign * tau <= sign * edge)
    return total(number * literal for number, literal in enumerate(literals))

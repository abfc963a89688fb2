"""Finite things that are free again while work pauses: people, and the belt of a dryer.

Work keeps its place on the axis while it pauses, so its interval covers its pauses too. What it would take there is
given back: in every pause the limit is raised by the most that can pause there, and a filler takes what does not.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.model.cells import OpenCells
from scheduler.model.context import ModelContext
from scheduler.model.variables import Expr, Literal, Moment, total


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One activity's share of something finite. owner: whose calendar it pauses with.

    is_alone: of this owner's loads, only one goes on or pauses at a time (the runs of a press). only_if: whether it is
    there where its moments alone do not tell.
    """

    owner: str
    amount: int
    hours: OpenCells
    interval: cp_model.IntervalVar
    began: Moment
    ended: Moment
    is_alone: bool
    only_if: Literal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What is taken in [start_tau, end_tau) whatever the plan, or on condition."""

    start_tau: int
    end_tau: int
    amount: int
    condition: Literal | None = None


def shared_by(ctx: ModelContext, name: str, loads: Sequence[Load], limit: int, taken: Sequence[Taken] = ()) -> None:
    """At every minute the loads that go on, and what is taken anyway, fit the limit.

    sum of amounts of loads working + taken <= limit.
    """
    if not loads and not taken:
        return
    if _most_at_once(loads) + sum(one.amount for one in taken) <= limit:
        return
    paused = _pauses(ctx, loads)
    raised = [(start, end, most) for (_, start, end), (most, _) in paused.items()]
    top = _highest(raised)
    intervals = [load.interval for load in loads]
    amounts: list[Expr] = [load.amount for load in loads]
    for (owner, start, end), (most, pausing) in paused.items():
        filler = ctx.vars.amount(f"filler[{name},{owner},{start}]", most)
        ctx.model.add(filler + total(pausing) == most)
        intervals.append(ctx.model.new_fixed_size_interval_var(start, end - start, f"pause[{name},{owner},{start}]"))
        amounts.append(filler)
    certain = [(one.start_tau, one.end_tau, one.amount) for one in taken if one.condition is None]
    low = [(start, end, -most) for start, end, most in raised]
    for start, end, amount in _steps([*certain, *low, (0, ctx.week.horizon_tau, top)]):
        intervals.append(ctx.model.new_fixed_size_interval_var(start, end - start, f"taken[{name},{start}]"))
        amounts.append(amount)
    for one in taken:
        if one.condition is not None:
            intervals.append(
                ctx.model.new_optional_fixed_size_interval_var(
                    one.start_tau, one.end_tau - one.start_tau, one.condition, f"taken[{name},{one.start_tau}]"
                )
            )
            amounts.append(one.amount)
    ctx.model.add_cumulative(intervals, amounts, limit + top)


def _most_at_once(loads: Sequence[Load]) -> int:
    """The most the loads can take at one minute if nothing but being alone keeps them apart."""
    alone: dict[str, int] = defaultdict(int)
    most = 0
    for load in loads:
        if load.is_alone:
            alone[load.owner] = max(alone[load.owner], load.amount)
        else:
            most += load.amount
    return most + sum(alone.values())


def _pauses(ctx: ModelContext, loads: Sequence[Load]) -> dict[tuple[str, int, int], tuple[int, list[Expr]]]:
    """Per owner and pause [start, end): the most that can pause there, and the loads that do, as amounts."""
    found: dict[tuple[str, int, int], tuple[int, list[Expr]]] = {}
    for load in loads:
        for stop in load.hours.stops:
            if not stop.gap_min:
                continue
            across = ctx.vars.spanned(stop, load.began, load.ended)
            if load.only_if is not None:
                across = ctx.vars.both(across, load.only_if)
            if isinstance(across, int) and not across:
                continue
            key = (load.owner, stop.from_tau, stop.to_tau)
            most, parts = found.get(key, (0, []))
            most = max(most, load.amount) if load.is_alone else most + load.amount
            found[key] = (most, [*parts, load.amount * across])
    return found


def _highest(steps: Sequence[tuple[int, int, int]]) -> int:
    return max((amount for _, _, amount in _steps(steps)), default=0)


def _steps(parts: Sequence[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    """Add up (start, end, amount): the stretches on which the sum is not 0, with the sum."""
    changes: dict[int, int] = defaultdict(int)
    for start, end, amount in parts:
        changes[start] += amount
        changes[end] -= amount
    found: list[tuple[int, int, int]] = []
    level = 0
    at = 0
    for tau in sorted(changes):
        if level and tau > at:
            found.append((at, tau, level))
        level += changes[tau]
        at = tau
    return found

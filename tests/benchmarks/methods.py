"""The ways of planning that are measured against each other, each in a process of its own on the same week."""

from __future__ import annotations

import multiprocessing
import resource
import time
from collections.abc import Callable, Collection
from dataclasses import dataclass, field, replace
from itertools import islice
from multiprocessing.connection import Connection

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.construction import rules
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.solve import solve
from scheduler.workload.build import Workload

OURS = "pressweek"
BARE = "whole model"
HINTED = "whole model, first plan given"
STRATEGIES = 8
"""Solver strategies of the whole model; on the same cores as everything else."""
WITHIN = 1.02
"""A plan is nearly the last one from this many times its cost on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What one way of planning made of one week.

    cost_cents is None without a plan. nearly_s: when a plan within `WITHIN` of the last was there. memory_mb: most
    that was held at once, helping processes included.
    """

    method: str
    cost_cents: int | None = None
    terms: dict[str, int] = field(default_factory=dict)
    bound_cents: int = 0
    status: str = "none"
    violations: int = 0
    seconds: float = 0.0
    first_plan_s: float | None = None
    nearly_s: float | None = None
    memory_mb: int = 0


def list_outcomes(week: Week, *, only_due_dates: bool = False) -> list[Outcome]:
    """Every list a planner could follow, the due-date list first."""
    decoder = Decoder(week)
    found = []
    for rule, genome in islice(rules(week, decoder), 1 if only_due_dates else None):
        began = time.perf_counter()
        decoded = decoder.decode(genome)
        seconds = time.perf_counter() - began
        if isinstance(decoded, Decoded):
            found.append(_of_plan(rule, week, decoded.plan, seconds, [(seconds, decoded.cost_cents)]))
        else:
            found.append(Outcome(method=rule, seconds=seconds))
    return found


def search_outcomes(
    workload: Workload, seconds: float, seed: int, workers: int, methods: Collection[str]
) -> list[Outcome]:
    """The whole model bare and with our first plan, then our search: the same seconds, one after the other."""
    ways = {BARE: _bare, HINTED: _hinted, OURS: _ours}
    return [_in_a_process(way, workload, seconds, seed, workers) for name, way in ways.items() if name in methods]


Way = Callable[[Workload, float, int, int], Outcome]


def _bare(workload: Workload, seconds: float, seed: int, workers: int) -> Outcome:
    return _whole_model(BARE, workload.week, None, seconds, seed)


def _hinted(workload: Workload, seconds: float, seed: int, workers: int) -> Outcome:
    decoder = Decoder(workload.week)
    plans = [decoder.decode(genome) for _, genome in rules(workload.week, decoder)]
    best = min((one for one in plans if isinstance(one, Decoded)), key=lambda one: one.cost_cents, default=None)
    return _whole_model(HINTED, workload.week, best.plan if best else None, seconds, seed)


def _whole_model(method: str, week: Week, hint: Plan | None, seconds: float, seed: int) -> Outcome:
    """The exact model of the whole week; building it counts."""
    began = time.perf_counter()
    trace: list[tuple[float, int]] = []

    def is_over() -> bool:
        return time.perf_counter() - began > seconds

    found = solve(
        week,
        hint=hint,
        seconds=seconds,
        seed=seed,
        workers=STRATEGIES,
        on_plan=lambda _plan, cost_cents, _bound: trace.append((time.perf_counter() - began, cost_cents)),
        stop=is_over,
    )
    spent = time.perf_counter() - began
    if found.plan is None:
        return Outcome(method=method, bound_cents=found.bound_cents, seconds=spent)
    return _of_plan(method, week, found.plan, spent, trace, found.bound_cents, found.status)


def _ours(workload: Workload, seconds: float, seed: int, workers: int) -> Outcome:
    result = api.plan_week(workload, SearchSettings(seconds=seconds, seed=seed, workers=workers))
    if result.plan is None:
        return Outcome(method=OURS, bound_cents=result.lower_bound_cents, seconds=result.wall_seconds or 0.0)
    trace = [(point.seconds or 0.0, point.cost_cents) for point in result.trace]
    return _of_plan(
        OURS, workload.week, result.plan, result.wall_seconds or 0.0, trace, result.lower_bound_cents, result.status
    )


def _of_plan(
    method: str,
    week: Week,
    plan: Plan,
    seconds: float,
    trace: list[tuple[float, int]],
    bound_cents: int = 0,
    status: str = "plan",
) -> Outcome:
    """A plan's figures, recomputed and checked by the independent eye."""
    cost = api.measure(week, plan).cost
    nearly = [at for at, cents in trace if cents <= WITHIN * cost.total]
    return Outcome(
        method=method,
        cost_cents=cost.total,
        terms=cost.terms,
        bound_cents=bound_cents,
        status=status,
        violations=len(api.check(week, plan)),
        seconds=seconds,
        first_plan_s=trace[0][0] if trace else None,
        nearly_s=nearly[0] if nearly else None,
    )


def _in_a_process(way: Way, workload: Workload, seconds: float, seed: int, workers: int) -> Outcome:
    """Run a way in a fresh process, so that nobody's memory and caches count for another."""
    spawn = multiprocessing.get_context("spawn")
    ours, theirs = spawn.Pipe(duplex=False)
    process = spawn.Process(target=_child, args=(way, workload, seconds, seed, workers, theirs))
    process.start()
    theirs.close()
    try:
        outcome: Outcome = ours.recv()
    finally:
        process.join()
        ours.close()
    return outcome


def _child(way: Way, workload: Workload, seconds: float, seed: int, workers: int, channel: Connection) -> None:
    outcome = way(workload, seconds, seed, workers)
    held_kb = sum(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    channel.send(replace(outcome, memory_mb=held_kb // 1024))

"""After the annealing: the exact model. Whole for small weeks, where it may prove the plan; else in local windows."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.result import Improved, Stop
from scheduler.search.small_enough import is_solved_whole
from scheduler.search.solve import solve
from scheduler.search.windows import improve

PORTFOLIO = 8
"""Solver strategies at work on a whole week where two processes are allowed; they prove sooner than one a core."""
COUNTED_S_PER_GENOME = 0.002
"""Solver work (its own count) for each genome asked for, where work is counted instead of timed."""
GENOMES_PER_WINDOW = 200
"""Genomes asked for that one window stands for, where work is counted instead of timed."""


def exact(
    week: Week,
    plan: Plan,
    *,
    cost_cents: int,
    lower_bound_cents: int,
    settings: SearchSettings,
    seconds: float | None,
    on_better: Callable[[Plan], None],
    on_bound: Callable[[int], None],
    stop: Stop,
) -> Improved:
    """Improve a plan with the exact model, and prove it where the week is small. See `result.Improver`."""
    if not is_solved_whole(week):
        rounds = None if settings.iterations is None else settings.iterations // GENOMES_PER_WINDOW
        better = improve(
            week,
            plan,
            seconds=seconds,
            rounds=rounds,
            seed=settings.seed,
            workers=settings.workers,
            on_plan=on_better,
            stop=stop,
        )
        return Improved(plan=better, lower_bound_cents=lower_bound_cents)
    counted_s = None if settings.iterations is None else max(1.0, settings.iterations * COUNTED_S_PER_GENOME)
    outcome = solve(
        week,
        hint=plan,
        seconds=seconds if seconds is not None else 3600.0,
        seed=settings.seed,
        workers=1 if counted_s or settings.workers == 1 else max(PORTFOLIO, settings.workers),
        deterministic_seconds=counted_s,
        on_plan=lambda found, _cost, _bound: on_better(found),
        on_bound=on_bound,
        stop=stop,
        limit_s=seconds,
    )
    return Improved(
        plan=outcome.plan,
        lower_bound_cents=max(lower_bound_cents, outcome.bound_cents),
        is_proven=outcome.status == "proven",
        lost=outcome.lost,
    )

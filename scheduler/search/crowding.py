"""The lower bound that looks at all orders at once; see `day_buckets` for what it counts.

A few long stretches are solved soon, many short ones say more; dates made in part are solved soon, whole ones say more.
So it is asked for more and more while time lasts.
"""

from __future__ import annotations

from collections.abc import Iterator
from time import perf_counter

from scheduler.domain.week import Week
from scheduler.search.day_buckets import DayBuckets
from scheduler.search.floor_rows import add_floor_rows
from scheduler.search.least_times import open_choices
from scheduler.search.programme import Programme
from scheduler.search.tables import Tables, tables_of
from scheduler.search.whole_runs import whole_runs_programme

FIRST_STEPS = ((4, True), (8, True), (16, True))
"""(stretches at most, dates made in part), one after the other."""
STEPS = ((8, False), (16, False), (32, False), (64, False))
"""The same, once whole runs have had their turn."""
STEP_SHARE = 0.5
"""Share of the time left for one step but the last."""
MOST_SHARES = 50_000
"""Runs times presses times stretches at most. Beyond it nothing was proven in 40 s at 300 runs and 105 s at 1,000 that
fewer stretches did not prove, and the solver held 1.4 to 2 GB; below it 1.2.
"""
WHOLE_CHOICES = 100
"""Runs times presses up to which runs are sent to one press as a whole, see `whole_runs`."""
COUNTED_WHOLE_S = 1.0
"""Solver work (its own count) for that where work is counted instead of timed."""
COUNTED_SHARES = 1200
"""Runs times presses times stretches at most, where work is counted instead of timed."""
FEWEST, MOST = 6, 56
"""Stretches there."""
MOST_COUNTED_CHOICES = 800
"""Runs times presses beyond which nothing is solved there."""


def crowding_bound(week: Week, seconds: float | None = None) -> int:
    """Proven lower bound in cents on the cost of every valid plan; 0 if nothing was proven.

    seconds: wall time at most; None counts work instead of time: the same week gives the same bound everywhere.
    """
    if seconds is None:
        return _counted_bound(week)
    return max(crowding_bounds(week, seconds), default=0)


def crowding_bounds(week: Week, seconds: float) -> Iterator[int]:
    """Better and better bounds until the seconds are used up; each holds."""
    started = perf_counter()
    tables = tables_of(week)
    choices = _choices(tables)
    if choices is None:
        return
    best = 0
    for cents in _all_bounds(tables, choices, started + seconds):
        if cents > best:
            best = cents
            yield best


def _all_bounds(tables: Tables, choices: int, ends: float) -> Iterator[int]:
    """Bounds of every kind, until the clock shows `ends`."""
    yield from _stretch_bounds(tables, choices, FIRST_STEPS, ends)
    if choices <= WHOLE_CHOICES:
        for in_queues in (False, True):
            programme = whole_runs_programme(tables, in_queues=in_queues)
            yield from programme.learned_bounds(seconds=max(0.01, STEP_SHARE * (ends - perf_counter())))
    yield from _stretch_bounds(tables, choices, STEPS, ends)


def _stretch_bounds(tables: Tables, choices: int, steps: tuple[tuple[int, bool], ...], ends: float) -> Iterator[int]:
    for step in steps:
        if choices * step[0] > MOST_SHARES:
            return
        programme = crowding_programme(tables, step[0])
        left_s = ends - perf_counter()
        if left_s <= 0:
            return
        limit_s = left_s if step == STEPS[-1] else STEP_SHARE * left_s
        found = programme.bound_cents(seconds=limit_s, in_part=step[1])
        if found is not None:
            yield found


def _counted_bound(week: Week) -> int:
    tables = tables_of(week)
    choices = _choices(tables)
    if choices is None or choices > MOST_COUNTED_CHOICES:
        return 0
    programme = crowding_programme(tables, max(FEWEST, min(MOST, COUNTED_SHARES // choices)))
    best = max(0, programme.bound_cents(in_part=True) or 0)
    if choices > WHOLE_CHOICES:
        return best
    for in_queues in (False, True):
        whole = whole_runs_programme(tables, in_queues=in_queues)
        best = max(best, *whole.learned_bounds(counted_s=COUNTED_WHOLE_S), 0)
    return best


def _choices(tables: Tables) -> int | None:
    """Runs times presses; None where there is nothing to bound: no runs, or a run that fits nowhere."""
    counts = [len(open_choices(run)) for run in tables.runs]
    return sum(counts) if counts and all(counts) else None


def crowding_programme(tables: Tables, most_stretches: int) -> Programme:
    """The whole programme of a week whose runs each fit a press."""
    buckets = DayBuckets(tables, most_stretches)
    programme = buckets.built()
    add_floor_rows(buckets)
    return programme

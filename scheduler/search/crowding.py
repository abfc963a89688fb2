"""The lower bound that looks at all orders at once; see `day_buckets` for what it counts.

A few long stretches are solved soon, many short ones say more: it is asked with more and more of them while time lasts.
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

LEVELS = (6, 14, 28, 56)
"""Stretches at most, level by level."""
COUNTED_SHARES = 1200
"""Runs times presses times stretches at most, where work is counted instead of timed."""
COUNTED_CHOICES = 60
"""Runs times presses up to which dates are made or missed whole there; beyond, in part, which is solved at once."""
MOST_COUNTED_CHOICES = 800
"""Runs times presses beyond which nothing is solved there."""
COUNTED_NODES = 50


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
    if _choices(tables) is None:
        return
    best = 0
    for level in LEVELS:
        programme = crowding_programme(tables, level)
        left_s = seconds - (perf_counter() - started)
        if left_s <= 0:
            return
        found = programme.bound_cents(seconds=left_s if level == LEVELS[-1] else left_s / 2)
        if found is not None and found > best:
            best = found
            yield best


def _counted_bound(week: Week) -> int:
    tables = tables_of(week)
    choices = _choices(tables)
    if choices is None or choices > MOST_COUNTED_CHOICES:
        return 0
    programme = crowding_programme(tables, max(LEVELS[0], min(LEVELS[-1], COUNTED_SHARES // choices)))
    if choices > COUNTED_CHOICES:
        programme.is_whole = [False] * len(programme.is_whole)
    return max(0, programme.bound_cents(nodes=COUNTED_NODES) or 0)


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

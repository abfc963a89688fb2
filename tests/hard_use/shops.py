"""Random shops planned from end to end: read, planned within a limit, checked, replayed, written, read back."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.inputs.plan_document import PlanFacts
from scheduler.inputs.plan_files import write_plan
from scheduler.workload.build import Workload
from tests.outside.replay import Replay, planned_ends
from tests.random_weeks import random_week
from tests.workload.random_inputs import random_inputs

FULL, STOPPED = "to its limit", "stopped"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lived:
    """What became of one shop's week. over_s: seconds beyond the limit (or after being asked to stop)."""

    seed: int
    runs: int
    has_plan: bool
    is_stopped: bool
    over_s: float


def week_of(seed: int) -> Week:
    """Every other shop is typed (presses, people, dryers, screen room, orders), every other drawn as a bare week."""
    return api.build_workload(random_inputs(seed)).week if seed % 2 else random_week(seed)


def live_through(seed: int, seconds: float, place: Path) -> Lived:
    """Plan a shop's week to its limit, or stop it at a random moment; whatever plan comes back must be right."""
    week, dice = week_of(seed), random.Random(f"hard use {seed}")
    is_stopped = dice.random() < 0.5
    stops_at = dice.uniform(0, seconds) if is_stopped else seconds
    workload = Workload(week=week, assumptions=(), press_loads=())
    began = perf_counter()
    result = api.plan_week(
        workload,
        SearchSettings(seconds=seconds, seed=seed + 1, workers=1),
        stop=(lambda: perf_counter() - began > stops_at) if is_stopped else None,
    )
    over_s = perf_counter() - began - stops_at
    if result.plan is not None:
        assert_right(week, result.plan, place / "plan.json", api.plan_facts(week, result))
        assert result.lower_bound_cents <= result.cost_cents
        assert result.baseline is None or result.baseline.plan is None or result.cost_cents <= _cents(week, result)
    else:
        assert result.reason
    return Lived(seed=seed, runs=len(week.runs), has_plan=result.plan is not None, is_stopped=is_stopped, over_s=over_s)


def assert_right(week: Week, plan: Plan, path: Path, facts: PlanFacts) -> None:
    """No rule is broken, the replay ends every step at the planned minute, and the file reads back to the same plan."""
    assert api.check(week, plan) == ()
    if plan.runs:
        assert Replay(week, plan).run() == planned_ends(week, plan)
    write_plan(path, week, plan, facts)
    assert api.read_plan(path, week)[0] == plan


def _cents(week: Week, result: api.SearchResult) -> int:
    assert result.baseline is not None
    assert result.baseline.plan is not None
    return api.measure(week, result.baseline.plan).cost.total

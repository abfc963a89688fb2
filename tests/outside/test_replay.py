"""Finished plans played again by an independent event simulation (simpy), which reads the rules for itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.outside.replay import Replay, planned_ends
from tests.random_weeks import random_week

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


def planned(seed: int) -> tuple[Week, Plan] | None:
    """A random week and its first plan; None for the few weeks that have none."""
    week = random_week(seed)
    decoded = first_plan(week)
    return (week, decoded.plan) if isinstance(decoded, Decoded) else None


def test_replayed_plans_end_at_the_planned_minute() -> None:
    """Every set-up, print, burn, tape, staging and packing ends in the replay at the minute the plan states."""
    weeks_replayed = 0
    for seed in range(120):
        found = planned(seed)
        if found is None:
            continue
        week, plan = found
        assert Replay(week, plan).run() == planned_ends(week, plan), f"week {seed}"
        weeks_replayed += 1
    assert weeks_replayed >= 100


@pytest.mark.parametrize("name", ["solo", "midsize", "contract"])
def test_the_invented_weeks_end_at_the_planned_minute(name: str) -> None:
    """The three weeks of scenarios/, read from their files, planned and replayed: every end agrees."""
    week = api.build_workload(api.read_week(SCENARIOS / name)).week
    decoded = first_plan(week)
    assert isinstance(decoded, Decoded)
    ends = planned_ends(week, decoded.plan)
    assert len(ends) > 3 * len(week.runs)
    assert Replay(week, decoded.plan).run() == ends


@pytest.mark.parametrize("what", ["set-up", "press", "people"])
def test_a_plan_that_breaks_a_rule_ends_elsewhere(what: str) -> None:
    """The replay can fail: a minute of set-up claimed away, two runs at once on a press, a week without its people."""
    caught = tried = 0
    for seed in range(60):
        found = planned(seed)
        if found is None:
            continue
        week, plan = found
        broken = _broken(week, plan, what)
        if broken is None:
            continue
        tried += 1
        try:
            caught += Replay(*broken).run() != planned_ends(*broken)
        except (AssertionError, KeyError):  # never got its people, or never ended
            caught += 1
    assert tried >= 20
    assert caught == tried


def _broken(week: Week, plan: Plan, what: str) -> tuple[Week, Plan] | None:
    if what == "people":
        crews = any(press.run_crew for press in week.presses)
        return (
            (replace(week, people=tuple(replace(p, roles=frozenset({"pack"})) for p in week.people)), plan)
            if crews
            else None
        )
    if what == "press":
        for first, second in ((a, b) for queue in plan.queue.values() for a, b in pairwise(queue)):
            if second.set_up_start_tau == first.print_end_tau and second.set_up_min:
                early = replace(
                    second,
                    set_up_start_tau=second.set_up_start_tau - 1,
                    set_up_end_tau=second.set_up_end_tau - 1,
                    print_end_tau=second.print_end_tau - 1,
                )
                return week, replace(plan, runs=tuple(early if r.run_id == early.run_id else r for r in plan.runs))
        return None
    for run in plan.runs:
        if run.set_up_min > 1 and run.run_id not in week.fixing:
            short = replace(run, set_up_min=run.set_up_min - 1, set_up_end_tau=run.set_up_end_tau - 1)
            return week, replace(plan, runs=tuple(short if r.run_id == run.run_id else r for r in plan.runs))
    return None

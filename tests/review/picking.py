"""What every way to break a plan is, and what it picks from."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import TypeVar

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import PressChoice, Week

T = TypeVar("T")
Breaker = Callable[[Week, Plan, random.Random], Plan | None]


def pick(rng: random.Random, found: Sequence[T]) -> T | None:
    """One of them, or None."""
    return rng.choice(found) if found else None


def choice_of(week: Week, planned: PlannedRun) -> PressChoice:
    """What the run asks of the press it is on."""
    choice = week.run[planned.run_id].printed_on(planned.press_id, planned.way)
    assert choice is not None
    return choice


def is_started(week: Week, planned: PlannedRun) -> bool:
    """True for a run that had started."""
    return planned.run_id in week.fixing and week.fixing[planned.run_id].kind == "started"


def neighbours(plan: Plan) -> list[tuple[PlannedRun, PlannedRun]]:
    """Each run on a press with the one set up next there."""
    return [pair for queue in plan.queue.values() for pair in pairwise(queue)]

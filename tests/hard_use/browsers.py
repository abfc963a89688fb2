"""Many browsers at once on one dashboard: all plan, all ask, all are answered."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from dashboard import jobs, questions
from scheduler import api


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What so many browsers got: the folders of the plans they watch, answers, most tried at once, and seconds."""

    plan_folders: frozenset[Path]
    answered: int
    most_at_once: int
    seconds: float


def all_at_once(count: int, what: Callable[[int], Path]) -> list[Path]:
    """Every browser clicks at the same moment, each in a thread of its own as the server has it."""
    with ThreadPoolExecutor(count) as clicks:
        return list(clicks.map(what, range(count)))


def plan_and_ask(week: Path, count: int, within_s: float) -> Answered:
    """So many browsers start a plan at once, then each asks a question of its own; waits until all are answered."""
    began = time.monotonic()
    folders = all_at_once(count, lambda _: jobs.start(week, seconds=1, workers=1))
    inputs = api.read_week(week)
    order = inputs.orders[0].order_id

    def ask(number: int) -> Path:
        tables = [("pieces", {"order": order, "pieces": str(100 + number)})]
        return questions.ask(week, inputs, f"browser {number}", tables, None).folder

    asked = all_at_once(count, ask)
    assert len(set(asked)) == count
    most = answered = 0
    while answered < count:
        assert time.monotonic() - began < within_s, f"{answered} of {count} answered"
        seen = [questions.open_question(week, folder) for folder in asked]
        states = [one[1].state for one in seen if one is not None]
        assert len(states) == count
        assert "failed" not in states, [one[1].complaints for one in seen if one is not None]
        most = max(most, states.count("working"))
        answered = states.count("done")
        time.sleep(0.1)
    for folder in asked:
        found = questions.open_question(week, folder)
        assert found is not None
        assert found[0].folder == folder
        assert questions.answers_of(found[0]).name == found[0].name
        questions.forget(week, found[0])
    return Answered(
        plan_folders=frozenset(folders), answered=answered, most_at_once=most, seconds=time.monotonic() - began
    )

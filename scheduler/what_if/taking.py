"""Taking an answer, and taking it back: the what-if stays with the week, the plan is the new one, old ones are kept.

What was taken stands in `taken.toml` beside the week's own files and is read with them from then on, until it is typed
into the sheets and taken out there. Every step keeps the files as they were in a numbered folder of `taken/`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.answers import Answer, Answers
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.inputs.plan_files import PlanFacts, read_plan, write_plan
from scheduler.inputs.week_cells import TAKEN_FILE as TAKEN
from scheduler.inputs.what_if_files import WhatIfTable, print_table, read_what_if_text, what_if_text
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.safe_files import write_text
from scheduler.what_if.applying import edited
from scheduler.what_if.past import with_past

KEPT, NOTE, PLAN_BEFORE = "taken", "note.json", "plan-before.json"
PLANS_BEFORE = 3
"""Steps back whose plans are tried again."""
HEAD = (
    "# What was taken with `pressweek whatif --take`. Once it is typed into the week's own files, take it out here.\n"
)

ReadWeek = Callable[[Path], tuple[WeekInputs, Week]]
"""Reads a week anew, with what was taken in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """An answer to be taken: of which week, into which plan file, with which tables."""

    week: Path
    plan: Path
    answers: Answers
    answer: Answer
    tables: tuple[WhatIfTable, ...]


def taken_file(week: Path) -> Path:
    """Where what was taken stands: in the week's folder, or beside its workbook."""
    return week / TAKEN if week.is_dir() else week.with_name(f"{week.stem}.{TAKEN}")


def with_taken(inputs: WeekInputs, week: Path) -> WeekInputs:
    """The inputs with everything that was taken. Raises InputError where it no longer fits the week's files."""
    path = taken_file(week)
    if not path.is_file():
        return inputs
    asked = read_what_if_text(path.name, path.read_text(encoding="utf-8"), inputs)
    return edited(inputs, asked.what_ifs).inputs


def take(taking: Taking, read: ReadWeek, currency: str = "") -> tuple[Path, ...]:
    """The week with the what-if in it and the new plan, both written whole; the files written.

    The plan is checked once more against the week as it is then read. Raises InputError, with everything as it was,
    where something cannot be written or no longer fits.
    """
    assert taking.answer.plan is not None
    stands = taken_file(taking.week)
    step = _next_step(taking.week)
    before = _text(stands)
    added = [*taking.tables, *(print_table(one) for one in taking.answers.resolved)]
    _keep(step, before, _text(taking.plan), taking.plan)
    write_text(stands, f"{before or HEAD}\n{what_if_text(added)}")
    try:
        inputs, week = read(taking.week)
        plan = with_past(taking.answer.plan, week, taking.answers.standing)
        _refuse_broken(week, plan)
        write_plan(taking.plan, week, plan, _facts(inputs, week, plan, currency))
    except BaseException:
        _put_back(stands, before)
        _forget(step)
        raise
    return stands, taking.plan


def kept_plans(folder: Path, week: Week) -> tuple[Plan, ...]:
    """The plans that stood before the last steps, the last first; one that cannot be read is left out."""
    found = []
    for step in _steps(folder)[: -PLANS_BEFORE - 1 : -1]:
        with suppress(InputError):
            found.append(read_plan(step / PLAN_BEFORE, week)[0])
    return tuple(found)


def undo(week: Path) -> tuple[Path, ...]:
    """The last step taken back: the week and its plan as they were, letter by letter; the files written.

    The plan that is taken back is kept. Raises InputError where nothing was taken.
    """
    steps = [one for one in _steps(week) if (one / NOTE).is_file()]
    if not steps:
        problem = Problem(
            file=str(taken_file(week)), code="nothing_taken", message="nothing was taken", hint="nothing to take back"
        )
        raise InputError((problem,))
    step = steps[-1]
    note = json.loads((step / NOTE).read_text(encoding="utf-8"))
    plan = Path(note["plan"])
    after = _text(plan)
    if after is not None:
        write_text(step / "plan-after.json", after)
    _put_back(taken_file(week), _text(step / TAKEN))
    _put_back(plan, _text(step / PLAN_BEFORE))
    (step / NOTE).rename(step / "note-undone.json")
    return taken_file(week), plan


def _facts(inputs: WeekInputs, week: Week, plan: Plan, currency: str) -> PlanFacts:
    seen = cost(week, plan)
    return PlanFacts(
        digest=inputs.digest,
        status="found",
        currency=currency,
        cost_cents=seen.total,
        cost_terms=tuple(seen.terms.items()),
    )


def _refuse_broken(week: Week, plan: Plan) -> None:
    strange = sorted(set(plan.run) ^ set(week.run))
    broken = check(week, plan) if not strange else ()
    if strange or broken:
        told = f"{strange[0]} is in one and not in the other" if strange else broken[0].message
        message = f"the plan does not fit the week as it is read then: {told}"
        problem = Problem(
            file=TAKEN, code="does_not_fit", message=message, hint="type it into the week's files and plan anew"
        )
        raise InputError((problem,))


def _steps(week: Path) -> list[Path]:
    kept = taken_file(week).with_name(KEPT if week.is_dir() else f"{week.stem}.{KEPT}")
    return sorted(one for one in kept.glob("[0-9]*") if one.is_dir()) if kept.is_dir() else []


def _next_step(week: Path) -> Path:
    kept = taken_file(week).with_name(KEPT if week.is_dir() else f"{week.stem}.{KEPT}")
    number = max((int(one.name) for one in _steps(week) if one.name.isdigit()), default=0) + 1
    return kept / f"{number:03d}"


def _keep(step: Path, taken: str | None, plan_text: str | None, plan: Path) -> None:
    for name, text in ((TAKEN, taken), (PLAN_BEFORE, plan_text)):
        if text is not None:
            write_text(step / name, text)
    write_text(step / NOTE, json.dumps({"plan": str(plan.resolve())}, indent=1) + "\n")


def _forget(step: Path) -> None:
    for path in _files(step):
        path.unlink(missing_ok=True)
    with suppress(OSError):
        step.rmdir()


def _files(step: Path) -> Iterable[Path]:
    return list(step.glob("*"))


def _text(path: Path) -> str | None:
    """What a file holds, line ends as they are; None if it is not there."""
    return path.read_bytes().decode("utf-8") if path.is_file() else None


def _put_back(path: Path, text: str | None) -> None:
    if text is None:
        path.unlink(missing_ok=True)
    else:
        write_text(path, text)

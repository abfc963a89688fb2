"""What-ifs: read, answered on a standing plan, taken and taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scheduler.api.weeks import build_workload, read_week
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from scheduler.domain.answers import Answer, Answers
    from scheduler.domain.what_if import WhatIf
    from scheduler.inputs.what_if_files import Asked
    from scheduler.inputs.what_if_kinds import Setting
    from scheduler.papers.answer_rows import AnswerRow
    from scheduler.papers.text import Section
    from scheduler.what_if.many import Case


def read_what_ifs(
    asked: Sequence[str], week: Path, inputs: WeekInputs, now: datetime | None = None
) -> tuple[Asked, ...]:
    """What-ifs from files, from the week's whatif folder or in words. Raises InputError with every fault of all."""
    from scheduler.inputs.what_if_files import read_what_ifs as read

    return read(asked, week, inputs, now)


def what_if_kinds() -> Mapping[str, tuple[str, tuple[Setting, ...]]]:
    """Every kind of what-if but a rush: what it means, and its settings."""
    from scheduler.inputs.what_if_kinds import KINDS, MEANINGS

    return {kind: (MEANINGS[kind], settings) for kind, settings in KINDS.items()}


def what_if_text(tables: Sequence[tuple[str, Mapping[str, str]]]) -> str:
    """A small file of what-ifs: (kind, settings) as they were typed, those that are empty left out."""
    from scheduler.inputs.what_if_files import what_if_text as text_of

    return text_of((kind, {name: text for name, text in settings.items() if text}) for kind, settings in tables)


def read_moment(text: str, inputs: WeekInputs) -> datetime:
    """A moment of the shop's own time. Raises InputError where it is none, or lies before the planning moment."""
    from scheduler.inputs.what_if_files import read_now

    return read_now(text, inputs)


def ask_what_if(
    inputs: WeekInputs,
    plan: Plan,
    what_ifs: Sequence[WhatIf],
    settings: SearchSettings,
    *,
    name: str = "",
    now: datetime | None = None,
    earlier: Sequence[Plan] = (),
    on_answer: Callable[[Answer], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Answers:
    """Up to four checked answers to what-ifs tried together on a standing plan of these inputs.

    earlier: plans that stood before (`plans_before`), to which what is taken back may lead again.
    on_answer hears of every first and every better answer at once; when stop says True, the best so far come back.
    Raises InputError where the plan is not one of these inputs or a what-if cannot be meant.
    """
    from scheduler.what_if.answering import answer

    return answer(inputs, plan, what_ifs, settings, name=name, now=now, earlier=earlier, on_answer=on_answer, stop=stop)


def cases(
    inputs: WeekInputs, plan: Plan, asked: Sequence[Asked], settings: SearchSettings, now: datetime | None = None
) -> tuple[Case, ...]:
    """A case for each what-if, to be answered by itself."""
    from scheduler.what_if.many import Case

    return tuple(
        Case(name=one.name, inputs=inputs, plan=plan, what_ifs=one.what_ifs, settings=settings, now=now)
        for one in asked
    )


def ask_many(
    cases: Sequence[Case], *, executor: Executor | None = None, dask: str = ""
) -> Iterator[tuple[int, Answers]]:
    """(place, answers) of many what-ifs, each by itself, as they come in.

    executor: where they are worked out; None: the Dask cluster at the address `dask`, else this machine's processes.
    """
    from scheduler.what_if.many import answer_many, dask_cluster, local_processes

    if executor is not None:
        yield from answer_many(cases, executor)
        return
    with dask_cluster(dask) if dask else local_processes(len(cases)) as found:
        yield from answer_many(cases, found)


def take_answer(
    week: Path, plan: Path, answers: Answers, answer: Answer, asked: Sequence[Asked], currency: str = ""
) -> tuple[Path, ...]:
    """The answer taken: its what-ifs stay with the week, its plan replaces the plan file; old files are kept.

    Returns the files written. Raises InputError, with everything as it was, where that cannot be done.
    """
    from scheduler.what_if.taking import Taking, take

    def read(path: Path) -> tuple[WeekInputs, Week]:
        inputs = read_week(path)
        return inputs, build_workload(inputs).week

    tables = tuple(table for one in asked for table in one.tables)
    return take(Taking(week=week, plan=plan, answers=answers, answer=answer, tables=tables), read, currency)


def undo_taking(week: Path) -> tuple[Path, ...]:
    """The last answer taken back, week and plan as they were. Raises InputError where nothing was taken."""
    from scheduler.what_if.taking import undo

    return undo(week)


def answers_report(answers: Answers, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The best answer in a sentence, and all of them side by side and one by one."""
    from scheduler.papers.answers import answer_sections, answers_line

    return answers_line(answers, currency), answer_sections(answers, currency)


def answer_values(answers: Answers, answer: Answer) -> AnswerRow:
    """An answer beside the plan as it stands, in values: who moves, whose date changes, what it costs more."""
    from scheduler.papers.answer_rows import answer_row

    return answer_row(answers, answer)


def answers_figures(answers: Answers, currency: str = "") -> dict[str, Any]:
    """The answers in figures for other programs. Money in integer cents."""
    from scheduler.papers.answers import answer_figures

    return answer_figures(answers, currency)

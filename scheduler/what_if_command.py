"""The command `whatif`: an edit tried on the plan as it stands, answered while the client waits."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from scheduler import api, terminal
from scheduler.domain.answers import KINDS
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError, Problem
from scheduler.watching import Interrupt, watched, watched_search

if TYPE_CHECKING:
    from scheduler.domain.answers import Answer, Answers
    from scheduler.domain.orders import WeekInputs
    from scheduler.domain.plan import Plan

NO_PLAN = 1
SECONDS = 12.0
"""How long a client waits on the telephone."""

WeekPath = Annotated[Path, typer.Argument(help="A week's folder or one .xlsx file.")]
WhatIfs = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="WHATIF...", help='A .toml file, a name in the week\'s whatif folder, or words as "cancel order=4102".'
    ),
]
PlanFile = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN.json", help="The plan as it stands; else announced.json.")
]
Now = Annotated[
    str, typer.Option(metavar="TIME", help="What time it is, as 2026-03-04 10:00; else when planning starts.")
]
Seconds = Annotated[float, typer.Option(help="How long to look for better answers.")]
Seed = Annotated[int, typer.Option(help="Start of the dice.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object instead of the report.")]
Take = Annotated[bool, typer.Option("--take", help="Take the best answer: the week and the plan file change.")]
Kind = Annotated[str, typer.Option("--answer", metavar="NAME", help=f"Which answer to take: {', '.join(KINDS)}.")]
Undo = Annotated[bool, typer.Option("--undo", help="Take the last taken answer back.")]
Each = Annotated[bool, typer.Option("--each", help="Answer every what-if by itself, several at once.")]
Dask = Annotated[str, typer.Option(metavar="ADDRESS", help="With --each: work on this Dask cluster.")]


def add_to(app: typer.Typer) -> None:
    """Make the command of this module known to the program."""
    app.command()(whatif)


def whatif(
    week: WeekPath,
    what_ifs: WhatIfs = None,
    plan: PlanFile = None,
    now: Now = "",
    seconds: Seconds = SECONDS,
    seed: Seed = 1,
    as_json: AsJson = False,
    take: Take = False,
    answer: Kind = "",
    undo: Undo = False,
    each: Each = False,
    dask: Dask = "",
) -> None:
    """Can you squeeze this in? Try an edit on the plan as it stands.

    A rush, a press down, somebody ill, late blanks: up to four answers side by side, with who moves, who turns late
    and what it costs. Several what-ifs are tried together, with --each one by one. Ctrl-C keeps the best so far.
    """
    if undo:
        _tell_written("Taken back", api.undo_taking(week))
        return
    settings = SearchSettings(seconds=seconds, seed=seed, workers=1)
    inputs = api.read_week(week)
    at = _moment(now, inputs) if now else None
    asked = api.read_what_ifs(what_ifs or (), week, inputs, at)
    _refuse_usage(week, asked, plan, answer, is_taken=take, is_each=each, dask=dask)
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        standing = _standing(week, inputs, plan, seed, interrupt)
        if each:
            _tell_each(inputs, standing, asked, settings, at, dask, as_json=as_json)
            return
        progress = _Heard(currency)
        name = " and ".join(one.name for one in asked)
        tried = [what_if for one in asked for what_if in one.what_ifs]
        before = api.plans_before(week, inputs)
        answers = watched(
            lambda: api.ask_what_if(
                inputs,
                standing,
                tried,
                settings,
                name=name,
                now=at,
                earlier=before,
                on_answer=progress,
                stop=interrupt.is_set,
            ),
            progress.tell,
        )
    if as_json:
        print(json.dumps(api.answers_figures(answers, currency)))
    else:
        opening, sections = api.answers_report(answers, currency)
        terminal.say(terminal.out(), opening, hang=0)
        terminal.sections(terminal.out(), sections)
    chosen = answers.of(answer) if answer else answers.best
    if chosen is None or chosen.plan is None:
        raise typer.Exit(NO_PLAN)
    if take:
        written = api.take_answer(week, plan or week / "announced.json", answers, chosen, asked, currency)
        _tell_written(f"Taken: {chosen.kind}", written)


class _Heard:
    """Tells each new answer in a line, from the main thread."""

    def __init__(self, currency: str) -> None:
        self._currency = currency
        self._latest: list[Answer] = []

    def __call__(self, answer: Answer) -> None:
        """An answer has been found, or a better one."""
        self._latest.append(answer)

    def tell(self) -> None:
        """Say what is new, the last of each kind."""
        heard, self._latest = self._latest, []
        for one in {answer.kind: answer for answer in heard}.values():
            assert one.plan is not None
            cents = api.measure(one.week, one.plan).cost.total
            told = f"after {one.seconds:4.1f} s: {one.kind}, the week then costs {cents / 100:,.2f} {self._currency}"
            terminal.say(terminal.err(), told.rstrip())


def _standing(week: Path, inputs: WeekInputs, plan: Path | None, seed: int, interrupt: Interrupt) -> Plan:
    """The plan as it stands; without one the week is planned first."""
    found = api.standing_plan(plan, week, inputs)
    if found is not None:
        return found
    settings = SearchSettings(seed=seed)
    terminal.say(terminal.err(), f"No plan was named: the week is planned first ({settings.seconds:g} s).")
    result = watched_search(api.build_workload(inputs), settings, interrupt, inputs.shop.money.currency)
    if result.plan is None:
        terminal.say(terminal.err(), f"There is no plan to try it on: {result.reason or 'none was found in time'}.")
        raise typer.Exit(NO_PLAN)
    return result.plan


def _tell_each(
    inputs: WeekInputs,
    standing: Plan,
    asked: Sequence[api.Asked],
    settings: SearchSettings,
    now: datetime | None,
    dask: str,
    *,
    as_json: bool,
) -> None:
    """Each what-if by itself: a sentence, or its figures, in the order in which they were asked."""
    currency = inputs.shop.money.currency
    cases = api.cases(inputs, standing, asked, settings, now)
    found: list[Answers | None] = [None] * len(asked)
    for place, answers in api.ask_many(cases, dask=dask):
        found[place] = answers
        if not as_json:
            opening, _ = api.answers_report(answers, currency)
            terminal.say(terminal.out(), f"{answers.name}: {opening}", hang=2)
    if as_json:
        print(json.dumps([api.answers_figures(one, currency) for one in found if one is not None]))


def _refuse_usage(
    week: Path, asked: Sequence[api.Asked], plan: Path | None, answer: str, *, is_taken: bool, is_each: bool, dask: str
) -> None:
    """Every way in which options do not go together, at once."""
    found = []
    if not asked:
        found.append(("no_what_if", "nothing to try", 'name a file or write it, as "cancel order=4102"'))
    if answer and answer not in KINDS:
        found.append(("no_such_answer", f"'{answer}' is no answer", f"write one of {', '.join(KINDS)}"))
    if is_taken and is_each:
        found.append(("not_together", "--take and --each do not go together", "take one what-if at a time"))
    if dask and not is_each:
        found.append(("not_together", "--dask needs --each", "add --each"))
    if is_taken and plan is None and not week.is_dir():
        found.append(("no_plan_file", "a workbook has no announced.json to change", "name a plan file with --plan"))
    if found:
        raise InputError(
            tuple(Problem(file="whatif", code=code, message=message, hint=hint) for code, message, hint in found)
        )


def _moment(text: str, inputs: WeekInputs) -> datetime:
    return api.read_moment(text, inputs)


def _tell_written(what: str, paths: Sequence[Path]) -> None:
    terminal.say(terminal.err(), f"{what}. Written: {', '.join(path.name for path in paths)}.", hang=2)

"""The command `bottlenecks`: what holds the week up, why orders end when they do, what would help most."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api, terminal
from scheduler.domain.settings import SearchSettings
from scheduler.watching import Interrupt, planned_or_read

DEFAULTS = SearchSettings()


def add_to(app: typer.Typer) -> None:
    """Make the command known to the program."""
    app.command()(bottlenecks)


def bottlenecks(
    week: Annotated[Path, typer.Argument(metavar="WEEK", help="Folder or .xlsx file of the week.")],
    plan_file: Annotated[
        Path | None, typer.Option("--plan", metavar="PLAN.json", help="A plan that stands; else one is made.")
    ] = None,
    what_helps: Annotated[
        bool, typer.Option("--what-helps", help="Try what one thing more would save: frames, people, belts, presses.")
    ] = False,
    seconds: Annotated[float, typer.Option(min=0, help="Seconds for planning, and again for trying.")] = 20.0,
    seed: Annotated[int, typer.Option(help="Another seed tries other things first.")] = DEFAULTS.seed,
    as_json: Annotated[bool, typer.Option("--json", help="Figures for other programs.")] = False,
) -> None:
    """Tell what holds the week up.

    Who holds it up when, what presses wait for, how full belts, screen room and people are, why late orders are late;
    with --what-helps, what one thing more would save.
    """
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        settings = SearchSettings(seconds=seconds, seed=seed)
        plan = planned_or_read(workload, plan_file, settings, interrupt, currency)
        helps = None
        if what_helps:
            told = _Told(currency)
            helps = api.what_helps(
                inputs, workload.week, plan, seconds=seconds, seed=seed, on_help=told, stop=interrupt.is_set
            )
    found = api.holding_up(workload.week, plan, helps)
    if as_json:
        print(json.dumps(api.holding_up_figures(found)))
        return
    opening, sections = api.holding_up_report(found, currency=currency)
    terminal.say(terminal.out(), opening, hang=0)
    terminal.sections(terminal.out(), sections)


class _Told:
    """Tells each thing that would save something as soon as it is tried."""

    def __init__(self, currency: str) -> None:
        self._currency = currency

    def __call__(self, found: api.Help) -> None:
        """One more thing was tried."""
        if found.saved_cents:
            saved = f"{found.saved_cents / 100:,.2f} {self._currency}".rstrip()
            terminal.say(terminal.err(), f"{found.words}: would save {saved}")

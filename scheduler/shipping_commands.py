"""The commands `outlook` and `client-page`: the day to say, and the page for one client."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api, terminal
from scheduler.domain.settings import SearchSettings
from scheduler.watching import NO_PLAN, Interrupt, planned_or_read, watched

WeekPath = Annotated[Path, typer.Argument(metavar="WEEK", help="Folder or .xlsx file of the week.")]
PlanFile = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN.json", help="A plan that stands; else one is made.")
]
Confidence = Annotated[float, typer.Option(min=1, max=99, help="How often the day should hold, in 100 weeks.")]
Replays = Annotated[int, typer.Option(min=20, help="How often the plan is lived through.")]
Seconds = Annotated[float, typer.Option(help="Seconds for planning, where no plan is given.")]


def add_to(app: typer.Typer) -> None:
    """Make the commands of this module known to the program."""
    app.command()(outlook)
    app.command()(promise)
    app.command(name="client-page")(client_page)


def outlook(
    week: WeekPath,
    plan_file: PlanFile = None,
    confidence: Confidence = 80,
    replays: Replays = 2000,
    seconds: Seconds = 20.0,
    seed: Annotated[int, typer.Option(help="Another seed lives other weeks.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Figures for other programs.")] = False,
) -> None:
    """Tell the day to say for every order.

    The plan is lived through many times with set-ups, printing, screens and deliveries that stray; told are the day
    that holds as often as asked, how often the promise holds, and what costs it most often.
    """
    inputs = api.read_week(week)
    asked = api.build_workload(inputs)
    with Interrupt() as interrupt:
        settings = SearchSettings(seconds=seconds, seed=seed)
        plan = planned_or_read(asked, plan_file, settings, interrupt, inputs.shop.money.currency)
    found = api.outlook(inputs, asked.week, plan, confidence=confidence / 100, replays=replays, seed=seed)
    if as_json:
        print(json.dumps(api.outlook_figures(found)))
        return
    opening, sections = api.outlook_report(found)
    terminal.say(terminal.out(), opening, hang=0)
    terminal.sections(terminal.out(), sections)


def promise(
    week: WeekPath,
    order: Annotated[str, typer.Option(metavar="FILE", help="The order as a what-if: a file with [[rush]], or words.")],
    plan_file: PlanFile = None,
    confidence: Confidence = 80,
    seconds: Annotated[float, typer.Option(help="How long to look for better ways.")] = 12.0,
    seed: Annotated[int, typer.Option(help="Another seed tries other things first.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Figures for other programs.")] = False,
) -> None:
    """Tell the date for an order that is not taken yet.

    The earliest day that hurts nobody and holds as often as asked, and what an earlier one would cost others.
    """
    inputs = api.read_week(week)
    asked = api.build_workload(inputs)
    rush = [one for found in api.read_what_ifs([order], week, inputs, None) for one in found.what_ifs]
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        plan = planned_or_read(asked, plan_file, SearchSettings(seconds=seconds), interrupt, currency)
        settings = SearchSettings(seconds=seconds, seed=seed, workers=1)
        found = watched(
            lambda: api.promise(inputs, plan, rush, settings, confidence=confidence / 100, stop=interrupt.is_set),
            lambda: None,
        )
    if as_json:
        print(json.dumps(api.promise_figures(found)))
        return
    opening, sections = api.promise_report(found, currency=currency)
    terminal.say(terminal.out(), opening, hang=0)
    terminal.sections(terminal.out(), sections)
    if not found.offers:
        raise typer.Exit(NO_PLAN)


def client_page(
    week: WeekPath,
    order: Annotated[str, typer.Option(metavar="ORDER", help="The order the page is for.")],
    out: Annotated[Path, typer.Option(metavar="DIR", help="Folder the page is written into.")],
    plan_file: PlanFile = None,
    confidence: Confidence = 80,
    seconds: Seconds = 20.0,
) -> None:
    """Write the page for one client.

    One file to print or send, and the day as a calendar file: what is made, how far it is, when it comes. Nothing of
    anybody else is in it.
    """
    inputs = api.read_week(week)
    api.order_of(inputs, order)  # better told now than after the search
    asked = api.build_workload(inputs)
    api.make_folder(out)
    with Interrupt() as interrupt:
        settings = SearchSettings(seconds=seconds)
        plan = planned_or_read(asked, plan_file, settings, interrupt, inputs.shop.money.currency)
    view = api.client_view(inputs, asked.week, plan, order, confidence=confidence / 100)
    names = api.write_client_page(out, view)
    terminal.say(terminal.out(), f"Written to {out}: {', '.join(path.name for path in names)}.", hang=2)

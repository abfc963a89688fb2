"""The commands `outlook` and `client-page`: the day to say, and the page for one client."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api, terminal
from scheduler.domain.settings import SearchSettings
from scheduler.watching import Interrupt, planned_or_read

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
    asked = api.build_workload(inputs)
    api.make_folder(out)
    with Interrupt() as interrupt:
        settings = SearchSettings(seconds=seconds)
        plan = planned_or_read(asked, plan_file, settings, interrupt, inputs.shop.money.currency)
    view = api.client_view(inputs, asked.week, plan, order, confidence=confidence / 100)
    names = api.write_client_page(out, view)
    terminal.say(terminal.out(), f"Written to {out}: {', '.join(path.name for path in names)}.", hang=2)

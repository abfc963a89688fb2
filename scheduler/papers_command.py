"""The command `papers`: sheets, lists and calendars for the floor, from a plan that stands or one made now."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api, terminal
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import A4, LETTER, METRIC, US
from scheduler.watching import Interrupt, planned_or_read


class UnitsAsked(StrEnum):
    """Which units stand first."""

    US = US
    METRIC = METRIC


class SizeAsked(StrEnum):
    """Size of the sheets of PDF files."""

    A4 = A4
    LETTER = LETTER


WeekPath = Annotated[Path, typer.Argument(metavar="WEEK", help="Folder or .xlsx file of the week.")]
Out = Annotated[Path, typer.Option(metavar="DIR", help="Folder the papers are written into.")]
PlanFile = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN.json", help="A plan that stands; else one is made.")
]
WithPdf = Annotated[bool, typer.Option("--pdf", help="The pages as PDF too.")]
Size = Annotated[SizeAsked | None, typer.Option(case_sensitive=False, help="Size of PDF sheets; else the shop's.")]
Units = Annotated[UnitsAsked | None, typer.Option(case_sensitive=False, help="Units that come first; else the shop's.")]
Seconds = Annotated[float, typer.Option(help="Seconds for planning, where no plan is given.")]


def add_to(app: typer.Typer) -> None:
    """Make the command of this module known to the program."""
    app.command()(papers)


def papers(
    week: WeekPath,
    out: Out,
    plan_file: PlanFile = None,
    with_pdf: WithPdf = False,
    size: Size = None,
    units: Units = None,
    seconds: Seconds = 20.0,
) -> None:
    """Write everything that hangs on the floor.

    A sheet for each run and one for each press and day, the screen room's nights and mornings, garments, ink and frames
    to pull, who is where, what leaves when, whom to ring; all lists as a workbook, and a calendar for each press and
    the screen room. Pages print from any browser.
    """
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    api.make_folder(out)
    with Interrupt() as interrupt:
        plan = planned_or_read(
            workload, plan_file, SearchSettings(seconds=seconds), interrupt, inputs.shop.money.currency
        )
        if plan_file is None:
            plan = api.pencil_in(inputs, workload.week, plan, seconds=api.PENCIL_SECONDS, stop=interrupt.is_set)
    made = api.floor_papers(
        inputs,
        workload.week,
        plan,
        units=units.value if units else None,
        size=size.value if size else None,
        with_pdf=with_pdf,
    )
    names = api.write_floor_papers(out, made)
    terminal.say(terminal.out(), f"Written to {out}: {', '.join(path.name for path in names)}.", hang=2)

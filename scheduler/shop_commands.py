"""The shop's own way in: the commands `new` and `bring`, which talk with whoever sits at the keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api

BAD_INPUT = 2


def add_to(app: typer.Typer) -> None:
    """Make the commands of this module known to the program."""
    app.command()(new)
    app.command()(bring)


def new(
    place: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the new week; it must not hold one yet.")],
    workbook: Annotated[bool, typer.Option("--workbook", help="Write one .xlsx file instead of a folder.")] = False,
    answers: Annotated[
        Path | None, typer.Option(metavar="FILE.toml", help="Take the answers from a file instead of asking.")
    ] = None,
) -> None:
    """Start a week of your own shop with a few questions.

    Enter takes what is offered. Nothing is written before the last answer, and nothing that is there is replaced.
    """
    with _stopped_without_a_trace():
        api.new_week(place, is_workbook=workbook, answers=answers, ask=_ask, say=_say)


def bring(
    sheet_file: Annotated[Path, typer.Argument(metavar="FILE", help="The shop's own sheet, .csv or .xlsx.")],
    into: Annotated[Path, typer.Option(metavar="WEEK", help="Folder of the week it is brought into.")],
    sheet: Annotated[str, typer.Option(metavar="NAME", help="Which sheet of the workbook.")] = "",
    heading: Annotated[
        list[str] | None, typer.Option("--map", metavar="THEIR=OURS", help="What a heading means; nothing: not read.")
    ] = None,
    fill: Annotated[
        list[str] | None, typer.Option(metavar="OURS=TEXT", help="What all rows say, as blanks=in, without a column.")
    ] = None,
    dates: Annotated[str, typer.Option(metavar="ORDER", help='"day first" or "month first".')] = "",
    yes: Annotated[bool, typer.Option("--yes", help="Ask nothing: take what is sure, refuse what is not.")] = False,
) -> None:
    """Bring the shop's own spreadsheet into a week.

    Its headings are matched once and remembered; new orders are added, known ones changed cell by cell, and a copy of
    the orders sheet as it was is kept.
    """
    with _stopped_without_a_trace():
        api.bring_sheet(
            sheet_file,
            into,
            sheet=sheet,
            maps=heading or (),
            fills=fill or (),
            dates=dates,
            ask=None if yes else _ask,
            say=_say,
        )


@contextmanager
def _stopped_without_a_trace() -> Iterator[None]:
    """Ctrl-C, or an input that ends before the questions do, leaves with one sentence."""
    try:
        yield
    except (KeyboardInterrupt, EOFError):
        typer.echo("\nStopped before the last answer: nothing was written.", err=True)
        raise typer.Exit(BAD_INPUT) from None


def _ask(prompt: str) -> str:
    return input(api.harmless(prompt))


def _say(line: str) -> None:
    typer.echo(api.harmless(line))

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

"""The commands `book ...`: the shop's book started, filled, handed out, looked at, backed up and brought back."""

from __future__ import annotations

import getpass
import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from scheduler import shop_book, terminal
from scheduler.errors import Problem

BROKEN = 1
LAST_CHANGES = 5
"""Changes of the week that `status` tells."""

book_app = typer.Typer(
    help="The shop's book: the week, its plans and what really happened, kept.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

Address = Annotated[
    str, typer.Argument(metavar="BOOK", help="The book's file, or a server's address as postgresql+psycopg://...")
]
Who = Annotated[str, typer.Option(metavar="NAME", help="Who does it; else whoever is signed in to this computer.")]


def add_to(app: typer.Typer) -> None:
    """Make the commands of this module known to the program."""
    app.add_typer(book_app, name="book")


@book_app.command()
def new(book: Address) -> None:
    """Start an empty book."""
    name = shop_book.new_book(book, _now())
    terminal.say(terminal.out(), f"Started {name}. Bring a week in with: pressweek book bring {name} WEEK", hang=2)


@book_app.command()
def bring(
    book: Address,
    week: Annotated[Path, typer.Argument(help="A week's folder or one .xlsx file.")],
    who: Who = "",
    instead: Annotated[
        bool, typer.Option("--instead", help="Replace what stands in the book, wherever these files come from.")
    ] = False,
) -> None:
    """Bring a week into the book, all of it or nothing.

    Files that were handed out before the book's week was changed are refused, with who changed what.
    """
    out = terminal.out()
    brought = shop_book.bring(book, week, who=name_of(who), now=_now(), is_instead=instead)
    if brought.changes:
        terminal.say(out, f"The week is now version {brought.version}:")
        for change in brought.changes:
            terminal.say(out, f"- {change}", hang=2)
    else:
        terminal.say(out, f"The week is version {brought.version}.")
    _tell_odd(brought.warnings)


@book_app.command(name="hand-out")
def hand_out(
    book: Address, place: Annotated[Path, typer.Argument(help="A folder, or a file that ends in .xlsx.")]
) -> None:
    """Write the book's week as a folder or a workbook, as it was typed."""
    written = shop_book.hand_out(book, place)
    names = ", ".join(path.name for path in written)
    terminal.say(terminal.out(), f"Written to {place}: {names}.", hang=2)


@book_app.command()
def status(
    book: Address, as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object instead.")] = False
) -> None:
    """How the book stands: what is in it, who changed what last, whether its file is sound."""
    found = shop_book.status(book)
    if as_json:
        print(json.dumps(shop_book.status_figures(found)))
    else:
        _tell_status(found)
    if found.fault:
        raise typer.Exit(BROKEN)


@book_app.command()
def backup(book: Address, file: Annotated[Path, typer.Argument(metavar="FILE", help="A file not there yet.")]) -> None:
    """Copy the whole book of one moment into a file, while others work on."""
    shop_book.back_up(book, file, _now())
    terminal.say(terminal.out(), f"Written: {file}")


@book_app.command()
def restore(book: Address, file: Annotated[Path, typer.Argument(metavar="FILE", help="A backup.")]) -> None:
    """Make the book say again what a backup says; others may go on reading."""
    shop_book.restore(book, file)
    terminal.say(terminal.out(), f"The book says again what {file.name} says.")


def name_of(who: str) -> str:
    """Who is meant: as typed, else whoever is signed in."""
    if who:
        return who
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return ""


def _now() -> datetime:
    return datetime.now().astimezone().replace(microsecond=0)


def _tell_odd(warnings: Sequence[Problem]) -> None:
    if warnings:
        terminal.title(terminal.out(), "Odd, but no fault")
    for problem in warnings:
        terminal.say(terminal.out(), str(problem))


def _tell_status(found: shop_book.Status) -> None:
    out = terminal.out()
    if not found.versions:
        terminal.say(out, f"{found.name}: no week yet. Bring one with: pressweek book bring {found.name} WEEK", hang=2)
    else:
        what = (
            f"{found.orders} orders, {found.lots} lots of garments, {found.imprints} imprints, {found.designs} designs"
        )
        terminal.say(out, f"{found.name}: {found.shop}, {what}.", hang=2)
        terminal.title(out, "Who changed the week")
        for version in found.versions[: -LAST_CHANGES - 1 : -1]:
            told = "; ".join(version.changes) or version.why
            who = version.who or "somebody"
            terminal.say(out, f"- version {version.number}, {version.at:%Y-%m-%d %H:%M}, {who}: {told}", hang=2)
    terminal.say(out, f"The book is damaged: {found.fault}." if found.fault else "The book is sound.")

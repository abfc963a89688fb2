"""The command `dashboard`, and the last step of `demo`: the pages in a browser, served by a program of its own."""

from __future__ import annotations

import importlib.util
import os
import shutil
import sys
import tempfile
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api
from scheduler.api.serving import serve_until_over
from scheduler.errors import InputError, Problem

Week = Annotated[Path, typer.Argument(help="A week's folder or one .xlsx file; without it the folder you are in.")]
NoOpen = Annotated[bool, typer.Option("--no-open", help="Do not open a browser; the address is printed.")]
Wifi = Annotated[
    bool, typer.Option("--open-to-wifi", help="Let others on this network in, with a password that is printed.")
]
WithPlan = Annotated[
    Path | None, typer.Option("--plan", metavar="FOLDER", help="Put the plan of this folder into use (plan --out).")
]
Book = Annotated[
    str, typer.Option("--book", metavar="BOOK", help="The shop's book: what is done is noted at the press, on a phone.")
]
Port = Annotated[int, typer.Option(help="Port to serve at; 0: the usual one, or a free one where that is taken.")]


def add_to(app: typer.Typer) -> None:
    """Make the command of this module known to the program."""
    app.command()(dashboard)


def dashboard(
    week: Week = Path(),
    with_plan: WithPlan = None,
    no_open: NoOpen = False,
    open_to_wifi: Wifi = False,
    port: Port = 0,
    book: Book = "",
) -> None:
    """Show a week in the browser: on time or not, what runs next, which screens, orders, a new plan.

    Only this computer can see it, unless --open-to-wifi is given. Ctrl-C ends it.
    """
    if not api.week_files(week):
        hint = "name a folder with shop.toml and orders.csv, or an .xlsx workbook"
        raise InputError((Problem(file=str(week), code="no_week", message="is no week", hint=hint),))
    if with_plan is not None:
        api.read_plan(
            with_plan / "plan.json", api.build_workload(api.read_week(week)).week
        )  # tells what is wrong with it
    options = ["--port", str(port), *(["--plan", str(with_plan)] if with_plan is not None else [])]
    options += ["--book", book] if book else []
    options += [*(["--no-open"] if no_open else []), *(["--open-to-wifi"] if open_to_wifi else [])]
    raise typer.Exit(serve(week, options))


def serve(week: Path, options: list[str]) -> int:
    """Serve until Ctrl-C, a closed window or a request to end; the server's exit code."""
    found = importlib.util.find_spec("dashboard")
    if found is None or found.origin is None:
        message = "the dashboard is not installed beside this program"
        raise InputError(
            (Problem(file="dashboard", code="no_dashboard", message=message, hint="install Pressweek anew"),)
        )
    root = str(Path(found.origin).parent.parent)
    paths = [root, *filter(None, os.environ.get("PYTHONPATH", "").split(os.pathsep))]
    command = [sys.executable, "-m", "dashboard", str(week), *options]
    return serve_until_over(command, {**os.environ, "PYTHONPATH": os.pathsep.join(paths)})


def serve_copy(week: Path, plan: Path) -> int:
    """A copy of a week in the browser with a plan of it in use; the copy is gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="pressweek-") as folder:
        copy = Path(folder) / week.name
        shutil.copytree(week, copy, ignore=shutil.ignore_patterns("plans"))
        return serve(copy, ["--plan", str(plan)])

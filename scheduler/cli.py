"""The command `pressweek`: all printing and every exit code.

Exit codes: 0 done; 1 no plan, or a plan that breaks a rule; 2 bad usage or input; 3 our fault. Results go to standard
output, progress and complaints to standard error. Nothing but plain text leaves here unless a terminal is listening.
"""

from __future__ import annotations

import errno
import json
import sys
import tempfile
import traceback
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from scheduler import (
    api,
    book_commands,
    bottleneck_command,
    check_command,
    dashboard_command,
    papers_command,
    shipping_commands,
    shop_commands,
    terminal,
    what_if_command,
)
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError, SettingsError
from scheduler.watching import Interrupt, watched_search

if TYPE_CHECKING:
    from scheduler.domain.orders import WeekInputs
    from scheduler.domain.plan import Plan
    from scheduler.domain.week import Week

DONE, NO_PLAN, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3

app = typer.Typer(
    name="pressweek",
    help="Turns a pile of approved screen-printing orders into a press queue that holds.",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
shop_commands.add_to(app)
check_command.add_to(app)
dashboard_command.add_to(app)
what_if_command.add_to(app)
bottleneck_command.add_to(app)
shipping_commands.add_to(app)
book_commands.add_to(app)
papers_command.add_to(app)

WeekPath = Annotated[Path, typer.Argument(help="A week's folder (shop.toml, orders.csv, ...) or one .xlsx file.")]
Seconds = Annotated[float, typer.Option(help="How long to look for a better plan.")]
Seed = Annotated[int, typer.Option(help="Start of the dice: another number may find another plan.")]
Workers = Annotated[int, typer.Option(help="How many processors may work on it.")]
Out = Annotated[Path | None, typer.Option(help="Folder for the papers and plan.json. Without it no file is written.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object instead of the report.")]
OrderAs = Annotated[
    str,
    typer.Option(help="Your order: a CSV file, or a column of numbers in the orders sheet; else the sheet's own rows."),
]
DEFAULTS = SearchSettings()


def main() -> None:
    """Run the command and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a console that lacks a letter shows "?", it does not stop us
    try:
        app()
    except InputError as fault:
        check_command.tell_problems(terminal.err(), fault.problems, _not_done(sys.argv[1:]))
        sys.exit(BAD_INPUT)
    except SettingsError as fault:
        terminal.say(terminal.err(), f"pressweek: {fault}")
        sys.exit(BAD_INPUT)
    except Exception as fault:
        if _is_want_of_memory(fault):
            # Written as it is: anything finer may need more memory than there is.
            sys.stderr.write("There is not enough memory. Close other programs and try again.\n")
            sys.exit(NO_PLAN)
        traceback.print_exc()
        terminal.say(
            terminal.err(),
            "This is our fault, not yours. Please report it with the lines above and, if you can, the week.",
        )
        sys.exit(OUR_FAULT)


def _not_done(arguments: Sequence[str]) -> str:
    """What did not come about because of the faults."""
    return "nothing was planned" if set(arguments[:1]) <= {"plan", "time", "demo"} else "nothing was done"


def _is_want_of_memory(fault: Exception) -> bool:
    """True for what Python and its libraries say, each in their own way, where the computer has no memory left."""
    words = ("can't start new thread", "failed to map segment", "bad allocation", "bad_alloc")
    said = isinstance(fault, (RuntimeError, ImportError)) and any(one in str(fault) for one in words)
    return said or isinstance(fault, MemoryError) or (isinstance(fault, OSError) and fault.errno == errno.ENOMEM)


@app.command()
def plan(
    week: Annotated[Path | None, typer.Argument(help="A week's folder or one .xlsx file.")] = None,
    seconds: Seconds = DEFAULTS.seconds,
    seed: Seed = DEFAULTS.seed,
    workers: Workers = DEFAULTS.workers,
    out: Out = None,
    as_json: AsJson = False,
    book: Annotated[
        str, typer.Option(metavar="BOOK", help="Plan from the shop's book instead, as the week stands now.")
    ] = "",
    now: Annotated[
        str, typer.Option(metavar="TIME", help="With --book: what time it is, as 2026-03-04 10:00; else by the clock.")
    ] = "",
    stated: Annotated[
        bool, typer.Option("--stated", help="With --book: by the stated minutes and rates, whatever the record says.")
    ] = False,
) -> None:
    """Plan a week and print what to do.

    Late orders first and why, then what is not planned, each press's queue with a reason for every run, what to burn,
    coat and stage by when, and what it all costs. Ctrl-C keeps the best plan so far.
    """
    settings = SearchSettings(seconds=seconds, seed=seed, workers=workers)
    _refuse_usage(week, book, now, stated)
    if week is not None:
        _plan(week, settings, out, as_json)
        return
    from_book = book_commands.FromBook(book, now, is_stated=stated)
    _plan_inputs(from_book.asked.inputs, from_book.asked.workload, settings, out, as_json, from_book=from_book)


def _refuse_usage(week: Path | None, book: str, now: str, stated: bool) -> None:
    """Arguments of `plan` that do not go together."""
    if (week is None) == (not book):
        raise typer.BadParameter("name a week, or a book with --book: one of them is planned")
    if now and not book:
        raise typer.BadParameter("--now needs --book; without a book write plan_from in shop.toml")
    if stated and not book:
        raise typer.BadParameter("--stated needs --book; without a book every week is planned by the stated figures")


def _plan(week: Path, settings: SearchSettings, out: Path | None, as_json: bool, is_told: bool = True) -> None:
    """Plan a week's files, print, and write the papers into `out`, which is told."""
    inputs = api.read_week(week)
    _plan_inputs(inputs, api.build_workload(inputs), settings, out, as_json, is_told)


def _plan_inputs(
    inputs: WeekInputs,
    workload: api.Workload,
    settings: SearchSettings,
    out: Path | None,
    as_json: bool,
    is_told: bool = True,
    from_book: book_commands.FromBook | None = None,
) -> None:
    """Plan, print, and write the papers into `out`, which is told. from_book: it is kept there too."""
    if out is not None:
        api.make_folder(out)  # better now than after the search
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        result = watched_search(workload, settings, interrupt, currency, from_book.asked.search if from_book else None)
    asked = workload.week
    if interrupt.is_set():
        terminal.say(
            terminal.err(), "Stopped: " + ("the best plan so far is kept." if result.plan else "there was no plan yet.")
        )
    chase: Sequence[api.ChaseRow] = ()
    if result.plan is not None:
        planned = api.pencil_in(inputs, asked, result.plan, seconds=api.PENCIL_SECONDS, stop=interrupt.is_set)
        result = replace(result, plan=planned)
        chase = api.chase_list(inputs, asked, planned)
        asked = api.joint_week(inputs, asked, planned)  # papers show what is pencilled in; figures count what is firm
    kept = from_book.keep(result.plan) if from_book is not None and result.plan is not None else {}
    if as_json:
        said = api.figures(workload.week, result, is_stopped=interrupt.is_set(), currency=currency, chase=chase)
        print(json.dumps(said | kept))
    if result.plan is None:
        terminal.say(terminal.err(), f"There is no plan: {result.reason or 'none was found in time'}.")
        raise typer.Exit(NO_PLAN)
    if not as_json:
        _tell_plan(inputs, asked, result.plan, result, chase)
    if from_book is not None and not as_json:
        from_book.tell()
    if result.told:
        terminal.say(terminal.err(), result.told)
    if out is not None:
        papers = api.each_floor_paper(inputs, workload.week, result.plan) if is_told else ()
        pages = api.write_floor_papers(out, papers)
        facts = api.plan_facts(asked, result, currency)
        names = api.write_plan_folder(out, asked, result.plan, facts, clients=_clients(inputs), chase=chase)
        if is_told:
            _tell_written(terminal.err() if as_json else terminal.out(), out, pages, names)
    if not workload.week.runs:
        raise typer.Exit(NO_PLAN)


def _tell_written(console: Console, out: Path, pages: Sequence[Path], lists: Sequence[Path]) -> None:
    """Which files were written, and which of them hang at the presses and in the screen room."""
    terminal.say(console)
    names = ", ".join(path.name for path in lists)
    terminal.say(console, f"Written to {out}: {len(pages)} files for the floor, and {names}.", hang=2)
    hang = [path.name for path in pages if path.name.endswith("-days.html")]
    terminal.say(console, f"To print: open {', '.join(hang)} in a browser; the other pages lie beside them.", hang=2)


@app.command(name="time")
def time_own_order(
    week: WeekPath,
    order_as: OrderAs = "",
    seconds: Seconds = DEFAULTS.seconds,
    seed: Seed = DEFAULTS.seed,
    workers: Workers = DEFAULTS.workers,
    as_json: AsJson = False,
) -> None:
    """Time your own order under all rules, with ours beside it.

    Who is late, where presses wait and for what, set-ups, screens and money of both, and the changes that would save
    most in yours.
    """
    settings = SearchSettings(seconds=seconds, seed=seed, workers=workers)
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    own = api.read_own_order(order_as, week, inputs)
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        result = watched_search(workload, settings, interrupt, currency)
    both = api.time_as_listed(inputs, workload, own, result)
    if as_json:
        print(json.dumps(api.beside_figures(both, currency=currency)))
    else:
        opening, sections = api.beside_report(both, currency=currency)
        terminal.say(terminal.out(), opening, hang=0)
        terminal.sections(terminal.out(), sections)
    if both.yours is None:
        raise typer.Exit(NO_PLAN)


@app.command()
def verify(week: WeekPath, plan_file: Annotated[Path, typer.Argument(metavar="PLAN.json")]) -> None:
    """Check a plan file against every rule.

    Independently of how the plan was found; names each broken rule.
    """
    out = terminal.out()
    inputs = api.read_week(week)
    asked = api.build_workload(inputs).week
    planned, facts = api.read_plan(plan_file, asked)
    differs = api.other_inputs(facts, asked)
    if differs:
        terminal.say(out, differs)
    broken = api.check(asked, planned)
    if not broken and planned.pencilled.runs:
        broken = api.check(api.joint_week(inputs, asked, planned), planned.with_pencilled)
    for one in broken:
        terminal.say(out, f"{one.rule}: {one.message}")
    if broken:
        rules = len({one.rule for one in broken})
        terminal.say(out, f"The plan breaks {rules} of {api.rule_count()} rules, in {len(broken)} places.")
        raise typer.Exit(NO_PLAN)
    terminal.say(out, f"The plan keeps all {api.rule_count()} rules.")
    total = api.measure(asked, planned).cost.total
    if facts.cost_cents is not None and facts.cost_cents != total and not differs:
        terminal.say(out, f"But the file says it costs {facts.cost_cents / 100:.2f}; it costs {total / 100:.2f}.")


@app.command()
def demo(
    seconds: Seconds = DEFAULTS.seconds,
    seed: Seed = DEFAULTS.seed,
    workers: Workers = DEFAULTS.workers,
    out: Out = None,
    as_json: AsJson = False,
    no_open: Annotated[bool, typer.Option("--no-open", help="Print the plan and be done.")] = False,
) -> None:
    """Plan the demo week of an invented shop, and open it in the browser.

    The browser is left out where no terminal listens.
    """
    week, settings = api.demo_week(), SearchSettings(seconds=seconds, seed=seed, workers=workers)
    if no_open or as_json or not sys.stdout.isatty():
        _plan(week, settings, out, as_json)
        if not as_json:
            terminal.say(terminal.out(), f"\nIn the browser: pressweek dashboard {week}", hang=2)
        return
    with tempfile.TemporaryDirectory(prefix="pressweek-plan-") as folder:
        _plan(week, settings, out or Path(folder), as_json, is_told=out is not None)
        raise typer.Exit(dashboard_command.serve_copy(week, out or Path(folder)))


def _tell_plan(
    inputs: WeekInputs, week: Week, planned: Plan, result: api.SearchResult, chase: Sequence[api.ChaseRow]
) -> None:
    """The report a planner acts on."""
    out = terminal.out()
    currency, clients = inputs.shop.money.currency, _clients(inputs)
    opening, sections = api.report(week, planned, result, currency=currency, clients=clients, chase=chase)
    terminal.say(
        out, f"{inputs.shop.name}, planned from {api.words.day_and_year(inputs.shop.plan_from)}. {opening}", hang=0
    )
    terminal.sections(out, sections)


def _clients(inputs: WeekInputs) -> dict[str, str]:
    return {order.order_id: order.client for order in inputs.orders}

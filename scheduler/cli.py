"""The command `pressweek`: all printing and every exit code.

Exit codes: 0 done; 1 no plan, or a plan that breaks a rule; 2 bad usage or input; 3 our fault. Results go to standard
output, progress and complaints to standard error. Nothing but plain text leaves here unless a terminal is listening.
"""

from __future__ import annotations

import json
import signal
import sys
import textwrap
import threading
import time
import traceback
from collections.abc import Sequence
from multiprocessing import resource_tracker
from pathlib import Path
from types import FrameType, TracebackType
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console
from rich.text import Text

from scheduler import api, shop_commands
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError, Problem, SettingsError

if TYPE_CHECKING:
    from scheduler.domain.orders import Assumption, WeekInputs
    from scheduler.domain.plan import Plan
    from scheduler.domain.week import Week

DONE, NO_PLAN, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3
MARK, MARK_WITHOUT = "▲", "^"
PIPE_WIDTH, LEAST_WIDTH, MOST_WIDTH = 100, 60, 120
PROGRESS_EVERY_S = 1.0
POLL_S = 0.1

STOP_SIGNALS = tuple(getattr(signal, name) for name in ("SIGINT", "SIGBREAK") if hasattr(signal, name))
"""Ctrl-C, and Ctrl-Break where there is one."""

app = typer.Typer(
    name="pressweek",
    help="Turns a pile of approved screen-printing orders into a press queue that holds.",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
shop_commands.add_to(app)

WeekPath = Annotated[Path, typer.Argument(help="A week's folder (shop.toml, orders.csv, ...) or one .xlsx file.")]
Seconds = Annotated[float, typer.Option(help="How long to look for a better plan.")]
Seed = Annotated[int, typer.Option(help="Start of the dice: another number may find another plan.")]
Workers = Annotated[int, typer.Option(help="How many processors may work on it.")]
Out = Annotated[Path | None, typer.Option(help="Folder for the papers and plan.json. Without it no file is written.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object instead of the report.")]
DEFAULTS = SearchSettings()


def main() -> None:
    """Run the command and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a console that lacks a letter shows "?", it does not stop us
    try:
        app()
    except InputError as fault:
        _tell_problems(_err(), fault.problems)
        sys.exit(BAD_INPUT)
    except SettingsError as fault:
        _say(_err(), f"pressweek: {fault}")
        sys.exit(BAD_INPUT)
    except Exception:
        traceback.print_exc()
        _say(_err(), "This is our fault, not yours. Please report it with the lines above and, if you can, the week.")
        sys.exit(OUR_FAULT)


@app.command()
def check(week: WeekPath) -> None:
    """Read a week: every fault, or all that is assumed.

    Without a fault it tells what was assumed because nobody said otherwise, what cannot be planned and why, and what
    each press is believed to do: does this look right?
    """
    out = _out()
    try:
        inputs, warnings = api.read_week_with_warnings(week, may_be_empty=True)
        workload = api.build_workload(inputs)
    except InputError as fault:
        _tell_problems(out, fault.problems)
        raise typer.Exit(BAD_INPUT) from None
    asked = workload.week
    orders = f"{len(inputs.orders)} orders" if inputs.orders else "no orders yet"
    _say(out, f"{inputs.shop.name}: {orders}, {len(asked.runs)} runs to plan, no faults.")
    _tell_oddities(out, warnings)
    if asked.not_planned:
        _title(out, "Cannot be planned as things stand")
        clients = _clients(inputs)
        for one in asked.not_planned:
            who = f"{one.order_id} {clients.get(one.order_id, '')}".rstrip()
            _say(out, f"- {who}: {'; '.join(one.reasons)}", hang=2)
    _tell_assumptions(out, workload.assumptions)
    _title(out, "Does this look right?")
    _table(
        out,
        ["press", "runs that fit", "pieces/h", "set-up 1 colour", "3 colours", "6 colours", "dryer takes"],
        [
            [
                load.name,
                str(load.run_count),
                _span(load.low_pcs_h, load.high_pcs_h),
                *(f"{count} min" if count is not None else "-" for _, count in load.set_up_min),
                f"{load.belt_pcs_h}/h" if load.belt_pcs_h is not None else "-",
            ]
            for load in workload.press_loads
        ],
    )
    _say(out, "Set-up minutes are for a bare press: mount, load, test print.")


@app.command()
def plan(
    week: WeekPath,
    seconds: Seconds = DEFAULTS.seconds,
    seed: Seed = DEFAULTS.seed,
    workers: Workers = DEFAULTS.workers,
    out: Out = None,
    as_json: AsJson = False,
) -> None:
    """Plan a week and print what to do.

    Late orders first and why, then what is not planned, each press's queue with a reason for every run, what to burn,
    coat and stage by when, and what it all costs. Ctrl-C keeps the best plan so far.
    """
    settings = SearchSettings(seconds=seconds, seed=seed, workers=workers)
    if out is not None:
        api.make_folder(out)  # better now than after the search
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    currency = inputs.shop.money.currency
    with _Interrupt() as interrupt:
        result = _search(workload, settings, interrupt, currency)
    asked = workload.week
    if interrupt.is_set():
        _say(_err(), "Stopped: " + ("the best plan so far is kept." if result.plan else "there was no plan yet."))
    if as_json:
        print(json.dumps(api.figures(asked, result, is_stopped=interrupt.is_set(), currency=currency)))
    if result.plan is None:
        _say(_err(), f"There is no plan: {result.reason or 'none was found in time'}.")
        raise typer.Exit(NO_PLAN)
    if not as_json:
        _tell_plan(inputs, asked, result.plan, result)
    if out is not None:
        facts = api.plan_facts(asked, result, currency)
        names = api.write_plan_folder(
            out, asked, result.plan, facts, shop_name=inputs.shop.name, clients=_clients(inputs)
        )
        told = _err() if as_json else _out()
        _say(told)
        _say(told, f"Written to {out}: {', '.join(path.name for path in names)}.", hang=2)
    if not asked.runs:
        raise typer.Exit(NO_PLAN)


@app.command()
def verify(week: WeekPath, plan_file: Annotated[Path, typer.Argument(metavar="PLAN.json")]) -> None:
    """Check a plan file against every rule.

    Independently of how the plan was found; names each broken rule.
    """
    out = _out()
    asked = api.build_workload(api.read_week(week)).week
    planned, facts = api.read_plan(plan_file, asked)
    differs = api.other_inputs(facts, asked)
    if differs:
        _say(out, differs)
    broken = api.check(asked, planned)
    for one in broken:
        _say(out, f"{one.rule}: {one.message}")
    if broken:
        rules = len({one.rule for one in broken})
        _say(out, f"The plan breaks {rules} of {api.rule_count()} rules, in {len(broken)} places.")
        raise typer.Exit(NO_PLAN)
    _say(out, f"The plan keeps all {api.rule_count()} rules.")
    total = api.measure(asked, planned).cost.total
    if facts.cost_cents is not None and facts.cost_cents != total and not differs:
        _say(out, f"But the file says it costs {facts.cost_cents / 100:.2f}; it costs {total / 100:.2f}.")


@app.command()
def demo(
    seconds: Seconds = DEFAULTS.seconds,
    seed: Seed = DEFAULTS.seed,
    workers: Workers = DEFAULTS.workers,
    out: Out = None,
    as_json: AsJson = False,
) -> None:
    """Plan the demo week of an invented shop."""
    plan(api.demo_week(), seconds=seconds, seed=seed, workers=workers, out=out, as_json=as_json)


class _Interrupt:
    """Ctrl-C once asks the search to stop and keeps its plan; twice ends the program."""

    def __init__(self) -> None:
        self._event = threading.Event()

    def is_set(self) -> bool:
        """True once somebody asked to stop."""
        return self._event.is_set()

    def _asked(self, _signal: int, _frame: FrameType | None) -> None:
        if self._event.is_set():
            raise KeyboardInterrupt
        self._event.set()
        _say(_err(), "stopping ...")

    def __enter__(self) -> _Interrupt:
        self._before = [(number, signal.signal(number, self._asked)) for number in STOP_SIGNALS]
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        for number, handler in self._before:
            signal.signal(number, handler)


def _search(workload: api.Workload, settings: SearchSettings, interrupt: _Interrupt, currency: str) -> api.SearchResult:
    """The search's result. It works beside the main thread, which alone hears Ctrl-C while a library computes."""
    box: list[api.SearchResult] = []
    faults: list[BaseException] = []
    progress = _Progress(workload.week, currency)

    def work() -> None:
        try:
            _leave_ctrl_c_to_the_main_thread()
            box.append(api.plan_week(workload, settings, progress, interrupt.is_set))
        except BaseException as fault:
            faults.append(fault)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(POLL_S)
        progress.tell()
    if faults:
        raise faults[0]
    return box[0]


def _leave_ctrl_c_to_the_main_thread() -> None:
    """From here on this thread and every process it starts no longer hear Ctrl-C, which goes to all of them at once."""
    if hasattr(signal, "pthread_sigmask"):
        resource_tracker.ensure_running()  # started later, it would let Ctrl-C through again
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})


class _Progress:
    """Tells the best cost so far in plain words, at most once a second and never twice the same."""

    def __init__(self, week: Week, currency: str) -> None:
        self._week, self._currency = week, currency
        self._began = time.monotonic()
        self._latest: api.Progress | None = None
        self._told_at = -PROGRESS_EVERY_S
        self._told_cents: int | None = None

    def __call__(self, progress: api.Progress) -> None:
        """A plan has been found."""
        self._latest = progress

    def tell(self) -> None:
        """Say what is new, if it is time."""
        now, latest = time.monotonic() - self._began, self._latest
        if latest is None or latest.cost_cents == self._told_cents or now < self._told_at + PROGRESS_EVERY_S:
            return
        self._told_at, self._told_cents = now, latest.cost_cents
        late = len(api.measure(self._week, latest.plan).late_orders)
        told = f"after {now:3.0f} s: the best plan so far costs {_money(latest.cost_cents, self._currency)}"
        _say(_err(), f"{told}, {late or 'no'} {'order' if late == 1 else 'orders'} late")


def _tell_plan(inputs: WeekInputs, week: Week, planned: Plan, result: api.SearchResult) -> None:
    """The report a planner acts on."""
    out = _out()
    opening, sections = api.report(week, planned, result, currency=inputs.shop.money.currency, clients=_clients(inputs))
    _say(out, f"{inputs.shop.name}, planned from {inputs.shop.plan_from:%Y-%m-%d %H:%M}. {opening}", hang=0)
    for section in sections:
        _title(out, section.title)
        for line in api.section_lines(section, out.width):
            _say(out, line)


def _tell_problems(console: Console, problems: Sequence[Problem]) -> None:
    """Every fault as file:row:column: what is wrong; what to write. One line each, never wrapped."""
    faults = [problem for problem in problems if not problem.is_warning]
    for problem in faults:
        _say(console, str(problem))
    _tell_oddities(console, [problem for problem in problems if problem.is_warning])
    files = len({problem.file for problem in faults})
    count = f"{len(faults)} {'fault' if len(faults) == 1 else 'faults'}"
    _say(console, f"{count} in {files} {'file' if files == 1 else 'files'}; nothing was planned.")


def _tell_oddities(console: Console, warnings: Sequence[Problem]) -> None:
    """What is odd about the files but stops nothing."""
    if warnings:
        _title(console, "Odd, but no fault")
    for problem in warnings:
        _say(console, str(problem))


def _tell_assumptions(console: Console, assumptions: Sequence[Assumption]) -> None:
    """What nobody typed, grouped, with the first places."""
    if not assumptions:
        return
    _title(console, "Assumed, because nothing else was said")
    for one in assumptions:
        shown = ", ".join(one.where[:3]) + (", ..." if len(one.where) > 3 else "")
        places = f" ({shown})" if shown else ""
        _say(console, f"- {one.text}, {one.count} {_named(one.count, one.counted)}{places}", hang=2)


def _named(count: int, things: str) -> str:
    """The name of things, for one of them too: "orders" but 1 "order", "families" but 1 "family"."""
    if count != 1:
        return things
    first, of, rest = things.partition(" of ")
    for many, one in (("ies", "y"), ("sses", "ss"), ("s", "")):
        if first.endswith(many):
            return first.removesuffix(many) + one + of + rest
    return things


def _clients(inputs: WeekInputs) -> dict[str, str]:
    return {order.order_id: order.client for order in inputs.orders}


def _span(low: int | None, high: int | None) -> str:
    if low is None or high is None:
        return "-"
    return str(low) if low == high else f"{low} to {high}"


def _money(cents: int, currency: str) -> str:
    return f"{cents / 100:,.2f} {currency}".rstrip()


def _out() -> Console:
    return _console(is_err=False)


def _err() -> Console:
    return _console(is_err=True)


def _console(*, is_err: bool) -> Console:
    """A console that sends control codes to a terminal only, and lines no wider than people read."""
    stream = sys.stderr if is_err else sys.stdout
    is_terminal = stream.isatty()
    console = Console(file=stream, force_terminal=is_terminal, highlight=False, markup=False, emoji=False)
    width = min(MOST_WIDTH, max(LEAST_WIDTH, console.width - 1)) if is_terminal else PIPE_WIDTH
    console.width = width
    return console


def _title(console: Console, text: str) -> None:
    _say(console)
    _say(console, text, style="bold")
    _say(console, "=" * len(text))


def _table(console: Console, headings: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    for line in api.table_lines(headings, rows, console.width):
        _say(console, line)


def _say(console: Console, text: str = "", *, style: str = "", hang: int | None = None) -> None:
    """A line as it is, or wrapped with its further lines `hang` blanks in.

    What could steer a terminal is taken out; the late mark gives way to ^ where the console cannot show it.
    """
    encoding = getattr(console.file, "encoding", None) or "utf-8"
    try:
        MARK.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        text = text.replace(MARK, MARK_WITHOUT)
    lines = (
        [text]
        if hang is None
        else textwrap.wrap(text, console.width, subsequent_indent=" " * hang, break_on_hyphens=False)
    )
    for line in lines:
        console.print(Text(api.harmless(line), style=style), soft_wrap=True)

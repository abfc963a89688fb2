"""The command `check`: a week read, every fault told, else what each press is believed to do and what is assumed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from scheduler import api, terminal
from scheduler.domain.orders import Assumption, WeekInputs
from scheduler.errors import InputError, Problem

BAD_INPUT = 2

SETTING = "default "
"""How the code of an assumption begins that is a setting of shop.toml nobody typed: its section and name follow."""

PLACES = 3
"""Places of an assumption that are named in the whole list."""

WeekPath = Annotated[Path, typer.Argument(help="A week's folder (shop.toml, orders.csv, ...) or one .xlsx file.")]
All = Annotated[bool, typer.Option("--all", help="Every assumption by itself, with its value and where it was made.")]


def add_to(app: typer.Typer) -> None:
    """Make the command of this module known to the program."""
    app.command()(check)


def check(week: WeekPath, tells_all: All = False) -> None:
    """Read a week: every fault, or what is believed of it.

    Without a fault it tells what cannot be planned and why, what each press is believed to do (does this look right?),
    and what was assumed because nobody said otherwise.
    """
    out = terminal.out()
    try:
        inputs, warnings = api.read_week_with_warnings(week, may_be_empty=True)
        workload = api.build_workload(inputs)
    except InputError as fault:
        tell_problems(out, fault.problems)
        raise typer.Exit(BAD_INPUT) from None
    orders = api.words.counted(len(inputs.orders), "order") if inputs.orders else "no orders yet"
    runs = api.words.counted(len(workload.week.runs), "run")
    terminal.say(out, f"{inputs.shop.name}: {orders}, {runs} to plan, no faults.")
    _tell_oddities(out, warnings)
    _tell_not_planned(out, inputs, workload)
    _tell_presses(out, workload)
    if tells_all:
        _tell_every_assumption(out, workload.assumptions)
    else:
        _tell_assumptions(out, workload.assumptions, week)


def tell_problems(console: Console, problems: Sequence[Problem], not_done: str = "nothing was planned") -> None:
    """Every fault as file:row:column: what is wrong; what to write. One line each, never wrapped."""
    faults = [problem for problem in problems if not problem.is_warning]
    for problem in faults:
        terminal.say(console, str(problem))
    _tell_oddities(console, [problem for problem in problems if problem.is_warning])
    files = len({problem.file for problem in faults})
    count = api.words.counted(len(faults), "fault")
    terminal.say(console, f"{count} in {api.words.counted(files, 'file')}; {not_done}.")


def _tell_oddities(console: Console, warnings: Sequence[Problem]) -> None:
    """What is odd about the files but stops nothing."""
    if warnings:
        terminal.title(console, "Odd, but no fault")
    for problem in warnings:
        terminal.say(console, str(problem))


def _tell_not_planned(console: Console, inputs: WeekInputs, workload: api.Workload) -> None:
    """Orders that cannot be planned, each with every reason."""
    if workload.week.not_planned:
        terminal.title(console, "Cannot be planned as things stand")
    clients = {order.order_id: order.client for order in inputs.orders}
    for one in workload.week.not_planned:
        who = f"{one.order_id} {clients.get(one.order_id, '')}".rstrip()
        terminal.say(console, f"- {who}: {'; '.join(one.reasons)}", hang=2)


def _tell_presses(console: Console, workload: api.Workload) -> None:
    """What each press is believed to do."""
    terminal.title(console, "Does this look right?")
    terminal.table(
        console,
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
    terminal.say(console, "Set-up minutes are for a bare press: mount, load, test print.")


def _tell_assumptions(console: Console, assumptions: Sequence[Assumption], week: Path) -> None:
    """What nobody typed: a line for each kind of thing, settings by their section of shop.toml."""
    if not assumptions:
        return
    terminal.title(console, "Assumed, because nothing else was said")
    kinds: dict[str, list[str]] = {}
    sections: dict[str, int] = {}
    for one in assumptions:
        if one.code.startswith(SETTING):
            section = one.code.removeprefix(SETTING).partition(".")[0]
            sections[section] = sections.get(section, 0) + 1
        else:
            kinds.setdefault(one.code, []).append(f"{one.text} ({one.count} {_named(one.count, one.counted)})")
    for texts in kinds.values():
        terminal.say(console, f"- {'; '.join(texts)}", hang=2)
    if sections:
        told = ", ".join(f"[{section}] {count}" for section, count in sections.items())
        terminal.say(console, f"- settings of the shop that nobody typed, by section: {told}", hang=2)
    name = f'"{week}"' if " " in str(week) else str(week)
    terminal.say(console, f"Each with its value, and where it was made: pressweek check {name} --all")


def _tell_every_assumption(console: Console, assumptions: Iterable[Assumption]) -> None:
    """Everything nobody typed, each with the first places."""
    terminal.title(console, "Assumed, because nothing else was said")
    for one in assumptions:
        shown = ", ".join(one.where[:PLACES]) + (", ..." if len(one.where) > PLACES else "")
        places = f" ({shown})" if shown else ""
        terminal.say(console, f"- {one.text}, {one.count} {_named(one.count, one.counted)}{places}", hang=2)


def _named(count: int, things: str) -> str:
    """The name of things, for one of them too: "orders" but 1 "order", "families" but 1 "family"."""
    if count != 1:
        return things
    first, of, rest = things.partition(" of ")
    for many, one in (("ies", "y"), ("sses", "ss"), ("s", "")):
        if first.endswith(many):
            return first.removesuffix(many) + one + of + rest
    return things


def _span(low: int | None, high: int | None) -> str:
    if low is None or high is None:
        return "-"
    return str(low) if low == high else f"{low} to {high}"

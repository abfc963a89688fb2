"""The commands `outlook` and `client-page`: the day to say, and the page for one client."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from scheduler import api, shop_book, terminal
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.watching import NO_PLAN, Interrupt, planned_or_read, watched

WeekPath = Annotated[Path, typer.Argument(metavar="WEEK", help="Folder or .xlsx file of the week.")]
AnyWeek = Annotated[Path | None, typer.Argument(metavar="[WEEK]", help="Folder or .xlsx file of the week.")]
Book = Annotated[str, typer.Option(metavar="BOOK", help="Ask the shop's book instead, as the week stands now.")]
Now = Annotated[str, typer.Option(metavar="TIME", help="With --book: what time it is; else by the clock.")]
PlanFile = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN.json", help="A plan that stands; else one is made.")
]
Confidence = Annotated[float, typer.Option(min=1, max=99, help="How often the day should hold, in 100 weeks.")]
Replays = Annotated[int, typer.Option(min=20, help="How often the plan is lived through.")]
Seconds = Annotated[float, typer.Option(help="Seconds for planning, where no plan is given.")]


@dataclass(frozen=True, kw_only=True)
class _Asked:
    """The week that is asked about, from its files or as the book has it now."""

    inputs: WeekInputs
    workload: api.Workload
    plan_file: Path | None = None
    question: shop_book.Question | None = None

    def plan(self, settings: SearchSettings, interrupt: Interrupt) -> Plan:
        """The announced plan as it stands, the plan in a file, or one made now."""
        stands = self.question.stands_plan() if self.question is not None else None
        if stands is not None:
            return stands
        search = self.question.search if self.question is not None else None
        currency = self.inputs.shop.money.currency
        return planned_or_read(self.workload, self.plan_file, settings, interrupt, currency, search)


def _asked(week: Path | None, plan_file: Path | None, book: str, now: str) -> _Asked:
    if (week is None) == (not book):
        raise typer.BadParameter("name a week, or a book with --book: one of them is asked about")
    if book and plan_file is not None:
        raise typer.BadParameter("--plan goes with a week: a book has its announced plan")
    if now and not book:
        raise typer.BadParameter("--now needs --book; without a book write plan_from in shop.toml")
    if week is not None:
        inputs = api.read_week(week)
        return _Asked(inputs=inputs, workload=api.build_workload(inputs), plan_file=plan_file)
    question = shop_book.question(book, now)
    return _Asked(inputs=question.inputs, workload=question.workload, question=question)


def add_to(app: typer.Typer) -> None:
    """Make the commands of this module known to the program."""
    app.command()(outlook)
    app.command()(promise)
    app.command(name="client-page")(client_page)


def outlook(
    week: AnyWeek = None,
    plan_file: PlanFile = None,
    book: Book = "",
    now: Now = "",
    confidence: Confidence = 80,
    replays: Replays = 2000,
    seconds: Seconds = 20.0,
    seed: Annotated[int, typer.Option(help="Another seed lives other weeks.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Figures for other programs.")] = False,
) -> None:
    """Tell the day to say for every order.

    The plan is lived through many times with set-ups, printing, screens and deliveries that stray; told are the day
    that holds as often as asked, how often the promise holds, and what costs it most often. With --book it is the
    announced plan as it stands now, and how far this shop really strays.
    """
    asked = _asked(week, plan_file, book, now)
    inputs = asked.inputs
    with Interrupt() as interrupt:
        plan = asked.plan(SearchSettings(seconds=seconds, seed=seed), interrupt)
    found = api.outlook(inputs, asked.workload.week, plan, confidence=confidence / 100, replays=replays, seed=seed)
    if as_json:
        print(json.dumps(api.outlook_figures(found)))
        return
    opening, sections = api.outlook_report(found)
    terminal.say(terminal.out(), opening, hang=0)
    terminal.sections(terminal.out(), sections)


def promise(
    order: Annotated[str, typer.Option(metavar="FILE", help="The order as a what-if: a file with [[rush]], or words.")],
    week: AnyWeek = None,
    plan_file: PlanFile = None,
    book: Book = "",
    now: Now = "",
    confidence: Confidence = 80,
    seconds: Annotated[float, typer.Option(help="How long to look for better ways.")] = 12.0,
    seed: Annotated[int, typer.Option(help="Another seed tries other things first.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Figures for other programs.")] = False,
) -> None:
    """Tell the date for an order that is not taken yet.

    The earliest day that hurts nobody and holds as often as asked, and what an earlier one would cost others. With
    --book it is asked of the announced plan as it stands now.
    """
    asked = _asked(week, plan_file, book, now)
    inputs = asked.inputs
    rush = [one for found in api.read_what_ifs([order], week or Path(), inputs, None) for one in found.what_ifs]
    currency = inputs.shop.money.currency
    with Interrupt() as interrupt:
        plan = asked.plan(SearchSettings(seconds=seconds), interrupt)
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

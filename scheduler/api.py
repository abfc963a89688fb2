"""The front doors: read a week, plan it, check a plan, hand out papers.

Every plan that leaves here has been checked by the independent eye. Heavy libraries are imported when a door is used,
so that reading a week costs nothing but reading it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scheduler.domain.orders import Order, WeekInputs
from scheduler.domain.own_order import OwnOrder
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem, SolverError
from scheduler.papers import words as words  # how moments, lengths of time and money are said

if TYPE_CHECKING:  # "as": these names are part of what this module offers
    from concurrent.futures import Executor

    from scheduler.domain.answers import Answer as Answer
    from scheduler.domain.answers import Answers as Answers
    from scheduler.domain.what_if import WhatIf as WhatIf
    from scheduler.holding_up import Chain as Chain
    from scheduler.holding_up import HoldingUp as HoldingUp
    from scheduler.inputs.columns import Column as Column
    from scheduler.inputs.plan_document import PlanFacts as PlanFacts
    from scheduler.inputs.week_cells import SheetCells as SheetCells
    from scheduler.inputs.what_if_files import Asked as Asked
    from scheduler.inputs.what_if_kinds import Setting as Setting
    from scheduler.insight.helps import Help as Help
    from scheduler.insight.helps import WhatHelps as WhatHelps
    from scheduler.insight.ship_days import ShipDay as ShipDay
    from scheduler.papers.answer_rows import AnswerRow as AnswerRow
    from scheduler.papers.chase_list import ChaseRow as ChaseRow
    from scheduler.papers.client_page import ClientView as ClientView
    from scheduler.papers.floor.files import Paper as Paper
    from scheduler.papers.screen_tables import ScreenRow as ScreenRow
    from scheduler.papers.tables import OrderRow as OrderRow
    from scheduler.papers.tables import QueueRow as QueueRow
    from scheduler.papers.text import Section as Section
    from scheduler.papers.yours_and_ours import YoursAndOurs as YoursAndOurs
    from scheduler.plan_view import BeltStretch as BeltStretch
    from scheduler.plan_view import PlanView as PlanView
    from scheduler.promise import Promise as Promise
    from scheduler.record.drift import Drift as Drift
    from scheduler.record.drift import PressDrift as PressDrift
    from scheduler.record.events import Event as Event
    from scheduler.record.runs_now import RunNow as RunNow
    from scheduler.record.standing import StandsNow as StandsNow
    from scheduler.review.compare import Comparison as Comparison
    from scheduler.review.measures import Measures as Measures
    from scheduler.review.violation import Violation as Violation
    from scheduler.search.genome import Genome as Genome
    from scheduler.search.result import Progress as Progress
    from scheduler.search.result import SearchResult as SearchResult
    from scheduler.shipping import Outlook as Outlook
    from scheduler.what_if.many import Case as Case
    from scheduler.workload.build import Workload as Workload

DEMO_WEEK = "midsize"
"""The week that `demo` plans, a folder of scenarios/."""

IN_ALL = 20
"""Odds are told as so many times in so many."""

AHEAD_OF_RINGING = ("Late orders", "Pencilled in, waiting for a yes", "Not planned")
"""Sections of a report before the one that says whom to ring."""

PENCIL_SECONDS = 12.0
"""How long it may take to pencil in the orders that wait, and so to work out by when they need their answer."""


def read_week(path: Path) -> WeekInputs:
    """Everything in a week's files, and what was taken. Raises InputError with every Problem found."""
    return read_week_with_warnings(path)[0]


def read_week_with_warnings(path: Path, *, may_be_empty: bool = False) -> tuple[WeekInputs, tuple[Problem, ...]]:
    """Everything in a week's files, and what is odd about them but does no harm. InputError as `read_week`.

    may_be_empty: a sheet without orders is no fault.
    """
    from scheduler.inputs.reader import read_week_with_warnings as read

    inputs, warnings = read(path, may_be_empty=may_be_empty)
    return with_taken(inputs, path), warnings


def new_week(
    place: Path,
    *,
    is_workbook: bool = False,
    answers: Path | None = None,
    ask: Callable[[str], str],
    say: Callable[[str], None],
) -> None:
    """A new week from a few questions (or a file of answers): a folder, or one workbook.

    ask: shows a prompt and returns what was typed; say: shows a line. Raises InputError where a week is there already
    or an answer in the file cannot be used; nothing is written then.
    """
    from scheduler.inputs.new_week.front import new_week as make

    make(place, is_workbook=is_workbook, answers=answers, ask=ask, say=say, check=_check_new)


def bring_sheet(
    path: Path,
    week: Path,
    *,
    sheet: str = "",
    maps: Sequence[str] = (),
    fills: Sequence[str] = (),
    dates: str = "",
    ask: Callable[[str], str] | None,
    say: Callable[[str], None],
) -> None:
    """The shop's own spreadsheet merged into a week's orders sheet, and what was done told line by line.

    maps: "THEIR HEADING=ours"; fills: "ours=text" for all rows; dates: "day first" or "month first". ask None: nobody
    may be asked. Raises InputError, with nothing written, where the sheet cannot be understood as it is.
    """
    from scheduler.inputs.bring.front import Wishes, bring

    bring(path, week, Wishes(sheet=sheet, maps=tuple(maps), fills=tuple(fills), dates=dates), ask, say)


def _check_new(path: Path) -> None:
    """Raises InputError if a week without orders could not be planned as it is."""
    build_workload(read_week_with_warnings(path, may_be_empty=True)[0])


def week_files(path: Path) -> tuple[Path, ...]:
    """The files of a week that are there: those of its folder, or the one workbook."""
    from scheduler.inputs.week_cells import week_files as files_of

    return files_of(path)


def changes_since(before: Path, now: Path) -> tuple[str, ...]:
    """What a week says differently now, a sentence for each changed cell, row or setting."""
    from scheduler.inputs.week_cells import changes_since as changed

    return changed(before, now)


def read_cells(path: Path, sheet: str) -> SheetCells:
    """A sheet of the week ("orders", "progress", …) as it was typed. Raises InputError if it cannot be read."""
    from scheduler.inputs.week_cells import read_cells as cells_of

    return cells_of(path, sheet)


def shop_texts(path: Path) -> dict[str, str]:
    """Every setting of the shop as it was typed, by its full name, as "press.1.heads". InputError as `read_cells`."""
    from scheduler.inputs.week_cells import shop_texts as texts_of

    return texts_of(path)


def columns(sheet: str) -> tuple[Column, ...]:
    """What each heading of a sheet holds and what to write under it."""
    from scheduler.inputs.columns import COLUMNS

    return tuple(COLUMNS[sheet].values())


def empty_sheet(sheet: SheetCells, headings: Sequence[str]) -> SheetCells:
    """A sheet that has nothing yet, under these headings."""
    return replace(sheet, headings=tuple(headings), rows=(), numbers=())


def heading_key(heading: str) -> str:
    """A heading as it is known here, however it is spelled: "In hands" is "in_hands"."""
    from scheduler.inputs.columns import heading_key as key_of

    return key_of(heading)


def edit_week(
    path: Path,
    *,
    rows: Sequence[tuple[SheetCells, Sequence[str], Sequence[Sequence[str]]]] = (),
    settings: Sequence[tuple[str, str]] = (),
    added: Sequence[tuple[str, Sequence[tuple[str, str]]]] = (),
    announce: Path | None = None,
) -> None:
    """Change a week's files, all of it or nothing; whatever is not named stays as it is.

    rows: (sheet as it was seen, headings, new rows). settings: full name and text, "" takes it out. added: another
    section, as ("overtime", settings). announce: the plan file that is announced from now on. Raises InputError with
    every fault the edit would bring in, or where somebody else changed a sheet since it was seen.
    """
    from scheduler.inputs.week_edits import NewRows, WeekEdit
    from scheduler.inputs.week_edits import edit_week as edited

    edit = WeekEdit(
        sheets=tuple(
            NewRows(seen=seen, headings=tuple(headings), rows=tuple(tuple(row) for row in new))
            for seen, headings, new in rows
        ),
        settings=tuple(settings),
        added=tuple((section, tuple(texts)) for section, texts in added),
        announced=announce,
    )
    had = {(one.file, one.column, one.code, one.message) for one in _faults_of(path)}

    def check_edit(copy: Path) -> None:
        """Faults that stood there before may stay: they are mended one after the other."""
        new = [one for one in _faults_of(copy) if (one.file, one.column, one.code, one.message) not in had]
        if new:
            raise InputError(tuple(new))

    edited(path, edit, check_edit)


def _faults_of(path: Path) -> list[Problem]:
    try:
        _check_new(path)
    except InputError as fault:
        return [one for one in fault.problems if not one.is_warning]
    return []


def build_workload(inputs: WeekInputs) -> Workload:
    """The planning question behind a week's files. Raises InputError for faults that only show here.

    Orders whose fixed runs cannot stand together are among `week.not_planned`, each with its reason.
    """
    from scheduler.search.clash import without_clashes
    from scheduler.workload.build import build_workload as build

    workload = build(inputs)
    return replace(workload, week=without_clashes(workload.week))


def stands_now(inputs: WeekInputs, week: Week, plan: Plan, events: Sequence[Event], now: datetime) -> StandsNow:
    """A week as it stands after what was noted since a plan of it was announced: what is done is gone, what has started
    goes on with what is left. Raises InputError where it cannot be planned any more.
    """
    from scheduler.record.standing import stands_now as stands

    return stands(inputs, week, plan, events, now)


def plan_on(
    stands: StandsNow,
    plan: Plan,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SearchResult:
    """A checked plan from now on, never dearer than keeping the announced one; nothing that has started moves.

    Progress and faults as `plan_week`.
    """
    from scheduler.record.kept import kept

    held = kept(stands.week, plan)
    return _searched(stands.week, settings, on_progress, stop, held[0] if held is not None else None)


def drift(stands: StandsNow, week: Week, plan: Plan) -> Drift:
    """How far the floor is from an announced plan of `week`, and which orders that endangers."""
    from scheduler.record.drift import drift as drifted

    return drifted(stands, week, plan)


def press_words(one: PressDrift) -> str:
    """How far a press is ahead or behind, in words."""
    from scheduler.record.drift import press_words as told

    return told(one)


def drift_report(found: Drift) -> tuple[str, tuple[Section, ...]]:
    """Where the floor stands in one sentence, and press by press, order by order."""
    from scheduler.record.drift import opening, sections

    return opening(found), sections(found)


def read_own_order(asked: str, week: Path, inputs: WeekInputs) -> OwnOrder:
    """The planner's own sequence: a CSV file, a column of the orders sheet, or "" for the sheet's rows as they are.

    Raises InputError with every fault of the list.
    """
    from scheduler.inputs.own_order import read_own_order as read

    return read(asked, week, inputs)


def plan_week(
    workload: Workload,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SearchResult:
    """A checked plan for the week, or why there is none (`result.plan` is None).

    on_progress hears of better plans; when stop says True, the best plan so far comes back. Raises SolverError if a
    plan of ours breaks a rule: our fault.
    """
    return _searched(workload.week, settings, on_progress, stop, None)


def _searched(
    week: Week,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
    standing: Genome | None,
) -> SearchResult:
    from scheduler.search.engine import plan_week as search
    from scheduler.search.proof import exact

    result = search(week, settings, on_progress, stop, exact, standing)
    if result.plan is not None:
        broken = check(week, result.plan)
        if broken:
            told = "\n".join(f"  {one.rule}: {one.message}" for one in broken)
            raise SolverError(f"a plan of ours breaks {len(broken)} rules:\n{told}")
    return result


def time_as_listed(inputs: WeekInputs, workload: Workload, own: OwnOrder, result: SearchResult) -> YoursAndOurs:
    """The planner's own sequence timed under every rule, beside the plan a search found; both checked.

    Where the search found nothing cheaper, the planner's plan stands on both sides.
    """
    from scheduler.questions import time_as_listed as timed

    return timed(inputs, workload.week, own, result)


def pencil_in(
    inputs: WeekInputs, week: Week, plan: Plan, *, seconds: float | None = None, stop: Callable[[], bool] | None = None
) -> Plan:
    """The plan with every order that waits for art or garments pencilled in, as late as keeps its date; checked.

    Nothing of the plan moves. seconds: for all of them; None for however long it takes.
    """
    from scheduler.questions import pencil_in as pencilled

    return pencilled(inputs, week, plan, seconds=seconds, stop=stop)


def joint_week(inputs: WeekInputs, week: Week, plan: Plan) -> Week:
    """The week that knows the plan's pencilled orders too; the week itself where there are none."""
    from scheduler.questions import joint_week as joint

    return joint(inputs, week, plan)


def chase_list(inputs: WeekInputs, week: Week, plan: Plan) -> tuple[ChaseRow, ...]:
    """Whom to ring about what is missing, by when (as pencilling in has found), and what it holds up."""
    from scheduler.questions import chase_list as chased

    return chased(inputs, week, plan)


def with_taken(inputs: WeekInputs, week: Path) -> WeekInputs:
    """The inputs with the what-ifs that were taken for this week. Raises InputError where they no longer fit."""
    from scheduler.inputs.week_cells import TAKEN_FILE

    if not any(path.name.endswith(TAKEN_FILE) for path in week_files(week)):
        return inputs  # the search need not be loaded
    from scheduler.what_if.taking import with_taken as with_all

    return with_all(inputs, week)


def read_what_ifs(
    asked: Sequence[str], week: Path, inputs: WeekInputs, now: datetime | None = None
) -> tuple[Asked, ...]:
    """What-ifs from files, from the week's whatif folder or in words. Raises InputError with every fault of all."""
    from scheduler.inputs.what_if_files import read_what_ifs as read

    return read(asked, week, inputs, now)


def what_if_kinds() -> Mapping[str, tuple[str, tuple[Setting, ...]]]:
    """Every kind of what-if but a rush: what it means, and its settings."""
    from scheduler.inputs.what_if_kinds import KINDS, MEANINGS

    return {kind: (MEANINGS[kind], settings) for kind, settings in KINDS.items()}


def what_if_text(tables: Sequence[tuple[str, Mapping[str, str]]]) -> str:
    """A small file of what-ifs: (kind, settings) as they were typed, those that are empty left out."""
    from scheduler.inputs.what_if_files import what_if_text as text_of

    return text_of((kind, {name: text for name, text in settings.items() if text}) for kind, settings in tables)


def read_moment(text: str, inputs: WeekInputs) -> datetime:
    """A moment of the shop's own time. Raises InputError where it is none, or lies before the planning moment."""
    from scheduler.inputs.what_if_files import read_now

    return read_now(text, inputs)


def ask_what_if(
    inputs: WeekInputs,
    plan: Plan,
    what_ifs: Sequence[WhatIf],
    settings: SearchSettings,
    *,
    name: str = "",
    now: datetime | None = None,
    earlier: Sequence[Plan] = (),
    on_answer: Callable[[Answer], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Answers:
    """Up to four checked answers to what-ifs tried together on a standing plan of these inputs.

    earlier: plans that stood before (`plans_before`), to which what is taken back may lead again.
    on_answer hears of every first and every better answer at once; when stop says True, the best so far come back.
    Raises InputError where the plan is not one of these inputs or a what-if cannot be meant.
    """
    from scheduler.what_if.answering import answer

    return answer(inputs, plan, what_ifs, settings, name=name, now=now, earlier=earlier, on_answer=on_answer, stop=stop)


def cases(
    inputs: WeekInputs, plan: Plan, asked: Sequence[Asked], settings: SearchSettings, now: datetime | None = None
) -> tuple[Case, ...]:
    """A case for each what-if, to be answered by itself."""
    from scheduler.what_if.many import Case

    return tuple(
        Case(name=one.name, inputs=inputs, plan=plan, what_ifs=one.what_ifs, settings=settings, now=now)
        for one in asked
    )


def ask_many(
    cases: Sequence[Case], *, executor: Executor | None = None, dask: str = ""
) -> Iterator[tuple[int, Answers]]:
    """(place, answers) of many what-ifs, each by itself, as they come in.

    executor: where they are worked out; None: the Dask cluster at the address `dask`, else this machine's processes.
    """
    from scheduler.what_if.many import answer_many, dask_cluster, local_processes

    if executor is not None:
        yield from answer_many(cases, executor)
        return
    with dask_cluster(dask) if dask else local_processes(len(cases)) as found:
        yield from answer_many(cases, found)


def take_answer(
    week: Path, plan: Path, answers: Answers, answer: Answer, asked: Sequence[Asked], currency: str = ""
) -> tuple[Path, ...]:
    """The answer taken: its what-ifs stay with the week, its plan replaces the plan file; old files are kept.

    Returns the files written. Raises InputError, with everything as it was, where that cannot be done.
    """
    from scheduler.what_if.taking import Taking, take

    def read(path: Path) -> tuple[WeekInputs, Week]:
        inputs = read_week(path)
        return inputs, build_workload(inputs).week

    tables = tuple(table for one in asked for table in one.tables)
    return take(Taking(week=week, plan=plan, answers=answers, answer=answer, tables=tables), read, currency)


def standing_plan(path: Path | None, week: Path, inputs: WeekInputs) -> Plan | None:
    """The plan in a plan file, or the week's announced plan if it is one of all its runs; None without either.

    Raises InputError with every fault of a file that was named.
    """
    asked = build_workload(inputs).week
    if path is not None:
        return read_plan(path, asked)[0]
    announced = week / "announced.json"
    if not announced.is_file():
        return None
    found = read_plan(announced, asked)[0]
    return found if found.run.keys() == asked.run.keys() and not check(asked, found) else None


def plans_before(week: Path, inputs: WeekInputs) -> tuple[Plan, ...]:
    """The plans that stood before what was taken, the last first, as far as they can be read."""
    from scheduler.what_if.taking import kept_plans

    return kept_plans(week, build_workload(inputs).week)


def undo_taking(week: Path) -> tuple[Path, ...]:
    """The last answer taken back, week and plan as they were. Raises InputError where nothing was taken."""
    from scheduler.what_if.taking import undo

    return undo(week)


def answers_report(answers: Answers, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The best answer in a sentence, and all of them side by side and one by one."""
    from scheduler.papers.answers import answer_sections, answers_line

    return answers_line(answers, currency), answer_sections(answers, currency)


def answer_values(answers: Answers, answer: Answer) -> AnswerRow:
    """An answer beside the plan as it stands, in values: who moves, whose date changes, what it costs more."""
    from scheduler.papers.answer_rows import answer_row

    return answer_row(answers, answer)


def answers_figures(answers: Answers, currency: str = "") -> dict[str, Any]:
    """The answers in figures for other programs. Money in integer cents."""
    from scheduler.papers.answers import answer_figures

    return answer_figures(answers, currency)


def check(week: Week, plan: Plan) -> tuple[Violation, ...]:
    """Every rule the plan breaks, in every place; empty for a plan that can be kept."""
    from scheduler.review.rules import check as find_broken_rules

    return find_broken_rules(week, plan)


def rule_count() -> int:
    """How many rules a plan is checked against."""
    from scheduler.review.rules import RULES

    return len(RULES)


def measure(week: Week, plan: Plan) -> Measures:
    """What a plan costs and how it stands, recomputed from the plan alone."""
    from scheduler.review.measures import measure as measured

    return measured(week, plan)


def plan_view(week: Week, plan: Plan, clients: Mapping[str, str] | None = None, joint: Week | None = None) -> PlanView:
    """Everything screens show of a plan: queues, orders, screens, people, belts, what waits for what.

    joint: as of `joint_week`, so that pencilled orders stand among the orders with their latest yes.
    """
    from scheduler.plan_view import plan_view as view

    return view(week, plan, clients, joint)


def holding_up(week: Week, plan: Plan, helps: WhatHelps | None = None) -> HoldingUp:
    """What holds a plan up: who and when, what is used how much, why each order ends when it does."""
    from scheduler.holding_up import holding_up as read

    return read(week, plan, helps)


def holding_up_report(found: HoldingUp, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """What holds a plan up in one sentence, and section by section."""
    from scheduler.holding_up import opening, sections

    return opening(found, currency), sections(found, currency)


def holding_up_figures(found: HoldingUp) -> dict[str, Any]:
    """What holds a plan up in figures for other programs."""
    from scheduler.holding_up import figures as figures_of

    return figures_of(found)


def what_helps(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    seconds: float,
    seed: int = 1,
    on_help: Callable[[Help], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> WhatHelps:
    """What one thing more would save, thing by thing, within so many seconds."""
    from scheduler.insight.helps import what_helps as tried
    from scheduler.typed_offers import typed_offers

    more = typed_offers(inputs, week, plan)
    return tried(week, plan, seconds=seconds, seed=seed, more=more, on_help=on_help, stop=stop)


def outlook(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    confidence: float = 0.8,
    replays: int = 2000,
    seed: int = 1,
    with_slips: bool = True,
) -> Outlook:
    """The day to say for every planned order, from living the plan through many times."""
    from scheduler.shipping import outlook as lived

    return lived(inputs, week, plan, confidence=confidence, replays=replays, seed=seed, with_slips=with_slips)


def outlook_report(found: Outlook) -> tuple[str, tuple[Section, ...]]:
    """The days to say in one sentence, and as a table."""
    from scheduler.shipping import opening, sections

    return opening(found), sections(found)


def outlook_figures(found: Outlook) -> dict[str, Any]:
    """The days to say in figures for other programs."""
    from scheduler.shipping import figures as figures_of

    return figures_of(found)


def promise(
    inputs: WeekInputs,
    plan: Plan,
    asked: Sequence[WhatIf],
    settings: SearchSettings,
    *,
    confidence: float = 0.8,
    on_answer: Callable[[Answer], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Promise:
    """The date for an order not taken yet, `asked` as one rush. Raises InputError where it is anything else."""
    from scheduler.promise import promise as find
    from scheduler.promise import rush_of

    rush = rush_of(list(asked))
    return find(inputs, plan, rush, settings, confidence=confidence, on_answer=on_answer, stop=stop)


def promise_report(found: Promise, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The date in a sentence, and every way to take the order side by side."""
    from scheduler.promise import opening, sections

    return opening(found), sections(found, currency)


def promise_figures(found: Promise) -> dict[str, Any]:
    """The ways to take an order in figures for other programs."""
    from scheduler.promise import figures as figures_of

    return figures_of(found)


def order_of(inputs: WeekInputs, order_id: str) -> Order:
    """The order of this number. Raises InputError for one that is not in the week."""
    from scheduler.shipping import order_of as found

    return found(inputs, order_id)


def client_view(inputs: WeekInputs, week: Week, plan: Plan, order_id: str, *, confidence: float = 0.8) -> ClientView:
    """One order as its client may see it. Raises InputError for an order that is not in the week."""
    return client_view_of(inputs, week, plan, order_id, outlook(inputs, week, plan, confidence=confidence))


def client_view_of(inputs: WeekInputs, week: Week, plan: Plan, order_id: str, found: Outlook) -> ClientView:
    """One order as its client may see it, with the day from an outlook that is known already."""
    from scheduler.shipping import view_for_client

    day = next((day for day in found.days if day.order_id == order_id), None)
    return view_for_client(inputs, week, plan, order_id, day)


def outlook_basis(found: Outlook) -> str:
    """What the odds of an outlook rest on, in a sentence."""
    from scheduler.papers.odds import basis

    return basis(found.chances)


def client_html(view: ClientView) -> str:
    """A client's page as it would be written."""
    from scheduler.papers.client_page import client_html as html_of

    return html_of(view)


def client_file(order_id: str) -> str:
    """The name of a client's page: safe on every system, and another for every order."""
    from scheduler.papers.text import file_stem

    return f"order-{file_stem(order_id)}.html"


def write_client_page(folder: Path, view: ClientView) -> tuple[Path, ...]:
    """A client's page and the day as a calendar file, written into a folder; the files written."""
    from scheduler.shipping import write_client_page as write

    return write(folder, view)


def compare(week: Week, old: Plan, new: Plan, *, new_week: Week | None = None) -> Comparison:
    """One plan beside another, which may belong to another week: what it costs more, who is late now, what moved."""
    from scheduler.review.compare import compare as beside

    return beside(week, old, new, week_b=new_week)


def read_plan(path: Path, week: Week) -> tuple[Plan, PlanFacts]:
    """The plan in a plan file and what the file says about it. Raises InputError with every fault of the file."""
    from scheduler.inputs.plan_files import read_plan as read

    return read(path, week)


def other_inputs(facts: PlanFacts, week: Week) -> str | None:
    """One sentence where a plan file was made from other inputs than this week's."""
    from scheduler.inputs.plan_files import other_inputs as differs

    return differs(facts, week)


def plan_facts(week: Week, result: SearchResult, currency: str = "") -> PlanFacts:
    """What a plan file says about a search's plan."""
    from scheduler.inputs.plan_document import PlanFacts

    return PlanFacts(
        digest=week.digest,
        status=result.status,
        seed=result.seed,
        currency=currency,
        cost_cents=result.cost_cents,
        cost_terms=tuple(result.terms.items()),
        lower_bound_cents=result.lower_bound_cents,
    )


def make_folder(folder: Path) -> None:
    """The folder stands and can be written to. Raises InputError with one sentence where it cannot."""
    from scheduler.safe_files import make_folder as make

    make(folder)


def write_plan_folder(
    folder: Path,
    week: Week,
    plan: Plan,
    facts: PlanFacts,
    *,
    shop_name: str = "",
    clients: Mapping[str, str] | None = None,
    chase: Sequence[ChaseRow] = (),
) -> tuple[Path, ...]:
    """Everything that is handed out, each file whole or not at all; plan.json last, so it stands for a full set.

    Returns the files written. Raises InputError where the folder cannot be written.
    """
    from scheduler.inputs.plan_files import write_plan
    from scheduler.papers import chase_list, csv_files, pages, roster_table, screen_tables, station_tables, tables
    from scheduler.safe_files import write_text

    press_ids = [press.press_id for press in week.presses]
    roster = roster_table.roster_rows(week, plan)
    visits = station_tables.station_rows(week, plan)
    sheets = {
        "press-queue.csv": csv_files.press_queue_csv(tables.press_queue(week, plan)),
        "screens.csv": csv_files.screens_csv(screen_tables.screen_rows(week, plan)),
        "orders.csv": csv_files.orders_csv(tables.order_rows(week, plan, clients)),
        "carts.csv": csv_files.staging_csv(tables.staging_rows(week, plan)),
        **({"stations.csv": station_tables.stations_csv(visits)} if visits else {}),
        **({"roster.csv": csv_files.roster_csv(roster)} if roster else {}),
        **({"chase.csv": chase_list.chase_csv(chase)} if chase else {}),
    }
    printed = {
        pages.press_file(press_id, press_ids): pages.press_page(week, plan, press_id, shop_name=shop_name)
        for press_id in press_ids
    }
    if week.screen_room is not None:
        printed[pages.SCREEN_ROOM_FILE] = pages.screen_room_page(week, plan, shop_name=shop_name)
    if visits:
        printed[pages.STATIONS_FILE] = pages.stations_page(week, plan, shop_name=shop_name)
    for name, text in sheets.items():
        write_text(folder / name, text, encoding=csv_files.ENCODING)
    for name, text in printed.items():
        write_text(folder / name, text)
    write_plan(folder / "plan.json", week, plan, facts)
    return tuple(folder / name for name in [*sheets, *printed, "plan.json"])


def floor_papers(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    units: str | None = None,
    size: str | None = None,
    with_pdf: bool = False,
    printed_at: datetime | None = None,
) -> tuple[Paper, ...]:
    """Everything that hangs on the floor: sheets, lists, a workbook, calendars. units, size: the shop's own if None.

    Raises InputError where PDF is asked for and cannot be made on this machine.
    """
    from scheduler.floor_papers import make_papers

    return make_papers(inputs, week, plan, units=units, size=size, with_pdf=with_pdf, printed_at=printed_at)


def can_make_pdf() -> bool:
    """True where pages can be made into PDF on this machine."""
    from scheduler.papers.floor.pdf import is_there

    return is_there()


def write_floor_papers(folder: Path, papers: Sequence[Paper]) -> tuple[Path, ...]:
    """The papers in a folder; the files written. Raises InputError where they cannot be."""
    from scheduler.floor_papers import write_papers

    return write_papers(folder, papers)


def report(
    week: Week,
    plan: Plan,
    result: SearchResult,
    *,
    currency: str = "",
    clients: Mapping[str, str] | None = None,
    chase: Sequence[ChaseRow] = (),
) -> tuple[str, tuple[Section, ...]]:
    """The plan in one sentence, and everything a planner acts on, section by section, whom to ring among it."""
    from scheduler.papers.chase_list import chase_section
    from scheduler.papers.summary import Beside, opening_line, plan_sections

    beside = Beside(
        lower_bound_cents=result.lower_bound_cents, baseline=result.baseline.plan if result.baseline else None
    )
    sections = list(plan_sections(week, plan, currency=currency, clients=clients, beside=beside))
    ring = chase_section(chase)
    if ring is not None:
        ahead = [at for at, section in enumerate(sections) if section.title in AHEAD_OF_RINGING]
        sections.insert(max(ahead, default=-1) + 1, ring)
    return opening_line(week, plan), tuple(sections)


def beside_report(both: YoursAndOurs, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The planner's sequence and our plan in one sentence, and the two side by side, section by section."""
    from scheduler.papers.yours_and_ours import beside_sections, opening_sentence

    return opening_sentence(both, currency), beside_sections(both, currency)


def beside_figures(both: YoursAndOurs, *, currency: str = "") -> dict[str, Any]:
    """The planner's sequence and our plan in figures for other programs. Money in integer cents."""
    from scheduler.papers.yours_and_ours import beside_figures as figures_of

    return figures_of(both, currency)


def section_lines(section: Section, width: int) -> list[str]:
    """A section's text, no line longer than `width`."""
    from scheduler.papers.text import section_text

    return section_text(section, width)


def table_lines(headings: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """A plain table, no line longer than `width`."""
    from scheduler.papers.text import Line, table_text

    return table_text(headings, [Line(cells=tuple(row)) for row in rows], width=width)


def harmless(line: str) -> str:
    """A line without anything that could steer a terminal."""
    from scheduler.papers.text import harmless as without_steering

    return without_steering(line)


def figures(
    week: Week,
    result: SearchResult,
    *,
    is_stopped: bool = False,
    currency: str = "",
    chase: Sequence[ChaseRow] = (),
) -> dict[str, Any]:
    """A search in figures for other programs: plan, due-date list beside it, bound, time. Money in integer cents.

    Without a plan the plan's own figures are missing, gap and baseline are None and reason says why.
    """
    from scheduler.papers.chase_list import chase_figures
    from scheduler.papers.figures import plan_figures

    baseline = result.baseline.plan if result.baseline else None
    late = measure(week, result.plan).late_orders if result.plan else ()
    return {
        "status": result.status,
        "stopped": is_stopped,
        "reason": result.reason,
        "told": result.told,
        "currency": currency,
        "money_unit": "cents",
        **(plan_figures(week, result.plan) if result.plan else {}),
        "lower_bound": result.lower_bound_cents,
        "gap": round(result.gap, 6) if result.plan else None,
        "wall_seconds": result.wall_seconds,
        "first_plan_seconds": result.first_plan_seconds,
        "seed": result.seed,
        "late": [{"order": one.order_id, "days": one.pickups_missed} for one in late],
        "baseline": plan_figures(week, baseline) if baseline else None,
        "not_planned": [
            {"order": one.order_id, "run": one.run_id, "kind": one.kind, "reasons": list(one.reasons)}
            for one in week.not_planned
        ],
        "chase": chase_figures(chase),
    }


def demo_week() -> Path:
    """The folder of the demo week, in the checkout this program runs from. Raises InputError if it is not there."""
    folder = Path(__file__).resolve().parent.parent / "scenarios" / DEMO_WEEK
    if not (folder / "shop.toml").is_file():
        problem = Problem(
            file=f"scenarios/{DEMO_WEEK}",
            code="no_demo",
            message="the demo week is not beside this program",
            hint="run it from a checkout of the repository, or plan a week of your own",
        )
        raise InputError((problem,))
    return folder

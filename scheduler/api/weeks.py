"""A week's files: read, made new, brought in, changed; and what they ask of the presses."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.domain.orders import Order, WeekInputs
from scheduler.domain.own_order import OwnOrder
from scheduler.errors import InputError, Problem

if TYPE_CHECKING:
    from scheduler.inputs.columns import Column
    from scheduler.inputs.week_cells import SheetCells
    from scheduler.workload.build import Workload
DEMO_WEEK = "midsize"
"""The week that `demo` plans, a folder of scenarios/."""


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


def with_taken(inputs: WeekInputs, week: Path) -> WeekInputs:
    """The inputs with the what-ifs that were taken for this week. Raises InputError where they no longer fit."""
    from scheduler.inputs.week_cells import TAKEN_FILE

    if not any(path.name.endswith(TAKEN_FILE) for path in week_files(week)):
        return inputs  # the search need not be loaded
    from scheduler.what_if.taking import with_taken as with_all

    return with_all(inputs, week)


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


def read_own_order(asked: str, week: Path, inputs: WeekInputs) -> OwnOrder:
    """The planner's own sequence: a CSV file, a column of the orders sheet, or "" for the sheet's rows as they are.

    Raises InputError with every fault of the list.
    """
    from scheduler.inputs.own_order import read_own_order as read

    return read(asked, week, inputs)


def order_of(inputs: WeekInputs, order_id: str) -> Order:
    """The order of this number. Raises InputError for one that is not in the week."""
    from scheduler.shipping import order_of as found

    return found(inputs, order_id)


def demo_week() -> Path:
    """The folder of the demo week, in the checkout this program runs from. Raises InputError if it is not there."""
    folder = Path(__file__).resolve().parents[2] / "scenarios" / DEMO_WEEK
    if not (folder / "shop.toml").is_file():
        problem = Problem(
            file=f"scenarios/{DEMO_WEEK}",
            code="no_demo",
            message="the demo week is not beside this program",
            hint="run it from a checkout of the repository, or plan a week of your own",
        )
        raise InputError((problem,))
    return folder

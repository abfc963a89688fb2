"""Bringing the shop's own sheet into a week: read, understand, merge, tell, and only then write.

Everything is worked out before anything is written; the orders sheet as it was is kept beside the new one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from scheduler.domain.orders import DesignRecord
from scheduler.errors import InputError, Problem
from scheduler.inputs import cells, moments, side_readers
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.bring.asking import Ask, Asker, Say
from scheduler.inputs.bring.merging import Merged, Parsers, merge
from scheduler.inputs.bring.orders_file import ENCODING, FILE, read_orders_file
from scheduler.inputs.bring.own_rows import MEANT, WAITS, OwnRows, own_rows
from scheduler.inputs.bring.own_sheet import OwnSheet, chosen, read_own
from scheduler.inputs.bring.remembered import FILE as HEADINGS_FILE
from scheduler.inputs.bring.remembered import (
    FILLED,
    Remembered,
    check_fill,
    label_of,
    read_pair,
    read_remembered,
    target_of,
    tell_unknown,
    text_of_remembered,
)
from scheduler.inputs.bring.understanding import Understood, told_headings, understood
from scheduler.inputs.cell_kinds import parsers_for
from scheduler.inputs.columns import COLUMNS, DESIGNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import CellError, Faults, Place
from scheduler.inputs.new_week.machine import this_machine
from scheduler.inputs.new_week.papers import SHEET_HEADINGS
from scheduler.inputs.reader import read_week
from scheduler.inputs.shop_reader import UTC_ZONE, ShopRead, read_shop
from scheduler.inputs.shop_tree import tree_of_toml
from scheduler.inputs.tables import Table, read_bytes, read_csv, text_of
from scheduler.inputs.typed_rows import typed
from scheduler.inputs.workbook import SUFFIXES
from scheduler.safe_files import write_text

SHOP_FILE = "shop.toml"
MOST_TOLD = 40
"""Lines of one kind that are told; of more, how many there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What was said on the command line: sheet, pairs THEIR=ours, pairs ours=text for all rows, order of dates."""

    sheet: str = ""
    maps: tuple[str, ...] = ()
    fills: tuple[str, ...] = ()
    dates: str = ""


def bring(path: Path, week: Path, wishes: Wishes, ask: Ask | None, say: Say, now: datetime | None = None) -> None:
    """Bring `path` into the week's folder and say what was done. ask None: nobody may be asked.

    Raises InputError, with nothing written, where the sheet cannot be understood or brought without asking.
    """
    faults = Faults()
    _check_week(week, faults)
    faults.raise_if_any()
    shop, designs = _shop(week), _designs(week)
    told = read_remembered(week, faults)
    sheets = chosen(read_own(path, faults), wishes.sheet, path.name, faults)
    _take_wishes(wishes, told, sheets, path.name, faults)
    parsers: Parsers = parsers_for(ORDERS, shop)
    for ours, said in told.fill.items():
        if ours in FILLED and (said != "?" or ours not in WAITS):
            faults.read(Place(file=f"fill {ours}"), said, parsers[ours])
    there = read_orders_file(week, faults, SHEET_HEADINGS)
    faults.raise_if_any()
    asker = Asker(ask=ask, say=say)
    sheet = understood(
        sheets,
        told,
        asker,
        faults,
        zone=shop.zone if shop else UTC_ZONE,
        today=shop.now.date() if shop and shop.now else (now or datetime.now()).date(),
        shop_dates=shop.dates if shop and shop.dates != moments.EITHER else "",
        machine_dates=this_machine().dates,
    )
    asker.raise_if_unsure()
    faults.raise_if_any()
    assert sheet is not None
    found = own_rows(sheet, parsers)
    before = there.text()
    done = merge(there, found.rows, parsers, designs, told.fill)
    backup = _write(week, there.text(), before, told, now or datetime.now())
    _Report(sheet, found, done, say).tell(path, week, backup, faults.warnings)


def _check_week(week: Path, faults: Faults) -> None:
    if not week.is_dir():
        what = "is a file" if week.exists() else "is not there"
        hint = "name the folder of a week; `pressweek new DIR` makes one"
        if week.exists() and week.suffix.lower() in SUFFIXES:
            hint = "sheets are brought into folders: copy the rows into its sheet Orders by hand"
        faults.add(Place(file=str(week)), "no_week", what, hint)
    elif not (week / SHOP_FILE).exists():
        hint = "name the folder of a week; `pressweek new DIR` makes one"
        faults.add(Place(file=str(week)), "no_week", f"holds no {SHOP_FILE}", hint)


def _shop(week: Path) -> ShopRead | None:
    """The shop as far as it can be read; its faults are for `check` to tell."""
    faults = Faults()
    raw = read_bytes(week / SHOP_FILE, faults)
    text = None if raw is None else text_of(raw, SHOP_FILE, faults)
    tree = None if text is None else tree_of_toml(SHOP_FILE, text, faults)
    return None if tree is None else read_shop(SHOP_FILE, tree, faults, Assumed())


def _designs(week: Path) -> dict[str, DesignRecord]:
    """Remembered designs by key; none where they cannot be read, which is for `check` to tell."""
    path, faults = week / f"{DESIGNS}.csv", Faults()
    raw = read_bytes(path, faults) if path.exists() else None
    table = Table(sheet=DESIGNS, file=path.name) if raw is None else read_csv(DESIGNS, path.name, raw, faults)
    return side_readers.read_designs(typed(table, parsers_for(DESIGNS, None), faults))


def _take_wishes(wishes: Wishes, told: Remembered, sheets: Sequence[OwnSheet], file: str, faults: Faults) -> None:
    """Add what the command line says to what is remembered; it wins over it."""
    headings = [cell for one in sheets for _, texts in one.rows[:10] for cell in texts if cell]
    for text in wishes.maps:
        try:
            their, ours = read_pair(text, '--map "THEIR HEADING=pieces"')
        except CellError as fault:
            faults.add(Place(file="--map"), fault.code, fault.message, fault.hint)
            continue
        target = target_of(ours)
        if target is None:
            tell_unknown(Place(file="--map"), ours, faults)
        elif sheets:
            told_headings([their], headings, faults, file)
            told.headings = {name: one for name, one in told.headings.items() if not target or one != target}
            told.headings[their] = target
    for text in wishes.fills:
        try:
            ours, said = read_pair(text, "--fill blanks=in")
        except CellError as fault:
            faults.add(Place(file="--fill"), fault.code, fault.message, fault.hint)
            continue
        check_fill(Place(file="--fill"), ours, faults)
        told.fill[heading_key(ours)] = said
    if wishes.dates:
        place = Place(file="--dates")
        told.dates = faults.read(place, wishes.dates, cells.choice(moments.DATE_ORDERS, "order of dates")) or ""


def _write(week: Path, text: str, before: str, told: Remembered, now: datetime) -> Path | None:
    """Write what changed; where the orders sheet as it was is kept, None if it stays as it is."""
    backup = None
    is_same = text == before and (week / FILE).exists()
    if not is_same and (week / FILE).exists() and "\n" in before.strip():  # headings alone are no loss
        backup = _backup_name(week, now)
        try:
            backup.write_bytes((week / FILE).read_bytes())
        except OSError as fault:
            why = (fault.strerror or type(fault).__name__).lower()
            message = f"the copy of {FILE} cannot be written ({why})"
            hint = "make room or look at the folder's rights: nothing was changed"
            raise InputError((Problem(file=backup.name, code="cannot_write", message=message, hint=hint),)) from fault
    if not is_same:
        write_text(week / FILE, text, encoding=ENCODING)
    write_text(week / HEADINGS_FILE, text_of_remembered(told))
    return backup


def _backup_name(week: Path, now: datetime) -> Path:
    """A name for the copy that is not taken yet."""
    stem = f"orders.before-{now:%Y-%m-%d-%H%M%S}"
    found, number = week / f"{stem}.csv", 2
    while found.exists():
        found, number = week / f"{stem}-{number}.csv", number + 1
    return found


class _Report:
    """What was brought, what waits, what was left out, each with its place."""

    def __init__(self, sheet: Understood, found: OwnRows, done: Merged, say: Say) -> None:
        self._sheet, self._found, self._done, self._say = sheet, found, done, say

    def tell(self, path: Path, week: Path, backup: Path | None, warnings: Sequence[Problem]) -> None:
        """Everything, the most important first."""
        done, sheet = self._done, self._sheet
        count = done.added + done.changed + done.same
        rows = f"{count} {'row' if count == 1 else 'rows'}"
        self._say(
            f"{sheet.sheet.file}: {rows} brought into {week / FILE}: {done.added} new, {done.changed} changed, "
            f"{done.same} as they were."
        )
        pairs = [f"{' '.join(one.their.split())} = {label_of(one.ours.partition(':')[0])}" for one in sheet.matches]
        self._say(f"Headings in row {sheet.heading_number}: {', '.join(pairs)}.")
        if sheet.not_read:
            self._say(f"Not read: {', '.join(' '.join(one.split()) for one in sheet.not_read)}.")
        if sheet.dates.order:
            self._say(f"Dates have the {sheet.dates.order}: {sheet.how_dates}.")
        for name, said in sheet.told.fill.items():
            self._say(f"No column for {shown(name)}: taken as {said} in every row.")
        self._told("Changed", done.changes)
        self._told("Brought, and to be completed", [str(one) for one in (*self._gaps(), *self._found.flagged)])
        self._told(
            "Taken for granted",
            [f"{sheet.sheet.file}:{row}: names no garments; taken as the row above: {it}" for row, it in done.as_above],
        )
        left_out = [*self._found.left_out, *self._twice()]
        self._told("Left out", [self._plain(one) for one in sorted(left_out, key=lambda one: one.row or 0)])
        self._told("In orders.csv and not in this sheet: kept as they are", done.kept)
        self._told("Odd, but no fault", [str(one) for one in warnings])
        self._told("To be mended before it can be planned", _faults_of(week))
        self._say("")
        if backup:
            self._say(f"The orders sheet as it was: {backup.name}.")
        quoted_week = f'"{week}"' if " " in str(week) else str(week)
        self._say(f"{path.name} itself was not changed. Next: pressweek check {quoted_week}")

    def _told(self, title: str, lines: Sequence[str]) -> None:
        if not lines:
            return
        self._say("")
        self._say(f"{title} ({len(lines)})")
        for line in lines[:MOST_TOLD]:
            self._say(f"- {line}")
        if len(lines) > MOST_TOLD:
            self._say(f"- and {len(lines) - MOST_TOLD} more")

    def _plain(self, problem: Problem) -> str:
        """A problem without an empty advice behind it."""
        return str(problem).removesuffix("; ")

    def _twice(self) -> list[Problem]:
        return [
            Problem(file=self._sheet.sheet.file, row=row, code="twice", message=why, hint="join the two rows")
            for row, why in self._done.twice
        ]

    def _gaps(self) -> list[Problem]:
        """One line for each row with gaps, and one for each heading their sheet has no column for."""
        sheet, found = self._sheet, []
        by_row: dict[int, list[str]] = {}
        nowhere: dict[str, list[int]] = {}
        for row, name in self._done.gaps:
            if sheet.has(name):
                by_row.setdefault(row, []).append(name)
            else:
                nowhere.setdefault(name, []).append(row)
        for name, rows in nowhere.items():
            numbers = ", ".join(str(row) for row in rows[:6]) + (", ..." if len(rows) > 6 else "")
            message = f"no column tells {MEANT.get(name, shown(name))} (row {numbers}): {_waits(name)}"
            found.append(Problem(file=sheet.sheet.file, code="gap", message=message, hint=_write_as(name)))
        for row, names in by_row.items():
            columns = ", ".join(" ".join(sheet.their(name).split()) for name in names)
            message = f"{'is' if len(names) == 1 else 'are'} empty: {_waits(*names)}"
            hint = _write_as(names[0]) if len(names) == 1 else "write them in orders.csv, or here and bring it again"
            found.append(
                Problem(file=sheet.sheet.file, row=row, column=columns, code="gap", message=message, hint=hint)
            )
        return sorted(found, key=lambda one: one.row or 0)


def _faults_of(week: Path) -> list[str]:
    """What keeps the week from being planned now, as `check` would tell it; half rows are no fault."""
    try:
        read_week(week)
    except InputError as fault:
        return [str(one) for one in fault.problems if not one.is_warning]
    return []


def _waits(*names: str) -> str:
    if not set(names) & set(WAITS):
        return "it is brought as it is"
    return f"the order waits until {'it is' if len(names) == 1 else 'they are'} told"


def _write_as(name: str) -> str:
    column = COLUMNS[ORDERS][name]
    return column.hint or f"write it as {column.example}"

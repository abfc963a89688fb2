"""Making sense of the shop's own sheet: which sheet, which headings, how its dates are meant.

What is not sure is asked once, or, where nobody may be asked, refused with what to write.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from zoneinfo import ZoneInfo

from scheduler.errors import Problem
from scheduler.inputs.bring.asking import Asker
from scheduler.inputs.bring.cell_words import Dates, dates_within, fits
from scheduler.inputs.bring.headings import SIZE, Match, heading_row, matched
from scheduler.inputs.bring.own_sheet import OwnSheet
from scheduler.inputs.bring.remembered import ABOVE, FILLED, LEFT_OUT, Remembered, label_of
from scheduler.inputs.bring.trade_words import word_key
from scheduler.inputs.columns import COLUMNS, ORDERS
from scheduler.inputs.faults import Faults, Place, nearest, quoted
from scheduler.inputs.moments import DAY_FIRST, MONTH_FIRST

WANTED = ("order", "client", "due", "garment", "pieces", "location", "inks")
"""Headings asked about by name where no column of theirs was taken for them."""

ASKED_FILLS = {
    "blanks": ("No column says whether the garments are there. Are they, for all rows?", "in", "all are in"),
    "art": ("No column says whether the art is approved. Is it, for all rows?", "ok", "all is approved"),
}
DATED = ("due", "in_hands", "blanks", "art", "deposit", "lock_at")
SHOWN_CELLS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """A sheet that can be read. headings: the row that holds them. matches: those that stand for something.

    told: what is remembered for the next time. how_dates: what told the order of day and month, in words.
    """

    sheet: OwnSheet
    heading_number: int
    data: tuple[tuple[int, list[str]], ...]
    matches: tuple[Match, ...]
    not_read: tuple[str, ...]
    dates: Dates
    how_dates: str
    told: Remembered

    def their(self, ours: str) -> str:
        """Their heading for one of ours; ours where they have none."""
        return next((one.their for one in self.matches if one.ours == ours), label_of(ours))

    def has(self, ours: str) -> bool:
        """True if one of their columns stands for this heading."""
        return any(one.ours == ours for one in self.matches)


def understood(
    sheets: Sequence[OwnSheet],
    told: Remembered,
    asker: Asker,
    faults: Faults,
    *,
    zone: ZoneInfo,
    today: date,
    shop_dates: str,
    machine_dates: str,
) -> Understood | None:
    """What the sheet says, or None with a fault noted. told is brought up to date with what was asked."""
    known = {word_key(their): ours for their, ours in told.headings.items()}
    found = _chosen_sheet(sheets, told, known, asker, faults)
    if found is None:
        return None
    sheet, place = found
    number, headings = sheet.rows[place]
    data = sheet.rows[place + 1 :]
    width = len(headings)
    columns = [[cells[at] for _, cells in data if at < len(cells) and cells[at]] for at in range(width)]
    matches = matched(headings, columns, known, fits(Dates(zone=zone, today=today)))
    matches = _all_told(sheet, number, matches, columns, asker)
    used = tuple(one for one in matches if one.ours)
    if not data:
        faults.add(Place(file=sheet.file), "no_rows", "holds headings and nothing below", "is it the right sheet?")
        return None
    if not {one.ours for one in used} & {"order", "client"}:
        message = "no column holds an order number or a client"
        hint = 'say which one with --map "THEIR HEADING=order"'
        faults.add(Place(file=sheet.file, row=number), "no_order", message, hint)
        return None
    told.headings |= {one.their: one.ours for one in matches if not one.ours.startswith(SIZE)}
    _fills(used, told, asker)
    _blank_orders(sheet, number, data, used, told, asker)
    texts = [
        (row, one.their, part)
        for row, cells in data
        for one in used
        if one.ours in DATED and one.column < len(cells) and cells[one.column]
        for part in dates_within(cells[one.column])
    ]
    base = Dates(zone=zone, today=today)
    order, how = _date_order(sheet, texts, base, told, shop_dates, machine_dates, asker, faults)
    told.sheet = sheet.title
    return Understood(
        sheet=sheet,
        heading_number=number,
        data=data,
        matches=used,
        not_read=tuple(one.their for one in matches if not one.ours),
        dates=replace(base, order=order),
        how_dates=how,
        told=told,
    )


def _chosen_sheet(
    sheets: Sequence[OwnSheet], told: Remembered, known: dict[str, str], asker: Asker, faults: Faults
) -> tuple[OwnSheet, int] | None:
    """The sheet with the orders and the place of its headings."""
    found = [(one, place) for one in sheets if (place := heading_row(one, known)) is not None]
    remembered = [one for one in found if told.sheet and one[0].title == told.sheet]
    if remembered:
        return remembered[0]
    if not found:
        file = sheets[0].file if len(sheets) == 1 else sheets[0].file.partition(" (")[0]
        message = "no headings are known among its first ten rows"
        hint = 'say what one of them means with --map "THEIR HEADING=order"'
        faults.add(Place(file=file), "no_headings", message, hint)
        return None
    if len(found) == 1:
        return found[0]
    problem = Problem(
        file=found[0][0].file.partition(" (")[0],
        code="which_sheet",
        message=f"has {len(found)} sheets that may hold the orders",
        hint=f"name one with --sheet {quoted(found[0][0].title)}",
    )
    options = [(str(at), f"{one.title} ({len(one.rows) - place - 1} rows)") for at, (one, place) in enumerate(found)]
    return found[int(asker.choose("Which sheet holds the orders?", options, problem))]


def _all_told(
    sheet: OwnSheet, number: int, matches: Sequence[Match], columns: Sequence[Sequence[str]], asker: Asker
) -> tuple[Match, ...]:
    """Every heading with its meaning: unsure ones asked about, then those of ours that none was taken for."""
    found = {one.column: one for one in matches}
    for one in matches:
        taken = {other.ours for other in found.values() if other.ours}
        left = [name for name in one.candidates if name not in taken]
        if one.is_sure or not left:
            found[one.column] = replace(one, is_sure=True)
            continue
        options = [*((name, label_of(name)) for name in left), ("", "none of these: it is not read")]
        text = f"What is the column {_shown(one, columns)}?"
        ours = asker.choose(text, options, _unsure(sheet, number, one, left))
        found[one.column] = replace(one, ours=ours, is_sure=True, is_told=True)
    if asker.may_ask:
        _ask_for_wanted(found, columns, asker)
    return tuple(found[one.column] for one in matches)


def _ask_for_wanted(found: dict[int, Match], columns: Sequence[Sequence[str]], asker: Asker) -> None:
    for name in WANTED:
        taken = {one.ours for one in found.values() if one.ours}
        spare = [one for one in found.values() if not one.ours and not one.is_told and columns[one.column]]
        if name in taken or (name == "due" and "in_hands" in taken) or not spare:
            continue
        options = [("", "none of these"), *((str(one.column), _shown(one, columns)) for one in spare)]
        nobody = Problem(file="", code="", message="", hint="")
        meaning = COLUMNS[ORDERS][name].meaning.partition(";")[0]
        picked = asker.choose(f"Which column is the {label_of(name)} ({meaning})?", options, nobody)
        if picked:
            found[int(picked)] = replace(found[int(picked)], ours=name, is_told=True)


def _shown(one: Match, columns: Sequence[Sequence[str]]) -> str:
    """A heading of theirs with a few of its cells."""
    cells = [" ".join(cell.split())[:24] for cell in dict.fromkeys(columns[one.column])][:SHOWN_CELLS]
    return f"'{' '.join(one.their.split())}'" + (f" ({', '.join(cells)}, ...)" if cells else "")


def _unsure(sheet: OwnSheet, number: int, one: Match, left: Sequence[str]) -> Problem:
    their = " ".join(one.their.split())
    return Problem(
        file=sheet.file,
        row=number,
        column=their,
        value=their,
        code="unsure_heading",
        message=f"{quoted(their)} may be {' or '.join(label_of(name) for name in left)}",
        hint=f'say which with --map "{their}={left[0]}", or --map "{their}=" if it is not to be read',
    )


def _fills(used: Sequence[Match], told: Remembered, asker: Asker) -> None:
    """What all rows say where their sheet has no such column."""
    have = {one.ours for one in used}
    told.fill = {name: said for name, said in told.fill.items() if name in FILLED and name not in have}
    for name, (text, value, label) in ASKED_FILLS.items():
        if name not in have and name not in told.fill and asker.may_ask:
            options = [("?", "nobody knows yet: the orders wait"), (value, label)]
            nobody = Problem(file="", code="", message="", hint="")
            told.fill[name] = asker.choose(text, options, nobody)


def _blank_orders(
    sheet: OwnSheet,
    number: int,
    data: Sequence[tuple[int, list[str]]],
    used: Sequence[Match],
    told: Remembered,
    asker: Asker,
) -> None:
    """Whether a row without an order number belongs to the order above it."""
    at = next((one.column for one in used if one.ours == "order"), None)
    if at is None or told.blank_order:
        return
    others = [one.column for one in used if one.ours in ("garment", "location", "inks", "design")]
    blank = [
        row
        for row, cells in data
        if not (at < len(cells) and cells[at]) and any(column < len(cells) and cells[column] for column in others)
    ]
    if not blank:
        return
    rows = ", ".join(str(row) for row in blank[:4]) + (", ..." if len(blank) > 4 else "")
    options = [(ABOVE, "yes, to the order above them"), (LEFT_OUT, "no, leave them out")]
    if not asker.may_ask:
        return  # such rows are left out and told
    nobody = Problem(file=sheet.file, row=number, code="", message="", hint="")
    text = f"Rows without an order number ({rows}): do they belong to the order above?"
    told.blank_order = asker.choose(text, options, nobody)


def _date_order(
    sheet: OwnSheet,
    texts: Sequence[tuple[int, str, str]],
    base: Dates,
    told: Remembered,
    shop_dates: str,
    machine_dates: str,
    asker: Asker,
    faults: Faults,
) -> tuple[str, str]:
    """The order of day and month, and what told it; ("", "") where no date needs one."""
    only: dict[str, list[tuple[int, str, str]]] = {DAY_FIRST: [], MONTH_FIRST: []}
    unclear: list[tuple[int, str, str]] = []
    for cell in texts:
        readable = {order: replace(base, order=order).read(cell[2]) for order in only}
        if None not in readable.values() and len(set(readable.values())) > 1:
            unclear.append(cell)
        for order, other in ((DAY_FIRST, MONTH_FIRST), (MONTH_FIRST, DAY_FIRST)):
            if readable[order] is not None and readable[other] is None:
                only[order].append(cell)
    if told.dates:
        return told.dates, "as told before"
    if only[DAY_FIRST] and only[MONTH_FIRST]:
        (row, their, text), (_, _, other) = only[MONTH_FIRST][0], only[DAY_FIRST][0]
        if unclear:
            message = f"{quoted(text)} has the month first and {quoted(other)} the day"
            hint = "write them all one way, or say which with --dates"
            faults.add(Place(file=sheet.file, row=row, column=their), "both_orders", message, hint, text)
        return "", ""
    for order, cells in only.items():
        if cells:
            told.dates = order
            return order, f"'{cells[0][2]}' can be nothing else"
    if not unclear:
        return "", ""
    if shop_dates:
        return shop_dates, "as the shop's settings say"
    row, their, text = unclear[0]
    meant = {order: replace(base, order=order).read(text) for order in only}
    first = machine_dates or DAY_FIRST
    options = [
        (order, f"{order}: {meant[order]:%d %B %Y}") for order in (first, *(one for one in only if one != first))
    ]
    message, hint = f"{quoted(text)} does not say which number is the month", f'say it with --dates "{first}"'
    problem = Problem(file=sheet.file, row=row, column=their, value=text, code="two_ways", message=message, hint=hint)
    told.dates = asker.choose(f"Dates as '{text}': which comes first?", options, problem)
    return told.dates, "as you said"


def told_headings(pairs: Sequence[str], headings: Sequence[str], faults: Faults, file: str) -> None:
    """Note a heading named on the command line that their sheet has not."""
    keys = {word_key(one) for one in headings}
    for their in pairs:
        if word_key(their) not in keys:
            near = nearest(their, [one for one in headings if one])
            hint = f"did you mean {quoted(near)}?" if near else "look at the sheet's own headings"
            faults.add(Place(file=file, column=their), "no_such_heading", f"has no heading {quoted(their)}", hint)

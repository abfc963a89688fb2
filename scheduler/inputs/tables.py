"""Tables as rows that know their true line: CSV files, and the checks of headings that worksheets share.

Ids stay text ("NA", "007"), quoted line breaks and blank lines do not shift line numbers, and a file that is no text,
too large or broken is told in one sentence.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import Faults, Place, nearest, quoted
from scheduler.inputs.letters import visible

MOST_BYTES = 20_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 200
LONGEST_CELL = 2_000
NO_ROWS = "no_rows"

SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab"}

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")

NO_VALUE_HINT = "open the workbook, let it calculate and save it, or write the value"

Unsaid = Mapping[tuple[int, int], str]
"""What is wrong with a worksheet's formulas that say nothing, by row and column (from 0)."""

NumberedCells = tuple[int, list[str]]
"""(line, cells) as they stand in the file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row: its line or worksheet row, its cells that are not empty, and headings whose cells are faulty already."""

    number: int
    cells: Mapping[str, str]
    faulty: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One sheet of a week. file: what messages call it. is_whole: every row could be read: look-ups can be trusted."""

    sheet: str
    file: str
    rows: tuple[Row, ...] = ()
    is_whole: bool = True

    def place(self, row: int | None, column: str | None = None) -> Place:
        """A place in this table."""
        return Place(file=self.file, row=row, column=column)


def read_bytes(path: Path, faults: Faults) -> bytes | None:
    """What a file holds; None, and a fault noted, if it cannot be read or is too large."""
    place = Place(file=path.name)
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            hint = f"keep it below {MOST_BYTES // 1_000_000} MB: is it the right file?"
            faults.add(place, "too_large", f"holds {size / 1_000_000:,.0f} MB", hint)
            return None
        return path.read_bytes()
    except FileNotFoundError:
        faults.add(place, "cannot_read", "is not there", "look at its name, and at the folder you are in")
        return None
    except OSError as fault:
        why = (fault.strerror or type(fault).__name__).lower()
        faults.add(place, "cannot_read", f"cannot be read ({why})", "close it elsewhere, or look at its rights")
        return None


def text_of(raw: bytes, file: str, faults: Faults) -> str | None:
    """The file as text with plain line ends and no unseen signs; None, and a fault noted, if it is none.

    UTF-8 with or without a mark at its start; else Windows-1252, with a warning.
    """
    place = Place(file=file)
    hint = "save it as CSV UTF-8" if file.endswith(".csv") else "save it as text in UTF-8"
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        faults.add(place, "not_utf8", "is text in UTF-16", hint)
        return None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        try:
            text = raw.decode("cp1252")
        except UnicodeDecodeError:
            faults.add(place, "not_text", "is not text in UTF-8 or Windows-1252", hint)
            return None
        faults.warn(
            place, "windows_1252", "is not UTF-8; it was read as Windows-1252", f"look at names with accents, or {hint}"
        )
    text = visible(text.replace("\r\n", "\n").replace("\r", "\n"))
    control = _CONTROL.search(text)
    if control:
        line = text.count("\n", 0, control.start()) + 1
        faults.add(Place(file=file, row=line), "not_text", "holds signs that are no text", hint)
        return None
    return text


def read_csv(sheet: str, file: str, raw: bytes, faults: Faults) -> Table:
    """A CSV file as a table; what cannot be read is noted, and the table is then not whole."""
    rows = csv_records(sheet, file, raw, faults)
    return Table(sheet=sheet, file=file, is_whole=False) if rows is None else table_of(sheet, file, rows, faults)


def csv_records(sheet: str, file: str, raw: bytes, faults: Faults) -> list[NumberedCells] | None:
    """Every filled line of a CSV file as it stands, headings first, unknown columns too; None if it cannot be read."""
    text = text_of(raw, file, faults)
    if text is None:
        return None
    lines, first_line = text, 1
    separator = None
    told = re.match(r"sep=(.)\n", text, re.IGNORECASE)
    if told and told[1] in SEPARATORS:
        separator, lines, first_line = told[1], text[told.end() :], 2
    return records(lines, separator or sniff(lines, sheet), first_line, file, faults)


def sniff(text: str, sheet: str) -> str:
    """The separator under which the first filled line holds the most known headings; a comma if none does."""
    head = next((line for line in text.split("\n") if line.strip(" ,;\t")), "")

    def known(separator: str) -> int:
        cells = next(csv.reader([head], delimiter=separator), [])
        return len({heading_key(cell) for cell in cells} & set(COLUMNS[sheet]))

    return max(SEPARATORS, key=known)


def records(text: str, separator: str, first_line: int, file: str, faults: Faults) -> list[NumberedCells] | None:
    """Every record with the line it starts on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    found: list[NumberedCells] = []
    starts = first_line
    try:
        for cells in reader:
            if len(found) > MOST_ROWS:
                hint = f"keep it below {MOST_ROWS:,} rows: is it the right file?"
                faults.add(Place(file=file, row=starts), "too_many_rows", f"has more than {MOST_ROWS:,} rows", hint)
                return None
            if any(cell.strip() for cell in cells):
                found.append((starts, cells))
            starts = reader.line_num + first_line
    except csv.Error:
        hint = 'close every quote, and write a quote inside a cell twice: "the ""big"" one"'
        faults.add(Place(file=file, row=starts), "broken_quotes", "has a quote that does not end", hint)
        return None
    return found


def table_of(
    sheet: str, file: str, rows: Sequence[NumberedCells], faults: Faults, unsaid: Unsaid | None = None
) -> Table:
    """Rows under checked headings. The first row holds the headings; what is odd or missing is noted."""
    broken = Table(sheet=sheet, file=file, is_whole=False)
    if not rows:
        faults.add(Place(file=file), "empty", "is empty", f"give it the headings {_needed_in_words(sheet)}")
        return broken
    line, headings = rows[0]
    by_place = _headings(sheet, Place(file=file, row=line), headings, faults)
    if by_place is None:
        return broken
    found = [
        Row(
            number=number,
            cells=_cells(by_place, Place(file=file, row=number), cells, faults),
            faulty=_tell_unsaid(by_place, Place(file=file, row=number), unsaid or {}, faults),
        )
        for number, cells in rows[1:]
    ]
    kept = tuple(row for row in found if row.cells or row.faulty)
    _tell_unheaded(file, line, headings, rows[1:], faults)
    if sheet == ORDERS and not kept:
        faults.add(Place(file=file), NO_ROWS, "holds headings and no orders", "add a row for each print location")
    return Table(sheet=sheet, file=file, rows=kept, is_whole=bool(kept) or sheet != ORDERS)


def _headings(sheet: str, place: Place, headings: Sequence[str], faults: Faults) -> dict[int, str] | None:
    """Known headings by their place in the row; None if a needed one is missing."""
    known = COLUMNS[sheet]
    if len(headings) > MOST_COLUMNS:
        faults.add(place, "too_many_columns", f"has {len(headings)} columns", f"keep it below {MOST_COLUMNS}")
        return None
    found: dict[int, str] = {}
    strangers: list[str] = []
    for number, heading in enumerate(headings):
        key = heading_key(heading)
        if key in found.values():
            faults.add(
                place.at(key), "heading_twice", f"heading {quoted(heading)} stands here twice", "keep one of them"
            )
        elif key in known:
            found[number] = key
        elif heading.strip():
            strangers.append(" ".join(heading.split()))
    missing = [one.name for one in known.values() if one.is_needed and one.name not in found.values()]
    if sheet == ORDERS and "in_hands" in found.values():
        missing = [one for one in missing if one != "due"]
    for name in missing:
        near = nearest(shown(name), strangers)
        if near in strangers:
            strangers.remove(near)
        meant = f"rename {quoted(near)} to {shown(name)}" if near else f"add it, with cells as {known[name].example}"
        faults.add(place.at(name), "no_heading", f"the heading {quoted(shown(name))} is missing", meant)
    for stranger in strangers:
        near = nearest(stranger, [shown(name) for name in known if name not in found.values()])
        hint = f"did you mean {near}?" if near else "nothing to do if it is for your own use"
        faults.warn(place.at(stranger), "unknown_heading", f"the column {quoted(stranger)} is not read", hint)
    return None if missing else found


def _cells(by_place: Mapping[int, str], place: Place, cells: Sequence[str], faults: Faults) -> dict[str, str]:
    found: dict[str, str] = {}
    for number, name in by_place.items():
        text = unicodedata.normalize("NFC", cells[number]).strip() if number < len(cells) else ""
        if len(text) > LONGEST_CELL:
            message = f"{quoted(text)} is {len(text):,} letters long"
            faults.add(place.at(name), "too_long", message, f"write at most {LONGEST_CELL:,}")
        elif text:
            found[name] = text
    return found


def _tell_unsaid(by_place: Mapping[int, str], place: Place, unsaid: Unsaid, faults: Faults) -> frozenset[str]:
    """Headings under which this row has a formula that says nothing; each is a fault."""
    found = {name: unsaid[place.row or 0, column] for column, name in by_place.items() if (place.row, column) in unsaid}
    for name, what in found.items():
        faults.add(place.at(name), "no_value", what, NO_VALUE_HINT)
    return frozenset(found)


def _tell_unheaded(
    file: str, line: int, headings: Sequence[str], rows: Iterable[NumberedCells], faults: Faults
) -> None:
    """Cells without a heading: in a line longer than the headings a fault (a comma too many), else a warning."""
    told: set[int] = set()
    for number, cells in rows:
        extra = [cell for cell in cells[len(headings) :] if cell.strip()]
        if extra:
            message = f"has {len(cells)} cells under {len(headings)} headings"
            hint = 'put a cell that holds the separator in quotes, as "white, red"'
            faults.add(Place(file=file, row=number), "too_many_cells", message, hint, extra[0])
        for place, cell in enumerate(cells[: len(headings)]):
            if cell.strip() and not headings[place].strip() and place not in told:
                told.add(place)
                message = f"column {place + 1} has no heading and is not read"
                faults.warn(Place(file=file, row=line), "unknown_heading", message, "give it one, or empty it")


def _needed_in_words(sheet: str) -> str:
    return ", ".join(shown(one.name) for one in COLUMNS[sheet].values() if one.is_needed)

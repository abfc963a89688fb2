"""Rows of the shop's own sheet in the words of ours: what is brought, what of it is odd, what is left out and why."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from scheduler.errors import Problem
from scheduler.inputs.bring import cell_words
from scheduler.inputs.bring.headings import SIZE
from scheduler.inputs.bring.remembered import ABOVE
from scheduler.inputs.bring.trade_words import GARMENT_COLOUR, STATUS, TIME_DUE, word_key
from scheduler.inputs.bring.understanding import Understood
from scheduler.inputs.columns import UNTOLD, shown
from scheduler.inputs.faults import CellError, key_of, quoted
from scheduler.inputs.shop_people import COLLECTED
from scheduler.inputs.tables import LONGEST_CELL

TOTAL_WORDS = re.compile(r"\s*(?:grand\s+|sub-?\s*)?(?:total|totals|sum|sums)\b.*", re.IGNORECASE | re.DOTALL)
COUNTED = ("pieces", "sizes", "late", "rate", "run", "set_up")
MEANT = {
    "due": "the date",
    "in_hands": "the date",
    "garment": "the garments",
    "shade": "light or dark",
    "pieces": "how many pieces",
    "location": "the print location",
    "inks": "the inks",
    "blanks": "whether the garments are there",
    "art": "whether the art is approved",
}
"""What a cell tells, under the headings for which an order may wait: there one that cannot be read becomes "?"."""

WAITS = (*UNTOLD, "blanks", "art", "deposit")

PLACES_OF_ONE_PRINT = re.compile(r"\s*(?:/|\+|&|,|\band\b)\s*", re.IGNORECASE)


@dataclass(slots=True, kw_only=True)
class BroughtRow:
    """One row. number: in their sheet. cells: filled ones by our heading."""

    number: int
    cells: dict[str, str]


@dataclass(slots=True, kw_only=True)
class OwnRows:
    """Everything their sheet says. flagged: what was brought otherwise than it stands, or waits. left_out: rows."""

    rows: list[BroughtRow] = field(default_factory=list)
    flagged: list[Problem] = field(default_factory=list)
    left_out: list[Problem] = field(default_factory=list)


def own_rows(sheet: Understood, parsers: Mapping[str, Callable[[str], Any]]) -> OwnRows:
    """Every row below the headings. parsers: what reads our cells, for this shop."""
    reading = _Reading(sheet, parsers)
    for number, texts in sheet.data:
        reading.add(number, texts)
    return reading.found


class _Reading:
    def __init__(self, sheet: Understood, parsers: Mapping[str, Callable[[str], Any]]) -> None:
        self._sheet, self._parsers = sheet, parsers
        self.found = OwnRows()
        self._headings = {word_key(one.their) for one in sheet.matches}

    def _problem(self, number: int, ours: str, text: str, code: str, message: str, hint: str) -> Problem:
        column = " ".join(self._sheet.their(ours).split()) if ours else None
        return Problem(
            file=self._sheet.sheet.file,
            row=number,
            column=column,
            value=text,
            code=code,
            message=message,
            hint=hint,
            is_warning=True,
        )

    def _flag(self, number: int, ours: str, text: str, code: str, message: str, hint: str) -> None:
        self.found.flagged.append(self._problem(number, ours, text, code, message, hint))

    def _leave_out(self, number: int, ours: str, text: str, code: str, message: str, hint: str) -> None:
        self.found.left_out.append(self._problem(number, ours, text, code, message, hint))

    def add(self, number: int, texts: Sequence[str]) -> None:
        """Take in one row, or say why not."""
        typed = {
            one.ours: texts[one.column] for one in self._sheet.matches if one.column < len(texts) and texts[one.column]
        }
        filled = [text for text in texts if text]
        if not typed:
            self._leave_out(number, "", filled[0], "nothing", f"{quoted(filled[0])}: no cell of it is read", "")
        elif len(self._headings) > 1 and sum(1 for text in filled if word_key(text) in self._headings) * 2 > len(
            filled
        ):
            self._leave_out(number, "", "", "headings_again", "the headings once more", "nothing to do")
        elif self._is_total(typed, filled):
            self._leave_out(
                number, "", filled[0], "total", f"{quoted(filled[0])} starts a row of sums", "nothing to do"
            )
        elif len(filled) == 1:
            message = f"{quoted(filled[0])} stands alone in its row"
            self._leave_out(number, "", filled[0], "alone", message, "nothing to do if it is a title")
        elif STATUS in typed and cell_words.is_done(typed[STATUS], self._sheet.their(STATUS)):
            message = f"{quoted(typed[STATUS])} says that it is done"
            self._leave_out(number, STATUS, typed[STATUS], "done", message, "clear that cell if it is not")
        else:
            self._bring(number, typed)

    def _is_total(self, typed: Mapping[str, str], filled: Sequence[str]) -> bool:
        """True for a row that adds up the others: it says total, or holds nothing but numbers and no order."""
        words = {name for name in typed if name not in COUNTED and not name.startswith(SIZE)}
        if any(TOTAL_WORDS.fullmatch(text) for text in filled[:2]):
            return len(words) <= 1
        return not words

    def _bring(self, number: int, typed: Mapping[str, str]) -> None:
        cells, spare = self._cells(number, typed)
        row = BroughtRow(number=number, cells=cells)
        if self._sheet.has("order"):
            if "order" not in cells:
                above = self.found.rows[-1] if self.found.rows else None
                if self._sheet.told.blank_order != ABOVE or above is None:
                    hint = "write its number, or the order's number in each of its rows"
                    self._leave_out(number, "order", "", "no_order", "has no order number", hint)
                    return
                cells["order"] = above.cells["order"]
        elif not self._named_by_client(number, cells):
            return
        if "due" in cells and "in_hands" in cells:
            # An order has one of the two; if both are told, the day it must leave is the one that is planned for.
            other = "due" if cells["due"] == "?" else "in_hands"
            said = cells.pop(other)
            spare += [(self._sheet.their(other), said)] if said != "?" else []
        if spare:
            note = "; ".join(f"{their}: {text}" for their, text in spare)
            kept = cells.get("note", "")[: max(0, LONGEST_CELL - len(note) - 2)]
            cells["note"] = (f"{kept}; {note}" if kept else note)[:LONGEST_CELL]
        if "note" in cells:
            cells["note"] = cells["note"][:LONGEST_CELL]
        self.found.rows.append(row)

    def _named_by_client(self, number: int, cells: dict[str, str]) -> bool:
        """Without order numbers, rows of one client with one date are one order, named after both."""
        if "client" not in cells:
            hint = "write who it is for: the sheet has no order numbers"
            self._leave_out(number, "client", "", "no_client", "has no client", hint)
            return False
        day = cells.get("due", cells.get("in_hands", ""))[:10]
        cells["order"] = f"{cells['client']} {day}".strip()
        return True

    def _cells(self, number: int, typed: Mapping[str, str]) -> tuple[dict[str, str], list[tuple[str, str]]]:
        """Our cells, and (their heading, text) of what found no place in them."""
        cells: dict[str, str] = {}
        spare: list[tuple[str, str]] = []
        for ours, whole in typed.items():
            text = whole
            if len(whole) > LONGEST_CELL:
                text = whole[:LONGEST_CELL]
                message = f"{quoted(whole)} is {len(whole):,} letters long"
                self._flag(number, ours, whole, "too_long", message, f"its first {LONGEST_CELL:,} are brought")
            if ours in (GARMENT_COLOUR, STATUS, TIME_DUE) or ours.startswith(SIZE):
                continue
            said = self._said(ours, text)
            if said is not None:
                cells[ours] = said
                self._tell_odd(number, ours, text, said)
                continue
            spare.append((self._sheet.their(ours), " ".join(text.split())))
            if ours in WAITS:
                cells[ours] = "?"
                message = f"{quoted(text)} does not tell {MEANT[ours]}: the order waits"
                hint = f"write it under {shown(ours)}; the text is kept in the note"
                self._flag(number, ours, text, "unread_cell", message, hint)
            else:
                message = f"{quoted(text)} cannot be read as {shown(ours)}"
                self._flag(number, ours, text, "unread_cell", message, "it is kept in the note")
        self._join(number, typed, cells, spare)
        return cells, spare

    def _said(self, ours: str, text: str) -> str | None:
        """A cell in our words; None where it does not tell."""
        dates = self._sheet.dates
        if key_of(text) in ("?", "??") and ours in WAITS:
            return "?"
        if ours in ("due", "in_hands"):
            return cell_words.due(text, dates)
        if ours in ("blanks", "art", "deposit"):
            return cell_words.arrival(text, "in" if ours == "blanks" else "ok", dates)
        by_words: dict[str, Callable[[str], str | None]] = {
            "pieces": cell_words.pieces,
            "inks": cell_words.inks,
            "shade": cell_words.shade,
            "firm": cell_words.firm,
        }
        if ours in by_words:
            text = by_words[ours](text) or ""
        elif ours == "carrier" and key_of(text) in cell_words.COLLECTED_WORDS:
            text = COLLECTED
        try:
            if text:
                self._parsers[ours](text)
        except CellError:
            return None
        return text or None

    def _tell_odd(self, number: int, ours: str, text: str, said: str) -> None:
        """Flag what was brought, but hardly as it was meant."""
        if ours == "location" and len([one for one in PLACES_OF_ONE_PRINT.split(text) if one.strip()]) > 1:
            message = f"{quoted(text)} names several places and is brought as one print"
            self._flag(number, ours, text, "several_places", message, "write a row for each print location")
        elif ours in ("due", "in_hands") and not cell_words.has_year(text):
            message = f"{quoted(text)} names no year; {said} was taken"
            self._flag(number, ours, text, "no_year", message, "nothing to do if that is right")

    def _join(self, number: int, typed: Mapping[str, str], cells: dict[str, str], spare: list[tuple[str, str]]) -> None:
        """What becomes part of another cell: the garment's colour, the clock time, sizes in columns of their own."""
        colour = " ".join(typed.get(GARMENT_COLOUR, "").split())
        if colour and cells.get("garment", "?") == "?":
            cells["garment"] = colour
        elif colour and key_of(colour) not in key_of(cells["garment"]):
            cells["garment"] = f"{colour} {cells['garment']}"
        if TIME_DUE in typed:
            name = "due" if "due" in cells else "in_hands"
            day = cells.get(name, "?")
            whole = cell_words.due(f"{day} {typed[TIME_DUE]}", self._sheet.dates) if len(day) == 10 else None
            if whole is None or len(whole) == 10:
                spare.append((self._sheet.their(TIME_DUE), typed[TIME_DUE]))
            else:
                cells[name] = whole
        self._join_sizes(number, typed, cells)

    def _join_sizes(self, number: int, typed: Mapping[str, str], cells: dict[str, str]) -> None:
        counts = {
            ours.removeprefix(SIZE): cell_words.pieces(text) for ours, text in typed.items() if ours.startswith(SIZE)
        }
        told = {size: int(count) for size, count in counts.items() if count is not None}
        if not told:
            return
        cells.setdefault("sizes", ", ".join(f"{size} {count}" for size, count in told.items()))
        total = sum(told.values())
        if cells.get("pieces", "?") == "?":
            cells["pieces"] = str(total)
        elif cells["pieces"] != str(total):
            message = f"its sizes make {total} pieces, not {cells['pieces']}"
            self._flag(number, "pieces", cells["pieces"], "sizes_do_not_sum", message, "the sizes are kept in its note")
            note = cells.pop("sizes")
            cells["note"] = f"{cells['note']}; {note}" if "note" in cells else note

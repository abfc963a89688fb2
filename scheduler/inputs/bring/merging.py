"""Brought rows merged into the orders sheet: new ones added, known ones changed cell by cell, nothing taken out.

A row is known by its order, garments and print location. What their sheet leaves empty stays as it is here; a "?" never
replaces something that is told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from scheduler.domain.orders import DesignRecord
from scheduler.inputs.bring.orders_file import OrdersFile
from scheduler.inputs.bring.own_rows import BroughtRow
from scheduler.inputs.columns import shown
from scheduler.inputs.faults import CellError, key_of, quoted
from scheduler.inputs.garment_words import shade_of

OF_ORDER = ("client", "due", "in_hands", "firm", "carrier", "late", "finish", "deposit")
OF_LOT = ("pieces", "blanks")
OPEN = "?"
UNKNOWN = ("", OPEN)

Key = tuple[str, str, str]
"""Order, garments and location, by what their spellings have in common."""

Parsers = Mapping[str, Callable[[str], Any]]


@dataclass(slots=True, kw_only=True)
class Merged:
    """What merging did, in rows.

    changes, kept: sentences for people. twice: (their row, why it is left out). as_above: (their row, what it was taken
    to say). gaps: (their row, heading of ours that is "?").
    """

    added: int = 0
    changed: int = 0
    same: int = 0
    changes: list[str] = field(default_factory=list)
    twice: list[tuple[int, str]] = field(default_factory=list)
    as_above: list[tuple[int, str]] = field(default_factory=list)
    gaps: list[tuple[int, str]] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)


def merge(
    sheet: OrdersFile,
    brought: Iterable[BroughtRow],
    parsers: Parsers,
    designs: Mapping[str, DesignRecord],
    fill: Mapping[str, str],
) -> Merged:
    """Bring rows into the sheet. designs: remembered ones by key; their inks need not be told again.

    fill: what an empty cell says where their sheet has no such column.
    """
    merging = _Merging(sheet, parsers, designs, fill)
    for row in brought:
        merging.bring(row)
    merging.say_the_same()
    merging.mark_gaps()
    merging.tell_kept()
    return merging.done


class _Merging:
    def __init__(
        self, sheet: OrdersFile, parsers: Parsers, designs: Mapping[str, DesignRecord], fill: Mapping[str, str]
    ) -> None:
        self._sheet, self._parsers, self._designs, self._fill = sheet, parsers, designs, fill
        self.done = Merged()
        self._before = [(row, self._key_of(row)) for row in sheet.rows]
        self._of_order: dict[str, list[list[str]]] = {}
        self._free: dict[str, list[list[str]]] = {}
        for row, key in self._before:
            self._of_order.setdefault(key[0], []).append(row)
            self._free.setdefault(key[0], []).append(row)
        self._brought: list[tuple[BroughtRow, list[str]]] = []
        self._seen: dict[Key, int] = {}

    def _key_of(self, row: list[str]) -> Key:
        get = self._sheet.get
        return key_of(get(row, "order")), key_of(get(row, "garment") or OPEN), key_of(get(row, "location") or OPEN)

    def bring(self, row: BroughtRow) -> None:
        """One row of theirs: into its own row here, or a new one."""
        self._say_as_above(row)
        order, garment, location = (key_of(row.cells.get(name, OPEN)) for name in ("order", "garment", "location"))
        key = (order, garment, location)
        twin = self._seen.setdefault(key, row.number)
        if twin != row.number and OPEN not in key:
            self.done.twice.append((row.number, f"stands in row {twin} already: same order, garments and location"))
            return
        own = self._known(key)
        if own is None:
            same = self._of_order.setdefault(order, [])
            own = self._sheet.add(same[-1] if same else None)
            same.append(own)
            for name, text in row.cells.items():
                self._sheet.put(own, name, text)
            self.done.added += 1
        elif self._change(own, row):
            self.done.changed += 1
        else:
            self.done.same += 1
        self._brought.append((row, own))

    def _say_as_above(self, row: BroughtRow) -> None:
        """A row below one of the same order that names no garments is about the same ones; told as an assumption."""
        if "garment" in row.cells or "location" not in row.cells or not self._brought:
            return
        above = self._brought[-1][0].cells
        if key_of(above["order"]) != key_of(row.cells["order"]) or above.get("garment", OPEN) == OPEN:
            return
        said = [above["garment"]]
        row.cells["garment"] = above["garment"]
        if "art" not in row.cells and "art" in above:
            row.cells["art"] = above["art"]
            said.append(f"art {above['art']}")
        self.done.as_above.append((row.number, ", ".join(said)))

    def _known(self, key: Key) -> list[str] | None:
        """The row here that is meant: the same one, or one whose garments or location were open until now."""
        free = self._free.get(key[0], [])
        exact = [row for row in free if self._key_of(row) == key]
        open_here = [
            row
            for row in free
            if OPEN in self._key_of(row)[1:]
            and all(one in (OPEN, other) for one, other in zip(self._key_of(row)[1:], key[1:], strict=True))
        ]
        found = exact[0] if exact else open_here[0] if len(open_here) == 1 else None
        if found is not None:
            self._free[key[0]] = [row for row in free if row is not found]
        return found

    def _change(self, own: list[str], row: BroughtRow) -> bool:
        """Write what differs; True if anything did."""
        what = self._what(own)
        is_changed = False
        for name, text in row.cells.items():
            there = self._sheet.get(own, name)
            if there == text or (text == OPEN and there) or self._means_same(name, there, text):
                continue
            if name in ("due", "in_hands"):
                self._drop_other_date(own, name)
            self._sheet.put(own, name, text)
            self.done.changes.append(f"{what}: {shown(name)} {quoted(there) if there else 'empty'} -> {quoted(text)}")
            is_changed = True
            if name in OF_ORDER:
                self._carry_over(own, name, there, text)
        return is_changed

    def _drop_other_date(self, own: list[str], name: str) -> None:
        other = "in_hands" if name == "due" else "due"
        if self._sheet.get(own, other):
            self._sheet.put(own, other, "")

    def _carry_over(self, own: list[str], name: str, before: str, text: str) -> None:
        """What holds for the whole order changes in its other rows too, where it said the same before."""
        for row in self._of_order[self._key_of(own)[0]]:
            if row is not own and before and self._sheet.get(row, name) == before:
                self._sheet.put(row, name, text)

    def _means_same(self, name: str, there: str, text: str) -> bool:
        if key_of(there) == key_of(text):
            return name not in ("note", "sizes")
        try:
            return bool(there) and bool(self._parsers[name](there) == self._parsers[name](text))
        except (CellError, KeyError):
            return False

    def _what(self, own: list[str]) -> str:
        order, location, garment = (self._sheet.get(own, name) for name in ("order", "location", "garment"))
        return ", ".join(part for part in (f"{order} {location}".strip(), garment) if part)

    def say_the_same(self) -> None:
        """What all rows say where their sheet has no such column, unless something else is told here."""
        for _, own in self._brought:
            for name, text in self._fill.items():
                if not self._sheet.get(own, name):
                    self._sheet.put(own, name, text)

    def mark_gaps(self) -> None:
        """Write "?" where nothing tells what is needed: the order then waits instead of being a fault."""
        for row, own in self._brought:
            for name in self._gaps(own):
                if not self._sheet.get(own, name):
                    self._sheet.put(own, name, OPEN)
                if name not in row.cells and name not in self._fill:
                    self.done.gaps.append((row.number, name))

    def _gaps(self, own: list[str]) -> list[str]:
        """Headings of ours that neither this row nor another one of its order, garments or print tells."""
        key, get = self._key_of(own), self._sheet.get
        order = self._of_order[key[0]]
        # A row without its place is not read any further, so nothing it says helps another one.
        placed = [one for one in order if one is own or OPEN not in self._key_of(one)]
        lot = [one for one in placed if self._key_of(one)[1] == key[1]]
        here = [one for one in placed if self._key_of(one)[2] == key[2]]
        named = {key_of(get(one, "design")) for one in here} - {""}
        design = {id(one): key_of(get(one, "design")) or (min(named) if len(named) == 1 else "") for one in here}
        prints = [one for one in here if design[id(one)] == design[id(own)]]

        def is_open(rows: list[list[str]], *names: str) -> bool:
            return all(get(one, name) in UNKNOWN for one in rows for name in names)

        gaps = [name for name in ("garment", "location") if is_open([own], name)]
        gaps += [] if not is_open(order, "client") else ["client"]
        gaps += [] if not is_open(order, "due", "in_hands") else ["due"]
        gaps += [name for name in OF_LOT if is_open(lot, name)]
        if is_open(lot, "shade") and shade_of(get(own, "garment")) is None:
            gaps.append("shade")
        if is_open(prints, "inks") and not self._remembers_inks(own):
            gaps.append("inks")
        return [*gaps, "art"] if is_open(prints, "art") else gaps

    def _remembers_inks(self, own: list[str]) -> bool:
        found = self._designs.get(key_of(self._sheet.get(own, "design")))
        return found is not None and bool(found.inks)

    def tell_kept(self) -> None:
        """Rows that are here and not in their sheet stay as they are."""
        brought = {id(own) for _, own in self._brought}
        orders = {self._key_of(own)[0] for _, own in self._brought}
        for row, key in self._before:
            if id(row) not in brought and key[0]:
                hint = "; take it out if another row replaces it" if key[0] in orders else ""
                self.done.kept.append(f"{self._what(row)}{hint}")

"""orders.csv as it stands, to be changed cell by cell: columns of one's own, their order and the separator stay."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import Faults, Place
from scheduler.inputs.tables import SEPARATORS, read_bytes, records, sniff, text_of

FILE = "orders.csv"
ENCODING = "utf-8-sig"


@dataclass(slots=True, kw_only=True)
class OrdersFile:
    """The sheet: headings as typed, rows of texts, the separator between cells, and how its lines end."""

    headings: list[str]
    rows: list[list[str]] = field(default_factory=list)
    separator: str = ","
    line_end: str = os.linesep
    _places: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Find columns by what their headings have in common with ours; the first of two counts."""
        for place, heading in enumerate(self.headings):
            self._places.setdefault(heading_key(heading), place)

    def get(self, row: Sequence[str], name: str) -> str:
        """A cell's text; "" where it is empty or there is no such column."""
        at = self._places.get(name)
        return row[at].strip() if at is not None and at < len(row) else ""

    def put(self, row: list[str], name: str, text: str) -> None:
        """Write a cell; a column that is not there yet is added."""
        at = self._places.setdefault(name, len(self.headings))
        if at == len(self.headings):
            self.headings.append(shown(name))
        row.extend([""] * (at + 1 - len(row)))
        row[at] = text

    def add(self, after: list[str] | None) -> list[str]:
        """A new row at the end, or behind another one."""
        made = [""] * len(self.headings)
        places = [place for place, row in enumerate(self.rows) if row is after]
        self.rows.insert(places[0] + 1 if places else len(self.rows), made)
        return made

    def text(self) -> str:
        """The file's text, its lines ended as they were."""
        out = io.StringIO()
        width = len(self.headings)
        writer = csv.writer(out, delimiter=self.separator, lineterminator=self.line_end)
        writer.writerows([self.headings, *(row + [""] * (width - len(row)) for row in self.rows)])
        return out.getvalue()


def read_orders_file(folder: Path, faults: Faults, headings: Sequence[str]) -> OrdersFile:
    """The week's orders sheet; an empty one with the given headings where there is none. Broken: a fault is noted."""
    empty = OrdersFile(headings=[shown(one) for one in headings])
    path = folder / FILE
    if not path.exists():
        return empty
    raw = read_bytes(path, faults)
    told = Faults()
    text = None if raw is None else text_of(raw, FILE, told)
    faults.extend(one for one in told.problems if not one.is_warning)
    if raw is None or text is None:
        return empty
    lines, first_line, separator = text, 1, ""
    if text[:4].casefold() == "sep=" and text[5:6] == "\n" and text[4] in SEPARATORS:
        separator, lines, first_line = text[4], text[6:], 2
    separator = separator or sniff(lines, ORDERS)
    rows = records(lines, separator, first_line, FILE, faults)
    if not rows:
        return empty
    found = OrdersFile(
        headings=list(rows[0][1]),
        rows=[cells for _, cells in rows[1:]],
        separator=separator,
        line_end="\r\n" if b"\r\n" in raw else "\n",
    )
    if not {heading_key(one) for one in found.headings} & set(COLUMNS[ORDERS]):
        hint = "look at its first line, or move it away"
        faults.add(Place(file=FILE, row=rows[0][0]), "no_headings", "has no headings that are known", hint)
    return found

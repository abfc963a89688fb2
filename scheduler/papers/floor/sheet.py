"""Lists for the floor as tables: written once, shown as pages to print and as a workbook."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

Cell = str | int | datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of a sheet.

    kind: what its rows are; tables of one kind have the same headings and stand on one sheet of the workbook. widths:
    millimetres of columns by place; the others share what is left. right: places of number columns. bold: places of
    columns that are read first; large: of those, the ones read from a step away. marks: places of columns whose text
    is framed: exceptions. blanks: empty columns to write into, (heading, millimetres). has_box: a box to tick before
    every row.
    """

    kind: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    title: str = ""
    widths: tuple[tuple[int, int], ...] = ()
    right: frozenset[int] = frozenset()
    bold: frozenset[int] = frozenset()
    large: frozenset[int] = frozenset()
    marks: frozenset[int] = frozenset()
    blanks: tuple[tuple[str, int], ...] = ()
    has_box: bool = True
    empty: str = ""
    """What is said where there are no rows; "": the table is left out then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Tables that hang together: they start on a page of their own. said: sentences above them."""

    title: str
    tables: tuple[Table, ...]
    said: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

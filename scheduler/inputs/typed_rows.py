"""Rows with typed cells, and groups of rows that must not contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from scheduler.inputs.arrivals import UNKNOWN
from scheduler.inputs.columns import COLUMNS, ORDERS, UNTOLD, shown
from scheduler.inputs.faults import CellError, Faults, Place, key_of, quoted
from scheduler.inputs.tables import Row, Table

Parsers = Mapping[str, Callable[[str], Any]]
"""Heading -> what reads its cells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedRow:
    """One row: values by heading, the texts they were read from, and the headings whose cells are faulty.

    untold: headings under which the row says "?".
    """

    number: int
    values: Mapping[str, Any]
    texts: Mapping[str, str]
    faulty: frozenset[str]
    untold: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedTable:
    """A sheet with typed cells. Faults about its rows go to `faults`."""

    table: Table
    rows: tuple[TypedRow, ...]
    faults: Faults = field(repr=False)

    def place(self, row: TypedRow, column: str) -> Place:
        """Where a cell stands."""
        return self.table.place(row.number, column)

    def numbered(self, row: TypedRow) -> str:
        """A row as messages name it: "line 5" of a file, "row 5" of a worksheet."""
        return f"{'line' if self.table.file.endswith('.csv') else 'row'} {row.number}"

    def fault(self, row: TypedRow, column: str, code: str, message: str, hint: str) -> None:
        """Note a fault of a cell."""
        self.faults.add(self.place(row, column), code, message, hint, row.texts.get(column, ""))

    def missing(self, row: TypedRow, column: str, *, hint: str = "") -> None:
        """Note that a needed cell is empty."""
        known = COLUMNS[self.table.sheet][column]
        self.fault(row, column, "missing", "is empty", hint or known.hint or f"write it as {known.example}")

    def merged(
        self,
        rows: Sequence[TypedRow],
        columns: Iterable[str],
        what: str,
        hint: str = "write the same in both, or leave this one empty",
    ) -> dict[str, Any]:
        """One value for each heading from several rows: the first that is filled; others must say the same."""
        found: dict[str, Any] = {}
        for column in columns:
            filled = [row for row in rows if column in row.values]
            if not filled:
                continue
            first = filled[0]
            found[column] = first.values[column]
            for row in filled[1:]:
                if not _same(row.values[column], first.values[column]):
                    message = (
                        f"{what} has {shown(column)} {quoted(row.texts[column])} here "
                        f"and {quoted(first.texts[column])} in {self.numbered(first)}"
                    )
                    self.fault(row, column, "disagree", message, hint)
        return found

    def is_faulty(self, rows: Iterable[TypedRow], *columns: str) -> bool:
        """True if one of these cells is filled wrongly in one of the rows: nothing more is to be said of it."""
        return any(column in row.faulty for row in rows for column in columns)

    def is_untold(self, rows: Iterable[TypedRow], *columns: str) -> bool:
        """True if one of the rows says "?" in one of these cells and none of them fills one."""
        own = tuple(rows)
        is_told = any(column in row.values for row in own for column in columns)
        return not is_told and any(column in row.untold for row in own for column in columns)


def typed(table: Table, parsers: Parsers, faults: Faults) -> TypedTable:
    """Every cell of a table read; faulty ones are noted and left out."""
    return TypedTable(table=table, rows=tuple(_typed(table, row, parsers, faults) for row in table.rows), faults=faults)


def _typed(table: Table, row: Row, parsers: Parsers, faults: Faults) -> TypedRow:
    values: dict[str, Any] = {}
    faulty: set[str] = set(row.faulty)
    untold: set[str] = set()
    for column, text in row.cells.items():
        if table.sheet == ORDERS and column in UNTOLD and key_of(text) in UNKNOWN:
            untold.add(column)
            continue
        try:
            values[column] = parsers[column](text)
        except CellError as fault:
            faulty.add(column)
            faults.add(table.place(row.number, column), fault.code, fault.message, fault.hint, text)
    return TypedRow(
        number=row.number, values=values, texts=row.cells, faulty=frozenset(faulty), untold=frozenset(untold)
    )


def _same(one: Any, other: Any) -> bool:
    """True if two values say the same; case and blanks of words do not count."""
    if isinstance(one, str) and isinstance(other, str):
        return key_of(one) == key_of(other)
    return bool(one == other)

"""Names by which rows find each other, and those among them that look alike and are not."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from scheduler.inputs.columns import ORDERS, shown
from scheduler.inputs.faults import Faults, key_of, quoted
from scheduler.inputs.tables import Table

NAMED = ("order", "client", "design", "location", "carrier")
"""Headings whose cells are names by which rows find each other."""

_LOOKS_LIKE = str.maketrans(
    "асеорхуіԁһјѕԛԝѵАВСЕНІЈКМОРЅТХУԜαορνικυΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aceopxyidhjsqwvABCEHIJKMOPSTXYWaopvikuABEZHIKMNOPTYX",
)
"""Cyrillic and Greek letters and the Latin ones they are taken for (the plain ones of the Unicode
Consortium's confusables, UTS 39; (memory)).
"""


def latin_look(name: str) -> str:
    """What a name looks like: two names that look alike are equal here."""
    return key_of(unicodedata.normalize("NFKC", name).translate(_LOOKS_LIKE))


def warn_of_look_alikes(tables: Iterable[Table], faults: Faults) -> None:
    """Two names that look alike and are not: two orders, designs or locations where one was meant, most likely."""
    first: dict[tuple[str, str], tuple[str, str, int]] = {}
    told: set[tuple[str, str]] = set()
    for table in sorted(tables, key=lambda one: one.sheet != ORDERS):
        for row in table.rows:
            for column in NAMED:
                name = row.cells.get(column, "")
                if not name:
                    continue
                seen, file, number = first.setdefault((column, latin_look(name)), (name, table.file, row.number))
                if key_of(seen) != key_of(name) and (column, key_of(name)) not in told:
                    told.add((column, key_of(name)))
                    where = f"row {number}" if file == table.file else f"{file}, row {number},"
                    looks = f"looks like the {shown(column)} {quoted(seen)} in {where} but has other letters"
                    hint = "copy it from there if they are the same"
                    faults.warn(table.place(row.number, column), "look_alike", f"{quoted(name)} {looks}", hint, name)

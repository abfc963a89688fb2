"""A shop's settings as a tree of texts, whether they were typed in shop.toml or on the Shop sheet of a workbook.

The Shop sheet has a setting in its first column and the value in its second; a third column is for remarks. Settings
are named in full ("press.1.heads", "hours.mon-fri", "ink.water-based.tunnel"), the number telling several presses
apart, or stand below a row with their section in brackets: "[[press]]" starts another press, "[press.set_up]" goes on
with it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any, Union

from scheduler.inputs.columns import heading_key
from scheduler.inputs.faults import Faults, Place, quoted
from scheduler.inputs.letters import visible
from scheduler.inputs.lines import Path, line_of, lines_of_toml
from scheduler.inputs.shop_settings import MANY
from scheduler.inputs.tables import LONGEST_CELL, NO_VALUE_HINT, NumberedCells, Unsaid

MOST_LEVELS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One value as typed, and its row on the Shop sheet or its line in the file.

    is_faulty: it says nothing, and that was told already.
    """

    text: str
    row: int | None = None
    is_faulty: bool = False


Tree = dict[str, Union[Leaf, "Tree", list["Tree"]]]
"""Settings by name: a value, a table of settings, or several tables."""


def tree_of_toml(file: str, text: str, faults: Faults, *, has_lines: bool = True) -> Tree | None:
    """The settings of a shop.toml; None, and a fault noted, if it is not TOML.

    has_lines: somebody typed these lines, so that faults name them.
    """
    hint = 'write name = "value", texts in quotes, sections as [hours] or [[press]]'
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        told = str(fault)
        line = re.search(r"at line ([0-9]+)", told)
        row = int(line[1]) if line else text.count("\n") + 1 if "end of document" in told else None
        what = re.sub(r"\s*\(at .*\)$", "", told)
        faults.add(Place(file=file, row=row), "not_toml", f"cannot be read here: {what[:1].lower()}{what[1:]}", hint)
        return None
    except (RecursionError, ValueError, OverflowError):  # nested too deep, or a number of thousands of digits
        faults.add(Place(file=file), "not_toml", "cannot be read: it is no list of settings", hint)
        return None
    return tree_of_document(file, document, faults, lines_of_toml(text) if has_lines else None)


def tree_of_document(
    file: str, document: dict[str, Any], faults: Faults, lines: Mapping[Path, int] | None = None
) -> Tree:
    """The settings of a parsed TOML document as texts; what is of no use there is noted. lines: where each stands."""
    return _Document(file=file, faults=faults, lines=lines or {}).table(document, ())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Document:
    """A parsed TOML document on its way to a tree."""

    file: str
    faults: Faults
    lines: Mapping[Path, int]

    def table(self, table: dict[str, Any], path: Path) -> Tree:
        found: Tree = {}
        for name, value in table.items():
            here = (*path, name)
            level = sum(isinstance(step, str) for step in path)
            if level >= MOST_LEVELS:
                self._fault(here, "too_deep", "lies too deep", "take it out: no setting lies there")
            elif isinstance(value, dict):
                found[name] = self.table(value, here)
            elif isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
                found[name] = [self.table(one, (*here, number)) for number, one in enumerate(value)]
            elif isinstance(value, list) and any(isinstance(one, (dict, list)) for one in value):
                self._fault(here, "mixed_list", "is a list of lists", 'write it as "auto-1, auto-2"')
            else:
                found[name] = Leaf(text=_text(value), row=line_of(here, self.lines))
        return found

    def _fault(self, path: Path, code: str, message: str, hint: str) -> None:
        column = ".".join(str(step + 1) if isinstance(step, int) else step for step in path)
        self.faults.add(Place(file=self.file, row=line_of(path, self.lines), column=column), code, message, hint)


def _text(value: Any) -> str:
    """A value of TOML as one would type it in a cell."""
    if isinstance(value, list):
        return ", ".join(_text(one) for one in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return str(value) if abs(value) < 10**18 else hex(value)[:LONGEST_CELL]
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat(timespec="minutes")
    # Signs that are no text (TOML can spell them) would garble every list the name stands in.
    return "".join(sign if sign.isprintable() else " " for sign in visible(str(value))).strip()


def tree_of_sheet(file: str, rows: Sequence[NumberedCells], unsaid: Unsaid, faults: Faults) -> Tree:
    """The settings of a Shop sheet; rows that make no sense are noted."""
    building = _SheetTree(file=file, faults=faults)
    for number, cells in rows:
        name, value = (cell.strip() for cell in (*cells, "", "")[:2])
        if name and not (number == rows[0][0] and heading_key(name) in ("setting", "settings")):
            building.add(number, name, value, unsaid.get((number, 1)))
    return building.tree()


class _SheetTree:
    """Builds the tree row by row. Several presses are kept by number until the end."""

    def __init__(self, *, file: str, faults: Faults) -> None:
        self._file, self._faults = file, faults
        self._root: dict[str, Any] = {}
        self._section: list[str | int] = []

    def add(self, row: int, name: str, value: str, unsaid: str | None) -> None:
        """One row. unsaid: what is wrong with its formula, if it has one that says nothing."""
        header = re.fullmatch(r"(\[+)\s*([^\[\]]+?)\s*(\]+)", name)
        if header:
            self._open(row, header[2])
        elif value or unsaid:
            steps = [*self._section, *self._steps(name)]
            if unsaid:
                self._fault(row, ".".join(str(step) for step in steps), "no_value", unsaid, NO_VALUE_HINT)
            self._put(steps, Leaf(text=value, row=row, is_faulty=bool(unsaid)), name)

    def _steps(self, name: str) -> list[str | int]:
        return [int(part) if re.fullmatch(r"[0-9]{1,4}", part.strip()) else part.strip() for part in name.split(".")]

    def _open(self, row: int, title: str) -> None:
        """A row with a section in brackets: further settings stand within it."""
        steps = self._steps(title)
        key = heading_key(str(steps[0]))
        if key in MANY and not (len(steps) > 1 and isinstance(steps[1], int)):
            there = self._root.setdefault(key, {})
            if isinstance(there, Leaf):
                self._fault(row, title, "value_and_table", "has a value of its own already", "keep one of the two")
                there = {}
            last = max((one for one in there if isinstance(one, int)), default=0)
            number = last + 1 if len(steps) == 1 or not last else last
            steps = [key, number, *steps[1:]]
            there.setdefault(number, {})
        self._section = steps

    def _put(self, steps: list[str | int], leaf: Leaf, name: str) -> None:
        row = leaf.row
        if len(steps) > MOST_LEVELS:
            self._fault(row, name, "too_deep", "lies too deep", "take it out: no setting lies there")
            return
        steps[0] = heading_key(str(steps[0]))
        node: Any = self._root
        for step in steps[:-1]:
            node = node.setdefault(step, {})
            if isinstance(node, Leaf):
                self._fault(row, name, "value_and_table", "has a value of its own already", "keep one of the two")
                return
        if steps[-1] in node:
            self._fault(row, name, "twice", f"setting {quoted(name)} stands here twice", "keep one of the two")
            return
        node[steps[-1]] = leaf

    def _fault(self, row: int | None, name: str, code: str, message: str, hint: str) -> None:
        self._faults.add(Place(file=self._file, row=row, column=name), code, message, hint)

    def tree(self) -> Tree:
        return {name: _many(name, value) for name, value in self._root.items()}


def _many(name: str, value: Any) -> Any:
    """Numbered tables as a list where the section may stand several times; other numbers are plain names."""
    if isinstance(value, Leaf):
        return value
    if name in MANY and value and all(isinstance(one, int) and isinstance(value[one], dict) for one in value):
        return [_named(value[number]) for number in sorted(value)]
    return _named(value)


def _named(table: dict[Any, Any]) -> Tree:
    return {str(name): value if isinstance(value, Leaf) else _named(value) for name, value in table.items()}

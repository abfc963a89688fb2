"""One section of a shop's settings: typed values out of it, faults by dotted name, every default told.

A Section never hands out a wrong value: where a setting is faulty a stand-in goes out, so that the rest of the week can
be looked at, and the fault that was noted keeps the whole from being used.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TypeVar

from scheduler.inputs.assumed import Assumed
from scheduler.inputs.columns import heading_key
from scheduler.inputs.faults import CellError, Faults, Place, nearest, quoted
from scheduler.inputs.shop_settings import SETTING, names_in
from scheduler.inputs.shop_tree import Leaf, Tree

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What all sections of one shop share."""

    file: str
    faults: Faults
    assumed: Assumed


@dataclass(slots=True, kw_only=True)
class Section:
    """A table of settings.

    kind: its name in the catalogue, as "press.set_up"; path: where it stands, as "press.2.set_up". label, counted: what
    its assumptions are about: "auto-1", "presses".
    """

    reading: Reading
    tree: Tree
    kind: str = ""
    path: str = ""
    label: str = "shop"
    counted: str = "shop settings"
    _keys: dict[str, str] = field(default_factory=dict)
    _inner: dict[str, Section | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Find settings by their plain name; two spellings of one are a fault."""
        for name in self.tree:
            key = heading_key(name)
            if key in self._keys:
                message = f"{quoted(name)} and {quoted(self._keys[key])} are one setting"
                self.reading.faults.add(self.place(name), "twice", message, "keep one of the two")
            self._keys.setdefault(key, name)

    def place(self, name: str, row: int | None = None) -> Place:
        """A setting's place, by its dotted name."""
        return Place(file=self.reading.file, row=row, column=f"{self.path}.{name}" if self.path else name)

    def has(self, name: str) -> bool:
        """True if the setting was typed at all."""
        return name in self._keys

    def leaf(self, name: str) -> Leaf | None:
        """The setting as typed; None if it was not, or is no single value (a fault)."""
        value = self.tree.get(self._keys.get(name, ""))
        if value is None or isinstance(value, Leaf):
            return value if value is None or value.text or value.is_faulty else None
        hint = f"write it as {self._typed(name)}"
        self.reading.faults.add(self.place(name), "not_a_value", "is a table where one value is wanted", hint)
        return Leaf(text="")

    def needed(self, name: str, parse: Callable[[str], T], stand_in: T) -> T:
        """A setting nobody can guess; a fault if it is missing."""
        found = self.leaf(name)
        if found is None:
            self.reading.faults.add(self.place(name), "missing", "is missing", f"write it as {self._typed(name)}")
            return stand_in
        return self._parsed(name, found, parse, stand_in)

    def maybe(self, name: str, parse: Callable[[str], T]) -> T | None:
        """A setting that may be missing and then means nothing; None if so."""
        found = self.leaf(name)
        return None if found is None else self._parsed(name, found, parse, None)

    def take(self, name: str, parse: Callable[[str], T], *, tell: bool = True) -> T:
        """A setting with a default, which is told as an assumption unless it does not matter here."""
        setting = SETTING[self._full(name)]
        found = self.leaf(name)
        default = parse(setting.default)
        if found is not None:
            return self._parsed(name, found, parse, default)
        if tell:
            text = f"{setting.meaning}: {setting.default}, assumed"
            self.reading.assumed.add(f"default {setting.name}", text, self.counted, self.label)
        return default

    def inner(self, name: str) -> Section | None:
        """A table within this one, the same one every time; None if it is not there, or is no table (a fault)."""
        if name not in self._inner:
            value = self.tree.get(self._keys.get(name, ""))
            if value is not None and not isinstance(value, dict):
                hint = f"write it as a section [{self._full(name)}] with its settings below"
                row = value.row if isinstance(value, Leaf) else None
                self.reading.faults.add(self.place(name, row), "not_a_table", "is no table of settings", hint)
            self._inner[name] = self._within(name, value, name) if isinstance(value, dict) else None
        return self._inner[name]

    def several(self, name: str, counted: str) -> Iterator[Section]:
        """Tables that stand several times: [[press]]. A single [press] counts as one."""
        value = self.tree.get(self._keys.get(name, ""))
        if isinstance(value, Leaf):
            hint = f"write it as [[{name}]] with its settings below"
            self.reading.faults.add(self.place(name, value.row), "not_a_table", "is no table of settings", hint)
            return
        tables = value if isinstance(value, list) else [] if value is None else [value]
        for number, table in enumerate(tables, start=1):
            section = self._within(name, table, f"{name}.{number}")
            section.label, section.counted = section.path, counted
            yield section

    def items(self) -> Iterator[tuple[str, Leaf]]:
        """Every value of a table with free names (weekdays, garment kinds); a table among them is a fault."""
        for name, value in self.tree.items():
            if isinstance(value, Leaf):
                yield name, value
            else:
                self.reading.faults.add(
                    self.place(name), "not_a_value", "is a table where one value is wanted", "take it out"
                )

    def tables(self) -> Iterator[tuple[str, Section]]:
        """Every table of a table with free names ([ink.plastisol]); a value among them is a fault."""
        for name, value in self.tree.items():
            if isinstance(value, dict):
                section = self._within(name, value, name)
                section.kind = self.kind
                yield name, section
            else:
                hint = f"write it as a section [{self.kind}.{name}]"
                self.reading.faults.add(self.place(name), "not_a_table", "is no table of settings", hint)

    def warn_unknown(self) -> None:
        """Warn of every setting nobody reads, with the nearest one that is read."""
        known = names_in(self.kind)
        for key, name in self._keys.items():
            if key not in known:
                value = self.tree[name]
                row = value.row if isinstance(value, Leaf) else None
                near = nearest(name, known)
                hint = f"did you mean {near}?" if near else "take it out"
                place = self.place(name, row)
                self.reading.faults.warn(
                    place, "unknown_setting", f"the setting {quoted(place.column or '')} is not read", hint
                )

    def parsed(self, name: str, leaf: Leaf, parse: Callable[[str], T]) -> T | None:
        """One value of `items`; None, and a fault noted, if it is wrong."""
        if leaf.is_faulty:
            return None
        return self.reading.faults.read(self.place(name, leaf.row), leaf.text, parse)

    def _parsed(self, name: str, leaf: Leaf, parse: Callable[[str], T], stand_in: T) -> T:
        if not leaf.text:
            return stand_in
        try:
            return parse(leaf.text)
        except CellError as fault:
            self.reading.faults.add(self.place(name, leaf.row), fault.code, fault.message, fault.hint, leaf.text)
            return stand_in

    def _typed(self, name: str) -> str:
        """The setting with its example, as it would stand in shop.toml."""
        example = SETTING[self._full(name)].example
        return f"{name} = {example}" if example.isdecimal() else f'{name} = "{example}"'

    def _full(self, name: str) -> str:
        return f"{self.kind}.{name}" if self.kind else name

    def _within(self, name: str, tree: Tree, step: str) -> Section:
        return Section(
            reading=self.reading,
            tree=tree,
            kind=self._full(heading_key(name)),
            path=f"{self.path}.{step}" if self.path else step,
            label=self.label,
            counted=self.counted,
        )

"""shop.toml as text: every setting there is, explained; what nobody told stands behind a # and can be switched on."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence

from scheduler.inputs.columns import Column
from scheduler.inputs.new_week.settings import Block
from scheduler.inputs.shop_settings import GARMENTS, HOURS, SETTINGS

WIDTH = 42
"""Where the explanations start."""

LONGEST_LINE = 120

NUMBERS = ("whole number", "money", "threads per inch")
"""Kinds of settings whose values stand without quotes."""

LEGEND = """\
# {name}: settings of the shop. Change what you like; texts stand in quotes, quantities with their unit.
#
# A line that starts with # is switched off. Where its explanation says "if left out", that value is taken anyway and
# `pressweek check --all` lists it as an assumption; otherwise nothing is. Take the # away to set it, in an example
# section from all its lines. A section in double brackets may stand several times: copy it for another press or person.
# Times for flash and cure are start values only: the ink maker's data sheets and the machine manuals win.
"""

HOURS_EXAMPLE = {"mon-fri": "07:00-12:00, 12:30-16:00"}
GARMENTS_EXAMPLE = {"tee": "100 %", "long sleeve": "90 %", "fleece": "75 %", "youth": "95 %", "bag": "85 %"}


def shop_text(blocks: Sequence[Block]) -> str:
    """The whole file, lines ended by a plain line feed."""
    lines = [LEGEND.format(name=blocks[0].values["name"]).rstrip()]
    seen: set[str] = set()
    for block in blocks:
        if block.title:
            lines += ["", f"# ---- {block.title} ".ljust(100, "-")]
        lines += ["", *_lines(block, is_first=block.kind not in seen)]
        seen.add(block.kind)
    return "\n".join(lines) + "\n"


def settings_of(kind: str) -> list[Column]:
    """Settings that stand directly in a section."""
    return [one for one in SETTINGS if one.name.rpartition(".")[0] == kind]


def own_name(setting: Column) -> str:
    """A setting's name within its section."""
    return setting.name.rpartition(".")[2]


def explained(setting: Column) -> str:
    """A setting's meaning, what is taken without it, and an example."""
    example = f"as {setting.example}"
    if setting.is_needed:
        return f"{setting.meaning} (needed, {example})"
    if setting.default:
        same = setting.default == setting.example
        return f"{setting.meaning} ({setting.default} if left out{'' if same else f'; {example}'})"
    return f"{setting.meaning} ({example})"


def _lines(block: Block, *, is_first: bool) -> Iterator[str]:
    off = "" if block.is_used else "# "
    if block.head:
        yield f"{off}{block.head}"
    if block.kind == "hours":
        for name, value in block.values.items():
            yield f"{_key(name)} = {_string(value)}"
        return
    for setting in settings_of(block.kind):
        name = own_name(setting)
        told = block.values.get(name)
        if told is None and not is_first:
            continue
        shown = told if told is not None else setting.default or setting.example
        line = f"{'' if told is not None and block.is_used else '# '}{_key(name)} = {_value(setting, shown)}"
        yield from _with_words(line, explained(setting)) if is_first else (line,)
    yield from _tables(block, is_first=is_first)


def _tables(block: Block, *, is_first: bool) -> Iterator[str]:
    """Tables within a section, each on one line."""
    for path, example, meaning in (
        *((one, HOURS_EXAMPLE, "its own hours; the shop's if left out") for one in HOURS if one != "hours"),
        (GARMENTS, GARMENTS_EXAMPLE, "press speed by garment kind; as here if left out"),
    ):
        kind, _, name = path.rpartition(".")
        if kind != block.kind:
            continue
        told = block.tables.get(name)
        if told is not None or is_first:
            off = "" if told is not None and block.is_used else "# "
            inside = ", ".join(f"{_key(key)} = {_string(value)}" for key, value in (told or example).items())
            line = f"{off}{name} = {{ {inside} }}"
            yield from _with_words(line, meaning) if is_first else (line,)


def _with_words(line: str, words: str) -> Iterator[str]:
    """A setting with its explanation behind it, or above it where that would be too long."""
    both = f"{line.ljust(WIDTH)} # {words}"
    yield from (both,) if len(both) <= LONGEST_LINE else (f"# {words}:", line)


def _key(name: str) -> str:
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else _string(name)


def _value(setting: Column, text: str) -> str:
    is_number = setting.kind in NUMBERS and re.fullmatch(r"[0-9]{1,9}", text) and not text.startswith("00")
    return text if is_number else _string(text)


def _string(text: str) -> str:
    """A text in quotes, as TOML has it."""
    plain = "".join(sign if sign.isprintable() else " " for sign in text)
    return json.dumps(plain, ensure_ascii=False)

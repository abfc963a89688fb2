"""On which line a value of a settings file or a plan file stands, so that a fault can say where to look."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from typing import Any

Path = tuple[str | int, ...]
"""Names and numbers that lead to a value, numbers from 0."""

MOST_LINES, MOST_OF_ONE = 5_000, 40
"""Lines of a settings file that are looked at, and lines of one value: beyond them nobody has typed it."""


def lines_of_toml(text: str) -> Mapping[Path, int]:
    """The line of every section and setting of a file that is TOML."""
    found: dict[Path, int] = {}
    section: Path = ()
    many: dict[Path, int] = {}
    lines = iter(list(enumerate(text.split("\n"), start=1))[:MOST_LINES])
    for number, line in lines:
        statement = line
        told = _parsed(statement)
        for _, further in lines if told is None else ():
            statement += f"\n{further}"
            told = _parsed(statement)
            if told is not None or statement.count("\n") > MOST_OF_ONE:
                break
        if not told:
            continue
        names = _first_path(told)
        if line.lstrip().startswith("["):
            section = _numbered(names, many, is_new=line.lstrip().startswith("[["))
            found.setdefault(section, number)
            continue
        for more in (*(names[:end] for end in range(1, len(names) + 1)), *_within(told, names)):
            found.setdefault((*section, *more), number)
    return found


def _parsed(statement: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(statement)
    except (ValueError, RecursionError):
        return None


def _first_path(told: Mapping[str, Any]) -> Path:
    """The dotted name a header or a setting begins with."""
    name, value = next(iter(told.items()))
    while isinstance(value, list) and len(value) == 1 and value[0] == {}:
        return (name,)
    if isinstance(value, dict) and len(value) == 1:
        return (name, *_first_path(value))
    return (name,)


def _within(told: Any, names: Path) -> list[Path]:
    """The settings in a table that stands on one line."""
    for name in names:
        told = told[name]
    return [(*names, name) for name in told] if isinstance(told, dict) else []


def _numbered(names: Path, many: dict[Path, int], *, is_new: bool) -> Path:
    """A section's place: tables of which there may be several have their number behind their name."""
    found: Path = ()
    for at, name in enumerate(names, start=1):
        found = (*found, name)
        if at == len(names) and is_new:
            many[found] = many.get(found, -1) + 1
        if found in many:
            found = (*found, many[found])
    return found


_TEXTS = json.JSONDecoder()
_SIGN = re.compile(r'[ \t\r\n]*("|[\[\]{},:]|[^\s"\[\]{},:]+)')


def lines_of_json(text: str) -> Mapping[Path, int]:
    """The line of every value of a file that is JSON."""
    found: dict[Path, int] = {}
    path: list[str | int] = []
    is_name = False
    at, line, counted = 0, 1, 0
    while sign := _SIGN.match(text, at):
        at = sign.end()
        line, counted = line + text.count("\n", counted, sign.start(1)), sign.start(1)
        what = sign[1]
        name = ""
        if what == '"':
            name, at = _TEXTS.raw_decode(text, sign.start(1))
        if what == "{":
            found.setdefault(tuple(path), line)
            path.append("")
            is_name = True
        elif what == "[":
            found.setdefault(tuple(path), line)
            path.append(0)
        elif what in "]}":
            path.pop()
            is_name = False
        elif what == ",":
            is_name = isinstance(path[-1], str)
            if isinstance(path[-1], int):
                path[-1] += 1
        elif what == ":":
            is_name = False
        elif is_name:
            path[-1] = name
        else:
            found.setdefault(tuple(path), line)
    return found


def line_of(path: Path, lines: Mapping[Path, int]) -> int | None:
    """The line of a value, or of what it is missing in."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path)

"""What was told once about the shop's own sheet, kept in the week's folder: headings.toml."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from scheduler.inputs import cells, moments
from scheduler.inputs.bring.trade_words import OWN_TARGETS
from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import CellError, Faults, Place, nearest, quoted
from scheduler.inputs.tables import read_bytes, text_of

FILE = "headings.toml"
FILLED = ("blanks", "art", "location", "shade", "firm", "carrier", "family")
"""Headings of ours for which a sheet without such a column may say one thing for all its rows."""

ABOVE, LEFT_OUT = "order above", "left out"
BLANK_ORDERS = {ABOVE: ABOVE, LEFT_OUT: LEFT_OUT}

TEXT = """\
# How the shop's own sheet is read. Written by `pressweek bring`; change a line, or take it out to be asked again.
{dates}{sheet}{blank_order}
# Their heading = ours; "" is not read.
[headings]
{headings}
# What every row says where their sheet has no such column.
[fill]
{fill}"""


@dataclass(slots=True, kw_only=True)
class Remembered:
    """headings: theirs -> ours, "" for not read. fill: ours -> what all rows say. dates: order of day and month.

    sheet: the worksheet's name. blank_order: what rows without an order number are.
    """

    headings: dict[str, str] = field(default_factory=dict)
    fill: dict[str, str] = field(default_factory=dict)
    dates: str = ""
    sheet: str = ""
    blank_order: str = ""


def target_of(text: str) -> str | None:
    """The heading of ours that a text names, "" for none of them; None if it names nothing we know."""
    key = heading_key(text)
    if key in ("", "not_read", "none"):
        return ""
    return key if key in COLUMNS[ORDERS] or key in OWN_TARGETS else None


def label_of(target: str) -> str:
    """A heading of ours, or what else a column may hold, as people say it."""
    return OWN_TARGETS.get(target) or shown(target)


def read_remembered(folder: Path, faults: Faults) -> Remembered:
    """What the folder remembers; nothing if it has no such file. What makes no sense in it is a fault."""
    path = folder / FILE
    found = Remembered()
    if not path.exists():
        return found
    raw = read_bytes(path, faults)
    text = None if raw is None else text_of(raw, FILE, faults)
    if text is None:
        return found
    try:
        told: dict[str, Any] = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as fault:
        faults.add(Place(file=FILE), "not_toml", f"cannot be read: {fault}", "correct it, or delete the file")
        return found
    for their, ours in _table(told, "headings").items():
        target = target_of(ours)
        if target is None:
            tell_unknown(Place(file=FILE, column=their), ours, faults)
        else:
            found.headings[their] = target
    for ours, said in _table(told, "fill").items():
        check_fill(Place(file=FILE, column=ours), ours, faults)
        found.fill[heading_key(ours)] = said
    found.sheet = str(told.get("sheet", ""))
    for name, words in (("dates", moments.DATE_ORDERS), ("blank_order", BLANK_ORDERS)):
        if told.get(name):
            value = faults.read(Place(file=FILE, column=name), str(told[name]), cells.choice(words, "answer"))
            setattr(found, name, value or "")
    return found


def tell_unknown(place: Place, ours: str, faults: Faults) -> None:
    """Note that a heading of ours was named that we have not."""
    near = nearest(ours, [shown(name) for name in COLUMNS[ORDERS]])
    hint = f"did you mean {near}?" if near else "write one of the headings that READ-ME.txt explains"
    faults.add(place, "no_such_heading", f"{quoted(ours)} is no heading of the orders sheet", hint)


def check_fill(place: Place, ours: str, faults: Faults) -> None:
    """Note a heading that cannot say one thing for all rows."""
    if heading_key(ours) not in FILLED:
        hint = f"write one of {', '.join(FILLED)}"
        faults.add(place, "cannot_fill", f"{quoted(ours)} cannot say the same in every row", hint)


def text_of_remembered(told: Remembered) -> str:
    """headings.toml, lines ended by a plain line feed."""

    def line(name: str, value: str) -> str:
        return f"{json.dumps(name, ensure_ascii=False)} = {json.dumps(value, ensure_ascii=False)}\n"

    def setting(name: str, value: str) -> str:
        return f"{name} = {json.dumps(value, ensure_ascii=False)}\n" if value else ""

    return TEXT.format(
        dates=setting("dates", told.dates),
        sheet=setting("sheet", told.sheet),
        blank_order=setting("blank_order", told.blank_order),
        headings="".join(line(their, shown(ours)) for their, ours in told.headings.items()),
        fill="".join(line(ours, said) for ours, said in told.fill.items()),
    )


def _table(told: Mapping[str, Any], name: str) -> dict[str, str]:
    table = told.get(name, {})
    return {str(key): str(value) for key, value in table.items()} if isinstance(table, dict) else {}


def read_pair(text: str, option: str) -> tuple[str, str]:
    """Both sides of THEIR=ours. Raises CellError."""
    their, sign, ours = text.rpartition("=")
    if not sign or not their.strip():
        raise CellError("no_pair", f"{quoted(text)} is not two words with = between", f"write it as {option}")
    return their.strip(), ours.strip()

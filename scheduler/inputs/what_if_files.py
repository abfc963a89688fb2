"""What-ifs from small files (`whatif/*.toml` or any path) and from words on the command line, all faults at once.

A file holds tables named after the kind: `[[rush]]`, `[press_out]`, ... In words it is the kind and its settings:
`press-out press=auto-1 to="2026-03-04 15:00"`.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from scheduler.domain.orders import Imprint, WeekInputs
from scheduler.domain.what_if import (
    ArtMoved,
    BlanksMoved,
    Cancelled,
    DateMoved,
    HoursOpened,
    InkOut,
    OutOfUse,
    PiecesChanged,
    PrintChanged,
    Reprint,
    Rush,
    ScreenBroken,
    WhatIf,
)
from scheduler.inputs import moments
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.cell_kinds import parsers_for
from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import Faults, Place, key_of, nearest, one_of, quoted
from scheduler.inputs.letters import visible
from scheduler.inputs.orders_reader import read_orders
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.shop_reader import ShopRead
from scheduler.inputs.shop_tree import Leaf, Tree, tree_of_toml
from scheduler.inputs.tables import Row, Table, read_bytes, text_of
from scheduler.inputs.typed_rows import typed
from scheduler.inputs.what_if_kinds import KINDS, MEANINGS, RUSH, Setting, moment_of, parsers_of

FOLDER = "whatif"
WORDS = "what if"
"""What messages call a what-if typed on the command line."""


WhatIfTable = tuple[str, Mapping[str, str]]
"""A kind and its settings as typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One argument read: a name for it, its what-ifs, and its tables as a file would hold them."""

    name: str
    what_ifs: tuple[WhatIf, ...]
    tables: tuple[WhatIfTable, ...] = ()


def read_what_ifs(
    asked: Sequence[str], week: Path, inputs: WeekInputs, now: datetime | None = None
) -> tuple[Asked, ...]:
    """What each argument says: a file, the name of a file in the week's whatif folder, or the what-if in words.

    now: from when something is out where nothing else is said; None: the planning moment. Raises InputError with every
    fault of every one of them.
    """
    faults, since = Faults(), now or inputs.shop.plan_from
    found = [_read(one, week, inputs, since, faults) for one in asked]
    faults.raise_if_any()
    return tuple(one for one in found if one is not None)


def read_now(text: str, inputs: WeekInputs) -> datetime:
    """What time it is. Raises InputError where it is no moment, or one outside the planned days."""
    faults, place, shop = Faults(), Place(file="--now"), inputs.shop
    now = faults.read(place, text, moments.moment(ZoneInfo(shop.zone)))
    if now is not None and not shop.plan_from <= now < shop.plan_from + timedelta(days=shop.days_ahead):
        message = f"{quoted(text)} is not among the planned days"
        hint = f"they begin {shop.plan_from:%Y-%m-%d %H:%M} and are {shop.days_ahead}"
        faults.add(place, "not_planned_then", message, hint, text)
    faults.raise_if_any()
    assert now is not None
    return now


def read_what_if_text(name: str, text: str, inputs: WeekInputs) -> Asked:
    """The what-ifs a small file's text holds. Raises InputError with every fault."""
    faults = Faults()
    found = _of_text(name, text, inputs, inputs.shop.plan_from, faults)
    faults.raise_if_any()
    return found


def what_if_text(tables: Iterable[WhatIfTable]) -> str:
    """The text of a small file that holds these tables."""
    lines: list[str] = []
    for kind, settings in tables:
        lines += [f"[[{kind}]]", *(f"{name} = {_toml_text(text)}" for name, text in settings.items()), ""]
    return "\n".join(lines)


def print_table(one: PrintChanged) -> WhatIfTable:
    """What a torn screen or a missing ink came to for a print, as a table."""
    settings = {"order": one.order_id, "location": one.location, "waits_for": one.waits_for}
    settings["not_before"] = "" if one.not_before is None else one.not_before.isoformat(sep=" ", timespec="minutes")
    settings["design"] = one.design_id or ""
    return "print", {name: text for name, text in settings.items() if text}


def _read(asked: str, week: Path, inputs: WeekInputs, since: datetime, faults: Faults) -> Asked | None:
    path = _path_of(asked, week)
    if path is None:
        text = _as_toml(asked, week, faults)
        return None if text is None else replace(_of_text(WORDS, text, inputs, since, faults), name=asked)
    raw = read_bytes(path, faults)
    read = None if raw is None else text_of(raw, path.name, faults)
    return None if read is None else replace(_of_text(path.name, read, inputs, since, faults), name=path.stem)


def _path_of(asked: str, week: Path) -> Path | None:
    """The file an argument names; None where it is words."""
    if "=" in asked:
        return None
    own = week / FOLDER / (asked if asked.endswith(".toml") else f"{asked}.toml")
    for path in (Path(asked), own):
        if path.is_file():
            return path
    return Path(asked) if asked.endswith(".toml") else None


def _as_toml(asked: str, week: Path, faults: Faults) -> str | None:
    """The words of a command line as a small file: kind and settings."""
    place = Place(file=WORDS)
    try:
        kind, *settings = shlex.split(visible(asked))
    except ValueError:
        faults.add(place, "broken_quotes", f"{quoted(asked)} has a quote that does not end", "close every quote", asked)
        return None
    pairs = [one.partition("=") for one in settings]
    stray = [name for name, sign, _ in pairs if not sign]
    if not pairs or stray:
        kinds = ", ".join(shown(one).replace(" ", "-") for one in MEANINGS)
        there = sorted(path.stem for path in (week / FOLDER).glob("*.toml")) if week.is_dir() else []
        hint = f"write a file, a name in {FOLDER}/ ({', '.join(there) or 'none there'}), or a kind and its settings"
        message = f"{quoted(asked)} is neither a file nor a what-if in words"
        if stray and pairs:
            message, hint = f"{quoted(stray[0])} is no setting", 'write it as pieces=144 or client="Low Ford"'
        faults.add(place, "no_what_if", message, f"{hint}; kinds are {kinds}", asked)
        return None
    lines = [f"{_bare(name)} = {_toml_text(value)}" for name, _, value in pairs]
    return "\n".join([f"[[{_bare(kind)}]]", *lines, ""])


def _bare(name: str) -> str:
    return heading_key(name) or '""'


def _toml_text(value: str) -> str:
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _of_text(file: str, text: str, inputs: WeekInputs, since: datetime, faults: Faults) -> Asked:
    before = len(faults.problems)
    tree = tree_of_toml(file, text, faults, has_lines=file != WORDS)
    if tree is None or len(faults.problems) > before:
        return Asked(name=file, what_ifs=())
    reading = _Reading(file, inputs, since, faults)
    found = reading.what_ifs(tree)
    if not tree:
        faults.add(Place(file=file), "empty", "holds no what-if", f"write a table, as [{RUSH}] or [press_out]")
    return Asked(name=file, what_ifs=found, tables=tuple(reading.tables))


@dataclass(slots=True)
class _Reading:
    """One small file being read."""

    file: str
    inputs: WeekInputs
    since: datetime
    faults: Faults
    tables: list[WhatIfTable] = field(default_factory=list)
    _zone: ZoneInfo = field(init=False)

    def __post_init__(self) -> None:
        self._zone = ZoneInfo(self.inputs.shop.zone)

    def what_ifs(self, tree: Tree) -> tuple[WhatIf, ...]:
        """Every table that is a what-if; a rush's tables together."""
        found: list[WhatIf] = []
        for name, value in tree.items():
            kind = heading_key(name)
            place = Place(file=self.file, row=_first_row(value), column=name)
            if kind not in MEANINGS:
                near = nearest(kind, MEANINGS)
                hint = f"did you mean {near}?" if near else one_of(tuple(MEANINGS), most=len(MEANINGS))
                self.faults.add(place, "no_such_kind", f"{quoted(name)} is no kind of what-if", hint)
            elif isinstance(value, Leaf):
                self.faults.add(place, "not_a_table", "is no table", f"write [{kind}] on a line of its own")
            elif kind == RUSH:
                found += self._rushes(value if isinstance(value, list) else [value])
            else:
                for table in value if isinstance(value, list) else [value]:
                    one = self._one(kind, table)
                    found += [] if one is None else [one]
        return tuple(found)

    def _rushes(self, tables: list[Tree]) -> list[WhatIf]:
        """Orders that come in, read as the orders sheet would be."""
        shop = self.inputs.shop
        read = ShopRead(shop=shop, zone=self._zone, dates="", now=shop.plan_from, file="shop.toml")
        rows = tuple(self._row(_first_row(table) or number, table) for number, table in enumerate(tables, start=1))
        table = typed(Table(sheet=ORDERS, file=self.file, rows=rows), parsers_for(ORDERS, read), self.faults)
        designs = {key_of(one.design_id): one for one in self.inputs.designs}
        told = read_orders(OrdersSheet(table=table, shop=read, designs=designs, assumed=Assumed()))
        known = {key_of(one.order_id) for one in self.inputs.orders}
        spelled = {key_of(one.design_id): one.design_id for one in self.inputs.imprints}
        found: list[WhatIf] = []
        for order in told.orders:
            if key_of(order.order_id) in known:
                message = f"order {order.order_id} is in the week already"
                place = Place(file=self.file, row=order.source_row, column="rush.order")
                self.faults.add(place, "order_twice", message, "give the rush a number of its own", order.order_id)
            found.append(
                Rush(
                    order=order,
                    lots=tuple(one for one in told.lots if one.order_id == order.order_id),
                    imprints=tuple(_spelled(one, spelled) for one in told.imprints if one.order_id == order.order_id),
                )
            )
        return found

    def _row(self, number: int, table: Tree) -> Row:
        cells: dict[str, str] = {}
        for name, leaf in table.items():
            column = heading_key(name)
            place = Place(file=self.file, row=_first_row(leaf) or number, column=column)
            if column not in COLUMNS[ORDERS]:
                near = nearest(shown(column), [shown(one) for one in COLUMNS[ORDERS]])
                hint = f"did you mean {near}?" if near else "take it out, or put it into note"
                self.faults.add(place, "no_such_setting", f"{quoted(name)} is no heading of the orders sheet", hint)
            elif isinstance(leaf, Leaf):
                cells[column] = leaf.text
        filled = {name: text for name, text in cells.items() if text.strip()}
        self.tables.append((RUSH, filled))
        return Row(number=number, cells=filled)

    def _one(self, kind: str, table: Tree) -> WhatIf | None:
        before = len(self.faults.problems)
        values = self._values(kind, table)
        if kind == "date" and ("due" in values) == ("in_hands" in values):
            hint = "write due or in_hands, not both"
            self._fault(_first_row(table), f"{kind}.due", "one_date", "needs one date", hint)
        if len(self.faults.problems) > before:
            return None
        if kind == "open_hours" and values["to"] <= values["from"]:
            values["to"] += moments.DAY_MIN
        texts = {heading_key(name): leaf.text for name, leaf in table.items() if isinstance(leaf, Leaf)}
        if kind.endswith("_out") and kind != "ink_out":
            start = values["from"] = max(values.get("from", self.since), self.since)  # what is over is over
            texts["from"] = start.isoformat(sep=" ", timespec="minutes")
            if values["to"] <= start:
                row = _first_row(table["to"]) if "to" in table else _first_row(table)
                self._fault(row, f"{kind}.to", "ends_first", "ends before it starts", "write the later moment as to")
        self.tables.append((kind, texts))
        return _made(kind, values, self.since)

    def _values(self, kind: str, table: Tree) -> dict[str, Any]:
        """Settings read and looked up; what is odd, missing or unknown is noted."""
        settings = {one.name: one for one in KINDS[kind]}
        parsers = parsers_of(kind, self._zone, self.inputs.shop.money.currency)
        values: dict[str, Any] = {}
        given = {heading_key(name): leaf for name, leaf in table.items()}
        for name in given.keys() - settings.keys():
            near = nearest(name, settings)
            hint = f"did you mean {near}?" if near else one_of(tuple(settings))
            row = _first_row(given[name])
            self._fault(row, f"{kind}.{name}", "no_such_setting", f"{quoted(name)} is no setting of {kind}", hint)
        for name, setting in settings.items():
            leaf = given.get(name)
            if isinstance(leaf, Leaf) and leaf.text.strip():
                place = Place(file=self.file, row=leaf.row, column=f"{kind}.{name}")
                value = self.faults.read(place, leaf.text, parsers[name])
                if value is not None:
                    values[name] = self._known(place, setting, value, values)
            elif setting.is_needed:
                hint = f"write it as {name} = {setting.example!r}"
                self._fault(_first_row(table), f"{kind}.{name}", "missing", "is missing", hint)
        return values

    def _known(self, place: Place, setting: Setting, value: Any, values: Mapping[str, Any]) -> Any:
        """A name as the week spells it; one that it does not know is noted."""
        if not setting.names:
            return value
        if isinstance(value, tuple):
            return tuple(self._known(place, setting, one, values) for one in value)
        spelled = {key_of(one): one for one in self._names(setting.names, str(values.get("order", "")))}
        if key_of(value) not in spelled:
            near = nearest(value, spelled.values())
            hint = f"did you mean {near}?" if near else one_of(tuple(spelled.values()))
            whose = f"of order {values.get('order')}" if setting.names in ("garment", "location") else "of this week"
            self.faults.add(place, "no_such_name", f"{quoted(value)} is no {setting.names} {whose}", hint, value)
        return spelled.get(key_of(value), value)

    def _names(self, what: str, order_id: str) -> Iterable[str]:
        inputs, shop = self.inputs, self.inputs.shop
        names: dict[str, Iterable[str]] = {
            "order": (one.order_id for one in inputs.orders),
            "garment": (one.garment for one in inputs.lots if one.order_id == order_id),
            "location": (one.location for one in inputs.imprints if one.order_id == order_id),
            "press": (one.press_id for one in shop.presses),
            "dryer": (one.dryer_id for one in shop.dryers),
            "person": (one.person_id for one in shop.people),
            "design": (one.design_id for one in inputs.imprints),
            "ink": (ink.name for one in inputs.imprints for ink in one.inks),
        }
        return dict.fromkeys(names[what])

    def _fault(self, row: int | None, setting: str, code: str, message: str, hint: str) -> None:
        self.faults.add(Place(file=self.file, row=row, column=setting), code, message, hint)


def _first_row(told: Leaf | Tree | list[Tree]) -> int | None:
    """The line of a setting, or the first one of a table."""
    if isinstance(told, Leaf):
        return told.row
    within = told.values() if isinstance(told, dict) else told
    return min((row for row in map(_first_row, within) if row is not None), default=None)


def _spelled(imprint: Imprint, spelled: Mapping[str, str]) -> Imprint:
    """The imprint with its design spelled as the week spells it: then it is the same set of screens."""
    return replace(imprint, design_id=spelled.get(key_of(imprint.design_id), imprint.design_id))


def _made(kind: str, values: Mapping[str, Any], now: datetime) -> WhatIf:
    """The what-if of these values, which are all there."""
    order_id, garment, location = values.get("order", ""), values.get("garment"), values.get("location")
    come: Arrival = values.get("blanks", values.get("art", values.get("until", Arrival())))
    if kind in ("press_out", "dryer_out", "flash_out", "person_out"):
        thing_id = values.get("press") or values.get("dryer") or values["person"]
        return OutOfUse(kind=kind.removesuffix("_out"), thing_id=thing_id, from_at=values["from"], to_at=values["to"])
    match kind:
        case "cancel":
            return Cancelled(order_id=order_id)
        case "pieces":
            return PiecesChanged(order_id=order_id, pieces=values["pieces"], garment=garment)
        case "date":
            due_kind = "in_hands" if "in_hands" in values else "leaves"
            return DateMoved(order_id=order_id, due_at=values.get("in_hands", values.get("due")), due_kind=due_kind)
        case "blanks":
            return BlanksMoved(order_id=order_id, at=moment_of(come, now), garment=garment)
        case "art":
            return ArtMoved(order_id=order_id, at=moment_of(come, now), location=location)
        case "open_hours":
            return HoursOpened(
                day=values["day"],
                from_min=values["from"],
                to_min=values["to"],
                price_cents=values.get("price"),
                press_ids=values.get("presses", ()),
                person_ids=values.get("people", ()),
            )
        case "screen_broken":
            return ScreenBroken(design_id=values["design"], mesh=values.get("mesh"), is_burned=values.get("burned"))
        case "print":
            return PrintChanged(
                order_id=order_id,
                location=values["location"],
                not_before=values.get("not_before"),
                waits_for=values.get("waits_for", ""),
                design_id=values.get("design"),
            )
        case "ink_out":
            return InkOut(ink=values["ink"], at=moment_of(come, now))
    assert kind == "reprint"
    return Reprint(order_id=order_id, pieces=values["pieces"], garment=garment, location=location, blanks_at=come.at)

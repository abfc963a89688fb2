"""A week from its files: every fault of every file at once, or everything as typed, with what nobody typed listed.

A week is a folder (shop.toml, orders.csv, and where there are any designs.csv, screens.csv, progress.csv and
announced.json, an earlier plan), or one .xlsx workbook with the sheets Shop, Orders, Designs, Screens and Progress.

Headings are looked at first, then every cell, then what several cells say together, on what could be read: nothing is
told twice, and no fault hides another.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from scheduler.domain.orders import Announced, WeekInputs
from scheduler.domain.shop import InkFamily, Shop
from scheduler.errors import Problem
from scheduler.inputs import side_readers
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.cell_kinds import parsers_for
from scheduler.inputs.columns import DESIGNS, ORDERS, PROGRESS, SCREENS, SHEETS
from scheduler.inputs.faults import Faults, Place, nearest, quoted
from scheduler.inputs.ink_families import START_VALUES
from scheduler.inputs.look_alikes import warn_of_look_alikes
from scheduler.inputs.orders_reader import OrdersRead, read_orders
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.shop_checks import check_shop
from scheduler.inputs.shop_reader import ShopRead, read_shop
from scheduler.inputs.shop_tree import Tree, tree_of_sheet, tree_of_toml
from scheduler.inputs.spelling import spelled_shop
from scheduler.inputs.tables import NO_ROWS, Table, read_bytes, read_csv, table_of, text_of
from scheduler.inputs.typed_rows import typed
from scheduler.inputs.workbook import SHEET_NAMES, SHOP, SUFFIXES, canonical, read_sheets

SHOP_FILE, ANNOUNCED_FILE = "shop.toml", "announced.json"
FILES = (SHOP_FILE, *(f"{sheet}.csv" for sheet in SHEETS), ANNOUNCED_FILE)
"""What a week's folder may hold, in the order in which it is read."""

DIGEST_VERSION = b"pressweek week 1\n"


def read_week(path: Path) -> WeekInputs:
    """Everything in a week's folder or workbook.

    Raises InputError with every Problem of every file, warnings among them, if there is a fault.
    """
    return read_week_with_warnings(path)[0]


def read_week_with_warnings(path: Path, *, may_be_empty: bool = False) -> tuple[WeekInputs, tuple[Problem, ...]]:
    """A week as `read_week`, and what is odd in its files but keeps nothing from being planned.

    may_be_empty: a sheet without orders yet is odd, not a fault: the shop's settings can be looked at first.
    """
    faults, assumed = Faults(), Assumed()
    found = _of_workbook(path, faults) if _is_workbook(path) else _of_folder(path, faults)
    week = _week(found, faults, assumed)
    if may_be_empty:
        faults.soften(NO_ROWS)
    faults.raise_if_any()
    if week is None:
        raise AssertionError("a week without faults can be read")
    return week, faults.warnings


@dataclass(slots=True)
class _Found:
    """A week's files as trees and tables; None where one is not there or cannot be read."""

    shop_file: str = SHOP_FILE
    shop: Tree | None = None
    tables: dict[str, Table] = field(default_factory=dict)
    announced: tuple[Announced, ...] = ()
    digest: str = ""


def _is_workbook(path: Path) -> bool:
    return path.suffix.lower() in SUFFIXES and not path.is_dir()


def _of_folder(folder: Path, faults: Faults) -> _Found:
    found = _Found()
    if not folder.is_dir():
        what = "is a file" if folder.exists() else "is not there"
        hint = f"name a folder with {SHOP_FILE} and orders.csv, or an .xlsx workbook"
        faults.add(Place(file=folder.name or str(folder)), "no_week", what, hint)
        return found
    contents: dict[str, bytes] = {}
    for name in FILES:
        if (folder / name).exists():
            raw = read_bytes(folder / name, faults)
            if raw is not None:
                contents[name] = raw
        elif name in (SHOP_FILE, "orders.csv"):
            _tell_missing(folder, name, faults)
    _warn_of_strangers(folder, faults)
    if SHOP_FILE in contents:
        text = text_of(contents[SHOP_FILE], SHOP_FILE, faults)
        found.shop = None if text is None else tree_of_toml(SHOP_FILE, text, faults)
    for sheet in SHEETS:
        if f"{sheet}.csv" in contents:
            found.tables[sheet] = read_csv(sheet, f"{sheet}.csv", contents[f"{sheet}.csv"], faults)
    if ANNOUNCED_FILE in contents:
        found.announced = side_readers.read_plan_announced(folder / ANNOUNCED_FILE, faults)
    found.digest = digest_of(contents)
    return found


def _tell_missing(folder: Path, name: str, faults: Faults) -> None:
    books = sorted(
        one.name for one in folder.iterdir() if one.suffix.lower() in SUFFIXES and not one.name.startswith("~")
    )
    hint = "add it to the week's folder"
    if books:
        hint = f"add it to the week's folder, or name the workbook itself: {books[0]}"
    faults.add(Place(file=name), "no_file", "is not there", hint)


def _warn_of_strangers(folder: Path, faults: Faults) -> None:
    """Files whose names look like one of a week's files are not read; say so."""
    names = sorted(one.name for one in folder.iterdir() if one.is_file())
    absent = [name for name in FILES if name not in names]
    for name in names:
        near = nearest(name, absent) if name not in FILES else None
        if near and Path(near).suffix == Path(name).suffix.lower():
            message = f"{quoted(name)} is not read"
            faults.warn(Place(file=name), "unknown_file", message, f"did you mean {near}?")


def digest_of(contents: Mapping[str, bytes]) -> str:
    """Sum over what files say: the same on every system, however lines end and whether a mark starts the text."""
    total = hashlib.sha256(DIGEST_VERSION)
    for name in sorted(contents):
        plain = contents[name].removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n").replace(b"\r", b"\n")
        total.update(f"{name} {len(plain)}\n".encode())
        total.update(plain)
    return total.hexdigest()


def _of_workbook(path: Path, faults: Faults) -> _Found:
    found = _Found()
    if not path.exists():
        faults.add(Place(file=path.name), "no_week", "is not there", "look at its name and its folder")
        return found
    raw = read_bytes(path, faults)
    before = len(faults.problems)
    sheets = {} if raw is None else read_sheets(path.name, raw, faults)
    is_readable = raw is not None and len([one for one in faults.problems[before:] if not one.is_warning]) == 0
    for name in (SHOP, ORDERS):
        if name not in sheets and is_readable:
            title = SHEET_NAMES[name]
            message = f"has no sheet {quoted(title)}"
            faults.add(
                Place(file=path.name), "no_sheet", message, f"add it, or rename the sheet that holds it to {title}"
            )
    if SHOP in sheets:
        sheet = sheets[SHOP]
        found.shop_file = sheet.file
        found.shop = tree_of_sheet(sheet.file, sheet.rows, sheet.unsaid, faults)
    for name in SHEETS:
        if name in sheets and (sheets[name].rows or name == ORDERS):
            sheet = sheets[name]
            found.tables[name] = table_of(name, sheet.file, sheet.rows, faults, sheet.unsaid)
    found.digest = digest_of({"workbook": canonical(sheets)})
    return found


def _week(found: _Found, faults: Faults, assumed: Assumed) -> WeekInputs | None:
    """Cells, then what they say together. None where there is too little to make a week of."""
    shop = None if found.shop is None else read_shop(found.shop_file, found.shop, faults, assumed)
    if shop is not None:
        check_shop(shop, faults)
    warn_of_look_alikes(found.tables.values(), faults)
    cells = {
        name: typed(found.tables.get(name, Table(sheet=name, file=f"{name}.csv")), parsers_for(name, shop), faults)
        for name in SHEETS
    }
    designs = side_readers.read_designs(cells[DESIGNS])
    orders = read_orders(OrdersSheet(table=cells[ORDERS], shop=shop, designs=designs, assumed=assumed))
    burned = side_readers.read_screens(cells[SCREENS], shop, assumed)
    is_whole = ORDERS in found.tables and found.tables[ORDERS].is_whole
    progress = side_readers.read_progress(cells[PROGRESS], orders, shop) if is_whole else ()
    if shop is None:
        return None
    spelled = spelled_shop(
        replace(shop.shop, burned=burned, families=_families(shop, orders, assumed)),
        side_readers.spelled_designs(designs, orders),
    )
    return WeekInputs(
        shop=spelled,
        orders=orders.orders,
        lots=orders.lots,
        imprints=orders.imprints,
        designs=tuple(designs.values()),
        progress=progress,
        announced=found.announced,
        assumptions=assumed.listed,
        digest=found.digest,
    )


def _families(read: ShopRead, orders: OrdersRead, assumed: Assumed) -> tuple[InkFamily, ...]:
    """Families the shop describes, and start values for those the week prints with beside them."""
    shop: Shop = read.shop
    described = {one.name for one in shop.families}
    used = dict.fromkeys((shop.defaults.family, *(ink.family for one in orders.imprints for ink in one.inks)))
    added = [START_VALUES[name] for name in used if name in START_VALUES and name not in described]
    for one in added:
        stands = "may stand overnight" if one.idle_ok_min is None else f"may stand {one.idle_ok_min} min"
        text = f"{one.name}: {one.tunnel_s} s in the tunnel, {one.flash_s:g} s flash, {stands} in the mesh"
        text += f"{one.mixing_text}, assumed"
        assumed.add("ink_family", text, "ink families", one.name)
    return (*shop.families, *added)

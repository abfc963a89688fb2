"""Sheets as shops keep them, and a week they are brought into."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl

from scheduler.inputs.bring.front import Wishes, bring
from tests.inputs.new_shops import HEADINGS, Keyboard

SHOP = """\
name = "Harbour Row Prints"
zone = "Europe/Lisbon"
plan_from = "2026-03-02 07:00"

[hours]
mon-fri = "07:00-12:00, 12:30-16:00"

[[press]]
id = "manual"
kind = "manual"
heads = 6
stated_rate = "60/h"

[[carrier]]
name = "Parcel Van"
pick_up = "16:00"
"""

NOW = datetime(2026, 3, 2, 9, 15, 30)


def week(tmp_path: Path, orders: str | None = "", *, designs: str = "", shop: str = SHOP, name: str = "week") -> Path:
    """A week's folder: orders None for no sheet at all, else the rows below the usual headings."""
    folder = tmp_path / name
    folder.mkdir()
    (folder / "shop.toml").write_text(shop, encoding="utf-8")
    if orders is not None:
        (folder / "orders.csv").write_text(f"{HEADINGS}\n{orders}", encoding="utf-8-sig")
    if designs:
        (folder / "designs.csv").write_text(designs, encoding="utf-8")
    return folder


def text_sheet(path: Path, text: str, encoding: str = "utf-8") -> Path:
    """A text file, byte for byte."""
    path.write_bytes(text.encode(encoding))
    return path


def workbook(path: Path, *sheets: tuple[str, Sequence[Sequence[Any]]], merged: Sequence[str] = ()) -> Path:
    """A workbook with these sheets; merged: areas of the last one."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, rows in sheets:
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
    for area in merged:
        sheet.merge_cells(area)
    book.save(path)
    return path


def bring_in(path: Path, into: Path, *typed: str, asks: bool = True, **wishes: Any) -> Keyboard:
    """Bring a sheet; typed: what somebody types when asked, Enter after that. asks False: as with --yes."""
    board = Keyboard(typed)
    bring(path, into, Wishes(**wishes), board.ask if asks else None, board.say, now=NOW)
    return board


def orders_of(folder: Path) -> list[dict[str, str]]:
    """The rows of a week's orders sheet, filled cells only."""
    with (folder / "orders.csv").open(encoding="utf-8-sig", newline="") as sheet:
        return [{name: text for name, text in row.items() if text} for row in csv.DictReader(sheet)]


WHOLE = "Order,Customer,Due date,Item,Qty,Placement,Colours,Blanks,Proof\n"
ROW = '4102,Café São,2026-03-13,black tee,144,front,"white, red",in,ok\n'

MARCH = (
    ("HARBOUR ROW: OPEN ORDERS",),
    (),
    ("Order", "Client", "Date", "Due Date", "Style", "Color", "S", "M", "L", "XL", "Total", "Placement", "Colors",
     "Blanks", "Artwork", "Rush?", "Notes", "Status"),
    (7, "Café São", date(2026, 2, 20), datetime(2026, 3, 5, 15), "Tee", "Black", 10, 20, 20, 10, 60, "front",
     "white\nred", "in", "approved", "y", "line one\nline two", "open"),
    (None, None, None, None, None, None, None, None, None, None, None, "back", "white"),
    (8, "Old Mill", date(2026, 2, 1), date(2026, 2, 28), "Hoodie", "Navy", None, None, 30, None, 30, "front", "gold",
     "in", "approved", None, None, "Shipped"),
    ("009", "Runners", date(2026, 2, 21), date(2026, 3, 9), "Tote", "Natural", None, None, None, None, 50, "front",
     "sky", date(2026, 3, 4), "proof sent", None, "=1+1 is two, they say", ""),
    (),
    ("Totals", None, None, None, None, None, 10, 20, 50, 10, 140),
)  # fmt: skip
"""A worksheet with a title, an order number merged over two rows, sizes in columns, dates as dates, a row of sums."""

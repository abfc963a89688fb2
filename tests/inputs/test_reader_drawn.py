"""Whatever bytes, cells, tables or settings come in, a week is read or refused with an InputError, nothing else."""

import csv
import io
import tomllib
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError, Problem
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.cell_kinds import parsers_for
from scheduler.inputs.columns import COLUMNS, SHEETS
from scheduler.inputs.faults import CellError, Faults
from scheduler.inputs.reader import read_week, read_week_with_warnings
from scheduler.inputs.shop_reader import read_shop
from scheduler.inputs.shop_settings import SETTING
from scheduler.inputs.shop_tree import tree_of_document, tree_of_sheet, tree_of_toml
from scheduler.inputs.sizes import pieces_in
from tests.inputs.weeks import DESIGNS, ORDERS, PROGRESS, SCREENS, SHOP, good_files, write_folder

DRAWN = settings(
    max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], deadline=None
)

NAMES = ("shop.toml", "orders.csv", "designs.csv", "screens.csv", "progress.csv", "announced.json")

TYPED = sorted(
    {one.example for columns in COLUMNS.values() for one in columns.values()}
    | {one.example for one in SETTING.values()}
    | {one.default for one in SETTING.values()}
    | {"?", "in", "ok", "-1", "0", "1,200", "3/4/2026", "31/02/2026", "2026-03-29 01:30", "99:99", "auto-1!, manual"}
    | {"not manual", "white x2", "white base", "1e999", "nan", "inf", "١٢", "\u200b", "'", '"', "=1+1", "[[press]]"}
)
"""Texts people type into cells, right and wrong."""

CELLS = st.one_of(st.sampled_from(TYPED), st.text(max_size=30), st.just(""))


def read_or_refused(path: Path) -> WeekInputs | None:
    """A week that can be read, or None if it is refused with every problem fit to be shown."""
    problems: tuple[Problem, ...] = ()
    try:
        return read_week(path)
    except InputError as refused:
        problems = refused.problems
    assert any(not one.is_warning for one in problems)
    assert all(one.file and one.message and one.hint and "\n" not in str(one) for one in problems)
    return None


@given(name=st.sampled_from(NAMES), content=st.one_of(st.binary(max_size=400), st.text(max_size=400)))
@DRAWN
def test_any_bytes_in_any_file(tmp_path: Path, name: str, content: str | bytes) -> None:
    """One file of the good week replaced by whatever bytes: read or refused."""
    files = {**good_files(), name: content if isinstance(content, bytes) else content.encode("utf-8", "replace")}
    read_or_refused(write_folder(tmp_path / "week", files))
    (tmp_path / "week" / name).unlink()


@given(data=st.data(), text=st.sampled_from((SHOP, ORDERS, DESIGNS, SCREENS, PROGRESS)))
@DRAWN
def test_any_slip_of_the_pen_in_a_good_file(tmp_path: Path, data: st.DataObject, text: str) -> None:
    """A good file with a piece cut out and something put in: read or refused."""
    name = next(name for name, content in good_files().items() if content == text)
    start = data.draw(st.integers(0, len(text)))
    end = min(len(text), start + data.draw(st.integers(0, 40)))
    put_in = data.draw(st.one_of(CELLS, st.sampled_from(["\n", ",", '"', "[", "]", "{", "=", "\x00", "\ud7ff"])))
    read_or_refused(write_folder(tmp_path / "week", {**good_files(), name: text[:start] + put_in + text[end:]}))


@st.composite
def sheets(draw: st.DrawFn) -> tuple[str, list[list[str]]]:
    """A sheet with all, or most, of its headings and rows of whatever cells."""
    sheet = draw(st.sampled_from(SHEETS))
    known = list(COLUMNS[sheet])
    headings = draw(st.one_of(st.just(known), st.permutations(known), st.lists(CELLS, max_size=6)))
    good = {name: one.example for name, one in COLUMNS[sheet].items()}
    rows = draw(
        st.lists(
            st.lists(st.one_of(st.just(None), CELLS), min_size=len(headings), max_size=len(headings) + 1), max_size=6
        )
    )
    filled = [
        [
            good.get(headings[place], "") if cell is None and place < len(headings) else cell or ""
            for place, cell in enumerate(row)
        ]
        for row in rows
    ]
    return sheet, [list(headings), *filled]


@given(drawn=sheets(), separator=st.sampled_from(",;\t"))
@DRAWN
def test_any_table_of_any_cells(tmp_path: Path, drawn: tuple[str, list[list[str]]], separator: str) -> None:
    """A sheet of whatever cells under whatever headings: read or refused."""
    sheet, rows = drawn
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator).writerows([[cell.replace("\x00", "") for cell in row] for row in rows])
    content = out.getvalue().encode("utf-8", "replace")
    read_or_refused(write_folder(tmp_path / "week", {**good_files(), f"{sheet}.csv": content}))


@pytest.mark.parametrize("sheet", SHEETS)
@given(text=CELLS.filter(lambda text: bool(text.strip())))
@DRAWN
def test_any_text_in_any_cell(sheet: str, text: str) -> None:
    """Every heading reads any text, or refuses it with a message and a hint on one line."""
    shop = read_shop("shop.toml", tree_of_toml("shop.toml", SHOP, Faults()) or {}, Faults(), Assumed())
    refused = []
    for parse in (*parsers_for(sheet, shop).values(), *parsers_for(sheet, None).values()):
        try:
            parse(text)
        except CellError as fault:
            refused.append(fault)
    assert all(one.code and one.message and one.hint for one in refused)
    assert all("\n" not in one.message + one.hint for one in refused)


LEAVES: st.SearchStrategy[Any] = st.one_of(
    CELLS,
    st.integers(),
    st.floats(),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
    st.lists(CELLS, max_size=3),
)
KEYS = st.one_of(st.sampled_from(sorted({part for name in SETTING for part in name.split(".")})), st.text(max_size=8))
TREES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(st.dictionaries(KEYS, inner, max_size=5), st.lists(inner, max_size=3)),
    max_leaves=20,
)
SECTIONS = st.sampled_from([name.split(".")[0] for name in SETTING] + ["hours"])


@given(drawn=st.dictionaries(SECTIONS, TREES, max_size=6), kept=st.booleans())
@DRAWN
def test_any_settings_of_any_shape(drawn: dict[str, Any], kept: bool) -> None:
    """Settings of whatever type at whatever place, alone or in a good shop: a Shop comes out, or faults are noted."""
    faults = Faults()
    tree = tree_of_document("shop.toml", {**(tomllib.loads(SHOP) if kept else {}), **drawn}, faults)
    read_shop("shop.toml", tree, faults, Assumed())
    assert all(one.file == "shop.toml" and "\n" not in str(one) for one in faults.problems)


@given(
    rows=st.lists(
        st.tuples(st.one_of(st.sampled_from(sorted(SETTING)), SECTIONS.map(lambda s: f"[[{s}]]"), CELLS), CELLS),
        max_size=12,
    )
)
@DRAWN
def test_any_rows_of_a_shop_sheet(rows: list[tuple[str, str]]) -> None:
    """A Shop sheet of whatever rows: a Shop comes out, or faults are noted."""
    faults = Faults()
    numbered = [(number, list(cells)) for number, cells in enumerate(rows, start=1)]
    read_shop("week.xlsx (Shop)", tree_of_sheet("week.xlsx (Shop)", numbered, {}, faults), faults, Assumed())
    assert all(one.file == "week.xlsx (Shop)" for one in faults.problems)


@given(
    rows=st.lists(
        st.lists(
            st.one_of(
                st.sampled_from(TYPED),
                st.integers(),
                st.floats(allow_nan=False, allow_infinity=False),
                st.booleans(),
                st.dates(date(1950, 1, 1), date(2200, 1, 1)),
                st.datetimes(datetime(1950, 1, 1), datetime(2200, 1, 1)),
                st.none(),
            ),
            max_size=8,
        ),
        max_size=5,
    )
)
@settings(DRAWN, max_examples=20)
def test_any_cells_of_a_workbook(tmp_path: Path, rows: list[list[Any]]) -> None:
    """A workbook of whatever cells: read or refused."""
    book = openpyxl.Workbook()
    for title in ("Shop", "Orders", "Screens"):
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append([None if isinstance(cell, str) and not cell.isprintable() else cell for cell in row])
    book.save(tmp_path / "week.xlsx")
    read_or_refused(tmp_path / "week.xlsx")


@given(content=st.binary(max_size=300))
@DRAWN
def test_any_bytes_in_a_workbook(tmp_path: Path, content: bytes) -> None:
    """A workbook of whatever bytes, with or without the mark of a packed file before them, is refused."""
    for raw in (content, b"PK\x03\x04" + content):
        (tmp_path / "week.xlsx").write_bytes(raw)
        assert read_or_refused(tmp_path / "week.xlsx") is None


@given(text=st.text(max_size=60))
@DRAWN
def test_any_sizes(text: str) -> None:
    """Sizes are added up, or are not sizes."""
    found = pieces_in(text)
    assert found is None or found >= 0


@given(order=st.permutations(range(4)))
@settings(DRAWN, max_examples=10)
def test_the_order_of_rows_changes_no_lot_and_no_print(tmp_path: Path, order: list[int]) -> None:
    """Rows turned round give the same lots and prints, but for where they stand in the file."""
    head, *rows = ORDERS.splitlines()
    turned = "\n".join([head, *(rows[number] for number in order)]) + "\n"
    plain = read_week(write_folder(tmp_path / "plain", good_files()))
    found, warnings = read_week_with_warnings(write_folder(tmp_path / "week", {**good_files(), "orders.csv": turned}))
    assert warnings == ()
    assert {(one.lot_id, one.pieces, one.shade, one.blanks_at) for one in found.lots} == {
        (one.lot_id, one.pieces, one.shade, one.blanks_at) for one in plain.lots
    }
    assert {(one.order_id, one.location, one.inks, frozenset(one.lot_ids)) for one in found.imprints} == {
        (one.order_id, one.location, one.inks, frozenset(one.lot_ids)) for one in plain.imprints
    }

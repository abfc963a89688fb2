import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from scheduler.errors import InputError
from scheduler.inputs import tables, workbook
from scheduler.inputs.reader import read_week, read_week_with_warnings
from scheduler.inputs.workbook import text_of_cell
from tests.inputs.weeks import good_files, write_folder, write_workbook


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The small good week as a workbook."""
    return write_workbook(tmp_path / "march.xlsx", good_files())


def changed(path: Path, change: Callable[[Any], None]) -> Path:
    """The workbook after a change made in a spreadsheet."""
    opened = openpyxl.load_workbook(path)
    change(opened)
    opened.save(path)
    return path


def told_of(path: Path) -> list[str]:
    """Everything told of a workbook that is refused."""
    with pytest.raises(InputError) as refused:
        read_week(path)
    return [str(one) for one in refused.value.problems]


def cell_below(sheet: Any, heading: str, row: int) -> Any:
    """The cell of a row under a heading."""
    column = next(cell.column for cell in sheet[1] if cell.value == heading)
    return sheet.cell(row=row, column=column)


@pytest.mark.parametrize("by_section", [False, True], ids=["dotted names", "rows with sections"])
def test_a_folder_and_its_workbook_are_the_same_week(tmp_path: Path, by_section: bool) -> None:
    """The same week in a workbook, settings named in full or below their section, differs in its digest only."""
    of_folder = read_week(write_folder(tmp_path / "week", good_files()))
    book = write_workbook(tmp_path / "week.xlsx", good_files(), by_section=by_section)
    of_book, warnings = read_week_with_warnings(book)
    assert warnings == ()
    assert replace(of_book, digest=of_folder.digest) == of_folder


def test_leads_and_least_stays_are_read_from_file_and_sheet(tmp_path: Path) -> None:
    """What [people] says of leads and of stays at a press is the same from shop.toml and from the Shop sheet."""
    files = good_files()
    files = {**files, "shop.toml": f"{files['shop.toml']}\n[people]\nlead_covers = 3\nleast_stay = '20 min'\n"}
    for place in (write_folder(tmp_path / "week", files), write_workbook(tmp_path / "week.xlsx", files)):
        shop = read_week(place).shop
        assert (shop.lead_covers, shop.least_stay_min) == (3, 20)


def test_saving_a_workbook_again_keeps_its_digest(book: Path) -> None:
    """What counts is what the sheets say, not when and by what they were saved; a changed cell changes it."""
    before = read_week(book).digest
    assert read_week(changed(book, lambda opened: None)).digest == before

    def one_piece_more(opened: Any) -> None:
        cell_below(opened["Orders"], "pieces", 5).value = 41

    assert read_week(changed(book, one_piece_more)).digest != before


def test_faults_name_sheet_row_and_heading(book: Path) -> None:
    """A fault in a workbook names the sheet, the row a spreadsheet shows, and the heading."""

    def spoil(opened: Any) -> None:
        opened["Orders"].insert_rows(2, 3)  # three empty rows below the headings
        cell_below(opened["Orders"], "pieces", 8).value = "forty"
        cell_below(opened["Orders"], "client", 6).value = "Somebody else"
        opened["Screens"].cell(row=2, column=2).value = "burnt out"

    assert told_of(changed(book, spoil)) == [
        "march.xlsx (Orders):6:client: order 4102 has client 'Somebody else' here "
        "and 'Fennick Street Brewery' in row 5; write the same in both, or leave this one empty",
        "march.xlsx (Orders):8:pieces: 'forty' is not a whole number; write it as 144",
        "march.xlsx (Screens):2:state: 'burnt out' is no state of screens; write burned or to reclaim",
    ]


def test_a_formula_saved_without_a_value_is_named(book: Path) -> None:
    """A formula nobody calculated has no value to read: it is told by its cell, once, also on the Shop sheet."""

    def spoil(opened: Any) -> None:
        cell_below(opened["Orders"], "pieces", 5).value = "=20+20"
        cell_below(opened["Orders"], "client", 2).value = '=A1&"x"'
        for row in opened["Shop"].iter_rows():
            if row[0].value == "press.2.heads":
                row[1].value = "=2+2"

    row = next(number for number, cells in shop_rows(book) if cells[0] == "press.2.heads")
    places = ("(Orders):2:client", "(Orders):5:pieces", f"(Shop):{row}:press.2.heads")
    assert told_of(changed(book, spoil)) == [
        f"march.xlsx {place}: the formula was saved without a value; "
        "open the workbook, let it calculate and save it, or write the value"
        for place in places
    ]


def shop_rows(book: Path) -> list[tuple[int, tuple[Any, ...]]]:
    """Rows of the Shop sheet with their numbers."""
    sheet = openpyxl.load_workbook(book)["Shop"]
    return list(enumerate(sheet.iter_rows(values_only=True), start=1))


def test_a_formula_under_no_heading_is_nobodys_business(book: Path) -> None:
    """Columns for the shop's own use may hold whatever they like."""

    def add(opened: Any) -> None:
        sheet = opened["Orders"]
        sheet.cell(row=1, column=60).value = "margin"
        sheet.cell(row=2, column=60).value = "=1/0"

    _, warnings = read_week_with_warnings(changed(book, add))
    assert [str(one) for one in warnings] == [
        "march.xlsx (Orders):1:margin: the column 'margin' is not read; nothing to do if it is for your own use"
    ]


def test_an_error_in_a_cell_is_told(book: Path) -> None:
    """A cell that shows #REF! is named with what it says."""

    def spoil(opened: Any) -> None:
        cell_below(opened["Orders"], "garment", 5).value = "#REF!"

    assert told_of(changed(book, spoil)) == [
        "march.xlsx (Orders):5:garment: the cell says #REF!; "
        "open the workbook, let it calculate and save it, or write the value"
    ]


@pytest.mark.parametrize("title", ["Shop", "Orders"])
def test_a_needed_sheet_that_is_missing_is_named(book: Path, title: str) -> None:
    """Shop and Orders must be there; the others need not."""

    def remove(opened: Any) -> None:
        del opened[title]

    expected = f"march.xlsx: has no sheet '{title}'; add it, or rename the sheet that holds it to {title}"
    assert told_of(changed(book, remove)) == [expected]


def test_sheets_that_are_not_needed_may_be_missing_or_empty(book: Path) -> None:
    """A shop that remembers no designs and has nothing started leaves those sheets out, or empty."""

    def remove(opened: Any) -> None:
        del opened["Designs"]
        del opened["Progress"]
        opened["Screens"].delete_rows(1, 10)

    found = read_week(changed(book, remove))
    assert (found.designs, found.progress, found.shop.burned) == ((), (), ())


def test_a_sheet_with_nearly_the_right_name_is_told(book: Path) -> None:
    """A sheet called Screen is not read; sheets called anything else are the shop's own."""

    def rename(opened: Any) -> None:
        opened["Screens"].title = "Screen"
        opened.create_sheet("Wages")

    _, warnings = read_week_with_warnings(changed(book, rename))
    assert [str(one) for one in warnings] == ["march.xlsx: the sheet 'Screen' is not read; did you mean Screens?"]


def test_sheet_names_forgive_case(book: Path) -> None:
    """ORDERS is Orders."""

    def rename(opened: Any) -> None:
        opened["Orders"].title = "other"
        opened["other"].title = "ORDERS"

    assert len(read_week(changed(book, rename)).orders) == 2


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (
            b"not a workbook at all",
            "march.xlsx: is not a workbook that can be read; save it as an Excel workbook (.xlsx), without a password",
        ),
        (
            b"",
            "march.xlsx: is not a workbook that can be read; save it as an Excel workbook (.xlsx), without a password",
        ),
    ],
)
def test_what_is_no_workbook_is_refused(tmp_path: Path, content: bytes, told: str) -> None:
    """A file that only bears the name of a workbook is told in one sentence."""
    path = tmp_path / "march.xlsx"
    path.write_bytes(content)
    assert told_of(path) == [told]


@pytest.mark.parametrize("part", ["xl/workbook.xml", "xl/worksheets/sheet2.xml", "xl/styles.xml"])
def test_a_damaged_workbook_is_refused(book: Path, part: str) -> None:
    """A workbook in which a part breaks off half-way is told in one sentence."""
    with zipfile.ZipFile(book) as kept:
        parts = {name: kept.read(name) for name in kept.namelist()}
    parts[part] = parts[part][: len(parts[part]) // 2]
    with zipfile.ZipFile(book, "w") as packed:
        for name, content in parts.items():
            packed.writestr(name, content)
    told = "march.xlsx: is a damaged workbook; open it, look whether it is all there, and save it again as .xlsx"
    assert told_of(book) == [told]


def test_a_workbook_that_unpacks_to_too_much_is_refused(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A small file that would fill the memory is not opened."""
    monkeypatch.setattr(workbook, "MOST_UNPACKED_BYTES", 1_000)
    assert told_of(book)[0].startswith("march.xlsx: is not a workbook that can be read")


def test_a_workbook_of_too_many_rows_is_refused(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """More rows than any week has are told at the first one too many."""
    monkeypatch.setattr(workbook, "MOST_ROWS", 200)
    monkeypatch.setattr(tables, "MOST_ROWS", 200)

    def fill(opened: Any) -> None:
        for number in range(300):
            opened["Designs"].cell(row=number + 4, column=1).value = f"design {number}"

    told = "march.xlsx (Designs):202: has more than 200 rows; keep it below 200 rows: is it the right sheet?"
    assert told_of(changed(book, fill)) == [told]


def test_a_workbook_that_is_not_there_is_told(tmp_path: Path) -> None:
    """A name with a slip in it is told as such."""
    assert told_of(tmp_path / "april.xlsx") == ["april.xlsx: is not there; look at its name and its folder"]


def test_settings_typed_twice_or_as_two_things_are_refused(book: Path) -> None:
    """One setting on two rows, and one that has a value and settings below it, are told by their row."""

    def spoil(opened: Any) -> None:
        opened["Shop"].append(["name", "Another name"])
        opened["Shop"].append(["zone.summer", "yes"])

    last = len(shop_rows(book))
    assert told_of(changed(book, spoil)) == [
        f"march.xlsx (Shop):{last + 1}:name: setting 'name' stands here twice; keep one of the two",
        f"march.xlsx (Shop):{last + 2}:zone.summer: has a value of its own already; keep one of the two",
    ]


def test_faults_of_settings_name_their_row(book: Path) -> None:
    """A setting's fault on the Shop sheet names its row and its dotted name."""

    def spoil(opened: Any) -> None:
        for row in opened["Shop"].iter_rows():
            if row[0].value == "press.2.heads":
                row[1].value = 0

    row = next(number for number, cells in shop_rows(book) if cells[0] == "press.2.heads")
    assert told_of(changed(book, spoil)) == [
        f"march.xlsx (Shop):{row}:press.2.heads: '0' is less than 1; write 1 or more"
    ]


@pytest.mark.parametrize(
    ("value", "number_format", "text"),
    [
        (None, "General", ""),
        (True, "General", "yes"),
        (False, "General", "no"),
        (4102, "General", "4102"),
        (4102.0, "General", "4102"),
        (2.5, "General", "2.5"),
        (0.02, "0%", "2 %"),
        (0.9, "0.00%", "90 %"),
        (datetime(2026, 3, 6), "d/m/yyyy", "2026-03-06"),
        (datetime(2026, 3, 6, 15), "d/m/yyyy hh:mm", "2026-03-06 15:00"),
        (datetime(2026, 3, 6, 14, 59, 59, 999_900), "General", "2026-03-06 15:00"),
        (time(7, 30), "hh:mm", "07:30"),
        (timedelta(minutes=90), "[h]:mm", "90 min"),
        ("  two\nlines ", "General", "two lines"),
        (1e300, "General", "1e+300"),
    ],
)
def test_cells_become_what_one_would_type(value: Any, number_format: str, text: str) -> None:
    """Dates, times, percentages and whole numbers come out of a workbook as they would stand in a CSV file."""
    assert text_of_cell(value, number_format) == text


def test_a_folder_with_a_workbook_alone_says_what_to_name(tmp_path: Path) -> None:
    """Who names the folder of a workbook is told to name the workbook."""
    write_workbook(tmp_path / "march.xlsx", good_files())
    assert told_of(tmp_path) == [
        "orders.csv: is not there; add it to the week's folder, or name the workbook itself: march.xlsx",
        "shop.toml: is not there; add it to the week's folder, or name the workbook itself: march.xlsx",
    ]

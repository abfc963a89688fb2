"""A week changed from a page: all of it or nothing, and everything that is not named stays as it was."""

from __future__ import annotations

import shutil
from pathlib import Path

import openpyxl
import pytest

from scheduler import api
from scheduler.errors import InputError
from scheduler.inputs.week_cells import changes_since, read_cells, shop_texts, week_files

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


@pytest.fixture
def week(tmp_path: Path) -> Path:
    """A copy of the mid-size shop's week."""
    return shutil.copytree(SCENARIOS / "midsize", tmp_path / "midsize", ignore=shutil.ignore_patterns("plans"))


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    """A one-press week in a workbook, with a remark of the shop's own beside a setting."""
    book = openpyxl.Workbook()
    shop = book.active
    assert shop is not None
    shop.title = "Shop"
    for row in (
        ("Setting", "Value", "Remark"),
        ("name", "Bindweed Back Room", ""),
        ("zone", "Europe/Dublin", ""),
        ("plan_from", "2026-03-02 08:30", "Monday"),
        ("hours.mon-fri", "08:30-17:00", ""),
        ("[[press]]", None, ""),
        ("id", "press", ""),
        ("name", "the press", ""),
        ("kind", "manual", ""),
        ("heads", 4, ""),
        ("stated_rate", "60/h", "what we do"),
    ):
        shop.append(row)
    orders = book.create_sheet("Orders")
    orders.append(
        ["order", "client", "due", "garment", "shade", "pieces", "location", "inks", "blanks", "art", "our own"]
    )
    orders.append(
        ["1", "Bindweed Choir", "2026-03-05", "black tee", "dark", 40, "front", "white", "in", "ok", "shelf 3"]
    )
    book.create_sheet("Notes").append(["ring the choir"])
    path = tmp_path / "week.xlsx"
    book.save(path)
    return path


def with_cell(sheet: api.SheetCells, row: int, heading: str, text: str) -> list[list[str]]:
    """The sheet's rows with one cell changed."""
    rows = [list(one) for one in sheet.rows]
    rows[row][[api.heading_key(one) for one in sheet.headings].index(heading)] = text
    return rows


def test_a_cell_is_changed_and_no_other(week: Path) -> None:
    """One cell of the orders sheet changes; every other line of the file stays letter by letter."""
    sheet = read_cells(week, "orders")
    before = (week / "orders.csv").read_bytes()
    api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 12, "pieces", "210"))])
    after = (week / "orders.csv").read_bytes()
    assert after == before.replace(b"natural bag,light,200,", b"natural bag,light,210,")
    assert after != before


def test_separator_line_ends_and_mark_stay(week: Path) -> None:
    """A sheet saved by a spreadsheet program with semicolons, its mark and its line ends keeps all three."""
    lines = (week / "progress.csv").read_text(encoding="utf-8").replace(",", ";").replace("\n", "\r\n")
    (week / "progress.csv").write_bytes(b"\xef\xbb\xbf" + lines.encode())
    sheet = read_cells(week, "progress")
    api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 0, "left", "150"))])
    assert (week / "progress.csv").read_bytes() == b"\xef\xbb\xbf" + lines.replace(";190;", ";150;").encode()


def test_a_sheet_that_names_its_separator_goes_on_naming_it(week: Path) -> None:
    """The first line "sep=;" of a sheet stays."""
    text = "sep=;\n" + (week / "progress.csv").read_text(encoding="utf-8").replace(",", ";")
    (week / "progress.csv").write_text(text, encoding="utf-8")
    sheet = read_cells(week, "progress")
    api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 0, "left", "150"))])
    assert (week / "progress.csv").read_text(encoding="utf-8") == text.replace(";190;", ";150;")


def test_a_faulty_cell_changes_nothing(week: Path) -> None:
    """A word for a number is refused with its place; a sound edit beside it is not made either."""
    sheet = read_cells(week, "orders")
    before = {path.name: path.read_bytes() for path in week_files(week)}
    with pytest.raises(InputError) as told:
        api.edit_week(
            week,
            rows=[(sheet, sheet.headings, with_cell(sheet, 12, "pieces", "many"))],
            settings=[("name", "Another Name")],
        )
    assert [(one.file, one.row, one.column) for one in told.value.problems] == [("orders.csv", 14, "pieces")]
    assert {path.name: path.read_bytes() for path in week_files(week)} == before


def test_faults_that_stood_before_may_be_mended_one_by_one(week: Path) -> None:
    """With two faults in a sheet, mending one of them is saved; a third is refused."""
    text = (week / "orders.csv").read_text(encoding="utf-8")
    (week / "orders.csv").write_text(
        text.replace(",1380,front", ",many,front").replace("natural bag,light,200", "natural bag,light,few"), "utf-8"
    )
    sheet = read_cells(week, "orders")
    api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 12, "pieces", "200"))])
    sheet = read_cells(week, "orders")
    with pytest.raises(InputError, match="'some'"):
        api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 13, "pieces", "some"))])


def test_what_somebody_else_saved_meanwhile_is_not_written_over(week: Path) -> None:
    """A sheet that changed since it was opened is not replaced by what was typed into the older one."""
    sheet = read_cells(week, "orders")
    api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 12, "pieces", "210"))])
    with pytest.raises(InputError, match="changed by somebody else"):
        api.edit_week(week, rows=[(sheet, sheet.headings, with_cell(sheet, 12, "pieces", "220"))])
    assert read_cells(week, "orders").rows[12][6] == "210"


def test_settings_keep_the_remarks_of_the_shop(week: Path) -> None:
    """A setting is changed, another added, one taken out; remarks and everything else stay where they are."""
    before = (week / "shop.toml").read_text(encoding="utf-8")
    assert "\n# ---- presses" in before
    api.edit_week(
        week,
        settings=[
            ("dont_touch_before", "2026-04-13 11:00"),
            ("person.3.days_off", "2026-04-14"),
            ("person.1.hours.mon-fri", "08:00-15:30"),
            ("press.1.heads", "6"),
            ("person.7.days_off", ""),
        ],
    )
    after = (week / "shop.toml").read_text(encoding="utf-8")
    assert 'dont_touch_before = "2026-04-13 11:00"' in after
    assert "\nheads = 6\n" in after
    assert [line for line in before.splitlines() if line.startswith("#")] == [
        line for line in after.splitlines() if line.startswith("#")
    ]
    shop = api.read_week(week).shop
    by_name = {person.name: person for person in shop.people}
    assert [f"{day}" for day in by_name["Sunny"].days_off] == ["2026-04-14"]
    assert by_name["Marta"].hours is not None
    assert by_name["Marta"].hours[0].from_min == 480
    assert by_name["Rafe"].days_off == ()


def test_overtime_is_added_at_the_end(week: Path) -> None:
    """Another offer joins those that are there; without presses it opens all."""
    offer = [("day", "2026-04-16"), ("from", "16:00"), ("to", "18:00"), ("price", "200"), ("presses", "")]
    before = api.read_week(week).shop.overtime
    api.edit_week(week, added=[("overtime", offer)])
    after = api.read_week(week).shop.overtime
    assert after[:-1] == before
    assert (after[-1].price_cents, after[-1].press_ids) == (20_000, ())


def test_the_first_overtime_of_a_shop_can_be_opened(tmp_path: Path) -> None:
    """A shop that never spoke of overtime gets its first offer."""
    week = shutil.copytree(SCENARIOS / "solo", tmp_path / "solo")
    assert api.read_week(week).shop.overtime == ()
    offer = [("day", "2026-03-05"), ("from", "18:00"), ("to", "20:00"), ("price", "40")]
    api.edit_week(week, added=[("overtime", offer)])
    assert len(api.read_week(week).shop.overtime) == 1


def test_a_plan_is_announced(week: Path, tmp_path: Path) -> None:
    """The announced plan is read with the week from then on; something that is no plan is refused."""
    nonsense = tmp_path / "plan.json"
    nonsense.write_text("{}", encoding="utf-8")
    with pytest.raises(InputError, match="not a plan"):
        api.edit_week(week, announce=nonsense)
    assert not (week / "announced.json").exists()


def test_a_workbook_is_changed_cell_by_cell(workbook: Path) -> None:
    """Numbers stay numbers, other columns and sheets stay; a new row and a new setting find their place."""
    sheet = read_cells(workbook, "orders")
    assert sheet.file == "week.xlsx (Orders)"
    second = ["2", "Bindweed Choir", "2026-03-06", "black tee", "dark", "20", "back", "white", "in", "ok", ""]
    api.edit_week(
        workbook,
        rows=[(sheet, sheet.headings, [*with_cell(sheet, 0, "blanks", "2026-03-03"), second])],
        settings=[("press.1.stated_rate", "70/h"), ("days_ahead", "10")],
        added=[("overtime", [("day", "2026-03-05"), ("from", "17:00"), ("to", "19:00"), ("price", "30")])],
    )
    inputs = api.read_week(workbook)
    assert [order.order_id for order in inputs.orders] == ["1", "2"]
    assert inputs.shop.presses[0].stated_pcs_h == 70
    assert inputs.shop.days_ahead == 10
    assert len(inputs.shop.overtime) == 1
    book = openpyxl.load_workbook(workbook)
    assert book["Orders"]["F2"].value == 40
    assert book["Orders"]["K2"].value == "shelf 3"
    assert book["Notes"]["A1"].value == "ring the choir"
    again = read_cells(workbook, "orders")
    api.edit_week(workbook, rows=[(again, again.headings, again.rows[:1])])
    assert [order.order_id for order in api.read_week(workbook).orders] == ["1"]


def test_a_workbook_has_no_place_for_an_announced_plan(workbook: Path, tmp_path: Path) -> None:
    """Announcing a plan beside a workbook is refused in one sentence."""
    with pytest.raises(InputError, match="no place for an announced plan"):
        api.edit_week(workbook, announce=tmp_path / "plan.json")


def test_changes_are_told_in_words(week: Path, tmp_path: Path) -> None:
    """A changed cell, a new row, a row that is gone and a changed setting are a sentence each."""
    before = shutil.copytree(week, tmp_path / "before")
    assert changes_since(before, week) == ()
    sheet = read_cells(week, "orders")
    rows = with_cell(sheet, 12, "pieces", "210")
    gone = next(place for place, row in enumerate(rows) if row[0] == "4121")
    del rows[gone]
    rows.append([*rows[-1][:-1], "another note"])
    rows[-1][0] = "4131"
    rows[-1][18] = rows[-1][19] = ""
    api.edit_week(week, rows=[(sheet, sheet.headings, rows)], settings=[("money.late_firm", "500")])
    assert changes_since(before, week) == (
        "orders: 4107 front: pieces is now 210, was 200",
        "orders: 4121 front is gone",
        "orders: 4131 front is new",
        "shop: money late firm is now 500, was 400",
    )


def test_a_file_that_cannot_be_read_is_one_change(week: Path, tmp_path: Path) -> None:
    """Where a file is broken now, it counts as one change, and telling it does not fail."""
    before = shutil.copytree(week, tmp_path / "before")
    (week / "shop.toml").write_text("name = ", encoding="utf-8")
    assert changes_since(before, week) == ("shop: cannot be read now",)


def test_settings_are_told_as_typed(week: Path) -> None:
    """Every setting comes back under its full name, as it was typed."""
    texts = shop_texts(week)
    assert texts["press.1.name"] == "Big Eight"
    assert texts["press.1.heads"] == "8"
    assert texts["person.1.hours.mon-fri"] == "07:00-11:30, 12:00-16:00"

from pathlib import Path

import pytest

from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError
from scheduler.inputs import tables
from scheduler.inputs.faults import Faults
from scheduler.inputs.reader import read_week, read_week_with_warnings
from scheduler.inputs.tables import Row, read_csv
from tests.inputs.bad_input import ORDERS_FILE, with_file
from tests.inputs.weeks import ORDERS, write_folder

HEADINGS = "design,state,frame,mesh,screens"


def rows_of(text: str | bytes) -> tuple[Row, ...]:
    """Rows of a screens sheet that must be without fault."""
    faults = Faults()
    table = read_csv("screens", "screens.csv", text if isinstance(text, bytes) else text.encode(), faults)
    assert [str(one) for one in faults.problems if not one.is_warning] == []
    return table.rows


def told_of(text: str | bytes) -> list[str]:
    """Everything told of a screens sheet."""
    faults = Faults()
    read_csv("screens", "screens.csv", text if isinstance(text, bytes) else text.encode(), faults)
    return [str(one) for one in faults.problems]


def read(folder: Path, orders: str | bytes) -> WeekInputs:
    """The good week with these bytes as its orders sheet."""
    return read_week(write_folder(folder / "week", with_file(ORDERS_FILE, orders)))


def test_rows_know_the_line_they_start_on() -> None:
    """Blank lines and line breaks within quotes do not shift the line numbers a text editor shows."""
    text = f'{HEADINGS}\n\n"mill\nloaf",burned,,,\n\n , ,\nvet paw,burned,,,\n'
    assert [(row.number, row.cells["design"]) for row in rows_of(text)] == [(3, "mill\nloaf"), (7, "vet paw")]


def test_ids_stay_text() -> None:
    """NA, 007, 1e5 and true are names like any other."""
    text = HEADINGS + "\n" + "".join(f"{name},burned,,,\n" for name in ("NA", "007", "1e5", "true", "null"))
    assert [row.cells["design"] for row in rows_of(text)] == ["NA", "007", "1e5", "true", "null"]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_separators_line_ends_and_marks_do_not_matter(separator: str, line_end: str, mark: bytes) -> None:
    """The same sheet is read from any program's CSV: comma, semicolon or tab, any line end, with or without a mark."""
    text = f"{HEADINGS}\nmill loaf,burned,23x31,156,2\n".replace(",", separator).replace("\n", line_end)
    assert [dict(row.cells) for row in rows_of(mark + text.encode())] == [
        {"design": "mill loaf", "state": "burned", "frame": "23x31", "mesh": "156", "screens": "2"}
    ]


def test_a_first_line_may_name_the_separator() -> None:
    """The line some spreadsheets write first is obeyed, and counted."""
    assert rows_of(f"sep=;\n{HEADINGS}\nvet paw,burned,,,\n".replace(",", ";"))[0].number == 3


def test_commas_in_cells_do_not_make_a_comma_the_separator() -> None:
    """The separator is the one under which headings are known, not the most frequent sign."""
    found = rows_of("design;state;my, own, many, words, here\nvet paw;burned;a, b, c, d\n")
    assert dict(found[0].cells) == {"design": "vet paw", "state": "burned"}


@pytest.mark.parametrize("heading", ["In hands", "in-hands", " IN_HANDS ", "in.hands"])
def test_headings_forgive_case_blanks_and_hyphens(tmp_path: Path, heading: str) -> None:
    """A heading is known by its words."""
    found = read(tmp_path, ORDERS.replace(",in hands,", f",{heading},"))
    assert found.orders[1].due_kind == "in_hands"


def test_headings_may_stand_in_any_order(tmp_path: Path) -> None:
    """Columns turned round give the same week."""
    turned = 'rate,design,inks\n380/h,stout mug,"white, gold"\n,old anchor,navy\n'
    found = read_week(write_folder(tmp_path / "turned", with_file("designs.csv", turned)))
    assert [(one.design_id, one.actual_pcs_h) for one in found.designs] == [("stout mug", 380), ("old anchor", None)]


def test_windows_text_is_read_and_told(tmp_path: Path) -> None:
    """A sheet saved by an older program in Windows-1252 keeps its accents, with a warning to look at them."""
    files = with_file(ORDERS_FILE, ORDERS.replace("Fennick Street Brewery", "Café Ñandú").encode("cp1252"))
    found, warnings = read_week_with_warnings(write_folder(tmp_path / "week", files))
    assert found.orders[0].client == "Café Ñandú"
    assert [str(one) for one in warnings] == [
        "orders.csv: is not UTF-8; it was read as Windows-1252; look at names with accents, or save it as CSV UTF-8"
    ]


def test_letters_made_of_two_signs_are_one(tmp_path: Path) -> None:
    """An e with its accent typed as two signs is the same name as the one-sign letter."""
    found = read(tmp_path, ORDERS.replace("stout mug", "caf\u0065\u0301 mug", 1).replace("stout mug", "caf\u00e9 mug"))
    assert found.imprints[0].design_id == "caf\u00e9 mug"
    assert len(found.imprints) == 3


def test_a_file_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file beyond the limit is told in one sentence and not opened."""
    monkeypatch.setattr(tables, "MOST_BYTES", 3_000)
    with pytest.raises(InputError) as refused:
        read(tmp_path, ORDERS + "\n" * 5_000)
    assert "orders.csv: holds 0 MB; keep it below 0 MB: is it the right file?" in str(refused.value)


def test_too_many_rows_are_told_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sheet of more rows than any week has is refused at the first row too many."""
    monkeypatch.setattr(tables, "MOST_ROWS", 3)
    text = HEADINGS + "\n" + "vet paw,burned,,,\n" * 9
    assert told_of(text) == ["screens.csv:5: has more than 3 rows; keep it below 3 rows: is it the right file?"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "design,state" + ",x" * 300 + "\n",
            "screens.csv:1: has 302 columns; keep it below 200",
        ),
        (
            f"{HEADINGS}\n{'x' * 3000},burned,,,\n",
            f"screens.csv:2:design: '{'x' * 59}…' is 3,000 letters long; write at most 2,000",
        ),
        (
            f'{HEADINGS}\n"vet" paw,burned,,,\n',
            "screens.csv:2: has a quote that does not end; close every quote, and write a quote inside a cell twice: "
            '"the ""big"" one"',
        ),
        (
            f"{HEADINGS}\nvet paw,burned,,,,,oops\n",
            "screens.csv:2: has 7 cells under 5 headings; "
            'put a cell that holds the separator in quotes, as "white, red"',
        ),
        (
            f"{HEADINGS}\nvet\x07 paw,burned,,,\n",
            "screens.csv:2: holds signs that are no text; save it as CSV UTF-8",
        ),
        ("", "screens.csv: is empty; give it the headings design, state"),
    ],
)
def test_tables_that_cannot_be_are_refused(text: str, told: str) -> None:
    """Far too many columns or letters, quotes that do not fit, cells without headings and signs that are no text."""
    assert told_of(text)[0] == told


def test_a_row_shorter_than_the_headings_is_fine() -> None:
    """Programs leave out empty cells at the end of a line."""
    assert dict(rows_of(f"{HEADINGS}\nvet paw,burned\n")[0].cells) == {"design": "vet paw", "state": "burned"}

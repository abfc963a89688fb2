"""The planner's own sequence as files hold it: a list, a column of numbers, the rows as they stand; its faults."""

from pathlib import Path

import openpyxl
import pytest

from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError
from scheduler.inputs.own_order import read_own_order
from scheduler.inputs.reader import read_week
from tests.command_line import SHOP, write_week

ORDERS = """\
order,client,due,garment,shade,pieces,location,inks,blanks,art,Press place
1,Tide & Co,2026-03-03,black tee,dark,20,Front,white,in,ok,2
1,Tide & Co,2026-03-03,black tee,dark,20,back,white,in,ok,
2,Harbour Run Club,2026-03-04,white tee,light,30,front,black,in,ok,1
2,Harbour Run Club,2026-03-04,ash tee,light,30,front,black,in,ok,2
"""


@pytest.fixture
def week(tmp_path: Path) -> Path:
    """Two orders, with a column the week itself does not read."""
    return write_week(tmp_path / "week", shop=SHOP, orders=ORDERS)


def lines(asked: str, week: Path) -> list[tuple[str, ...]]:
    """The lines without what they leave open."""
    found = read_own_order(asked, week, read_week(week))
    told = [(one.order_id, one.location, one.shade, one.garment, one.press_id) for one in found.lines]
    return [tuple(part for part in one if part) for one in told]


def faults(asked: str, week: Path, inputs: WeekInputs) -> list[str]:
    """Every fault of a list."""
    with pytest.raises(InputError) as found:
        read_own_order(asked, week, inputs)
    return [str(problem) for problem in found.value.problems]


def test_the_rows_as_they_stand(week: Path) -> None:
    """Without a list the sheet's own rows are it."""
    rows = [
        ("1", "Front", "black tee"),
        ("1", "back", "black tee"),
        ("2", "front", "white tee"),
        ("2", "front", "ash tee"),
    ]
    assert lines("", week) == rows


@pytest.mark.parametrize("asked", ["Press place", "press_place", "PRESS-PLACE"])
def test_a_column_the_week_does_not_read(week: Path, asked: str) -> None:
    """Smaller numbers first, equal ones as the rows stand; rows without a number are not named."""
    assert lines(asked, week) == [("2", "front", "white tee"), ("1", "Front", "black tee"), ("2", "front", "ash tee")]


def test_a_column_of_a_workbook(tmp_path: Path) -> None:
    """The Orders sheet of a workbook is looked at the same way."""
    book = openpyxl.Workbook()
    shop = book.active
    assert shop is not None
    shop.title = "Shop"
    for row in (
        ("name", "Test Shop"), ("zone", "Europe/Lisbon"), ("plan_from", "2026-03-02 07:00"),
        ("hours.mon-fri", "07:00-16:00"), ("press.1.id", "auto-1"), ("press.1.kind", "automatic"), ("press.1.heads", 8),
    ):  # fmt: skip
        shop.append(row)
    sheet = book.create_sheet("Orders")
    for line in ORDERS.splitlines():
        sheet.append([int(cell) if cell.isdigit() else cell for cell in line.split(",")])
    book.save(tmp_path / "week.xlsx")
    assert lines("press place", tmp_path / "week.xlsx")[0] == ("2", "front", "white tee")


def test_a_file_with_headings(week: Path) -> None:
    """Names are matched whatever their case; a press by its name or id; other columns are nobody's business."""
    text = "Place;Order;Location;Shade;Press\n1;2;FRONT;Light;big eight\n2;1;;;\n"
    (week / "queue.csv").write_text(text, encoding="utf-8")
    assert lines("queue.csv", week) == [("2", "front", "light", "auto-1"), ("1",)]


def test_a_file_of_order_numbers(week: Path, tmp_path: Path) -> None:
    """One number a line needs no heading; the file may stand anywhere."""
    (tmp_path / "list.txt").write_text("2\n\n1\n", encoding="utf-8")
    assert lines(str(tmp_path / "list.txt"), week) == [("2",), ("1",)]


def test_every_fault_of_a_list_comes_at_once(week: Path) -> None:
    """Unknown orders, locations, shades and presses are told with their lines and with what was meant."""
    text = "order,location,shade,press\n3,,,\n1,frnt,,\n1,back,grey,\n2,,,auto-9\n,back,,\n"
    (week / "queue.csv").write_text(text, encoding="utf-8")
    assert faults("queue.csv", week, read_week(week)) == [
        "queue.csv:2:order: '3' is no order of this week; take the line out, or correct the number",
        "queue.csv:3:location: 'frnt' is no print location of order 1; did you mean Front?",
        "queue.csv:4:shade: 'grey' is no shade; write light or dark",
        "queue.csv:5:press: 'auto-9' is no press of the shop; did you mean auto-1?",
        "queue.csv:6:order: is empty; write the order's number",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "queue.csv: is empty"),
        ("place,number\n1,2\n", "queue.csv:order: the heading 'order' is missing"),
        ('order\n"1\n', "queue.csv:2: has a quote that does not end"),
    ],
)
def test_a_file_that_is_no_list(week: Path, text: str, told: str) -> None:
    """An empty file, one without the heading and a broken one are one fault each."""
    (week / "queue.csv").write_text(text, encoding="utf-8")
    assert [fault.split(";")[0] for fault in faults("queue.csv", week, read_week(week))] == [told]


def test_a_column_that_is_no_column(week: Path) -> None:
    """A name that is neither file nor column, a column without numbers and one with words are told."""
    inputs = read_week(week)
    assert faults("pres place", week, inputs) == [
        "orders.csv:1:pres place: 'pres place' is neither a file nor a column here; did you mean Press place?"
    ]
    assert faults("urgent", week, inputs) == [
        "orders.csv:1:urgent: 'urgent' is neither a file nor a column here; "
        "name a file, or a column that holds numbers: write Press place"
    ]
    assert faults("client", week, inputs)[0] == ("orders.csv:2:client: 'Tide & Co' is not a number; write it as 3")
    (week / "orders.csv").write_text(ORDERS.replace(",ok,1", ",ok,").replace(",ok,2", ",ok,"), encoding="utf-8")
    assert faults("press place", week, inputs) == [
        "orders.csv:1:press place: the column 'press place' holds no number; number the rows from 1"
    ]

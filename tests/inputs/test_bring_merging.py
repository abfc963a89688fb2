"""A sheet brought into orders that are there: added, changed cell by cell, never lost; and the command itself."""

from pathlib import Path

import pytest

from scheduler import api
from scheduler.errors import InputError
from scheduler.inputs.bring.orders_file import read_orders_file
from scheduler.inputs.faults import Faults
from tests.inputs.new_shops import HEADINGS, ORDERS
from tests.inputs.own_sheets import ROW, WHOLE, bring_in, orders_of, text_sheet, week
from tests.inputs.test_new_command import BAD_INPUT, DONE, Terminal, pressweek

THERE = '4102,Café São,2026-03-13,black tee,dark,144,front,"white, red",in,ok,otter,firm,,,,mind the hood\n'
OTHER = "4099,Vet,2026-03-10,grey tee,light,40,left chest,navy,in,ok,,,,,,\n"


def copies(folder: Path) -> list[Path]:
    """The copies of the orders sheet that are kept."""
    return sorted(folder.glob("orders.before-*.csv"))


def test_new_orders_are_added_and_the_rest_stays(tmp_path: Path) -> None:
    """A sheet with a new order adds it; what it does not name stays, letter for letter, and is told."""
    folder = week(tmp_path, THERE + OTHER)
    before = orders_of(folder)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW.replace("4102", "4103")), folder, asks=False)
    after = orders_of(folder)
    assert after[:2] == before
    assert after[2]["order"] == "4103"
    assert "In orders.csv and not in this sheet: kept as they are (2)" in board.shown
    assert "- 4102 front, black tee" in board.shown


def test_known_orders_change_cell_by_cell(tmp_path: Path) -> None:
    """What differs is written and told with both texts; empty cells of theirs take nothing away."""
    folder = week(tmp_path, THERE)
    changed = ROW.replace("144", "150").replace("2026-03-13", "2026-03-16").replace(",in,ok", ",,")
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + changed), folder, asks=False)
    (row,) = orders_of(folder)
    assert (row["pieces"], row["due"], row["blanks"], row["art"]) == ("150", "2026-03-16", "in", "ok")
    assert (row["design"], row["firm"], row["note"]) == ("otter", "firm", "mind the hood")
    assert [line for line in board.shown if "->" in line] == [
        "- 4102 front, black tee: due '2026-03-13' -> '2026-03-16'",
        "- 4102 front, black tee: pieces '144' -> '150'",
    ]


@pytest.mark.parametrize(
    ("there", "theirs"),
    [
        (THERE, ROW),
        (THERE.replace("2026-03-13", "13 Mar 2026"), ROW),
        (THERE.replace(",144,", ',"1,440",'), ROW.replace(",144,", ",1440,")),
        (THERE.replace("black tee", "Black  Tee"), ROW),
        (THERE, ROW.replace("white, red", "White & Red")),
        (THERE, ROW.replace(",in,ok", ",received,approved")),
    ],
)
def test_what_means_the_same_is_left_alone(tmp_path: Path, there: str, theirs: str) -> None:
    """Another spelling of the same day, number, ink or garment is no change: the file stays byte for byte."""
    folder = week(tmp_path, there)
    before = (folder / "orders.csv").read_bytes()
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + theirs), folder, asks=False)
    assert "0 new, 0 changed, 1 as they were" in board.shown[0]
    assert (folder / "orders.csv").read_bytes() == before
    assert copies(folder) == []


def test_the_sheet_as_it_was_is_kept(tmp_path: Path) -> None:
    """Each change keeps a dated copy of the orders sheet, byte for byte; two in one second have two names."""
    folder = week(tmp_path, THERE)
    before = (folder / "orders.csv").read_bytes()
    for pieces in ("150", "160"):
        bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW.replace("144", pieces)), folder, asks=False)
    names = [path.name for path in copies(folder)]
    assert names == ["orders.before-2026-03-02-091530-2.csv", "orders.before-2026-03-02-091530.csv"]
    assert copies(folder)[1].read_bytes() == before
    api.read_week(folder)


def test_a_row_that_was_half_is_completed(tmp_path: Path) -> None:
    """A row whose location was open is the same row once their sheet tells it, and its order waits no more."""
    folder = week(tmp_path)
    path = text_sheet(tmp_path / "own.csv", WHOLE + ROW.replace("front", ""))
    bring_in(path, folder, asks=False)
    assert orders_of(folder)[0]["location"] == "?"
    board = bring_in(text_sheet(path, WHOLE + ROW), folder, asks=False)
    assert len(orders_of(folder)) == 1
    assert "- 4102 ?, black tee: location '?' -> 'front'" in board.shown
    assert api.build_workload(api.read_week(folder)).week.not_planned == ()


def test_two_half_rows_of_one_order_stay_two(tmp_path: Path) -> None:
    """Two prints of an order neither of which has its place yet are both brought, and both found again."""
    rows = ROW.replace("front", "") + ROW.replace("front", "").replace("white, red", "navy")
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE + rows), week(tmp_path)
    bring_in(path, folder, asks=False)
    assert [row["inks"] for row in orders_of(folder)] == ["white, red", "navy"]
    assert "0 new, 0 changed, 2 as they were" in bring_in(path, folder, asks=False).shown[0]
    assert len(api.build_workload(api.read_week(folder)).week.not_planned) == 1


def test_what_is_told_here_is_not_made_unknown(tmp_path: Path) -> None:
    """A "?" of theirs never replaces what somebody has typed here, and what is still open is told again."""
    folder = week(tmp_path, THERE)
    open_row = ROW.replace("2026-03-13", "ASAP").replace(",in,", ",on order,")
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + open_row), folder, asks=False)
    assert (orders_of(folder)[0]["due"], orders_of(folder)[0]["blanks"]) == ("2026-03-13", "in")


def test_a_change_of_the_order_reaches_its_other_rows(tmp_path: Path) -> None:
    """A new date in one row of theirs is the order's: rows here that said the old one say the new one."""
    second = THERE.replace("front", "back").replace("dark,144", "dark,")
    folder = week(tmp_path, THERE + second)
    board = bring_in(
        text_sheet(tmp_path / "own.csv", WHOLE + ROW.replace("2026-03-13", "2026-03-16")), folder, asks=False
    )
    assert [row["due"] for row in orders_of(folder)] == ["2026-03-16", "2026-03-16"]
    assert "- 4102 back, black tee; take it out if another row replaces it" in board.shown
    api.read_week(folder)


def test_in_hands_takes_the_place_of_due(tmp_path: Path) -> None:
    """A date in hands of theirs replaces a date to leave here: an order has one of the two."""
    folder = week(tmp_path, THERE)
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE.replace("Due date", "In hands date") + ROW), folder, asks=False)
    (row,) = orders_of(folder)
    assert ("due" in row, row["in hands"]) == (False, "2026-03-13")
    api.read_week(folder)


def test_columns_and_spelling_of_the_sheet_stay(tmp_path: Path) -> None:
    """Columns of one's own, their order, semicolons and line ends stay as they are; new columns go to the end."""
    folder = week(tmp_path, None)
    there = "Mine;Order;Client;Due;Garment;Pieces;Location;Inks;Blanks;Art\r\n"
    there += "keep;1;Vet;2026-03-09;black tee;40;front;white;in;ok\r\n"
    (folder / "orders.csv").write_bytes(there.encode("cp1252"))
    bring_in(
        text_sheet(tmp_path / "own.csv", WHOLE.replace("Proof", "Proof,Rush") + ROW.rstrip() + ",yes\n"),
        folder,
        asks=False,
    )
    text = (folder / "orders.csv").read_bytes().decode("utf-8-sig")
    assert text.splitlines()[0] == "Mine;Order;Client;Due;Garment;Pieces;Location;Inks;Blanks;Art;firm"
    assert text.splitlines()[1] == "keep;1;Vet;2026-03-09;black tee;40;front;white;in;ok;"
    assert text.splitlines()[2] == ";4102;Café São;2026-03-13;black tee;144;front;white, red;in;ok;firm"
    assert text.count("\r\n") == text.count("\n") == 3


def test_rows_of_an_order_stand_together(tmp_path: Path) -> None:
    """A further print of a known order goes below its other rows, not to the end of the sheet."""
    folder = week(tmp_path, THERE + OTHER)
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW.replace("front", "back")), folder, asks=False)
    assert [(row["order"], row["location"]) for row in orders_of(folder)] == [
        ("4102", "front"),
        ("4102", "back"),
        ("4099", "left chest"),
    ]


def test_a_week_without_a_sheet_gets_one(tmp_path: Path) -> None:
    """A folder with no orders.csv gets one with the usual headings; there is nothing to keep a copy of."""
    folder = week(tmp_path, None)
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW), folder, asks=False)
    assert (folder / "orders.csv").read_text(encoding="utf-8-sig").splitlines()[0] == HEADINGS
    assert copies(folder) == []


def test_a_broken_sheet_here_is_told_and_left(tmp_path: Path) -> None:
    """An orders.csv that cannot be read is a fault with its line; nothing is written over it."""
    folder = week(tmp_path, '1,"never closed\n')
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(InputError, match=r"orders\.csv:2: has a quote that does not end"):
        bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW), folder, asks=False)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


@pytest.mark.parametrize("place", ["gone", "own.csv", "empty", "book.xlsx"])
def test_only_a_weeks_folder_takes_a_sheet(tmp_path: Path, place: str) -> None:
    """A folder that is not there or holds no shop, and a file, are told with what to do instead."""
    path = text_sheet(tmp_path / "own.csv", WHOLE + ROW)
    (tmp_path / "empty").mkdir()
    (tmp_path / "book.xlsx").write_bytes(b"PK")
    with pytest.raises(InputError) as refused:
        bring_in(path, tmp_path / place, asks=False)
    assert ("copy the rows" if place == "book.xlsx" else "`pressweek new DIR` makes one") in str(refused.value)


def test_a_shop_with_faults_still_takes_a_sheet(tmp_path: Path) -> None:
    """Faults of shop.toml are for check to tell; the sheet is brought all the same."""
    folder = week(tmp_path, shop="name = 'x'\nzone = 'Nowhere'\n")
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW), folder, asks=False)
    assert len(orders_of(folder)) == 1


def test_our_own_sheet_is_the_easiest_of_all(tmp_path: Path) -> None:
    """A sheet with our own headings is brought without a question and comes out as it went in."""
    folder = week(tmp_path)
    path = text_sheet(tmp_path / "own.csv", f"{HEADINGS}\n{ORDERS}")
    board = bring_in(path, folder)
    assert board.prompts == []
    faults = Faults()
    theirs = read_orders_file(_folder_of(tmp_path, path), faults, ())
    ours = read_orders_file(folder, faults, ())
    assert faults.problems == []
    assert [row[:16] for row in ours.rows] == theirs.rows


def _folder_of(tmp_path: Path, path: Path) -> Path:
    """A folder with this file as its orders sheet."""
    folder = tmp_path / "theirs"
    folder.mkdir()
    (folder / "orders.csv").write_bytes(path.read_bytes())
    return folder


def test_a_long_sheet_takes_no_time(tmp_path: Path) -> None:
    """Fifteen hundred rows are brought twice, and the second time not a cell changes."""
    rows = "".join(
        ROW.replace("4102", str(number)) + ROW.replace("4102", str(number)).replace("front", "back")
        for number in range(750)
    )
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE + rows), week(tmp_path)
    assert "1500 new, 0 changed" in bring_in(path, folder, asks=False).shown[0]
    assert "0 new, 0 changed, 1500 as they were" in bring_in(path, folder, asks=False).shown[0]


def test_the_command_brings_a_sheet(tmp_path: Path) -> None:
    """`bring FILE --into WEEK` ends with 0 and the next command; check then finds no fault."""
    week(tmp_path, name="Woche 10")
    text_sheet(tmp_path / "our orders.csv", WHOLE + ROW)
    done = pressweek("bring", "our orders.csv", "--into", "Woche 10", "--yes", folder=tmp_path)
    assert done.returncode == DONE, done.stderr
    assert done.stdout.rstrip().endswith('Next: pressweek check "Woche 10"')
    assert pressweek("check", "Woche 10", folder=tmp_path).returncode == DONE


def test_the_command_refuses_what_is_unsure(tmp_path: Path) -> None:
    """With --yes an unsure heading ends with 2 and its option; with --map the same command goes through."""
    week(tmp_path)
    text_sheet(tmp_path / "own.csv", WHOLE.replace("Placement", "Print Spot Code") + ROW)
    done = pressweek("bring", "own.csv", "--into", "week", "--yes", folder=tmp_path)
    assert done.returncode == BAD_INPUT
    assert '--map "Print Spot Code=location"' in done.stderr
    assert "Traceback" not in done.stderr
    again = pressweek(
        "bring", "own.csv", "--into", "week", "--yes", "--map", "Print Spot Code=location", folder=tmp_path
    )
    assert again.returncode == DONE


def test_a_stranger_brings_a_sheet_at_a_terminal(tmp_path: Path) -> None:
    """One question about a heading and one about dates: four keys, and never again."""
    folder = week(tmp_path)
    text = WHOLE.replace("Placement", "Print Spot Code") + ROW.replace("2026-03-13", "03/04/2026")
    text_sheet(tmp_path / "own.csv", text)
    terminal = Terminal("bring", "own.csv", "--into", "week", folder=tmp_path)
    terminal.type("1")
    terminal.type("1")
    assert terminal.exit_code() == DONE, terminal.shown
    assert terminal.keys == 4
    assert len(orders_of(folder)) == 1
    again = pressweek("bring", "own.csv", "--into", "week", folder=tmp_path)
    assert again.returncode == DONE
    assert "What is the column" not in again.stdout


def test_ctrl_c_while_bringing_changes_nothing(tmp_path: Path) -> None:
    """Ctrl-C at a question leaves the week as it was and ends with 2."""
    folder = week(tmp_path, THERE)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    text_sheet(tmp_path / "own.csv", WHOLE.replace("Placement", "Print Spot Code") + ROW)
    terminal = Terminal("bring", "own.csv", "--into", "week", folder=tmp_path)
    terminal.interrupt()
    assert terminal.exit_code() == BAD_INPUT
    assert "nothing was written" in terminal.shown
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


@pytest.mark.parametrize(
    ("cells", "brought"),
    [
        (("paid", "not yet"), ["ok", "?"]),
        (("yes", "2026-03-04"), ["ok", "2026-03-04"]),
        (("received", ""), ["ok", ""]),
        (("$150.00", "$80.00"), ["", ""]),
    ],
)
def test_a_deposit_is_brought_where_its_cells_tell(tmp_path: Path, cells: tuple[str, str], brought: list[str]) -> None:
    """Paid, not yet and a day come over; amounts of money say nothing of whether they were paid, and hold nobody up."""
    folder = week(tmp_path, None)
    text = WHOLE.replace("\n", ",Deposit\n", 1)
    text += "".join(
        f"{ROW.replace('4102', number).strip()},{cell}\n" for number, cell in zip(("1", "2"), cells, strict=True)
    )
    bring_in(text_sheet(tmp_path / "own.csv", text), folder, asks=False)
    assert [row.get("deposit", row.get("Deposit", "")) for row in orders_of(folder)] == brought

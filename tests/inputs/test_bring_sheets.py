"""Sheets as shops keep them, brought into a week: what is read, what waits, what is left out and why."""

from datetime import datetime
from pathlib import Path

import pytest

from scheduler import api
from scheduler.errors import InputError
from tests.inputs.own_sheets import MARCH, ROW, WHOLE, bring_in, orders_of, text_sheet, week, workbook


def test_a_plain_sheet_is_brought_whole(tmp_path: Path) -> None:
    """A sheet in plain trade words is brought without a question, and the week can be planned."""
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW), folder, asks=False)
    assert orders_of(folder) == [
        {
            "order": "4102",
            "client": "Café São",
            "due": "2026-03-13",
            "garment": "black tee",
            "pieces": "144",
            "location": "front",
            "inks": "white, red",
            "blanks": "in",
            "art": "ok",
        }
    ]
    assert board.shown[0].startswith("own.csv: 1 row brought into ")
    assert [run.run_id for run in api.build_workload(api.read_week(folder)).week.runs] == ["4102 front dark"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_every_usual_spelling_of_a_text_file(tmp_path: Path, encoding: str, separator: str, line_end: str) -> None:
    """Whatever wrote the file, its cells come in letter for letter."""
    cells = ["4102", "Café Zürich", "2026-03-13", "black tee", "144", "front", "white", "in", "ok"]
    text = line_end.join([WHOLE.strip().replace(",", separator), separator.join(cells), ""])
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "ours é.csv", text, encoding), folder, asks=False)
    (row,) = orders_of(folder)
    assert list(row.values()) == cells


def test_a_worksheet_with_all_its_habits(tmp_path: Path) -> None:
    """Titles above the headings, merged cells, size columns, dates as dates and a row of sums are understood."""
    book = workbook(
        tmp_path / "own é.xlsx",
        ("Cover", [("Harbour Row",), ("see the next sheet",)]),
        ("March", MARCH),
        merged=["A1:H1", "A4:A5"],
    )
    folder = week(tmp_path)
    board = bring_in(book, folder, asks=False)
    first, back, tote = orders_of(folder)
    assert first == {
        "order": "7",
        "client": "Café São",
        "due": "2026-03-05 15:00",
        "garment": "Black Tee",
        "pieces": "60",
        "location": "front",
        "inks": "white, red",
        "blanks": "in",
        "art": "ok",
        "firm": "firm",
        "sizes": "S 10, M 20, L 20, XL 10",
        "note": "line one\nline two",
    }
    assert back == {"order": "7", "garment": "Black Tee", "location": "back", "inks": "white", "art": "ok"}
    assert (tote["order"], tote["due"], tote["blanks"], tote["art"]) == ("009", "2026-03-09", "2026-03-04", "?")
    assert "- own é.xlsx (March):5: names no garments; taken as the row above: Black Tee, art ok" in board.shown
    assert "- own é.xlsx (March):6:Status: 'Shipped' says that it is done; clear that cell if it is not" in board.shown
    assert "- own é.xlsx (March):9: 'Totals' starts a row of sums; nothing to do" in board.shown
    asked = api.build_workload(api.read_week(folder)).week
    assert sorted(run.run_id for run in asked.runs) == ["7 back dark", "7 front dark"]
    assert [one.reasons for one in asked.not_planned] == [("waiting for art: front",)]


@pytest.mark.parametrize(
    "text",
    [
        'say "hi", twice',
        "a; b, c\td",
        "two\nlines",
        "=SUM(A1)",
        "+49 30 123",
        "-",
        "007",
        "1e5",
        "NA",
        "ÄÖÜ ß ñ 日本 🙂",
        "'quoted'",
        "# not a comment",
    ],
)
@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_text_comes_back_letter_for_letter(tmp_path: Path, text: str, suffix: str) -> None:
    """What a note or a client's name says in their sheet it says in ours, and still does after a second bringing."""
    headings = ("Order", "Customer", "Due", "Garment", "Qty", "Location", "Inks", "Blanks", "Art", "Notes")
    cells = ("1", text, "2026-03-09", "black tee", "40", "front", "white", "in", "ok", text)
    if suffix == "xlsx":
        path = workbook(tmp_path / "own.xlsx", ("Orders", [headings]))
        import openpyxl

        book = openpyxl.load_workbook(path)
        for column, one in enumerate(cells, start=1):
            cell = book["Orders"].cell(row=2, column=column, value=one)
            cell.data_type = "s"
        book.save(path)
    else:
        quoted = [",".join('"' + one.replace('"', '""') + '"' for one in row) for row in (headings, cells)]
        path = text_sheet(tmp_path / "own.csv", "\r\n".join(quoted))
    folder = week(tmp_path)
    bring_in(path, folder, asks=False)
    assert [(row["client"], row["note"]) for row in orders_of(folder)] == [(text, text)]
    before = (folder / "orders.csv").read_bytes()
    board = bring_in(path, folder, asks=False)
    assert (folder / "orders.csv").read_bytes() == before
    assert "0 new, 0 changed, 1 as they were" in board.shown[0]


def test_half_a_row_is_brought_and_waits(tmp_path: Path) -> None:
    """A row without its inks is brought with "?", told with its place, and its order waits for nothing else."""
    half = "4103,Quay Choir,2026-03-09,navy hoodie,60,left chest,,in,ok\n"
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW + half), folder, asks=False)
    assert orders_of(folder)[1]["inks"] == "?"
    told = "own.csv:3:Colours: is empty: the order waits until it is told; write them in print order, as white, red"
    assert f"- {told}" in board.shown
    asked = api.build_workload(api.read_week(folder)).week
    assert [(one.order_id, one.reasons) for one in asked.not_planned] == [("4103", ("inks not told yet: left chest",))]
    assert [run.order_id for run in asked.runs] == ["4102"]


def test_everything_missing_is_told_in_one_line(tmp_path: Path) -> None:
    """A row with little more than its number and client names all its gaps at once, and the week still reads."""
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW + "4104,Vet,,,,,,,\n"), folder, asks=False)
    line = next(line for line in board.shown if line.startswith("- own.csv:3:"))
    assert line.startswith("- own.csv:3:Item, Placement, Due date, Qty, Blanks, Colours, Proof: are empty")
    assert len(api.build_workload(api.read_week(folder)).week.not_planned) == 1


@pytest.mark.parametrize(
    ("cell", "heading", "ours", "written"),
    [
        ("144 pcs", "Qty", "pieces", "144"),
        ("1,200", "Qty", "pieces", "1200"),
        ("white & red", "Colours", "inks", "white, red"),
        ("White / PMS 186", "Colours", "inks", "White / PMS 186"),
        ("2 colours: white and red", "Colours", "inks", "white, red"),
        ("received", "Blanks", "blanks", "in"),
        ("on order", "Blanks", "blanks", "?"),
        ("ordered 2026-03-04", "Blanks", "blanks", "2026-03-04"),
        ("proof sent", "Proof", "art", "?"),
        ("Approved", "Proof", "art", "ok"),
        ("Fri 13 March 2026", "Due date", "due", "2026-03-13"),
        ("13 Mar", "Due date", "due", "2026-03-13"),
        ("March 13th, 2026 3pm", "Due date", "due", "2026-03-13 15:00"),
        ("2026-03-13 noon", "Due date", "due", "2026-03-13 12:00"),
    ],
)
def test_cells_in_everyday_words(tmp_path: Path, cell: str, heading: str, ours: str, written: str) -> None:
    """Cells as people write them become what our sheet says."""
    headings = WHOLE.strip().split(",")
    texts = ["4102", "Café", "2026-03-13", "black tee", "144", "front", "white", "in", "ok"]
    texts[headings.index(heading)] = f'"{cell}"'
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ",".join(texts)), folder, asks=False)
    assert orders_of(folder)[0][ours] == written
    api.read_week(folder)


@pytest.mark.parametrize(
    ("cell", "heading", "ours", "told"),
    [
        ("ASAP", "Due date", "due", "does not tell the date: the order waits"),
        ("2c", "Colours", "inks", "does not tell the inks: the order waits"),
        ("3/1", "Colours", "inks", "does not tell the inks: the order waits"),
        ("same as last", "Colours", "inks", "does not tell the inks: the order waits"),
        ("a few", "Qty", "pieces", "does not tell how many pieces: the order waits"),
        ("ask Jo", "Blanks", "blanks", "does not tell whether the garments are there: the order waits"),
    ],
)
def test_a_cell_that_does_not_tell_is_kept_in_the_note(
    tmp_path: Path, cell: str, heading: str, ours: str, told: str
) -> None:
    """What cannot be read makes the order wait; the words themselves are not lost."""
    headings = WHOLE.strip().split(",")
    texts = ["4102", "Café", "2026-03-13", "black tee", "144", "front", "white", "in", "ok"]
    texts[headings.index(heading)] = cell
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ",".join(texts)), folder, asks=False)
    row = orders_of(folder)[0]
    assert (row[ours], row["note"]) == ("?", f"{heading}: {cell}")
    assert any(line.startswith(f"- own.csv:2:{heading}: '{cell}' {told}") for line in board.shown)
    assert len(api.build_workload(api.read_week(folder)).week.not_planned) == 1


def test_what_the_shop_does_not_know_goes_to_the_note(tmp_path: Path) -> None:
    """A carrier or press the shop has not is kept in the note; a known one, or collecting in other words, is taken."""
    head = WHOLE.replace("Proof", "Proof,Ship via,Machine")
    rows = [ROW.replace("4102", number).rstrip() + end for number, end in
            (("1", ",Air Post,big one\n"), ("2", ",parcel van,Manual\n"), ("3", ",will call,\n"))]  # fmt: skip
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", head + "".join(rows)), folder, asks=False)
    first, second, third = orders_of(folder)
    assert first["note"] == "Ship via: Air Post; Machine: big one"
    assert (second["carrier"], second["press"]) == ("parcel van", "Manual")
    assert third["carrier"] == "collected"
    api.read_week(folder)


def test_a_reorder_by_design_code_takes_the_designs_record(tmp_path: Path) -> None:
    """A row with a remembered design and no inks is whole; one with a design nobody remembers waits for its inks."""
    head = WHOLE.replace("Colours", "Design code,Colours")
    rows = "1,Vet,2026-03-09,white tee,40,front,vet paw,,in,ok\n2,Vet,2026-03-09,white tee,40,front,new one,,in,ok\n"
    folder = week(tmp_path, designs="design,inks\nvet paw,navy\n")
    bring_in(text_sheet(tmp_path / "own.csv", head + rows), folder, asks=False)
    first, second = orders_of(folder)
    assert ("inks" in first, second["inks"]) == (False, "?")
    inputs = api.read_week(folder)
    asked = api.build_workload(inputs).week
    assert [run.run_id for run in asked.runs] == ["1 front light"]
    assert [ink.name for ink in inputs.imprints[0].inks] == ["navy"]


def test_light_and_dark_follow_the_garments_colour(tmp_path: Path) -> None:
    """Without a shade column a colour that tells is enough, listed as an assumption; one in between makes it wait."""
    rows = "".join(
        f"{number},Vet,2026-03-09,{garment},40,front,navy,in,ok\n"
        for number, garment in enumerate(("black tee", "natural bag", "grey tee"), start=1)
    )
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", WHOLE + rows), folder, asks=False)
    assert [row.get("shade") for row in orders_of(folder)] == [None, None, "?"]
    inputs = api.read_week(folder)
    assert [(lot.garment, lot.shade) for lot in inputs.lots] == [("black tee", "dark"), ("natural bag", "light")]
    assert {one.text for one in inputs.assumptions if one.code == "shade"} == {
        "read as dark from the garment's colour",
        "read as light from the garment's colour",
    }


def test_without_order_numbers_client_and_date_name_the_order(tmp_path: Path) -> None:
    """Rows of one client with one date are one order, named after both; a row without a client is left out."""
    text = "Customer,Due,Garment,Qty,Location,Inks,Blanks,Art\nVet,2026-03-09,black tee,40,front,white,in,ok\n"
    text += "Vet,2026-03-09,black tee,40,back,white,in,ok\n,2026-03-09,black tee,1,front,white,in,ok\n"
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", text), folder, asks=False)
    assert [(row["order"], row["location"]) for row in orders_of(folder)] == [
        ("Vet 2026-03-09", "front"),
        ("Vet 2026-03-09", "back"),
    ]
    assert any("own.csv:4:Customer: has no client" in line for line in board.shown)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (",,,,288,,,,\n", "starts a row of sums"),
        ("Total,,,,288,,,,\n", "starts a row of sums"),
        (",Grand total,,,288,,,,\n", "starts a row of sums"),
        (WHOLE, "the headings once more"),
        ("WEEK 11,,,,,,,,\n", "stands alone in its row"),
        (ROW, "stands in row 2 already: same order, garments and location"),
        (",Café,2026-03-09,red tee,40,back,white,in,ok\n", "has no order number"),
    ],
)
def test_rows_that_are_no_orders_are_left_out_and_told(tmp_path: Path, row: str, why: str) -> None:
    """Sums, repeated headings, titles, repeated rows and rows of nobody are left out, each with its row and reason."""
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW + row), folder, asks=False)
    assert len(orders_of(folder)) == 1
    assert [line for line in board.shown if line.startswith("- own.csv:3") and why in line]


@pytest.mark.parametrize("lines", [0, 1, 9])
def test_headings_are_found_below_titles(tmp_path: Path, lines: int) -> None:
    """Headings within the first ten filled rows are found; true row numbers are told."""
    titles = "".join(f"Harbour Row number {number}\n\n" for number in range(lines))
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", titles + WHOLE + ROW), folder, asks=False)
    assert len(orders_of(folder)) == 1
    assert board.shown[1].startswith(f"Headings in row {2 * lines + 1}: Order = order")


def test_a_sheet_nobody_can_know_is_refused(tmp_path: Path) -> None:
    """A file without known headings, an empty one, one that is no sheet or not there: each is one message."""
    folder = week(tmp_path)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    damaged = tmp_path / "damaged.xlsx"
    damaged.write_bytes(b"PK\x03\x04 no more")
    picture = tmp_path / "photo.jpg"
    picture.write_bytes(b"\xff\xd8\xff")
    for path, told in (
        (text_sheet(tmp_path / "list.csv", "a,b\n1,2\n"), "list.csv: no headings are known among its first ten rows"),
        (text_sheet(tmp_path / "empty.csv", ""), "empty.csv: is empty"),
        (text_sheet(tmp_path / "heads.csv", WHOLE), "heads.csv: holds headings and nothing below"),
        (damaged, "damaged.xlsx: is not a workbook that can be read"),
        (picture, "photo.jpg: is no sheet that can be read; save it as .xlsx or as .csv"),
        (tmp_path / "gone.csv", "gone.csv: is not there"),
        (text_sheet(tmp_path / "open.csv", WHOLE + '1,"never closed\n'), "open.csv:2: has a quote that does not end"),
    ):
        with pytest.raises(InputError) as refused:
            bring_in(path, folder, asks=False)
        assert told in str(refused.value)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_formula_counts_by_its_value(tmp_path: Path) -> None:
    """A cell with a formula nobody saved a value for is empty, and so makes its order wait."""
    cells = ("1", "Vet", datetime(2026, 3, 9), "red tee", "=4*10", "front", "white", "in", "ok")
    book = workbook(tmp_path / "own.xlsx", ("Orders", [WHOLE.strip().split(","), cells]))
    folder = week(tmp_path)
    bring_in(book, folder, asks=False)
    assert orders_of(folder)[0]["pieces"] == "?"

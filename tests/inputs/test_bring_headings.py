"""Headings of the shop's own sheet: what is sure, asked once, remembered; and how its dates are meant."""

import tomllib
from pathlib import Path

import pytest

from scheduler.errors import InputError
from scheduler.inputs.bring.trade_words import OWN_TARGETS, UNCLEAR, WORDS, targets_by_word, word_key
from scheduler.inputs.columns import COLUMNS, ORDERS
from tests.inputs.own_sheets import ROW, WHOLE, bring_in, orders_of, text_sheet, week

DATES = "Order,Customer,Due,Garment,Qty,Location,Inks,Blanks,Art\n"


def dated(path: Path, *days: str, blanks: str = "in") -> Path:
    """A sheet with an order for each of these days."""
    rows = [f"{number},Vet,{day},black tee,40,front,white,{blanks},ok" for number, day in enumerate(days, start=1)]
    return text_sheet(path, DATES + "\n".join(rows))


def remembered(folder: Path) -> dict[str, object]:
    """What the week remembers of the sheet."""
    return tomllib.loads((folder / "headings.toml").read_text(encoding="utf-8"))


def test_every_word_stands_for_something_we_have() -> None:
    """Each word leads to headings of ours, the same word twice only where it is told to be unclear."""
    targets = {*COLUMNS[ORDERS], *OWN_TARGETS, "not_read"}
    assert set(WORDS) <= targets
    for word, found in targets_by_word().items():
        assert set(found) <= targets
        assert word == word_key(word)
        assert len(found) == 1 or word in {word_key(one) for one in UNCLEAR}, (word, found)


@pytest.mark.parametrize(
    ("their", "ours"),
    [
        ("QTY", "pieces"),
        ("quantity ", "pieces"),
        ("Quantitiy", "pieces"),
        ("Custmer", "client"),
        ("Ship-by", "due"),
        ("Colors", "inks"),
        ("print  position", "location"),
        ("Order #", "order"),
        ("Order No.", "order"),
        ("Job #", "order"),
        ("In-Hands Date", "in hands"),
    ],
)
def test_trade_words_and_slips_are_matched(tmp_path: Path, their: str, ours: str) -> None:
    """A trade word in any spelling, and a slip of one letter in it, is matched without a question."""
    heads = {
        "order": "Order",
        "client": "Client",
        "due": "Due",
        "pieces": "Pieces",
        "location": "Location",
        "inks": "Inks",
    }
    cells = {"order": "1", "client": "Vet", "due": "2026-03-09", "pieces": "40", "location": "front", "inks": "white"}
    if ours == "in hands":
        heads.pop("due")
        cells["in hands"] = cells.pop("due")
    heads[ours] = their
    text = (
        ",".join(heads.values())
        + ",Garment,Blanks,Art\n"
        + ",".join(cells[name] for name in heads)
        + ",black tee,in,ok"
    )
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", text), folder, asks=False)
    assert orders_of(folder)[0][ours] == cells[ours]


def test_what_is_unsure_is_asked_once(tmp_path: Path) -> None:
    """A heading that may mean several things is asked with its cells, by number; the second time nothing is asked."""
    text = WHOLE.replace("Placement", "Print Spot Code") + ROW
    path, folder = text_sheet(tmp_path / "own.csv", text), week(tmp_path)
    board = bring_in(path, folder, "1")
    assert board.shown[:5] == [
        "What is the column 'Print Spot Code' (front, ...)?",
        "  1  location",
        "  2  design",
        "  3  none of these: it is not read",
        "own.csv: 1 row brought into " + str(folder / "orders.csv") + ": 1 new, 0 changed, 0 as they were.",
    ]
    assert len(board.prompts) == 1
    assert remembered(folder)["headings"]["Print Spot Code"] == "location"  # type: ignore[index]
    assert bring_in(path, folder).prompts == []


def test_a_wrong_choice_is_asked_again(tmp_path: Path) -> None:
    """A number that is not offered gets one message; a choice may be typed as its word, too."""
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE.replace("Placement", "Print Spot Code") + ROW), week(tmp_path)
    board = bring_in(path, folder, "7", "Location")
    assert "  '7' is none of them; type a number from 1 to 3" in board.shown
    assert orders_of(folder)[0]["location"] == "front"


def test_without_asking_what_is_unsure_is_refused(tmp_path: Path) -> None:
    """With --yes every unsure heading is told with the option that would settle it, and nothing is written."""
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE.replace("Placement", "Print Spot Code") + ROW), week(tmp_path)
    with pytest.raises(InputError) as refused:
        bring_in(path, folder, asks=False)
    assert str(refused.value) == (
        "own.csv:1:Print Spot Code: 'Print Spot Code' may be location or design; say which with "
        '--map "Print Spot Code=location", or --map "Print Spot Code=" if it is not to be read'
    )
    assert not (folder / "headings.toml").exists()
    bring_in(path, folder, asks=False, maps=("print spot code=Location",))
    assert orders_of(folder)[0]["location"] == "front"
    assert bring_in(path, folder, asks=False).shown[0].endswith("1 as they were.")


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        ({"maps": ("Spott=location",)}, "own.csv:Spott: has no heading 'Spott'; look at the sheet's own headings"),
        ({"maps": ("Qtty=pieces",)}, "own.csv:Qtty: has no heading 'Qtty'; did you mean 'Qty'?"),
        ({"maps": ("Qty=peices",)}, "--map: 'peices' is no heading of the orders sheet; did you mean pieces?"),
        ({"maps": ("Qty",)}, "--map: 'Qty' is not two words with = between"),
        ({"fills": ("client=me",)}, "--fill: 'client' cannot say the same in every row"),
        ({"fills": ("blanks=whatever",)}, "fill blanks: 'whatever' is neither in nor a day"),
        ({"fills": ("carrier=Nobody",)}, "fill carrier: 'Nobody' is no carrier of the shop"),
        ({"dates": "whatever"}, "--dates: 'whatever' is no order of dates; write day first or month first"),
        ({"sheet": "March"}, "own.csv: has no sheet 'March'; leave --sheet out"),
    ],
)
def test_wishes_that_make_no_sense_are_told(tmp_path: Path, wish: dict[str, object], told: str) -> None:
    """An option that names what is not there is told with what to write, and nothing is brought."""
    folder = week(tmp_path)
    with pytest.raises(InputError) as refused:
        bring_in(text_sheet(tmp_path / "own.csv", WHOLE + ROW), folder, asks=False, **wish)
    assert told in str(refused.value)
    assert orders_of(folder) == []


@pytest.mark.parametrize(("ours", "cell"), [("garment_colour", "black"), ("inks", "white, red")])
def test_a_colour_column_is_what_is_left(tmp_path: Path, ours: str, cell: str) -> None:
    """A column "Colour" is the garment's where the inks have their own, and the inks where the garment's has."""
    other = "Ink colours" if ours == "garment_colour" else "Shirt colour"
    text = f"Order,Customer,Due,Item,Qty,Placement,Colour,{other},Blanks,Proof\n"
    other_cell = "white" if ours == "garment_colour" else "black"
    text += f'1,Vet,2026-03-09,tee,40,front,"{cell}","{other_cell}",in,ok\n'
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", text), folder, asks=False)
    row = orders_of(folder)[0]
    assert row["garment"] == "black tee"
    assert row["inks"] == ("white" if ours == "garment_colour" else "white, red")


@pytest.mark.parametrize(
    ("cells", "heading"),
    [(("approved", "proof sent", "ok"), "art"), (("lions crest", "mill loaf", "otter tour"), "design")],
)
def test_artwork_is_what_its_cells_say(tmp_path: Path, cells: tuple[str, ...], heading: str) -> None:
    """A column "Artwork" holds approvals or names of designs; its cells tell which, and else it is asked."""
    text = "Order,Customer,Due,Garment,Qty,Location,Inks,Blanks,Artwork\n"
    text += "\n".join(f"{at},Vet,2026-03-09,black tee,40,front,white,in,{cell}" for at, cell in enumerate(cells))
    folder = week(tmp_path)
    bring_in(text_sheet(tmp_path / "own.csv", text), folder, *(() if heading == "art" else ("1", "2")))
    headings = remembered(folder)["headings"]
    assert headings["Artwork"] == heading  # type: ignore[index]


def test_two_dates_are_asked_about(tmp_path: Path) -> None:
    """A due date beside a ship date is asked about; a mere "Date" beside a due date is the day it came in."""
    head = "Order,Customer,Date,Due date,Ship date,Garment,Qty,Location,Inks,Blanks,Art\n"
    row = "1,Vet,2026-02-20,2026-03-09,2026-03-06,black tee,40,front,white,in,ok\n"
    folder = week(tmp_path)
    board = bring_in(text_sheet(tmp_path / "own.csv", head + row), folder, "2", "1")
    assert [line for line in board.shown if line.startswith("What is")] == [
        "What is the column 'Due date' (2026-03-09, ...)?",
        "What is the column 'Ship date' (2026-03-06, ...)?",
    ]
    assert orders_of(folder)[0]["due"] == "2026-03-06"


def test_a_missing_heading_is_asked_for(tmp_path: Path) -> None:
    """Where no column says the location, the columns left over are offered, with "none of these" first."""
    path = text_sheet(tmp_path / "own.csv", WHOLE.replace("Placement", "XY") + ROW)
    folder = week(tmp_path)
    board = bring_in(path, folder, "2")
    assert board.shown[0] == "Which column is the location (where on the garment it is printed)?"
    assert orders_of(folder)[0]["location"] == "front"
    other = week(tmp_path, name="other")
    bring_in(path, other, "")
    assert orders_of(other)[0]["location"] == "?"


def test_columns_a_sheet_has_not_are_said_once(tmp_path: Path) -> None:
    """Whether goods are in and art approved is asked once for a sheet that does not say, and remembered."""
    text = "Order,Customer,Due,Garment,Qty,Location,Inks\n1,Vet,2026-03-09,black tee,40,front,white\n"
    path, folder = text_sheet(tmp_path / "own.csv", text), week(tmp_path)
    board = bring_in(path, folder, "2", "2")
    assert (orders_of(folder)[0]["blanks"], orders_of(folder)[0]["art"]) == ("in", "ok")
    assert "No column for blanks: taken as in in every row." in board.shown
    assert remembered(folder)["fill"] == {"blanks": "in", "art": "ok"}
    assert bring_in(path, folder).prompts == []
    other = week(tmp_path, name="other")
    bring_in(path, other, asks=False, fills=("blanks=in",))
    assert (orders_of(other)[0]["blanks"], orders_of(other)[0]["art"]) == ("in", "?")


def test_rows_without_a_number_may_belong_to_the_order_above(tmp_path: Path) -> None:
    """Rows below an order without a number of their own are asked about once."""
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE + ROW + ",,,,,back,white,,\n"), week(tmp_path)
    board = bring_in(path, folder, "1")
    assert "Rows without an order number (3): do they belong to the order above?" in board.shown
    assert [(row["order"], row["location"]) for row in orders_of(folder)] == [("4102", "front"), ("4102", "back")]
    assert remembered(folder)["blank_order"] == "order above"
    assert bring_in(path, folder).prompts == []


@pytest.mark.parametrize(
    ("days", "order", "due"),
    [
        (("13/03/2026", "04/03/2026"), "day first", "2026-03-04"),
        (("03/13/2026", "03/04/2026"), "month first", "2026-03-04"),
        (("13.3.26", "4.3.26"), "day first", "2026-03-04"),
        (("25/03", "04/03"), "day first", "2026-03-04"),
        (("2026-03-13", "2026-03-04"), None, "2026-03-04"),
        (("05/05/2026", "03/03/2026"), None, "2026-03-03"),
    ],
)
def test_dates_that_tell_are_not_asked_about(
    tmp_path: Path, days: tuple[str, ...], order: str | None, due: str
) -> None:
    """One date that can be read one way only tells all others; dates that read the same both ways need nothing."""
    folder = week(tmp_path)
    board = bring_in(dated(tmp_path / "own.csv", *days), folder)
    assert board.prompts == []
    assert orders_of(folder)[1]["due"] == due
    assert remembered(folder).get("dates") == order


@pytest.mark.parametrize(("typed", "due"), [("day first", "2026-04-03"), ("month first", "2026-03-04")])
def test_an_unclear_date_is_asked_about_once(tmp_path: Path, typed: str, due: str) -> None:
    """Where no date tells, the order of day and month is asked with both readings, and remembered."""
    path, folder = dated(tmp_path / "own.csv", "03/04/2026"), week(tmp_path)
    board = bring_in(path, folder, typed)
    assert "Dates as '03/04/2026': which comes first?" in board.shown
    assert {line.partition(": ")[2] for line in board.shown if "first: " in line and line.startswith("  ")} == {
        "03 April 2026",
        "04 March 2026",
    }
    assert orders_of(folder)[0]["due"] == due
    assert remembered(folder)["dates"] == typed
    assert bring_in(path, folder).prompts == []


def test_an_unclear_date_is_refused_without_asking(tmp_path: Path) -> None:
    """With --yes an unclear date is told with its place and the option that settles it; --dates and the shop's do."""
    path, folder = dated(tmp_path / "own.csv", "03/04/2026"), week(tmp_path)
    with pytest.raises(InputError, match=r"own\.csv:2:Due: '03/04/2026' does not say which .*--dates"):
        bring_in(path, folder, asks=False)
    bring_in(path, folder, asks=False, dates="month first")
    assert orders_of(folder)[0]["due"] == "2026-03-04"
    shop = (folder / "shop.toml").read_text(encoding="utf-8").replace("zone =", 'dates = "day first"\nzone =')
    other = week(tmp_path, shop=shop, name="other")
    bring_in(path, other, asks=False)
    assert orders_of(other)[0]["due"] == "2026-04-03"


def test_dates_both_ways_are_a_fault(tmp_path: Path) -> None:
    """A sheet in which one date has the day first, another the month, and a third may be either cannot be read."""
    path = dated(tmp_path / "own.csv", "13/03/2026", "03/14/2026", "03/04/2026")
    with pytest.raises(InputError, match=r"'03/14/2026' has the month first and '13/03/2026' the day"):
        bring_in(path, week(tmp_path))


@pytest.mark.parametrize(("typed", "due"), [("20/12", "2025-12-20"), ("20/06", "2026-06-20"), ("2/1", "2026-01-02")])
def test_a_date_without_a_year_is_the_nearest(tmp_path: Path, typed: str, due: str) -> None:
    """Without a year the nearest such day to the planning moment is taken, and told."""
    folder = week(tmp_path)
    board = bring_in(dated(tmp_path / "own.csv", typed, "13/03/2026"), folder)
    assert orders_of(folder)[0]["due"] == due
    assert any(f"'{typed}' names no year; {due} was taken" in line for line in board.shown)


def test_what_is_remembered_can_be_changed(tmp_path: Path) -> None:
    """A line of headings.toml changed by hand counts; one that makes no sense is a fault with its place."""
    path, folder = text_sheet(tmp_path / "own.csv", WHOLE + ROW), week(tmp_path)
    bring_in(path, folder, asks=False)
    told = (folder / "headings.toml").read_text(encoding="utf-8")
    (folder / "headings.toml").write_text(told.replace('"Item" = "garment"', '"Item" = "note"'), encoding="utf-8")
    bring_in(path, folder, asks=False)
    assert orders_of(folder)[-1]["note"] == "black tee"
    (folder / "headings.toml").write_text(told.replace('= "garment"', '= "shirt"'), encoding="utf-8")
    with pytest.raises(InputError, match=r"headings\.toml:Item: 'shirt' is no heading of the orders sheet"):
        bring_in(path, folder, asks=False)
    (folder / "headings.toml").write_text("headings = ", encoding="utf-8")
    with pytest.raises(InputError, match=r"headings\.toml: cannot be read.*; correct it, or delete the file"):
        bring_in(path, folder, asks=False)

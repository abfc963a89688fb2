"""Files as they arrive on a bad day: huge, packed to burst, saved by strange programs, full of letters that deceive."""

from __future__ import annotations

import io
import os
import resource
import time
import zipfile
from pathlib import Path

import pytest

from scheduler import api
from scheduler.errors import InputError
from tests.inputs.weeks import SHOP, good_files, write_folder

HEAD = "order,client,due,garment,shade,pieces,location,inks,blanks,art\n"
ROW = "A1,Café Vet,2026-03-09,black tee,dark,144,front,white,in,ok\n"


def week(place: Path, orders: str | bytes, shop: str = SHOP) -> Path:
    """The small good shop with other orders."""
    return write_folder(place / "week", {"shop.toml": shop, "orders.csv": orders})


def faults(path: Path) -> list[str]:
    """What is told of a week that is refused."""
    with pytest.raises(InputError) as refused:
        api.build_workload(api.read_week(path))
    return [str(one) for one in refused.value.problems if not one.is_warning]


def oddities(path: Path) -> list[str]:
    """What is odd about a week that is read."""
    return [str(one) for one in api.read_week_with_warnings(path)[1]]


def test_a_hundred_megabytes_are_refused_at_once(tmp_path: Path) -> None:
    """A CSV file of 100 MB is told by its size without being read."""
    path = week(tmp_path, HEAD + ROW)
    os.truncate(path / "orders.csv", 100_000_000)
    began = time.perf_counter()
    assert faults(path) == ["orders.csv: holds 100 MB; keep it below 20 MB: is it the right file?"]
    assert time.perf_counter() - began < 5


def test_a_year_of_orders_in_one_sheet_is_read(tmp_path: Path) -> None:
    """Two thousand orders are read and made into a week in time that grows with them and no faster."""

    def seconds(count: int, place: Path) -> float:
        path = week(place, HEAD + "".join(ROW.replace("A1", f"A{number}") for number in range(count)))
        began = time.process_time()
        workload = api.build_workload(api.read_week(path))
        assert len(workload.week.orders) == count
        return time.process_time() - began

    seconds(1, tmp_path / "warm")
    few, many = seconds(400, tmp_path / "few"), seconds(1600, tmp_path / "many")
    assert many < 10 * few, f"four times the orders took {many / few:.1f} times as long"


@pytest.mark.parametrize("name", ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "bomb.xml"])
def test_a_packed_bomb_does_not_burst(tmp_path: Path, name: str) -> None:
    """A workbook that says how much it unpacks to is refused for it, whichever part it hides in."""
    path = tmp_path / "week.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed, packed.open(name, "w") as part:
        for _ in range(210):
            part.write(b" " * 1_000_000)
    assert path.stat().st_size < 1_000_000
    assert faults(path) == [
        "week.xlsx: is not a workbook that can be read; save it as an Excel workbook (.xlsx), without a password"
    ]


def test_a_packed_bomb_that_lies_about_its_size_does_not_burst(tmp_path: Path) -> None:
    """A part that claims to be small and unpacks to 400 MB is refused, and no such amount is ever held."""
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as packed, packed.open("[Content_Types].xml", "w") as part:
        for _ in range(400):
            part.write(b" " * 1_000_000)
    told, claimed = (400_000_000).to_bytes(4, "little"), (1000).to_bytes(4, "little")
    lying = raw.getvalue().replace(told, claimed)
    assert lying != raw.getvalue()
    path = tmp_path / "week.xlsx"
    path.write_bytes(lying)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert len(faults(path)) == 1
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 200_000


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        ((HEAD + ROW).encode("utf-16"), "orders.csv: is text in UTF-16; save it as CSV UTF-8"),
        ((HEAD + ROW).encode("utf-32"), "orders.csv: is text in UTF-16; save it as CSV UTF-8"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "orders.csv:2: holds signs that are no text; save it as CSV UTF-8"),
        (b"PK\x03\x04\x14\x00" * 9, "orders.csv:1: holds signs that are no text; save it as CSV UTF-8"),
    ],
)  # fmt: skip
def test_what_is_no_text_is_told(tmp_path: Path, raw: bytes, told: str) -> None:
    """A sheet in another encoding, or no text at all, is told in one sentence that says how to save it."""
    assert faults(week(tmp_path, raw)) == [told]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_habits_of_programs_do_not_matter(tmp_path: Path, encoding: str, line_end: str) -> None:
    """With or without a mark at its start, with any line end, in UTF-8 or an older encoding: the same client."""
    raw = (HEAD + ROW).replace("\n", line_end).encode(encoding)
    assert [one.client for one in api.read_week(week(tmp_path, raw)).orders] == ["Café Vet"]


@pytest.mark.parametrize("sign", ["\u200b", "\ufeff", "\u00ad", "\u202e", "\u200f"])
def test_signs_nobody_sees_are_not_there(tmp_path: Path, sign: str) -> None:
    """A blank without width, a mark of direction in an order's number or a heading: one order, two locations."""
    other = ROW.replace("A1", f"A{sign}1").replace("front", "back")
    path = week(tmp_path, HEAD.replace("garment", f"gar{sign}ment") + ROW + other)
    inputs = api.read_week(path)
    assert [one.order_id for one in inputs.orders] == ["A1"]
    assert [one.location for one in inputs.imprints] == ["front", "back"]
    assert oddities(path) == []


def test_letters_that_only_look_right_are_told(tmp_path: Path) -> None:
    """An order number with a Cyrillic А is read as another order, and the row says that it looks like the first."""
    other = ROW.replace("A1", "А1").replace("front", "back")
    told = oddities(week(tmp_path, HEAD + ROW + other))
    assert told == [
        "orders.csv:3:order: 'А1' looks like the order 'A1' in row 2 but has other letters; "
        "copy it from there if they are the same"
    ]


def test_letters_that_are_what_they_look_like_are_not_told(tmp_path: Path) -> None:
    """A client in Cyrillic, the same order again in other case, and orders that differ in a digit are nothing odd."""
    rows = [ROW.replace("Café Vet", "Аптека"), ROW.replace("A1", "a1").replace("front", "back").replace("Café Vet", "")]
    assert oddities(week(tmp_path, HEAD + "".join([*rows, ROW.replace("A1", "A7")]))) == []


def test_look_alikes_between_sheets_are_told(tmp_path: Path) -> None:
    """A design remembered with other letters than the order's is told at its own row."""
    files = {"shop.toml": SHOP, "orders.csv": HEAD.replace("\n", ",design\n") + ROW.replace("\n", ",moth\n")}
    path = write_folder(tmp_path / "week", {**files, "designs.csv": "design,inks\nmоth,white\n"})
    assert [one for one in oddities(path) if "looks like" in one] == [
        "designs.csv:2:design: 'mоth' looks like the design 'moth' in orders.csv, row 2, but has other letters; "
        "copy it from there if they are the same"
    ]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("144", "-144", "pieces: '-144' is less than 1; write 1 or more"),
        ("2026-03-09", "1900-01-01", "due: '1900-01-01' is in the year 1900; write a year from 2000 to 2100"),
        ("2026-03-09", "9999-12-31", "due: '9999-12-31' is in the year 9999; write a year from 2000 to 2100"),
        (
            *("2026-03-09", "2026-03-29 01:30"),
            "due: '2026-03-29 01:30' does not exist in Europe/Lisbon; clocks go forward then: write 2026-03-29 02:30",
        ),
        ("2026-03-09", "03/13/2026", "due: '03/13/2026' is not a date; write it as 2026-03-13"),
    ],
)  # fmt: skip
def test_slips_of_the_pen_are_told_at_their_cell(tmp_path: Path, old: str, new: str, told: str) -> None:
    """Negative pieces, absurd years, an hour that clocks skip, month before day: the cell, and what to write."""
    assert faults(week(tmp_path, HEAD + ROW.replace(old, new))) == [f"orders.csv:2:{told}"]


def test_a_clock_that_goes_back_gives_the_first_of_two_hours(tmp_path: Path) -> None:
    """01:30 comes twice on the night of 25 October in Lisbon: the first, in summer time, is meant."""
    shop = SHOP.replace('"2026-03-02 07:00"', '"2026-10-19 07:00"', 1)
    inputs = api.read_week(week(tmp_path, HEAD + ROW.replace("2026-03-09", "2026-10-25 01:30"), shop))
    due = inputs.orders[0].due_at
    assert due.isoformat() == "2026-10-25T01:30:00+01:00"


def test_an_order_typed_twice_is_told(tmp_path: Path) -> None:
    """The same print location again, and the same number for two clients, are told with the row they clash with."""
    again = faults(week(tmp_path / "again", HEAD + ROW + ROW))
    assert again == [
        "orders.csv:3:location: black tee, front stands in line 2 already; "
        "take one out, or name the location differently"
    ]
    other = faults(week(tmp_path / "other", HEAD + ROW + ROW.replace("Café Vet", "Mill").replace("front", "back")))
    assert len(other) == 1
    assert other[0].startswith("orders.csv:3:client: order A1 has client 'Mill' here and 'Café Vet' in line 2")


def test_a_formula_is_a_text_and_never_runs(tmp_path: Path) -> None:
    """A client called =HYPERLINK(...) is a name; on paper it has an apostrophe before it."""
    row = ROW.replace("Café Vet", "=HYPERLINK(1)")
    inputs = api.read_week(week(tmp_path, HEAD + row))
    workload = api.build_workload(inputs)
    from scheduler.domain.settings import SearchSettings

    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    clients = {one.order_id: one.client for one in inputs.orders}
    facts = api.plan_facts(workload.week, result)
    api.write_plan_folder(tmp_path / "out", workload.week, result.plan, facts, clients=clients)
    assert "'=HYPERLINK(1)" in (tmp_path / "out" / "orders.csv").read_text(encoding="utf-8-sig")


def test_the_good_week_is_good(tmp_path: Path) -> None:
    """The week these tests spoil is read without a word."""
    assert oddities(write_folder(tmp_path / "week", good_files())) == []

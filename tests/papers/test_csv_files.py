import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.papers import csv_files
from scheduler.papers.roster_table import roster_rows
from scheduler.papers.screen_tables import screen_rows
from scheduler.papers.tables import order_rows, press_queue, staging_rows
from scheduler.safe_files import write_text
from tests.papers import small_shop


def table(text: str) -> list[dict[str, str]]:
    """A CSV text as a spreadsheet takes it in."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_every_table_has_a_line_for_every_row() -> None:
    """Press queue, screens, orders, carts and roster each come out whole, all cells under a heading."""
    week, plan = small_shop.week(), small_shop.plan()
    tables = [
        (csv_files.press_queue_csv(press_queue(week, plan)), 5),
        (csv_files.screens_csv(screen_rows(week, plan)), 8),
        (csv_files.orders_csv(order_rows(week, plan)), 4),
        (csv_files.staging_csv(staging_rows(week, plan)), 5),
        (csv_files.roster_csv(roster_rows(week, plan)), len(roster_rows(week, plan))),
    ]
    for text, count in tables:
        lines = table(text)
        assert len(lines) == count
        assert all(None not in line and None not in line.values() for line in lines)


def test_the_press_queue_reads_as_planned() -> None:
    """A run's line holds its press, local times, what changes and why."""
    line = table(csv_files.press_queue_csv(press_queue(small_shop.week(), small_shop.plan())))[2]
    told = {name: line[name] for name in ("press", "number", "set up at", "set up min", "kept inks", "late", "reason")}
    assert told == {
        "press": "Big Eight",
        "number": "3",
        "set up at": "2026-03-02 10:23",
        "set up min": "31",
        "kept inks": "white on head 3",
        "late": "▲ late 1 day",
        "reason": "its garments come off the front print",
    }


def test_what_is_not_planned_has_no_times() -> None:
    """An order that waits has empty times and late days, not zeros."""
    line = table(csv_files.orders_csv(order_rows(small_shop.week(), small_shop.plan())))[-1]
    assert (line["ready to leave"], line["late days"], line["planned"]) == ("", "", "waiting")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_client_cannot_plant_a_formula(start: str) -> None:
    """A client's name that a spreadsheet would run as a formula gets an apostrophe in front."""
    week = small_shop.week(client=f"{start}HYPERLINK(A1)")
    line = table(csv_files.orders_csv(order_rows(week, small_shop.plan(week))))[0]
    assert line["client"] == f"'{start}HYPERLINK(A1)"


@given(st.text(max_size=20))
def test_no_text_cell_starts_a_formula(text: str) -> None:
    """Whatever is typed, a cell never starts as a formula does, and nothing of it is lost."""
    cell = csv_files.cell_text(text)
    assert not cell.startswith(csv_files.FORMULA_STARTS)
    assert cell in (text, f"'{text}")


def test_numbers_stay_numbers() -> None:
    """A number keeps its sign: only texts can be formulas."""
    assert csv_files.cell_text(-5) == "-5"


def test_quotes_commas_and_line_breaks_survive() -> None:
    """A client's name with commas, quotes and a line break comes back as it was typed."""
    name = 'Bar "Zur Sonne", Inh.\nO\'Neill'
    week = small_shop.week(client=name)
    assert table(csv_files.orders_csv(order_rows(week, small_shop.plan(week))))[0]["client"] == name


def test_accents_open_in_a_spreadsheet(tmp_path: Path) -> None:
    """The file starts with a byte order mark and holds accents as UTF-8; line ends are not doubled."""
    text = csv_files.orders_csv(order_rows(small_shop.week(), small_shop.plan()))
    write_text(tmp_path / "orders.csv", text, encoding=csv_files.ENCODING)
    raw = (tmp_path / "orders.csv").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbforder,client")
    assert "Café São".encode() in raw
    assert b"\r\r\n" not in raw


def test_moments_are_local_without_seconds() -> None:
    """A moment is written as spreadsheets read it, in the shop's own time."""
    row = replace(press_queue(small_shop.week(), small_shop.plan())[0], stage_at=None)
    line = table(csv_files.press_queue_csv([row]))[0]
    assert (line["stage at"], line["done at"]) == ("", "2026-03-02 09:43")

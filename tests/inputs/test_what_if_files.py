"""What-ifs from small files and from words: read in full, and every fault of all of them at once."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from scheduler.domain.orders import WeekInputs
from scheduler.domain.what_if import (
    BlanksMoved,
    Cancelled,
    HoursOpened,
    InkOut,
    OutOfUse,
    PiecesChanged,
    PrintChanged,
    Rush,
)
from scheduler.errors import InputError
from scheduler.inputs.reader import read_week
from scheduler.inputs.what_if_files import (
    print_table,
    read_now,
    read_what_if_text,
    read_what_ifs,
    what_if_text,
)
from scheduler.inputs.what_if_kinds import KINDS, MEANINGS

WEEK = Path(__file__).resolve().parents[2] / "scenarios" / "midsize"
ZONE = ZoneInfo("America/Chicago")
RUSH = """\
[[rush]]
order = "R1"
client = "Low Ford Players"
due = 2026-04-16
garment = "black tee"
shade = "dark"
pieces = 72
location = "front"
inks = "white, red"
blanks = "in"
art = 2026-04-14T10:00:00

[[rush]]
order = "R1"
garment = "black tee"
location = "back"
design = "Fennick Stout"
art = "ok"
"""


@pytest.fixture(scope="module")
def inputs() -> WeekInputs:
    """The mid-size week."""
    return read_week(WEEK)


def at(day: int, hour: int, minute: int = 0) -> datetime:
    """A moment of April."""
    return datetime(2026, 4, day, hour, minute, tzinfo=ZONE)


def problems(*asked: str, week: Path = WEEK) -> list[tuple[str | None, str]]:
    """(setting, code) of every fault."""
    with pytest.raises(InputError) as fault:
        read_what_ifs(asked, week, read_week(WEEK))
    return [(one.column, one.code) for one in fault.value.problems if not one.is_warning]


def test_a_rush_is_read_as_the_orders_sheet_would_be(inputs: WeekInputs) -> None:
    """Two tables are one order with one lot and two prints; a known design is spelled as the week spells it."""
    (rush,) = read_what_if_text("rush.toml", RUSH, inputs).what_ifs
    assert isinstance(rush, Rush)
    assert (rush.order.order_id, rush.order.client, rush.order.due_at) == ("R1", "Low Ford Players", date(2026, 4, 16))
    assert [(lot.garment, lot.pieces, lot.shade) for lot in rush.lots] == [("black tee", 72, "dark")]
    assert [(one.location, one.design_id, one.art_at) for one in rush.imprints] == [
        ("front", "R1 front", at(14, 10)),
        ("back", "fennick stout", None),
    ]


def test_words_a_file_and_a_name_say_the_same(inputs: WeekInputs, tmp_path: Path) -> None:
    """The same what-if as words, as a file anywhere and as a name in the week's whatif folder."""
    (tmp_path / "whatif").mkdir()
    path = tmp_path / "whatif" / "down.toml"
    path.write_text('[press_out]\npress = "AUTO-1"\nto = 2026-04-14 12:00:00\n', encoding="utf-8")
    words = "press-out press=auto-1 to='2026-04-14 12:00'"
    read = read_what_ifs([words, str(path), "down", "down.toml"], tmp_path, inputs)
    expected = OutOfUse(kind="press", thing_id="auto-1", from_at=inputs.shop.plan_from, to_at=at(14, 12))
    assert [one.what_ifs for one in read] == [(expected,)] * 4
    assert [one.name for one in read] == [words, "down", "down", "down"]


def test_what_is_out_from_now_on_is_out_from_now_on(inputs: WeekInputs) -> None:
    """Without a start it is now, and a bare day to which something is out ends at its midnight."""
    (read,) = read_what_ifs(["person-out person=wren to=2026-04-14"], WEEK, inputs, at(13, 11))
    assert read.what_ifs == (OutOfUse(kind="person", thing_id="wren", from_at=at(13, 11), to_at=at(15, 0)),)
    assert read_what_if_text("taken.toml", what_if_text(read.tables), inputs).what_ifs == read.what_ifs


def test_every_kind_reads_back_from_the_text_it_is_kept_as(inputs: WeekInputs) -> None:
    """What is written for a taken what-if is read as that very what-if again, quotes and all."""
    asked = [
        "cancel order=4117",
        "pieces order=4102 garment='Black Tee' pieces=1,200",
        "blanks order=4113 blanks=?",
        "open-hours day=2026-04-18 from=22:00 to=02:00 price='300 USD' presses=auto-1",
        "ink-out ink=gold until=?",
    ]
    read = read_what_ifs(asked, WEEK, inputs)
    assert [one for own in read for one in own.what_ifs] == [
        Cancelled(order_id="4117"),
        PiecesChanged(order_id="4102", pieces=1200, garment="black tee"),
        BlanksMoved(order_id="4113", at=None),
        HoursOpened(day=date(2026, 4, 18), from_min=1320, to_min=1560, price_cents=30_000, press_ids=("auto-1",)),
        InkOut(ink="gold", at=None),
    ]
    text = what_if_text(table for one in read for table in one.tables)
    assert read_what_if_text("taken.toml", text, inputs).what_ifs == tuple(one for own in read for one in own.what_ifs)
    changed = PrintChanged(order_id="4102", location="front", not_before=at(14, 9), design_id='the "big" one')
    again = read_what_if_text("taken.toml", what_if_text([print_table(changed)]), inputs)
    assert again.what_ifs == (changed,)


def test_every_fault_of_every_what_if_is_told_at_once() -> None:
    """Unknown kinds, settings and names, gaps, wrong cells and contradictions, each with its place."""
    found = problems(
        "press-out press=auto-9 to=2026-04-14",
        "cancel order=9999 why=rain",
        "pieces order=4102 pieces=some garment='red hat'",
        "date order=4102 due=2026-04-17 in_hands=2026-04-18",
        "dryer-out dryer=long from='2026-04-14 12:00' to='2026-04-14 11:00'",
        "presout press=auto-1 to=2026-04-14",
        "reprint order=4102",
        "rush order=4101 client=X due=2026-04-17 garment='red tee' pieces=9 location=back inks=red blanks=in art=ok",
        "rush order=R9 cliente=X",
    )
    assert set(found) >= {
        ("press_out.press", "no_such_name"),
        ("cancel.order", "no_such_name"),
        ("cancel.why", "no_such_setting"),
        ("pieces.pieces", "not_a_number"),
        ("pieces.garment", "no_such_name"),
        ("date.due", "one_date"),
        ("dryer_out.to", "ends_first"),
        ("presout", "no_such_kind"),
        ("reprint.pieces", "missing"),
        ("rush.order", "order_twice"),
        ("cliente", "no_such_setting"),
        ("client", "missing"),
    }


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("boosters", "no_what_if"),
        ("cancel", "no_what_if"),
        ("cancel 4117=", "no_such_setting"),
        ("cancel order 4117", "no_what_if"),
        ("cancel order='4117", "broken_quotes"),
        ("nowhere.toml", "cannot_read"),
    ],
)
def test_what_is_no_what_if_is_told_with_what_to_write(words: str, code: str) -> None:
    """A name that is no file, words without settings and a file that is not there: one fault each."""
    assert code in [found for _, found in problems(words)]


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "empty"), ("rush = 5\n", "not_a_table"), ("[rush\n", "not_toml"), ("[[lunch]]\n", "no_such_kind")],
)
def test_a_file_that_holds_none_is_told(text: str, code: str, inputs: WeekInputs) -> None:
    """Empty, no table, no TOML, no such kind."""
    with pytest.raises(InputError) as fault:
        read_what_if_text("odd.toml", text, inputs)
    assert [(one.file, one.code) for one in fault.value.problems] == [("odd.toml", code)]


def test_now_lies_among_the_planned_days(inputs: WeekInputs) -> None:
    """The planning moment and the last planned hour are moments; a minute before is none, nor is a bare day."""
    assert read_now("2026-04-13 07:00", inputs) == at(13, 7)
    assert read_now("2026-04-26 15:00", inputs) == at(26, 15)
    for text, code in (("2026-04-13 06:59", "not_planned_then"), ("2026-04-27 07:00", "not_planned_then")):
        with pytest.raises(InputError) as fault:
            read_now(text, inputs)
        assert [one.code for one in fault.value.problems] == [code]
    with pytest.raises(InputError, match="no clock time"):
        read_now("2026-04-14", inputs)


def test_every_kind_has_a_meaning() -> None:
    """The catalogue of settings and that of meanings name the same kinds, a rush among the meanings alone."""
    assert set(MEANINGS) == {"rush", *KINDS}

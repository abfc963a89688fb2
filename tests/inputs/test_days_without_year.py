"""Days as people type them, without their year: the nearest one is meant, and told."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler import api
from scheduler.errors import InputError
from scheduler.inputs import moments
from scheduler.inputs.faults import CellError
from tests.daily_life.typed import automatic, shop

TODAY = date(2026, 11, 26)
HEAD = "order,client,due,garment,shade,pieces,location,inks,blanks,art\n"


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("Dec 2", date(2026, 12, 2)),
        ("2 Dec", date(2026, 12, 2)),
        ("Fri 4 Dec", date(2026, 12, 4)),
        ("December 4th", date(2026, 12, 4)),
        ("13/12", date(2026, 12, 13)),
        ("Jan 5", date(2027, 1, 5)),
        ("20 Nov", date(2026, 11, 20)),
        ("29 Feb", date(2028, 2, 29)),
    ],
)
def test_the_nearest_year_is_meant(text: str, meant: date) -> None:
    """A day is taken in the year that brings it nearest to the planning day, before it or after it."""
    if text == "29 Feb":
        with pytest.raises(CellError, match="not a date"):
            moments.day("", TODAY)(text)  # no leap year is near
        return
    assert moments.day("", TODAY)(text) == meant


def test_day_and_month_are_not_guessed() -> None:
    """Two numbers below thirteen may be read two ways; what the shop says decides, else both are offered."""
    with pytest.raises(CellError) as told:
        moments.day("", TODAY)("12/5")
    assert told.value.code == "two_ways"
    assert "write 2026-05-12 or 2026-12-05" in told.value.hint
    assert moments.day(moments.MONTH_FIRST, TODAY)("12/5") == date(2026, 12, 5)
    assert moments.day(moments.DAY_FIRST, TODAY)("5/12") == date(2026, 12, 5)
    with pytest.raises(CellError, match="not a date"):
        moments.day("")("Dec 2")


@pytest.mark.parametrize(
    ("text", "lacks"),
    [("Dec 2", True), ("Fri 4 Dec 15:00", True), ("13/12", True), ("2026-12-02", False), ("2 Dec 2026 9:00", False)],
)
def test_what_lacks_its_year_is_known(text: str, lacks: bool) -> None:
    """A clock time or a weekday beside it makes no difference."""
    assert moments.lacks_year(text) == lacks


def _week(folder: Path, rows: str) -> Path:
    (folder / "shop.toml").write_text(shop(automatic()), encoding="utf-8")
    (folder / "orders.csv").write_text(HEAD + rows, encoding="utf-8")
    return folder


def test_the_sheet_reads_them_and_says_so(tmp_path: Path) -> None:
    """A due day and a day of blanks without their year are read, and both stand in the list of what is assumed."""
    rows = "1,Inn,Mar 6 15:00,black tee,dark,24,front,white,Mar 3,ok\n"
    inputs = api.read_week(_week(tmp_path, rows))
    (order,) = inputs.orders
    assert f"{order.due_at:%Y-%m-%d %H:%M}" == "2026-03-06 15:00"
    assert f"{inputs.lots[0].blanks_at:%Y-%m-%d}" == "2026-03-03"
    (told,) = [one for one in inputs.assumptions if one.code == "no_year"]
    assert told.count == 2


def test_a_number_of_colours_is_no_ink(tmp_path: Path) -> None:
    """A cell of 2c is asked back about, with what to write instead; nobody prints an ink of that name."""
    for typed in ("2c", "2 colours", "3", "2c/1c"):
        with pytest.raises(InputError) as told:
            api.read_week(_week(tmp_path, f"1,Inn,2026-03-06,black tee,dark,24,front,{typed},in,ok\n"))
        (problem,) = told.value.problems
        assert (problem.code, problem.column) == ("count_of_inks", "inks")
        assert "white, red" in problem.hint
    for typed in ("485 red", "pms 485", "3M silver", '"white, red"'):
        api.read_week(_week(tmp_path, f"1,Inn,2026-03-06,black tee,dark,24,front,{typed},in,ok\n"))

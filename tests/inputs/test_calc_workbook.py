"""A shop's own sheet saved by LibreOffice Calc is brought like any other."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler import api
from tests.inputs.office_sheets import Cell, calc_workbook
from tests.inputs.own_sheets import bring_in, orders_of, week

HEADINGS: list[Cell] = ["Order no", "Customer", "Ship date", "Item", "Qty", "Placement", "Ink colors", "Blanks", "Art"]
SHEET: list[list[Cell]] = [
    HEADINGS,
    [2101, "Rosa's Diner", date(2026, 3, 12), "black tee", 48, "front", "white", "in", "ok"],
    [2102, "Elm Street FC", date(2026, 3, 4), "navy tee", 60.0, "front", "white, gold", True, "approved"],
    [None, None, None, None, None, None, None, None, None],
    [2103, " Bean & Sons ", date(2026, 3, 13), "natural tote", 1440, "front", "brown", date(2026, 3, 3), None],
]


@pytest.mark.parametrize("day_format", ["mm/dd/yy", "dd.mm.yyyy", 'ddd" "d" "mmm', "yyyy-mm-dd"])
def test_a_sheet_saved_by_calc_is_brought_whole(tmp_path: Path, day_format: str) -> None:
    """Days are days in whatever format they are shown, numbers have no point, empty rows far down are no orders."""
    folder = week(tmp_path, None)
    board = bring_in(
        calc_workbook(tmp_path / "own.xlsx", SHEET, day_format=day_format), folder, asks=False, fills=("art=?",)
    )
    rows = orders_of(folder)
    assert [(row["order"], row["due"], row["pieces"]) for row in rows] == [
        ("2101", "2026-03-12", "48"),
        ("2102", "2026-03-04", "60"),
        ("2103", "2026-03-13", "1440"),
    ]
    assert [row["blanks"] for row in rows] == ["in", "in", "2026-03-03"]
    assert [row["client"] for row in rows] == ["Rosa's Diner", "Elm Street FC", "Bean & Sons"]
    assert "3 new" in board.shown[0]
    assert len(api.read_week(folder).orders) == 3

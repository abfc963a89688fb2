"""Cells and stops of a calendar, and drying on the shop axis, against the calendar and the clock themselves."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from scheduler.domain.calendars import Calendar
from scheduler.model.cells import OpenCells, always_open, open_cells
from scheduler.model.drying import drying_pieces
from tests import builders as b
from tests.random_weeks import random_week


def spans(cells: OpenCells) -> list[tuple[int, int]]:
    """Start and end of each cell."""
    return [(cell.start_tau, cell.end_tau) for cell in cells.cells]


def test_stops_that_mean_nothing_join_their_windows() -> None:
    """Nights have no length on the shop axis: five days are one cell unless nights matter to the work."""
    assert spans(open_cells(b.every_day(), matters=lambda _: False)) == [(0, 2700)]
    days = open_cells(b.every_day(), matters=lambda stop_min: stop_min > 60)
    assert spans(days) == [(start, start + 540) for start in range(0, 2700, 540)]
    assert {(stop.gap_min, stop.stop_min) for stop in days.stops} == {(0, 900)}


def test_a_break_others_work_through_is_a_stop_always() -> None:
    """A break with minutes on the shop axis pauses the work, whether or not its length matters."""
    cells = open_cells(b.hours((0, 240), (270, 540)), matters=lambda _: False)
    assert spans(cells) == [(0, 240), (270, 540)]
    assert [(stop.from_tau, stop.to_tau, stop.stop_min) for stop in cells.stops] == [(240, 270, 30)]


def test_cells_are_cut_where_asked() -> None:
    """A cut inside a cell makes two of it, with no stop between; one at its edge makes none."""
    cells = open_cells(b.hours((0, 540)), matters=lambda _: True, split_at=(0, 100, 540))
    assert spans(cells) == [(0, 100), (100, 540)]
    assert cells.stops == ()
    assert spans(always_open(540, (100,))) == [(0, 100), (100, 541)]


def found_stops(cells: OpenCells, bought: frozenset[str]) -> set[tuple[int, int, int]]:
    """The stops whose conditions hold with this overtime."""
    return {
        (stop.from_tau, stop.to_tau, stop.stop_min)
        for stop in cells.stops
        if stop.bought <= bought and not stop.unbought & bought
    }


def true_stops(calendar: Calendar, bought: frozenset[str]) -> set[tuple[int, int, int]]:
    """The stops between the windows that are open with this overtime."""
    windows = calendar.with_bought(bought).windows
    return {
        (one.end_tau, other.start_tau, other.stop_before_min)
        for one, other in pairwise(windows)
        if other.stop_before_min
    }


@pytest.mark.parametrize(
    "calendar",
    [
        b.hours((0, 480), (480, 540, "e"), (540, 1080)),
        b.hours((0, 60, "m"), (60, 480), (480, 540, "e"), (540, 600, "m2"), (600, 1080)),
        b.hours((0, 480), (500, 520, "e"), (520, 540, "f"), (540, 1080)),
        b.hours((0, 480), (490, 510, "e"), (530, 540, "e"), (540, 1080)),
    ],
)
def test_stops_are_those_of_the_calendar_whatever_is_bought(calendar: Calendar) -> None:
    """With any overtime bought, the stops that hold are those between the windows then open."""
    blocks = sorted({window.overtime_id for window in calendar.windows if window.overtime_id is not None})
    offered = open_cells(calendar, matters=lambda _: True, offered=blocks)
    for size in range(len(blocks) + 1):
        for bought in map(frozenset, combinations(blocks, size)):
            assert found_stops(offered, bought) == true_stops(calendar, bought)
            settled = open_cells(calendar, matters=lambda _: True, bought=bought)
            assert found_stops(settled, frozenset()) == true_stops(calendar, bought)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("dry_min", [0, 45, 900, 2000])
def test_drying_pieces_say_what_the_clock_says(seed: int, dry_min: int) -> None:
    """For every minute a burn may end, its piece gives the minute the clock gives, and there is one piece only."""
    clock = random_week(seed).clock
    pieces = drying_pieces(clock, dry_min)
    for end in range(clock.horizon_tau + 1):
        (piece,) = [piece for piece in pieces if piece.first_tau <= end <= piece.last_tau]
        assert piece.dry_tau + (end if piece.is_moving else 0) == clock.tau_after(end, dry_min)

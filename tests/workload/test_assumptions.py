"""The list of everything nobody typed."""

from __future__ import annotations

from scheduler.domain.orders import Assumption
from scheduler.workload.assumptions import Notes
from scheduler.workload.build import build_workload
from tests.workload import shops


def test_equal_assumptions_are_told_once_with_their_count() -> None:
    """Fourteen screens on one mesh are one line; the same screen twice counts once."""
    notes = Notes()
    for number in range(14):
        notes.add("mesh", "156 mesh assumed for white base", "screens", where=f"screen {number}")
    notes.add("mesh", "156 mesh assumed for white base", "screens", where="screen 3")
    (one,) = notes.merged_with(())
    assert (one.text, one.count, one.counted) == ("156 mesh assumed for white base", 14, "screens")
    assert len(one.where) == 14


def test_the_reader_s_own_assumptions_come_first_and_are_joined() -> None:
    """What the reader assumed stays; the same line found again adds to it."""
    read = (
        Assumption(code="hours", text="07:00 to 16:00 assumed", count=1, counted="shops"),
        Assumption(code="mesh", text="230 mesh assumed for colours", count=2, counted="screens", where=("a", "b")),
    )
    notes = Notes()
    notes.add("mesh", "230 mesh assumed for colours", "screens", where="c")
    assert notes.merged_with(read) == (
        read[0],
        Assumption(code="mesh", text="230 mesh assumed for colours", count=3, counted="screens", where=("a", "b", "c")),
    )


def test_a_week_hands_on_what_the_reader_assumed() -> None:
    """Nothing is lost on the way."""
    read = Assumption(code="hours", text="07:00 to 16:00 assumed", count=1, counted="shops")
    assert build_workload(shops.week_inputs(assumptions=(read,))).assumptions[0] == read

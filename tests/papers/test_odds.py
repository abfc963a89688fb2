"""Odds never stand alone: what they rest on is told with them."""

from __future__ import annotations

import pytest

from scheduler.domain.chances import Chances
from scheduler.papers.odds import basis


def test_start_values_are_told_with_their_figures() -> None:
    """Where the shop gave none, the odds say that they rest on start values, which, and where to put its own."""
    told = basis(Chances(print_spread=0.15))
    assert told.startswith("It rests on start values, not on this shop's record")
    assert "printing by 15 %" in told
    assert "[outlook]" in told


@pytest.mark.parametrize("spread", [0.08, 0.5])
def test_the_shops_own_figures_are_told_as_such(spread: float) -> None:
    """Once the shop has typed its own, nothing speaks of start values, whatever the figures are."""
    told = basis(Chances(print_spread=spread, is_typed=True))
    assert "the shop's own figures" in told
    assert "start values" not in told

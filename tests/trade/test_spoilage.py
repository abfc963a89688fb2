"""Spoilage against published shop policies, and the laws it keeps."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.spoilage import is_within_allowance, spare_pieces, spoilage_allowance, start_quantity

PERCENT = st.integers(0, 600).map(lambda tenths: tenths / 10)


@pytest.mark.parametrize(
    ("pieces", "spoiled", "is_fine"), [(100, 1, True), (100, 2, False), (50, 1, True), (50, 2, False)]
)
def test_a_shops_one_and_a_half_per_cent(pieces: int, spoiled: int, is_fine: bool) -> None:
    """At 1.5 % or 1 piece, 1 of 100 is fine and 2 are not; 1 of 50 is fine.

    Production spoilage policy, daminprinting.com (one shop's policy, not a standard).
    """
    assert is_within_allowance(spoiled, pieces, 1.5) is is_fine


def test_a_shops_two_per_cent() -> None:
    """At 2 %, 98 delivered of 100 are within tolerance (spoilage page, smplfd.com; one shop's policy); 97 are not."""
    assert is_within_allowance(100 - 98, 100, 2)
    assert not is_within_allowance(100 - 97, 100, 2)


def test_pieces_to_start_with() -> None:
    """100 good at 2 % spoilage take 103 to start with: "add 2 %" gives 102, of which 99.96 are good (arithmetic)."""
    assert start_quantity(100, 2) == 103
    assert spare_pieces(100, 2) == 3
    assert start_quantity(98, 2) == 100, "not 101 for the slip of a binary fraction"
    assert start_quantity(100, 0) == 100
    assert start_quantity(0, 5) == 0


def test_no_run_may_spoil_more_than_it_has() -> None:
    """The least allowance stops at the run's pieces, and at 0 it leaves the per cent alone."""
    assert spoilage_allowance(0, 1.5) == 0
    assert spoilage_allowance(3, 2, least=5) == 3
    assert spoilage_allowance(40, 2, least=0) == 0
    assert spoilage_allowance(400, 1.5) == 6


@given(good=st.integers(0, 20_000), spoil_pct=PERCENT)
def test_the_start_quantity_is_the_smallest_that_does(good: int, spoil_pct: float) -> None:
    """In exact fractions: enough good pieces are left, and one piece fewer would not do."""
    left = 1 - Fraction(str(spoil_pct)) / 100
    start = start_quantity(good, spoil_pct)
    assert start * left >= good
    assert good == 0 or (start - 1) * left < good


@given(pieces=st.integers(0, 20_000), more=st.integers(0, 500), spoil_pct=PERCENT, worse=PERCENT)
def test_allowances_rise_with_the_run_and_the_rate(pieces: int, more: int, spoil_pct: float, worse: float) -> None:
    """A longer run and a higher rate never allow fewer spoiled pieces nor take fewer to start with."""
    higher = min(95.0, spoil_pct + worse)
    assert spoilage_allowance(pieces + more, spoil_pct) >= spoilage_allowance(pieces, spoil_pct)
    assert spoilage_allowance(pieces, higher) >= spoilage_allowance(pieces, spoil_pct)
    assert start_quantity(pieces, higher) >= start_quantity(pieces, spoil_pct)
    assert spoilage_allowance(pieces, spoil_pct) <= pieces


def test_figures_out_of_range_are_refused() -> None:
    """Per cents off the scale and negative pieces make no sense and say so."""
    with pytest.raises(ValueError, match="spoilage per cent must be below 100, not 100"):
        start_quantity(100, 100)
    with pytest.raises(ValueError, match="spoilage per cent must be at least 0, not -1"):
        start_quantity(100, -1)
    with pytest.raises(ValueError, match="good pieces must be at least 0"):
        start_quantity(-1, 2)
    with pytest.raises(ValueError, match="spoilage per cent must be at least 0 and at most 100, not 101"):
        spoilage_allowance(100, 101)
    with pytest.raises(ValueError, match="spoiled pieces must be at least 0"):
        is_within_allowance(-1, 100, 2)

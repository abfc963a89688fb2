"""Whole figures and their ranges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.rounding import demand, down, nearest, up


def test_a_hair_is_not_a_whole_piece() -> None:
    """The slip of a binary fraction is forgiven both ways; a real thousandth is not."""
    assert up(0.1 * 3 * 10) == 3
    assert down(0.29 * 100) == 29
    assert up(3.001) == 4
    assert down(2.999) == 2
    assert up(3.0) == down(3.0) == 3


def test_halves_go_away_from_zero() -> None:
    """2.5 is 3, -2.5 is -3, 1.005 x 100 is 101 though its binary fraction lies below."""
    assert [nearest(value) for value in (2.5, -2.5, 1.005 * 100, 2.4, -2.4, 0.0)] == [3, -3, 101, 2, -2, 0]


@given(st.floats(-1e9, 1e9))
def test_up_and_down_stand_around_the_value(value: float) -> None:
    """Down is not above, up is not below (but for the forgiven hair), and they differ by at most 1."""
    hair = 1e-9 * max(1.0, abs(value))
    assert down(value) - hair <= value <= up(value) + hair
    assert up(value) - down(value) <= 1


@given(st.integers(-(10**8), 10**8))
def test_whole_numbers_stay(value: int) -> None:
    """A whole figure is not touched."""
    assert up(value) == down(value) == nearest(value) == value


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_refused(value: float) -> None:
    """No rate without end and no missing figure becomes a whole number or passes as in range."""
    for turn in (up, down, nearest):
        with pytest.raises(ValueError, match="cannot be made a whole number"):
            turn(value)
    with pytest.raises(ValueError, match="pieces must be at least 0"):
        demand("pieces", value)


def test_ranges_hold_at_their_ends() -> None:
    """Ends given as least and most are allowed, an end given as above is not."""
    demand("share", 0, most=1)
    demand("share", 1, most=1)
    demand("rate", 1e-12, above=0)
    with pytest.raises(ValueError, match=r"share must be at least 0 and at most 1, not 1\.001"):
        demand("share", 1.001, most=1)
    with pytest.raises(ValueError, match="rate must be above 0, not 0"):
        demand("rate", 0, above=0)

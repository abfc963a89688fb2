"""Costs against published worked examples, and the laws they keep."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.money import (
    crew_cents,
    crew_cents_per_hour,
    crew_cents_per_piece,
    stopped_press_cents,
    week_pay_cents,
)


def test_a_press_down_for_three_hours() -> None:
    """Two people at $10 and two at $7 for 3 h are $102, $132.60 with 30 % benefits; 500 pieces an hour at 40 cents
    make $600; together $732.60 ("Maintaining Garment-Press Performance", Screen Printing).
    """
    crew = crew_cents_per_hour([(2, 1000), (2, 700)])
    assert stopped_press_cents(3, cents_per_hour=crew) == 102_00
    assert stopped_press_cents(3, cents_per_hour=crew, benefits_pct=30) == 132_60
    assert stopped_press_cents(3, cents_per_hour=0, pcs_h=500, piece_cents=40) == 600_00
    assert stopped_press_cents(3, cents_per_hour=crew, benefits_pct=30, pcs_h=500, piece_cents=40) == 732_60


def test_an_hour_of_reprints_a_week() -> None:
    """An hour a week at 40 an hour is 2,080 shirts a year, at $6 $12,480 (GRAPHICS PRO, August 2022, p. 47)."""
    assert stopped_press_cents(52, cents_per_hour=0, pcs_h=40, piece_cents=1) == 2080
    assert stopped_press_cents(52, cents_per_hour=0, pcs_h=40, piece_cents=600) == 12_480_00


def test_a_crew_of_three() -> None:
    """$20, $15 and $15 are $50 an hour (M. Atkinson, February 2023); at 400 an hour 12.5 cents a piece (ours)."""
    crew = crew_cents_per_hour([(1, 2000), (2, 1500)])
    assert crew == 50_00
    assert crew_cents_per_piece(crew, 400) == 12.5


def test_a_week_with_overtime() -> None:
    """46 h at $20 are $980: beyond 40 h time and a half (US Department of Labor, overtime pay; sum ours)."""
    assert week_pay_cents(46, 2000) == 980_00
    assert week_pay_cents(40, 2000) == 800_00


def test_cents_are_whole_and_halves_go_up() -> None:
    """2 minutes at $22.15 an hour are 73.83 cents, so 74; exactly half a cent is rounded up."""
    assert crew_cents(2, 2215) == 74
    assert crew_cents(1, 30) == 1
    assert crew_cents(1, 29) == 0
    assert crew_cents(3, 50) == 3, "2.5 cents: not to the even one"


@given(hours=st.floats(0, 100), longer=st.floats(0, 60), cents=st.integers(0, 10_000))
def test_longer_hours_never_pay_less(hours: float, longer: float, cents: int) -> None:
    """Pay rises with the hours and lies between plain time and time and a half."""
    assert week_pay_cents(hours + longer, cents) >= week_pay_cents(hours, cents)
    plain = hours * cents
    assert plain - 1 <= week_pay_cents(hours, cents) <= 1.5 * plain + 1


@given(minutes=st.integers(0, 3000), cents=st.integers(0, 20_000))
def test_crew_cents_are_off_by_half_a_cent_at_most(minutes: int, cents: int) -> None:
    """Whole cents lie within half a cent of the exact cost, and sixty times the minutes cost the hours."""
    assert abs(60 * crew_cents(minutes, cents) - minutes * cents) <= 30
    assert crew_cents(60 * minutes, cents) == minutes * cents


def test_figures_out_of_range_are_refused() -> None:
    """Negative wages and hours, an overtime factor below 1 and a week of 169 h make no sense and say so."""
    with pytest.raises(ValueError, match="cents an hour must be at least 0"):
        crew_cents_per_hour([(1, -1)])
    with pytest.raises(ValueError, match="people must be at least 0"):
        crew_cents_per_hour([(-1, 100)])
    with pytest.raises(ValueError, match="minutes must be at least 0"):
        crew_cents(-1, 100)
    with pytest.raises(ValueError, match="pieces an hour must be above 0"):
        crew_cents_per_piece(5000, 0)
    with pytest.raises(ValueError, match="benefits per cent must be at least 0"):
        stopped_press_cents(3, cents_per_hour=100, benefits_pct=-30)
    with pytest.raises(ValueError, match="hours must be at least 0 and at most 168, not 169"):
        week_pay_cents(169, 2000)
    with pytest.raises(ValueError, match="overtime factor must be at least 1"):
        week_pay_cents(46, 2000, overtime_factor=0.5)

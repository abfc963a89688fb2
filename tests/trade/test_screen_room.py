"""The screen room's arithmetic against published figures, and the laws it keeps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.screen_room import (
    burn_minutes,
    exposures,
    labour_hours,
    screens_in_window,
    screens_needed,
    screens_per_person,
    tape_minutes,
)


def test_screens_for_a_shift_of_six_presses() -> None:
    """Two 6-colour and four 8-colour presses, 3 set-ups each, need 132 screens, 33 % of a loop of 400.

    "High-Volume Screenmaking", J. Willey, Screen Printing, December 1999; sum ours, total printed.
    """
    needed = screens_needed([(6, 3)] * 2 + [(8, 3)] * 4)
    assert needed == 36 + 96 == 132
    assert needed / 400 == 0.33


def test_screens_of_a_person() -> None:
    """100 a shift with four people are 25 each, 3.1 an hour over 8 h; 100 with six, or 200 with twelve, 16.7.

    "High-Volume Screenmaking", J. Willey, Screen Printing, December 1999; division ours.
    """
    assert screens_per_person(100, 4) == 25
    assert screens_per_person(100, 4, hours=8) == pytest.approx(3.1, abs=0.05)
    assert screens_per_person(100, 6) == screens_per_person(200, 12) == pytest.approx(16.7, abs=0.05)
    assert labour_hours(132, screens_per_person(100, 4, hours=8)) == pytest.approx(42.24)


@pytest.mark.parametrize(("screens", "per_exposure", "shots"), [(0, 2, 0), (1, 2, 1), (2, 2, 1), (3, 2, 2), (6, 1, 6)])
def test_a_half_full_exposure_counts_whole(screens: int, per_exposure: int, shots: int) -> None:
    """Three screens two at a time take two exposures."""
    assert exposures(screens, per_exposure) == shots


def test_burning_a_set() -> None:
    """Exposing counts by exposure, washing out by screen; only the sum is rounded up."""
    assert burn_minutes(3, per_exposure=2, expose_min=4, wash_out_min=5) == 2 * 4 + 3 * 5
    assert burn_minutes(3, per_exposure=1, expose_min=1.25, wash_out_min=0.5) == 6, "5.25 min"
    assert burn_minutes(0, per_exposure=1, expose_min=4, wash_out_min=5) == 0
    assert tape_minutes(3, 2.5) == 8


def test_screens_coated_in_the_last_hour() -> None:
    """An hour at 3 min a screen coats 20, at 8 min 7 whole ones, and never more than there are places."""
    assert screens_in_window(60, 3) == 20
    assert screens_in_window(60, 8) == 7
    assert screens_in_window(60, 3, places=12) == 12
    assert screens_in_window(60, 3, places=24) == 20
    assert screens_in_window(0.3, 0.1) == 3, "not 2 for the slip of a binary fraction"


@given(
    screens=st.integers(0, 60),
    per_exposure=st.integers(1, 4),
    expose=st.floats(0.1, 20),
    wash=st.floats(0, 20),
)
def test_a_bigger_unit_never_makes_burning_longer(screens: int, per_exposure: int, expose: float, wash: float) -> None:
    """One more place never adds minutes, one more screen never takes any away, and no exposure is overfull."""

    def minutes(count: int, at_once: int) -> int:
        return burn_minutes(count, per_exposure=at_once, expose_min=expose, wash_out_min=wash)

    assert minutes(screens, per_exposure + 1) <= minutes(screens, per_exposure) <= minutes(screens + 1, per_exposure)
    shots = exposures(screens, per_exposure)
    assert (shots - 1) * per_exposure < max(1, screens) <= max(1, shots * per_exposure)


@given(length=st.floats(0, 480), each=st.floats(0.5, 30))
def test_a_window_holds_what_fits_and_no_more(length: float, each: float) -> None:
    """The screens counted fit the booked time; one more would not."""
    done = screens_in_window(length, each)
    assert done * each <= length * (1 + 1e-8) + 1e-6
    assert (done + 1) * each > length


def test_figures_out_of_range_are_refused() -> None:
    """Negative screens, an exposure unit without room and a shift without people make no sense and say so."""
    with pytest.raises(ValueError, match="screens must be at least 0"):
        exposures(-1, 1)
    with pytest.raises(ValueError, match="screens in one exposure must be at least 1, not 0"):
        exposures(4, 0)
    with pytest.raises(ValueError, match="minutes an exposure must be at least 0"):
        burn_minutes(1, per_exposure=1, expose_min=-1, wash_out_min=5)
    with pytest.raises(ValueError, match="minutes a wash-out must be at least 0"):
        burn_minutes(1, per_exposure=1, expose_min=4, wash_out_min=-5)
    with pytest.raises(ValueError, match="minutes to tape a screen"):
        tape_minutes(1, -2)
    with pytest.raises(ValueError, match="minutes a screen must be above 0"):
        screens_in_window(60, 0)
    with pytest.raises(ValueError, match="set-ups must be at least 0"):
        screens_needed([(6, -3)])
    with pytest.raises(ValueError, match="people must be at least 1"):
        screens_per_person(100, 0)
    with pytest.raises(ValueError, match="screens a person and hour must be above 0"):
        labour_hours(100, 0)

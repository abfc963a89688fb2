"""The dryer's belt against published figures, and the laws it keeps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.belt import (
    belt_length_in,
    belt_pcs_h,
    belt_permille,
    belt_speed_in_min,
    celsius,
    cure_minutes,
    dryer_pcs_h,
    lanes,
    line_pcs_h,
    speed_for_rate_in_min,
    tunnel_time_s,
)

FOOT_IN = 12
LENGTHS = st.floats(12, 600)
TIMES = st.floats(5, 600)
RATES = st.floats(1, 3000)


@pytest.mark.parametrize(("minutes", "feet"), [(3, 12), (5, 20)])
def test_oven_length_for_a_time(minutes: float, feet: float) -> None:
    """3 to 5 min at 4 ft a minute need 12 to 20 ft (Organic Finishing Guidebook, Metal Finishing, 2012)."""
    assert belt_length_in(4 * FOOT_IN, minutes * 60) == feet * FOOT_IN
    assert tunnel_time_s(feet * FOOT_IN, 4 * FOOT_IN) == minutes * 60


def test_belt_speed_for_a_rate() -> None:
    """600 an hour, two abreast every 3 ft, need 15 ft a minute ("Curing Oven Basics", K. Kraft, Products Finishing)."""
    assert speed_for_rate_in_min(600, 3 * FOOT_IN, abreast=2) == 15 * FOOT_IN


def test_belt_that_passes_in_a_day() -> None:
    """6 ft a minute for 8 h are 2,880 ft of belt (M. Powell, Products Finishing)."""
    assert belt_length_in(6 * FOOT_IN, 8 * 3600) == 2880 * FOOT_IN


@pytest.mark.parametrize(
    ("feet", "tunnel_s", "ft_min", "pcs_h"),
    [
        (12, 180, 4.00, 160),
        (12, 90, 8.00, 320),
        (16, 180, 5.33, 213.3),
        (16, 90, 10.67, 426.7),
        (24, 180, 8.00, 320),
        (24, 90, 16.00, 640),
        (12, 60, 12.00, 480),
    ],
)
def test_garments_an_hour_in_one_lane(feet: float, tunnel_s: float, ft_min: float, pcs_h: float) -> None:
    """12, 16 and 24 ft ovens at 90 s to 3 min, 18 in of belt a garment.

    Inputs: "Evaluating ink", Printwear, May 2014, p. 90; results ours, to the digits shown.
    """
    speed = belt_speed_in_min(feet * FOOT_IN, tunnel_s)
    assert speed / FOOT_IN == pytest.approx(ft_min, abs=0.005)
    assert dryer_pcs_h(feet * FOOT_IN, tunnel_s, 18) == pytest.approx(pcs_h, abs=0.05)


def test_a_second_lane_doubles_what_the_dryer_takes() -> None:
    """A 40 in belt carries two garments of 20 in side by side, a 39 in belt one, an 18 in belt none of them."""
    assert [lanes(width, 20) for width in (60, 40, 39, 20, 18)] == [3, 2, 1, 1, 0]
    assert dryer_pcs_h(12 * FOOT_IN, 180, 18, lanes(40, 20)) == 320


def test_the_slower_of_press_and_dryer_sets_the_line() -> None:
    """A press at 400 an hour keeps its pace through 1 min of tunnel (480 an hour), not through 3 min (160).

    Inputs: "Evaluating ink", Printwear, May 2014; results ours.
    """
    assert line_pcs_h(400, dryer_pcs_h(144, 60, 18)) == 400
    assert line_pcs_h(400, dryer_pcs_h(144, 180, 18)) == 160


def test_shares_of_a_belt() -> None:
    """A rate's share of the belt is rounded up, so that three thirds are never let on as less than a whole."""
    assert belt_permille(240, 480) == 500
    assert belt_permille(160, 480) == 334
    assert belt_permille(480, 480) == 1000
    assert belt_permille(900, 480) == 1000, "faster than the belt: all of it, slowed down"
    assert belt_permille(0, 480) == 0
    assert belt_permille(0.001, 480) == 1


def test_cure_minutes_are_whole() -> None:
    """A garment is counted cured at the end of the minute in which it leaves the tunnel."""
    assert [cure_minutes(seconds) for seconds in (0, 1, 60, 61, 90, 180)] == [0, 1, 1, 2, 2, 3]


@pytest.mark.parametrize(
    ("fahrenheit", "printed"),
    [(320, 160), (275, 135), (260, 127), (220, 104), (230, 110)],
)
def test_degrees_as_ink_makers_print_them(fahrenheit: float, printed: int) -> None:
    """Ink makers print 320 degF as 160 degC, 275 as 135, 260 as 127, 220 to 230 as 104 to 110.

    General Information, Union Ink; Low-cure inks, International Coatings, 2019; Ensure proper cure, Ryonet; FAQ
    Temperature, International Coatings. Whole degrees.
    """
    assert round(celsius(fahrenheit)) == printed


@given(length=LENGTHS, seconds=TIMES)
def test_speed_time_and_length_are_one_thing(length: float, seconds: float) -> None:
    """Length over time is speed, and speed gives back both the time and the length."""
    speed = belt_speed_in_min(length, seconds)
    assert tunnel_time_s(length, speed) == pytest.approx(seconds)
    assert belt_length_in(speed, seconds) == pytest.approx(length)


@given(pcs_h=RATES, pitch=st.floats(6, 48), abreast=st.integers(1, 5))
def test_the_speed_for_a_rate_carries_that_rate(pcs_h: float, pitch: float, abreast: int) -> None:
    """A belt run at the speed a rate needs takes exactly that rate."""
    assert belt_pcs_h(speed_for_rate_in_min(pcs_h, pitch, abreast), pitch, abreast) == pytest.approx(pcs_h)


@given(length=LENGTHS, seconds=TIMES, pitch=st.floats(6, 48), scale=st.floats(0.1, 100))
def test_the_unit_of_length_does_not_matter(length: float, seconds: float, pitch: float, scale: float) -> None:
    """Heated length and pitch in any one unit give the same pieces an hour."""
    assert dryer_pcs_h(length * scale, seconds, pitch * scale) == pytest.approx(dryer_pcs_h(length, seconds, pitch))


@given(length=LENGTHS, seconds=TIMES, longer=st.floats(0, 300))
def test_more_time_in_the_tunnel_never_takes_more_garments(length: float, seconds: float, longer: float) -> None:
    """The longer a garment must stay in, the fewer go through, and the later it comes out."""
    assert dryer_pcs_h(length, seconds + longer, 18) <= dryer_pcs_h(length, seconds, 18)
    assert cure_minutes(seconds + longer) >= cure_minutes(seconds)


@given(rate=RATES, belt=RATES)
def test_a_share_is_never_less_than_what_is_taken(rate: float, belt: float) -> None:
    """The share covers the rate the line really runs at, by less than one permille of the belt."""
    share = belt_permille(rate, belt)
    carried = line_pcs_h(rate, belt)
    assert 1 <= share <= 1000
    assert share * belt / 1000 >= carried * (1 - 1e-8)
    assert (share - 1) * belt / 1000 < carried


def test_figures_out_of_range_are_refused() -> None:
    """A dryer of no length, no time, no belt or negative garments makes no sense and says so."""
    with pytest.raises(ValueError, match="heated length must be above 0, not 0"):
        belt_speed_in_min(0, 60)
    with pytest.raises(ValueError, match="seconds in the tunnel must be above 0, not 0"):
        dryer_pcs_h(144, 0, 18)
    with pytest.raises(ValueError, match="pitch must be above 0"):
        belt_pcs_h(48, 0)
    with pytest.raises(ValueError, match="lanes must be at least 0"):
        belt_pcs_h(48, 18, -1)
    with pytest.raises(ValueError, match="lane width must be above 0"):
        lanes(36, 0)
    with pytest.raises(ValueError, match="abreast must be at least 1"):
        speed_for_rate_in_min(600, 36, abreast=0)
    with pytest.raises(ValueError, match="belt speed must be above 0"):
        tunnel_time_s(144, 0)
    with pytest.raises(ValueError, match="pieces an hour of the belt must be above 0"):
        belt_permille(400, 0)
    with pytest.raises(ValueError, match="pieces an hour of the press must be above 0"):
        line_pcs_h(0, 480)
    with pytest.raises(ValueError, match="seconds in the tunnel must be at least 0"):
        cure_minutes(-1)
    with pytest.raises(ValueError, match="degrees Fahrenheit"):
        celsius(-500)

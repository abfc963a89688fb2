"""Press rates and run minutes against published figures, and the laws they keep."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.trade.press_rate import (
    automatic_cycle_s,
    effective_pcs_h,
    flash_minutes,
    flat_set_up_min,
    heads_needed,
    manual_piece_s,
    paced_pcs_h,
    part_minutes,
    pcs_h_from_seconds,
    pieces_in,
    print_minutes,
    run_minutes,
    seconds_from_pcs_h,
    whole_pcs_h,
)

RATES = st.floats(10, 1500)
PIECES = st.integers(0, 20_000)


def test_one_second_less_is_120_pieces_more() -> None:
    """600 an hour is 6 s a piece; 5 s is 720 ("Evaluating ink", Printwear, May 2014, p. 90)."""
    assert seconds_from_pcs_h(600) == 6
    assert pcs_h_from_seconds(seconds_from_pcs_h(600) - 1) == 720


@pytest.mark.parametrize(
    ("flash_s", "printed"),
    [(3, (25, 50, 60)), (4, (33.3, 66.7, 80)), (5, (41.7, 83.3, 100)), (6, (50, 100, 120))],
)
def test_flash_minutes_of_a_run(flash_s: float, printed: tuple[float, float, float]) -> None:
    """Minutes under the flash for 500, 1,000 and 1,200 pieces, one decimal ("Evaluating ink", Printwear, May 2014)."""
    assert tuple(round(flash_minutes(flash_s, pieces), 1) for pieces in (500, 1000, 1200)) == printed


def test_an_automatic_shops_day() -> None:
    """Set-up 270 and run 150 fill a day of 420 min, 36 % running (Images (UK), August 2018, p. 33)."""
    set_up = flat_set_up_min(3, 9, locations=10)
    run = run_minutes(100, 400, locations=10)
    assert (set_up, run, set_up + run) == (270, 150, 420)
    assert round(100 * run / (set_up + run)) == 36


def test_a_manual_shops_day() -> None:
    """Set-up 160 and run 259 (258.5 unrounded, so 1 either way) fill a manual day (Images (UK), August 2018, p. 33)."""
    assert flat_set_up_min(2, 10, locations=8) == 160
    assert run_minutes(35, 65, locations=8) == pytest.approx(259, abs=1)


def test_three_minutes_saved_on_every_screen() -> None:
    """3 min on 3 screens in 10 set-ups are 90 min a day and 7.5 h a week (Images (UK), February 2018, p. 32)."""
    a_day = flat_set_up_min(3, 8, locations=10) - flat_set_up_min(3, 5, locations=10)
    assert a_day == 90
    assert a_day * 5 / 60 == 7.5


def test_a_short_run_is_mostly_set_up() -> None:
    """100 pieces at 400 an hour after 50 min of set-up take 65 min: 76.9 % set-up, 92.3 an hour.

    Inputs: "Screen Room Efficiency", J. Clarke, Printwear; sums ours.
    """
    run = run_minutes(100, 400)
    assert 50 + run == 65
    assert 100 * 50 / (50 + run) == pytest.approx(76.9, abs=0.05)
    assert effective_pcs_h(100, 50, run) == pytest.approx(92.3, abs=0.05)


@pytest.mark.parametrize(("pcs_h", "a_day"), [(50, 400), (75, 600), (375, 3000), (625, 5000)])
def test_prints_of_an_eight_hour_day(pcs_h: float, a_day: int) -> None:
    """A manual prints 400 to 600 a day, an automatic 3,000 to 5,000 (Anatol, press maker); over 8 h, split ours."""
    assert pieces_in(8 * 60, pcs_h) == a_day


def test_sixteen_inks_flashed_and_cooled() -> None:
    """16 inks, each flashed and cooled down, take 48 heads ("Optimize Your Flash Curing", Screen Printing)."""
    assert heads_needed(16, 16, flash_in_head=True, cool_down_head=True) == 48


def test_a_white_base_takes_a_flash_head_and_a_cool_down_head() -> None:
    """A flash costs a head where it sits in one, another to cool down, and none over a pallet or between heads."""
    assert heads_needed(4, 1, flash_in_head=False, cool_down_head=False) == 4
    assert heads_needed(4, 1, flash_in_head=True, cool_down_head=False) == 5
    assert heads_needed(4, 1, flash_in_head=False, cool_down_head=True) == 5
    assert heads_needed(4, 1, flash_in_head=True, cool_down_head=True) == 6


def test_the_slowest_station_sets_the_pace_of_an_automatic() -> None:
    """A flash of 6 s and 3 s to index print 400 an hour, 60 min for 400 pieces; a shorter flash gives way to loading.

    Arithmetic ours; 3 s to index is common practice, no source.
    """
    cycle = automatic_cycle_s(strokes_s=(3, 4), load_s=4, unload_s=5, index_s=3, flash_s=6)
    assert cycle == 9
    assert pcs_h_from_seconds(cycle) == 400
    assert print_minutes(400, pcs_h_from_seconds(cycle)) == 60
    assert automatic_cycle_s(strokes_s=(3, 4), load_s=4, unload_s=5, index_s=3, flash_s=2) == 5 + 3
    assert automatic_cycle_s(strokes_s=(3, 7), load_s=4, unload_s=5, index_s=3) == 7 + 3
    assert automatic_cycle_s(strokes_s=(), load_s=6, unload_s=5, index_s=3) == 6 + 3


def test_two_revolutions_halve_the_rate() -> None:
    """Going round twice for want of heads prints half as many an hour (common practice, no source)."""
    assert pcs_h_from_seconds(9, revolutions=2) == 200


def test_a_manual_does_one_thing_after_the_other() -> None:
    """Hands, strokes and flashes with their swing add up on a manual: three strokes with one flash between are 50 s."""
    seconds = manual_piece_s(load_s=10, unload_s=12, strokes=3, stroke_s=6, flashes=1, flash_s=7, swing_s=3)
    assert seconds == 10 + 12 + 18 + 10
    assert pcs_h_from_seconds(seconds) == 72
    assert manual_piece_s(load_s=10, unload_s=12, strokes=3, stroke_s=6) == 40


def test_fleece_and_a_short_crew_slow_the_press() -> None:
    """Garment and crew factors multiply: fleece at three quarters with a crew at four fifths is 60 %."""
    assert paced_pcs_h(400, garment=0.75, crew=0.8) == pytest.approx(240)
    assert paced_pcs_h(400) == 400


def test_a_rate_is_shown_whole() -> None:
    """People read whole pieces an hour, rounded down, never 0."""
    assert [whole_pcs_h(rate) for rate in (400.0, 399.99, 240.0000000001, 0.3)] == [400, 399, 240, 1]


def test_lots_at_their_own_rates_are_rounded_once() -> None:
    """Tees and hoodies in one run: each at its rate, only the end of the run rounded up."""
    assert part_minutes(((100, 400), (100, 300))) == (15, 20)
    assert part_minutes(((10, 400), (10, 400), (10, 400))) == (2, 1, 2), "1.5 min each is 4.5, not 6"
    assert part_minutes(()) == ()


def test_print_minutes_round_up_but_not_by_a_hair() -> None:
    """401 pieces at 400 an hour take 61 min; 98 at 98 an hour take 60 however the fraction falls."""
    assert print_minutes(401, 400) == 61
    assert print_minutes(0, 400) == 0
    assert print_minutes(98, 3600 / (3600 / 98)) == 60


@given(pieces=PIECES, more=st.integers(0, 500), rate=RATES, faster=st.floats(0, 500))
def test_more_pieces_never_take_less_and_a_faster_press_never_more(
    pieces: int, more: int, rate: float, faster: float
) -> None:
    """Minutes rise with the pieces and fall with the rate."""
    assert print_minutes(pieces + more, rate) >= print_minutes(pieces, rate)
    assert print_minutes(pieces, rate + faster) <= print_minutes(pieces, rate)


@given(pieces=PIECES, rate=RATES)
def test_print_minutes_are_the_fewest_that_do(pieces: int, rate: float) -> None:
    """All pieces are printed in the minutes given, and not in one minute less."""
    minutes = print_minutes(pieces, rate)
    assert pieces_in(minutes, rate) >= pieces
    assert minutes == 0 or pieces_in(minutes - 1, rate) < pieces


@given(st.lists(st.tuples(PIECES, RATES), max_size=8))
def test_parts_sum_to_the_run(parts: list[tuple[int, float]]) -> None:
    """The lots' minutes sum to the run's exact minutes, rounded up once; no lot is off by a minute or more."""
    found = part_minutes(parts)
    exact = math.fsum(run_minutes(pieces, rate) for pieces, rate in parts)
    assert exact - 1e-5 <= sum(found) < exact + 1
    assert all(abs(minutes - run_minutes(*part)) < 1 + 1e-5 for minutes, part in zip(found, parts, strict=True))


@given(
    strokes=st.lists(st.floats(0, 20), max_size=8),
    load=st.floats(0.5, 20),
    unload=st.floats(0, 20),
    index=st.floats(0, 5),
    flash=st.floats(0, 20),
    longer=st.floats(0, 10),
)
def test_a_longer_flash_never_speeds_the_press_up(
    strokes: list[float], load: float, unload: float, index: float, flash: float, longer: float
) -> None:
    """The cycle covers every station and the move, and grows with the flash by no more than the flash grows."""
    before = automatic_cycle_s(strokes_s=strokes, load_s=load, unload_s=unload, index_s=index, flash_s=flash)
    after = automatic_cycle_s(strokes_s=strokes, load_s=load, unload_s=unload, index_s=index, flash_s=flash + longer)
    assert all(before >= station + index for station in (*strokes, load, unload, flash))
    assert before <= after <= before + longer + 1e-9


@given(seconds=st.floats(0.5, 600), revolutions=st.integers(1, 3))
def test_rate_and_seconds_are_one_thing(seconds: float, revolutions: int) -> None:
    """Turning seconds into a rate and back gives the seconds, times the trips round the press."""
    assert seconds_from_pcs_h(pcs_h_from_seconds(seconds, revolutions)) == pytest.approx(seconds * revolutions)


def test_figures_out_of_range_are_refused() -> None:
    """Negative seconds, no rate, no revolution, a factor of 0 and a cycle of 0 make no sense and say so."""
    with pytest.raises(ValueError, match="flash seconds must be at least 0, not -1"):
        automatic_cycle_s(strokes_s=(3,), load_s=4, unload_s=4, index_s=3, flash_s=-1)
    with pytest.raises(ValueError, match="stroke seconds must be at least 0, not nan"):
        automatic_cycle_s(strokes_s=(3, math.nan), load_s=4, unload_s=4, index_s=3)
    with pytest.raises(ValueError, match="cycle seconds must be above 0"):
        automatic_cycle_s(strokes_s=(), load_s=0, unload_s=0, index_s=0)
    with pytest.raises(ValueError, match="seconds for a piece must be above 0"):
        manual_piece_s(load_s=0, unload_s=0, strokes=0, stroke_s=5)
    with pytest.raises(ValueError, match="swing seconds"):
        manual_piece_s(load_s=1, unload_s=1, strokes=1, stroke_s=5, swing_s=-2)
    with pytest.raises(ValueError, match="revolutions must be at least 1"):
        pcs_h_from_seconds(9, revolutions=0)
    with pytest.raises(ValueError, match="pieces an hour must be above 0, not 0"):
        print_minutes(10, 0)
    with pytest.raises(ValueError, match="pieces must be at least 0"):
        print_minutes(-1, 400)
    with pytest.raises(ValueError, match="garment factor must be above 0 and at most 2, not 0"):
        paced_pcs_h(400, garment=0)
    with pytest.raises(ValueError, match="crew factor must be above 0 and at most 2, not 75"):
        paced_pcs_h(400, crew=75)
    with pytest.raises(ValueError, match="flashes"):
        heads_needed(4, -1, flash_in_head=True, cool_down_head=False)
    with pytest.raises(ValueError, match="run minutes must be above 0"):
        effective_pcs_h(100, 50, 0)

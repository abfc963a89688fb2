"""Pieces of wall time and local days."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.workload.spans import Days, Spans, covers, intersect, subtract, total_min, union
from tests.workload import shops

pieces = st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), max_size=6).map(
    lambda raw: union((min(pair), max(pair)) for pair in raw)
)


def _minutes(spans: Spans) -> set[int]:
    return {minute for start, end in spans for minute in range(start, end)}


@given(one=pieces, other=pieces)
def test_spans_behave_like_sets_of_minutes(one: Spans, other: Spans) -> None:
    """Union, intersection and difference of spans are those of their minutes, and come out sorted and apart."""
    for result, expected in (
        (union((*one, *other)), _minutes(one) | _minutes(other)),
        (intersect(one, other), _minutes(one) & _minutes(other)),
        (subtract(one, other), _minutes(one) - _minutes(other)),
    ):
        assert _minutes(result) == expected
        assert total_min(result) == len(expected)
        assert all(start < end for start, end in result)
        assert all(before[1] < after[0] for before, after in pairwise(result))


@pytest.mark.parametrize(
    ("start", "end", "held"), [(10, 20, True), (12, 15, True), (9, 12, False), (18, 21, False), (30, 30, True)]
)
def test_a_span_is_covered_only_as_a_whole(start: int, end: int, held: bool) -> None:
    """One span must hold all of another, both ends included."""
    assert covers(((10, 20), (25, 40)), start, end) is held


def _days(plan_from: tuple[int, str, int], days_ahead: int = 7) -> Days:
    day, clock_time, month = plan_from
    return Days(zone=shops.ZONE, now=shops.at(day, clock_time, month), days_ahead=days_ahead)


def test_hours_before_the_planning_moment_are_cut() -> None:
    """A day that is half over has only its second half."""
    spans = _days((2, "12:00", 3), 1).spans(shops.hours("08:00", "17:00", ("12:30", "13:00")))
    assert spans == ((0, 30), (60, 300))


def test_a_day_off_is_no_day() -> None:
    """Hours of a day off do not count."""
    spans = _days((2, "08:00", 3), 2).spans(shops.hours(), (date(2026, 3, 2),))
    assert spans == ((1440, 1440 + 540),)


def test_hours_past_midnight_run_into_the_next_day() -> None:
    """A shift that began yesterday evening is still on in the small hours of the first day."""
    night = shops.hours("22:00", "30:00", weekdays=shops.ALL_DAYS)
    assert _days((2, "00:00", 3), 1).spans(night) == ((0, 360), (1320, 1800))


def test_the_night_in_spring_is_an_hour_shorter() -> None:
    """Clocks go forward in Lisbon on 29 March 2026 at 01:00: a 24-hour day has 23 hours of work in it."""
    spans = _days((29, "00:00", 3), 1).spans(shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS))
    assert spans == ((0, 23 * 60),)


def test_the_night_in_autumn_is_an_hour_longer() -> None:
    """Clocks go back in Lisbon on 25 October 2026: a 24-hour day has 25 hours of work in it."""
    spans = _days((25, "00:00", 10), 1).spans(shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS))
    assert spans == ((0, 25 * 60),)


def test_hours_that_start_in_the_skipped_hour_start_after_it() -> None:
    """01:30 does not exist on 29 March 2026 in Lisbon; work from 01:30 to 04:00 is 02:30 to 04:00."""
    spans = _days((29, "00:00", 3), 1).spans(shops.hours("01:30", "04:00", weekdays=shops.ALL_DAYS))
    assert total_min(spans) == 90

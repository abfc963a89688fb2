"""Key figures: the worked example, what holds between them, and Little's law on a record counted by hand."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from scheduler.insight.key_figures import WorkUnitTimes, flow


def test_the_example_of_the_listings() -> None:
    """PBT 480, AUST 60, APT 300, ADET 40 give the five shares of the public listings of ISO 22400-2."""
    times = WorkUnitTimes(planned_min=480, set_up_min=60, print_min=300, delay_min=40)
    found = (times.allocation, times.utilization, times.availability, times.set_up_share, times.technical)
    assert [round(share, 4) for share in found] == [0.8333, 0.75, 0.625, 0.1667, 0.8824]


@pytest.mark.parametrize("seed", range(20))
def test_allocation_times_utilization_is_availability(seed: int) -> None:
    """What holds between the three figures by their definitions holds for any press."""
    rng = random.Random(seed)
    times = WorkUnitTimes(
        planned_min=rng.randrange(400, 3000),
        print_min=rng.randrange(1, 200),
        set_up_min=rng.randrange(0, 90),
        delay_min=rng.randrange(0, 60),
    )
    assert times.allocation * times.utilization == pytest.approx(times.availability)


def test_a_press_with_nothing_on_it_has_no_shares() -> None:
    """Nothing is divided by nothing."""
    times = WorkUnitTimes(planned_min=0, print_min=0, set_up_min=0, delay_min=0)
    assert (times.allocation, times.utilization, times.availability, times.set_up_share, times.technical) == (0,) * 5


def test_little_on_a_record_counted_by_hand() -> None:
    """Arrivals 0 1 4 6, departures 3 5 9 8: 14 minutes in all, so 14/9 there, 4/9 a minute, 3.5 minutes each."""
    found = flow([(0, 3), (1, 5), (4, 9), (6, 8)], 9)
    assert (found.mean_there, found.per_min, found.mean_min) == (Fraction(14, 9), Fraction(4, 9), Fraction(7, 2))


@pytest.mark.parametrize("seed", range(20))
def test_little_holds_exactly(seed: int) -> None:
    """Mean number there is rate times mean time, to the last digit, on any record that starts and ends empty."""
    rng = random.Random(seed)
    spans = []
    for _ in range(rng.randrange(1, 30)):
        start = rng.randrange(0, 500)
        spans.append((start, start + rng.randrange(0, 300)))
    found = flow(spans, 900)
    assert found.mean_there == found.per_min * found.mean_min


@pytest.mark.parametrize("span", [(5, 4), (-1, 3), (0, 11)])
def test_a_record_must_hold_what_it_counts(span: tuple[int, int]) -> None:
    """An order that leaves before it comes, or outside the record, is refused."""
    with pytest.raises(ValueError, match="within the record"):
        flow([span], 10)

"""The moving bottleneck: a worked example, both sides of each boundary, and a line whose bottleneck is known."""

from __future__ import annotations

import random

import pytest

from scheduler.insight.active_period import Held, Share, bottlenecks, shares

WORKED = {
    "A": [(0, 10), (12, 40), (45, 56)],
    "B": [(0, 25), (30, 38), (41, 58)],
    "C": [(5, 15), (20, 30), (33, 60)],
}
"""Worked example for the method of Roser, Nakano and Tanaka (WSC 2002) on which three codes agree."""


def test_the_worked_example() -> None:
    """Sole A 8, B 12, C 20; shifting A 20, B 13, C 7; forty sole and twenty shared minutes make sixty."""
    held = bottlenecks(WORKED)
    assert {share.place: (share.sole_min, share.shifting_min) for share in shares(held)} == {
        "A": (8, 20),
        "B": (12, 13),
        "C": (20, 7),
    }
    assert sum(one.end - one.start for one in held if not one.shifts_to) == 40
    assert sum(one.end - one.start for one in held if one.shifts_to) == 20


def test_stretches_follow_each_other() -> None:
    """No minute belongs to two stretches, and each shift lies between the two places it names."""
    held = bottlenecks(WORKED)
    assert [one.start for one in held][1:] == [one.end for one in held][:-1]
    for before, one, after in zip(held, held[1:], held[2:], strict=False):
        if one.shifts_to:
            assert (before.place, after.place) == (one.place, one.shifts_to)


@pytest.mark.parametrize(
    ("second", "expected"),
    [
        ((10, 20), [Held(place="A", start=0, end=10), Held(place="B", start=10, end=20)]),
        (
            (9, 20),
            [
                Held(place="A", start=0, end=9),
                Held(place="A", start=9, end=10, shifts_to="B"),
                Held(place="B", start=10, end=20),
            ],
        ),
        ((11, 20), [Held(place="A", start=0, end=10), Held(place="B", start=11, end=20)]),
    ],
)
def test_periods_that_touch_overlap_or_stand_apart(second: tuple[int, int], expected: list[Held]) -> None:
    """Only an overlap is a shift; a minute in which nobody works belongs to nobody."""
    assert list(bottlenecks({"A": [(0, 10)], "B": [second]})) == expected


def test_three_at_once_share_no_minute_twice() -> None:
    """While the first still hands over to the second, the third has no share in it yet."""
    held = bottlenecks({"A": [(0, 10)], "B": [(5, 20)], "C": [(7, 30)]})
    assert [(one.place, one.start, one.end, one.shifts_to) for one in held] == [
        ("A", 0, 5, ""),
        ("A", 5, 10, "B"),
        ("B", 10, 20, "C"),
        ("C", 20, 30, ""),
    ]


def test_a_shorter_period_inside_a_longer_one_never_counts() -> None:
    """Who begins later and stops sooner was never the longest."""
    assert shares(bottlenecks({"A": [(0, 30)], "B": [(5, 25)]})) == (Share(place="A", sole_min=30, shifting_min=0),)


def test_nothing_done_nothing_held() -> None:
    """Places without work hold nothing up."""
    assert bottlenecks({"A": [], "B": []}) == ()


@pytest.mark.parametrize("seed", range(5))
def test_the_slow_place_of_a_line_is_found(seed: int) -> None:
    """In a simulated line of four places the one that takes longest on average holds it up most of the time."""
    rng = random.Random(seed)
    slow = rng.randrange(4)
    means = [12.0 if place == slow else 8.0 for place in range(4)]
    free = [0.0] * 4
    active: dict[str, list[tuple[int, int]]] = {f"place {place}": [] for place in range(4)}
    for _ in range(400):
        ready = 0.0
        for place in range(4):
            start = max(ready, free[place])
            end = start + means[place] * rng.uniform(0.6, 1.4)
            periods = active[f"place {place}"]
            if periods and round(start) <= periods[-1][1]:
                periods[-1] = (periods[-1][0], round(end))
            else:
                periods.append((round(start), round(end)))
            free[place], ready = end, end
    found = shares(bottlenecks(active))
    assert found[0].place == f"place {slow}"
    assert found[0].sole_min > sum(share.sole_min for share in found[1:])

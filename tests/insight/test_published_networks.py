"""Published project networks, lived many times: every activity a run on a press of its own, after those it waits for.

A plan holds every activity at its shortest, because nothing starts before its planned minute; the draws then make of it
what the example says. So dates, mean and spread are those of the network, worked out by the same code as a shop's.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from scheduler.domain.chances import NO_SURPRISES
from scheduler.insight.many_replays import ManyReplays
from tests import builders as b

UNIT_MIN = 60
"""Minutes for one unit of an example, so that whole minutes round little."""
AXIS = b.clock(days=20)
REPLAYS = 20_000

Draws = Mapping[str, NDArray[np.float64]]


def lived(
    after: Mapping[str, Sequence[str]], shortest: Mapping[str, float], draws: Draws
) -> dict[str, NDArray[np.float64]]:
    """When each activity ends, in units of the example, one value for each replay; activities in the order given."""
    runs, planned, ends = [], [], dict[str, int]()
    for name, before in after.items():
        minutes = round(shortest[name] * UNIT_MIN)
        start = max((ends[one] for one in before), default=0)
        ends[name] = start + minutes
        offer = b.choice(name, print_min=minutes)
        runs.append(b.run(name, order_id="project", choices=[offer], print_after=frozenset(before)))
        planned.append(b.planned_run(name, press_id=name, at=start, printing=minutes))
    every_day = b.every_day(days=20, on=AXIS)
    presses = [b.press_line(name, calendar=every_day) for name in after]
    week = b.week(clock=AXIS, runs=runs, presses=presses)
    plan = b.plan(*planned, orders=[b.planned_order("project", packed=max(ends.values()))])
    replays = len(next(iter(draws.values())))
    many = ManyReplays(week, plan, NO_SURPRISES, replays, 1)
    for name, drawn in draws.items():
        many.days[name] = replace(many.days[name], printing=drawn / shortest[name])
    packed = many.run()
    found = {name: many.ends["print", name] / UNIT_MIN for name in after}
    return {**found, "project": packed["project"] / UNIT_MIN}


def test_a_published_critical_path() -> None:
    """Node times 0 7 10 15 18 20: Taylor, Introduction to Management Science, solutions of chapter 8 (memory)."""
    minutes = {"12": 7, "13": 10, "24": 6, "34": 5, "35": 4, "45": 3, "56": 2}
    after = {"12": "", "13": "", "24": "12", "34": "13", "35": "13", "45": "24 34", "56": "35 45"}
    runs = {name: tuple(before.split()) for name, before in after.items()}
    draws = {name: np.array([float(one)]) for name, one in minutes.items()}
    ends = lived(runs, dict.fromkeys(after, 1.0), draws)
    nodes = {node: max(float(ends[name][0]) for name in after if name[1] == node) for node in "23456"}
    assert nodes == {"2": 7, "3": 10, "4": 15, "5": 18, "6": 20}
    assert ends["project"][0] == 20


PROJECT = {
    "A": ("", 1, 2, 3), "B": ("A", 2, 3.5, 8), "C": ("B", 6, 9, 18), "D": ("C", 4, 5.5, 10), "E": ("C", 1, 4.5, 5),
    "F": ("E", 4, 4, 10), "G": ("D", 5, 6.5, 11), "H": ("EG", 5, 8, 17), "I": ("C", 3, 7.5, 9), "J": ("FI", 3, 9, 9),
    "K": ("J", 4, 4, 4), "L": ("J", 1, 5.5, 7), "M": ("H", 1, 2, 3), "N": ("KL", 5, 5.5, 9),
}  # fmt: skip
"""Activity: what it waits for, then shortest, likeliest, longest. Hillier and Lieberman, Introduction to Operations
Research, the reliable construction project (memory)."""


def beta_draws(rng: np.random.Generator) -> Draws:
    """Each activity drawn from the beta distribution of the three guesses, the likeliest counted four times."""
    found = {}
    for name, (_, least, likely, most) in PROJECT.items():
        if least == most:
            found[name] = np.full(REPLAYS, float(least))
            continue
        span = most - least
        shape = 1 + 4 * (likely - least) / span, 1 + 4 * (most - likely) / span
        found[name] = least + span * rng.beta(*shape, size=REPLAYS)
    return found


def test_the_expected_path_of_a_published_project() -> None:
    """With every activity at its expected time, (a + 4 m + b) / 6, the project takes 44 weeks, as published."""
    expected = {name: np.array([(low + 4 * mid + high) / 6]) for name, (_, low, mid, high) in PROJECT.items()}
    ends = lived(
        {name: before for name, (before, *_) in PROJECT.items()},
        {name: float(low) for name, (_, low, _, _) in PROJECT.items()},
        expected,
    )
    assert ends["project"][0] == pytest.approx(44, abs=0.01)


def test_mean_and_spread_of_a_published_project() -> None:
    """Lived 20,000 times it takes 44.3 weeks, give or take 2.93: later than its longest expected path, for paths merge.

    The chance of 47 weeks is 0.817, not the 0.841 of one path alone; half take 44.2, four in five 46.8, nine in ten
    48.2 weeks. Worked out apart from this program with 200,000 draws of the network alone.
    """
    ends = lived(
        {name: before for name, (before, *_) in PROJECT.items()},
        {name: float(low) for name, (_, low, _, _) in PROJECT.items()},
        beta_draws(np.random.default_rng(20260302)),
    )
    took = ends["project"]
    assert took.mean() == pytest.approx(44.3, abs=0.08)
    assert took.std() == pytest.approx(2.93, abs=0.06)
    assert (took <= 47).mean() == pytest.approx(0.817, abs=0.012)
    assert np.quantile(took, [0.5, 0.8, 0.9]) == pytest.approx([44.2, 46.8, 48.2], abs=0.12)


def test_two_equal_paths_end_later_than_either() -> None:
    """The later of two equal normal times is sigma / sqrt(pi) later on average (order statistics, exact)."""
    rng = np.random.default_rng(7)
    mean, sigma = 10.0, 1.0
    draws = {name: rng.normal(mean, sigma, REPLAYS) for name in "AB"}
    ends = lived({"A": "", "B": ""}, {"A": 1.0, "B": 1.0}, draws)
    assert ends["A"].mean() == pytest.approx(mean, abs=0.03)
    assert ends["project"].mean() == pytest.approx(mean + sigma / np.sqrt(np.pi), abs=0.03)


def test_a_triangular_time_has_its_mean_and_percentiles() -> None:
    """From 2 over 3 to 8 it takes 4.3333 on average, half end by 4.1270, four in five by 5.5505 (exact)."""
    draws = {"A": np.random.default_rng(3).triangular(2, 3, 8, REPLAYS)}
    took = lived({"A": ""}, {"A": 2.0}, draws)["project"]
    assert took.mean() == pytest.approx(4.3333, abs=0.03)
    assert np.quantile(took, [0.5, 0.8]) == pytest.approx([4.1270, 5.5505], abs=0.05)

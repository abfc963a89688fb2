"""Told odds beside what happened: scores by hand, verdicts on both sides, and honest odds found honest."""

from __future__ import annotations

import random
from datetime import timedelta

import pytest

from scheduler import api
from scheduler.domain.chances import NO_SURPRISES
from scheduler.record.calibration import ENOUGH_ORDERS, ToldAndKept, calibration, crps, pit, told_and_kept
from scheduler.record.events import Packed
from tests.record.noted import local
from tests.what_if.small import plan_of, shop_inputs
from tests.workload import shops


def told(ends: tuple[int, ...], actual: int, promised: int = 100) -> ToldAndKept:
    """An order with these possible ends."""
    return ToldAndKept(
        order_id="1", told_at=shops.at(2), ends_min=tuple(sorted(ends)), promised_min=promised, actual_min=actual
    )


def test_the_score_of_a_told_moment_by_hand() -> None:
    """One sure end scores its error; ends 0 and 10 with 5 actual score 5 − 10 / 4 = 2.5; with 20, 15 − 2.5."""
    assert crps([30], 42) == 12
    assert crps([0, 10], 5) == pytest.approx(2.5)
    assert crps([0, 10], 20) == pytest.approx(12.5)
    assert crps([7, 7, 7], 7) == 0


def test_the_score_is_the_area_between_told_and_actual() -> None:
    """CRPS is the integral of (share of ends by t − [actual by t])², summed here minute by minute."""
    draw = random.Random(5)
    for _ in range(20):
        ends = [draw.randrange(200) for _ in range(9)]
        actual = draw.randrange(200)
        area = sum((sum(end <= t for end in ends) / 9 - (actual <= t)) ** 2 for t in range(200))
        assert crps(ends, actual) == pytest.approx(area)


def test_the_place_of_the_actual_end_among_the_told_ones() -> None:
    """Before all of them 0, after all 1, at one of four with one before it 1.5 in 4."""
    assert pit([10, 20], 5) == 0
    assert pit([10, 20], 25) == 1
    assert pit([10, 20, 30, 40], 20) == 1.5 / 4


def test_few_orders_are_not_judged() -> None:
    """One order short of enough there is no verdict; with enough there is."""
    orders = [told((50, 150), 90 if number % 2 else 120) for number in range(ENOUGH_ORDERS)]
    assert "Too few orders" in calibration(orders[:-1]).sentence
    assert "the odds hold" in calibration(orders).sentence


def test_odds_that_were_too_sure_or_too_careful_are_called_that() -> None:
    """Told 9 in 10 and kept half: too sure. Told even and kept always: too careful."""
    nine_in_ten = tuple([50] * 9 + [150])
    sure = calibration([told(nine_in_ten, 90 if number % 2 else 120) for number in range(40)])
    assert "too sure" in sure.sentence
    assert (sure.kept, round(sure.expected)) == (20, 36)
    careful = calibration([told((50, 150), 90) for _ in range(40)])
    assert "too careful" in careful.sentence


def test_orders_are_counted_in_fifths_of_the_chance_told() -> None:
    """A chance of 0 is in the lowest fifth, one of 1 in 5 too, one of 1 in the highest; each order in one fifth."""
    orders = [told((150,), 120), told((50, 150, 150, 150, 150), 90), told((50,), 90)]
    fifths = calibration(orders).fifths
    assert [one.orders for one in fifths] == [2, 0, 0, 0, 1]
    assert [one.kept for one in fifths] == [1, 0, 0, 0, 1]


def test_honest_odds_are_found_honest() -> None:
    """Where actual ends are drawn from the very ends told, verdicts of "too sure" or "too careful" are rare."""
    draw = random.Random(3)
    verdicts = []
    for _ in range(100):
        orders = []
        for _ in range(60):
            middle = draw.gauss(100, 30)
            ends = tuple(round(draw.gauss(middle, 20)) for _ in range(200))
            orders.append(told(ends, round(draw.gauss(middle, 20))))
        verdicts.append(calibration(orders).sentence)
    assert sum("the odds hold" in one for one in verdicts) >= 85


def test_an_order_is_held_against_the_plan_it_was_told_by() -> None:
    """Without surprises the told end is the planned minute; packed then it is kept, scores 0 and is counted once."""
    inputs = shop_inputs(2)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    at = local(week.clock.ends_at(plan.order["1"].packed_tau))
    events = (Packed(at=at, order_id="1"),)
    (one,) = told_and_kept(week, plan, NO_SURPRISES, events, replays=5)
    assert one.is_kept
    assert one.chance == 1
    assert crps(one.ends_min, one.actual_min) == 0
    (late,) = told_and_kept(week, plan, NO_SURPRISES, (Packed(at=at + timedelta(minutes=45), order_id="1"),), replays=5)
    assert crps(late.ends_min, late.actual_min) == 45
    assert told_and_kept(week, plan, NO_SURPRISES, events, known=("1",), replays=5) == ()

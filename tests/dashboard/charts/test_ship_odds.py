"""Odds of an order: a bar for each pick-up, the day to say told apart, the promised one named."""

from __future__ import annotations

from dashboard.charts.palette import PICKED, PRINTING
from dashboard.charts.ship_odds import ship_odds
from scheduler.insight.ship_days import Odds, ShipDay
from tests import builders as b

CLOCK = b.week().clock
DAY = ShipDay(
    order_id="or1",
    planned_tau=500,
    promised_tau=1080,
    say_tau=540,
    kept=95,
    of=100,
    odds=(Odds(pickup_tau=540, ready=84, of=100), Odds(pickup_tau=1080, ready=100, of=100)),
)


def test_the_bars_are_the_odds_rounded_down() -> None:
    """84 of 100 are 16 in 20, never 17; each bar says so, and the table below holds the same."""
    picture = ship_odds(CLOCK, DAY, 20)
    bars = picture.figure.data[0]
    assert list(bars.x) == [16, 20]
    assert list(bars.text) == ["16 in 20", "20 in 20"]
    assert [row[:2] for row in picture.rows] == [(bars.y[0], "16"), (bars.y[1], "20")]
    assert "16" in picture.alt


def test_the_day_to_say_is_the_dark_bar_and_named() -> None:
    """Only the day to say is drawn dark; the table names it and the promised one."""
    picture = ship_odds(CLOCK, DAY, 20)
    assert list(picture.figure.data[0].marker.color) == [PICKED, PRINTING]
    assert [row[2] for row in picture.rows] == ["the day to say", "promised"]
    assert all(len(row) == len(picture.headings) for row in picture.rows)

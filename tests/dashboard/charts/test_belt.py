"""Belt load: areas as high as the belt is full, the limit a line, what is above it another colour and said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.charts.belt import belt_load
from dashboard.charts.palette import INK, LATE
from tests import builders as b
from tests.dashboard.charts.shown_plans import ShownPlan, over_lunch, seen


def filled(permille: int) -> ShownPlan:
    """The belt of P1 with this much on it from 20 to 40 and 60 to 100."""
    shop = over_lunch()
    belts = tuple(replace(one, permille=permille) for one in shop.view.belts)
    return ShownPlan(shop.week, shop.plan, replace(shop.view, belts=belts))


def test_the_area_is_the_load() -> None:
    """80 % from 20 to 40 and from 60 to 100, nothing in the lunch between."""
    shop = over_lunch()
    picture = belt_load(shop.week, shop.view, from_tau=0, to_tau=540)
    area = picture.figure.data[0]
    assert list(zip(area.x, area.y, strict=True)) == [
        (20, 0), (20, 80.0), (40, 80.0), (40, 0), (60, 0), (60, 80.0), (100, 80.0), (100, 0),
    ]  # fmt: skip
    assert [row[3] for row in picture.rows] == ["80 %", "80 %"]
    assert picture.sentence == "The belt of dryer belt is fullest Mon 2 Mar 08:20 to 08:40: 80 % of what it can carry."


@pytest.mark.parametrize(("permille", "is_over"), [(1000, False), (1001, True)])
def test_what_is_over_the_limit_is_another_area_and_is_said(permille: int, is_over: bool) -> None:
    """A belt full to the limit is not over it; a thousandth more is drawn hatched above the line and told."""
    shop = filled(permille)
    picture = belt_load(shop.week, shop.view, from_tau=0, to_tau=540)
    colours = [trace.fillcolor for trace in picture.figure.data]
    assert (LATE in colours) == is_over
    assert ("over its limit for 60 min" in picture.sentence) == is_over
    if is_over:
        over = picture.figure.data[1]
        assert max(over.y) == pytest.approx(0.1)
        assert over.line.width == 0
        assert over.fillpattern.shape == "x"
    assert "▲" not in picture.sentence


def test_the_limit_is_a_heavy_line_for_each_belt() -> None:
    """Two dryers, two lines at 100 %, ink-coloured."""
    presses = [b.press_line("P1", dryer_id="long"), b.press_line("P2", dryer_id="short")]
    shop = seen(b.week(presses=presses), b.plan(b.planned_run("r1")))
    picture = belt_load(shop.week, shop.view, from_tau=0, to_tau=540)
    limits = picture.figure.layout.shapes
    assert [(line.y0, line.y1, line.line.color) for line in limits] == [(100, 100, INK)] * 2
    assert {line.yref for line in limits} == {"y", "y2"}
    assert picture.sentence == "Nothing is on the belt of dryer long. Nothing is on the belt of dryer short."


def test_only_what_is_shown_counts() -> None:
    """Tuesday's belt is empty although Monday's is not."""
    shop = over_lunch()
    assert belt_load(shop.week, shop.view, from_tau=540, to_tau=1080).rows == ()


def test_a_shop_without_dryers_says_so() -> None:
    """Where no press names a dryer there is one empty picture and a sentence."""
    shop = seen(b.week(), b.plan(b.planned_run("r1")))
    picture = belt_load(shop.week, shop.view, from_tau=0, to_tau=540)
    assert picture.sentence == "No press of this shop prints into a dryer whose belt is known."

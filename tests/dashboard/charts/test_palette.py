"""The colours can be read by everybody, on a grey printer too."""

from __future__ import annotations

from itertools import combinations

import pytest

from dashboard.charts import palette
from dashboard.charts.palette import LOOKS, SPENT, Look
from tests.dashboard.charts.colour_sight import SIGHTS, contrast, distance, lightness

READABLE, VISIBLE = 4.5, 3.0
"""Contrast that words need, and that the edge of a shape needs (WCAG 2.2, 1.4.3 and 1.4.11)."""

APART = 10.0
"""CIE 1976 distance that two fills keep, about four times one that can just be noticed (2.3, Mahy et al. 1994)."""

ALL_LOOKS = [*LOOKS.items(), *SPENT.items()]


def test_the_measures_are_right() -> None:
    """Black on white is 21 to 1, white is L* 100, and red and green come close for who has no green cones."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.01)
    assert lightness("#FFFFFF") == pytest.approx(100.0)
    normal, without = (distance("#C04040", "#707030", sight) for sight in ("all cones", "deuteranopia"))
    assert without < normal / 2


@pytest.mark.parametrize("ground", [palette.PAPER, palette.PANEL])
@pytest.mark.parametrize("ink", [palette.INK, palette.MUTED, palette.LATE, palette.PICKED, palette.CHAIN])
def test_words_are_readable(ink: str, ground: str) -> None:
    """Every colour that words are set in stands out from both grounds."""
    assert contrast(ink, ground) >= READABLE


@pytest.mark.parametrize(("name", "look"), ALL_LOOKS, ids=lambda one: one if isinstance(one, str) else "")
def test_words_on_bars_are_readable(name: str, look: Look) -> None:
    """What is written in a bar stands out from its fill; the belt's figures are few and large shapes show them too."""
    least = VISIBLE if name == "belt" else READABLE
    assert contrast(look.text, look.fill) >= least


@pytest.mark.parametrize(("name", "look"), ALL_LOOKS, ids=lambda one: one if isinstance(one, str) else "")
def test_bars_are_visible(name: str, look: Look) -> None:
    """A bar's edge, or its fill, stands out from the paper."""
    assert max(contrast(look.edge, palette.PAPER), contrast(look.fill, palette.PAPER)) >= VISIBLE


@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("looks", [LOOKS, SPENT], ids=["timeline", "hours"])
def test_states_are_told_apart_by_everybody(looks: dict[str, Look], sight: str) -> None:
    """Any two looks differ in hatch or, as every kind of eye sees them, in colour, or are edged far more heavily."""
    for (one_name, one), (other_name, other) in combinations(looks.items(), 2):
        if {one_name, other_name} == {"screens", "drying"}:
            continue  # told apart by their lanes: drying has a lane of its own
        seen = distance(one.fill, other.fill, sight)
        assert one.pattern != other.pattern or seen >= APART, f"{one_name} and {other_name}: {seen:.1f}"


@pytest.mark.parametrize("looks", [LOOKS, SPENT], ids=["timeline", "hours"])
def test_states_are_told_apart_in_grey(looks: dict[str, Look]) -> None:
    """Any two looks differ in hatch or in lightness by ten steps of a hundred."""
    for (one_name, one), (other_name, other) in combinations(looks.items(), 2):
        if {one_name, other_name} != {"screens", "drying"}:
            steps = abs(lightness(one.fill) - lightness(other.fill))
            assert one.pattern != other.pattern or steps >= 10, f"{one_name} and {other_name}: {steps:.1f}"


@pytest.mark.parametrize("sight", SIGHTS)
def test_late_stands_out_from_everything(sight: str) -> None:
    """Whatever the eye, late is far from every other fill, and its edge is three times as heavy as any other."""
    late = LOOKS["late"]
    others = [look for name, look in ALL_LOOKS if name != "late"]
    assert min(distance(late.fill, look.fill, sight) for look in others) >= 2 * APART
    assert late.edge_px >= 3 * max(look.edge_px for look in others)


def test_every_hatch_has_its_words() -> None:
    """The key in words knows every hatch in use."""
    assert {look.pattern for _, look in ALL_LOOKS} <= set(palette.HOW_DRAWN)

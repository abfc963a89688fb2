"""Quantities in both systems: the shop's own first, the other beside it, both of one value."""

from __future__ import annotations

import pytest

from scheduler.papers.floor.press_pages import press_sheets_page
from scheduler.papers.floor.units import Units
from tests.papers.floor.grounds import ground, sheets_of, with_paper

US, METRIC = Units(first="US"), Units(first="metric")


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(320, 160), (275, 135), (104, 40), (212, 100)])
def test_degrees_are_those_of_both_scales(fahrenheit: int, celsius: int) -> None:
    """320 °F is 160 °C (Drying Product Guide, Workhorse), 275 °F is 135 °C (International Coatings, 2019)."""
    assert US.temperature(fahrenheit) == f"{fahrenheit} °F ({celsius} °C)"
    assert METRIC.temperature(fahrenheit) == f"{celsius} °C ({fahrenheit} °F)"


def test_lengths_speeds_and_meshes_are_those_of_both_systems() -> None:
    """8 ft/min is 2.44 m/min, 305 threads an inch are 120 a centimetre, 12 x 14 in are 30.5 x 35.6 cm."""
    assert US.belt_speed(96) == "8.0 ft/min (2.44 m/min)"
    assert METRIC.belt_speed(96) == "2.44 m/min (8.0 ft/min)"
    assert METRIC.tunnel(120) == "3.05 m (10.0 ft)"
    assert US.mesh(305) == "305/in (120/cm)"
    assert METRIC.mesh(156) == "61/cm (156/in)"
    assert US.print_size(12, 14) == "12 x 14 in (30.5 x 35.6 cm)"


@pytest.mark.parametrize(
    ("cm3", "text"),
    [
        (29.5735, "1.0 fl oz (30 ml)"),
        (946.0, "32.0 fl oz (946 ml)"),
        (1355.0, "1.43 qt (1.35 L)"),
        (1000.0, "1.06 qt (1.00 L)"),
    ],
)
def test_ink_is_told_in_cans_people_know(cm3: float, text: str) -> None:
    """Small amounts are fluid ounces and millilitres, large ones quarts and litres."""
    assert US.ink(cm3) == text


def test_the_setting_decides_what_comes_first() -> None:
    """With metric units the sheet says 160 °C first and 320 °F beside it; with US units the other way round."""
    of = ground("midsize")
    us = " ".join(sheets_of(press_sheets_page(of, "auto-1")))
    metric = " ".join(sheets_of(press_sheets_page(with_paper(of, units="metric"), "auto-1")))
    assert "320 °F (160 °C)" in us
    assert "160 °C (320 °F)" in metric
    assert "61/cm (156/in)" in metric

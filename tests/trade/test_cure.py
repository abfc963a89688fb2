"""What inks need of a dryer, what fabrics stand, and how few settings serve all."""

from __future__ import annotations

import pytest

from scheduler.trade.cure import CureNeed, fabric_most_f, few_settings


@pytest.mark.parametrize(
    ("garment", "most"),
    [
        ("red polyester tee", 299),  # below 300 degF: Impressions, January/February 2022
        ("100 % poly jersey", 299),
        ("50/50 poly cotton tee", None),
        ("polyester blend hoodie", None),
        ("black tee", None),
        ("polypropylene bag", None),
    ],
)
def test_polyester_that_is_no_blend_has_a_ceiling(garment: str, most: int | None) -> None:
    """Only words that say polyester and nothing beside it limit the heat."""
    assert fabric_most_f(garment) == most


def test_a_need_is_met_from_its_least_to_its_most() -> None:
    """Each edge is still good, a degree or second beyond it is not."""
    need = CureNeed(least_f=275, least_s=60, most_f=299, most_s=120)
    assert all(need.is_met_by(degrees, seconds) for degrees in (275, 299) for seconds in (60, 120))
    assert not any(need.is_met_by(degrees, 60) for degrees in (274, 300))
    assert not any(need.is_met_by(280, seconds) for seconds in (59, 121))


def test_few_settings_serve_many() -> None:
    """The hottest least temperature serves all that stand it; what does not, and slower inks, get their own."""
    low, plain = CureNeed(least_f=275, least_s=60), CureNeed(least_f=320, least_s=60)
    polyester, water = CureNeed(least_f=275, least_s=60, most_f=299), CureNeed(least_f=320, least_s=150)
    assert few_settings([low, plain, low]) == ((320, 60),)
    assert few_settings([low, plain, polyester]) == ((320, 60), (275, 60))
    assert few_settings([plain, water, polyester]) == ((320, 60), (275, 60), (320, 150))
    assert few_settings([]) == ()

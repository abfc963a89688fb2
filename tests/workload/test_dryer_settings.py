"""From inks and fabrics to the settings of the dryers."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.orders import Ink
from scheduler.domain.shop import Dryer, InkFamily
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.workload.build import build_workload
from tests.workload import shops

WATER = Ink(name="red", family="water-based")
LOW_CURE = Ink(name="red", family="low-cure plastisol")


def _week(*families: str | Ink, heat_min: int | None = 2, garments: tuple[str, ...] = (), **shop: Any) -> Week:
    """A run in each ink, on a tee or on these garments, into one dryer of one press."""
    dryer = Dryer(
        dryer_id="long", name="long", heated_length_in=96, belt_width_in=50, heat_min=heat_min, cool_min=heat_min
    )
    words = garments or ("black tee",) * len(families)
    ids = [str(number) for number in range(len(families))]
    inputs = shops.week_inputs(
        shops.shop(shops.press(dryer_id="long"), dryers=(dryer,), **shop),
        orders=tuple(shops.order(one) for one in ids),
        lots=tuple(shops.lot(one, order_id=one, garment=garment) for one, garment in zip(ids, words, strict=True)),
        imprints=tuple(
            shops.imprint(ink, order_id=one, lot_ids=(one,)) for one, ink in zip(ids, families, strict=True)
        ),
    )
    return build_workload(inputs).week


def test_a_dryer_is_set_for_each_ink_that_needs_it() -> None:
    """Plastisol goes at 320 degF for a minute, water-based for two and a half, at which plastisol may go too."""
    week = _week("red", WATER)
    assert [one.setting_id for one in week.dryers[0].settings] == ["320 °F, 60 s", "320 °F, 150 s"]
    plain, water = (run.choices[0] for run in week.runs)
    assert (plain.setting_id, [way.setting_id for way in plain.other_ways]) == ("320 °F, 60 s", ["320 °F, 150 s"])
    assert (water.setting_id, water.other_ways) == ("320 °F, 150 s", ())
    assert plain.other_ways[0].belt_permille > plain.belt_permille
    assert [run.cure_min for run in week.runs] == [3, 3]


def test_few_settings_serve_many() -> None:
    """Low-cure ink on cotton goes with plastisol; on polyester it has a setting of its own."""
    assert _week("red", LOW_CURE).dryers == ()
    week = _week("red", LOW_CURE, garments=("black tee", "red polyester tee"))
    assert [one.temperature_f for one in week.dryers[0].settings] == [320, 275]


def test_a_dryer_without_minutes_to_settle_suits_all() -> None:
    """Where nothing is told of heating and cooling, nothing is asked of the plan, and cures are those of the inks."""
    week = _week("red", WATER, heat_min=None)
    assert week.dryers == ()
    assert [run.choices[0].setting_id for run in week.runs] == [None, None]
    assert [run.cure_min for run in week.runs] == [1, 3]


def test_an_ink_may_stand_only_so_long_in_the_tunnel() -> None:
    """At most 149 s plastisol cannot go with the water-based ink; at 150 it can."""
    for most, ways in ((149, 0), (150, 1)):
        family = InkFamily(name="plastisol", tunnel_s=60, flash_s=7, most_tunnel_s=most)
        assert len(_week("red", WATER, families=(family,)).runs[0].choices[0].other_ways) == ways


def test_the_dryer_comes_on_each_morning() -> None:
    """Every opening after a night is one, in shop minutes; noon is none."""
    week = _week("red", WATER, hours=shops.hours("08:00", "17:00", ("12:00", "12:30")), days_ahead=3)
    assert week.dryers[0].switched_on_tau == (0, 510, 1020)


def test_plastisol_on_polyester_is_a_fault() -> None:
    """The row is named and what to print with instead; low-cure ink, and a blend, are none."""
    with pytest.raises(InputError) as told:
        _week("red", garments=("red polyester tee",), heat_min=None)
    (problem,) = told.value.problems
    assert (problem.code, problem.column) == ("too_hot", "family")
    assert "plastisol cures at 320 °F; red polyester tee stands at most 299 °F" in problem.message
    assert "low-cure" in problem.hint
    assert _week(LOW_CURE, garments=("red polyester tee",)).runs
    assert _week("red", garments=("red poly cotton tee",)).runs

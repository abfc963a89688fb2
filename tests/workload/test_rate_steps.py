"""The rates at which a run may be printed where presses share a dryer."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.shop import Dryer
from scheduler.domain.week import PressChoice
from scheduler.workload.build import build_workload
from tests.workload import shops

LONG = Dryer(dryer_id="long", name="long", heated_length_in=96, belt_width_in=50)
"""640 pieces an hour at a minute in the tunnel: 8 ft, garments every 18 in, two abreast."""


def _choice(*presses: str, **imprint: Any) -> PressChoice:
    """What the first press offers the week's one run of 100 pieces, beside other presses into these dryers."""
    lines = [shops.press(f"p{number}", dryer_id=dryer) for number, dryer in enumerate(presses)]
    shop = shops.shop(*lines, dryers=(LONG, Dryer(dryer_id="short", name="s", heated_length_in=96, belt_width_in=50)))
    inputs = shops.week_inputs(shop, imprints=(shops.imprint("red", **imprint),))
    return build_workload(inputs).week.runs[0].choices[0]


def test_a_run_into_a_shared_dryer_may_be_slowed_down() -> None:
    """At 400 an hour 100 pieces take 15 minutes and 625 permille; at 300 and 200 they take 20 and 30, and less belt."""
    choice = _choice("long", "long")
    assert (choice.print_min, choice.rate_pcs_h, choice.belt_permille) == (15, 400, 625)
    assert [(w.step_permille, w.print_min, w.rate_pcs_h, w.belt_permille) for w in choice.other_ways] == [
        (750, 20, 300, 469),
        (500, 30, 200, 313),
    ]
    assert all(sum(way.part_min) == way.print_min for way in choice.other_ways)


@pytest.mark.parametrize("presses", [("long",), ("long", "short"), ("", "")])
def test_a_run_with_a_dryer_of_its_own_is_never_slowed_down(presses: tuple[str, ...]) -> None:
    """Where nobody shares the belt, or there is none, one rate is all there is."""
    assert _choice(*presses).other_ways == ()


def test_a_stated_run_is_slowed_in_proportion() -> None:
    """Forty minutes typed for the run are full rate: 54 at three quarters, rounded up, 80 at half."""
    choice = _choice("long", "long", stated_run_min=40)
    assert [way.print_min for way in choice.other_ways] == [54, 80]

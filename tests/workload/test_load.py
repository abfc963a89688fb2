"""What is believed of each press, and the money and crews a press line carries."""

from __future__ import annotations

import pytest

from scheduler.domain.shop import Dryer, MoneySettings
from scheduler.domain.week import SetUpMinutes
from scheduler.workload.build import build_workload
from scheduler.workload.load import PressLoad, empty_set_up_min
from tests.workload import shops


def test_a_press_s_figures_in_one_line() -> None:
    """Runs that fit, slowest and fastest, set-ups of one, three and six colours, and the belt."""
    minutes = SetUpMinutes(mount_min=5, load_min=2, strike_off_min=4)
    shop = shops.shop(
        shops.press(set_up=minutes, dryer_id="dry"),
        shops.manual(heads=4, set_up=minutes),
        dryers=(Dryer(dryer_id="dry", name="dryer", heated_length_in=144, belt_width_in=20),),
    )
    imprints = (shops.imprint(), shops.imprint(location="back", stated_pcs_h=300, never=("manual-1",)))
    auto, manual = build_workload(shops.week_inputs(shop, imprints=imprints)).press_loads
    assert auto == PressLoad(
        press_id="auto-1",
        name="auto-1",
        run_count=2,
        low_pcs_h=300,
        high_pcs_h=400,
        set_up_min=((1, 11), (3, 25), (6, 46)),
        belt_pcs_h=480,
    )
    assert manual.set_up_min == ((1, 11), (3, 25), (6, None))
    assert (manual.run_count, manual.low_pcs_h, manual.belt_pcs_h) == (1, 60, None)


def test_a_press_nothing_fits_says_so() -> None:
    """No run, no rates."""
    shop = shops.shop(shops.press(), shops.press("idle"))
    _, idle = build_workload(shops.week_inputs(shop, imprints=(shops.imprint(never=("idle",)),))).press_loads
    assert (idle.run_count, idle.low_pcs_h, idle.high_pcs_h) == (0, None, None)


@pytest.mark.parametrize(("colours", "minutes"), [(1, 9 + 3 + 5), (3, 3 * 12 + 5)])
def test_an_empty_press_mounts_loads_and_tests(colours: int, minutes: int) -> None:
    """Nothing leaves and nothing stays."""
    assert empty_set_up_min(colours, SetUpMinutes(mount_min=9, load_min=3, card_min=1, strike_off_min=5)) == minutes


@pytest.mark.parametrize(("crew", "cents"), [((("print", 1),), 37), ((("print", 1), ("screens", 1)), 73), ((), 0)])
def test_set_up_labour_is_what_its_crew_costs_a_minute(crew: tuple[tuple[str, int], ...], cents: int) -> None:
    """At 22.00 an hour: 37 cents a minute for one, 73 for two, nothing for nobody."""
    shop = shops.shop(shops.press(set_up_crew=crew), money=MoneySettings(person_hour_cents=2200))
    assert build_workload(shops.week_inputs(shop)).week.presses[0].set_up_cents_per_min == cents

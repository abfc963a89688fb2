"""Rates and print minutes: whose figure wins, the belt, rounding; and the published examples.

Sources of the published figures:

- Images (UK), August 2018, p. 33: an example shop's day on an automatic and on a manual press.
- "Evaluating ink", Printwear, May 2014, p. 90: 12, 16 and 24 ft ovens, 90 s to 3 min, 18 in of belt a garment.
- "Screen Room Efficiency", J. Clarke, Printwear: 100 pieces at 400 an hour with five screens at 10 min.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.orders import DesignRecord, Ink
from scheduler.domain.shop import Defaults, Dryer, InkFamily, Press, Shop
from scheduler.domain.week import PressChoice, Run, SetUpMinutes
from scheduler.trade.set_up import implied_set_up_min
from scheduler.workload.build import build_workload
from tests.workload import shops


def _run(shop: Shop, *, pieces: tuple[int, ...] = (100,), kinds: tuple[str, ...] = (), **more: object) -> Run:
    names = [f"lot {number}" for number in range(len(pieces))]
    lots = tuple(
        shops.lot(name, pieces=count, kind=kinds[at] if kinds else "tee", shade="light")
        for at, (name, count) in enumerate(zip(names, pieces, strict=True))
    )
    designs = more.pop("designs", ())
    inks = more.pop("inks", ("red",))
    imprint = shops.imprint(*inks, lot_ids=tuple(names), **more)  # type: ignore[misc]
    inputs = shops.week_inputs(shop, lots=lots, imprints=(imprint,), designs=designs)  # type: ignore[arg-type]
    (run,) = build_workload(inputs).week.runs
    return run


def _choice(press: Press, **more: object) -> PressChoice:
    return _run(shops.shop(press), **more).choices[0]  # type: ignore[arg-type]


def test_whose_figure_wins() -> None:
    """Typed on the order, else remembered with the design, else stated for the press, else arithmetic."""
    press = shops.press(stated_pcs_h=400)
    record = DesignRecord(design_id="1 front", actual_pcs_h=350)
    assert _choice(press, stated_pcs_h=300, designs=(record,)).rate_pcs_h == 300
    assert _choice(press, designs=(record,)).rate_pcs_h == 350
    assert _choice(press).rate_pcs_h == 400
    arithmetic = replace(press, stated_pcs_h=None, run_crew=(("print", 2),), index_s=3.0, load_s=6.0, unload_s=5.0)
    assert _choice(arithmetic).rate_pcs_h == 400  # 6 s to load + 3 s to index


def test_one_person_loads_and_unloads() -> None:
    """A crew of one does both stations: 8 s and 3 s of index are 327 an hour; a crew of two 514."""
    press = shops.press(stated_pcs_h=None, load_s=4.0, unload_s=4.0, index_s=3.0, stroke_s=3.0)
    assert _choice(replace(press, run_crew=(("print", 1),))).rate_pcs_h == 327
    assert _choice(replace(press, run_crew=(("print", 1), ("catch", 1)))).rate_pcs_h == 514


def test_a_flash_longer_than_every_other_station_sets_the_pace() -> None:
    """A base flashed for 9 s slows an automatic of 7 s cycles to 12 s; without base it runs at its own pace."""
    families = (InkFamily(name="plastisol", tunnel_s=60, flash_s=9.0),)
    press = shops.press(stated_pcs_h=None, run_crew=(("print", 2),))
    shop = shops.shop(press, families=families)
    assert _run(shop, with_base=True).choices[0].rate_pcs_h == 300
    assert _run(shop, with_base=False).choices[0].rate_pcs_h == 514


def test_two_hits_are_two_revolutions_on_an_automatic() -> None:
    """Half the rate, and no second head."""
    twice = _choice(shops.press(stated_pcs_h=400), inks=(Ink(name="white", hits=2),))
    assert (twice.rate_pcs_h, twice.print_min, twice.heads_needed) == (200, 30, 1)


def test_two_hits_on_a_manual_are_a_stroke_and_a_flash_more() -> None:
    """The same screen again: 4 + 4 s hands on and off, 2 strokes of 6 s, flash 7 s and swing 3 s are 30 s."""
    press = shops.manual(stated_pcs_h=None, stroke_s=6.0)
    assert _choice(press, inks=(Ink(name="white", hits=2),)).rate_pcs_h == 120
    assert _choice(press, inks=(Ink(name="white"),)).rate_pcs_h == 3600 // 14


def test_crew_and_garment_factors() -> None:
    """Fleece at 75 % and a crew at 80 % slow the arithmetic; a stated press rate knows its crew already."""
    press = shops.press(stated_pcs_h=None, run_crew=(("print", 2),), run_crew_pct=80, load_s=6.0)
    assert _choice(press, kinds=("fleece",)).rate_pcs_h == 240
    assert _choice(replace(press, stated_pcs_h=400), kinds=("fleece",)).rate_pcs_h == 300
    assert _choice(press, kinds=("fleece",), stated_pcs_h=400).rate_pcs_h == 400


def test_a_kind_nobody_described_goes_at_a_tee_s_speed_and_is_noted() -> None:
    """An umbrella is not a bag: its speed is assumed and listed."""
    inputs = shops.week_inputs(lots=(shops.lot(kind="umbrella"),))
    workload = build_workload(inputs)
    assert workload.week.runs[0].choices[0].rate_pcs_h == 400
    assert "umbrella: a tee's speed assumed" in [one.text for one in workload.assumptions]


def test_parts_go_at_their_own_rate_and_are_rounded_once() -> None:
    """Tees at 400 and fleece at 300: 15 and 20 minutes; ten lots of one piece are two minutes, not ten."""
    mixed = _choice(shops.press(stated_pcs_h=400), pieces=(100, 100), kinds=("tee", "fleece"))
    assert (mixed.part_min, mixed.print_min, mixed.rate_pcs_h) == ((15, 20), 35, 342)
    small = _choice(shops.press(stated_pcs_h=400), pieces=(1,) * 10)
    assert small.print_min == 2


@pytest.mark.parametrize(("pieces", "minutes"), [(400, 60), (401, 61), (1, 1), (6, 1), (7, 2)])
def test_minutes_are_rounded_up_to_the_end_of_the_run(pieces: int, minutes: int) -> None:
    """At 400 an hour: exactly an hour for 400, a minute more for one piece more."""
    assert _choice(shops.press(stated_pcs_h=400), pieces=(pieces,)).print_min == minutes


@settings(max_examples=60, deadline=None)
@given(
    pieces=st.lists(st.integers(1, 500), min_size=1, max_size=6),
    rate=st.integers(60, 900),
    fleece=st.integers(50, 150),
    data=st.data(),
)
def test_parts_always_sum_to_the_run(pieces: list[int], rate: int, fleece: int, data: st.DataObject) -> None:
    """Whatever lots and rates: parts sum to the run, and the run is the exact sum rounded up."""
    kinds = tuple(data.draw(st.sampled_from(["tee", "fleece"])) for _ in pieces)
    defaults = Defaults(garment_pct=(("tee", 100), ("fleece", fleece)), finish_each_s=0.0)
    shop = shops.shop(shops.press(stated_pcs_h=rate), defaults=defaults, days_ahead=21)
    choice = _run(shop, pieces=tuple(pieces), kinds=kinds).choices[0]
    rates = {"tee": rate, "fleece": max(1, rate * fleece // 100)}
    exact = sum(count * 60 / rates[kind] for count, kind in zip(pieces, kinds, strict=True))
    assert sum(choice.part_min) == choice.print_min == max(1, ceil(exact - 1e-6))
    assert min(choice.part_min) >= 0


def test_stated_run_minutes_are_for_the_print_location_and_shared_by_pieces() -> None:
    """55 min for a front on 100 dark and 50 light tees: 37 and 19, whatever the press could do."""
    lots = (shops.lot("navy", pieces=60), shops.lot("black", pieces=40), shops.lot("ash", pieces=50, shade="light"))
    imprint = shops.imprint(lot_ids=("navy", "black", "ash"), stated_run_min=55)
    dark, light = build_workload(shops.week_inputs(lots=lots, imprints=(imprint,))).week.runs
    assert (dark.choices[0].print_min, dark.choices[0].part_min) == (37, (22, 15))
    assert (light.choices[0].print_min, light.choices[0].rate_pcs_h) == (19, 157)


def _with_dryer(press: Press, *, heated_ft: float, tunnel_s: int, width_in: float = 20.0) -> Shop:
    dryer = Dryer(dryer_id="dry", name="dryer", heated_length_in=heated_ft * 12, belt_width_in=width_in)
    family = InkFamily(name="plastisol", tunnel_s=tunnel_s, flash_s=7.0)
    return shops.shop(replace(press, dryer_id="dry"), dryers=(dryer,), families=(family,))


@pytest.mark.parametrize(
    ("heated_ft", "tunnel_s", "belt"),
    [(12, 180, 160), (12, 90, 320), (16, 180, 213), (16, 90, 426), (24, 180, 320), (24, 90, 640), (12, 60, 480)],
)
def test_published_ovens_slow_a_press_that_is_faster(heated_ft: int, tunnel_s: int, belt: int) -> None:
    """A press at 700 an hour runs at the belt's rate, fills the belt, and says so."""
    choice = _run(_with_dryer(shops.press(stated_pcs_h=700), heated_ft=heated_ft, tunnel_s=tunnel_s)).choices[0]
    assert choice.rate_pcs_h == choice.slowed_to_pcs_h == belt
    assert 997 <= choice.belt_permille <= 1000


def test_a_press_slower_than_the_belt_takes_its_share_rounded_up() -> None:
    """400 of 480 an hour are 834 thousandths of the belt; at exactly the belt's rate nothing is slowed."""
    shop = _with_dryer(shops.press(stated_pcs_h=400), heated_ft=12, tunnel_s=60)
    choice = _run(shop).choices[0]
    assert (choice.rate_pcs_h, choice.belt_permille, choice.slowed_to_pcs_h) == (400, 834, None)
    same = _run(_with_dryer(shops.press(stated_pcs_h=480), heated_ft=12, tunnel_s=60)).choices[0]
    assert (same.rate_pcs_h, same.belt_permille, same.slowed_to_pcs_h) == (480, 1000, None)


def test_lanes_double_the_belt_and_a_narrow_belt_still_has_one() -> None:
    """Two garments abreast take 960 an hour; an 18 in belt takes one lane, not none."""
    wide = _run(_with_dryer(shops.press(stated_pcs_h=700), heated_ft=12, tunnel_s=60, width_in=40.0)).choices[0]
    assert (wide.rate_pcs_h, wide.belt_permille) == (700, 730)
    narrow = _run(_with_dryer(shops.press(stated_pcs_h=700), heated_ft=12, tunnel_s=60, width_in=18.0)).choices[0]
    assert narrow.rate_pcs_h == 480


def test_without_a_dryer_the_belt_is_nobody_s_business() -> None:
    """No share, nothing slowed."""
    choice = _choice(shops.press(stated_pcs_h=700))
    assert (choice.belt_permille, choice.slowed_to_pcs_h) == (0, None)


def _published_day(press: Press, *, locations: int, pieces: int, screens: int) -> tuple[int, int]:
    """Set-up and print minutes of a day of equal print locations, each set up on an empty press."""
    orders = tuple(shops.order(str(number)) for number in range(locations))
    lots = tuple(shops.lot(one.order_id, order_id=one.order_id, pieces=pieces, shade="light") for one in orders)
    inks = ("red", "yellow", "blue")[:screens]
    imprints = tuple(shops.imprint(*inks, order_id=one.order_id, lot_ids=(one.order_id,)) for one in orders)
    week = build_workload(shops.week_inputs(shops.shop(press), orders=orders, lots=lots, imprints=imprints)).week
    line = week.press[press.press_id]
    choices = [run.choices[0] for run in week.runs]
    set_up = sum(implied_set_up_min(choice, line.now_on, line.set_up, week.ink) for choice in choices)
    return set_up, sum(choice.print_min for choice in choices)


def test_published_day_on_an_automatic() -> None:
    """Ten locations of 100 pieces and three screens, 9 min a screen, 400 an hour: 270 + 150 = 420 min, a 7-hour day."""
    press = shops.press(stated_pcs_h=400, set_up=SetUpMinutes(mount_min=9))
    assert _published_day(press, locations=10, pieces=100, screens=3) == (270, 150)


def test_published_day_on_a_manual() -> None:
    """Eight locations of 35 pieces and two screens, 10 min a screen, 65 an hour: 160 min and 259 +- 8.

    The source rounds the day once (258.5); we round every run up to its minute, eight times at most.
    """
    press = shops.manual(stated_pcs_h=65, set_up=SetUpMinutes(mount_min=10))
    set_up, printing = _published_day(press, locations=8, pieces=35, screens=2)
    assert set_up == 160
    assert 258.5 <= printing <= 258.5 + 8


def test_published_five_colour_order() -> None:
    """Five screens at 10 min and 100 pieces at 400 an hour: 50 + 15 = 65 min."""
    press = shops.press(stated_pcs_h=400, set_up=SetUpMinutes(mount_min=10))
    inputs = shops.week_inputs(
        shops.shop(press),
        lots=(shops.lot(shade="light"),),
        imprints=(shops.imprint("red", "yellow", "blue", "green", "black"),),
    )
    week = build_workload(inputs).week
    (choice,) = week.runs[0].choices
    assert implied_set_up_min(choice, week.presses[0].now_on, press.set_up, week.ink) == 50
    assert choice.print_min == 15

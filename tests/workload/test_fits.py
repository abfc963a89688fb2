"""Which presses a run fits, and the words for why not."""

from __future__ import annotations

import pytest

from scheduler.domain.orders import DesignRecord, Imprint, Ink
from scheduler.domain.shop import InkFamily, Press, ScreenRoom
from scheduler.domain.week import FlashPool, PressChoice, SetUpMinutes, Week
from scheduler.workload.build import build_workload
from tests.workload import shops

SIX = ("red", "yellow", "blue", "green", "orange", "brown")


def _week(imprint: Imprint, *presses: Press, **more: object) -> Week:
    room: ScreenRoom | None = more.pop("screen_room", None)  # type: ignore[assignment]
    return build_workload(
        shops.week_inputs(shops.shop(*presses, screen_room=room), imprints=(imprint,), **more)  # type: ignore[arg-type]
    ).week


def _fits(imprint: Imprint, *presses: Press, **more: object) -> list[str]:
    week = _week(imprint, *presses, **more)
    return [choice.press_id for run in week.runs for choice in run.choices]


def _reasons(imprint: Imprint, *presses: Press, **more: object) -> tuple[str, ...]:
    week = _week(imprint, *presses, **more)
    assert not week.runs
    (told,) = week.not_planned
    assert told.kind == "no press"
    return told.reasons


def _choice(imprint: Imprint, press: Press, **more: object) -> PressChoice:
    return _week(imprint, press, **more).runs[0].choices[0]


@pytest.mark.parametrize(
    ("press", "heads"),
    [
        (shops.press(heads=10, flash_place="in a head"), 9),
        (shops.press(heads=10, flash_place="over a pallet"), 7),
        (shops.press(heads=10, flash_place="between heads"), 7),
        (shops.press(heads=12, flash_place="in a head", cool_down_head=True), 11),
        (shops.press(heads=10, flash_place="over a pallet", cool_down_head=True), 9),
        (shops.manual(heads=8, flash_place="in a head", cool_down_head=True), 7),
    ],
)
def test_heads_a_run_takes(press: Press, heads: int) -> None:
    """Six inks on a base with two flashes: a flash takes a head only in a head, a cool-down only where asked for."""
    inks = (Ink(name="white base"), *(Ink(name=name) for name in SIX[:5]), Ink(name="brown", hits=2))
    assert _choice(shops.imprint(*inks), press).heads_needed == heads


def test_a_run_fits_up_to_the_last_head() -> None:
    """A base, a flash in a head and six inks are eight heads: they fit eight and not seven."""
    run = shops.imprint(*SIX)
    assert _fits(run, shops.press(heads=8, flash_place="in a head")) == ["auto-1"]
    assert _reasons(run, shops.press(heads=7, flash_place="in a head")) == (
        "needs 8 heads: 6 inks, underbase, 1 flash; auto-1 has 7",
    )


def test_one_sentence_where_all_presses_are_too_small() -> None:
    """The clash is told once, against the largest press."""
    inks = (*(Ink(name=name) for name in SIX[:5]), Ink(name="brown", hits=2))
    presses = [shops.press(name, heads=heads, flash_place="in a head") for name, heads in (("a", 6), ("b", 8))]
    assert _reasons(shops.imprint(*inks), *presses) == (
        "needs 9 heads: 6 inks, underbase, 2 flashes; the largest press has 8",
    )


def test_presses_that_refuse_differently_are_told_apart_nearest_first() -> None:
    """The press with the smallest clash comes first; presses the order rules out are left out of it."""
    presses = (
        shops.press("far", heads=2, flashes=0),
        shops.press("near", heads=6),
        shops.press("ruled out"),
    )
    reasons = _reasons(shops.imprint(*SIX, never=("ruled out",)), *presses)
    assert reasons == (
        "needs 7 heads: 6 inks, underbase; near has 6",
        "needs 7 heads: 6 inks, underbase; far has 2 and needs 1 flash; far has 0",
    )


@pytest.mark.parametrize(
    ("flashes", "kind", "fits"),
    [(1, "automatic", False), (2, "automatic", True), (0, "manual", False), (1, "manual", True)],
)
def test_flashes_on_the_press(flashes: int, kind: str, fits: bool) -> None:
    """An automatic needs a unit for each flash; on a manual one unit swings in each time."""
    inks = (Ink(name="red"), Ink(name="gold", hits=2))
    press = shops.press(flashes=flashes, kind=kind)
    assert bool(_fits(shops.imprint(*inks), press)) is fits


@pytest.mark.parametrize(
    ("imprint", "press", "reason"),
    [
        (
            shops.imprint(width_in=15.0, height_in=14.0),
            shops.press(max_width_in=14.0, max_height_in=16.0),
            "a print of 15 x 14 in; auto-1 takes at most 14 x 16 in",
        ),
        (
            shops.imprint(),
            shops.press(max_height_in=12.0),
            "a print of 12 x 14 in (assumed); auto-1 takes at most any x 12 in",
        ),
        (
            shops.imprint(frame_size="25x36"),
            shops.press(frame_sizes=("23x31",)),
            "needs 25x36 frames; auto-1 takes 23x31",
        ),
        (shops.imprint(pallet="youth"), shops.press(pallets=("adult",)), "needs youth pallets; auto-1 has adult"),
        (
            shops.imprint(Ink(name="blue", family="water-based")),
            shops.press(families=("plastisol",)),
            "water-based ink; auto-1 prints plastisol only",
        ),
        (shops.imprint(presses=("manual-1",)), shops.press(), "the order allows only manual-1"),
        (shops.imprint(never=("auto-1",)), shops.press(), "the order says not auto-1"),
    ],
)
def test_what_else_keeps_a_run_off_a_press(imprint: Imprint, press: Press, reason: str) -> None:
    """Print size, frames, pallets, ink families and the order's own wishes, each in its sentence."""
    assert _reasons(imprint, press) == (reason,)


@pytest.mark.parametrize(
    ("imprint", "press"),
    [
        (shops.imprint(width_in=14.0, height_in=16.0), shops.press(max_width_in=14.0, max_height_in=16.0)),
        (shops.imprint(frame_size="23X31"), shops.press(frame_sizes=("23x31",))),
        (shops.imprint(pallet="Youth"), shops.press(pallets=("adult", "youth"))),
        (shops.imprint(Ink(name="blue", family="water-based")), shops.press(families=("Water-based",))),
        (shops.imprint(presses=("auto-1",)), shops.press()),
        (shops.imprint(), shops.press(pallets=("adult",))),
    ],
)
def test_the_other_side_of_each_refusal(imprint: Imprint, press: Press) -> None:
    """Exactly the largest print, and the same word in other letters, fit."""
    assert _fits(imprint, press) == ["auto-1"]


def test_preferred_presses_come_from_the_order_then_from_the_design() -> None:
    """The order's wish replaces the design's."""
    record = DesignRecord(design_id="1 front", preferred=("b",))
    presses = (shops.press("a"), shops.press("b"))

    def preferred(imprint: Imprint) -> list[str]:
        run = _week(imprint, *presses, designs=(record,)).runs[0]
        return [choice.press_id for choice in run.choices if choice.is_preferred]

    assert preferred(shops.imprint()) == ["b"]
    assert preferred(shops.imprint(preferred=("a",))) == ["a"]


def test_approval_at_the_press_is_added_to_the_set_up() -> None:
    """The press's approval minutes, only where the order asks for it."""
    press = shops.press(approval_min=12)
    assert _choice(shops.imprint(approval_at_press=True), press).set_up_extra_min == 12
    assert _choice(shops.imprint(), press).set_up_extra_min == 0


def test_a_stated_set_up_wins_over_a_remembered_one() -> None:
    """Typed on the order, else remembered with the design, else worked out."""
    record = DesignRecord(design_id="1 front", actual_set_up_min=40)
    stated = shops.imprint(stated_set_up_min=25)
    assert _choice(stated, shops.press(), designs=(record,)).stated_set_up_min == 25
    assert _choice(shops.imprint(), shops.press(), designs=(record,)).stated_set_up_min == 40
    assert _choice(shops.imprint(), shops.press()).stated_set_up_min is None


def test_inks_that_dry_are_rinsed_out_at_the_end() -> None:
    """Each drying ink's head costs its leave minutes, dark ones more; plastisol costs nothing here."""
    press = shops.press(set_up=SetUpMinutes(clean_light_min=4, clean_dark_min=9))
    mixed = shops.imprint(
        Ink(name="yellow", family="water-based"), Ink(name="navy", family="water-based"), Ink(name="red")
    )
    run = _week(mixed, press).runs[0]
    assert run.choices[0].wash_up_min == 4 + 9
    assert run.choices[0].work_min == run.choices[0].print_min + 13
    assert run.idle_ok_min == 20
    assert _week(shops.imprint(), press).runs[0].idle_ok_min is None


def test_the_ink_that_may_stand_least_holds_for_the_run() -> None:
    """Twenty minutes for one ink and five for another are five."""
    families = (
        InkFamily(name="water-based", tunnel_s=120, flash_s=9.0, idle_ok_min=20),
        InkFamily(name="discharge", tunnel_s=150, flash_s=9.0, idle_ok_min=5),
    )
    imprint = shops.imprint(Ink(name="blue", family="water-based"), Ink(name="sand", family="discharge"), "red")
    week = build_workload(shops.week_inputs(shops.shop(families=families), imprints=(imprint,))).week
    assert (week.runs[0].idle_ok_min, week.runs[0].cure_min) == (5, 3)


def test_cure_is_the_slowest_ink_rounded_up_to_minutes() -> None:
    """A minute for plastisol, three where a water-based ink is in it."""
    assert _week(shops.imprint(), shops.press()).runs[0].cure_min == 1
    assert _week(shops.imprint("red", Ink(name="blue", family="water-based")), shops.press()).runs[0].cure_min == 3


def test_flashes_are_taken_from_the_pool_a_press_shares() -> None:
    """White on dark takes one flash of the pool; a press with flashes of its own takes none of it."""
    white = shops.imprint("white")
    pool = FlashPool(pool_id="wheels", units=1)
    shop = shops.shop(shops.press("a", flash_pool="wheels"), shops.press("b"), flash_pools=(pool,))
    week = build_workload(shops.week_inputs(shop, imprints=(white,))).week
    assert {choice.press_id: choice.flash_units for choice in week.runs[0].choices} == {"a": 1, "b": 0}
    assert week.flash_pools == (pool,)
    assert [press.flash_pool for press in week.presses] == ["wheels", None]


@pytest.mark.parametrize(("units", "fits"), [(2, False), (3, True)])
def test_a_run_never_fits_a_press_whose_pool_is_too_small(units: int, fits: bool) -> None:
    """A base and two inks of two hits each need three flashes at once on an automatic."""
    imprint = shops.imprint(Ink(name="white", hits=2), Ink(name="silver", hits=2))
    pool = FlashPool(pool_id="wheels", units=units)
    shop = shops.shop(shops.press("a", flash_pool="wheels", flashes=5), flash_pools=(pool,))
    week = build_workload(shops.week_inputs(shop, imprints=(imprint,))).week
    assert bool(week.runs) is fits
    if not fits:
        assert "a shares 2 flashes on wheels" in week.not_planned[0].reasons[0]


@pytest.mark.parametrize(
    ("place", "cool_down", "takes"),
    [
        ("over a pallet", False, ()),
        ("over a pallet", True, ("cool-down",)),
        ("in a head", False, ("flash",)),
        ("in a head", True, ("flash", "cool-down")),
    ],
)
def test_the_week_says_what_takes_a_head_after_a_flash(place: str, cool_down: bool, takes: tuple[str, ...]) -> None:
    """A flash in a head, a cool-down head, both or nothing: one head each, told by name; none on a manual."""
    presses = (
        shops.press("a", flash_place=place, cool_down_head=cool_down),
        shops.manual("m", flash_place=place, cool_down_head=cool_down),
    )
    week = _week(shops.imprint("white"), *presses)
    assert {press.press_id: press.flash_takes for press in week.presses} == {"a": takes, "m": ()}
    needed = {choice.press_id: choice.heads_needed - len(choice.stack.heads) for choice in week.runs[0].choices}
    assert needed == {"a": len(takes), "m": 0}

"""Worked shop cases of set-ups that depend on the run before. All minutes are made up: shop settings, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.week import SetUpMinutes, Stack
from scheduler.trade.set_up import (
    base_minutes,
    implied_set_up_min,
    kept_extra_min,
    leave_minutes,
    live_inks,
    load_minutes,
    may_keep,
    pair_minutes,
    pair_set_up,
    returning_extra_min,
    returning_inks,
    set_up_minutes,
)
from tests.builders import choice, fixing, ink, stack

INKS = {
    one.ink_id: one
    for one in (
        ink("white"),
        ink("yellow"),
        ink("red", is_dark=True),
        ink("black", is_dark=True),
        ink("wet blue", is_dark=True, idle_ok_min=20),
    )
}
SHOP = SetUpMinutes(
    mount_min=100,
    load_min=20,
    card_min=10,
    clean_light_min=7,
    clean_dark_min=13,
    pallet_min=1000,
    flash_move_min=500,
    strike_off_min=3000,
)
"""Figures that tell every term apart in a sum."""
BARE = Stack()


def minutes_between(old: Stack, new: Stack, minutes: SetUpMinutes = SHOP) -> int:
    """Set-up minutes without any kept ink."""
    return set_up_minutes(pair_set_up(old, new, minutes, INKS), old, new, minutes, INKS)


def test_a_bare_press_takes_mounting_loading_and_a_strike_off() -> None:
    """On an empty press every screen is mounted, every head loaded, and one test print follows."""
    new = stack(("a1", "white"), ("a2", "red"))
    pair = pair_set_up(BARE, new, SHOP, INKS)
    assert (pair.mounts, pair.cards, pair.leaves) == (2, 0, ())
    assert pair.loads == (("red", 1), ("white", 1))
    assert minutes_between(BARE, new) == 2 * 100 + 2 * 20 + 3000


def test_the_same_set_again_takes_nothing() -> None:
    """The same screens with the same inks need no minute, the test print included."""
    new = stack(("a1", "white"), ("a2", "red"), flash_after=(0,), pallet="adult")
    assert minutes_between(new, new) == 0


def test_other_inks_in_the_same_set_take_no_mounting() -> None:
    """The same screens in other inks are cleaned, loaded and test printed, not mounted."""
    old = stack(("a1", "white"), ("a2", "red"))
    new = stack(("a1", "yellow"), ("a2", "black"))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert (pair.mounts, pair.cards) == (0, 0)
    assert minutes_between(old, new) == (7 + 13) + 2 * 20 + 3000


def test_the_light_lot_after_the_dark_lot_takes_nothing() -> None:
    """With the underbase switched off and its white left standing, the light lot of a dark design needs no minute."""
    dark = stack(("a:base", "white"), ("a1", "red"), ("a2", "black"), flash_after=(0,))
    light = stack(("a1", "red"), ("a2", "black"))
    pair = pair_set_up(dark, light, SHOP, INKS)
    assert pair.leaves == (("white", 1),)
    assert set_up_minutes(pair, dark, light, SHOP, INKS, kept_after=("white",)) == 0


def test_a_white_base_stays_where_the_next_design_starts_with_white() -> None:
    """White in the first head is carded over into the next design's base screen instead of cleaned and loaded."""
    old = stack(("a:base", "white"), ("a1", "red"), flash_after=(0,))
    new = stack(("b:base", "white"), ("b1", "black"), flash_after=(0,))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert pair.matched == ((0, 0),)
    assert (pair.cards, pair.leaves, pair.loads) == (1, (("red", 1),), (("black", 1),))
    assert minutes_between(old, new) == 2 * 100 + 10 + 13 + 20 + 3000


def test_crossing_inks_are_never_matched() -> None:
    """Two inks that swap places cannot both stay: heads keep their order; the dearer one to clean stays."""
    old = stack(("a1", "white"), ("a2", "red"))
    new = stack(("b1", "red"), ("b2", "white"))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert pair.matched == ((1, 0),)
    assert (pair.leaves, pair.loads, pair.cards) == ((("white", 1),), (("white", 1),), 1)


def test_a_screen_that_crosses_is_mounted_anew() -> None:
    """Screens of one set printed the other way round: one stays, the other is mounted again with its ink loaded."""
    old = stack(("a1", "white"), ("a2", "red"))
    new = stack(("a2", "red"), ("a1", "white"))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert pair.matched == ((1, 0),)
    assert (pair.mounts, pair.loads, pair.leaves) == (1, (("white", 1),), (("white", 1),))


def test_inks_that_dry_never_stay() -> None:
    """An ink that dries is rinsed out at its run's end: it costs nothing to leave and must be loaded again."""
    old = stack(("a1", "wet blue"))
    other_screen = stack(("b1", "wet blue"))
    assert live_inks(old, INKS) == frozenset()
    assert minutes_between(old, other_screen) == 100 + 20 + 3000
    assert minutes_between(old, old) == 20 + 3000, "the screen stays, the ink is loaded anew"
    assert pair_set_up(old, other_screen, SHOP, INKS).leaves == ()
    assert may_keep(old, stack(("b1", "white")), (), INKS) == frozenset()


def test_dark_inks_are_dearer_to_leave_than_light_ones() -> None:
    """Black before white costs more cleaning than white before black."""
    white, black = stack(("a1", "white")), stack(("b1", "black"))
    assert minutes_between(black, white) - minutes_between(white, black) == 13 - 7


def test_a_spare_squeegee_set_swaps_instead_of_cleaning() -> None:
    """With a spare squeegee and floodbar every ink leaves in the swap's minutes, dark or light."""
    spare = replace(SHOP, swap_min=4)
    white, black = stack(("a1", "white")), stack(("b1", "black"))
    assert minutes_between(black, white, spare) == minutes_between(white, black, spare) == 100 + 20 + 4 + 3000
    assert minutes_between(black, white, replace(SHOP, swap_min=0)) == 100 + 20 + 3000, "a swap may take no time"


def test_an_ink_is_not_carded_where_loading_afresh_is_cheaper() -> None:
    """Where carding costs more than cleaning out and loading, the heads are not paired; at equal cost they are."""
    old, new = stack(("a1", "white")), stack(("b1", "white"))
    dear = replace(SHOP, card_min=20 + 7 + 1)
    pair = pair_set_up(old, new, dear, INKS)
    assert (pair.matched, pair.cards, pair.loads, pair.leaves) == ((), 0, (("white", 1),), (("white", 1),))
    pair = pair_set_up(old, new, replace(SHOP, card_min=20 + 7), INKS)
    assert (pair.matched, pair.cards, pair.loads) == (((0, 0),), 1, ())


def test_a_screen_that_stays_wins_a_tie() -> None:
    """At equal minutes the pairing with more screens left in place is taken."""
    old = stack(("a1", "white"), ("a2", "red"))
    new = stack(("x1", "red"), ("a2", "white"))
    level = SetUpMinutes(mount_min=5, load_min=3, card_min=3, clean_light_min=0, clean_dark_min=5)
    # pairing red with red: 2 mounts, 1 card, 1 load = 16; pairing screen a2: 1 mount, 2 loads, red leaves = 16
    pair = pair_set_up(old, new, level, INKS)
    assert pair_minutes(pair, level, INKS) == 16
    assert pair.matched == ((1, 1),)


def test_the_earliest_head_wins_the_last_tie() -> None:
    """Of two heads with the same ink the first is carded over, so two planners get the same sheet."""
    old = stack(("a1", "white"), ("a2", "white"))
    assert pair_set_up(old, stack(("b1", "white")), SHOP, INKS).matched == ((0, 0),)
    assert pair_set_up(stack(("a1", "white")), stack(("b1", "white"), ("b2", "white")), SHOP, INKS).matched == ((0, 0),)


def test_pallets_are_changed_only_where_both_are_known_and_differ() -> None:
    """A pallet swap is charged between two named kinds, never where either run takes any pallet."""

    def pallet_min(before: str | None, after: str | None) -> int:
        return pair_set_up(Stack(pallet=before), Stack(pallet=after), SHOP, INKS).pallet_min

    assert pallet_min("adult", "youth") == 1000
    assert pallet_min("adult", "adult") == pallet_min(None, "youth") == pallet_min("adult", None) == 0
    assert pallet_min(None, None) == 0


def test_only_flashes_in_new_places_are_moved() -> None:
    """A flash is moved for each place that had none; a flash that is not wanted any more costs nothing."""
    assert pair_set_up(Stack(flash_after=(0, 2)), Stack(flash_after=(0, 3)), SHOP, INKS).flash_min == 500
    assert pair_set_up(Stack(flash_after=(0, 2)), Stack(flash_after=(0,)), SHOP, INKS).flash_min == 0
    assert pair_set_up(BARE, Stack(flash_after=(0, 1)), SHOP, INKS).flash_min == 1000


def test_fewer_screens_alone_need_no_strike_off() -> None:
    """Taking a screen off prints nothing new, so no test print is due; a pallet swap alone needs none either."""
    old = stack(("a1", "white"), ("a2", "red"), pallet="adult")
    new = stack(("a1", "white"), pallet="youth")
    pair = pair_set_up(old, new, SHOP, INKS)
    assert (pair.strike_off_min, pair.leaves) == (0, (("red", 1),))
    assert minutes_between(old, new) == 13 + 1000


def test_a_screen_mounted_with_its_ink_carded_over_is_test_printed() -> None:
    """A new screen needs a test print even where no ink is loaded at all."""
    pair = pair_set_up(stack(("a1", "white")), stack(("b1", "white")), SHOP, INKS)
    assert (pair.mounts, pair.cards, pair.loads, pair.leaves) == (1, 1, (), ())
    assert pair.strike_off_min == 3000


def test_the_minutes_are_the_sum_of_the_parts() -> None:
    """Base, leaves and loads are what the model adds up; together they are the set-up."""
    old = stack(("a1", "white"), ("a2", "red"))
    new = stack(("b1", "white"), ("b2", "black"), flash_after=(0,))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert base_minutes(pair, SHOP) == 2 * 100 + 10 + 500 + 3000
    assert leave_minutes(pair.leaves, SHOP, INKS) == 13
    assert load_minutes(pair.loads, SHOP) == 20
    assert pair_minutes(pair, SHOP, INKS) == minutes_between(old, new) == 3743


def test_inks_that_may_stay_beside_the_run() -> None:
    """An ink may stand by if the next run has no head for it and its screens make way."""
    old = stack(("a1", "white"), ("a2", "red"))
    assert may_keep(old, stack(("b1", "black")), (), INKS) == {"white", "red"}
    assert may_keep(old, stack(("b1", "white")), (), INKS) == {"red"}, "an ink in use does not stand by"
    assert may_keep(old, stack(("a2", "black")), (), INKS) == {"white"}, "its screen prints black now"
    assert may_keep(old, stack(("b1", "black")), ("yellow",), INKS) == {"white", "red", "yellow"}
    assert may_keep(old, stack(("b1", "yellow")), ("yellow", "wet blue"), INKS) == {"white", "red"}


def test_one_head_in_the_way_is_enough_to_forbid_keeping() -> None:
    """An ink in two heads may not stay if either of its screens is printed with again."""
    old = stack(("a1", "white"), ("a2", "white"))
    assert may_keep(old, stack(("a2", "black"), ("c1", "red")), (), INKS) == frozenset()
    assert may_keep(old, stack(("c1", "red")), (), INKS) == {"white"}


def test_a_kept_ink_is_not_cleaned_until_it_goes() -> None:
    """White kept over a black run costs nothing then, and its cleaning when it is given up."""
    white, black, red = stack(("a1", "white")), stack(("b1", "black")), stack(("c1", "red"))
    first = pair_set_up(white, black, SHOP, INKS)
    assert set_up_minutes(first, white, black, SHOP, INKS, (), ("white",)) == 100 + 20 + 3000
    then = pair_set_up(black, red, SHOP, INKS)
    with_white = 100 + 20 + 13 + 3000
    assert set_up_minutes(then, black, red, SHOP, INKS, ("white",), ("white",)) == with_white
    assert set_up_minutes(then, black, red, SHOP, INKS, ("white",), ()) == with_white + 7
    assert kept_extra_min(red, SHOP, INKS, ("white",), ("white", "black")) == -13


def test_an_ink_in_two_heads_is_kept_in_one() -> None:
    """Keeping saves one head's cleaning: the second head of the same ink leaves all the same."""
    old, new = stack(("a1", "white"), ("a2", "white")), stack(("b1", "black"))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert pair.leaves == (("white", 2),)
    assert set_up_minutes(pair, old, new, SHOP, INKS, (), ("white",)) == 100 + 20 + 7 + 3000


def test_a_returning_ink_is_carded_not_loaded() -> None:
    """White that stood by is carded into the next white screen: a card instead of a load, and nothing leaves."""
    black, white = stack(("b1", "black")), stack(("c1", "white"), ("c2", "white"))
    pair = pair_set_up(black, white, SHOP, INKS)
    assert returning_inks(white, ("white", "red")) == {"white"}
    assert returning_extra_min(SHOP) == 10 - 20
    both_mounted_one_loaded = 2 * 100 + 20 + 10 + 13 + 3000
    assert set_up_minutes(pair, black, white, SHOP, INKS, ("white",), ()) == both_mounted_one_loaded


def test_the_strike_off_stays_when_kept_inks_save_the_only_load() -> None:
    """The test print is due by what the pairing loads, even if the only loaded ink comes back from standing by."""
    old, new = stack(("a1", "black")), stack(("a1", "white"))
    pair = pair_set_up(old, new, SHOP, INKS)
    assert pair.mounts == 0
    assert set_up_minutes(pair, old, new, SHOP, INKS, ("white",), ()) == 10 + 13 + 3000


@pytest.mark.parametrize("wrong", ["white", "wet blue", "violet"])
def test_keeping_what_may_not_be_kept_is_refused(wrong: str) -> None:
    """An ink in use, one that dries and one that never stood there cannot be kept; the error names it."""
    old, new = stack(("a1", "red"), ("a2", "wet blue")), stack(("b1", "white"))
    pair = pair_set_up(old, new, SHOP, INKS)
    with pytest.raises(ValueError, match=f"may not stay on the press beside the run: {wrong}$"):
        set_up_minutes(pair, old, new, SHOP, INKS, (), ("red", wrong))
    with pytest.raises(ValueError, match=wrong):
        implied_set_up_min(choice(on=new), old, SHOP, INKS, (), (wrong,))


def test_client_approval_is_added_to_the_set_up() -> None:
    """Minutes for the client's approval at the press come on top, also where nothing else is done."""
    same = stack(("a1", "white"))
    pair = pair_set_up(same, same, SHOP, INKS)
    assert set_up_minutes(pair, same, same, SHOP, INKS, extra_min=15) == 15


def test_a_stated_set_up_wins_over_the_arithmetic() -> None:
    """The shop's own set-up minutes hold whatever stood on the press; approval still comes on top."""
    same = stack(("a1", "white"))
    stated = choice(on=same, stated_set_up_min=25, set_up_extra_min=15)
    assert implied_set_up_min(stated, same, SHOP, INKS) == 40
    assert implied_set_up_min(stated, BARE, SHOP, INKS) == 40
    assert implied_set_up_min(choice(on=same, stated_set_up_min=0), BARE, SHOP, INKS) == 0


def test_a_started_run_takes_what_is_left() -> None:
    """A started run's set-up is what the shop says is left of it, nothing if it says nothing."""
    started = choice(on=stack(("a1", "white")), stated_set_up_min=25, set_up_extra_min=15)
    assert implied_set_up_min(started, BARE, SHOP, INKS, fixing=fixing("r1", "started", left=6)) == 6
    assert implied_set_up_min(started, BARE, SHOP, INKS, fixing=fixing("r1", "started")) == 0
    assert implied_set_up_min(started, BARE, SHOP, INKS, fixing=fixing("r1", "locked")) == 40


def test_the_implied_set_up_is_the_pairing_with_kept_inks() -> None:
    """Where nothing is stated the set-up is the cheapest pairing, kept inks and approval counted."""
    old, new = stack(("a1", "white")), stack(("b1", "black"))
    offer = choice(on=new, set_up_extra_min=15)
    assert implied_set_up_min(offer, old, SHOP, INKS, (), ("white",)) == 100 + 20 + 3000 + 15
    assert implied_set_up_min(offer, old, SHOP, INKS) == 100 + 20 + 7 + 3000 + 15

"""The decoder at the presses: one run at a time, set-ups after what stands there, kept inks, stops, belts."""

from dataclasses import replace

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.week import SetUpMinutes, Week
from tests.builders import (
    choice,
    every_day,
    fixing,
    flash_pool,
    floor_line,
    hours,
    ink,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.search.decoding import decoded, plan, print_times, refusal

MINUTES = SetUpMinutes(
    mount_min=10,
    load_min=4,
    card_min=1,
    clean_light_min=3,
    clean_dark_min=9,
    pallet_min=6,
    flash_move_min=2,
    strike_off_min=5,
)
SHOP = {"screen_room": screen_room(), "sets": [screen_set(f"s{i}", is_burned_now=True) for i in (1, 2, 3)]}


def test_runs_follow_each_other_in_the_order_given() -> None:
    """A press prints one run after the other without a gap, in the genome's order."""
    one = week(runs=[run("r1"), run("r2")])
    assert print_times(plan(one, "r2", "r1")) == {"r2": (0, 60), "r1": (60, 120)}


def test_the_decoder_picks_the_press_where_a_run_ends_first() -> None:
    """A slower press is taken once the faster one is busy long enough."""
    offers = [choice("P1", print_min=60), choice("P2", print_min=100)]
    one = week(runs=[run(f"r{i}", choices=offers) for i in (1, 2)], presses=[press_line("P1"), press_line("P2")])
    assert [found.press_id for found in plan(one).runs] == ["P1", "P2"]
    assert [found.press_id for found in plan(one, press=("P2", "P2")).runs] == ["P2", "P2"]


def test_of_two_equal_ends_the_preferred_press_wins() -> None:
    """A press the order prefers is taken if the run ends there no later."""
    offers = [choice("P1"), choice("P2")]
    liked = [offers[0], replace(offers[1], is_preferred=True)]
    presses = [press_line("P1"), press_line("P2")]
    assert plan(week(runs=[run(choices=offers)], presses=presses)).run["r1"].press_id == "P1"
    assert plan(week(runs=[run(choices=liked)], presses=presses)).run["r1"].press_id == "P2"


@pytest.mark.parametrize(("heads", "fits"), [(6, True), (7, False)])
def test_a_run_needs_its_heads(heads: int, fits: bool) -> None:
    """A run that needs more heads than the press has goes nowhere."""
    one = week(runs=[run(choices=[choice(heads_needed=heads)])])
    if fits:
        assert plan(one).run["r1"].press_id == "P1"
    else:
        assert refusal(one).run_ids == ("r1",)


def two_designs(**more: object) -> Week:
    """Two one-colour designs on one press: white, then red."""
    runs = [
        run("r1", set_id="s1", choices=[choice(on=stack(("s1.1", "white"), set_id="s1"))]),
        run("r2", set_id="s2", choices=[choice(on=stack(("s2.1", "red"), set_id="s2"))]),
    ]
    inks = (ink("white"), ink("red", is_dark=True))
    press = press_line(set_up=MINUTES, set_up_cents_per_min=10, **more)
    return week(runs=runs, presses=[press], inks=inks, **SHOP)


def test_set_up_follows_the_run_before() -> None:
    """Mount, load and test print; the ink before stays on a free head, so nothing is cleaned."""
    found = decoded(two_designs())
    assert [r.set_up_min for r in found.plan.runs] == [19, 19]
    assert found.plan.run["r2"].kept_inks == ("white",)
    assert found.terms["set_up"] == 380


def test_without_a_free_head_the_ink_before_is_cleaned() -> None:
    """One head only: white must leave before red comes."""
    found = plan(two_designs(head_count=1))
    assert [r.set_up_min for r in found.runs] == [19, 22]
    assert found.run["r2"].kept_inks == ()
    assert plan(two_designs(head_count=1), "r2", "r1").run["r1"].set_up_min == 28


def test_a_kept_ink_comes_back_for_a_card() -> None:
    """White, red, white again: the third run cards the white over instead of loading it."""
    one = two_designs()
    third = run("r3", set_id="s3", choices=[choice(on=stack(("s3.1", "white"), set_id="s3"))])
    made = plan(week(runs=[*one.runs, third], presses=one.presses, inks=one.inks, **SHOP))
    assert [r.set_up_min for r in made.runs] == [19, 19, 16]
    assert made.run["r3"].kept_inks == ("red",)


def test_where_room_is_short_the_ink_wanted_later_stays() -> None:
    """One spare head for two inks: the one a later run prints with is kept although it is cheaper to clean."""
    runs = [
        run("r1", set_id="s1", choices=[choice(on=stack(("s1.1", "white"), ("s1.2", "red"), set_id="s1"))]),
        run("r2", set_id="s2", choices=[choice(on=stack(("s2.1", "blue"), set_id="s2"))]),
        run("r3", set_id="s3", choices=[choice(on=stack(("s3.1", "white"), set_id="s3"))]),
    ]
    inks = (ink("white"), ink("red", is_dark=True), ink("blue"))
    press = press_line(set_up=MINUTES, head_count=2)
    assert plan(week(runs=runs, presses=[press], inks=inks, **SHOP)).run["r2"].kept_inks == ("white",)
    assert plan(week(runs=runs[:2], presses=[press], inks=inks, **SHOP)).run["r2"].kept_inks == ("red",)


def test_an_ink_that_dries_is_never_kept() -> None:
    """Water-based ink is rinsed out at the end of its run."""
    one = two_designs()
    inks = (ink("white", idle_ok_min=30), ink("red", is_dark=True))
    runs = [one.runs[0], one.runs[1]]
    made = plan(week(runs=runs, presses=one.presses, inks=inks, **SHOP))
    assert made.run["r2"].kept_inks == ()


def test_a_stated_set_up_wins() -> None:
    """Stated minutes and approval are all there is, whatever stood there before."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"), stated_set_up_min=7, set_up_extra_min=4)]
    one = week(runs=[run(set_id="s1", choices=offers)], presses=[press_line(set_up=MINUTES)], **SHOP)
    assert plan(one).run["r1"].set_up_min == 11


def test_a_set_up_may_pause_and_the_print_starts_when_the_press_opens() -> None:
    """A set-up that ends at closing time is followed by a print at the next opening, without any restart."""
    offers = [choice(print_min=30, stated_set_up_min=60)]
    press = press_line(calendar=hours((0, 60), (100, 400)), restart=Restart(break_min=5))
    made = plan(week(runs=[run(choices=offers)], presses=[press])).run["r1"]
    assert (made.set_up_end_tau, made.print_start_tau, made.print_end_tau) == (60, 100, 130)


@pytest.mark.parametrize(("work_min", "end_tau"), [(60, 60), (61, 106)])
def test_a_print_pays_for_going_on_after_a_stop(work_min: int, end_tau: int) -> None:
    """One minute after the break costs that minute and five of restart."""
    press = press_line(calendar=hours((0, 60), (100, 400)), restart=Restart(break_min=5))
    assert (
        plan(week(runs=[run(choices=[choice(print_min=work_min)])], presses=[press])).run["r1"].print_end_tau == end_tau
    )


@pytest.mark.parametrize(("idle_ok_min", "start_tau"), [(40, 50), (39, 100)])
def test_ink_may_not_stand_longer_than_it_may(idle_ok_min: int, start_tau: int) -> None:
    """A break as long as the ink may stand falls between set-up and print, a longer one is waited for."""
    press = press_line(calendar=hours((0, 60), (100, 400)))
    one = week(
        runs=[run(choices=[choice(stated_set_up_min=10)], idle_ok_min=idle_ok_min, blanks_tau=50)], presses=[press]
    )
    assert plan(one).run["r1"].set_up_start_tau == start_tau


@pytest.mark.parametrize(
    ("idle_ok_min", "from_tau", "start_tau", "end_tau", "rinse_min"),
    [
        (40, 20, 20, 157, 0),  # the break is short: only the restart
        (39, 20, 20, 168, 11),  # rinsed out before the break, inked after it
        (39, 46, 46, 194, 11),  # a minute sooner than if it started after the break
        (39, 47, 100, 195, 0),  # no sooner
    ],
)
def test_a_long_stop_is_rinsed_for(
    idle_ok_min: int, from_tau: int, start_tau: int, end_tau: int, rinse_min: int
) -> None:
    """Ink that dries is rinsed out before a stop it may not stand and loaded after it; a later start must be worse."""
    press = press_line(
        calendar=hours((0, 60), (100, 400)), restart=Restart(break_min=2, night_min=2), set_up_cents_per_min=5
    )
    on = choice(print_min=83, wash_up_min=2, re_ink_min=9, stated_set_up_min=10)
    one = week(runs=[run(choices=[on], idle_ok_min=idle_ok_min, blanks_tau=from_tau)], presses=[press])
    found = decoded(one)
    planned = found.plan.run["r1"]
    assert (planned.set_up_start_tau, planned.print_end_tau) == (start_tau, end_tau)
    assert found.terms["set_up"] == 5 * (10 + 2 + rinse_min)


@pytest.mark.parametrize(("print_min", "mixing_min"), [(60, 0), (61, 9), (120, 9), (121, 18)])
def test_further_batches_take_their_minutes(print_min: int, mixing_min: int) -> None:
    """A print that needs more than a pot life is longer by the minutes to mix again, and costs no more for it."""
    on = choice(print_min=print_min, mixing_min=mixing_min)
    found = decoded(week(runs=[run(choices=[on], pot_life_min=60, remix_min=9)]))
    one = found.plan.run["r1"]
    assert one.print_end_tau - one.print_start_tau == print_min + mixing_min
    assert found.terms["set_up"] == 0


@pytest.mark.parametrize(("at", "stands"), [(43, True), (44, False)])
def test_a_locked_run_needs_time_to_rinse_out(at: int, stands: bool) -> None:
    """Locked ten minutes of set-up and seven of rinsing before a long break it stands there, a minute later not."""
    press = press_line(calendar=hours((0, 60), (100, 400)))
    on = choice(print_min=83, wash_up_min=7, stated_set_up_min=10)
    locked = [fixing("r1", press_id="P1", at=at)]
    one = week(runs=[run(choices=[on], idle_ok_min=39)], presses=[press], fixings=locked)
    if stands:
        assert print_times(plan(one)) == {"r1": (53, 190)}
    else:
        assert refusal(one).run_ids == ("r1",)


def test_no_run_is_refused_for_its_length() -> None:
    """A print of three days is rinsed out for each night and each lunch between."""
    press = press_line(calendar=every_day(breaks=[(240, 60)]))
    on = choice(print_min=1400, wash_up_min=10, re_ink_min=5)
    planned = plan(week(runs=[run(choices=[on], idle_ok_min=20)], presses=[press])).run["r1"]
    assert planned.print_end_tau == 3 * 540 + (1400 + 10 + 6 * 15) - 6 * 240


@pytest.mark.parametrize(("permille", "start_tau"), [(400, 0), (401, 60)])
def test_runs_on_one_belt_share_it(permille: int, start_tau: int) -> None:
    """Two presses print at once as long as the belt holds both."""
    runs = [
        run("r1", choices=[choice("P1", belt_permille=600)]),
        run("r2", choices=[choice("P2", belt_permille=permille)]),
    ]
    presses = [press_line("P1", dryer_id="D"), press_line("P2", dryer_id="D")]
    assert plan(week(runs=runs, presses=presses)).run["r2"].print_start_tau == start_tau


def test_the_belt_is_free_while_a_run_pauses() -> None:
    """During the other press's break its share of the belt is there for the asking."""
    runs = [
        run("r1", choices=[choice("P1", print_min=100, belt_permille=600)]),
        run("r2", choices=[choice("P2", print_min=40, belt_permille=600)]),
    ]
    presses = [press_line("P1", dryer_id="D", calendar=hours((0, 60), (100, 400))), press_line("P2", dryer_id="D")]
    assert print_times(plan(week(runs=runs, presses=presses)))["r2"] == (60, 100)


def test_the_cart_is_staged_before_the_set_up() -> None:
    """Staging starts with the garments and takes its minutes; the set-up follows."""
    one = week(runs=[run(blanks_tau=30)], staging=floor_line(minutes=15))
    made = plan(one).run["r1"]
    assert (made.stage_start_tau, made.stage_end_tau, made.set_up_start_tau) == (30, 45, 45)
    made = plan(week(runs=[run(blanks_tau=30)])).run["r1"]
    assert (made.stage_start_tau, made.set_up_start_tau) == (30, 30)


def test_a_week_that_is_too_short_has_no_plan() -> None:
    """A run that fits no press's hours is told by name."""
    one = week(
        runs=[run("r1"), run("r2", choices=[choice(print_min=301)])], presses=[press_line(calendar=hours((0, 360)))]
    )
    found = refusal(one)
    assert found.run_ids == ("r2",)
    assert found.reason == "no press has room for it in time"
    fits = week(
        runs=[run("r1"), run("r2", choices=[choice(print_min=300)])], presses=[press_line(calendar=hours((0, 360)))]
    )
    assert plan(fits).run["r2"].print_end_tau == 360


def test_a_press_closed_all_week_prints_nothing() -> None:
    """Two presses, one open: everything goes there."""
    offers = [choice("P1", print_min=10), choice("P2", print_min=60)]
    presses = [press_line("P1", calendar=hours((0, 5))), press_line("P2", calendar=every_day())]
    assert plan(week(runs=[run(choices=offers)], presses=presses)).run["r1"].press_id == "P2"


@pytest.mark.parametrize(("units", "starts"), [(1, 150), (2, 0)])
def test_a_flash_on_wheels_is_waited_for(units: int, starts: int) -> None:
    """With one flash the second press waits until the first is through, its break included; with two it does not."""
    presses = [
        press_line("P1", flash_pool="wheels", calendar=every_day(breaks=[(60, 60)])),
        press_line("P2", flash_pool="wheels"),
    ]
    runs = [
        run("r1", choices=[choice("P1", print_min=90, flash_units=1)]),
        run("r2", choices=[choice("P2", flash_units=1)]),
    ]
    one = week(runs=runs, presses=presses, flash_pools=[flash_pool(units)])
    assert print_times(plan(one)) == {"r1": (0, 150), "r2": (starts, starts + 60)}


def test_a_flash_on_wheels_is_free_before_a_fixed_run_takes_it() -> None:
    """A run that fits before a locked one on the other press goes there, a longer one after it."""
    presses = [press_line("P1", flash_pool="wheels"), press_line("P2", flash_pool="wheels")]
    for print_min, starts in ((100, 0), (101, 160)):
        runs = [
            run("r1", choices=[choice("P1", flash_units=1)]),
            run("r2", choices=[choice("P2", print_min=print_min, flash_units=1)]),
        ]
        locked = [fixing("r1", press_id="P1", at=100)]
        one = week(runs=runs, presses=presses, flash_pools=[flash_pool()], fixings=locked)
        assert print_times(plan(one))["r2"][0] == starts


def test_more_flashes_than_the_pool_has_are_not_to_be_had() -> None:
    """A run of two flashes in a shop with one finds no press."""
    one = week(
        runs=[run(choices=[choice(flash_units=2)])],
        presses=[press_line(flash_pool="wheels")],
        flash_pools=[flash_pool()],
    )
    assert refusal(one).run_ids == ("r1",)

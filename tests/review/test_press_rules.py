"""Press rules, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.week import Week
from scheduler.review.press_rules import (
    belt_is_shared,
    fits_its_press,
    flash_units_suffice,
    ink_may_not_stand,
    one_run_at_a_time,
    print_follows_set_up,
    print_takes_its_time,
    rinsed_before_long_stops,
    staged_before_set_up,
)
from tests import builders as b
from tests.review.asserting import broken, kept


def test_a_run_may_be_set_up_the_minute_the_one_before_is_printed() -> None:
    """Two runs on a press may touch and may not overlap by a minute."""
    week = b.week(runs=[b.run("r1"), b.run("r2")])
    first = b.planned_run("r1", at=0, set_up=10, printing=60)
    kept(one_run_at_a_time, week, b.plan(first, b.planned_run("r2", at=70)))
    found = broken(one_run_at_a_time, week, b.plan(first, b.planned_run("r2", at=69)))
    assert found.message == ("P1 holds or1 front until Mon 2 Mar 09:10, but or2 front is set up from Mon 2 Mar 09:09")
    assert (found.run_id, found.press_id, found.at_tau) == ("r2", "P1", 69)


def test_runs_on_two_presses_do_not_meet() -> None:
    """What overlaps on two presses overlaps on none."""
    week = b.week(runs=[b.run("r1"), b.run("r2")], presses=[b.press_line("P1"), b.press_line("P2")])
    kept(one_run_at_a_time, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2")))


def test_a_run_set_up_inside_a_long_one_is_seen_past_a_short_one() -> None:
    """Every pair on a press is looked at, not only neighbours in the queue."""
    week = b.week(runs=[b.run("r1"), b.run("r2"), b.run("r3")])
    runs = [
        b.planned_run("r1", at=0, printing=300),
        b.planned_run("r2", at=10, printing=5),
        b.planned_run("r3", at=100, printing=60),
    ]
    told = {(one.run_id, one.at_tau) for one in one_run_at_a_time(week, b.plan(*runs))}
    assert told == {("r2", 10), ("r3", 100)}


def test_staging_takes_its_minutes_before_set_up() -> None:
    """Staging is worked in full and over when set-up starts, to the minute."""
    week = b.week(staging=b.floor_line(minutes=20))
    kept(staged_before_set_up, week, b.plan(b.planned_run(at=20, stage=(0, 20))))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=20, stage=(0, 19))))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=20, stage=(0, 21))))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=19, stage=(0, 20))))


def test_staging_pauses_over_closed_minutes() -> None:
    """A break of the staging crew does not count as staging."""
    week = b.week(staging=b.floor_line(minutes=20, calendar=b.every_day(breaks=[(60, 30)])))
    kept(staged_before_set_up, week, b.plan(b.planned_run(at=100, stage=(50, 100))))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=100, stage=(50, 70))))


def test_a_cart_is_staged_with_taped_screens() -> None:
    """Staging starts no earlier than the run's own screens are taped."""
    week = b.week(
        runs=[b.run(set_id="s1")], sets=[b.screen_set()], screen_room=b.screen_room(), staging=b.floor_line(minutes=20)
    )
    burn = b.planned_burn(0, burn=30, dry=60, tape=10)
    kept(staged_before_set_up, week, b.plan(b.planned_run(at=130, stage=(100, 120), burn=burn)))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=130, stage=(99, 119), burn=burn)))


def test_nothing_is_staged_where_no_staging_is_needed() -> None:
    """Without staging, or for a started run, staging is the point at which set-up starts."""
    kept(staged_before_set_up, b.week(), b.plan(b.planned_run(at=30)))
    broken(staged_before_set_up, b.week(), b.plan(b.planned_run(at=30, stage=(10, 30))))
    started = b.fixing(kind="started", press_id="P1", at=0, left=0)
    week = b.week(staging=b.floor_line(minutes=20), fixings=[started])
    kept(staged_before_set_up, week, b.plan(b.planned_run(at=0)))
    broken(staged_before_set_up, week, b.plan(b.planned_run(at=0, stage=(-20, 0))))


def test_a_run_needs_a_head_for_each_of_its_own_and_each_kept_ink() -> None:
    """Heads needed and inks kept fill the press to the last head, not beyond."""
    week = b.week(runs=[b.run(choices=[b.choice(heads_needed=4)])], presses=[b.press_line(head_count=6)])
    kept(fits_its_press, week, b.plan(b.planned_run(kept_inks=("red", "blue"))))
    found = broken(fits_its_press, week, b.plan(b.planned_run(kept_inks=("red", "blue", "gold"))))
    assert found.message == "or1 front with 3 inks kept needs 7 heads, P1 has 6"


def test_a_run_stays_off_presses_it_does_not_fit() -> None:
    """A press that is no choice of the run, or none of the shop's, is refused."""
    week = b.week(presses=[b.press_line("P1"), b.press_line("P2")])
    kept(fits_its_press, week, b.plan(b.planned_run(press_id="P1")))
    broken(fits_its_press, week, b.plan(b.planned_run(press_id="P2")))
    broken(fits_its_press, week, b.plan(b.planned_run(press_id="no such press")))


def test_a_print_takes_its_minutes_and_rinsing_out() -> None:
    """The press works print and rinsing minutes, neither one less nor one more."""
    week = b.week(runs=[b.run(choices=[b.choice(print_min=60, wash_up_min=5)])])
    kept(print_takes_its_time, week, b.plan(b.planned_run(printing=65)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(printing=64)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(printing=66)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(printing=-65)))


def test_a_stop_costs_its_restart_minutes_once_work_goes_on_after_it() -> None:
    """A break inside a print costs break minutes, a night night minutes; a stop at its end or start costs none."""
    press = b.press_line(calendar=b.every_day(breaks=[(240, 30)]), restart=Restart(break_min=4, night_min=9))
    week = b.week(presses=[press])
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=180, printing=60)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=181, printing=60 + 30 + 4)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(at=181, printing=60 + 30)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60 + 9)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60 + 4)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=540, printing=60)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=480, printing=60)))


def test_bought_overtime_turns_a_stop_into_working_minutes() -> None:
    """An evening counts as open, and as no stop, once it is bought."""
    axis = b.clock(day_min=600)
    press = b.press_line(
        calendar=b.hours((0, 540), (540, 600, "late Mon"), (600, 1140), on=axis), restart=Restart(night_min=9)
    )
    week = b.week(presses=[press], clock=axis, overtime=[b.overtime(start=540, end=600)])
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60), overtime=["late Mon"]))
    broken(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60 + 60 + 9)))


def test_printing_starts_in_the_first_open_minute_after_set_up() -> None:
    """Neither a minute of waiting nor a start in a break is allowed between set-up and print."""
    week = b.week(presses=[b.press_line(calendar=b.every_day(breaks=[(240, 30)]))])
    early = b.planned_run(at=0, set_up=10)
    kept(print_follows_set_up, week, b.plan(early))
    broken(print_follows_set_up, week, b.plan(replace(early, print_start_tau=11)))
    before_break = b.planned_run(at=230, set_up=10)
    broken(print_follows_set_up, week, b.plan(before_break))
    kept(print_follows_set_up, week, b.plan(replace(before_break, print_start_tau=270)))


def test_there_must_be_an_open_minute_to_print_in() -> None:
    """A set-up that ends with the week's last open minute leaves nothing to print in."""
    found = broken(print_follows_set_up, b.week(), b.plan(b.planned_run(at=2690, set_up=10)))
    assert "there is no open minute after it" in found.message


def test_ink_that_dries_stands_no_longer_than_it_may() -> None:
    """A stop of exactly the allowed minutes is fine; a minute more, between first mounting and first piece, is not."""
    week = b.week(
        runs=[b.run(idle_ok_min=30)], presses=[b.press_line(calendar=b.every_day(breaks=[(200, 30), (400, 31)]))]
    )
    kept(ink_may_not_stand, week, b.plan(b.planned_run(at=180, set_up=52, printing=60)))
    broken(ink_may_not_stand, week, b.plan(b.planned_run(at=380, set_up=52, printing=20)))
    broken(ink_may_not_stand, week, b.plan(b.planned_run(at=399, set_up=32, printing=20)))
    kept(ink_may_not_stand, week, b.plan(b.planned_run(at=398, set_up=1, printing=100)))
    kept(ink_may_not_stand, week, b.plan(b.planned_run(at=431, set_up=10, printing=60)))
    kept(ink_may_not_stand, week, b.plan(b.planned_run(at=540, printing=60)))


def test_inks_that_dry_are_rinsed_out_and_loaded_again_for_a_long_stop() -> None:
    """A stop a minute longer than the ink may stand costs rinsing and inking beside the restart, a shorter one none."""
    on = b.choice(print_min=60, wash_up_min=7, re_ink_min=4)
    press = b.press_line(calendar=b.every_day(breaks=[(200, 30), (400, 31)]), restart=Restart(break_min=2))
    week = b.week(runs=[b.run(idle_ok_min=30, choices=[on])], presses=[press])
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=180, printing=60 + 7 + 30 + 2)))
    kept(print_takes_its_time, week, b.plan(b.planned_run(at=380, printing=60 + 7 + 31 + 2 + 7 + 4)))
    broken(print_takes_its_time, week, b.plan(b.planned_run(at=380, printing=60 + 7 + 31 + 2)))


@pytest.mark.parametrize(("print_min", "further"), [(90, 0), (91, 1), (180, 1), (181, 2)])
def test_ink_that_goes_off_is_mixed_anew(print_min: int, further: int) -> None:
    """A print of exactly a pot life has one batch, a minute more a second; the minutes are counted from the pot life,
    whatever the choice claims to take.
    """
    for claimed_min in (further * 7, 0, 7, 21):
        on = b.choice(print_min=print_min, mixing_min=claimed_min)
        week = b.week(runs=[b.run(pot_life_min=90, remix_min=7, choices=[on])])
        kept(print_takes_its_time, week, b.plan(b.planned_run(at=20, printing=print_min + further * 7)))
        for wrong_min in (-1, 1, 7, -7):
            broken(
                print_takes_its_time,
                week,
                b.plan(b.planned_run(at=20, printing=print_min + further * 7 + wrong_min)),
            )
    never = b.week(runs=[b.run(remix_min=7, choices=[b.choice(print_min=print_min)])])
    kept(print_takes_its_time, never, b.plan(b.planned_run(at=20, printing=print_min)))


def test_there_is_time_to_rinse_out_before_a_long_stop() -> None:
    """Seven minutes are enough to rinse in, six are not; only those in the window before the stop count."""
    on = b.choice(print_min=60, wash_up_min=7, re_ink_min=4)
    press = b.press_line(calendar=b.every_day(breaks=[(200, 31), (237, 31), (400, 31)]))
    week = b.week(runs=[b.run(idle_ok_min=30, choices=[on])], presses=[press])
    kept(rinsed_before_long_stops, week, b.plan(b.planned_run(at=393, printing=120)))
    found = broken(rinsed_before_long_stops, week, b.plan(b.planned_run(at=394, printing=120)))
    assert found.message == (
        "or1 front has 6 min on P1 before the stop at Mon 2 Mar 14:40; rinsing its inks out takes 7"
    )
    broken(rinsed_before_long_stops, week, b.plan(b.planned_run(at=150, printing=200)))
    may_stand = replace(week, runs=(b.run(idle_ok_min=31, choices=[on]),))
    kept(rinsed_before_long_stops, may_stand, b.plan(b.planned_run(at=150, printing=200)))


def test_ink_that_does_not_dry_stands_over_night() -> None:
    """A plastisol print may span any stop."""
    kept(ink_may_not_stand, b.week(), b.plan(b.planned_run(at=500, printing=100)))


def test_two_presses_fill_a_belt_and_no_more() -> None:
    """Shares of one belt may add up to all of it, never to more, at any minute both print."""

    def week_with(permille: int) -> Week:
        return b.week(
            runs=[
                b.run("r1", choices=[b.choice("P1", belt_permille=600)]),
                b.run("r2", choices=[b.choice("P2", belt_permille=permille)]),
            ],
            presses=[b.press_line("P1", dryer_id="D"), b.press_line("P2", dryer_id="D")],
        )

    both = b.plan(b.planned_run("r1", at=0), b.planned_run("r2", press_id="P2", at=30))
    kept(belt_is_shared, week_with(400), both)
    found = broken(belt_is_shared, week_with(401), both)
    assert found.message == ("the belt of dryer D is filled to 100.1 % from Mon 2 Mar 08:30 by or1 front, or2 front")
    apart = b.plan(b.planned_run("r1", at=0), b.planned_run("r2", press_id="P2", at=60))
    kept(belt_is_shared, week_with(1000), apart)


def test_set_up_and_pauses_leave_the_belt_free() -> None:
    """Only minutes in which a run prints use the belt."""
    runs = [
        b.run("r1", choices=[b.choice("P1", belt_permille=1000)]),
        b.run("r2", choices=[b.choice("P2", print_min=30, belt_permille=1000)]),
    ]
    presses = [
        b.press_line("P1", dryer_id="D", calendar=b.every_day(breaks=[(240, 30)])),
        b.press_line("P2", dryer_id="D"),
    ]
    week = b.week(runs=runs, presses=presses)
    paused = b.planned_run("r1", at=210, printing=90)
    kept(belt_is_shared, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=240, printing=30)))
    kept(belt_is_shared, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=210, set_up=30, printing=30)))
    broken(belt_is_shared, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=241, printing=30)))


def test_presses_with_belts_of_their_own_do_not_share() -> None:
    """Belts are counted dryer by dryer."""
    runs = [
        b.run("r1", choices=[b.choice("P1", belt_permille=900)]),
        b.run("r2", choices=[b.choice("P2", belt_permille=900)]),
    ]
    week = b.week(runs=runs, presses=[b.press_line("P1", dryer_id="D1"), b.press_line("P2", dryer_id="D2")])
    kept(belt_is_shared, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2")))
    without = replace(week, presses=(b.press_line("P1"), b.press_line("P2")))
    kept(belt_is_shared, without, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2")))


def test_flashes_on_wheels_stand_on_one_press_at_a_time() -> None:
    """Two presses take all units of a pool together, not one more; from the last piece of one on the other has them."""
    presses = [b.press_line("P1", flash_pool="wheels"), b.press_line("P2", flash_pool="wheels")]
    runs = [
        b.run("r1", choices=[b.choice("P1", flash_units=1)]),
        b.run("r2", choices=[b.choice("P2", flash_units=2)]),
    ]
    both = b.plan(b.planned_run("r1", set_up=10), b.planned_run("r2", press_id="P2", at=69))
    kept(flash_units_suffice, b.week(runs=runs, presses=presses, flash_pools=[b.flash_pool(3)]), both)
    short = b.week(runs=runs, presses=presses, flash_pools=[b.flash_pool(2)])
    found = broken(flash_units_suffice, short, both)
    assert (
        found.message == "3 flashes of wheels stand at once from Mon 2 Mar 09:09 for or1 front, or2 front; there are 2"
    )
    kept(flash_units_suffice, short, b.plan(both.runs[0], b.planned_run("r2", press_id="P2", at=70)))
    own = replace(short, presses=(presses[0], b.press_line("P2")))
    kept(flash_units_suffice, own, both)


def test_a_paused_run_keeps_its_flash() -> None:
    """Set-up and pauses hold the flash: another press gets it only when the last piece is printed."""
    presses = [
        b.press_line("P1", flash_pool="wheels", calendar=b.every_day(breaks=[(60, 60)])),
        b.press_line("P2", flash_pool="wheels"),
    ]
    runs = [
        b.run("r1", choices=[b.choice("P1", print_min=90, flash_units=1)]),
        b.run("r2", choices=[b.choice("P2", print_min=30, flash_units=1)]),
    ]
    week = b.week(runs=runs, presses=presses, flash_pools=[b.flash_pool()])
    paused = b.planned_run("r1", printing=150)
    broken(flash_units_suffice, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=70, printing=30)))
    kept(flash_units_suffice, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=150, printing=30)))

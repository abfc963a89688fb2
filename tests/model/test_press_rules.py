"""Press rules of the model, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.calendars import Restart
from scheduler.domain.plan import Plan
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.model.press_rules import (
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
from scheduler.model.set_up_rules import set_up_follows_the_run_before
from tests import builders as b
from tests.model.asserting import allowed, refused, terms_cents


def test_a_run_may_be_set_up_the_minute_the_one_before_is_printed() -> None:
    """Two runs on a press may touch and may not overlap by a minute."""
    week = b.week(runs=[b.run("r1"), b.run("r2")])
    allowed(week, b.plan(b.planned_run("r1"), b.planned_run("r2", at=60)))
    # The queue's waiting says the same to neighbours.
    overlap = b.plan(b.planned_run("r1"), b.planned_run("r2", at=59))
    refused(one_run_at_a_time, week, overlap, set_up_follows_the_run_before)


def test_a_cart_is_staged_before_set_up() -> None:
    """Staging is worked in full and over when set-up starts, to the minute, breaks left out."""
    week = b.week(staging=b.floor_line(minutes=20, calendar=b.every_day(breaks=[(60, 30)])))
    allowed(week, b.plan(b.planned_run(at=20, stage=(0, 20))))
    refused(staged_before_set_up, week, b.plan(b.planned_run(at=20, stage=(0, 19))))
    refused(staged_before_set_up, week, b.plan(b.planned_run(at=19, stage=(0, 20))))
    allowed(week, b.plan(b.planned_run(at=100, stage=(50, 100))))
    refused(staged_before_set_up, week, b.plan(b.planned_run(at=100, stage=(50, 99))))


def test_a_cart_is_staged_with_taped_screens() -> None:
    """Staging starts no earlier than the run's own screens are taped."""
    week = b.week(
        runs=[b.run(set_id="s1")],
        sets=[b.screen_set()],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(),
        staging=b.floor_line(minutes=20),
    )
    burn = b.planned_burn(0, burn=30, dry=60, tape=10)
    allowed(week, b.plan(b.planned_run(at=130, stage=(100, 120), burn=burn)))
    refused(staged_before_set_up, week, b.plan(b.planned_run(at=130, stage=(99, 119), burn=burn)))


def test_a_run_needs_a_head_for_each_of_its_own_and_each_kept_ink() -> None:
    """Kept inks fill the press to its last head, not beyond."""
    now_on = b.stack(("old1", "red"), ("old2", "blue"))
    costs = SetUpMinutes(clean_light_min=5)
    for heads, fits in ((4, True), (3, False)):
        press = b.press_line(head_count=heads, now_on=now_on, set_up=costs)
        week = b.week(runs=[b.run(choices=[b.choice(heads_needed=2)])], presses=[press])
        plan = b.plan(b.planned_run(kept_inks=("red", "blue")))
        if fits:
            allowed(week, plan)
        else:
            refused(fits_its_press, week, plan)


def test_a_run_with_too_many_heads_goes_on_the_larger_press() -> None:
    """A press with fewer heads than the run needs cannot take it."""
    presses = [b.press_line("P1", head_count=3), b.press_line("P2", head_count=4)]
    choices = [b.choice("P1", heads_needed=4), b.choice("P2", heads_needed=4)]
    week = b.week(runs=[b.run(choices=choices)], presses=presses)
    allowed(week, b.plan(b.planned_run(press_id="P2")))
    refused(fits_its_press, week, b.plan(b.planned_run(press_id="P1")))


def test_a_print_takes_its_minutes_and_rinsing_out() -> None:
    """The press works print and rinsing minutes, neither one less nor one more."""
    week = b.week(runs=[b.run(choices=[b.choice(print_min=60, wash_up_min=5)])])
    allowed(week, b.plan(b.planned_run(printing=65)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(printing=64)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(printing=66)))


def test_a_stop_costs_its_restart_minutes_once_work_goes_on_after_it() -> None:
    """A break inside a print costs break minutes, a night night minutes; a stop at its end or start costs none."""
    press = b.press_line(calendar=b.every_day(breaks=[(240, 30)]), restart=Restart(break_min=4, night_min=9))
    week = b.week(presses=[press])
    allowed(week, b.plan(b.planned_run(at=180, printing=60)))
    allowed(week, b.plan(b.planned_run(at=181, printing=60 + 30 + 4)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(at=181, printing=60 + 30)))
    allowed(week, b.plan(b.planned_run(at=500, printing=60 + 9)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(at=500, printing=60 + 4)))
    allowed(week, b.plan(b.planned_run(at=540, printing=60)))


def test_a_print_that_is_done_before_a_stop_does_not_restart_after_it() -> None:
    """Sixty minutes before a break end there: going on after it for the restart alone is no print."""
    press = b.press_line(calendar=b.every_day(breaks=[(240, 30)]), restart=Restart(break_min=4))
    week = b.week(presses=[press])
    refused(print_takes_its_time, week, b.plan(b.planned_run(at=180, printing=60 + 30 + 4)))


def test_overtime_changes_the_stop_a_print_spans() -> None:
    """An evening not bought lengthens the stop; bought and worked through, it is printed in at no restart."""
    hours = b.hours((0, 480), (480, 540, "late Mon"), (540, 1080))
    press = b.press_line(calendar=hours, restart=Restart(break_min=4, night_min=9))
    week = b.week(presses=[press], overtime=[b.overtime()])
    allowed(week, b.plan(b.planned_run(at=450, printing=60), overtime=["late Mon"]))
    allowed(week, b.plan(b.planned_run(at=450, printing=60 + 60 + 9)))
    refused(print_takes_its_time, week, b.plan(b.planned_run(at=450, printing=60 + 9), overtime=["late Mon"]))


def test_printing_follows_set_up_in_the_next_open_minute() -> None:
    """A set-up over at a break is followed by printing the minute the break ends, and no later."""
    press = b.press_line(calendar=b.every_day(breaks=[(60, 30)]), set_up=SetUpMinutes(mount_min=10))
    week = b.week(runs=[b.run(choices=[b.choice(on=b.stack(("s.1", "white")))])], presses=[press])
    touching = b.planned_run(at=50, set_up=10, print_start_tau=90, print_end_tau=150)
    allowed(week, b.plan(touching))
    late = replace(touching, print_start_tau=91, print_end_tau=151)
    refused(print_follows_set_up, week, b.plan(late))
    across = b.planned_run(at=55, set_up=10, set_up_end_tau=95, print_start_tau=95, print_end_tau=155)
    allowed(week, b.plan(across))


def test_ink_that_dries_stands_as_long_as_it_may() -> None:
    """Between first mounting and first piece a break as long as the ink may stand is spanned, a longer one is not."""
    press = b.press_line(calendar=b.every_day(breaks=[(60, 30)]), set_up=SetUpMinutes(mount_min=10))
    on = b.choice(on=b.stack(("s.1", "white")))
    within = b.plan(b.planned_run(at=55, set_up=10, set_up_end_tau=95, print_start_tau=95, print_end_tau=155))
    between = b.plan(b.planned_run(at=50, set_up=10, print_start_tau=90, print_end_tau=150))
    for limit, fits in ((30, True), (29, False)):
        week = b.week(runs=[b.run(choices=[on], idle_ok_min=limit)], presses=[press])
        for plan in (within, between):
            if fits:
                allowed(week, plan)
            else:
                refused(ink_may_not_stand, week, plan)


def test_a_long_stop_costs_rinsing_and_inking() -> None:
    """A stop the ink may not stand adds rinsing and inking to the restart, in minutes and in money; a shorter none."""
    press = b.press_line(calendar=b.every_day(breaks=[(60, 30)]), restart=Restart(break_min=2), set_up_cents_per_min=3)
    on = b.choice(print_min=60, wash_up_min=7, re_ink_min=4)
    for limit, more_min in ((30, 0), (29, 7 + 4)):
        week = b.week(runs=[b.run(choices=[on], idle_ok_min=limit)], presses=[press])
        plan = b.plan(b.planned_run(at=20, printing=60 + 7 + 30 + 2 + more_min))
        terms = terms_cents(week, plan)
        assert terms is not None
        assert terms["set_up"] == 3 * (7 + more_min)
        for wrong_min in (-1, 1):
            late = b.planned_run(at=20, printing=60 + 7 + 30 + 2 + more_min + wrong_min)
            refused(print_takes_its_time, week, b.plan(late))


def test_further_batches_take_their_minutes() -> None:
    """A print a minute over the pot life is longer by one mixing, one of exactly the pot life by none, at no price."""
    for print_min, mixing_min in ((60, 0), (61, 9)):
        on = b.choice(print_min=print_min, mixing_min=mixing_min)
        week = b.week(runs=[b.run(choices=[on], pot_life_min=60, remix_min=9)])
        terms = terms_cents(week, b.plan(b.planned_run(at=20, printing=print_min + mixing_min)))
        assert terms is not None
        assert terms["set_up"] == 0
        for wrong_min in (-1, 1):
            wrong = b.planned_run(at=20, printing=print_min + mixing_min + wrong_min)
            refused(print_takes_its_time, week, b.plan(wrong))


def test_there_is_time_to_rinse_out_before_a_long_stop() -> None:
    """Seven minutes before the stop are enough to rinse in, six are not; nor is a window of six in the middle."""
    on = b.choice(print_min=60, wash_up_min=7)

    def week_with(second_break: int) -> Week:
        press = b.press_line(calendar=b.every_day(breaks=[(60, 30), (second_break, 30)]))
        return b.week(runs=[b.run(choices=[on], idle_ok_min=29)], presses=[press])

    allowed(week_with(300), b.plan(b.planned_run(at=53, printing=7 + 30 + 67)))
    refused(rinsed_before_long_stops, week_with(300), b.plan(b.planned_run(at=54, printing=6 + 30 + 68)))
    across = b.planned_run(at=20, printing=40 + 30 + 7 + 30 + (67 + 14 - 47))
    allowed(week_with(97), b.plan(across))
    by_night = b.week(runs=[b.run(choices=[on], idle_ok_min=29)])
    allowed(by_night, b.plan(b.planned_run(at=533, printing=7 + 67)))
    refused(rinsed_before_long_stops, by_night, b.plan(b.planned_run(at=534, printing=6 + 68)))
    too_short = b.planned_run(at=20, printing=40 + 30 + 6 + 30 + (67 + 14 - 46))
    refused(rinsed_before_long_stops, week_with(96), b.plan(too_short))


def test_a_belt_is_full_at_a_thousand() -> None:
    """Two presses fill a dryer's belt together to the last pitch, not beyond."""
    presses = [b.press_line("P1", dryer_id="D"), b.press_line("P2", dryer_id="D")]
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59))
    for permille, fits in ((400, True), (401, False)):
        runs = [
            b.run("r1", choices=[b.choice("P1", belt_permille=600)]),
            b.run("r2", choices=[b.choice("P2", belt_permille=permille)]),
        ]
        week = b.week(runs=runs, presses=presses)
        if fits:
            allowed(week, plan)
        else:
            refused(belt_is_shared, week, plan)
            allowed(week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))


def test_a_paused_print_leaves_the_belt() -> None:
    """While one press breaks, the other has the whole belt; a minute later it has not."""
    broken_up = b.press_line("P1", dryer_id="D", calendar=b.every_day(breaks=[(60, 60)]))
    runs = [
        b.run("r1", choices=[b.choice("P1", print_min=90, belt_permille=600)]),
        b.run("r2", choices=[b.choice("P2", print_min=60, belt_permille=600)]),
    ]
    week = b.week(runs=runs, presses=[broken_up, b.press_line("P2", dryer_id="D")])
    pausing = b.planned_run("r1", printing=150)
    allowed(week, b.plan(pausing, b.planned_run("r2", press_id="P2", at=60)))
    refused(belt_is_shared, week, b.plan(pausing, b.planned_run("r2", press_id="P2", at=61)))


def test_a_set_up_takes_what_the_run_before_implies() -> None:
    """Mounting, loading and cleaning add up to the minute, after what stood on the press."""
    costs = SetUpMinutes(mount_min=10, load_min=3, clean_light_min=5, clean_dark_min=8, strike_off_min=7)
    press = b.press_line(set_up=costs, set_up_cents_per_min=2)
    runs = [
        b.run("r1", choices=[b.choice(on=b.stack(("a.1", "white")))]),
        b.run("r2", choices=[b.choice(on=b.stack(("b.1", "red")))]),
    ]
    week = b.week(runs=runs, presses=[press])
    first = b.planned_run("r1", set_up=10 + 3 + 7)
    plan = b.plan(first, b.planned_run("r2", at=80, set_up=10 + 3 + 5 + 7))
    terms = terms_cents(week, plan)
    assert terms is not None
    assert terms["set_up"] == 2 * (20 + 25)
    short = b.plan(first, b.planned_run("r2", at=80, set_up=10 + 3 + 7))
    refused(set_up_follows_the_run_before, week, short)


def test_a_kept_ink_leaves_when_it_is_no_longer_kept_and_is_carded_when_it_returns() -> None:
    """White kept beside red costs no cleaning; used again it is carded; dropped later it is cleaned then."""
    costs = SetUpMinutes(mount_min=10, load_min=3, card_min=1, clean_light_min=5)
    inks = {"r1": "white", "r2": "red", "r3": "white"}
    runs = [b.run(name, choices=[b.choice(on=b.stack((f"{name}.1", ink)))]) for name, ink in inks.items()]
    week = b.week(runs=runs, presses=[b.press_line(set_up=costs)])

    def plan(second: int, third: int, kept: tuple[str, ...]) -> Plan:
        return b.plan(
            b.planned_run("r1", at=0, set_up=13),
            b.planned_run("r2", at=100, set_up=second, kept_inks=kept),
            b.planned_run("r3", at=200, set_up=third),
        )

    allowed(week, plan(13 + 5, 13 + 5, ()))
    allowed(week, plan(13, 11 + 5, ("white",)))
    refused(set_up_follows_the_run_before, week, plan(13, 13 + 5, ("white",)))
    other = replace(week, runs=(*week.runs[:2], b.run("r3", choices=[b.choice(on=b.stack(("r3.1", "blue")))])))
    other = replace(other, inks=(*week.inks, b.ink("blue")))
    allowed(other, plan(13, 13 + 5 + 5, ("white",)))
    refused(set_up_follows_the_run_before, other, plan(13, 13 + 5, ("white",)))


def test_a_stated_set_up_and_a_started_one_take_their_own_minutes() -> None:
    """A stated set-up wins over the arithmetic, approval added; a started run takes what is left of it."""
    costs = SetUpMinutes(mount_min=10)
    stack = b.stack(("a.1", "white"))
    stated = b.choice(on=stack, stated_set_up_min=12, set_up_extra_min=5)
    week = b.week(runs=[b.run(choices=[stated])], presses=[b.press_line(set_up=costs)])
    allowed(week, b.plan(b.planned_run(set_up=17)))
    refused(set_up_follows_the_run_before, week, b.plan(b.planned_run(set_up=10)))
    started = replace(week, fixings=(b.fixing(kind="started", press_id="P1", at=0, left=4),))
    allowed(started, b.plan(b.planned_run(set_up=4)))
    refused(set_up_follows_the_run_before, started, b.plan(b.planned_run(set_up=17)))


def test_flashes_on_wheels_stand_on_one_press_at_a_time() -> None:
    """Two presses share the units of a pool from set-up to last piece, pauses included."""
    presses = [
        b.press_line("P1", flash_pool="wheels", calendar=b.every_day(breaks=[(60, 60)])),
        b.press_line("P2", flash_pool="wheels"),
    ]
    runs = [
        b.run("r1", choices=[b.choice("P1", print_min=90, flash_units=1)]),
        b.run("r2", choices=[b.choice("P2", flash_units=2)]),
    ]
    for units, at, fits in ((3, 0, True), (2, 70, False), (2, 149, False), (2, 150, True)):
        week = b.week(runs=runs, presses=presses, flash_pools=[b.flash_pool(units)])
        plan = b.plan(b.planned_run("r1", printing=150), b.planned_run("r2", press_id="P2", at=at))
        if fits:
            allowed(week, plan)
        else:
            refused(flash_units_suffice, week, plan)


def test_a_run_that_needs_more_flashes_than_there_are_goes_nowhere() -> None:
    """Two flashes of a pool of one are not to be had, even with the shop empty."""
    presses = [b.press_line(flash_pool="wheels")]
    week = b.week(runs=[b.run(choices=[b.choice(flash_units=2)])], presses=presses, flash_pools=[b.flash_pool()])
    refused(flash_units_suffice, week, b.plan(b.planned_run()))

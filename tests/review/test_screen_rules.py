"""Screen room rules, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.plan import Burn, Plan, Reclaim
from scheduler.domain.week import ScreenSet, Week
from scheduler.review.screen_rules import (
    exposure_units_suffice,
    rack_has_room,
    screens_stand_ready,
    set_is_in_one_place,
)
from tests import builders as b
from tests.review.asserting import broken, kept


def week_with(
    screens: ScreenSet | None = None, *, runs: int = 1, room: dict[str, object] | None = None, **more: object
) -> Week:
    """Runs r1, r2, ... that all print from one set on P1; the room burns, dries an hour and tapes."""
    one = screens or b.screen_set()
    return b.week(
        runs=[b.run(f"r{number}", set_id=one.set_id, **more) for number in range(1, runs + 1)],
        sets=[one],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(reclaim_blocks=(b.reclaim_block(),), **(room or {})),
    )


def burned(burn: Burn | None, *, at: int = 100) -> Plan:
    """r1 set up at `at` with this burn."""
    return b.plan(b.planned_run(at=at, burn=burn))


def test_screens_are_burned_dried_and_taped_before_set_up() -> None:
    """Burned for 30 minutes, dry an hour later, taped in 10: set-up may start that minute and not before."""
    ready = b.planned_burn(0)
    kept(screens_stand_ready, week_with(), burned(ready))
    found = broken(screens_stand_ready, week_with(), burned(ready, at=99))
    assert found.message == (
        "set s1 for or1 front is taped by Mon 2 Mar 09:40, set-up starts Mon 2 Mar 09:39 before it"
    )


def test_every_step_of_a_burn_takes_its_time() -> None:
    """A minute too few or too many in burning, drying or taping is refused."""
    ready = b.planned_burn(0)
    for wrong in (
        replace(ready, start_tau=1),
        replace(ready, end_tau=29),
        replace(ready, dry_tau=89),
        replace(ready, dry_tau=91),
        replace(ready, tape_start_tau=89, tape_end_tau=99),
        replace(ready, tape_end_tau=99),
    ):
        broken(screens_stand_ready, week_with(), burned(wrong))
    kept(screens_stand_ready, week_with(), burned(replace(ready, tape_start_tau=95, tape_end_tau=105), at=105))


def test_a_set_that_needs_no_taping_is_ready_when_dry() -> None:
    """Without taping, ready is dry, at any hour."""
    week = week_with(b.screen_set(tape_min=0))
    kept(screens_stand_ready, week, burned(b.planned_burn(0, tape=0)))
    broken(screens_stand_ready, week, burned(replace(b.planned_burn(0, tape=0), tape_start_tau=95, tape_end_tau=95)))


def test_screens_dry_over_night() -> None:
    """An hour of drying after closing is over at opening; elapsed minutes count, not shop minutes."""
    over_night = Burn(start_tau=510, end_tau=540, dry_tau=540, tape_start_tau=540, tape_end_tau=550)
    kept(screens_stand_ready, week_with(), burned(over_night, at=550))
    half = Burn(start_tau=490, end_tau=520, dry_tau=540, tape_start_tau=540, tape_end_tau=550)
    kept(screens_stand_ready, week_with(), burned(half, at=550))
    broken(
        screens_stand_ready,
        week_with(),
        burned(replace(half, dry_tau=580, tape_start_tau=580, tape_end_tau=590), at=600),
    )


def test_a_burn_waits_half_done_no_longer_than_it_may() -> None:
    """A burn may pause over a short break, not over a long one; taping may pause over both."""
    hours = b.every_day(breaks=[(60, 30), (240, 31)])
    week = week_with(room={"calendar": hours, "idle_ok_min": 30})
    short = Burn(start_tau=50, end_tau=110, dry_tau=170, tape_start_tau=170, tape_end_tau=180)
    kept(screens_stand_ready, week, burned(short, at=180))
    long = Burn(start_tau=230, end_tau=291, dry_tau=351, tape_start_tau=351, tape_end_tau=361)
    found = broken(screens_stand_ready, week, burned(long, at=361))
    assert "waits half burned for 31 min" in found.message
    paused_tape = Burn(start_tau=100, end_tau=130, dry_tau=190, tape_start_tau=235, tape_end_tau=276)
    kept(screens_stand_ready, week, burned(paused_tape, at=276))


def test_nothing_is_burned_before_its_art_is_there() -> None:
    """A burn starts when the art is there, not a minute earlier."""
    kept(screens_stand_ready, week_with(art_tau=20), burned(b.planned_burn(20), at=120))
    broken(screens_stand_ready, week_with(art_tau=20), burned(b.planned_burn(19), at=120))


def test_a_set_is_burned_when_it_must_be_and_only_then() -> None:
    """The first use burns unless the set hangs ready or has started; without screens there is nothing to burn."""
    broken(screens_stand_ready, week_with(), burned(None))
    hangs = week_with(b.screen_set(is_burned_now=True))
    kept(screens_stand_ready, hangs, burned(None))
    broken(screens_stand_ready, hangs, burned(b.planned_burn(0)))
    started = replace(week_with(), fixings=(b.fixing(kind="started", press_id="P1", at=0, left=0),))
    kept(screens_stand_ready, started, burned(None, at=0))
    broken(screens_stand_ready, started, burned(b.planned_burn(0)))
    bare = week_with(b.screen_set(screens=0))
    kept(screens_stand_ready, bare, burned(None))
    broken(screens_stand_ready, bare, burned(b.planned_burn(0)))
    broken(screens_stand_ready, b.week(screen_room=b.screen_room()), burned(b.planned_burn(0)))


def test_a_held_set_is_not_burned_again_and_a_reclaimed_one_is() -> None:
    """The second use burns exactly if the set was reclaimed after the first, and after that reclaim's block."""
    week = week_with(runs=2)
    first = b.planned_run("r1", at=100, burn=b.planned_burn(0))
    held, reburned = b.planned_run("r2", at=700), b.planned_run("r2", at=700, burn=b.planned_burn(600))
    reclaim = [Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue")]
    kept(screens_stand_ready, week, b.plan(first, held))
    broken(screens_stand_ready, week, b.plan(first, reburned))
    kept(screens_stand_ready, week, b.plan(first, reburned, reclaims=reclaim))
    broken(screens_stand_ready, week, b.plan(first, held, reclaims=reclaim))
    early = b.planned_run("r2", at=700, burn=b.planned_burn(599))
    broken(screens_stand_ready, week, b.plan(first, early, reclaims=reclaim))


def test_a_reclaim_after_another_use_does_not_count() -> None:
    """Only a reclaim after the use just before makes the next use burn."""
    week = week_with(runs=3)
    runs = [
        b.planned_run("r1", at=100, burn=b.planned_burn(0)),
        b.planned_run("r2", at=200),
        b.planned_run("r3", at=700, burn=b.planned_burn(600)),
    ]
    after_r1 = [Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue")]
    told = {one.run_id for one in screens_stand_ready(week, b.plan(*runs, reclaims=after_r1))}
    assert told == {"r2", "r3"}


def week_of_sets(count: int, **room: object) -> Week:
    """Runs r1, r2, ... with a set of two screens each."""
    return b.week(
        runs=[b.run(f"r{number}", set_id=f"s{number}") for number in range(1, count + 1)],
        sets=[b.screen_set(f"s{number}") for number in range(1, count + 1)],
        screen_room=b.screen_room(**room),
    )


def burning_at(*starts: int) -> Plan:
    """r1, r2, ... set up one after the other, burned at these minutes."""
    return b.plan(
        *(
            b.planned_run(f"r{number}", at=1000 + 60 * number, burn=b.planned_burn(start))
            for number, start in enumerate(starts, 1)
        )
    )


def test_as_many_sets_are_burned_at_once_as_there_are_units() -> None:
    """Two units burn two sets at once; a third waits until one is free, to the minute."""
    week = week_of_sets(3, exposure_units=2)
    kept(exposure_units_suffice, week, burning_at(0, 0, 30))
    found = broken(exposure_units_suffice, week, burning_at(0, 0, 29))
    assert found.message == "3 sets are being burned Mon 2 Mar 08:29, there are 2 exposure units"


def test_a_burn_that_pauses_keeps_its_unit() -> None:
    """Over a break the unit stays taken."""
    week = week_of_sets(2, exposure_units=1, calendar=b.every_day(breaks=[(60, 30)]))
    paused = replace(b.planned_burn(50), end_tau=110)
    plan = b.plan(b.planned_run("r1", at=500, burn=paused), b.planned_run("r2", at=560, burn=b.planned_burn(90)))
    broken(exposure_units_suffice, week, plan)


def test_the_rack_holds_what_dries_and_no_more() -> None:
    """Four places dry two sets of two; a third hangs up the minute the first comes down."""
    week = week_of_sets(3, rack_places=4)
    kept(rack_has_room, week, burning_at(0, 0, 60))
    found = broken(rack_has_room, week, burning_at(0, 0, 59))
    assert found.message == "6 screens dry Mon 2 Mar 09:29, the rack holds 4"


def test_a_set_is_on_one_press_at_a_time() -> None:
    """Two uses of a set may touch and not overlap, on whatever presses."""
    week = b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1")],
        sets=[b.screen_set(is_burned_now=True)],
        screen_room=b.screen_room(),
        presses=[b.press_line("P1"), b.press_line("P2")],
    )
    kept(set_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))
    broken(set_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59)))

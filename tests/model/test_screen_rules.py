"""Screen-room rules of the model, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from scheduler.domain.plan import CoatBatch, Plan, PlannedRun, Reclaim
from scheduler.domain.week import Week
from scheduler.model.screen_rules import (
    clean_frames_last,
    coated_screens_last,
    coating_has_places,
    exposure_units_suffice,
    rack_has_room,
    reclaim_after_counted,
    screens_stand_ready,
    set_is_in_one_place,
)
from scheduler.model.solver_run import Task, solve_here
from tests import builders as b
from tests.model.asserting import allowed, refused, terms_cents

CLASS = "23x31/156"


def one_set(**more: Any) -> Week:
    """A run with a two-screen set that must be burned: 30 minutes, an hour of drying, 10 of taping."""
    room = more.pop("screen_room", None) or b.screen_room(burn_cents_per_screen=50)
    more.setdefault("frames", [b.frame_stock()])
    more.setdefault("sets", [b.screen_set()])
    return b.week(runs=[b.run(set_id="s1", art_tau=more.pop("art_tau", 0))], screen_room=room, **more)


def burned_at(start: int, at: int = 100, **more: Any) -> Plan:
    """The run set up at `at`, its set burned from `start`."""
    return b.plan(b.planned_run(at=at, burn=b.planned_burn(start)), **more)


def test_a_set_is_burned_dried_and_taped_before_set_up() -> None:
    """Art, burn, drying, taping and set-up follow each other, each to the minute."""
    week = one_set(art_tau=5)
    allowed(week, burned_at(5, at=105))
    refused(screens_stand_ready, week, burned_at(4, at=105))
    refused(screens_stand_ready, week, burned_at(5, at=104))
    refused(screens_stand_ready, week, b.plan(b.planned_run(at=105, burn=b.planned_burn(5, dry=59))))
    early_tape = replace(b.planned_burn(5), tape_start_tau=94, tape_end_tau=104)
    refused(screens_stand_ready, week, b.plan(b.planned_run(at=105, burn=early_tape)))
    terms = terms_cents(week, burned_at(5, at=105))
    assert terms is not None
    assert terms["burns"] == 2 * 50


def test_a_set_is_burned_when_it_must_be_and_only_then() -> None:
    """A set that hangs burned is not burned again; one that does not is."""
    assert terms_cents(one_set(), b.plan(b.planned_run(at=100))) is None
    hanging = one_set(sets=[b.screen_set(is_burned_now=True)])
    allowed(hanging, b.plan(b.planned_run()))
    assert terms_cents(hanging, burned_at(0)) is None


def test_screens_dry_at_night() -> None:
    """A set burned in the last minutes of a day is dry when the shop opens again."""
    week = one_set()
    burn = replace(b.planned_burn(500), dry_tau=540, tape_start_tau=540, tape_end_tau=550)
    allowed(week, b.plan(b.planned_run(at=550, burn=burn)))
    refused(screens_stand_ready, week, b.plan(b.planned_run(at=600, burn=b.planned_burn(500))))


def test_a_burn_pauses_no_longer_than_it_may() -> None:
    """Half burned screens wait over a break of the length allowed, not over a longer one."""
    burn = replace(b.planned_burn(40), end_tau=100, dry_tau=160, tape_start_tau=160, tape_end_tau=170)
    plan = b.plan(b.planned_run(at=170, burn=burn))
    for limit, fits in ((30, True), (29, False)):
        room = b.screen_room(calendar=b.every_day(breaks=[(60, 30)]), idle_ok_min=limit)
        if fits:
            allowed(one_set(screen_room=room), plan)
        else:
            refused(screens_stand_ready, one_set(screen_room=room), plan)


def two_sets(**more: Any) -> Week:
    """Two runs on two presses, each with a set of its own."""
    runs = [b.run("r1", set_id="s1"), b.run("r2", set_id="s2", choices=[b.choice("P2")])]
    room = b.screen_room(**more)
    presses = [b.press_line("P1"), b.press_line("P2")]
    sets = [b.screen_set("s1"), b.screen_set("s2")]
    return b.week(runs=runs, presses=presses, sets=sets, screen_room=room, frames=[b.frame_stock()])


def burned_both(second: int) -> Plan:
    """Burns from 0 and from `second`."""
    return b.plan(
        b.planned_run("r1", at=300, burn=b.planned_burn(0)),
        b.planned_run("r2", press_id="P2", at=300, burn=b.planned_burn(second)),
    )


def test_one_exposure_unit_takes_one_set_at_a_time() -> None:
    """Two burns on one unit may touch, not overlap."""
    week = two_sets(exposure_units=1)
    allowed(week, burned_both(30))
    refused(exposure_units_suffice, week, burned_both(29))


def test_the_rack_holds_so_many_screens() -> None:
    """Two sets dry at once if the rack has a place for every screen, else one after the other."""
    allowed(two_sets(rack_places=4), burned_both(30))
    refused(rack_has_room, two_sets(rack_places=3), burned_both(30))
    allowed(two_sets(rack_places=3), burned_both(60))


def coated(count: int, window_id: str = "coat Mon") -> CoatBatch:
    """A batch of the one frame class."""
    return CoatBatch(window_id=window_id, class_id=CLASS, count=count)


def test_a_burn_finds_coated_screens() -> None:
    """What hangs coated suffices at once; what is coated on Monday suffices from Tuesday on."""
    room = b.screen_room(coat_windows=(b.coat_window(),))
    allowed(one_set(frames=[b.frame_stock(coated_now=2)]), burned_at(0))
    short = one_set(frames=[b.frame_stock(coated_now=1)], screen_room=room)
    allowed(short, burned_at(540, at=640, coat_batches=[coated(1)]))
    evening = replace(b.planned_burn(509), dry_tau=540, tape_start_tau=540, tape_end_tau=550)
    refused(coated_screens_last, short, b.plan(b.planned_run(at=640, burn=evening), coat_batches=[coated(1)]))
    refused(coated_screens_last, short, burned_at(540, at=640))


def test_coating_has_places_and_clean_frames() -> None:
    """A window takes as many frames as it has places, and as are clean when it starts."""
    room = b.screen_room(coat_windows=(b.coat_window(places=3),))
    week = one_set(frames=[b.frame_stock(clean_now=3)], screen_room=room)
    allowed(week, burned_at(0, coat_batches=[coated(3)]))
    fewer = one_set(frames=[b.frame_stock(clean_now=2)], screen_room=room)
    allowed(fewer, burned_at(0, coat_batches=[coated(2)]))
    refused(clean_frames_last, fewer, burned_at(0, coat_batches=[coated(3)]))


def test_two_frame_classes_share_the_places_of_a_window() -> None:
    """Places are counted over all frame classes."""
    room = b.screen_room(coat_windows=(b.coat_window(places=3),))
    week = one_set(frames=[b.frame_stock(), b.frame_stock("other")], screen_room=room)
    other = CoatBatch(window_id="coat Mon", class_id="other", count=1)
    allowed(week, burned_at(0, coat_batches=[coated(2), other]))
    refused(coating_has_places, week, burned_at(0, coat_batches=[coated(3), other]))


def reused(*, places: int = 10, start: int = 160, early: int = 0, coats: int = 0) -> Week:
    """One set for two runs and a reclaim block of an hour; the first order is packed at 160."""
    room = b.screen_room(
        reclaim_blocks=(b.reclaim_block("late", start=start, end=start + 60, places=places),),
        coat_windows=(b.coat_window(),) if coats else (),
    )
    return b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1")],
        sets=[b.screen_set()],
        screen_room=room,
        frames=[b.frame_stock(clean_now=0)],
        early_reclaims=[("late", CLASS, early)] if early else [],
    )


def used_twice(second: PlannedRun, *, is_reclaimed: bool, coats: int = 0) -> Plan:
    """The first use from 100 to 160, then the second; the set reclaimed between them or not."""
    first = b.planned_run("r1", at=100, burn=b.planned_burn(0))
    back = [Reclaim(set_id="s1", after_run_id="r1", block_id="late")] if is_reclaimed else []
    return b.plan(first, second, reclaims=back, coat_batches=[coated(coats)] if coats else [])


def test_a_set_is_held_or_reclaimed_and_burned_again() -> None:
    """Held, the next use needs no burn; reclaimed, it needs one, after the block."""
    held = b.planned_run("r2", at=160)
    again = b.planned_run("r2", at=320, burn=b.planned_burn(220))
    allowed(reused(), used_twice(held, is_reclaimed=False))
    allowed(reused(), used_twice(again, is_reclaimed=True))
    refused(screens_stand_ready, reused(), used_twice(again, is_reclaimed=False))
    refused(screens_stand_ready, reused(), used_twice(b.planned_run("r2", at=320), is_reclaimed=True))
    soon = b.planned_run("r2", at=320, burn=b.planned_burn(219))
    refused(screens_stand_ready, reused(), used_twice(soon, is_reclaimed=True))


def test_a_set_is_reclaimed_once_its_order_is_packed_and_where_places_are() -> None:
    """The block starts no sooner than the order is packed and takes all screens, early ones included."""
    again = b.planned_run("r2", at=400, burn=b.planned_burn(300))
    refused(reclaim_after_counted, reused(start=159), used_twice(again, is_reclaimed=True))
    allowed(reused(places=3, early=1), used_twice(again, is_reclaimed=True))
    refused(reclaim_after_counted, reused(places=2, early=1), used_twice(again, is_reclaimed=True))


def test_the_orders_of_all_earlier_uses_are_packed_before_a_reclaim() -> None:
    """After the second use the set is reclaimed only when the first order is packed, too."""
    week = b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1")],
        orders=[
            b.order_due("or1", ["r1"], finish_min=10),
            b.order_due("or2", ["r2"]),
        ],
        sets=[b.screen_set()],
        frames=[b.frame_stock()],
        finishing=b.floor_line(),
        screen_room=b.screen_room(reclaim_blocks=(b.reclaim_block("late", start=220, end=240),)),
    )
    runs = [b.planned_run("r1", at=100, burn=b.planned_burn(0)), b.planned_run("r2", at=160)]
    back = [Reclaim(set_id="s1", after_run_id="r2", block_id="late")]
    second = b.planned_order("or2", packed=220)

    def packed(first: int) -> Plan:
        return b.plan(*runs, orders=[b.planned_order("or1", packed=first, start=first - 10), second], reclaims=back)

    allowed(week, packed(220))
    refused(reclaim_after_counted, week, packed(221))


def test_reclaimed_frames_are_clean_after_the_block() -> None:
    """Frames of a reclaimed set can be coated in a window that starts when the block is over, not a minute sooner."""
    for start, fits in ((420, True), (421, False)):
        week = reused(start=start, coats=2)
        plan = used_twice(b.planned_run("r2", at=300), is_reclaimed=False, coats=2)
        late = replace(plan, reclaims=(Reclaim(set_id="s1", after_run_id="r2", block_id="late"),))
        if fits:
            allowed(week, late)
        else:
            refused(clean_frames_last, week, late)
        refused(clean_frames_last, week, plan)


def test_a_set_is_on_one_press_at_a_time() -> None:
    """The second press takes the set over when the first has printed, not a minute before."""
    week = b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1", choices=[b.choice("P2")])],
        presses=[b.press_line("P1"), b.press_line("P2")],
        sets=[b.screen_set(is_burned_now=True)],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(),
    )
    allowed(week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))
    refused(set_is_in_one_place, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59)))


@pytest.mark.parametrize(("at", "cents"), [(100, 20 * 3), (119, 3), (120, 0), (121, 0)])
def test_screens_ready_late_cost_by_the_minute(at: int, cents: int) -> None:
    """Taped at 100 and wanted 20 minutes ahead: a set-up at 120 costs nothing, each minute sooner 3 cents."""
    week = one_set(screen_room=b.screen_room(ahead_min=20, not_ahead_cents_per_min=3))
    terms = terms_cents(week, burned_at(0, at=at))
    assert terms is not None
    assert terms["ahead"] == cents
    hanging = replace(week, sets=(b.screen_set(is_burned_now=True),))
    terms = terms_cents(hanging, b.plan(b.planned_run(at=at)))
    assert terms is not None
    assert terms["ahead"] == 0


def test_the_exact_model_waits_for_screens_only_where_it_pays() -> None:
    """A run with time to spare is set up when its screens have stood ready; one that would miss its pick-up is not."""
    room = b.screen_room(ahead_min=240, not_ahead_cents_per_min=1)
    for pickup_tau, starts in ((2700, 340), (160, 100)):
        due = b.order_due(pickups_tau=(pickup_tau, 2700), late_cents=5000)
        outcome = solve_here(Task(week=one_set(screen_room=room, orders=[due]), seconds=5))
        assert outcome.plan is not None
        assert outcome.plan.run["r1"].set_up_start_tau >= starts
        assert outcome.cost_cents == (0 if pickup_tau == 2700 else 240)

"""Frame rules, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.plan import CoatBatch, Plan, Reclaim
from scheduler.domain.week import FrameStock, Week
from scheduler.review.frame_rules import (
    clean_frames_last,
    coated_screens_last,
    coating_has_places,
    reclaim_after_counted,
)
from tests import builders as b
from tests.review.asserting import broken, kept

CLASS = "23x31/156"
COAT_MON = b.coat_window("coat Mon", start=480, end=540, ready=540)
COAT_TUE = b.coat_window("coat Tue", start=1020, end=1080, ready=1080)
BLOCK = b.reclaim_block("reclaim Tue", start=540, end=600, places=4)


def week_with(stock: FrameStock | None = None, *, runs: int = 2, **more: object) -> Week:
    """Runs r1, r2, ... each with a set of two screens; coating Monday and Tuesday, reclaiming Tuesday."""
    return b.week(
        runs=[b.run(f"r{number}", set_id=f"s{number}") for number in range(1, runs + 1)],
        sets=[b.screen_set(f"s{number}") for number in range(1, runs + 1)],
        frames=[stock or b.frame_stock()],
        screen_room=b.screen_room(coat_windows=(COAT_MON, COAT_TUE), reclaim_blocks=(BLOCK,)),
        **more,
    )


def coat(count: int, window_id: str = "coat Mon", class_id: str = CLASS) -> CoatBatch:
    """Frames coated in a window."""
    return CoatBatch(window_id=window_id, class_id=class_id, count=count)


def test_a_coat_window_takes_as_many_frames_as_it_has_places() -> None:
    """Batches of one window add up to its places and no more."""
    kept(coating_has_places, week_with(), b.plan(coat_batches=[coat(4), coat(6), coat(10, "coat Tue")]))
    found = broken(coating_has_places, week_with(), b.plan(coat_batches=[coat(4), coat(7)]))
    assert found.message == "11 frames are coated from Mon 2 Mar 16:00, there are 10 places"


def test_coating_needs_a_window_frames_and_a_count() -> None:
    """A window or class nobody has, or a count below nothing, is refused; none at all is not."""
    kept(coating_has_places, week_with(), b.plan(coat_batches=[coat(0)]))
    for wrong in (coat(1, "no such window"), coat(1, class_id="no such frame"), coat(-1)):
        broken(coating_has_places, week_with(), b.plan(coat_batches=[wrong]))
    broken(coating_has_places, b.week(frames=[b.frame_stock()]), b.plan(coat_batches=[coat(1)]))


def burning(*starts: int, batches: tuple[CoatBatch, ...] = ()) -> Plan:
    """r1, r2, ... burned at these minutes."""
    return b.plan(
        *(
            b.planned_run(f"r{number}", at=1300 + 60 * number, burn=b.planned_burn(start))
            for number, start in enumerate(starts, 1)
        ),
        coat_batches=batches,
    )


def test_a_burn_takes_coated_screens_that_hang_there() -> None:
    """Four coated screens are two burns of two; with three the second burn is one short."""
    kept(coated_screens_last, week_with(b.frame_stock(coated_now=4)), burning(0, 30))
    found = broken(coated_screens_last, week_with(b.frame_stock(coated_now=3)), burning(0, 30))
    assert found.message == f"1 coated screens of {CLASS} are missing for the burn of Mon 2 Mar 08:30"


def test_coated_frames_count_once_they_are_ready() -> None:
    """A batch is burned from the minute it is ready."""
    week = week_with(b.frame_stock(coated_now=2))
    kept(coated_screens_last, week, burning(0, 540, batches=(coat(2),)))
    broken(coated_screens_last, week, burning(0, 539, batches=(coat(2),)))
    broken(coated_screens_last, week, burning(0, 540, batches=(coat(1),)))
    two_classes = replace(week, frames=(*week.frames, b.frame_stock("20x24/110")))
    broken(coated_screens_last, two_classes, burning(0, 540, batches=(coat(2, class_id="20x24/110"),)))


def test_frames_the_shop_does_not_have_cannot_be_burned() -> None:
    """A frame class without stock holds nothing."""
    broken(coated_screens_last, replace(week_with(), frames=()), burning(0, 30))


def test_only_clean_frames_are_coated() -> None:
    """Clean frames may be coated to the last one, over all windows together."""
    week = week_with(b.frame_stock(clean_now=5))
    kept(clean_frames_last, week, b.plan(coat_batches=[coat(3), coat(2, "coat Tue")]))
    found = broken(clean_frames_last, week, b.plan(coat_batches=[coat(3), coat(3, "coat Tue")]))
    assert found.at_tau == 1020
    assert found.message == f"1 clean frames of {CLASS} are missing for the coating of Tue 3 Mar 16:00"


def test_reclaimed_frames_are_clean_after_their_block() -> None:
    """Frames come back at the end of their reclaim block, early ones too, and not before."""
    week = week_with(b.frame_stock(clean_now=0))
    back = [Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue")]
    kept(clean_frames_last, week, b.plan(coat_batches=[coat(2, "coat Tue")], reclaims=back))
    broken(clean_frames_last, week, b.plan(coat_batches=[coat(3, "coat Tue")], reclaims=back))
    broken(clean_frames_last, week, b.plan(coat_batches=[coat(2, "coat Mon")], reclaims=back))
    early = replace(week, early_reclaims=(("reclaim Tue", CLASS, 1),))
    kept(clean_frames_last, early, b.plan(coat_batches=[coat(1, "coat Tue")]))
    broken(clean_frames_last, early, b.plan(coat_batches=[coat(2, "coat Tue")]))


def test_a_block_that_ends_when_coating_starts_gives_its_frames() -> None:
    """Clean at the very minute counts; a minute later does not."""
    for end, rule in ((1020, kept), (1021, broken)):
        room = b.screen_room(coat_windows=(COAT_TUE,), reclaim_blocks=(replace(BLOCK, end_tau=end),))
        week = replace(week_with(b.frame_stock(clean_now=0)), screen_room=room)
        back = [Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue")]
        rule(clean_frames_last, week, b.plan(coat_batches=[coat(2, "coat Tue")], reclaims=back))


def shared_set(**more: object) -> Week:
    """r1 and r2 of two orders print from one set of two screens."""
    return b.week(
        runs=[b.run("r1", set_id="s1"), b.run("r2", set_id="s1")],
        sets=[b.screen_set("s1")],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(reclaim_blocks=(BLOCK,)),
        **more,
    )


def packed(first: int, second: int, *reclaims: Reclaim) -> Plan:
    """r1 then r2, packed at these minutes."""
    return b.plan(
        b.planned_run("r1", at=100),
        b.planned_run("r2", at=200),
        orders=[b.planned_order("or1", packed=first), b.planned_order("or2", packed=second)],
        reclaims=reclaims,
    )


AFTER_FIRST = Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue")
AFTER_SECOND = Reclaim(set_id="s1", after_run_id="r2", block_id="reclaim Tue")


def test_a_set_is_reclaimed_once_every_order_it_printed_is_counted() -> None:
    """Orders of all uses so far are packed when the block starts; a later use does not matter."""
    kept(reclaim_after_counted, shared_set(), packed(540, 900, AFTER_FIRST))
    found = broken(reclaim_after_counted, shared_set(), packed(541, 900, AFTER_FIRST))
    assert found.message == "set s1 is reclaimed Tue 3 Mar 08:00, or1 is counted Tue 3 Mar 08:01 only"
    kept(reclaim_after_counted, shared_set(), packed(540, 540, AFTER_SECOND))
    broken(reclaim_after_counted, shared_set(), packed(540, 541, AFTER_SECOND))
    broken(reclaim_after_counted, shared_set(), packed(541, 540, AFTER_SECOND))


def test_a_reclaim_names_a_use_once_and_a_block() -> None:
    """Another set's run, a second reclaim after one use, or a block nobody booked is refused."""
    for wrong in (
        (replace(AFTER_FIRST, after_run_id="no such run"),),
        (replace(AFTER_FIRST, set_id="no such set"),),
        (replace(AFTER_FIRST, block_id="no such block"),),
        (AFTER_FIRST, AFTER_FIRST),
    ):
        broken(reclaim_after_counted, shared_set(), packed(400, 400, *wrong))


def test_a_block_has_places_for_so_many_screens() -> None:
    """Early ones and planned ones together fill a block's places and no more."""
    kept(reclaim_after_counted, shared_set(early_reclaims=[("reclaim Tue", CLASS, 2)]), packed(400, 400, AFTER_SECOND))
    full = shared_set(early_reclaims=[("reclaim Tue", CLASS, 3)])
    found = broken(reclaim_after_counted, full, packed(400, 400, AFTER_SECOND))
    assert found.message == "5 screens are reclaimed from Tue 3 Mar 08:00, there are 4 places"

"""How much of a plan another one leaves where it was."""

from __future__ import annotations

from scheduler.domain.week import Fixing, Prices
from scheduler.review.stability import Stability, stability
from tests import builders as b


def test_everything_shifted_to_the_right_counts_its_minutes_and_turns_no_pair_round() -> None:
    """A stop of two minutes: one run starts as before, the next two minutes later: two minutes, no pair reversed.

    The right-shift of three runs 0-3, 3-5, 5-9 that are closed from 4 to 6, worked out by hand.
    """
    week = b.week(prices=Prices(move_free_min=1))
    before = b.plan(*(b.planned_run(name, at=start) for name, start in (("a", 0), ("b", 3), ("c", 5))))
    after = b.plan(*(b.planned_run(name, at=start) for name, start in (("a", 0), ("b", 3), ("c", 7))))
    assert stability(week, before, week, after) == Stability(runs=3, moved=1, minutes=2, presses=0, reversed_pairs=0)


def test_what_is_free_counts_its_minutes_but_is_not_moved() -> None:
    """At the very limit a run has not moved, a minute beyond it has."""
    week = b.week(prices=Prices(move_free_min=30))
    before = b.plan(b.planned_run("a", at=100))
    for start, moved in ((130, 0), (131, 1), (70, 0), (69, 1)):
        found = stability(week, before, week, b.plan(b.planned_run("a", at=start)))
        assert (found.moved, found.minutes) == (moved, abs(start - 100))


def test_changed_presses_and_reversed_pairs() -> None:
    """A run on another press is moved and in no pair; two runs that change places on one press are one pair."""
    week = b.week(presses=[b.press_line("auto-1"), b.press_line("auto-2")], prices=Prices(move_free_min=500))
    names = ("a", "b", "c")
    before = b.plan(*(b.planned_run(name, press_id="auto-1", at=10 * at) for at, name in enumerate(names)))
    after = b.plan(
        b.planned_run("a", press_id="auto-1", at=30),
        b.planned_run("b", press_id="auto-1", at=10),
        b.planned_run("c", press_id="auto-2", at=20),
    )
    assert stability(week, before, week, after) == Stability(runs=3, moved=1, minutes=30, presses=1, reversed_pairs=1)


def test_fixed_runs_and_runs_of_one_plan_only_do_not_count() -> None:
    """What has begun is not asked, nor is what comes in or is called off."""
    week = b.week(prices=Prices(move_free_min=0))
    fixed = b.week(prices=Prices(move_free_min=0), fixings=[Fixing(run_id="a", kind="announced")])
    before = b.plan(b.planned_run("a", at=0), b.planned_run("gone", at=5))
    after = b.plan(b.planned_run("a", at=9), b.planned_run("new", at=5))
    assert stability(week, before, fixed, after) == Stability(runs=0, moved=0, minutes=0, presses=0, reversed_pairs=0)
    assert stability(week, before, week, after).minutes == 9

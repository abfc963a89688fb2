"""Dryers that must be set differently for different runs, as the decoder times them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.search.reasons import with_reasons
from tests import builders as b
from tests.review.test_dryer_rules import COOL, HOT, two_settings
from tests.search.decoding import plan, print_times


def test_another_setting_waits_until_it_has_settled() -> None:
    """Nine minutes hotter, fourteen minutes cooler, after the last piece is through."""
    assert print_times(plan(two_settings(COOL, HOT), "r1", "r2"))["r2"] == (71, 131)
    assert print_times(plan(two_settings(HOT, COOL), "r1", "r2"))["r2"] == (76, 136)
    assert print_times(plan(two_settings(COOL, COOL), "r1", "r2"))["r2"] == (0, 60)


def test_a_run_takes_the_setting_that_ends_it_sooner() -> None:
    """Fifteen minutes longer at the setting that is on beat waiting for its own; after the night it takes its own."""
    made = plan(two_settings(COOL, HOT, COOL), "r1", "r2")
    assert (made.run["r2"].way, print_times(made)["r2"]) == (1, (0, 75))
    alone = plan(two_settings(COOL, HOT, COOL), "r2", "r1")
    assert alone.run["r2"].way == 0


@pytest.mark.parametrize(("first_min", "way", "prints"), [(76, 1, (0, 75)), (75, 0, (0, 75)), (74, 0, (0, 74))])
def test_a_setting_at_which_it_prints_faster_is_taken(first_min: int, way: int, prints: tuple[int, int]) -> None:
    """Free to start at its first setting, a run takes another that ends a minute sooner, and none that ends alike."""
    week = two_settings(HOT, COOL, HOT)
    run = week.run["r2"]
    choice = replace(run.choices[0], print_min=first_min, part_min=(first_min,))
    alone = b.week(runs=[replace(run, choices=(choice,))], presses=week.presses, dryers=week.dryers)
    made = plan(alone, "r2")
    assert (made.run["r2"].way, print_times(made)["r2"]) == (way, prints)


def test_a_run_slips_in_before_one_that_is_fixed() -> None:
    """Before a locked run at another setting there is room up to the minute by which that has settled."""
    for at, starts in ((71, 0), (70, 70 + 60 + 2 + 14)):
        week = two_settings(COOL, HOT)
        locked = b.week(
            runs=week.runs,
            presses=week.presses,
            dryers=week.dryers,
            fixings=[b.fixing("r2", "locked", press_id="P2", at=at)],
        )
        assert print_times(plan(locked))["r1"][0] == starts


def test_a_night_settles_everything() -> None:
    """Set up in time for opening, the run prints with the first minute of the day, whatever ran the evening before."""
    week = two_settings()
    late = b.run("r1", choices=week.run["r1"].choices, blanks_tau=480, cure_min=2)
    second = b.run("r2", choices=week.run["r2"].choices, blanks_tau=500, cure_min=2)
    made = plan(b.week(runs=[late, second], presses=week.presses, dryers=week.dryers), "r1", "r2")
    assert print_times(made) == {"r1": (480, 540), "r2": (540, 600)}


def test_the_queue_says_whose_setting_is_waited_for() -> None:
    """The reason names the other setting, its run, and until when."""
    week = two_settings()
    reason = with_reasons(week, plan(week, "r1", "r2")).run["r2"].reason
    assert reason.startswith(f"dryer set otherwise until Mon 09:11 ({COOL} for r1)")

"""Runs slowed down to share a belt, as the decoder times them."""

from __future__ import annotations

import pytest

from scheduler.search.reasons import with_reasons
from tests import builders as b
from tests.review.test_rate_steps import shared_belt
from tests.search.decoding import decoded, plan, print_times


@pytest.mark.parametrize(("half_permille", "way", "prints"), [(300, 1, (0, 120)), (301, 0, (120, 180))])
def test_a_run_is_slowed_where_that_ends_it_sooner(half_permille: int, way: int, prints: tuple[int, int]) -> None:
    """Where it fits beside the other at half rate it need not wait; where it does not, it prints at full rate later."""
    made = plan(shared_belt(half_permille), "r1", "r2")
    assert made.run["r2"].way == way
    assert print_times(made)["r2"] == prints


def test_a_run_alone_on_the_belt_goes_at_full_rate() -> None:
    """Nobody slows down for nothing."""
    made = plan(shared_belt(300), "r2", "r1")
    assert made.run["r2"].way == 0
    assert print_times(made)["r2"] == (0, 60)


def test_of_ways_that_end_alike_the_faster_is_taken() -> None:
    """An hour's wait and an hour at full rate end with two hours at half rate: it waits."""
    week = shared_belt(300)
    first = b.run("r1", choices=[b.choice("P1", print_min=60, belt_permille=700)])
    made = plan(b.week(runs=[first, week.run["r2"]], presses=week.presses), "r1", "r2")
    assert made.run["r2"].way == 0
    assert print_times(made)["r2"] == (60, 120)


def test_a_locked_run_is_slowed_where_it_could_not_start_else() -> None:
    """A run locked to the moment the belt is filled prints at half its rate; if that is too much, nowhere."""
    locks = [b.fixing("r1", "locked", press_id="P1", at=0), b.fixing("r2", "locked", press_id="P2", at=0)]
    for half_permille, stands in ((300, True), (301, False)):
        week = shared_belt(half_permille)
        locked = b.week(runs=week.runs, presses=week.presses, fixings=locks)
        if stands:
            assert decoded(locked).plan.run["r2"].way == 1
        else:
            with pytest.raises(AssertionError, match="cannot start when it is fixed"):
                decoded(locked)


def test_the_queue_says_who_is_slowed_by_how_much_and_how_long() -> None:
    """The reason has the rate and the hours; a run at full rate has nothing of it."""
    week = shared_belt(300)
    made = with_reasons(week, plan(week, "r1", "r2"))
    assert "slowed to 30/h by the belt, 08:00-10:00" in made.run["r2"].reason
    assert "slowed" not in made.run["r1"].reason

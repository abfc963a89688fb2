"""The one change that saves most: named with what a plan with it really saves."""

import pytest

from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search.as_listed import time_list
from scheduler.search.decoder import Refused
from scheduler.search.one_change import best_changes
from tests.builders import choice, ink, order_due, press_line, run, stack, week
from tests.random_weeks import random_week
from tests.search.listing import own, timed


def inks_apart() -> Week:
    """White, black, white on one press, where every other ink costs ten minutes of set-up at a euro each."""
    runs = [
        run(f"r{n}", choices=[choice(on=stack((f"x{n}", colour)))])
        for n, colour in enumerate(("white", "black", "white"))
    ]
    line = press_line(set_up=SetUpMinutes(load_min=10), set_up_cents_per_min=100, head_count=1)
    return week(runs=runs, presses=[line], inks=[ink("white"), ink("black")])


def test_the_change_that_saves_most_is_named_with_what_it_saves() -> None:
    """White next to white spares one ink change of ten minutes: ten euros, by whichever run is moved."""
    one = inks_apart()
    found = best_changes(one, timed(one, "or0", "or1", "or2"))
    assert [change.saves_cents for change in found] == [1000, 1000, 1000]
    assert {change.words for change in found} & {"print r2 first on P1", "print r2 right after r0 on P1"}
    assert best_changes(one, timed(one, "or0", "or2", "or1")) == ()


def test_a_late_order_taken_earlier_is_named() -> None:
    """The order promised for nine is listed last: taken first it is in time, and one order fewer is late."""
    early = order_due("or3", ["r3"], pickups_tau=(60, 2700), late_cents=500)
    one = week(
        runs=[run("r1"), run("r2"), run("r3")], orders=[order_due("or1", ["r1"]), order_due("or2", ["r2"]), early]
    )
    found = best_changes(one, timed(one, "or1", "or2", "or3"))
    assert (found[0].saves_cents, found[0].late_fewer) == (500, 1)
    assert "r3" in found[0].words or "or3" in found[0].words


@pytest.mark.parametrize("seed", range(0, 24, 3))
def test_no_change_is_told_that_saves_nothing(seed: int) -> None:
    """Three at most, best first, each of another order, each saving something and less than all there is to save."""
    one = random_week(seed)
    listed = time_list(one, own(*(each.order_id for each in one.orders)))
    if isinstance(listed, Refused):
        return
    found = best_changes(one, listed)
    assert len(found) <= 3
    assert [change.saves_cents for change in found] == sorted((c.saves_cents for c in found), reverse=True)
    assert all(0 < change.saves_cents <= listed.decoded.cost_cents for change in found)

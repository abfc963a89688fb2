"""Where presses stand and for what: hand-made causes, and sums over random weeks."""

import pytest

from scheduler.search.as_listed import time_list
from scheduler.search.decoder import Refused
from scheduler.search.waits import press_waits
from tests.builders import (
    choice,
    floor_line,
    frame_stock,
    person,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week
from tests.search.listing import own, timed


def test_presses_wait_for_garments_screens_carts_and_people() -> None:
    """Each wait has its cause and its minutes: garments until ten, screens for 100 minutes, a cart for fifteen."""
    late = week(runs=[run(blanks_tau=120)])
    waits = press_waits(late, timed(late, "or1").plan)
    assert [(w.what, w.wait_min) for w in waits] == [("garments", 120)]
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run(set_id="s1", choices=offers)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(),
        staging=floor_line(minutes=15),
    )
    waits = press_waits(one, timed(one, "or1").plan)
    assert [(w.what, w.wait_min) for w in waits] == [("screens", 100), ("a staged cart", 15)]
    crews = {"run_crew": (("print", 1),)}
    two = week(
        runs=[run("r1"), run("r2", choices=[choice("P2")])],
        presses=[press_line(**crews), press_line("P2", **crews)],
        people=[person()],
    )
    waits = press_waits(two, timed(two, "or1", "or2").plan)
    assert [(w.press_id, w.what, w.wait_min) for w in waits] == [("P2", "people", 60)]


@pytest.mark.parametrize("seed", range(0, 40, 2))
def test_waits_are_the_open_minutes_nothing_stands_on_a_press(seed: int) -> None:
    """Per press, the waits add up to its open minutes up to the last set-up less those in which a run stands on it."""
    one = random_week(seed)
    found = time_list(one, own(*(each.order_id for each in one.orders)))
    if isinstance(found, Refused):
        return
    waits = press_waits(one, found.plan)
    for press in one.presses:
        windows = press.calendar.with_bought(found.plan.overtime).windows
        queue_there = found.plan.queue.get(press.press_id, ())
        until = queue_there[-1].set_up_start_tau if queue_there else 0
        idle = {tau for window in windows for tau in range(window.start_tau, min(window.end_tau, until))}
        for there in queue_there:
            idle -= set(range(there.set_up_start_tau, there.print_end_tau))
        assert sum(w.wait_min for w in waits if w.press_id == press.press_id) == len(idle)
        assert all(w.wait_min > 0 for w in waits)

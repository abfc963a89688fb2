"""What everything does minute by minute: presses without a gap, frames from burn to reclaim, within what there is."""

from __future__ import annotations

from itertools import pairwise

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.insight.doing import (
    CLOSED,
    NOTHING,
    PAUSED,
    PRINTING,
    SET_UP,
    WAITING,
    levels,
    press_states,
)
from scheduler.search.engine import plan_week
from tests.builders import (
    choice,
    coat_window,
    every_day,
    frame_stock,
    press_line,
    run,
    screen_room,
    screen_set,
    week,
)
from tests.random_weeks import random_week


def planned(one: Week) -> Plan:
    """The week's plan."""
    found = plan_week(one, SearchSettings(iterations=0)).plan
    assert found is not None
    return found


def told(one: Week, press_id: str = "P1") -> list[tuple[str, int]]:
    """States of a press with their minutes."""
    press = one.press[press_id]
    return [(state.state, state.minutes) for state in press_states(one, planned(one), press)]


def test_a_press_over_its_break() -> None:
    """Set-up, print, a pause over the break, print, then nothing booked until the week ends."""
    hours = every_day(breaks=[(40, 30)], days=1)
    one = week(
        runs=[run(blanks_tau=5, choices=[choice(print_min=60, stated_set_up_min=10)])],
        presses=[press_line(calendar=hours), press_line("P2")],
    )
    found = told(one)
    assert found[:6] == [(WAITING, 5), (SET_UP, 10), (PRINTING, 25), (PAUSED, 30), (PRINTING, 35), (NOTHING, 435)]
    assert {state for state, _ in found[6:]} == {CLOSED}


@pytest.mark.parametrize("seed", range(12))
def test_every_minute_of_a_press_is_told_once(seed: int) -> None:
    """From the planning moment to the end of the week, without a gap or an overlap."""
    one = random_week(seed)
    plan = plan_week(one, SearchSettings(iterations=0)).plan
    if plan is None:
        return
    for press in one.presses:
        states = press_states(one, plan, press)
        assert (states[0].start_tau, states[-1].end_tau) == (0, one.horizon_tau)
        assert all(before.end_tau == after.start_tau for before, after in pairwise(states))
    assert all(level.used <= level.there for level in levels(one, plan))


def test_frames_are_held_from_the_burn_on() -> None:
    """A set of two burned at once holds two of the frames until the week ends, as nothing is reclaimed."""
    one = week(
        runs=[run(set_id="s1", choices=[choice()])],
        sets=[screen_set()],
        frames=[frame_stock(coated_now=3, clean_now=4)],
        screen_room=screen_room(coat_windows=(coat_window(),)),
    )
    plan = planned(one)
    burn = plan.runs[0].burn
    assert burn is not None
    frames = [level for level in levels(one, plan) if level.kind == "frames"]
    assert [(level.start_tau, level.end_tau, level.used, level.there) for level in frames] == [
        (burn.start_tau, one.horizon_tau, 2, 7)
    ]

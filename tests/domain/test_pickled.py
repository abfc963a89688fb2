"""Weeks and plans travel between processes as they are, even while somebody looks something up in them."""

from __future__ import annotations

import pickle
import threading

from scheduler.domain.plan import Plan
from tests.builders import week
from tests.random_weeks import random_week


def test_a_week_arrives_as_it_left() -> None:
    """Look-ups are left behind and made again; nothing else is lost."""
    one = random_week(3)
    looked_up = (one.press, one.run, one.clock.cuts_tau, one.runs[0].on_press)
    there = pickle.loads(pickle.dumps(one))
    assert there == one
    assert "press" not in vars(there)
    assert (there.press, there.run, there.clock.cuts_tau, there.runs[0].on_press) == looked_up


def test_a_plan_arrives_as_it_left() -> None:
    """Its queue is looked up again at the other end."""
    plan = Plan(runs=(), orders=())
    assert plan.queue == {}
    assert pickle.loads(pickle.dumps(plan)) == plan


def test_packing_does_not_mind_look_ups() -> None:
    """A thousand weeks packed while another thread looks everything up in them: none fails."""
    over = threading.Event()
    now = [week()]

    def look_up() -> None:
        while not over.is_set():
            one = now[0]
            assert one.press is not None
            assert one.run is not None
            assert one.order is not None
            assert one.ink is not None

    thread = threading.Thread(target=look_up)
    thread.start()
    try:
        for _ in range(1000):
            now[0] = week()
            pickle.dumps(now[0])
    finally:
        over.set()
        thread.join()

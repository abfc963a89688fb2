"""Ahead or behind at once, and the orders that are endangered by it."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.record.drift import Drift, drift, opening, sections
from scheduler.record.events import Done, Event, SetUpStarted, Stopped, StrikeOffRight
from scheduler.record.standing import stands_now
from tests.record.noted import as_planned, local
from tests.what_if.small import plan_of, shop_inputs
from tests.workload import shops


def drifted(inputs: WeekInputs, events: tuple[Event, ...], now: datetime) -> Drift:
    """Where the small shop stands against its first plan."""
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    return drift(stands_now(inputs, week, plan, events, now), week, plan)


def test_a_floor_that_keeps_to_the_plan_has_no_drift() -> None:
    """In the middle of a run that goes as planned, no press is behind and no order in danger."""
    inputs = shop_inputs(3)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    second = plan.queue["auto-1"][1]
    now = week.clock.starts_at(second.print_start_tau) + timedelta(minutes=30)
    found = drifted(inputs, as_planned(week, plan, now, is_brief=False), now)
    assert [one.behind_min for one in found.presses] == [0]
    assert found.endangered == ()
    assert opening(found) == "The floor is where the plan said it would be."


def test_a_run_that_stands_puts_its_press_behind_by_those_minutes() -> None:
    """An hour's stop is an hour behind, told with its reason; a pick-up with room is still kept."""
    inputs = shop_inputs(2)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    first = plan.queue["auto-1"][0]
    begun = week.clock.starts_at(first.set_up_start_tau)
    right = week.clock.ends_at(first.set_up_end_tau)
    stopped = right + timedelta(minutes=30)
    events = (
        SetUpStarted(at=local(begun), run_id=first.run_id, press_id="auto-1", number=1),
        StrikeOffRight(at=local(right), run_id=first.run_id, number=2),
        Stopped(at=local(stopped), run_id=first.run_id, reason="belt torn", number=3),
    )
    found = drifted(inputs, events, stopped + timedelta(minutes=60))
    assert [one.behind_min for one in found.presses] == [60]
    assert found.presses[0].stopped_why == "belt torn"
    assert opening(found).startswith("auto-1 is")
    assert "behind" in opening(found)
    assert found.endangered == ()
    assert any("stands: belt torn" in cell for line in sections(found)[0].lines for cell in line.cells)


def test_a_run_done_early_is_ahead() -> None:
    """A press whose next run stands ready before its announced time is not told as behind."""
    inputs = shop_inputs(1)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    first = plan.queue["auto-1"][0]
    right = week.clock.starts_at(first.set_up_start_tau) + timedelta(minutes=2)
    events = (
        SetUpStarted(at=local(week.clock.starts_at(first.set_up_start_tau)), run_id=first.run_id, press_id="auto-1"),
        StrikeOffRight(at=local(right), run_id=first.run_id, number=1),
    )
    found = drifted(inputs, events, right)
    assert found.presses[0].behind_min == -(first.set_up_min - 2)
    assert "ahead" in opening(found)


def test_an_order_is_endangered_from_the_minute_its_pick_up_is_missed() -> None:
    """Nothing began all Monday: orders due Tuesday are in danger only as far as Tuesday cannot hold them any more."""
    inputs = shop_inputs(12)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    late_before = {one.order_id for one in api.measure(week, plan).late_orders}
    assert not late_before
    found = drifted(inputs, (), shops.at(3, "08:00"))
    assert found.plan is not None
    due = {order.order_id: order.pickups_tau[order.must_leave] for order in week.orders}
    for one in found.orders:
        assert one.is_late == (one.ready > week.clock.ends_at(due[one.order_id]))
    assert found.endangered
    assert "miss" in opening(found)
    assert "▲" in opening(found)


def test_a_week_all_done_has_nothing_left_to_tell() -> None:
    """Once every run is done there is no press and no order left to be late."""
    inputs = shop_inputs(1)
    found = drifted(inputs, (Done(at=local(shops.at(2, "11:00")), run_id="1 front light"),), shops.at(2, "12:00"))
    assert (found.presses, found.orders) == ((), ())

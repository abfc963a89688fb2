"""A press whose dryer warms up, as the decoder times it."""

from __future__ import annotations

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.week import Week
from scheduler.search.bounds import lower_bound
from scheduler.search.reasons import with_reasons
from tests import builders as b
from tests.search.decoding import plan, print_times


def _week(set_up: int, *, print_min: int = 60, **more: object) -> Week:
    choice = b.choice(stated_set_up_min=set_up, print_min=print_min)
    run = b.run(choices=[choice], **more)  # type: ignore[arg-type]
    return b.week(runs=[run], presses=[b.press_line(print_calendar=b.hot(), restart=Restart(night_min=8))])


@pytest.mark.parametrize(("set_up", "starts"), [(0, 20), (10, 20), (20, 20), (21, 21), (539, 539), (540, 560)])
def test_a_set_up_goes_on_while_the_dryer_warms_up(set_up: int, starts: int) -> None:
    """Printing starts when both are done, the next morning's warm-up included."""
    made = plan(_week(set_up))
    assert made.runs[0].set_up_start_tau == 0
    assert made.runs[0].print_start_tau == starts


def test_a_print_goes_on_when_it_is_hot_again() -> None:
    """An hour too long for the day goes on at 08:20 the next morning, restart minutes first."""
    assert print_times(plan(_week(0, print_min=550)))["r1"] == (20, 560 + 30 + 8)


def test_garments_come_while_the_dryer_is_cold() -> None:
    """A run whose garments come from another press while its dryer is cold prints at the opening for printing."""
    presses = [b.press_line("P1", calendar=b.hours((0, 60), (540, 1080))), b.press_line("P2", print_calendar=b.hot())]
    second = b.run("r2", lots=("lot",), choices=[b.choice("P2")])
    for print_min, starts in ((60, 60), (61, 560)):
        first = b.run("r1", lots=("lot",), choices=[b.choice("P1", print_min=print_min)])
        made = plan(b.week(runs=[first, second], presses=presses))
        assert print_times(made)["r2"][0] == starts


@pytest.mark.parametrize(("idle_ok", "at"), [(20, 0), (900, 0)])
def test_waiting_for_the_dryer_is_no_stop(idle_ok: int, at: int) -> None:
    """Ink that dries may wait for the dryer: the press is not closed, and its ink is loaded last."""
    assert plan(_week(5, idle_ok_min=idle_ok)).runs[0].set_up_start_tau == at


def test_bounds_know_of_the_warm_up_and_stay_below() -> None:
    """An order promised for 09:20 cannot be packed before: the bound misses it as the plan does."""
    for promised, late in ((80, 0), (79, 1)):
        order = b.order_due(pickups_tau=(promised, 2700), late_cents=500)
        week = b.week(
            runs=[b.run(choices=[b.choice()])], orders=[order], presses=[b.press_line(print_calendar=b.hot())]
        )
        assert plan(week).orders[0].packed_tau == 80
        assert lower_bound(week).cents == 500 * late


def test_the_queue_says_that_a_run_waits_for_the_dryer() -> None:
    """A run set up before it is hot has the moment in its reason; one that need not wait has not."""
    reason = with_reasons(_week(10), plan(_week(10))).runs[0].reason
    assert reason == "first on the press; dryer and flashes hot at Mon 08:20"
    assert "hot" not in with_reasons(_week(20), plan(_week(20))).runs[0].reason

"""Pencilling in: as late as still keeps the date, nothing firm moved, exact to the minute."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.latest_yes import LatestYes, Waiting
from scheduler.domain.plan import Plan
from scheduler.domain.week import NotPlanned, OrderDue, SetUpMinutes
from scheduler.model.pencil import latest_place
from scheduler.papers.chase_list import waiting_orders
from scheduler.questions import joint_week as joint_week_of
from scheduler.questions import pencil_in as asked
from scheduler.review.rules import check
from scheduler.search import pencilling
from scheduler.search.pencilling import NO_PLACE, NOT_IN_TIME, OTHER_SCREENS, pencil_in
from tests import builders as b
from tests.search.waiting import art, garments, planned, the_yes, without

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
NOTHING = Plan(runs=(), orders=())


def promised(run_id: str, tau: int, *later: int) -> OrderDue:
    """An order of one run that must leave at a shop minute."""
    return b.order_due(f"o{run_id}", [run_id], pickups_tau=(tau, *later, 3780))


def test_alone_it_may_wait_until_its_print_just_fits() -> None:
    """An hour of printing, promised for minute 500: garments at 440 are in time, at 441 they are not."""
    full = b.week(orders=[promised("r1", 500)])
    (yes,) = the_yes(full, NOTHING, garments(full, "or1"))
    assert yes == LatestYes(order_id="or1", latest_tau=440, promised_tau=500)


def test_art_must_be_there_before_the_burn() -> None:
    """Half an hour to burn, an hour to dry, ten minutes to tape, an hour to print: art at 340 for minute 500."""
    offers = [b.choice(on=b.stack(("s1.1", "white"), set_id="s1"))]
    full = b.week(
        runs=[b.run(set_id="s1", choices=offers)],
        orders=[promised("r1", 500)],
        sets=[b.screen_set()],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(),
    )
    assert [yes.latest_tau for yes in the_yes(full, NOTHING, art(full, "or1"))] == [340]
    burned = replace(full, sets=(b.screen_set(is_burned_now=True),))
    assert [yes.latest_tau for yes in the_yes(burned, NOTHING, art(burned, "or1"))] == [440]


def test_a_visit_before_the_prints_needs_the_garments() -> None:
    """Half an hour at the station before an hour of printing: garments at 410 for minute 500."""
    order = replace(promised("r1", 500), stations=(b.step(before=30),))
    full = b.week(orders=[order], stations=(b.station(),))
    assert [yes.latest_tau for yes in the_yes(full, NOTHING, garments(full, "or1"))] == [410]


def test_firm_runs_stay_where_they_are() -> None:
    """r2 stands from 300 to 360 and must not move: promised for 350, r1 goes before it; for 420, behind it."""
    runs = [b.run("r1"), b.run("r2", blanks_tau=300)]
    for promise, latest in ((350, 240), (360, 240), (419, 240), (420, 360), (421, 361)):
        full = b.week(runs=runs, orders=[promised("r1", promise), promised("r2", 600)])
        plan = planned(without(full, "or1"))
        assert plan.run["r2"].set_up_start_tau == 300
        assert [yes.latest_tau for yes in the_yes(full, plan, garments(full, "or1"))] == [latest]


def test_a_hole_needs_the_run_after_it_to_be_set_up_as_planned() -> None:
    """A run whose inks the firm run behind it would have to clean up cannot stand before it."""
    press = b.press_line(set_up=SetUpMinutes(mount_min=5, load_min=2, card_min=1, clean_light_min=3))
    offers = [b.choice(on=b.stack(("s.1", "white"))), b.choice(on=b.stack(("t.1", "white")))]
    runs = [b.run("r1", choices=offers[:1]), b.run("r2", choices=offers[1:], blanks_tau=300)]
    full = b.week(runs=runs, orders=[promised("r1", 350), promised("r2", 600)], presses=[press])
    plan = planned(without(full, "or1"))
    assert plan.run["r2"].set_up_min == 7
    (yes,) = the_yes(full, plan, garments(full, "or1"))
    # Behind r1, whose white is there already, r2 would be set up in a minute less than planned.
    assert yes.missed == 1
    assert yes.latest_tau is not None
    assert yes.latest_tau > 350


def test_pencilled_orders_stand_behind_each_other() -> None:
    """Both promised for 500 on one press: the one named first keeps 440, the next one gets the hour before it."""
    runs = [b.run("r1"), b.run("r2")]
    full = b.week(runs=runs, orders=[promised("r1", 500), promised("r2", 500)])
    found = the_yes(full, NOTHING, garments(full, "or1"), garments(full, "or2"))
    assert [(yes.order_id, yes.latest_tau) for yes in found] == [("or1", 440), ("or2", 380)]
    early = b.week(runs=runs, orders=[promised("r1", 500), promised("r2", 480)])
    found = the_yes(early, NOTHING, garments(early, "or1"), garments(early, "or2"))
    assert [(yes.order_id, yes.latest_tau) for yes in found] == [("or2", 420), ("or1", 360)]


def test_where_no_place_keeps_the_date_it_is_least_late() -> None:
    """Promised for 50 with an hour to print: the pick-up at 100 is made if the garments come by 40."""
    full = b.week(orders=[promised("r1", 50, 100, 540)])
    (yes,) = the_yes(full, NOTHING, garments(full, "or1"))
    assert (yes.latest_tau, yes.missed) == (40, 1)
    kept = b.week(orders=[promised("r1", 60, 100, 540)])
    assert [(one.latest_tau, one.missed) for one in the_yes(kept, NOTHING, garments(kept, "or1"))] == [(0, 0)]


def test_an_order_without_a_place_says_why() -> None:
    """No room on the axis; reasons of its own; more screens than the firm runs of its design have."""
    full = b.week(runs=[b.run(choices=[b.choice(print_min=100_000)])], orders=[promised("r1", 500)])
    assert [yes.why for yes in the_yes(full, NOTHING, garments(full, "or1"))] == [NO_PLACE]
    refused = b.week(not_planned=[NotPlanned(order_id="9", run_id=None, reasons=("needs 9 heads; Six has 6",))])
    found = pencil_in(
        b.week(), refused, planned(b.week()), [Waiting(order_id="9", art=frozenset(), garments=frozenset())]
    )
    assert [yes.why for yes in found.pencilled.yes] == ["needs 9 heads; Six has 6"]
    small, large = b.screen_set(screens=1), b.screen_set(screens=2)
    offers = [b.choice(on=b.stack(("s1.1", "white"), set_id="s1"))]
    runs = [b.run("r1", set_id="s1", choices=offers), b.run("r2", set_id="s1", choices=offers)]
    room = {"screen_room": b.screen_room(), "frames": [b.frame_stock()]}
    shared = b.week(runs=runs, orders=[promised("r1", 900), promised("r2", 900)], sets=[large], **room)
    firm = replace(without(shared, "or1"), sets=(small,))
    found = pencil_in(firm, shared, planned(firm), [garments(shared, "or1")])
    assert [yes.why for yes in found.pencilled.yes] == [OTHER_SCREENS]


def test_it_stops_when_asked() -> None:
    """Out of time there is no moment rather than a guess."""
    full = b.week(orders=[promised("r1", 500)])
    for more in ({"stop": lambda: True}, {"seconds": 0.0}):
        found = pencil_in(without(full, "or1"), full, NOTHING, [garments(full, "or1")], **more)
        assert [(yes.latest_tau, yes.why, yes.is_proven) for yes in found.pencilled.yes] == [(None, NOT_IN_TIME, False)]


def test_out_of_time_is_not_told_as_no_place(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that ends before it has found anything has not shown that there is no place."""
    full = b.week(orders=[promised("r1", 500)])
    with pytest.raises(TimeoutError):
        latest_place(full, NOTHING, garments(full, "or1"), seconds=0.0)
    monkeypatch.setattr(
        pencilling, "latest_place", lambda *args, **more: latest_place(*args, **{**more, "seconds": 0.0})
    )
    (yes,) = the_yes(full, NOTHING, garments(full, "or1"))
    assert (yes.latest_tau, yes.why, yes.is_proven) == (None, NOT_IN_TIME, False)


def test_the_waiting_order_of_the_mid_size_week() -> None:
    """The theatre's unsigned art may wait until a moment shortly before its pick-up; the other orders stay."""
    inputs = api.read_week(SCENARIOS / "midsize")
    assert waiting_orders(inputs) == ("4126",)
    week = api.build_workload(inputs).week
    standing = planned(week)
    found = asked(inputs, week, standing)
    (yes,) = found.pencilled.yes
    assert yes.latest_tau is not None
    assert yes.promised_tau is not None
    assert 0 < yes.latest_tau < yes.promised_tau
    assert replace(found, pencilled=standing.pencilled) == standing
    assert check(joint_week_of(inputs, week, found), found.with_pencilled) == ()

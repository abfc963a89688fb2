"""The four answers on a small shop, where everything can be worked out by hand."""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import date

import pytest

from scheduler import api
from scheduler.domain.answers import BEST, KEEP, OVERTIME, STAY, Answer
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import OvertimeOffer
from scheduler.domain.what_if import (
    ArtMoved,
    BlanksMoved,
    Cancelled,
    DateMoved,
    HoursOpened,
    InkOut,
    OutOfUse,
    PiecesChanged,
    Reprint,
    ScreenBroken,
)
from scheduler.errors import InputError
from tests.what_if import small
from tests.workload import shops


def test_a_rush_on_an_empty_afternoon_moves_nobody_and_costs_its_own_work() -> None:
    """Nothing but its own set-up and screens is paid for, nobody moves, and all answers are that one."""
    inputs = small.shop_inputs()
    answers = small.ask(inputs, small.rush())
    stay = answers.of(STAY)
    row = api.answer_values(answers, stay)
    assert stay.plan is not None
    rush = stay.plan.run["R front light"]
    assert row.moved == ()
    assert row.late == ()
    assert (row.stability.moved, row.stability.minutes) == (0, 0)
    assert (row.extra_set_ups, row.extra_screens, row.extra_overtime_min) == (1, 1, 0)
    # one screen mounted (5), blue loaded (2), test print (6), red stays: 13 minutes at 0.40; one screen at 9.00
    assert rush.set_up_min == 13
    assert row.extra_cents == 13 * 40 + 900
    assert [one.same_as for one in answers.answers[:3]] == ["", STAY, STAY]
    assert answers.of(OVERTIME).reason == "no overtime is on offer"
    assert answers.best == stay


def test_a_rush_with_a_full_day_moves_others_or_comes_late() -> None:
    """Where Monday is full and the rush is due on Monday, it goes in front, or it is late behind them."""
    inputs = small.shop_inputs(8)
    answers = small.ask(inputs, small.rush(due=date(2026, 3, 2)))
    stay, keep = answers.of(STAY), answers.of(KEEP)
    assert stay.plan is not None
    assert keep.plan is not None
    assert [one.order_id for one in api.answer_values(answers, stay).late] == ["R"]
    row = api.answer_values(answers, keep)
    assert row.late == ()
    assert row.moved
    assert all(one.later_min > 0 for one in row.moved)
    assert row.terms[-1].change_cents == row.extra_cents < api.answer_values(answers, stay).extra_cents


def test_an_impossible_rush_says_why() -> None:
    """Garments that come after the date: no answer keeps the promise, and it says when it would be ready."""
    inputs = small.shop_inputs()
    late = small.rush(due=date(2026, 3, 2))
    late = replace(late, lots=(replace(late.lots[0], blanks_at=shops.at(3, "10:00")),))
    answers = small.ask(inputs, late)
    keep = answers.of(KEEP)
    assert keep.plan is None
    assert keep.reason.startswith("no plan was found without late days: R would be ready Tue 3 Mar 1")
    assert "its pick-up is Mon 2 Mar 17:00" in keep.reason
    assert answers.of(STAY).plan is not None


def test_a_rush_that_fits_no_press_says_why_in_every_answer() -> None:
    """A print no press takes is refused with the reason, and there is no best answer."""
    wide = small.rush()
    wide = replace(wide, imprints=(replace(wide.imprints[0], presses=("none",)),))
    answers = small.ask(small.shop_inputs(), wide)
    assert answers.best is None
    assert {one.plan for one in answers.answers} == {None}
    assert len({one.reason for one in answers.answers}) == 1
    assert answers.answers[0].reason.startswith("R: ")
    assert answers.first_seconds is None


def test_overtime_is_bought_where_it_keeps_a_promise() -> None:
    """A full Monday, a rush for Tuesday half past eight, an evening on offer: it is bought, and all are in time."""
    evening = OvertimeOffer(day=date(2026, 3, 2), from_min=1020, to_min=1200, price_cents=9_000)
    inputs = small.with_shop(small.shop_inputs(6), overtime=(evening,))
    monday = replace(inputs, orders=tuple(replace(one, due_at=date(2026, 3, 2)) for one in inputs.orders))
    standing = small.plan_of(monday)
    assert not standing.overtime
    answers = small.ask(monday, small.rush(pieces=800, due=shops.at(3, "08:30")), plan=standing)
    assert answers.of(KEEP).plan is None
    bought = answers.of(OVERTIME)
    assert bought.plan is not None
    row = api.answer_values(answers, bought)
    assert row.late == ()
    assert row.extra_overtime_min == 180
    assert {one.term: one.change_cents for one in row.terms}["overtime"] == 9_000


def test_answers_are_heard_at_once_and_only_get_better() -> None:
    """Every answer is told as it is found; each is cheaper than the last of its kind."""
    heard: list[Answer] = []
    answers = small.ask(small.shop_inputs(8), small.rush(due=date(2026, 3, 2)), on_answer=heard.append)
    assert heard
    for kind in (KEEP, BEST):
        costs = [api.measure(one.week, one.plan).cost.total for one in heard if one.kind == kind and one.plan]
        assert costs == sorted(costs, reverse=True)
        assert answers.of(kind).plan == [one.plan for one in heard if one.kind == kind][-1]


def test_it_stops_when_asked_and_keeps_what_it_has() -> None:
    """A search with a minute to go ends at once when stopped, with the first answers."""
    began = time.monotonic()
    answers = small.ask(
        small.shop_inputs(8), small.rush(), settings=SearchSettings(seconds=60, workers=1), stop=lambda: True
    )
    assert time.monotonic() - began < 10
    assert answers.best is not None


def test_the_same_question_has_the_same_answers() -> None:
    """Counted instead of timed, two searches find the very same plans."""
    inputs = small.shop_inputs(8)
    one, other = (small.ask(inputs, small.rush(due=date(2026, 3, 2))) for _ in range(2))
    assert [answer.plan for answer in one.answers] == [answer.plan for answer in other.answers]


def test_a_plan_of_other_inputs_is_refused() -> None:
    """A plan that lacks a run, or has one too many, is no plan to stand on; the message says what to do."""
    with pytest.raises(InputError) as fault:
        small.ask(small.shop_inputs(2), small.rush(), plan=small.plan_of(small.shop_inputs(1)))
    (problem,) = fault.value.problems
    assert problem.code == "other_plan"
    assert "2 front light" in problem.message


@pytest.mark.parametrize(
    ("what_if", "run_id", "from_at"),
    [
        (BlanksMoved(order_id="2", at=shops.at(3, "10:00")), "2 front light", shops.at(3, "10:00")),
        (ArtMoved(order_id="2", at=shops.at(3, "10:00")), "2 front light", shops.at(3, "10:30")),
        (
            OutOfUse(kind="press", thing_id="auto-1", from_at=shops.at(2), to_at=shops.at(3, "09:00")),
            "1 front light",
            shops.at(3, "09:00"),
        ),
    ],
)
def test_what_comes_late_is_waited_for(what_if: BlanksMoved, run_id: str, from_at: object) -> None:
    """A run is not set up before its garments, its screens or its press are there."""
    answers = small.ask(small.shop_inputs(3), what_if)
    for one in answers.distinct:
        assert one.plan is not None
        assert one.week.clock.starts_at(one.plan.run[run_id].set_up_start_tau) >= from_at


def test_orders_that_shrink_or_go_cost_no_more() -> None:
    """A cancelled order leaves the plan; fewer pieces and a later date never make the best answer dearer."""
    inputs = small.shop_inputs(4)
    for what_if in (
        Cancelled(order_id="2"),
        PiecesChanged(order_id="2", pieces=100),
        DateMoved(order_id="2", due_at=date(2026, 3, 6)),
    ):
        answers = small.ask(inputs, what_if)
        best = answers.of(BEST)
        assert best.plan is not None
        assert api.answer_values(answers, best).extra_cents <= 0
        assert ("2" in best.plan.order) == (not isinstance(what_if, Cancelled))


def test_an_ink_that_is_used_up_is_waited_for_and_unknown_ones_leave_the_plan() -> None:
    """Runs with red wait until it comes; if nobody knows when, their orders wait with that reason; begun runs go on."""
    inputs = small.shop_inputs(2)
    answers = small.ask(inputs, InkOut(ink="red", at=shops.at(3, "09:00")))
    best = answers.of(BEST)
    assert best.plan is not None
    clock = best.week.clock
    assert all(clock.starts_at(run.set_up_start_tau) >= shops.at(3, "09:00") for run in best.plan.runs)
    unknown = small.ask(inputs, InkOut(ink="red", at=None))
    assert {reason for one in unknown.of(BEST).week.not_planned for reason in one.reasons} == {"waiting for red"}
    begun = small.ask(inputs, InkOut(ink="red", at=shops.at(3, "09:00")), now=shops.at(2, "09:00"))
    assert {(one.order_id, one.not_before) for one in begun.resolved} == {("2", shops.at(3, "09:00"))}


def test_a_torn_screen_is_burned_anew_for_the_next_run() -> None:
    """A set that stands burned is burned again, under a name of its own; one not burned yet costs a frame only."""
    inputs = small.shop_inputs(2)
    fresh = small.ask(inputs, ScreenBroken(design_id="2 front"))
    assert fresh.resolved == ()
    (classes,) = {one.coated_now + one.clean_now for one in fresh.of(BEST).week.frames if one.class_id.endswith("230")}
    assert classes == 29
    torn = small.ask(inputs, ScreenBroken(design_id="2 front", is_burned=True))
    best = torn.of(BEST)
    assert best.plan is not None
    assert best.week.run["2 front light"].set_id == "2 front again"
    assert best.plan.run["2 front light"].burn is not None


def test_a_reprint_has_the_screens_and_the_promise_of_its_order() -> None:
    """Twelve pieces again: an order of their own, the same set of screens, the same pick-up."""
    answers = small.ask(small.shop_inputs(2), Reprint(order_id="1", pieces=12))
    best = answers.of(BEST)
    assert answers.order_ids == ("1 again",)
    assert best.plan is not None
    again, first = best.week.run["1 again front light"], best.week.run["1 front light"]
    assert (again.set_id, again.pieces) == (first.set_id, 12)
    orders = best.week.order
    assert orders["1 again"].pickups_tau == orders["1"].pickups_tau
    assert sum(run.burn is not None for run in best.plan.runs if run.run_id.startswith("1")) == 1


def test_hours_without_a_price_are_half_as_dear_again_and_it_is_told() -> None:
    """An evening of two hours with two people costs six ordinary hours; that was assumed."""
    two = (shops.solo(), replace(shops.solo(), person_id="rui", name="Rui"))
    inputs = small.with_shop(small.shop_inputs(), people=two)
    answers = small.ask(inputs, HoursOpened(day=date(2026, 3, 2), from_min=1020, to_min=1140))
    (block,) = answers.answers[0].week.overtime
    assert block.price_cents == 2 * 2 * 2_400 * 3 // 2
    assert answers.told == ("2026-03-02: 2 people at 150 % of an ordinary hour, 144.00, assumed",)


def test_nothing_new_begins_before_now() -> None:
    """At eleven in the morning the rush and every run to come start at eleven or later; what has begun stays."""
    inputs = small.shop_inputs(5)
    plan, now = small.plan_of(inputs), shops.at(2, "11:10")
    answers = small.ask(inputs, small.rush(due=date(2026, 3, 2)), plan=plan, now=now)
    assert answers.distinct
    for one in answers.distinct:
        assert one.plan is not None
        for run in one.plan.runs:
            before = plan.run.get(run.run_id)
            if before is not None and before.set_up_start_tau < 190:
                assert run.set_up_start_tau == before.set_up_start_tau
            else:
                assert run.set_up_start_tau >= 190


def test_what_has_begun_has_its_art_and_garments() -> None:
    """Art or garments cannot come late to a print that has begun; for one that has not, they can."""
    inputs = small.shop_inputs(3)
    plan, now = small.plan_of(inputs), shops.at(2, "09:00")
    for what_if in (ArtMoved(order_id="1", at=shops.at(3)), BlanksMoved(order_id="1", at=shops.at(3))):
        with pytest.raises(InputError) as fault:
            small.ask(inputs, what_if, plan=plan, now=now)
        assert [one.code for one in fault.value.problems] == ["has_begun"]
        assert small.ask(inputs, replace(what_if, order_id="3"), plan=plan, now=now).distinct

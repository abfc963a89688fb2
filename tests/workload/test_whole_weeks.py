"""Whole typed weeks, planned by the decoder and read by the independent eye."""

from __future__ import annotations

import pytest

from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.workload.build import Workload, build_workload
from scheduler.workload.room_for import end_of_work
from tests.workload.random_inputs import random_inputs

SEEDS = range(24)


def _workload(seed: int) -> Workload:
    return build_workload(random_inputs(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_built_week_can_be_planned_without_breaking_a_rule(seed: int) -> None:
    """What is handed on as plannable is planned at once, and the plan breaks no rule."""
    week = _workload(seed).week
    planned = first_plan(week)
    assert isinstance(planned, Decoded)
    assert check(week, planned.plan) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_every_order_is_either_planned_or_told(seed: int) -> None:
    """No order is lost and none is both promised and refused."""
    inputs = random_inputs(seed)
    week = build_workload(inputs).week
    told = {one.order_id for one in week.not_planned}
    assert {order.order_id for order in week.orders} | told == {order.order_id for order in inputs.orders}
    started = {fixing.run_id for fixing in week.fixings if fixing.kind == "started"}
    for due in week.orders:
        if due.order_id in told:
            assert set(due.run_ids) <= started
    assert all(one.reasons and all(one.reasons) for one in week.not_planned)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_week_hangs_together(seed: int) -> None:
    """Every id a week speaks of is in it, minutes lie on the axis, parts sum to runs, pick-ups rise to the end."""
    week = _workload(seed).week
    for run in week.runs:
        assert run.choices
        assert run.set_id is None or run.set_id in week.screen_set
        assert set(run.print_after) <= set(week.run)
        assert 0 <= run.blanks_tau < week.horizon_tau
        for choice in run.choices:
            assert choice.press_id in week.press
            assert sum(choice.part_min) == choice.print_min
            assert len(choice.part_min) == len(run.parts)
            assert {head.ink_id for head in choice.stack.heads} <= set(week.ink)
            assert 0 <= choice.belt_permille <= 1000
            screens = week.screen_set[run.set_id].screen_ids if run.set_id else None
            assert screens is None or {head.screen_id for head in choice.stack.heads} <= set(screens)
    for due in week.orders:
        assert list(due.pickups_tau) == sorted(set(due.pickups_tau))
        assert due.pickups_tau[-1] == week.horizon_tau
        assert 0 <= due.must_leave < len(due.pickups_tau)
    _frames_hang_together(week)


def _frames_hang_together(week: Week) -> None:
    classes = {one.class_id for one in week.frames}
    blocks = {block.block_id: block for block in week.screen_room.reclaim_blocks} if week.screen_room else {}
    for one in week.sets:
        assert sum(count for _, count in one.frames) == one.screen_count
        assert {class_id for class_id, _ in one.frames} <= classes
    for block_id, class_id, count in week.early_reclaims:
        assert class_id in classes
        assert count <= blocks[block_id].places
    for person in week.people:
        assert all(window.end_tau <= week.horizon_tau for window in person.calendar.windows)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_typed_week_gives_the_same_week(seed: int) -> None:
    """Nothing depends on chance or on the order of a set."""
    assert _workload(seed) == _workload(seed)


def test_a_press_is_open_only_while_its_people_are_in() -> None:
    """Whenever a press is open in normal hours, somebody who can run it is in."""
    for seed in SEEDS:
        week = _workload(seed).week
        if not week.people:
            continue
        for press in week.presses:
            for window in press.calendar.with_bought(()).windows:
                for tau in {window.start_tau, (window.start_tau + window.end_tau) // 2, window.end_tau - 1}:
                    there = [
                        person
                        for person in week.people
                        if end_of_work(person.calendar.with_bought(()), tau, 1) == tau + 1
                    ]
                    booked = sum(one.count for one in week.reservations if one.start_tau <= tau < one.end_tau)
                    assert any(person.can("print", press.press_id) for person in there)
                    assert len(there) > booked

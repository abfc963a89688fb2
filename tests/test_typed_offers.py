"""Offers for which the week is made anew: evenings where orders are late, a faster flash where something is flashed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.insight.helps import what_helps
from scheduler.search.engine import plan_week
from scheduler.typed_offers import MOST_EVENINGS, typed_offers

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"


@pytest.fixture(scope="module")
def late_week() -> tuple[WeekInputs, Week, Plan]:
    """The mid-size week by its due-date list: some orders are late."""
    inputs = api.read_week(SCENARIOS / "midsize")
    week = api.build_workload(inputs).week
    listed = plan_week(week, SearchSettings(iterations=0)).baseline
    assert listed is not None
    plan = listed.plan
    assert plan is not None
    assert api.measure(week, plan).late_orders
    return inputs, week, plan


def test_evenings_are_offered_where_orders_are_late(late_week: tuple[WeekInputs, Week, Plan]) -> None:
    """Each evening opens two hours more at no price, and is bought from the start."""
    inputs, week, plan = late_week
    evenings = [offer for offer in typed_offers(inputs, week, plan) if offer.kind == "evening"]
    assert 0 < len(evenings) <= MOST_EVENINGS
    for offer in evenings:
        bought = [block for block in offer.week.overtime if block.block_id in offer.buys]
        assert bought
        assert all(block.price_cents == 0 for block in bought)
        assert sum(block.end_tau - block.start_tau for block in bought) == 120


def test_a_faster_flash_prints_faster(late_week: tuple[WeekInputs, Week, Plan]) -> None:
    """Two seconds less under the flash shorten some flashed run and lengthen none."""
    inputs, week, plan = late_week
    offer = next(offer for offer in typed_offers(inputs, week, plan) if offer.kind == "flash")
    pairs = [
        (choice.print_min, offer.week.run[run.run_id].on_press[choice.press_id].print_min)
        for run in week.runs
        for choice in run.choices
        if run.run_id in offer.week.run
    ]
    assert all(faster <= now for now, faster in pairs)
    assert any(faster < now for now, faster in pairs)


def test_a_week_that_keeps_its_promises_is_offered_no_evening(late_week: tuple[WeekInputs, Week, Plan]) -> None:
    """Where nobody is late an evening could save no late day."""
    inputs, week, plan = late_week
    easy = replace(week, orders=tuple(replace(order, must_leave=len(order.pickups_tau) - 1) for order in week.orders))
    assert [offer.kind for offer in typed_offers(inputs, easy, plan)] == ["flash"]


def test_typed_offers_are_tried_like_the_others(late_week: tuple[WeekInputs, Week, Plan]) -> None:
    """They stand in the same list, and none makes anything worse."""
    inputs, week, plan = late_week
    found = what_helps(week, plan, tries=5, more=typed_offers(inputs, week, plan))
    assert {"evening", "flash"} <= {one.kind for one in found.helps}
    assert all(one.saved_cents >= 0 for one in found.helps)

"""Taking a what-if back gives the first cost again; what only gives the shop more room never costs more."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta

import pytest

from scheduler import api
from scheduler.domain.answers import BEST
from scheduler.domain.orders import WeekInputs
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.domain.what_if import BlanksMoved, Cancelled, DateMoved, HoursOpened, WhatIf
from scheduler.model.solver_run import Task, solve_here
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.what_if.applying import edited
from tests.what_if import small
from tests.workload import shops

WEEKS = 100
FIRST = SearchSettings(iterations=0, workers=1)


def proven_cents(week: Week) -> int | None:
    """What the cheapest plan costs, proven; None where there is none."""
    found = first_plan(week)
    hint = found.plan if isinstance(found, Decoded) else None
    outcome = solve_here(Task(week=week, hint=hint, workers=1, deterministic_seconds=20.0, seconds=60.0))
    assert outcome.status in ("proven", "impossible")
    return outcome.cost_cents if outcome.status == "proven" else None


def tiny(seed: int) -> WeekInputs:
    """One to three orders of a few inks on one or two presses, some late, some waiting for garments."""
    rng = random.Random(seed)
    count = rng.randint(1, 3)
    inputs = small.shop_inputs(count)
    presses = (shops.press(set_up=small.SET_UP, set_up_crew=(("print", 1),)), shops.press("auto-2", stated_pcs_h=250))
    shop = replace(inputs.shop, presses=presses[: rng.randint(1, 2)], days_ahead=4)
    return replace(
        inputs,
        shop=shop,
        orders=tuple(replace(one, due_at=date(2026, 3, rng.choice((2, 2, 3)))) for one in inputs.orders),
        lots=tuple(
            replace(
                one,
                pieces=rng.choice((300, 900, 1500)),
                shade=rng.choice(("light", "dark")),
                blanks_at=shops.at(2, "12:00") if rng.random() < 0.3 else None,
            )
            for one in inputs.lots
        ),
        imprints=tuple(
            replace(one, inks=tuple(replace(one.inks[0], name=name) for name in rng.sample(("red", "blue", "gold"), 2)))
            for one in inputs.imprints
        ),
    )


def relaxing(seed: int, inputs: WeekInputs) -> WhatIf:
    """A what-if that can only help: an order off, a later date, garments now, an evening for nothing."""
    rng = random.Random(seed + 1000)
    order = rng.choice(inputs.orders)
    assert isinstance(order.due_at, date)
    return rng.choice(
        [
            Cancelled(order_id=order.order_id),
            DateMoved(order_id=order.order_id, due_at=order.due_at + timedelta(days=1)),
            BlanksMoved(order_id=order.order_id, at=inputs.shop.plan_from),
            HoursOpened(day=date(2026, 3, 2), from_min=1020, to_min=1140, price_cents=0),
        ]
    )


def test_a_relaxing_what_if_never_costs_more() -> None:
    """On a hundred tiny weeks the proven cheapest plan with the what-if is no dearer than the one without."""
    cheaper = 0
    for seed in range(WEEKS):
        inputs = tiny(seed)
        what_if = relaxing(seed, inputs)
        before = proven_cents(api.build_workload(inputs).week)
        after = proven_cents(api.build_workload(edited(inputs, [what_if]).inputs).week)
        assert before is not None
        assert after is not None
        assert after <= before, (seed, what_if)
        cheaper += after < before
    assert cheaper >= WEEKS // 10


@pytest.mark.parametrize("seed", range(6))
def test_taking_a_rush_back_gives_the_first_cost_again(seed: int) -> None:
    """Rush in, plan taken, rush cancelled: but for the moves the week costs what it cost at first, within its gap.

    Where the plan that stood before is known, the first answer already is no dearer than going back to it.
    """
    inputs = tiny(seed)
    week = api.build_workload(inputs).week
    outcome = solve_here(Task(week=week, workers=1, deterministic_seconds=20.0, seconds=60.0))
    assert outcome.status == "proven"
    assert outcome.plan is not None
    first = outcome.cost_cents
    rush = small.rush(due=date(2026, 3, 2))
    settings = SearchSettings(iterations=150, workers=1)
    squeezed = api.ask_what_if(inputs, outcome.plan, [rush], settings).of(BEST)
    assert squeezed.plan is not None
    with_rush = edited(inputs, [rush]).inputs
    back = api.ask_what_if(with_rush, squeezed.plan, [Cancelled(order_id="R")], settings).of(BEST)
    assert back.plan is not None
    cost = api.measure(back.week, back.plan).cost
    assert cost.total - cost.moves >= first
    found = api.measure(week, back.plan).cost.total
    assert found == cost.total - cost.moves
    known = [outcome.plan]
    again = api.ask_what_if(with_rush, squeezed.plan, [Cancelled(order_id="R")], FIRST, earlier=known).of(BEST)
    assert again.plan is not None
    there_and_back = api.measure(again.week, outcome.plan).cost
    assert there_and_back.total - there_and_back.moves == first
    assert api.measure(again.week, again.plan).cost.total <= there_and_back.total
    polished = solve_here(Task(week=week, hint=back.plan, workers=1, deterministic_seconds=20.0, seconds=60.0))
    assert polished.cost_cents == first

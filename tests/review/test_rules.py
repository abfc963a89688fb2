"""The table of rules as a whole: its names, and that no plan, however absurd, makes it fall over."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from scheduler.domain.plan import Burn, CoatBatch, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.week import Week
from scheduler.review.compare import compare
from scheduler.review.measures import measure
from scheduler.review.rules import RULES, check
from scheduler.roster.by_name import hand_overs, roster
from tests import builders as b
from tests.random_weeks import random_week

FAR = (-(10**12), -1000, -1, 0, 1, 100, 599, 600, 601, 2000, 10**6, 10**15)


def nonsense(week: Week, rng: random.Random) -> Plan:
    """A plan of times, ids and counts drawn without any regard to the week."""

    def tau() -> int:
        return rng.choice([rng.choice(FAR), rng.randrange(-100, week.horizon_tau + 100)])

    def name(known: list[str]) -> str:
        return rng.choice([*known, "nobody's", ""])

    runs, orders = [run.run_id for run in week.runs], [order.order_id for order in week.orders]
    inks = [ink.ink_id for ink in week.inks]

    def some_run() -> PlannedRun:
        return PlannedRun(
            run_id=name(runs),
            press_id=name([press.press_id for press in week.presses]),
            stage_start_tau=tau(),
            stage_end_tau=tau(),
            set_up_start_tau=tau(),
            set_up_end_tau=tau(),
            set_up_min=tau(),
            print_start_tau=tau(),
            print_end_tau=tau(),
            kept_inks=tuple(name(inks) for _ in range(rng.randrange(3))),
            burn=rng.choice(
                [None, Burn(start_tau=tau(), end_tau=tau(), dry_tau=tau(), tape_start_tau=tau(), tape_end_tau=tau())]
            ),
        )

    room = week.screen_room
    windows = [one.window_id for one in room.coat_windows] if room else []
    blocks = [one.block_id for one in room.reclaim_blocks] if room else []
    sets = [one.set_id for one in week.sets]
    classes = [one.class_id for one in week.frames]
    return Plan(
        runs=tuple(some_run() for _ in range(rng.randrange(7))),
        orders=tuple(
            PlannedOrder(order_id=name(orders), finish_start_tau=tau(), packed_tau=tau())
            for _ in range(rng.randrange(5))
        ),
        coat_batches=tuple(
            CoatBatch(window_id=name(windows), class_id=name(classes), count=tau()) for _ in range(rng.randrange(4))
        ),
        reclaims=tuple(
            Reclaim(set_id=name(sets), after_run_id=name(runs), block_id=name(blocks)) for _ in range(rng.randrange(4))
        ),
        overtime=tuple(name([block.block_id for block in week.overtime]) for _ in range(rng.randrange(3))),
    )


def test_the_table_names_every_rule_once() -> None:
    """Each rule is one function with a name of its own with a sentence and a formula."""
    names = [rule.__name__ for rule in RULES]
    assert len(set(names)) == len(names) >= 26
    assert all(len((rule.__doc__ or "").split("\n\n")) >= 2 for rule in RULES)


@pytest.mark.parametrize("seed", range(40))
def test_absurd_plans_are_refused_not_stumbled_over(seed: int) -> None:
    """Times off the axis, unknown ids and missing runs are violations; nothing raises, every message is a sentence."""
    week, rng = random_week(seed), random.Random(seed)
    for _ in range(5):
        plan = nonsense(week, rng)
        found = check(week, plan)
        assert "every_run_once" in {one.rule for one in found}
        assert all(one.message and one.rule for one in found)
        measure(week, plan)
        hand_overs(roster(week, plan))
        compare(week, plan, nonsense(week, rng), week_b=random_week(seed + 1))


def test_an_absurd_plan_of_a_bare_shop_is_refused() -> None:
    """A shop without screen room, people, staging or packing is checked as well."""
    week, rng = b.week(), random.Random(1)
    for _ in range(50):
        plan = nonsense(week, rng)
        assert check(week, plan)
        measure(week, plan)
        assert roster(week, plan) == ()


def test_an_empty_plan_breaks_one_rule_only() -> None:
    """Where nothing is planned, only what is left out can be wrong."""
    found = check(random_week(3), Plan(runs=(), orders=()))
    assert {one.rule for one in found} == {"every_run_once"}


def test_a_good_plan_breaks_nothing() -> None:
    """One run, staged, burned, printed and packed by the book."""
    week = b.week(
        runs=[b.run(set_id="s1", choices=[b.choice(on=b.stack(("s1.1", "white"), ("s1.2", "red"), set_id="s1"))])],
        orders=[b.order_due(finish_min=20, last_box_min=5)],
        sets=[b.screen_set()],
        frames=[b.frame_stock(coated_now=2)],
        screen_room=b.screen_room(),
        staging=b.floor_line(minutes=10),
        finishing=b.floor_line(),
    )
    run = b.planned_run(at=110, stage=(100, 110), burn=b.planned_burn(0))
    plan = b.plan(run, orders=[b.planned_order(start=155, packed=175)])
    assert check(week, plan) == ()
    assert {one.rule for one in check(week, replace(plan, orders=()))} == {"every_run_once"}

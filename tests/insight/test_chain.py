"""Why an order ends when it does: chains without a gap, each kind of wait by hand, and words a planner would use."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.insight.chain import CLOSED, WAIT, WORK, Link, chain, chain_reader, sentence
from scheduler.search.engine import plan_week
from tests.builders import (
    choice,
    coat_window,
    every_day,
    floor_line,
    frame_stock,
    order_due,
    person,
    plan,
    planned_order,
    planned_run,
    press_line,
    run,
    screen_room,
    screen_set,
    week,
)
from tests.random_weeks import random_week

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
COUNTED = SearchSettings(iterations=0)


def planned(one: Week) -> Plan:
    """The week's plan."""
    found = plan_week(one, COUNTED).plan
    assert found is not None
    return found


def told(one: Week, order_id: str = "or1") -> list[tuple[str, str, int]]:
    """The chain of an order as (kind, words, minutes)."""
    return [(link.kind, link.what, link.minutes) for link in chain(one, planned(one), order_id)]


def assert_adds_up(plan: Plan, order_id: str, links: tuple[Link, ...]) -> None:
    """The stretches run from the planning moment to the packing without a gap or an overlap."""
    packed_tau = plan.order[order_id].packed_tau
    assert sum(link.minutes for link in links) == packed_tau
    if packed_tau:
        assert (links[0].start_tau, links[-1].end_tau) == (0, packed_tau)
    assert all(before.end_tau == after.start_tau for before, after in pairwise(links))


@pytest.mark.parametrize("name", ["solo", "midsize", "contract"])
def test_every_chain_of_the_invented_weeks_adds_up(name: str) -> None:
    """Every order of the three weeks is accounted for to the minute, mostly by work."""
    one = api.build_workload(api.read_week(SCENARIOS / name)).week
    plan = planned(one)
    read = chain_reader(one, plan)
    work = waits = 0
    for order in plan.orders:
        links = read(order.order_id)
        assert_adds_up(plan, order.order_id, links)
        work += sum(link.minutes for link in links if link.kind == WORK)
        waits += sum(link.minutes for link in links if link.kind == WAIT)
    assert work > waits


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_chains_of_random_weeks_add_up(first: int) -> None:
    """Whatever a shop has, the chain of each order has no gap."""
    tried = 0
    for seed in range(first, first + 20):
        one = random_week(seed)
        plan = plan_week(one, COUNTED).plan
        if plan is None:
            continue
        read = chain_reader(one, plan)
        for order in plan.orders:
            assert_adds_up(plan, order.order_id, read(order.order_id))
            tried += 1
    assert tried > 40


def test_behind_another_run() -> None:
    """The second run of a press waits for the first."""
    one = week(runs=[run("r1"), run("r2")])
    plan = planned(one)
    last = max(plan.orders, key=lambda order: order.packed_tau).order_id
    first = min(plan.orders, key=lambda order: order.packed_tau).order_id
    assert [what for _, what, _ in told(one, last)] == [f"printing {first} front on P1", f"printing {last} front on P1"]


def test_garments_that_come_late() -> None:
    """Until the garments are in nothing can be done."""
    one = week(runs=[run(blanks_tau=100)])
    assert told(one) == [
        (WAIT, "until the garments of or1 are in", 100),
        (WORK, "printing or1 front on P1", 60),
    ]


def test_work_over_a_break_is_told_with_it() -> None:
    """A print that pauses over lunch is two stretches of work and a closed one."""
    hours = every_day(breaks=[(40, 30)])
    one = week(runs=[run()], presses=[press_line(calendar=hours), press_line("P2")])
    assert told(one) == [
        (WORK, "printing or1 front on P1", 40),
        (CLOSED, "P1 closed", 30),
        (WORK, "printing or1 front on P1", 20),
    ]


def test_screens_hang_on_frames_that_must_be_coated() -> None:
    """With no coated frame the burn waits for the next coating, and the set-up for the screens."""
    one = week(
        runs=[run(set_id="s1", choices=[choice()])],
        sets=[screen_set()],
        frames=[frame_stock(coated_now=0)],
        screen_room=screen_room(coat_windows=(coat_window(),)),
    )
    assert [(kind, what.split(",")[0], minutes) for kind, what, minutes in told(one)] == [
        (WAIT, "until the next coating", 480),
        (WORK, "coating 23x31/156 frames", 60),
        (WORK, "burning the screens of or1 front", 30),
        (WORK, "screens of or1 front drying", 60),
        (WORK, "taping the screens of or1 front", 10),
        (WORK, "printing or1 front on P1", 60),
    ]


def test_enough_coated_frames_are_no_reason() -> None:
    """Frames that hang coated hold nothing up, although a coating ends before the burn as well."""
    one = week(
        runs=[run(set_id="s1", art_tau=540, choices=[choice()])],
        sets=[screen_set()],
        frames=[frame_stock(coated_now=2)],
        screen_room=screen_room(coat_windows=(coat_window(),)),
    )
    assert told(one)[0] == (WAIT, "until the art of or1 is in", 540)


def test_one_printer_for_two_presses() -> None:
    """A free press still waits while its only printer works at the other one."""
    crew = (("print", 1),)
    one = week(
        runs=[run("r1", choices=[choice("P1")]), run("r2", choices=[choice("P2")])],
        presses=[press_line("P1", run_crew=crew), press_line("P2", run_crew=crew)],
        people=[person()],
    )
    plan = planned(one)
    first, last = sorted(plan.orders, key=lambda order: order.packed_tau)
    words = [what for _, what, _ in told(one, last.order_id)]
    assert words[0].startswith(f"printing {first.order_id} front")
    assert words[1].startswith(f"printing {last.order_id} front")


def test_a_full_belt() -> None:
    """A run that needs the whole belt waits for the one that lies on it."""
    one = week(
        runs=[
            run("r1", choices=[choice("P1", belt_permille=700)]),
            run("r2", choices=[choice("P2", belt_permille=700)]),
        ],
        presses=[press_line("P1", dryer_id="dryer"), press_line("P2", dryer_id="dryer")],
    )
    plan = planned(one)
    first, last = sorted(plan.orders, key=lambda order: order.packed_tau)
    words = [what for _, what, _ in told(one, last.order_id)]
    assert words[0].startswith(f"printing {first.order_id} front")
    assert len(words) == 2


def test_packing_that_another_order_holds() -> None:
    """One packer packs one order at a time."""
    one = week(
        runs=[run("r1", choices=[choice("P1", print_min=10)]), run("r2", choices=[choice("P2", print_min=10)])],
        orders=[order_due(f"or{n}", (f"r{n}",), finish_min=40, last_box_min=5) for n in (1, 2)],
        presses=[press_line("P1"), press_line("P2")],
        finishing=floor_line(crew=(("pack", 1),)),
        people=[person(roles=["pack"])],
    )
    plan = planned(one)
    first, last = sorted(plan.orders, key=lambda order: order.packed_tau)
    words = [what for _, what, _ in told(one, last.order_id)]
    assert words[-2:] == [f"packing {first.order_id}", f"packing {last.order_id}"]


def test_the_last_box_ends_an_order() -> None:
    """Where nothing is packed the order ends with its last piece through the dryer and boxed."""
    one = week(runs=[run(cure_min=3)], orders=[order_due(last_box_min=5)])
    assert told(one) == [
        (WORK, "printing or1 front on P1", 60),
        (WORK, "or1 front through the dryer", 3),
        (WORK, "or1: last box", 5),
    ]


def test_the_second_print_waits_for_the_first_to_rest() -> None:
    """Garments that come from another press hold the second print; its set-up is no reason."""
    one = week(
        runs=[
            run("r1", order_id="or1", lots=["lot"], choices=[choice("P1")], cure_min=2, between_min=20),
            run(
                "r2",
                order_id="or1",
                lots=["lot"],
                location="back",
                choices=[choice("P2", stated_set_up_min=15)],
                print_after=("r1",),
            ),
        ],
        presses=[press_line("P1"), press_line("P2")],
    )
    assert told(one) == [
        (WORK, "printing or1 front on P1", 60),
        (WORK, "or1 front curing and resting", 22),
        (WORK, "printing or1 back on P2", 60),
    ]


def test_a_sentence_names_the_longest_first_in_time() -> None:
    """The sentence tells at most so many reasons, in the order in which they happened, and owns up to the rest."""
    one = week(runs=[run(blanks_tau=100, cure_min=3)], orders=[order_due(last_box_min=5)])
    links = chain(one, planned(one), "or1")
    assert sentence(one, one.order["or1"], links, most=2) == (
        "or1 is packed Mon 2 Mar 10:48: 1 h 40 until the garments of or1 are in, then 1 h printing or1 front on P1, "
        "and 8 min of shorter steps and closed hours"
    )


def test_an_order_the_plan_does_not_hold() -> None:
    """Asking for an unknown order is an error, not an empty answer."""
    one = week()
    with pytest.raises(KeyError):
        chain(one, planned(one), "nobody's")


@pytest.mark.parametrize(("covers", "is_told"), [(1, True), (2, False)])
def test_two_presses_of_one_lead_are_not_in_each_others_way(covers: int, is_told: bool) -> None:
    """What ran before under a lead who could have watched both is no reason; under one who watches one press it is."""
    crew = (("lead", 1),)
    one = week(
        runs=[run("r1", choices=[choice("P1")]), run("r2", choices=[choice("P2")])],
        presses=[press_line("P1", run_crew=crew), press_line("P2", run_crew=crew)],
        people=[person(roles=("lead",))],
        lead_covers=covers,
    )
    made = plan(
        planned_run("r1"),
        planned_run("r2", press_id="P2", at=60),
        orders=[planned_order("or1", packed=60), planned_order("or2", packed=120)],
    )
    links = chain(one, made, "or2")
    assert_adds_up(made, "or2", links)
    assert any("r1" in link.what for link in links if link.kind == WORK) is is_told

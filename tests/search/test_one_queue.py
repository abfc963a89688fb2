"""All queues of one press: no plan is sooner or cheaper than told, no order cheaper; cut short, it still holds."""

import random
from dataclasses import replace
from itertools import combinations, permutations

import numpy as np
import pytest

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search import one_queue
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.engine import plan_week
from scheduler.search.genome import Genome
from scheduler.search.one_queue import OneQueue, is_one_queue
from scheduler.search.pricing import price
from scheduler.search.proof import exact
from scheduler.search.queue_hours import LATER, QueueHours
from scheduler.search.queue_steps import FIRST
from scheduler.search.queue_week import NO_PLAN_CENTS
from scheduler.search.solve import Task, solve_here
from scheduler.search.tables import tables_of
from scheduler.search.timing import NEVER
from tests.benchmarks.weeks import LOADS, benchmark_inputs
from tests.builders import choice, hours, ink, order_due, overtime, press_line, run, stack, week
from tests.random_weeks import random_week
from tests.search.genomes import lock_some, random_genome


def on_one_press(one: Week) -> Week | None:
    """The week with all runs on its first press, None where that does not print them all."""
    press_id = one.presses[0].press_id
    runs = tuple(replace(r, choices=tuple(c for c in r.choices if c.press_id == press_id)) for r in one.runs)
    return replace(one, runs=runs) if all(r.choices for r in runs) else None


def passes_by(one: Week, plan: Plan) -> None:
    """Follow a plan's queue: told no later than it is, and never more than the whole costs."""
    tables = tables_of(one)
    search = OneQueue(tables)
    queue = one_queue._Queue(search, frozenset(plan.overtime))
    paid_cents = sum(tables.overtime_cents[block_id] for block_id in plan.overtime)
    cost_cents = sum(price(one, plan).values()) - paid_cents
    ways = one_queue._Ways(*(np.array([number]) for number in (0, FIRST, 0, search.burns_cents, 0, 0, 0)))
    assert queue._least(ways)[0] <= cost_cents
    for planned in plan.queue[one.presses[search.press].press_id]:
        number, burned_min = tables.run_number[planned.run_id], queue.week.burn_min(ways.done)
        from_tau = queue.week.set_up_from(number, ways.done, burned_min)
        assert from_tau[0] <= planned.set_up_start_tau
        ways = queue._set_up(ways, from_tau, number, queue.week.people_by(ways.done))
        assert ways.free_tau[0] <= planned.print_end_tau
        assert queue._least(ways)[0] <= cost_cents
    assert ways.done[0] == 2 ** len(tables.runs) - 1


def followed(one: Week, rng: random.Random, times: int) -> list[Plan]:
    """Plans of random genomes, each followed."""
    decoder = Decoder(one)
    found = [decoder.decode(random_genome(one, rng)) for _ in range(times)]
    plans = [made.plan for made in found if isinstance(made, Decoded)]
    for plan in plans:
        passes_by(one, plan)
    return plans


@pytest.mark.parametrize("first", range(0, 40, 20))
@pytest.mark.parametrize(("size", "runs"), [("tiny", None), ("small", 8)])
def test_no_plan_is_sooner_or_cheaper(first: int, size: str, runs: int | None) -> None:
    """Random weeks of every kind, with runs locked, announced and started too."""
    tried = 0
    for seed in range(first, first + 20):
        one, rng = on_one_press(random_week(seed, size=size, run_count=runs)), random.Random(seed)
        if one is None or not is_one_queue(tables_of(one)):
            continue
        plans = followed(one, rng, 3)
        tried += len(plans)
        if plans:
            locked = lock_some(one, plans[0], rng)
            tried += len(followed(locked, rng, 2)) if is_one_queue(tables_of(locked)) else 0
    assert tried >= 25


@pytest.mark.parametrize("load", sorted(LOADS))
def test_no_plan_of_a_typed_week_is_sooner_or_cheaper(load: str) -> None:
    """Invented weeks as a shop types them: kept inks, inks that dry, screens to burn, overtime."""
    for seed in (1, 2):
        one = api.build_workload(benchmark_inputs(14, load, seed)).week
        assert followed(one, random.Random(seed), 6)


def test_no_proven_plan_is_cheaper() -> None:
    """What the exact model proves to be cheapest is no cheaper than what is told, and more often than not the same."""
    proven = same = 0
    for seed in range(32):
        one = on_one_press(random_week(seed, size="tiny"))
        if one is None or not is_one_queue(tables_of(one)):
            continue
        best = solve_here(Task(week=one, seconds=20.0))
        if best.status == "proven" and best.cost_cents is not None:
            look = OneQueue(tables_of(one)).best(NO_PLAN_CENTS)
            assert look.bound_cents <= best.cost_cents
            proven, same = proven + 1, same + (look.bound_cents == best.cost_cents)
    assert proven >= 16
    assert same >= 0.6 * proven


@pytest.mark.parametrize("seed", range(4))
def test_no_order_of_all_is_cheaper(seed: int) -> None:
    """Every order of six runs, with and without overtime, decoded: the cheapest is among those handed out."""
    typed = api.build_workload(benchmark_inputs(6, "full", seed)).week
    decoder, blocks = Decoder(typed), [block.block_id for block in typed.overtime]
    costs = []
    for order in permutations(typed.run):
        for bought in (some for count in range(len(blocks) + 1) for some in combinations(blocks, count)):
            found = decoder.decode(Genome(order=order, overtime=frozenset(bought)))
            costs += [found.cost_cents] if isinstance(found, Decoded) else []
    look = OneQueue(tables_of(typed)).best(NO_PLAN_CENTS)
    made = [decoder.decode(genome) for genome in look.genomes]
    best_cents = min(one.cost_cents for one in made if isinstance(one, Decoded))
    assert look.bound_cents <= min(costs)
    assert best_cents == min(costs)


@pytest.mark.parametrize("idle_ok_min", [-1, 20, 60])
def test_all_minutes_at_once_are_each_minute_alone(idle_ok_min: int) -> None:
    """Ends of prints over lunch and nights, rinsed out or not, are those of the decoder's hours."""
    line = press_line("P0", calendar=hours((0, 240), (240, 480), (480, 720), (720, 960)))
    dries = ink("W", idle_ok_min=idle_ok_min) if idle_ok_min >= 0 else ink("W")
    one = week(
        runs=[run("r", order_id="o", choices=[choice("P0", print_min=300, on=stack(("s", "W")), wash_up_min=7)])],
        orders=[order_due("o", ["r"])],
        presses=[line],
        inks=[dries],
    )
    tables = tables_of(one)
    spec, offer = tables.runs[0], tables.runs[0].choices[0]
    row = QueueHours(tables, 0, frozenset())
    ends = row._print_ends(spec, offer)
    for at in range(row.prints.total):
        if spec.idle_ok_min < 0:
            index = row.prints.print_end(at, offer.work_min)
        else:
            rinse, again = offer.wash_up_min, offer.re_ink_min
            index = row.prints.rinsed_print_end(at, offer.work_min, spec.idle_ok_min, rinse, again).end_index
        assert ends[at] == (LATER if index >= NEVER else row.prints.end(index))


def test_a_set_up_that_spares_an_ink_is_found() -> None:
    """Three runs of two inks on four heads: white stays beside the red run, where the order allows it."""
    minutes = SetUpMinutes(load_min=10, clean_light_min=20, card_min=2)
    offers = [("a", "W"), ("b", "R"), ("c", "W")]
    one = week(
        runs=[run(name, order_id=name, choices=[choice("P0", on=stack((name, used)))]) for name, used in offers],
        orders=[order_due(name, [name], pickups_tau=(5000,)) for name, _ in offers],
        presses=[press_line("P0", set_up=minutes, head_count=4, set_up_cents_per_min=1)],
        inks=[ink("W"), ink("R")],
    )
    look = OneQueue(tables_of(one)).best(NO_PLAN_CENTS)
    made = [Decoder(one).decode(genome) for genome in look.genomes]
    assert look.bound_cents == min(found.cost_cents for found in made if isinstance(found, Decoded))


def test_overtime_is_bought_where_it_pays() -> None:
    """An evening hour makes room for the second run if it costs less than being late."""
    press = press_line("P0", calendar=hours((0, 480), (480, 600, "late Mon"), (600, 1080)))
    for price_cents, cents in ((400, 400), (1000, 900)):
        one = week(
            runs=[run(f"r{i}", order_id=f"o{i}", choices=[choice("P0", print_min=290)]) for i in range(2)],
            orders=[order_due(f"o{i}", [f"r{i}"], pickups_tau=(580, 1080), late_cents=900) for i in range(2)],
            presses=[press],
            overtime=[overtime(end=600, price_cents=price_cents)],
        )
        assert OneQueue(tables_of(one)).best(NO_PLAN_CENTS).bound_cents == cents


def test_cut_short_it_still_holds() -> None:
    """Stopped at once, or after a few ways, it proves less and hands out nothing."""
    one = api.build_workload(benchmark_inputs(12, "overloaded", 1)).week
    tables = tables_of(one)
    whole = OneQueue(tables).best(NO_PLAN_CENTS)
    for cut in (
        OneQueue(tables, stop=lambda: True).best(NO_PLAN_CENTS),
        OneQueue(tables, most_ways=50).best(NO_PLAN_CENTS),
    ):
        assert 0 < cut.bound_cents <= whole.bound_cents
        assert cut.genomes == ()
    assert whole.genomes


def test_stopped_among_choices_of_overtime_it_still_holds() -> None:
    """What overtime would save is not known while some choices of it are not gone through."""
    tables = tables_of(api.build_workload(benchmark_inputs(10, "overloaded", 1)).week)
    whole = OneQueue(tables).best(NO_PLAN_CENTS)

    def cut(turns: int) -> int:
        asked = iter(range(10**9))
        return OneQueue(tables, stop=lambda: next(asked) >= turns).best(NO_PLAN_CENTS).bound_cents

    bounds = [cut(turns) for turns in (1, 30, 100, 200, 10**6)]
    assert 0 < min(bounds) < whole.bound_cents
    assert max(bounds) == bounds[-1] == whole.bound_cents


def test_nothing_above_a_known_plan_is_proven() -> None:
    """Told a plan's cost, it says no more than that."""
    tables = tables_of(api.build_workload(benchmark_inputs(8, "full", 1)).week)
    whole = OneQueue(tables).best(NO_PLAN_CENTS).bound_cents
    assert OneQueue(tables).best(whole - 5).bound_cents == whole - 5
    assert OneQueue(tables).best(whole + 1).bound_cents == whole


def test_two_presses_are_not_one_queue() -> None:
    """Runs that may go to either of two presses are left to others."""
    both = [choice("P0"), choice("P1")]
    one = week(
        runs=[run("r", order_id="o", choices=both)],
        orders=[order_due("o", ["r"])],
        presses=[press_line("P0"), press_line("P1")],
    )
    assert not is_one_queue(tables_of(one))


@pytest.mark.parametrize("load", sorted(LOADS))
def test_twelve_runs_are_planned_at_the_least_cost(load: str) -> None:
    """A week of one press and twelve runs ends with a plan that is proven, soon."""
    one = api.build_workload(benchmark_inputs(12, load, 2)).week
    found = plan_week(one, SearchSettings(seconds=60.0, seed=1), improver=exact)
    assert found.status == "proven"
    assert found.cost_cents == found.lower_bound_cents


def test_more_inks_than_are_told_apart() -> None:
    """Seventy inks on twelve runs: still no plan is sooner or cheaper."""
    minutes = SetUpMinutes(mount_min=3, load_min=6, clean_light_min=4, card_min=2)
    rng = random.Random(5)
    names = [f"ink {number}" for number in range(70)]
    used = [rng.sample(names, 6) for _ in range(12)]
    one = week(
        runs=[
            run(
                f"r{i}",
                order_id=f"o{i}",
                choices=[choice("P0", on=stack(*((f"{i} {ink_id}", ink_id) for ink_id in some)))],
            )
            for i, some in enumerate(used)
        ],
        orders=[order_due(f"o{i}", [f"r{i}"], pickups_tau=(5000,)) for i in range(12)],
        presses=[press_line("P0", set_up=minutes, head_count=10, set_up_cents_per_min=1)],
        inks=[ink(name) for name in names],
    )
    assert len(followed(one, rng, 20)) == 20
    assert OneQueue(tables_of(one), most_ways=500).best(NO_PLAN_CENTS).bound_cents > 0


def test_without_memory_the_plan_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """No memory for all those ways: the search goes on without them."""

    def starved(*_: object) -> None:
        raise MemoryError

    monkeypatch.setattr(OneQueue, "best", starved)
    one = api.build_workload(benchmark_inputs(8, "full", 1)).week
    plain, found = (plan_week(one, SearchSettings(iterations=300, seed=1), improver=how) for how in (None, exact))
    assert found.plan is not None
    assert 0 < found.lower_bound_cents <= found.cost_cents <= plain.cost_cents

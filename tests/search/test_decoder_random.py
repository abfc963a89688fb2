"""Random weeks and random genomes: every plan keeps every rule and costs what it says, again and again."""

import random
from dataclasses import replace
from itertools import pairwise

import pytest

from scheduler.domain.week import AnnouncedRun, Week
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search.decoder import Decoded, Decoder, Progress, Refused
from scheduler.search.genome import Genome, genes_of, genome_of
from scheduler.search.pricing import genome_from, price
from tests.random_weeks import plain_week, random_week
from tests.search.genomes import lock_some, random_genome


def hold_to_the_rules(one: Week, found: Decoded) -> None:
    """No rule is broken and every cost term is the checker's, to the cent."""
    made = found.plan
    assert check(one, made) == ()
    independent = cost(one, made)
    assert found.terms == {name: getattr(independent, name) for name in found.terms}
    assert price(one, made) == found.terms
    assert sum(found.terms.values()) == found.cost_cents


@pytest.mark.parametrize("size", ["tiny", "small", "medium"])
@pytest.mark.parametrize("block", range(5))
def test_every_plan_keeps_every_rule(size: str, block: int) -> None:
    """Whatever the genome says, a decoded plan passes the independent checker."""
    rng = random.Random(f"{size} {block}")
    plans = 0
    for seed in range(block * 30, block * 30 + (10 if size == "medium" else 30)):
        one = random_week(seed, size=size)
        decoder = Decoder(one)
        for _ in range(2):
            found = decoder.decode(random_genome(one, rng))
            if isinstance(found, Decoded):
                hold_to_the_rules(one, found)
                plans += 1
    assert plans >= (5 if size == "medium" else 45)


@pytest.mark.parametrize("block", range(4))
def test_plans_around_locks_keep_every_rule(block: int) -> None:
    """Runs locked where an earlier plan had them stay, and the others find places before, between and after them."""
    rng = random.Random(block)
    plans = between = 0
    for seed in range(block * 25, block * 25 + 25):
        one = random_week(seed)
        first = Decoder(one).decode(Genome(order=tuple(one.run)))
        if isinstance(first, Refused):
            continue
        locked = lock_some(one, first.plan, rng)
        decoder = Decoder(locked)
        for _ in range(3):
            found = decoder.decode(random_genome(locked, rng))
            if isinstance(found, Decoded):
                hold_to_the_rules(locked, found)
                plans += 1
                between += any(
                    later.run_id in locked.fixing and earlier.run_id not in locked.fixing
                    for queue in found.plan.queue.values()
                    for earlier, later in pairwise(queue)
                )
    assert plans >= 40
    assert between >= 10


def test_the_same_genome_gives_the_same_plan() -> None:
    """A fresh decoder and a used one agree, whatever was decoded before."""
    rng = random.Random(5)
    for seed in range(12):
        one = random_week(seed)
        genomes = [random_genome(one, rng) for _ in range(5)]
        used = Decoder(one)
        for genome in genomes:
            used.decode(genome)
        for genome in genomes:
            again, fresh = used.decode(genome), Decoder(one).decode(genome)
            assert isinstance(again, Decoded) is isinstance(fresh, Decoded)
            if isinstance(again, Decoded) and isinstance(fresh, Decoded):
                assert again.plan == fresh.plan


def test_a_limit_ends_a_decoding_only_if_the_plan_is_dearer() -> None:
    """At its own cost less overtime a plan is decoded to the end; a cent below it is not."""
    rng = random.Random(6)
    limited = 0
    for seed in range(40):
        one = random_week(seed)
        decoder = Decoder(one)
        genes = genes_of(decoder.tables, random_genome(one, rng))
        found = decoder.decode_genes(genes)
        if isinstance(found, Refused):
            continue
        assert found.state.least_left == 0
        limit_cents = found.cost_cents - found.terms["overtime"]
        for cents, ends in ((limit_cents, False), (limit_cents - 1, True)):
            begun = decoder.begin(genes)
            assert isinstance(begun, Progress)
            assert isinstance(decoder.finish(genes, begun, cents), Refused) is ends
        limited += 1
    assert limited >= 20


def test_a_genome_by_numbers_is_the_same_genome() -> None:
    """Numbering and naming are inverse to each other once nested overtime is completed."""
    one = random_week(3)
    decoder = Decoder(one)
    rng = random.Random(1)
    for _ in range(20):
        genes = genes_of(decoder.tables, random_genome(one, rng))
        assert genes_of(decoder.tables, genome_of(decoder.tables, genes)) == genes


def test_a_plan_leads_back_to_a_plan_of_the_same_queues() -> None:
    """The genome read off a decoded plan keeps its presses, and mostly its cost."""
    same = 0
    for seed in range(30):
        one = random_week(seed)
        decoder = Decoder(one)
        first = decoder.decode(Genome(order=tuple(one.run)))
        if isinstance(first, Refused):
            continue
        again = decoder.decode(genome_from(one, first.plan))
        if isinstance(again, Decoded):
            assert {r.run_id: r.press_id for r in again.plan.runs} == {r.run_id: r.press_id for r in first.plan.runs}
            same += again.cost_cents == first.cost_cents
    assert same >= 15


def test_a_released_set_may_not_be_used_before_its_reclaim() -> None:
    """A free run is not slipped in before a fixed use whose reclaim is booked: its order is not packed yet."""
    one = plain_week(141)
    genome = Genome(
        order=("r3", "r4", "r2", "r5", "r1"),
        press=("press-2", "press-1", None, "press-2", "press-1"),
        release=frozenset({"r2", "r5", "r3"}),
        waits=frozenset({"r2", "r5", "r1"}),
    )
    found = Decoder(one).decode(genome)
    assert isinstance(found, Decoded)
    hold_to_the_rules(one, found)


def test_announced_runs_stay_where_a_plan_had_them() -> None:
    """Announcing a plan's own places and decoding its own genome moves nothing that stays within half an hour."""
    one = random_week(8)
    first = Decoder(one).decode(Genome(order=tuple(one.run)))
    assert isinstance(first, Decoded)
    told = tuple(
        AnnouncedRun(run_id=run.run_id, press_id=run.press_id, set_up_start_tau=run.set_up_start_tau)
        for run in first.plan.runs
    )
    again = Decoder(replace(one, announced=told)).decode(Genome(order=tuple(one.run)))
    assert isinstance(again, Decoded)
    assert again.terms["moves"] == 0

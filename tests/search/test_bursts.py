"""The walk in bursts: where it stands and the best it met are what the decoder says of their genes."""

from collections import Counter

import pytest

from scheduler.search.construction import due_date_list
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.local import Annealing, Counted
from scheduler.search.quick.trials import Trials
from scheduler.search.tables import Tables
from scheduler.workload.build import build_workload
from tests.benchmarks.genomes import CoreSeconds
from tests.benchmarks.weeks import benchmark_inputs
from tests.random_weeks import random_week
from tests.search.bursting import LATE_WEIGHT, TAKE_ALL, bursts_agree, bursts_agree_around_locks, guide_of, put_on
from tests.search.trying import run_uncompiled


@pytest.mark.parametrize(("size", "weeks", "least"), [("tiny", 30, 40), ("small", 40, 100), ("medium", 12, 12)])
def test_bursts_stand_where_they_say(size: str, weeks: int, least: int) -> None:
    """Guide value, packing and the best plan are the decoder's to the cent and the minute after every burst."""
    assert sum(bursts_agree(random_week(seed, size=size), seed, 4) for seed in range(weeks)) >= least


@pytest.mark.parametrize(("size", "least"), [("small", 60), ("medium", 8)])
def test_bursts_walk_around_fixed_runs(size: str, least: int) -> None:
    """With runs that stay where they are, too."""
    assert sum(bursts_agree_around_locks(seed, 4, size=size) for seed in range(30)) >= least


def test_uncompiled_bursts_agree_too() -> None:
    """The very same functions, not compiled."""
    assert int(run_uncompiled("-m tests.search.bursting")) >= 20


def test_a_walk_whose_rows_are_too_short_goes_on_in_longer_ones() -> None:
    """Where the floor has no room for one more event, the change is dropped and the rows are made longer."""
    one = build_workload(benchmark_inputs(12, "full", 1)).week
    decoder = Decoder(one)
    begun = put_on(decoder, genes_of(decoder.tables, due_date_list(one)), 1)
    assert begun is not None
    bursts, found = begun
    whole = len(bursts.plan.s)
    bursts.plan.s = bursts.plan.s[: bursts.trials.used(bursts.plan)].copy()
    bursts.make_rows()
    short = len(bursts.plan.s)
    guide, moved = guide_of(found), set()
    for _ in range(6):
        guide, _ = bursts.run(guide, TAKE_ALL, LATE_WEIGHT)
        moved.add(bursts.genes().order)
    assert short < whole
    assert len(bursts.plan.s) > short
    assert len(moved) > 2
    now = decoder.decode_genes(bursts.genes())
    assert isinstance(now, Decoded)
    assert guide == pytest.approx(guide_of(now))


def _changed(tables: Tables, was: Genes, now: Genes) -> str:
    """Which part of the genes a single change touched, after a look at whether it may be so."""
    assert sorted(now.order) == list(range(len(tables.runs)))
    assert now.bought == was.bought
    pressed = [n for n, press in enumerate(now.press) if press != was.press[n]]
    assert all(now.press[n] in (-1, *tables.runs[n].by_press) for n in pressed)
    flags = {
        "release": was.release ^ now.release,
        "waits": was.waits ^ now.waits,
        "stands": was.stands ^ now.stands,
        "later": {n for n, tau in enumerate(now.later) if tau != was.later[n]},
    }
    touched = [name for name, numbers in flags.items() if numbers]
    if now.order != was.order or pressed:
        assert not touched
        assert len(pressed) <= (1 if now.order == was.order else 3)
        return "order" if now.order != was.order else "press"
    assert len(touched) <= 1
    assert sum(len(numbers) for numbers in flags.values()) <= 1
    return touched[0] if touched else "nothing"


def test_every_kind_of_change_is_drawn() -> None:
    """One change at a time, all of them made: each touches one thing only, and all kinds come up."""
    drawn: Counter[str] = Counter()
    for seed in range(40):
        one = random_week(seed, size="small")
        decoder = Decoder(one)
        begun = put_on(decoder, genes_of(decoder.tables, Genome(order=tuple(one.run))), seed)
        if begun is None:
            continue
        bursts, found = begun
        bursts.steps, guide, was = 1, guide_of(found), bursts.genes()
        for _ in range(60):
            guide, wants_overtime = bursts.run(guide, TAKE_ALL, LATE_WEIGHT)
            now = bursts.genes()
            drawn["overtime" if wants_overtime else _changed(decoder.tables, was, now)] += 1
            was = now
    assert {"order", "press", "release", "waits", "later", "stands", "overtime"} <= set(drawn)
    assert drawn["order"] > 3 * drawn["press"] > 3 * drawn["later"]


def test_only_a_walk_by_the_clock_goes_in_bursts() -> None:
    """What is counted in genomes comes to the same plan whether compiled code is there or not."""
    one = random_week(3, size="medium")
    seen = []
    for budget in (Counted(200), CoreSeconds(0.3)):
        decoder = Decoder(one)
        decoder.trials = Trials(decoder)
        walk, told = Annealing(decoder, genes_of(decoder.tables, Genome(order=tuple(one.run))), 1), []
        walk.on_genomes = told.append
        best = walk.run(budget)
        assert best is not None
        again = decoder.decode_genes(best.genes)
        assert isinstance(again, Decoded)
        assert best.decoded.cost_cents == again.cost_cents
        seen.append(max(told))
    assert seen[0] == 1
    assert seen[1] > 1

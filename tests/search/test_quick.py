"""Compiled trials: what they say of a genome is what the decoder says, compiled or not, with room or without."""

import random
from pathlib import Path

import pytest

from scheduler.search.construction import due_date_list
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import genes_of
from scheduler.search.local import Annealing, Best, Counted
from scheduler.search.quick import kept_code, trials_for
from scheduler.search.quick.plan_row import summed_up
from scheduler.search.quick.slots import S_AT, S_LEAST_LEFT
from scheduler.search.quick.trials import Trials
from scheduler.search.timing import NEVER
from scheduler.workload.build import build_workload
from tests.benchmarks.weeks import benchmark_inputs
from tests.random_weeks import random_week
from tests.search.genomes import random_genome
from tests.search.trying import agree, agree_around_locks, run_uncompiled, tried


@pytest.mark.parametrize(("size", "weeks", "least"), [("tiny", 40, 70), ("small", 60, 110), ("medium", 25, 20)])
def test_trials_say_what_the_decoder_says(size: str, weeks: int, least: int) -> None:
    """Cost, lateness and every order's packing are the same to the cent and the minute, or both find no plan."""
    assert sum(agree(random_week(seed, size=size), seed, 3) for seed in range(weeks)) >= least


@pytest.mark.parametrize(("size", "weeks", "least"), [("small", 60, 120), ("medium", 60, 24)])
def test_trials_place_runs_around_fixed_ones(size: str, weeks: int, least: int) -> None:
    """Before, between and behind runs that stay where they are, with their set-ups timed anew, both say the same."""
    assert sum(agree_around_locks(seed, 3, size=size) for seed in range(weeks)) >= least


def test_a_row_that_is_too_short_is_made_longer() -> None:
    """A plan whose row has no room left for what happens on the floor goes on where it stopped."""
    assert sum(agree(random_week(seed, size="medium"), seed, 2, is_short=True) for seed in range(12)) >= 6
    assert sum(agree_around_locks(seed, 2, size="medium", is_short=True) for seed in range(60)) >= 12


def test_uncompiled_functions_say_the_same() -> None:
    """The very same functions, not compiled, agree with the decoder too."""
    assert int(run_uncompiled("-m tests.search.trying")) >= 45


def test_without_the_library_everything_works_without_trials() -> None:
    """Where numba is not there, nothing is kept, nothing is made, and the decoder does it alone."""
    code = (
        "-c import sys; sys.modules['numba'] = None; from scheduler.search.quick import kept_code, trials_for; "
        "from scheduler.search.decoder import Decoder; from tests.random_weeks import random_week; "
        "kept_code.have_made(); print(kept_code.kept_in(), trials_for(Decoder(random_week(3)), 1e9))"
    )
    assert run_uncompiled(code) == "None None"


def test_the_walk_goes_the_same_way_with_trials() -> None:
    """Better plans, in their order, and the last one are the same whether genomes are tried compiled or decoded."""
    better = 0
    for seed in range(3):
        one = random_week(seed, size="medium")
        trails: list[list[tuple[object, tuple[int, int]]]] = []
        for is_quick in (False, True):
            decoder = Decoder(one)
            if is_quick and Trials.can_try(decoder):
                decoder.trials = Trials(decoder)
            met: list[Best] = []
            walk = Annealing(decoder, genes_of(decoder.tables, due_date_list(one)), seed, met.append)
            last = walk.run(Counted(120), rounds=2)
            trails.append([(best.genes, best.rank) for best in met])
            if last is not None:
                assert last.decoded.plan is not None
                assert Decoder(one).decode_genes(last.genes).plan == last.decoded.plan  # type: ignore[union-attr]
        assert trails[0] == trails[1]
        better += len(trails[0])
    assert better > 8


@pytest.mark.parametrize(("size", "weeks", "least"), [("small", 40, 90), ("medium", 30, 24)])
def test_a_limit_ends_a_trial_only_if_the_plan_is_dearer(size: str, weeks: int, least: int) -> None:
    """At its own cost less overtime a genome is tried to the end, however late its orders; a cent below it is not."""
    limited = 0
    for seed in range(weeks):
        one, rng = random_week(seed, size=size), random.Random(seed)
        decoder = Decoder(one)
        if not Trials.can_try(decoder):
            continue
        trials = Trials(decoder)
        for genome in (due_date_list(one), *(random_genome(one, rng) for _ in range(3))):
            genes = genes_of(decoder.tables, genome)
            found = decoder.decode_genes(genes)
            if isinstance(found, Refused):
                continue
            limit_cents = found.cost_cents - found.terms["overtime"]
            for cents, ends in ((NEVER, False), (limit_cents, False), (limit_cents - 1, True)):
                begun = trials.begin(genes)
                assert not isinstance(begun, Refused)
                assert isinstance(trials.finish(genes, begun, cents), Refused) is ends
            limited += 1
    assert limited >= least


def test_orders_that_cannot_be_on_time_end_a_trial_before_they_are_packed() -> None:
    """What is placed costs less than the limit still; it is the orders left that will be late whatever comes."""
    one = build_workload(benchmark_inputs(40, "overloaded", 1)).week
    decoder = Decoder(one)
    genes = genes_of(decoder.tables, due_date_list(one))
    trials = Trials(decoder)
    begun, found = trials.begin(genes), tried(trials, genes)
    assert not isinstance(begun, Refused)
    assert not isinstance(found, Refused)
    limit_cents = found.cost_cents * 9 // 10
    assert isinstance(trials.finish(genes, begun, limit_cents), Refused)
    assert begun.s[S_AT] < len(one.runs)
    assert summed_up(begun.w, begun.s)[0] + begun.s[S_LEAST_LEFT] <= limit_cents


def test_a_trial_gives_its_plan_when_asked() -> None:
    """The plan behind a trial is the decoder's."""
    one = random_week(3)
    decoder = Decoder(one)
    genes = genes_of(decoder.tables, due_date_list(one))
    quick, found = tried(Trials(decoder), genes), decoder.decode_genes(genes)
    assert isinstance(found, Decoded)
    assert not isinstance(quick, Refused)
    assert quick.plan == found.plan


def test_trials_are_used_where_they_pay(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few genomes are decoded; many are tried, once the code is there; until then it is made beside."""
    asked: list[str] = []
    monkeypatch.setattr("scheduler.search.quick.have_made", lambda: asked.append("made"))
    decoder = Decoder(random_week(3))
    monkeypatch.setattr("scheduler.search.quick.is_made", lambda: True)
    assert trials_for(decoder, 50) is None
    assert trials_for(decoder, 100_000) is not None
    assert trials_for(decoder, 50) is not None  # loaded already
    monkeypatch.setattr("scheduler.search.quick.is_made", lambda: False)
    assert trials_for(Decoder(random_week(3)), 10_000) is None
    assert asked == []
    assert trials_for(Decoder(random_week(3)), 1_000_000) is None
    assert asked == ["made"]


def test_code_is_kept_by_the_text_it_was_made_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing counts as made before it is noted; whoever is compiling is not disturbed; no folder, no code."""
    monkeypatch.delenv("NUMBA_DISABLE_JIT", raising=False)
    monkeypatch.setenv("PRESSWEEK_CACHE", str(tmp_path))
    started: list[object] = []
    monkeypatch.setattr(kept_code.subprocess, "Popen", lambda *args, **more: started.append(args))
    kept_code.kept_in.cache_clear()
    try:
        assert kept_code.kept_in() is not None
        assert not kept_code.is_made()
        kept_code.have_made()
        kept_code.have_made()
        assert len(started) == 1
        kept_code.note_made()
        assert kept_code.is_made()
        kept_code.kept_in.cache_clear()
        (tmp_path / "file").write_text("no folder", encoding="utf-8")
        monkeypatch.setenv("PRESSWEEK_CACHE", str(tmp_path / "file"))
        assert kept_code.kept_in() is None
        assert not kept_code.is_made()
    finally:
        kept_code.kept_in.cache_clear()

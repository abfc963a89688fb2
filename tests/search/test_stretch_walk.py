"""Long orders walked in stretches: never worse than the start, valid, the same for the same seed."""

import pytest

from scheduler.domain.settings import SearchSettings
from scheduler.review.rules import check
from scheduler.search import engine, stretch_walk
from scheduler.search.construction import due_date_list
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import genes_of
from scheduler.search.local import Best, Counted
from scheduler.search.partial_cost import later_cents, reached, through_tau
from scheduler.search.result import Improved
from scheduler.search.stretch_walk import StretchWalk
from tests.random_weeks import random_week


@pytest.fixture(autouse=True)
def _short_stretches(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stretches short enough for weeks of a dozen runs."""
    monkeypatch.setattr(stretch_walk, "STRETCH_RUNS", 4)
    monkeypatch.setattr(stretch_walk, "LOOK_ON_RUNS", 2)


def walked(seed: int, tries: int) -> tuple[Decoder, list[Best], Best | None]:
    """A random week walked from its due-date list."""
    decoder = Decoder(random_week(seed, size="medium"))
    met: list[Best] = []
    start = genes_of(decoder.tables, due_date_list(decoder.tables.week))
    return decoder, met, StretchWalk(decoder, start, 1, met.append).run(Counted(tries))


def test_every_better_plan_is_better_and_valid() -> None:
    """What is told only gets cheaper, costs what a fresh decoding says and keeps every rule."""
    found = 0
    for seed in range(4):
        decoder, met, best = walked(seed, 120)
        if best is None:
            continue
        assert [one.rank for one in met] == sorted({one.rank for one in met}, reverse=True)
        assert best.rank == met[-1].rank
        fresh = Decoder(decoder.tables.week).decode_genes(best.genes)
        assert isinstance(fresh, Decoded)
        assert fresh.cost_cents == best.decoded.cost_cents
        assert check(decoder.tables.week, best.decoded.plan) == ()
        found += len(met) > 1
    assert found >= 2


def test_the_same_seed_walks_the_same_way() -> None:
    """Counted tries give the same plans twice."""
    trails = [[(one.genes, one.rank) for one in walked(3, 80)[1]] for _ in range(2)]
    assert trails[0] == trails[1]


def test_a_plan_of_all_runs_costs_what_the_whole_costs() -> None:
    """With nothing behind it a partial plan is the plan: its cost, and the presses' last minutes."""
    decoder = Decoder(random_week(1, size="medium"))
    genes = genes_of(decoder.tables, due_date_list(decoder.tables.week))
    whole = decoder.decode_genes(genes)
    progress = decoder.begin(genes)
    assert isinstance(whole, Decoded)
    assert not isinstance(progress, stretch_walk.Refused)
    assert decoder.advance(genes, progress, len(genes.order)) is None
    after = later_cents(decoder.tables, progress, (), 480.0)
    assert set(after) == {0.0}
    assert reached(decoder.tables, progress, genes, after, 0.0).cents == whole.cost_cents
    ends = [max((whole.state.of(run).end_tau for run in queue), default=0) for queue in whole.state.queues]
    assert through_tau(decoder.tables, progress) == ends


def test_a_long_week_is_walked_in_stretches_and_by_nothing_exact(monkeypatch: pytest.MonkeyPatch) -> None:
    """From so many runs on the time after the first walk goes into stretches; one run fewer, and it does not."""

    def no_improver(*_: object, **__: object) -> Improved:
        raise AssertionError("the exact model was asked")

    one = random_week(2, size="medium")
    sweeps: list[StretchWalk] = []
    sweep = StretchWalk.run
    monkeypatch.setattr(StretchWalk, "run", lambda walk, budget: (sweeps.append(walk), sweep(walk, budget))[1])
    monkeypatch.setattr(engine, "is_solved_whole", lambda _week: False)
    monkeypatch.setattr(engine, "LONG_ORDER_RUNS", len(one.runs))
    found = engine.plan_week(one, SearchSettings(seconds=2.0), improver=no_improver)
    assert sweeps
    assert found.plan is not None
    assert found.baseline is not None
    assert found.cost_cents <= found.baseline.cost_cents
    assert check(one, found.plan) == ()
    monkeypatch.setattr(engine, "LONG_ORDER_RUNS", len(one.runs) + 1)
    monkeypatch.setattr(engine, "WALKED_S_PER_RUN", 0.01)
    with pytest.raises(AssertionError, match="exact model"):
        engine.plan_week(one, SearchSettings(seconds=20.0), improver=no_improver)

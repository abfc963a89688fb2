"""Annealing: remembered states change nothing, the best is kept, the same seed walks the same way."""

import random

from scheduler.review.rules import check
from scheduler.search.construction import due_date_list, first_plans
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genes, genes_of
from scheduler.search.local import Annealing, Best, Counted, Timed, anneal
from scheduler.search.moves import Moves
from tests.builders import choice, fixing, frame_stock, overtime, press_line, run, screen_room, screen_set, stack, week
from tests.random_weeks import random_week

GENES = ("order", "press", "release", "bought", "waits", "later")


def start_of(seed: int, size: str = "small") -> tuple[Decoder, Genes]:
    """A decoder and the genes of the due-date list."""
    one = random_week(seed, size=size)
    decoder = Decoder(one)
    return decoder, genes_of(decoder.tables, due_date_list(one))


def test_remembered_states_change_nothing() -> None:
    """What the walk decodes from the middle is what a fresh decoding of the same genes gives."""
    compared = 0
    for seed in range(8):
        decoder, start = start_of(seed, "medium")
        met: list[Best] = []
        anneal(decoder, start, Counted(100), seed, met.append)
        for best in met:
            fresh = Decoder(decoder.tables.week).decode_genes(best.genes)
            assert isinstance(fresh, Decoded)
            assert fresh.plan == best.decoded.plan
            assert fresh.cost_cents == best.decoded.cost_cents
            compared += 1
    assert compared > 30


def test_every_better_plan_is_better_and_valid() -> None:
    """The plans told on the way only get better, by cost and then by being earlier, and keep every rule."""
    for seed in range(10):
        decoder, start = start_of(seed)
        met: list[Best] = []
        best = anneal(decoder, start, Counted(150), 1, met.append)
        assert met
        assert best is not None
        assert [one.rank for one in met] == sorted({one.rank for one in met}, reverse=True)
        assert best.rank == met[-1].rank
        assert check(decoder.tables.week, best.decoded.plan) == ()


def test_the_walk_beats_its_start() -> None:
    """On most weeks a few hundred genomes find a cheaper plan than the best rule."""
    better = 0
    for seed in range(12):
        one = random_week(seed)
        decoder = Decoder(one)
        found = first_plans(one, decoder)[0]
        best = anneal(decoder, genes_of(decoder.tables, found.genome), Counted(200), 1)
        assert best is not None
        assert best.decoded.cost_cents <= found.decoded.cost_cents
        better += best.decoded.cost_cents < found.decoded.cost_cents
    assert better >= 6


def test_the_same_seed_walks_the_same_way() -> None:
    """Counted, not timed: the same seed gives the same plans in the same order, another seed others."""
    trails = []
    for seed in (4, 4, 5):
        decoder, start = start_of(2, "medium")
        met: list[Best] = []
        anneal(decoder, start, Counted(150), seed, met.append)
        trails.append([(one.genes, one.rank) for one in met])
    assert trails[0] == trails[1]
    assert trails[0] != trails[2]


def test_a_plan_is_found_where_the_start_has_none() -> None:
    """From an order that leaves runs without a place the walk finds one that places them all."""
    decoder, start = start_of(5, "medium")
    assert not isinstance(decoder.decode_genes(start), Decoded)
    walk = Annealing(decoder, start, 1)
    best = walk.run(Counted(400))
    assert best is not None
    assert check(decoder.tables.week, best.decoded.plan) == ()
    assert walk.nearest_miss is not None


def test_where_there_is_no_plan_the_nearest_miss_is_told() -> None:
    """A run that fits nowhere is named; the others are placed all the same."""
    one = week(runs=[run("r1"), run("r2", choices=[choice(print_min=9999)]), run("r3")])
    decoder = Decoder(one)
    walk = Annealing(decoder, genes_of(decoder.tables, due_date_list(one)), 1)
    assert walk.run(Counted(30)) is None
    assert walk.nearest_miss is not None
    assert walk.nearest_miss.run_ids == ("r2",)
    assert walk.nearest_miss.missing == 1


def test_somebody_says_stop() -> None:
    """A walk that is told to stop ends at once with what it has."""
    decoder, start = start_of(1)
    calls = iter([False] * 5 + [True] * 1000)
    walk = Annealing(decoder, start, 1, stop=lambda: next(calls))
    counted = []
    walk.on_genomes = counted.append
    assert walk.run(Counted(10_000)) is not None
    assert len(counted) < 60


def test_a_timed_walk_ends_in_time() -> None:
    """Seconds are kept to within one decoding."""
    decoder, start = start_of(1)
    budget = Timed(0.2)
    assert anneal(decoder, start, budget, 1) is not None
    assert 1.0 <= budget.share() < 2.0


def test_a_week_without_a_choice_ends_at_once() -> None:
    """One run on one press leaves nothing to vary."""
    one = week()
    decoder = Decoder(one)
    budget = Timed(1000.0)
    assert anneal(decoder, genes_of(decoder.tables, due_date_list(one)), budget, 1) is not None
    assert budget.share() < 0.01


def test_moves_change_something_and_say_from_where() -> None:
    """Every move gives other genes that are the same up to the place it names, and keeps each run once."""
    kinds = set()
    for seed in range(20):
        decoder, genes = start_of(seed, "medium")
        moves = Moves(decoder.tables, random.Random(seed))
        for _ in range(60):
            move = moves.draw(genes, [10**6] * len(decoder.tables.orders))
            assert move is not None
            assert move.genes != genes
            assert sorted(move.genes.order) == sorted(genes.order)
            assert move.genes.order[: move.at] == genes.order[: move.at]
            before = set(genes.order[: move.at])
            assert all(move.genes.press[n] == genes.press[n] for n in before)
            assert not before & (move.genes.release ^ genes.release)
            assert not before & (move.genes.waits ^ genes.waits)
            assert all(move.genes.later[n] == genes.later[n] for n in before)
            kinds |= {
                name
                for name in ("order", "press", "release", "bought", "waits")
                if getattr(move.genes, name) != getattr(genes, name)
            }
            genes = move.genes
    assert kinds == {"order", "press", "release", "bought", "waits"}


def test_overtime_moves_keep_nesting() -> None:
    """A block comes with what must be bought before it and goes with what was bought on top of it."""
    one = week(
        runs=[run("r1")],
        overtime=[overtime("a"), overtime("b", start=1020, end=1080, after="a")],
    )
    decoder = Decoder(one)
    genes = genes_of(decoder.tables, due_date_list(one))
    moves = Moves(decoder.tables, random.Random(1))
    seen = set()
    for _ in range(40):
        move = moves.draw(genes, None)
        assert move is not None
        genes = move.genes
        seen.add(genes.bought)
    assert seen == {frozenset(), frozenset({"a"}), frozenset({"a", "b"})}


def test_fixed_runs_are_left_alone() -> None:
    """Moves touch only runs whose start is free; kin are runs of the same screens."""
    offers = [
        choice("P1", on=stack(("s1.1", "white"), set_id="s1")),
        choice("P2", on=stack(("s1.1", "white"), set_id="s1")),
    ]
    one = week(
        runs=[run(f"r{i}", set_id="s1", choices=offers) for i in range(3)],
        presses=[press_line("P1"), press_line("P2")],
        sets=[screen_set(is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
        fixings=[fixing("r0", press_id="P1", at=0)],
    )
    decoder = Decoder(one)
    moves = Moves(decoder.tables, random.Random(1))
    assert moves.free == [1, 2]
    assert moves.kin == [[1, 2], [2], [1]]
    genes = genes_of(decoder.tables, due_date_list(one))
    for _ in range(40):
        move = moves.draw(genes, None)
        assert move is not None
        assert move.genes.press[0] == -1
        genes = move.genes

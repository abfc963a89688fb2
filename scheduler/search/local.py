"""Annealing over genomes: change a little, decode, keep what is better and now and then what is worse.

The walk is led by cost plus a share of prorated lateness, so that an order two hours late looks better than one five
hours late although both miss the same pick-up. The share cools to nothing; the best plan is kept by its true cost.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log
from time import perf_counter
from typing import TYPE_CHECKING, Protocol

from scheduler.search.decoder import Decoded, Decoder, Progress, Refused
from scheduler.search.genome import Genes
from scheduler.search.moves import Move, Moves
from scheduler.search.quick import DECODE_S_PER_RUN, trials_for
from scheduler.search.timing import NEVER

if TYPE_CHECKING:
    from scheduler.search.quick.bursts import Bursts
    from scheduler.search.quick.trials import Begun, Trials, Tried

FIRST_MOVES = 24
"""Moves tried to see how much worse a move makes a plan."""
GENOMES_A_ROUND = 16
"""Genomes, per run squared, that are worth one slow cooling. Measured on random weeks and on three invented shops."""
LEAST_HEAT = 0.003
"""Least share of the full heat, however short the time."""
MARK_EVERY = 4
"""Places of the order between two remembered states."""
HOTTER = 3.0
"""How much hotter a later round is that sets out from the start again: it is there to find something else."""
LATENESS_SHARE = 0.3
"""Share of prorated lateness at the start; measured in sketches of this search."""
MISSING_CENTS = 1 << 30
"""What one run without a place counts while no plan is known at all."""


class Budget(Protocol):
    """How much of a search is used up. is_timed: no two searches need come to the same, so it may walk compiled."""

    is_timed: bool

    def share(self) -> float:
        """From 0 at the start to 1 when the search must end."""

    def spend(self) -> None:
        """Count one decoded genome."""

    def genomes_left(self, runs: int) -> float:
        """About how many genomes of so many runs can still be decoded."""


class Counted:
    """A budget of so many genomes; reads no clock."""

    is_timed = False

    def __init__(self, iterations: int) -> None:
        """Start with nothing spent."""
        self.iterations = iterations
        self.spent = 0

    def share(self) -> float:
        """Genomes spent of those allowed."""
        return self.spent / self.iterations if self.iterations else 1.0

    def spend(self) -> None:
        """Count one decoded genome."""
        self.spent += 1

    def genomes_left(self, runs: int) -> float:
        """Genomes allowed and not spent."""
        return float(self.iterations - self.spent)


class Timed:
    """A budget of wall seconds, from now on."""

    is_timed = True

    def __init__(self, seconds: float, gone: float = 0.0) -> None:
        """Start the watch. gone: share in [0, 1) that is used up already, before these seconds."""
        self.seconds = seconds / (1.0 - gone)
        self.started = perf_counter() - gone * self.seconds

    def share(self) -> float:
        """Seconds gone of those allowed."""
        return (perf_counter() - self.started) / self.seconds if self.seconds > 0 else 1.0

    def spend(self) -> None:
        """Count nothing: time goes by itself."""

    def genomes_left(self, runs: int) -> float:
        """As many as the decoder places in the seconds left, uncompiled."""
        return max(0.0, 1.0 - self.share()) * self.seconds / (DECODE_S_PER_RUN * runs)


@dataclass(slots=True)
class Best:
    """The best plan so far, by true cost, then by earliness."""

    genes: Genes
    decoded: Decoded | Tried

    @property
    def rank(self) -> tuple[int, int]:
        """What is compared."""
        return self.decoded.cost_cents, self.decoded.earliness


class Annealing:
    """One walk from a start genome."""

    def __init__(
        self,
        decoder: Decoder,
        start: Genes,
        seed: int,
        on_better: Callable[[Best], None] | None = None,
        stop: Callable[[], bool] | None = None,
    ) -> None:
        """Stand at the start; nothing is decoded yet."""
        self.decoder = decoder
        self.rng = random.Random(seed)
        self.moves = Moves(decoder.tables, self.rng)
        self.on_better = on_better
        self.stop = stop
        self.on_genomes: Callable[[int], None] = lambda _: None
        self.nearest_miss: Refused | None = None
        self.best: Best | None = None
        self.genes = start
        self.guide = float(NEVER)
        self.lateness_share = LATENESS_SHARE
        self._at: Decoded | Tried | None = None
        self._marks: list[Progress | Begun | None] = []
        self._trials: Trials | None = None
        self._bursts: Bursts | None = None
        self._day_min = max(1.0, decoder.tables.horizon_tau / len(decoder.tables.week.clock.stretches))

    def run(self, budget: Budget, rounds: int = 1) -> Best | None:
        """Walk until the budget is used up or somebody says stop; the best plan, None if none was met.

        rounds: how often the walk is heated up and cooled down, from the second time on from the best plan and from
        the start in turn. nearest_miss then holds the attempt that left the fewest runs without a place.
        """
        start = self.genes
        for number in range(rounds):
            if self._trials is None and not (self.stop and self.stop()):
                self._trials = trials_for(self.decoder, budget.genomes_left(len(start.order)))
            self._marks = []
            is_anew = self.best is None or number % 2 == 0
            again = start if self.best is None or is_anew else self.best.genes
            self._cool_down(budget, again, (number + 1) / rounds, HOTTER if number and is_anew else 1.0)
        return self.best

    def _cool_down(self, budget: Budget, start: Genes, until: float, hotter: float) -> None:
        """One round: from hot to a hundredth of it at the share `until` of the budget."""
        self._stand_on(start)
        if not self.moves.kinds:
            return
        had_plan, begun, hot = self.best is not None, budget.share(), hotter * self._heat(budget, until)
        while (share := budget.share()) < until and not (self.stop and self.stop()):
            if self.best is not None and not had_plan:
                had_plan, begun, hot = True, share, self._heat(budget, until)
            gone = min(1.0, (share - begun) / (until - begun)) if until > begun else 1.0
            self.lateness_share = LATENESS_SHARE * (1.0 - gone)
            heat = hot * exp(-4.6 * gone)
            if budget.is_timed and self._trials is not None and self._at is not None:
                self._burst(self._trials, heat)
            else:
                self._step(heat)
                budget.spend()

    def _heat(self, budget: Budget, until: float) -> float:
        """Starting temperature: half the middle one of what some first moves make worse.

        It is lower where the rest of the budget does not suffice for a slow cooling: then there is no time to climb.
        """
        worse = []
        begun, tried = budget.share(), 0
        while tried < FIRST_MOVES and budget.share() < until and not (self.stop and self.stop()):
            move = self.moves.draw(self.genes, self._packed())
            if move is None:
                break
            guide, _ = self._evaluate(move, NEVER)
            budget.spend()
            tried += 1
            if self.guide < guide < MISSING_CENTS:
                worse.append(guide - self.guide)
        spent = budget.share() - begun
        runs = len(self.genes.order)
        left = tried * (until - budget.share()) / spent if spent > 0 else 0.0
        time_share = min(1.0, max(LEAST_HEAT, left / (GENOMES_A_ROUND * runs * runs)))
        hot = sorted(worse)[len(worse) // 2] / 2 if worse else max(1.0, 0.01 * min(self.guide, MISSING_CENTS))
        return time_share * hot

    def _burst(self, trials: Trials, heat: float) -> None:
        """Many steps at once, compiled; a change of overtime, with other hours, is made here."""
        if self._bursts is None:
            from scheduler.search.quick.bursts import Bursts  # with the library behind it, only once it is loaded

            self._bursts = Bursts(trials, self.moves, MARK_EVERY)
        assert self.best is not None
        assert self._at is not None
        bursts = self._bursts
        if not bursts.walks_from(self.genes):
            bursts.stand_on(self.genes, self._at.packed_tau, self.best.rank)
        self.guide, wants_overtime = bursts.run(self.guide, heat, self.lateness_share / self._day_min)
        self.on_genomes(bursts.take_genomes())
        better = bursts.better()
        if better is not None:
            self._note(*better)
        if wants_overtime:
            self.genes, self._marks = bursts.genes(), []
            self._step(heat, self.moves.overtime(self.genes))

    def _step(self, temperature: float, move: Move | None = None) -> None:
        """Draw a move, unless one is given, and make it if what it comes to is good enough."""
        move = move or self.moves.draw(self.genes, self._packed())
        if move is None:
            return
        limit = self.guide - temperature * log(1.0 - self.rng.random())
        guide, decoded = self._evaluate(move, limit)
        if guide > limit:
            return
        if move.genes.bought != self.genes.bought:
            self._marks = []
        for at in range(len(self._marks)):
            if at * MARK_EVERY > move.at:
                self._marks[at] = None
        self.genes = move.genes
        self.guide = guide
        self._at = decoded if decoded is not None else self._at

    def _stand_on(self, genes: Genes) -> None:
        self.genes = genes
        self._marks, self._bursts = [], None
        self.guide, self._at = self._evaluate(Move(genes, 0), NEVER)

    def _packed(self) -> list[int] | None:
        return None if self._at is None else self._at.packed_tau

    def _evaluate(self, move: Move, limit: float) -> tuple[float, Decoded | Tried | None]:
        """Guide value of a move and what it comes to; anything above `limit` may come back as infinite."""
        genes = move.genes
        self.on_genomes(1)
        begun = self._begun_at(move)
        if isinstance(begun, Refused):
            return float("inf"), None
        overtime_cents = sum(self.decoder.tables.overtime_cents[block] for block in genes.bought)
        limit_cents = NEVER if limit >= NEVER else int(limit) - overtime_cents
        if isinstance(begun, Progress):
            found: Decoded | Tried | Refused = self.decoder.finish(genes, begun, limit_cents)
            if isinstance(found, Refused) and begun.goes_on:
                if self.nearest_miss is None or found.missing < self.nearest_miss.missing:
                    self.nearest_miss = found
                return float(MISSING_CENTS * found.missing + begun.state.cost_cents), None
        else:
            assert self._trials is not None
            found = self._trials.finish(genes, begun, limit_cents)
        if isinstance(found, Refused):
            return float("inf"), None
        self._note(genes, found)
        return found.cost_cents + self.lateness_share * (found.late_cents_min / self._day_min), found

    def _begun_at(self, move: Move) -> Progress | Begun | Refused:
        """A partial plan that agrees with the genes up to where they differ from those the walk stands on."""
        if move.genes.bought != self.genes.bought or not self._marks:
            begun = self._begin(move.genes)
            if isinstance(begun, Refused) or move.genes.bought != self.genes.bought:
                return begun
            self._marks = [None] * (len(self.genes.order) // MARK_EVERY + 1)
            self._marks[0] = begun
        at = move.at // MARK_EVERY
        while self._marks[at] is None:
            at -= 1
        mark = self._marks[at]
        assert mark is not None
        partial = mark.copy()
        while (at + 1) * MARK_EVERY <= move.at:
            at += 1
            refused = self._advance(move.genes, partial, at * MARK_EVERY)
            if refused is not None:
                return refused
            self._marks[at] = partial.copy()
        if isinstance(partial, Progress):
            partial.goes_on = self.best is None
        return partial

    def _begin(self, genes: Genes) -> Progress | Begun | Refused:
        """Until some plan is known, the decoder itself says how many runs found no place."""
        if self.best is None or self._trials is None:
            return self.decoder.begin(genes, goes_on=self.best is None)
        return self._trials.begin(genes)

    def _advance(self, genes: Genes, partial: Progress | Begun, to: int) -> Refused | None:
        if isinstance(partial, Progress):
            return self.decoder.advance(genes, partial, to)
        assert self._trials is not None
        return self._trials.advance(genes, partial, to)

    def _note(self, genes: Genes, decoded: Decoded | Tried) -> None:
        """Keep a plan that is better than the best."""
        found = Best(genes, decoded)
        if self.best is None:
            self._marks = []  # from here on a run without a place ends a decoding at once
        elif found.rank >= self.best.rank:
            return
        self.best = found
        if self.on_better is not None:
            self.on_better(found)


def anneal(
    decoder: Decoder,
    start: Genes,
    budget: Budget,
    seed: int,
    on_better: Callable[[Best], None] | None = None,
    stop: Callable[[], bool] | None = None,
    rounds: int = 1,
) -> Best | None:
    """Search from a start genome until the budget is used up; the best plan met, None if none."""
    return Annealing(decoder, start, seed, on_better, stop).run(budget, rounds)

"""Large weeks: a stretch of the order is walked while all before and after it stays, then the next one.

A change of the order is felt most by the runs just behind it. So it is tried on the stretch and a few runs more, from
a partial plan that ends where the stretch begins; what the rest of the week would cost is guessed from how much later
each press gets through. Only the best of a stretch is tried on the whole week, and kept where that is cheaper.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import exp, log
from typing import TYPE_CHECKING

from scheduler.search.decoder import Decoded, Decoder, Progress, Refused
from scheduler.search.genome import Genes
from scheduler.search.local import LATENESS_SHARE, LEAST_HEAT, Best, Budget
from scheduler.search.moves import Moves
from scheduler.search.partial_cost import Reached, later_cents, reached, through_tau
from scheduler.search.quick import trials_for
from scheduler.search.timing import NEVER

if TYPE_CHECKING:
    from scheduler.search.quick.trials import Begun, Trials, Tried

LONG_ORDER_RUNS = 400
"""Weeks of so many runs are walked in stretches: trying every change on all of them takes a tenth of a second each."""
STRETCH_RUNS = 32
"""Runs of a stretch."""
LOOK_ON_RUNS = 12
"""Runs behind the stretch that are placed too, to see what a change does to them."""
TRIES_A_RUN = 10
"""Tries on a stretch for each of its runs."""
FIRST_TRIES = 8
"""Tries that tell how much worse a change makes a stretch."""
SLOW_COOLING = 16.0
"""Tries, per run squared, of a slow cooling from full heat."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Places `at` to `to` of the order; a try is placed as far as `until`.

    before: the plan of all runs ahead of it. after: per press, cents that a minute more costs the runs behind.
    """

    before: Progress | Begun
    at: int
    to: int
    until: int
    after: tuple[float, ...]


class StretchWalk:
    """Sweeps over the order of one week, stretch by stretch."""

    def __init__(
        self,
        decoder: Decoder,
        start: Genes,
        seed: int,
        on_better: Callable[[Best], None] | None = None,
        stop: Callable[[], bool] | None = None,
        part: tuple[int, int] | None = None,
        at: int = 0,
    ) -> None:
        """Stand at the start; nothing is decoded yet.

        part: places [from, to) of the order that are walked, all of them if None; at: the first sweep begins there.
        """
        self.decoder = decoder
        self.rng = random.Random(seed)
        self.genes = start
        self.part = part or (0, len(start.order))
        self.at = at if self.part[0] <= at < self.part[1] else self.part[0]
        self.on_better = on_better
        self.stop = stop
        self.on_genomes: Callable[[int], None] = lambda _: None
        self.best: Best | None = None
        self._cost_cents, self._late = NEVER, 0
        self._share = LATENESS_SHARE
        self._trials: Trials | None = None
        self._whole: Progress | Begun | None = None
        self._day_min = max(1.0, decoder.tables.horizon_tau / len(decoder.tables.week.clock.stretches))

    def run(self, budget: Budget) -> Best | None:
        """Sweep until the budget is used up or somebody says stop; the best plan, None if the start makes none."""
        if self._trials is None:
            self._trials = trials_for(self.decoder, budget.genomes_left(len(self.genes.order)))
        self._offer(self.genes, self._begin(self.genes))
        while self.best is not None and not self._is_over(budget):
            self._sweep(budget)
        return self.best

    def _is_over(self, budget: Budget) -> bool:
        return budget.share() >= 1.0 or (self.stop is not None and self.stop())

    def _sweep(self, budget: Budget) -> None:
        """From where the last one was left to the last run; each stretch begins in the middle of the one before it."""
        at, end = self.at, self.part[1]
        self.at = self.part[0]
        before = self._begin(self.genes)
        if before is None or self._advance(self.genes, before, at) is not None:
            return
        to = min(end, at + self.rng.randint(STRETCH_RUNS // 2, STRETCH_RUNS))
        while not self._is_over(budget):
            self._share = LATENESS_SHARE * (1.0 - budget.share())
            self._walk(budget, self._stretch(before, at, to))
            if to >= end:
                return
            at = (at + to) // 2
            to = min(end, at + STRETCH_RUNS)
            if self._advance(self.genes, before, at) is not None:
                return
        self.at = at

    def _stretch(self, before: Progress | Begun, at: int, to: int) -> _Stretch:
        assert self._whole is not None
        until = min(len(self.genes.order), to + LOOK_ON_RUNS)
        behind = set(self.genes.order[until:])
        return _Stretch(before, at, to, until, later_cents(self.decoder.tables, self._whole, behind, self._day_min))

    def _walk(self, budget: Budget, one: _Stretch) -> None:
        """Cool down on one stretch, and offer the best of it."""
        stands = self._reach(self.genes, one)
        budget.spend()
        inside = set(self.genes.order[one.at : one.to])
        moves = Moves(self.decoder.tables, self.rng, inside, min(through_tau(self.decoder.tables, one.before)))
        if stands is None or not moves.kinds:
            return
        kept = best = stands
        tries = TRIES_A_RUN * (one.to - one.at)
        cooling = min(1.0, max(LEAST_HEAT, tries / (SLOW_COOLING * (one.to - one.at) ** 2)))
        worse: list[float] = []
        for number in range(tries):
            if self._is_over(budget):
                break
            genes = self._changed(kept, moves, one)
            found = None if genes is None else self._reach(genes, one)
            budget.spend()
            if found is None or found.put_off > stands.put_off:
                continue
            if number < FIRST_TRIES and found.cents > kept.cents:
                worse.append(found.cents - kept.cents)
            hot = cooling * (sorted(worse)[len(worse) // 2] / 2 if worse else 0.01 * kept.cents)
            if found.cents <= kept.cents - hot * exp(-4.6 * number / tries) * log(1.0 - self.rng.random()):
                kept = found
                best = found if found.cents < best.cents else best
        if best is not stands:
            self._offer(best.genes, one.before.copy())

    def _changed(self, kept: Reached, moves: Moves, one: _Stretch) -> Genes | None:
        """A small change inside the stretch; overtime belongs to the whole week and is left as it is."""
        order = kept.genes.order
        move = moves.draw(replace(kept.genes, order=order[one.at : one.to]), kept.packed_tau)
        if move is None or move.genes.bought != kept.genes.bought:
            return None
        return replace(move.genes, order=(*order[: one.at], *move.genes.order, *order[one.to :]))

    def _reach(self, genes: Genes, one: _Stretch) -> Reached | None:
        """Place the stretch and a few runs more; None where a run finds no place."""
        self.on_genomes(1)
        partial = one.before.copy()
        if self._advance(replace(genes, order=genes.order[: one.until]), partial, one.until) is not None:
            return None
        return reached(self.decoder.tables, partial, genes, one.after, self._share / self._day_min)

    def _offer(self, genes: Genes, partial: Progress | Begun | None) -> None:
        """Try genes on the whole week and stand on them where that leads on."""
        if partial is None:
            return
        self.on_genomes(1)
        if isinstance(partial, Progress):
            found: Decoded | Tried | Refused = self.decoder.finish(genes, partial)
        else:
            assert self._trials is not None
            found = self._trials.finish(genes, partial)
        if isinstance(found, Refused):
            return
        share = self._share / self._day_min
        if found.cost_cents + share * found.late_cents_min < self._cost_cents + share * self._late:
            self.genes, self._whole = genes, partial
            self._cost_cents, self._late = found.cost_cents, found.late_cents_min
        offer = Best(genes, found)
        if self.best is None or offer.rank < self.best.rank:
            self.best = offer
            if self.on_better is not None:
                self.on_better(offer)

    def _begin(self, genes: Genes) -> Progress | Begun | None:
        begun = self.decoder.begin(genes) if self._trials is None else self._trials.begin(genes)
        return None if isinstance(begun, Refused) else begun

    def _advance(self, genes: Genes, partial: Progress | Begun, to: int) -> Refused | None:
        if isinstance(partial, Progress):
            return self.decoder.advance(genes, partial, to)
        assert self._trials is not None
        return self._trials.advance(genes, partial, to)

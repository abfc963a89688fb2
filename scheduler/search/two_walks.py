"""Two walks at once on the plan of one search, one of them in a process of its own: when they meet, and what then.

Weeks that are walked whole: both cool down from the same plan with luck of their own, and set out again from the better
of the two. Weeks that are walked in stretches: each has its own half of the order, and the halves are put together.
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from scheduler.domain.week import Week
from scheduler.search.best_so_far import BestSoFar
from scheduler.search.decoder import Decoder
from scheduler.search.genome import Genes
from scheduler.search.local import Annealing, Timed
from scheduler.search.stretch_walk import StretchWalk
from scheduler.search.timing import NEVER
from scheduler.search.walk_beside import SetOut, WalkBeside, timed

STRETCH_ROUND_S = 15.0
"""Seconds after which the halves of a long order are put together."""
BORDERS = (0.5, 0.53, 0.47, 0.515, 0.485)
"""Where the order is divided, as shares of it, round after round, so that the runs around a border have their turn."""
SECOND_SEED = 1_000_003
"""Added to the seed of the walk beside, and once more for each of its rounds."""


class TwoWalks:
    """Leads the walk beside, and takes what it finds into the best plan so far."""

    def __init__(self, decoder: Decoder, so_far: BestSoFar, seed: int, is_over: Callable[[], bool]) -> None:
        """Nothing is started yet."""
        self.decoder = decoder
        self.so_far = so_far
        self.seed = seed
        self.is_over = is_over
        self.beside: WalkBeside | None = None
        self._middle = 0
        self._rounds = 0
        self._other: Genes | None = None

    @property
    def are_two(self) -> bool:
        """True while the walk beside is there."""
        return self.beside is not None and self.beside.is_at_work

    def start(self, week: Week, genes: Genes | None = None, seconds: float = 0.0) -> None:
        """Start the walk beside, for so many seconds from these genes; without genes it waits for its first round."""
        try:
            self.beside = WalkBeside(week)
        except OSError:
            return  # no room for another process: one walk alone
        if genes is not None:
            self._set_out(genes, seconds)

    def hear(self) -> None:
        """Keep what the walk beside has found, where that is cheaper."""
        if self.beside is None:
            return
        genes = self.beside.best(NEVER if self._middle else self.so_far.cost_cents)
        if genes is not None:
            self._offer(genes)

    def close(self) -> None:
        """End the walk beside."""
        if self.beside is not None:
            self.beside.close()

    def look_on(self, start: Genes, seconds: float) -> None:
        """Cool down once more, this process and the one beside, both from the best plan."""
        start = self.so_far.genes or start
        self._set_out(start, seconds)
        walk = Annealing(self.decoder, start, self.seed + 1, self.so_far.keep, self.is_over)
        walk.on_genomes = self.so_far.count
        walk.run(Timed(seconds))

    def look_on_in_stretches(self, start: Genes, seconds: float) -> None:
        """As `look_on`, for long weeks: each walks its own half, and the halves are put together now and then."""
        budget, at = Timed(seconds), 0
        while (gone := budget.share()) < 1.0 and not self.is_over():
            start = self.so_far.genes or start
            border = int(BORDERS[self._rounds % len(BORDERS)] * len(start.order))
            self._middle = border if self.are_two else 0
            self._set_out(start, (1.0 - gone) * seconds, gone)
            part, stop = (0, self._middle or len(start.order)), self._round_of(STRETCH_ROUND_S)
            walk = StretchWalk(self.decoder, start, self.seed + 1 + self._rounds, self.so_far.keep, stop, part, at)
            walk.on_genomes = self.so_far.count
            best = walk.run(budget)
            at = walk.at
            if best is None:
                return
            if self._middle and self._other is not None:
                self._join(best.genes, self._other)

    def _round_of(self, seconds: float) -> Callable[[], bool]:
        """Says True when the round is over: the time of two, or one comes to be two or is left alone."""
        ends, were_two = perf_counter() + seconds, self.are_two

        def is_over() -> bool:
            return self.is_over() or self.are_two != were_two or (were_two and perf_counter() > ends)

        return is_over

    def _set_out(self, genes: Genes, seconds: float, gone: float = 0.0) -> None:
        if self.beside is None:
            return
        self._rounds += 1
        self._other = None
        self.beside.set_out(
            SetOut(
                genes=genes,
                seed=self.seed + SECOND_SEED * self._rounds,
                seconds=seconds,
                gone=gone,
                part=(self._middle, len(genes.order)) if self._middle else None,
            )
        )

    def _offer(self, genes: Genes) -> None:
        if not self._middle:
            self._keep(genes)
            return
        self._other = genes
        if self.so_far.genes is not None:
            self._join(self.so_far.genes, genes)

    def _join(self, front: Genes, back: Genes) -> None:
        both = joined(front, back, self._middle)
        if both is not None:
            self._keep(both)

    def _keep(self, genes: Genes) -> None:
        best = timed(self.decoder, genes)
        if best is not None and best.decoded.cost_cents < self.so_far.cost_cents:
            self.so_far.keep(best)


def joined(front: Genes, back: Genes, at: int) -> Genes | None:
    """The runs ahead of place `at` as one has them, the others as the other has; None where they divide differently."""
    behind = frozenset(back.order[at:])
    if front.bought != back.bought or behind != frozenset(front.order[at:]):
        return None

    def mixed(ahead: frozenset[int], after: frozenset[int]) -> frozenset[int]:
        return (ahead - behind) | (after & behind)

    def picked(ahead: tuple[int, ...], after: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(after[run] if run in behind else ahead[run] for run in range(len(ahead)))

    return Genes(
        order=(*front.order[:at], *back.order[at:]),
        press=picked(front.press, back.press),
        release=mixed(front.release, back.release),
        bought=front.bought,
        waits=mixed(front.waits, back.waits),
        later=picked(front.later, back.later),
        stands=mixed(front.stands, back.stands),
    )

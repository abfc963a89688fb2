"""The compiled walk of one week: its moves written into a row, its genes read back, many steps a call."""

from __future__ import annotations

import numpy as np

from scheduler.search.genome import Genes
from scheduler.search.moves import LATER_CHOICES, Moves
from scheduler.search.quick import slots as at
from scheduler.search.quick.changes import BUYS, SIDES, WEIGHT_UNIT
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import IS_RELEASED, STANDS, WAITS
from scheduler.search.quick.plan_row import longer
from scheduler.search.quick.trials import Begun, Trials, Tried, flags_row
from scheduler.search.quick.walking import walk

MARKS = 50
"""Most remembered states of a long order; each is a row of its own."""
RUNS_A_BURST = 2000
"""Runs a burst may have to place: some milliseconds, so that heat and clock are looked at often enough."""


class Bursts:
    """Walks for `Annealing` from genes that have a plan, in bursts of steps at one heat, overtime as bought."""

    def __init__(self, trials: Trials, moves: Moves, mark_every: int) -> None:
        """Write down what may be moved. mark_every: places of the order between two marks, more for long orders."""
        self.trials, self.moves = trials, moves
        self.runs = len(trials.decoder.tables.runs)
        self.steps = max(1, RUNS_A_BURST // self.runs)
        self._m = _moves_row(moves)
        self._m[at.M_MARK_EVERY] = max(mark_every, -(-self.runs // MARKS))
        self._m[at.M_DICE] = moves.rng.randrange(1, SIDES)
        self._genes: Genes | None = None
        self._g = self._c = self._best = self.packed = np.zeros(4 * self.runs, dtype=np.int64)
        self.plan = Begun(self._g, self._g)
        self._s = self._spare = self._marks = self._is_marked = self._g

    def walks_from(self, genes: Genes) -> bool:
        """True if these are the genes it was put on, or was last asked for: nothing has led elsewhere since."""
        return self._genes is genes

    def stand_on(self, genes: Genes, packed_tau: list[int], best: tuple[int, int]) -> None:
        """Go on from these genes. packed_tau: of each order in their plan; best: (cents, earliness) to be undercut."""
        begun = self.trials.begin(genes)
        assert isinstance(begun, Begun)  # they have a plan
        self._genes, self.plan = genes, begun
        self._g, self.packed = _genes_row(genes), np.array(packed_tau, dtype=np.int64)
        self._c, self._best = self._g.copy(), self._g.copy()
        self._m[at.M_OVERTIME_CENTS] = sum(self.trials.decoder.tables.overtime_cents[block] for block in genes.bought)
        self._m[at.M_BEST_CENTS], self._m[at.M_BEST_EARLINESS] = best
        self.make_rows()

    def run(self, guide: float, heat: float, late_weight: float) -> tuple[float, bool]:
        """(guide value of where the walk stands after a burst, True if a change of overtime is wanted)."""
        walked, guide = walk(
            self.plan.w,
            self._s,
            self._spare,
            self.trials.scratch,
            self.trials.pairs,
            self._m,
            self._g,
            self._c,
            self._best,
            self.packed,
            self._marks,
            self._is_marked,
            self.steps,
            guide,
            heat,
            late_weight,
        )
        if walked == at.GROW:
            self.plan.s = longer(self.plan.w, self.plan.s)
            self.make_rows()
        return guide, walked == BUYS

    def genes(self) -> Genes:
        """Where the walk stands."""
        assert self._genes is not None
        self._genes = _genes_of(self._g, self._genes.bought)
        return self._genes

    def take_genomes(self) -> int:
        """How many were tried since this was last asked."""
        count = int(self._m[at.M_GENOMES])
        self._m[at.M_GENOMES] = 0
        return count

    def better(self) -> tuple[Genes, Tried] | None:
        """The best genes and what they came to, if they were met since this was last asked."""
        if not self._m[at.M_IS_BETTER]:
            return None
        assert self._genes is not None
        self._m[at.M_IS_BETTER] = 0
        genes = _genes_of(self._best, self._genes.bought)
        begun = self.trials.begin(genes)
        assert isinstance(begun, Begun)
        found = self.trials.finish(genes, begun)
        assert isinstance(found, Tried)
        return genes, found

    def make_rows(self) -> None:
        """Rows as long as the plan's, and no mark but the one before the first run."""
        size = len(self.plan.s)
        marks = self.runs // int(self._m[at.M_MARK_EVERY]) + 1
        self._s, self._spare = np.zeros(size, dtype=np.int64), np.zeros(2 * size, dtype=np.int64)
        self._marks, self._is_marked = np.zeros(marks * size, dtype=np.int64), np.zeros(marks, dtype=np.int64)
        self._marks[:size], self._is_marked[0] = self.plan.s, 1


def _genes_row(genes: Genes) -> Row:
    return np.array([*genes.order, *genes.press, *genes.later, *flags_row(genes)], dtype=np.int64)


def _genes_of(row: Row, bought: frozenset[str]) -> Genes:
    order, press, later, flags = row.reshape(4, -1).tolist()
    released, waiting, standing = (
        frozenset(number for number, its in enumerate(flags) if its & flag) for flag in (IS_RELEASED, WAITS, STANDS)
    )
    return Genes(tuple(order), tuple(press), released, bought, waiting, tuple(later), standing)


def _moves_row(moves: Moves) -> Row:
    """The row of the moves, without dice, marks and best."""
    tables, numbers = moves.tables, [0] * at.MOVE_SLOTS

    def put(values: list[int]) -> int:
        numbers.extend((len(values), *values))
        return len(numbers) - len(values) - 1

    weights, kinds = 0, []
    for kind, weight in moves.weights.items():
        weights += round(WEIGHT_UNIT * weight)
        kinds += [kind, weights]
    for slot, values in (
        (at.M_FREE, moves.free),
        (at.M_CHOOSY, moves.choosy),
        (at.M_SHARED, moves.shared),
        (at.M_ANNOUNCED, moves.announced),
        (at.M_BURNED, moves.burned),
        (at.M_PROMISED, [order.promised_tau for order in tables.orders]),
    ):
        numbers[slot] = put(values)
    numbers[at.M_KINDS] = len(numbers)
    numbers += [len(moves.weights), *kinds]
    for slot, lists in (
        (at.M_KIN, moves.kin),
        (at.M_MOMENTS, [list(moments[:LATER_CHOICES]) for moments in moves.moments]),
    ):
        addresses = [put(list(values)) for values in lists]
        numbers[slot] = len(numbers)
        numbers += addresses
    return np.array(numbers, dtype=np.int64)

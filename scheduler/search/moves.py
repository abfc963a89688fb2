"""Small changes to a genome: where a run stands in the order, its press, a released set, an overtime block."""

from __future__ import annotations

import random
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from itertools import accumulate

from scheduler.search.genome import Genes
from scheduler.search.quick.slots import (
    GATHER,
    HURRY,
    INSERT,
    LATER,
    OVERTIME,
    PRESSES,
    RELEASE,
    STAND,
    SWAP,
    WAIT,
)
from scheduler.search.tables import Tables, with_nested

LATER_CHOICES = 6
"""Only the first few moments a run could wait for are tried: later ones cost late days for sure."""


@dataclass(frozen=True, slots=True)
class Move:
    """Changed genes and the first place of the order at which decoding can differ."""

    genes: Genes
    at: int


class Moves:
    """Draws moves for one week, or for some runs of it; runs that are fixed to a start are left alone."""

    def __init__(
        self, tables: Tables, rng: random.Random, among: Collection[int] | None = None, from_tau: int = 0
    ) -> None:
        """See which kinds of move the week has a use for. among: all that may be moved; from_tau: since when."""
        self.tables = tables
        self.rng = rng
        self.among = range(len(tables.runs)) if among is None else among
        self.free = [n for n in self.among if tables.runs[n].fixed_start_tau < 0]
        self.choosy = [n for n in self.free if len(tables.runs[n].choices) > 1 and tables.runs[n].fixed_press < 0]
        self.shared = [
            n for one in tables.sets if len(one.runs) > 1 and one.screens for n in one.runs if n in self.among
        ]
        self.announced = [n for n in self.free if tables.runs[n].announced_press >= 0]
        self.burned = [n for n in self.free if self._may_stand(n)]
        self.blocks = sorted(tables.overtime_cents)
        self.moments = self._moments(from_tau)
        self.kin = self._kin()
        orders = [(n, tables.runs[n].order) for n in self.free]
        self.promised = [(n, order, tables.orders[order].promised_tau) for n, order in orders]
        self.weights = self._weights()
        drawn_by: dict[int, Callable[[Genes, list[int] | None], Move | None]] = {
            INSERT: self._insert,
            SWAP: self._swap,
            HURRY: self._hurry,
            GATHER: self._gather,
            PRESSES: self._press,
            RELEASE: self._release,
            WAIT: self._wait,
            LATER: self._later,
            STAND: self._stand,
            OVERTIME: self.overtime,
        }
        self.kinds = [drawn_by[kind] for kind in self.weights]
        self.up_to = list(accumulate(self.weights.values()))

    def _weights(self) -> dict[int, float]:
        """How often each kind of move is drawn, of those the week has a use for."""
        weights = {INSERT: 4.0, SWAP: 2.0, HURRY: 2.0, GATHER: 1.0} if len(self.free) > 1 else {}
        has_later = any(self.moments) and len(self.among) > 1 and bool(self.free)
        for kind, weight, has_use in (
            (PRESSES, 2.0, bool(self.choosy)),
            (RELEASE, 0.5, bool(self.shared)),
            (WAIT, 0.5, bool(self.announced)),
            (LATER, 0.5, has_later),
            (STAND, 0.5, bool(self.burned)),
            (OVERTIME, 0.7, bool(self.blocks)),
        ):
            if has_use:
                weights[kind] = weight
        return weights

    def draw(self, genes: Genes, packed_tau: list[int] | None) -> Move | None:
        """A random move that changes something, None if the week has no move at all.

        packed_tau: when each order is packed in the plan of `genes`, if there is one.
        """
        if not self.kinds:
            return None
        for _ in range(50):
            kind = self.rng.choices(self.kinds, cum_weights=self.up_to)[0]
            move = kind(genes, packed_tau)
            if move is not None:
                return move
        return None

    def _kin(self) -> list[list[int]]:
        """Per run: free runs with the same screens; if there are none, with a common ink."""
        runs = self.tables.runs
        inks = {n: {head.ink_id for choice in runs[n].choices for head in choice.stack.heads} for n in self.among}
        found: list[list[int]] = [[] for _ in runs]
        for n in self.among:
            screens = runs[n].screen_set
            same = [other for other in self.free if other != n and runs[other].screen_set == screens >= 0]
            found[n] = same or [other for other in self.free if other != n and inks[other] & inks[n]]
        return found

    def _moments(self, from_tau: int) -> list[tuple[int, ...]]:
        """Per run: minutes it may be made to wait for, the start of a day or of a locked run on one of its presses."""
        days = {tau for tau in self.tables.week.clock.cuts_tau[1:] if tau > from_tau}
        locks = [run for run in self.tables.runs if run.fixed_start_tau > from_tau and not run.is_started]
        found: list[tuple[int, ...]] = [()] * len(self.tables.runs)
        for n in self.among:
            presses = self.tables.runs[n].by_press.keys()
            found[n] = tuple(sorted(days | {one.fixed_start_tau for one in locks if one.by_press.keys() & presses}))
        return found

    def _insert(self, genes: Genes, _: list[int] | None) -> Move | None:
        number = self.rng.choice(self.free)
        at = genes.order.index(number)
        if self.rng.random() < 0.6:
            to = at + self.rng.choice((-1, 1)) * self.rng.randint(1, 6)
        else:
            to = self.rng.randrange(len(genes.order))
        return self._moved(genes, at, to)

    def _moved(self, genes: Genes, at: int, to: int) -> Move | None:
        to = min(max(to, 0), len(genes.order) - 1)
        if at == to:
            return None
        order = list(genes.order)
        order.insert(to, order.pop(at))
        return Move(_in_order(genes, tuple(order)), min(at, to))

    def _swap(self, genes: Genes, _: list[int] | None) -> Move | None:
        one, other = self.rng.sample(self.free, 2)
        at, to = sorted((genes.order.index(one), genes.order.index(other)))
        order = list(genes.order)
        order[at], order[to] = order[to], order[at]
        return Move(_in_order(genes, tuple(order)), at)

    def _hurry(self, genes: Genes, packed_tau: list[int] | None) -> Move | None:
        """Pull a run of a late order forward."""
        if packed_tau is None:
            return None
        late = [n for n, order, promised_tau in self.promised if packed_tau[order] > promised_tau]
        if not late:
            return None
        at = genes.order.index(self.rng.choice(late))
        return self._moved(genes, at, self.rng.randrange(at)) if at else None

    def _gather(self, genes: Genes, _: list[int] | None) -> Move | None:
        """Put a run's kin right behind it."""
        number = self.rng.choice(self.free)
        kin = self.kin[number]
        if not kin:
            return None
        if len(kin) > 3:
            kin = self.rng.sample(kin, 3)
        chosen = set(kin)
        old = genes.order
        rest = [n for n in old if n not in chosen]
        at = rest.index(number) + 1
        order = (*rest[:at], *(n for n in old if n in chosen), *rest[at:])
        if order == old:
            return None
        first = next(i for i, (one, other) in enumerate(zip(order, old, strict=True)) if one != other)
        press = list(genes.press)
        if self.rng.random() < 0.5:
            for n in chosen:
                if genes.press[number] in self.tables.runs[n].by_press:
                    press[n] = genes.press[number]
        changed = [old.index(n) for n in chosen if press[n] != genes.press[n]]
        return Move(replace(genes, order=order, press=tuple(press)), min([first, *changed]))

    def _press(self, genes: Genes, _: list[int] | None) -> Move | None:
        number = self.rng.choice(self.choosy)
        offers = [-1, *self.tables.runs[number].by_press]
        offers.remove(genes.press[number])
        press = list(genes.press)
        press[number] = self.rng.choice(offers)
        return Move(replace(genes, press=tuple(press)), genes.order.index(number))

    def _release(self, genes: Genes, _: list[int] | None) -> Move | None:
        number = self.rng.choice(self.shared)
        is_fixed = self.tables.runs[number].fixed_start_tau >= 0
        at = 0 if is_fixed else genes.order.index(number)
        return Move(replace(genes, release=genes.release ^ {number}), at)

    def _wait(self, genes: Genes, _: list[int] | None) -> Move | None:
        number = self.rng.choice(self.announced)
        return Move(replace(genes, waits=genes.waits ^ {number}), genes.order.index(number))

    def _later(self, genes: Genes, _: list[int] | None) -> Move | None:
        """Let a run wait for a later moment, or no longer."""
        number = self.rng.choice(self.free)
        if genes.later[number]:
            tau = 0
        elif self.moments[number]:
            tau = self.rng.choice(self.moments[number][:LATER_CHOICES])
        else:
            return None
        later = list(genes.later)
        later[number] = tau
        return Move(replace(genes, later=tuple(later)), genes.order.index(number))

    def _may_stand(self, number: int) -> bool:
        """True if the run's screens may have to be burned, and it may pay to let them stand ready a while."""
        tables = self.tables
        screens = tables.sets[tables.runs[number].screen_set] if tables.runs[number].screen_set >= 0 else None
        is_priced = tables.ahead_min > 0 and tables.not_ahead_cents_per_min > 0
        return is_priced and screens is not None and screens.screens > 0

    def _stand(self, genes: Genes, _: list[int] | None) -> Move | None:
        """Let a run wait until its screens have stood ready a while, or no longer."""
        number = self.rng.choice(self.burned)
        return Move(replace(genes, stands=genes.stands ^ {number}), genes.order.index(number))

    def overtime(self, genes: Genes, _: list[int] | None = None) -> Move:
        """Buy an overtime block, with those that must be bought first, or give it and what needs it back."""
        block = self.rng.choice(self.blocks)
        if block not in genes.bought:
            return Move(replace(genes, bought=with_nested(self.tables, genes.bought | {block})), 0)
        kept = {other for other in genes.bought if block not in with_nested(self.tables, frozenset({other}))}
        return Move(replace(genes, bought=frozenset(kept)), 0)


def _in_order(genes: Genes, order: tuple[int, ...]) -> Genes:
    """The genes in another order. Written out: most moves do this, and `replace` takes three times as long."""
    return Genes(order, genes.press, genes.release, genes.bought, genes.waits, genes.later, genes.stands)

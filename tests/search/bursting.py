"""The walk in bursts held to the decoder on random weeks; run as a program it walks uncompiled."""

from __future__ import annotations

import random

import pytest

from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.moves import Moves
from scheduler.search.quick.bursts import Bursts
from scheduler.search.quick.trials import Trials
from tests.random_weeks import random_week
from tests.search.genomes import lock_some

LATE_WEIGHT = 0.0002
"""What a cent times a minute of lateness counts in the guide value here."""
TAKE_ALL, TAKE_SOME = 1e12, 300.0
"""Heats at which every change is made, and those that cost a few dollars at most."""


def put_on(decoder: Decoder, genes: Genes, seed: int) -> tuple[Bursts, Decoded] | None:
    """A walk that stands on these genes, and what they come to; None where they have no plan."""
    found = decoder.decode_genes(genes)
    if isinstance(found, Refused) or not Trials.can_try(decoder):
        return None
    moves = Moves(decoder.tables, random.Random(seed))
    if not moves.kinds:
        return None
    bursts = Bursts(Trials(decoder), moves, 4)
    bursts.stand_on(genes, found.packed_tau, (found.cost_cents, found.earliness))
    return bursts, found


def guide_of(found: Decoded) -> float:
    """What leads the walk."""
    return found.cost_cents + LATE_WEIGHT * found.late_cents_min


def bursts_agree(one: Week, seed: int, count: int) -> int:
    """Walk so many bursts, hot and less hot in turn, and hold each to the decoder; how many came to other genes."""
    decoder = Decoder(one)
    genes = genes_of(decoder.tables, Genome(order=tuple(one.run)))
    begun = put_on(decoder, genes, seed)
    if begun is None:
        return 0
    bursts, found = begun
    guide, rank, moved = guide_of(found), (found.cost_cents, found.earliness), 0
    for number in range(count):
        guide, _ = bursts.run(guide, TAKE_SOME if number % 2 else TAKE_ALL, LATE_WEIGHT)
        moved += bursts.genes() != genes
        genes = bursts.genes()
        now = decoder.decode_genes(genes)
        assert isinstance(now, Decoded)
        assert guide == pytest.approx(guide_of(now), rel=1e-12)
        assert bursts.packed.tolist() == now.packed_tau
        better = bursts.better()
        if better is not None:
            best, tried = better
            again = decoder.decode_genes(best)
            assert isinstance(again, Decoded)
            assert (tried.cost_cents, tried.earliness) == (again.cost_cents, again.earliness) < rank
            rank = again.cost_cents, again.earliness
        assert rank <= (now.cost_cents, now.earliness)
    return moved


def bursts_agree_around_locks(seed: int, count: int, *, size: str = "small") -> int:
    """As `bursts_agree`, for a week in which runs stay where an earlier plan had them."""
    one = random_week(seed, size=size)
    first = Decoder(one).decode(Genome(order=tuple(one.run)))
    if isinstance(first, Refused):
        return 0
    return bursts_agree(lock_some(one, first.plan, random.Random(seed)), seed, count)


if __name__ == "__main__":
    moved = sum(bursts_agree(random_week(seed, size="small"), seed, 2) for seed in range(14))
    print(moved + sum(bursts_agree_around_locks(seed, 2) for seed in range(6)))

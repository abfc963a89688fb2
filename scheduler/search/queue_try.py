"""Trying all queues of a single press on behalf of the search: the plans they make, and what is proven by them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from time import perf_counter

from scheduler.domain.settings import SearchSettings
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome, genes_of
from scheduler.search.local import Best
from scheduler.search.one_queue import MOST_WAYS, OneQueue

QUEUE_SHARE = 0.95
"""Share of the time left for it; the rest belongs to whoever looks on from there."""
FEW_RUNS = 14
"""Weeks of so few runs are gone through at once."""
WAYS_PER_GENOME = 2
"""Ways of a layer looked at, for each genome asked for, where work is counted instead of timed."""


def tried_queues(
    decoder: Decoder,
    settings: SearchSettings,
    known_cents: int,
    left_s: float,
    keep: Callable[[Best], None],
    stop: Callable[[], bool],
) -> int:
    """Hand over every plan that the cheapest queues make; what no plan undercuts, in cents, 0 for want of memory.

    Good queues come first: the less the best plan so far costs, the fewer ways there are that might undercut it.

    known_cents: what the best plan so far costs; left_s: seconds, not looked at where work is counted. Needs
    `is_one_queue`.
    """
    ends_at = None if settings.iterations is not None else perf_counter() + QUEUE_SHARE * left_s

    def is_over() -> bool:
        return stop() or (ends_at is not None and perf_counter() >= ends_at)

    def decoded(genomes: Iterable[Genome]) -> int:
        costs = [known_cents]
        for genes in (genes_of(decoder.tables, genome) for genome in genomes):
            found = decoder.decode_genes(genes)
            if isinstance(found, Decoded):
                keep(Best(genes, found))
                costs.append(found.cost_cents)
        return min(costs)

    most_ways = MOST_WAYS if settings.iterations is None else WAYS_PER_GENOME * settings.iterations
    try:
        one = OneQueue(decoder.tables, is_over, most_ways)
        if len(decoder.tables.runs) > FEW_RUNS:
            known_cents = decoded(one.good(known_cents))
        look = one.best(known_cents)
    except MemoryError:
        return 0  # the plan so far is as good as it was
    decoded(look.genomes)
    return look.bound_cents

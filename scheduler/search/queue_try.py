"""Trying all queues of a single press on behalf of the search: the plans they make, and what is proven by them."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from scheduler.domain.settings import SearchSettings
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import genes_of
from scheduler.search.local import Best
from scheduler.search.one_queue import MOST_WAYS, best_queues

QUEUE_SHARE = 0.75
"""Share of the time left for it; the rest belongs to whoever looks on from there."""
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
    """Hand over every plan that the cheapest queues make, and return cents that no plan undercuts.

    known_cents: what the best plan so far costs; left_s: seconds, not looked at where work is counted. Needs
    `is_one_queue`.
    """
    ends_at = None if settings.iterations is not None else perf_counter() + QUEUE_SHARE * left_s
    look = best_queues(
        decoder.tables,
        known_cents,
        stop=lambda: stop() or (ends_at is not None and perf_counter() >= ends_at),
        most_ways=MOST_WAYS if settings.iterations is None else WAYS_PER_GENOME * settings.iterations,
    )
    for genome in look.genomes:
        genes = genes_of(decoder.tables, genome)
        found = decoder.decode_genes(genes)
        if isinstance(found, Decoded):
            keep(Best(genes, found))
    return look.bound_cents

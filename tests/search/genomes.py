"""Genomes drawn at random."""

from __future__ import annotations

import random

from scheduler.domain.week import Week
from scheduler.search.genome import Genome


def random_genome(one: Week, rng: random.Random) -> Genome:
    """An order, presses, releases, overtime and waits drawn at random."""
    order = list(one.run)
    rng.shuffle(order)
    return Genome(
        order=tuple(order),
        press=tuple(None if rng.random() < 0.5 else rng.choice(run.choices).press_id for run in one.runs),
        release=frozenset(run_id for run_id in order if rng.random() < 0.3),
        overtime=frozenset(block.block_id for block in one.overtime if rng.random() < 0.4),
        waits=frozenset(run_id for run_id in order if rng.random() < 0.3),
        later=tuple((run_id, rng.randrange(1, 1200)) for run_id in order if rng.random() < 0.1),
        stands=frozenset(order[::2]),
    )

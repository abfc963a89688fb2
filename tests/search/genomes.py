"""Genomes and fixed runs drawn at random."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.plan import Plan
from scheduler.domain.week import Fixing, Week
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


def lock_some(one: Week, made: Plan, rng: random.Random) -> Week:
    """The same week with some runs of a plan fixed where it has them."""
    fixed = [run for run in made.runs if rng.random() < 0.4 and run.run_id not in one.fixing]
    return replace(
        one,
        fixings=(
            *(fixing for fixing in one.fixings if fixing.kind == "started"),
            *(
                Fixing(
                    run_id=run.run_id,
                    kind=rng.choice(["locked", "announced"]),
                    press_id=rng.choice([run.press_id, run.press_id, None]),
                    set_up_start_tau=run.set_up_start_tau,
                )
                for run in fixed
            ),
        ),
    )

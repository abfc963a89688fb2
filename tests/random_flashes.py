"""Flashes on wheels for random weeks: a pool some presses share, from a stream of chance of its own."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.week import FlashPool, Week

SHARE = 0.6
"""Of the weeks with two presses or more."""


def with_flash_pool(week: Week, rng: random.Random) -> Week:
    """The same week; in some its presses share flashes, and more than half of the choices need some of them."""
    if len(week.presses) < 2 or rng.random() >= SHARE:
        return week
    units = rng.choice([1, 1, 2])
    started = {fixing.run_id for fixing in week.fixings if fixing.kind == "started"}
    runs = tuple(
        run
        if run.run_id in started
        else replace(
            run,
            choices=tuple(
                replace(choice, flash_units=rng.randint(1, units) if rng.random() < 0.6 else 0)
                for choice in run.choices
            ),
        )
        for run in week.runs
    )
    presses = tuple(replace(press, flash_pool="wheels") for press in week.presses)
    return replace(week, runs=runs, presses=presses, flash_pools=(FlashPool(pool_id="wheels", units=units),))

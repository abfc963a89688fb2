"""Long prints of inks that dry for random weeks, from a stream of chance of their own: they go on over nights."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.week import PressChoice, Week

SHARE = 0.5
MOST_RUNS = 2
"""More of them would leave too little time for everything else."""


def with_long_drying(week: Week, rng: random.Random) -> Week:
    """The same week; in half of them a run or two print inks that dry for hours."""
    if rng.random() >= SHARE:
        return week

    def longer(choice: PressChoice) -> PressChoice:
        print_min = rng.randint(60, 420)
        return replace(
            choice,
            print_min=print_min,
            part_min=(print_min,),
            wash_up_min=rng.choice([5, 12, 25]),
            re_ink_min=rng.choice([0, 4, 9]),
        )

    dry = [run.run_id for run in week.runs if run.idle_ok_min is not None]
    chosen = set(rng.sample(dry, min(MOST_RUNS, len(dry))))
    runs = tuple(
        replace(run, choices=tuple(longer(choice) for choice in run.choices)) if run.run_id in chosen else run
        for run in week.runs
    )
    return replace(week, runs=runs)

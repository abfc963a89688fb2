"""Long prints of inks that dry for random weeks, from a stream of chance of their own: they go on over nights.

Half of them go off besides, and are mixed anew.
"""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.week import PressChoice, Run, Way, Week

FULL_RATE_PERMILLE = 1000
SHARE = 0.5
GOES_OFF_SHARE = 0.5
POT_LIFE_MIN = 90
REMIX_MIN = 7
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
            other_ways=tuple(_as_long(way, print_min) for way in choice.other_ways),
        )

    dry = [run.run_id for run in week.runs if run.idle_ok_min is not None]
    chosen = set(rng.sample(dry, min(MOST_RUNS, len(dry))))
    runs = tuple(
        replace(run, choices=tuple(longer(choice) for choice in run.choices)) if run.run_id in chosen else run
        for run in week.runs
    )
    if rng.random() < GOES_OFF_SHARE:
        runs = tuple(_going_off(run) if run.run_id in chosen else run for run in runs)
    return replace(week, runs=runs)


def _as_long(way: Way, print_min: int) -> Way:
    """Another way to print it takes no fewer minutes, and more by as much as it is slower."""
    slower_min = -(-print_min * FULL_RATE_PERMILLE // way.step_permille)
    return replace(way, print_min=slower_min, part_min=(slower_min,))


def _going_off(run: Run) -> Run:
    """The run with inks that are mixed anew after each pot life that leaves something to print."""
    choices = tuple(
        replace(
            choice,
            mixing_min=(choice.print_min - 1) // POT_LIFE_MIN * REMIX_MIN,
            other_ways=tuple(
                replace(way, mixing_min=(way.print_min - 1) // POT_LIFE_MIN * REMIX_MIN) for way in choice.other_ways
            ),
        )
        for choice in run.choices
    )
    return replace(run, choices=choices, pot_life_min=POT_LIFE_MIN, remix_min=REMIX_MIN)

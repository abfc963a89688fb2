"""What comes in between, drawn once for every run and replay: the same draws for every plan of the same runs.

Each run has random numbers of its own, made from the seed and its name. So two plans of one week, or one week with and
without a cause, meet the same days (common random numbers), and what differs between them is the plan or the cause.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray

from scheduler.domain.chances import Chances
from scheduler.insight.many_hours import Minutes

Shares = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class RunDays:
    """What each replay brings one run: factors on its set-up and print minutes, minutes lost while printing, and days
    by which its garments and its art are late if they are still to come.
    """

    set_up: Shares
    printing: Shares
    lost_min: Minutes
    blanks_days: Minutes
    art_days: Minutes


def run_days(chances: Chances, run_id: str, order_id: str, print_min: int, replays: int, seed: int) -> RunDays:
    """The draws of one run. Garments and art of one order are late together."""
    draw = _generator(seed, f"run {run_id}")
    set_up, printing = draw.standard_normal((2, replays))
    spoiled, spoil_size, broken, stopped = draw.random((4, replays))
    stop_sizes = draw.standard_exponential((3, replays))
    together = _generator(seed, f"order {order_id}")
    blanks, art, two_blanks, two_art = together.random((4, replays))
    lost = np.where(
        spoiled < chances.spoil_chance,
        print_min * (chances.spoil_least + spoil_size * (chances.spoil_most - chances.spoil_least)),
        0.0,
    )
    lost += np.where(broken < chances.screen_chance, float(chances.screen_min), 0.0)
    stops = _poisson(stopped, chances.stop_per_hour * print_min / 60, len(stop_sizes))
    for number, sizes in enumerate(stop_sizes):
        lost += np.where(stops > number, sizes * chances.stop_min, 0.0)
    return RunDays(
        set_up=np.exp(chances.set_up_spread * set_up),
        printing=np.exp(chances.print_spread * printing),
        lost_min=np.rint(lost).astype(np.int64),
        blanks_days=_late_days(blanks, two_blanks, chances.blanks_chance, chances.two_days_in),
        art_days=_late_days(art, two_art, chances.art_chance, chances.two_days_in),
    )


def _poisson(uniform: Shares, mean: float, most: int) -> Minutes:
    """How many stops each uniform number stands for, at most `most`: the inverse of the Poisson distribution."""
    stops = np.zeros(len(uniform), dtype=np.int64)
    term = reached = float(np.exp(-mean))
    for number in range(1, most + 1):
        stops += uniform >= reached
        term *= mean / number
        reached += term
    return stops


def _late_days(late: Shares, two: Shares, chance: float, two_days_in: int) -> Minutes:
    days = 1 + (two * two_days_in < 1.0).astype(np.int64)
    return np.where(late < chance, days, 0).astype(np.int64)


def _generator(seed: int, name: str) -> np.random.Generator:
    digest = blake2b(f"{seed} {name}".encode(), digest_size=16).digest()
    return np.random.default_rng(int.from_bytes(digest, "big"))

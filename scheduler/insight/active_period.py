"""The place that holds the line up, moment by moment: whoever has been busy longest without a break.

The active-period method: Roser, Nakano and Tanaka, Shifting bottleneck detection, Winter Simulation Conference 2002.
A place is active whenever it does anything but wait (printing, being set up, restarting). At every minute the place
with the longest unbroken active period is the bottleneck of that minute. Where one such period runs into the next the
bottleneck shifts from one place to the other; the rest of the time it is the sole bottleneck.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Period = tuple[int, int]
"""An unbroken active period [start, end), in minutes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A stretch in which a place holds the line up. shifts_to: the place it shares the stretch with, "" for none."""

    place: str
    start: int
    end: int
    shifts_to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Minutes in which a place was the only bottleneck, and in which the bottleneck shifted from or to it."""

    place: str
    sole_min: int
    shifting_min: int


def bottlenecks(active: Mapping[str, Sequence[Period]]) -> tuple[Held, ...]:
    """Who holds the line up when, in order of time; minutes in which nobody is active belong to nobody.

    active: each place's active periods, apart and in order of time.
    """
    chosen = _chosen([(start, end, place) for place, periods in active.items() for start, end in periods])
    held: list[Held] = []
    free_from = 0
    for at, (start, end, place) in enumerate(chosen):
        then = chosen[at + 1] if at + 1 < len(chosen) else None
        shift_from = end if then is None else min(end, max(then[0], free_from))
        if max(start, free_from) < shift_from:
            held.append(Held(place=place, start=max(start, free_from), end=shift_from))
        if then is not None and shift_from < end:
            held.append(Held(place=place, start=shift_from, end=end, shifts_to=then[2]))
        free_from = max(free_from, end)
    return tuple(held)


def shares(held: Sequence[Held]) -> tuple[Share, ...]:
    """Minutes by place, most sole minutes first; a shift counts for both places that share it."""
    sole: dict[str, int] = {}
    shifting: dict[str, int] = {}
    for one in held:
        minutes = one.end - one.start
        if one.shifts_to:
            for place in (one.place, one.shifts_to):
                shifting[place] = shifting.get(place, 0) + minutes
        else:
            sole[one.place] = sole.get(one.place, 0) + minutes
    found = [
        Share(place=place, sole_min=sole.get(place, 0), shifting_min=shifting.get(place, 0))
        for place in {**sole, **shifting}
    ]
    return tuple(sorted(found, key=lambda share: (-share.sole_min, -share.shifting_min, share.place)))


def _chosen(periods: Sequence[tuple[int, int, str]]) -> list[tuple[int, int, str]]:
    """The periods that are the longest of their moment, one after the other: from each, the longest of those active
    at its end (longest: earliest begun, then latest ended); after a pause of all, the next that begins.
    """
    left = sorted(periods, key=lambda period: (period[0], -period[1], period[2]))
    found: list[tuple[int, int, str]] = []
    at: int | None = None
    while True:
        if at is None:
            pool = left
        else:
            pool = [period for period in left if period[0] <= at < period[1]]
            pool = pool or [period for period in left if period[0] > at]
        if not pool:
            return found
        begun = min(period[0] for period in pool)
        best = min((period for period in pool if period[0] == begun), key=lambda period: (-period[1], period[2]))
        found.append(best)
        left = [period for period in left if period[1] > best[1]]
        at = best[1]

"""Were the told days true? Odds as they were told beside what happened, order by order.

The odds of an order are those of the first plan announced with it: what its client was told. They are held against
the moment it was packed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import sqrt
from zoneinfo import ZoneInfo

import numpy as np

from scheduler.domain.chances import Chances
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.insight.many_replays import ManyReplays
from scheduler.record.events import Event, Packed

REPLAYS = 500
BINS = ((0.0, 0.2), (0.2, 0.4), (0.4, 0.6), (0.6, 0.8), (0.8, 1.0))
"""Chances told, in fifths: "4 in 20 or less", …, "more than 16 in 20"."""
ENOUGH_ORDERS = 20
"""Orders below which no verdict is given. Common practice, no source."""
IN_ALL = 20
SURE_Z = 1.64
"""Standard deviations beyond which kept and told differ by more than chance, one time in ten."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldAndKept:
    """One order. ends_min: when it might be packed, wall minutes from the plan's moment, rising; actual_min: when it
    was; promised_min: its promised pick-up.
    """

    order_id: str
    told_at: datetime
    ends_min: tuple[int, ...]
    promised_min: int
    actual_min: int

    @property
    def chance(self) -> float:
        """The chance that was told for the promised pick-up."""
        return sum(end <= self.promised_min for end in self.ends_min) / len(self.ends_min)

    @property
    def is_kept(self) -> bool:
        """True if it was packed for its promised pick-up."""
        return self.actual_min <= self.promised_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Fifth:
    """Orders told a chance within (least, most]: how many, how many of them kept, the mean chance told."""

    least: float
    most: float
    orders: int
    kept: int
    told: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """Told and kept over many orders. crps_min: mean continuous ranked probability score, minutes (0: every moment
    known beforehand). pit: for each order the share of its possible ends before the actual one. sentence: for people.
    """

    orders: int
    kept: int
    expected: float
    fifths: tuple[Fifth, ...]
    crps_min: float | None
    pit: tuple[float, ...]
    sentence: str


def told_and_kept(
    week: Week,
    plan: Plan,
    chances: Chances,
    events: Iterable[Event],
    *,
    known: Iterable[str] = (),
    replays: int = REPLAYS,
    seed: int = 1,
) -> tuple[ToldAndKept, ...]:
    """Orders of an announced plan that are packed by now, with the odds of that plan. known: orders told before it."""
    actual = _packed_at(week, events)
    wanted = [order for order in week.orders if order.order_id in actual and order.order_id not in set(known)]
    if not wanted or not plan.runs:
        return ()
    ends = ManyReplays(week, plan, chances, replays, seed).run()
    return tuple(
        ToldAndKept(
            order_id=order.order_id,
            told_at=week.clock.now,
            ends_min=tuple(sorted(week.clock.wall_at_end(int(tau)) for tau in ends[order.order_id])),
            promised_min=week.clock.wall_at_end(order.pickups_tau[order.must_leave]),
            actual_min=actual[order.order_id],
        )
        for order in wanted
        if order.order_id in ends
    )


def _packed_at(week: Week, events: Iterable[Event]) -> dict[str, int]:
    """Wall minutes of each order's packing after the plan was made; noted twice, the last note counts."""
    zone = ZoneInfo(week.clock.zone)
    noted = [(event.order_id, event.at.replace(tzinfo=zone)) for event in events if isinstance(event, Packed)]
    return {order_id: week.clock.wall_of(at) for order_id, at in noted if at >= week.clock.now}


def crps(ends: Sequence[float], actual: float) -> float:
    """Mean |x − y| − mean |x − x'| / 2 over the possible ends x.

    T. Gneiting and A. E. Raftery, "Strictly proper scoring rules, prediction, and estimation", Journal of the American
    Statistical Association 102, 2007, eq. 21 (memory).
    """
    x = np.sort(np.asarray(ends, dtype=float))
    count = len(x)
    ranks = 2 * np.arange(1, count + 1) - count - 1
    return float(np.abs(x - actual).mean() - (ranks * x).sum() / count**2)


def pit(ends: Sequence[float], actual: float) -> float:
    """The share of the possible ends before the actual one, half of those at the same minute.

    Spread evenly between 0 and 1 where odds are honest (A. P. Dawid, "Statistical theory: the prequential approach",
    Journal of the Royal Statistical Society A 147, 1984) (memory).
    """
    before = sum(end < actual for end in ends) + sum(end == actual for end in ends) / 2
    return before / len(ends)


def calibration(orders: Sequence[ToldAndKept]) -> Calibration:
    """What was told beside what happened, over all orders."""
    kept = sum(one.is_kept for one in orders)
    expected = sum(one.chance for one in orders)
    return Calibration(
        orders=len(orders),
        kept=kept,
        expected=expected,
        fifths=tuple(_fifth(orders, least, most) for least, most in BINS),
        crps_min=sum(crps(one.ends_min, one.actual_min) for one in orders) / len(orders) if orders else None,
        pit=tuple(pit(one.ends_min, one.actual_min) for one in orders),
        sentence=_sentence(orders, kept, expected),
    )


def _fifth(orders: Sequence[ToldAndKept], least: float, most: float) -> Fifth:
    own = [one for one in orders if least < one.chance <= most or (least == 0 and one.chance == 0)]
    return Fifth(
        least=least,
        most=most,
        orders=len(own),
        kept=sum(one.is_kept for one in own),
        told=sum(one.chance for one in own) / len(own) if own else 0.0,
    )


def _sentence(orders: Sequence[ToldAndKept], kept: int, expected: float) -> str:
    """One sentence for the planner.

    Kept and told differ by more than chance where |kept − sum p| > 1.64 sqrt(sum p (1 − p)) + 1/2 (the normal law for
    a sum of independent yes-or-no outcomes, with its continuity correction).
    """
    count = len(orders)
    if count < ENOUGH_ORDERS:
        return f"Too few orders to judge the odds by: {count} packed with odds told before, {ENOUGH_ORDERS} are needed."
    told = f"{kept} of {count} promised pick-ups were kept, {expected:.0f} were to be expected by the odds told"
    spread = sqrt(sum(one.chance * (1 - one.chance) for one in orders))
    if abs(kept - expected) <= SURE_Z * spread + 0.5:
        return f"{told}: the odds hold."
    if kept < expected:
        return f"{told}: the odds were too sure of themselves, so say later days than they do."
    return f"{told}: the odds were too careful, so earlier days may be said."

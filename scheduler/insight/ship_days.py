"""The day to tell a client: what the plan, lived through many times, says about each order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from scheduler.domain.chances import CAUSES, Chances
from scheduler.domain.plan import Plan
from scheduler.domain.week import OrderDue, Week
from scheduler.insight.many_hours import Minutes
from scheduler.insight.many_replays import ManyReplays

CONFIDENCE = 0.8
REPLAYS = 2000
CAUSE_REPLAYS = 500
"""Replays for each cause that is left out, of the same days."""
IN_ALL = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """By a pick-up (shop minute) the order is ready in `ready` of `of` replays."""

    pickup_tau: int
    ready: int
    of: int

    @property
    def in_20(self) -> int:
        """So many times in twenty, rounded down: a chance is never told as better than it is."""
        return IN_ALL * self.ready // self.of


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A cause, and in how many more of `of` replays the promise would be kept without it."""

    cause: str
    saved: int
    of: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipDay:
    """One order. say_tau: the first pick-up kept at the asked confidence, None if none of the planned days is.

    kept: replays that keep the promise. odds: pick-ups from the first that any replay makes to the first that all make.
    slips: what costs the promise most often, most first.
    """

    order_id: str
    planned_tau: int
    promised_tau: int
    say_tau: int | None
    kept: int
    of: int
    odds: tuple[Odds, ...]
    slips: tuple[Slip, ...] = ()


def ship_days(
    week: Week,
    plan: Plan,
    chances: Chances,
    *,
    confidence: float = CONFIDENCE,
    replays: int = REPLAYS,
    seed: int = 1,
    with_slips: bool = True,
    stop: Callable[[], bool] | None = None,
) -> tuple[ShipDay, ...]:
    """What to tell about every planned order, in the week's order.

    Raises ValueError unless 0 < confidence < 1 and there is at least one replay.
    """
    if not 0 < confidence < 1 or replays < 1:
        raise ValueError("a confidence lies between 0 and 1, and at least one replay is needed")
    lived = ManyReplays(week, plan, chances, replays, seed)
    packed = lived.run()
    slips = _slips(lived, chances, min(replays, CAUSE_REPLAYS), stop) if with_slips else {}
    return tuple(
        _ship_day(order, plan.order[order.order_id].packed_tau, packed[order.order_id], confidence, slips)
        for order in week.orders
        if order.order_id in packed
    )


def _ship_day(
    order: OrderDue, planned_tau: int, packed: Minutes, confidence: float, slips: dict[str, tuple[Slip, ...]]
) -> ShipDay:
    of = len(packed)
    ready = np.searchsorted(np.sort(packed), np.array(order.pickups_tau), side="right")
    counts = [int(count) for count in ready]
    needed = confidence * of
    say = next((tau for tau, count in zip(order.pickups_tau, counts, strict=True) if count >= needed), None)
    shown = [
        Odds(pickup_tau=tau, ready=count, of=of)
        for at, (tau, count) in enumerate(zip(order.pickups_tau, counts, strict=True))
        if count and (not at or counts[at - 1] < of)
    ]
    return ShipDay(
        order_id=order.order_id,
        planned_tau=planned_tau,
        promised_tau=order.pickups_tau[order.must_leave],
        say_tau=say,
        kept=counts[order.must_leave],
        of=of,
        odds=tuple(shown),
        slips=slips.get(order.order_id, ()),
    )


def _slips(
    lived: ManyReplays, chances: Chances, replays: int, stop: Callable[[], bool] | None
) -> dict[str, tuple[Slip, ...]]:
    """For each order the causes without which it would keep its promise more often: the same days, one cause less."""
    with_all = _kept(lived.again(chances, replays))
    found: dict[str, list[Slip]] = {}
    for cause in CAUSES:
        if stop is not None and stop():
            break
        without = chances.without(cause)
        if without == chances:
            continue
        for order_id, kept in _kept(lived.again(without, replays)).items():
            if kept > with_all[order_id]:
                found.setdefault(order_id, []).append(Slip(cause=cause, saved=kept - with_all[order_id], of=replays))
    return {order_id: tuple(sorted(slips, key=lambda slip: -slip.saved)) for order_id, slips in found.items()}


def _kept(lived: ManyReplays) -> dict[str, int]:
    packed = lived.run()
    return {
        order.order_id: int((packed[order.order_id] <= order.pickups_tau[order.must_leave]).sum())
        for order in lived.week.orders
        if order.order_id in packed
    }

"""What a plan of the first runs of an order tells of the whole: its cost so far, and when each press gets through."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.search.decoder import Progress
from scheduler.search.genome import Genes
from scheduler.search.quick import slots as at
from scheduler.search.tables import Tables

if TYPE_CHECKING:
    from scheduler.search.quick.trials import Begun

NEARLY_LATE_SHARE = 0.5
"""What a minute later does to an order that is packed within a day of its date, beside one that is late already."""


@dataclass(frozen=True, slots=True)
class Reached:
    """A partial plan. cents: cost so far, least cost of the rest, and what the rest loses by waiting for presses.

    put_off: runs that found no place yet; packed_tau: when each order is packed, -1 where it is not yet.
    """

    genes: Genes
    cents: float
    put_off: int
    packed_tau: list[int]


def reached(
    tables: Tables, partial: Progress | Begun, genes: Genes, after: tuple[float, ...], late_share: float
) -> Reached:
    """What a partial plan of some genes comes to."""
    if isinstance(partial, Progress):
        state = partial.state
        cost_cents, put_off, packed_tau = state.cost_cents + state.least_left, len(partial.put_off), state.packed_tau
    else:
        w, s = partial.w, partial.s
        cost_cents = int(s[at.S_LATE : at.S_LEAST_LEFT + 1].sum())
        put_off = int(s[at.S_PUT_OFF_COUNT])
        packed = int(w[at.P_PACKED])
        packed_tau = s[packed : packed + len(tables.orders)].tolist()
    late = sum(
        order.late_cents * (tau - order.promised_tau)
        for order, tau in zip(tables.orders, packed_tau, strict=True)
        if tau > order.promised_tau
    )
    waiting = sum(cents * tau for cents, tau in zip(after, through_tau(tables, partial), strict=True) if cents)
    return Reached(genes, cost_cents + late_share * late + waiting, put_off, packed_tau)


def through_tau(tables: Tables, partial: Progress | Begun) -> list[int]:
    """When each press gets through with what is placed on it."""
    if isinstance(partial, Progress):
        state = partial.state
        return [state.of(queue[-1]).end_tau if queue else 0 for queue in state.queues]
    w, s = partial.w, partial.s
    found = []
    for press in range(len(tables.week.presses)):
        queue = int(w[at.P_QUEUES]) + press * (len(tables.runs) + 1)
        count = int(s[queue])
        found.append(_end_tau(partial, int(s[queue + count])) if count else 0)
    return found


def later_cents(tables: Tables, whole: Progress | Begun, behind: Collection[int], day_min: float) -> tuple[float, ...]:
    """Per press, cents that a minute more would cost the orders that end on it with one of the runs `behind`."""
    ends = _ends(tables, whole)
    cents = [0.0] * len(tables.week.presses)
    for order, packed_tau in zip(tables.orders, _packed(tables, whole), strict=True):
        last = max(order.runs, key=lambda number: ends[number][1], default=-1)
        if last in behind and packed_tau > order.promised_tau - day_min:
            is_late = packed_tau > order.promised_tau
            cents[ends[last][0]] += (1.0 if is_late else NEARLY_LATE_SHARE) * order.late_cents / day_min
    return tuple(cents)


def _ends(tables: Tables, whole: Progress | Begun) -> list[tuple[int, int]]:
    """Press and end of every run."""
    found = [(0, 0)] * len(tables.runs)
    for press in range(len(tables.week.presses)):
        for number in _queue(tables, whole, press):
            found[number] = (press, _end_tau(whole, number))
    return found


def _queue(tables: Tables, partial: Progress | Begun, press: int) -> list[int]:
    if isinstance(partial, Progress):
        return partial.state.queues[press]
    queue = int(partial.w[at.P_QUEUES]) + press * (len(tables.runs) + 1)
    numbers: list[int] = partial.s[queue + 1 : queue + 1 + int(partial.s[queue])].tolist()
    return numbers


def _end_tau(partial: Progress | Begun, number: int) -> int:
    if isinstance(partial, Progress):
        return partial.state.of(number).end_tau
    w = partial.w
    return int(partial.s[int(w[at.P_PLACED]) + number * int(w[at.W_PLACED_SIZE]) + at.A_END])


def _packed(tables: Tables, partial: Progress | Begun) -> list[int]:
    if isinstance(partial, Progress):
        return partial.state.packed_tau
    packed = int(partial.w[at.P_PACKED])
    tau: list[int] = partial.s[packed : packed + len(tables.orders)].tolist()
    return tau

"""What the runs of one press cost and take under one choice of overtime, for many ways at once.

Everything here is a least: moments by which screens could be burned, people could have done the work, an order could
be packed. Ways stand in parallel rows, one number a way.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.search.bounds import must_burn
from scheduler.search.day_buckets import DayBuckets
from scheduler.search.floor_rows import floor_demands
from scheduler.search.packing import date_cents
from scheduler.search.queue_hours import LATER, QueueHours, Row, index_row
from scheduler.search.tables import OrderSpec, Tables
from scheduler.search.timing import Hours, open_hours

NO_PLAN_CENTS = 1 << 50
"""What it counts where something comes after the last pick-up."""


class QueueWeek:
    """The press's hours, the room, the people and the orders under one choice of overtime."""

    def __init__(self, buckets: DayBuckets, limits: Sequence[Limit], press: int, bought: frozenset[str]) -> None:
        """Work out the rows. buckets: with its dates made; limits: of `people_limits`."""
        self.tables: Tables = buckets.tables
        self.buckets = buckets
        self.press = press
        self.horizon_tau = self.tables.horizon_tau
        self.hours = QueueHours(self.tables, press, bought)
        self.order_cents = [self._cents_by_minute(order) for order in self.tables.orders]
        self.alone_tau = [buckets.times.packed_tau(number) for number in range(len(self.tables.orders))]
        self.tail_min = [
            min(self.tables.runs[run].cure_min for run in order.runs) + order.last_box_min
            for order in self.tables.orders
        ]
        self.burned = [one for one in self.tables.sets if must_burn(self.tables, one)]
        self.taped_tau = self._taped_by_minutes(bought)
        self.limits = [(one.runs, one.packs, one.when(bought)) for one in limits]
        self._finishing = _Finishing(self.tables, bought)

    def burn_min(self, done: Row) -> Row:
        """Minutes of burning all screens that these runs print with."""
        total = np.zeros(len(done), dtype=np.int64)
        for one in self.burned:
            total += np.where(done & _bits(one.runs) != 0, one.burn_min, 0)
        return total

    def set_up_from(self, number: int, done: Row, burn_min: Row) -> Row:
        """Shop minutes from which a run may be set up after these, its screens and all of theirs burned and taped."""
        for one in self.burned:
            if number in one.runs:
                burn_min = burn_min + np.where(done & _bits(one.runs) == 0, one.burn_min, 0)
        return np.maximum(self.taped_tau[burn_min], self.buckets.starts[number])

    def people_by(self, done: Row) -> list[Row]:
        """Per limit: what these runs have used of it."""
        used = []
        for runs, _, _ in self.limits:
            total = np.zeros(len(done), dtype=np.int64)
            for number, minutes in enumerate(runs):
                if minutes:
                    total += np.where((done >> number) & 1 == 1, minutes, 0)
            used.append(total)
        return used

    def packed_cents(self, number: int, start_tau: Row, end_tau: Row, used: Sequence[Row]) -> Row:
        """What the order of a run costs where it is the last of it: print start, print end, what people have used."""
        run = self.tables.runs[number]
        order = self.tables.orders[run.order]
        packed_tau = self._finishing.packed(order, start_tau, end_tau + run.cure_min + order.last_box_min)
        packed_tau = np.maximum(packed_tau, self.alone_tau[run.order])
        for minutes, (_, packs, when) in zip(used, self.limits, strict=True):
            if packs[run.order]:
                packed_tau = np.maximum(packed_tau, when[minutes + packs[run.order]])
        return self.cents_at(run.order, packed_tau)

    def cents_at(self, number: int, packed_tau: Row) -> Row:
        """What an order costs that is packed at these shop minutes."""
        cents = self.order_cents[number][np.minimum(packed_tau, self.horizon_tau)]
        return np.where(packed_tau > self.horizon_tau, NO_PLAN_CENTS, cents)

    def _cents_by_minute(self, order: OrderSpec) -> Row:
        """What an order costs by shop minute: `date_cents`, which changes only behind a pick-up or the cushion."""
        moments = sorted({order.cushion_from_tau, *order.pickups_tau})
        steps = [sum(date_cents(order, tau)) for tau in (moments[0], *(moment + 1 for moment in moments))]
        tau = np.arange(self.horizon_tau + 1)
        cents = np.array(steps)[np.searchsorted(moments, tau)]
        return np.where(tau > order.pickups_tau[-1], NO_PLAN_CENTS, cents)

    def _taped_by_minutes(self, bought: frozenset[str]) -> Row:
        """By minutes of burning: when the last of these screens can be taped."""
        taped_tau = np.zeros(sum(one.burn_min for one in self.burned) + 1, dtype=np.int64)
        room = self.tables.week.screen_room
        if room is None:
            return taped_tau
        hours, tape_min = open_hours(room.calendar, bought), min((one.tape_min for one in self.burned), default=0)
        for minutes in range(1, len(taped_tau)):
            busy_min = -(-minutes // room.exposure_units)
            if busy_min > hours.total:
                taped_tau[minutes:] = LATER
                break
            dry_tau = self.tables.drying.dry_tau(hours.end(busy_min), self.tables.dry_min)
            index = hours.index_from(dry_tau) + tape_min
            end_tau = hours.end(index) if 0 < index <= hours.total else LATER
            taped_tau[minutes] = end_tau if tape_min else dry_tau
        return taped_tau


@dataclass(frozen=True, slots=True)
class Limit:
    """People who can do some work, or exposure units. runs, packs: minutes used by each run, and by packing each order.

    there, more: minutes that have been there by each shop minute, and what each block of overtime adds to them.
    """

    runs: tuple[int, ...]
    packs: tuple[int, ...]
    there: NDArray[np.float64]
    more: dict[str, NDArray[np.float64]]

    def when(self, bought: frozenset[str]) -> Row:
        """By minutes used: the shop minute by which they have been there."""
        there = self.there + sum(more for block, more in self.more.items() if block in bought)
        when = np.searchsorted(there, np.arange(sum(self.runs) + sum(self.packs) + 1) - 0.5)
        when[when >= len(there)] = LATER
        return when


def people_limits(buckets: DayBuckets, press: int) -> list[Limit]:
    """Every limit that the runs of a press use."""
    tables, found = buckets.tables, []
    taus = range(tables.horizon_tau + 1)
    for demand, until, extra in floor_demands(buckets):
        shares, ends = demand.by_share, demand.by_date
        runs = tuple(int(shares.get((run.number, press), 0.0) + ends.get(run.number, 0.0)) for run in tables.runs)
        packs = tuple(int(demand.packing.get(number, 0.0)) for number in range(len(tables.orders)))
        if any(runs) or any(packs):
            more = {block: np.array([one(tau) for tau in taus]) for block, one in extra.items()}
            found.append(Limit(runs, packs, np.array([until(tau) for tau in taus]), more))
    return found


def _bits(runs: Iterable[int]) -> int:
    return sum(1 << number for number in runs)


class _Finishing:
    """When orders can be packed by the finishing hours."""

    def __init__(self, tables: Tables, bought: frozenset[str]) -> None:
        finishing = tables.week.finishing
        self._horizon_tau = tables.horizon_tau
        self._hours: Hours | None = None if finishing is None else open_hours(finishing.calendar, bought)
        if self._hours is not None:
            total = self._hours.total
            self._index = index_row(self._hours, tables.horizon_tau)
            self._end_tau = np.array([0, *(self._hours.end(index) for index in range(1, total + 1)), LATER])

    def packed(self, order: OrderSpec, start_tau: Row, from_tau: Row) -> Row:
        """Earliest end of finishing that starts no sooner than it may and ends no sooner than `from_tau`."""
        if self._hours is None or not order.finish_min:
            return from_tau
        last_tau = self._horizon_tau
        begin = self._index[np.minimum(start_tau + order.finish_lag_min, last_tau)]
        index = np.maximum(begin + order.finish_min, self._index[np.minimum(from_tau, last_tau)])
        index = np.minimum(index, self._hours.total + 1)
        index = np.where(self._end_tau[index] < from_tau, index + 1, index)
        return np.asarray(self._end_tau[np.minimum(index, self._hours.total + 1)])

"""What one press can do at best: the queue of a week in which a single press prints everything, and what it must cost.

Every order of the runs is tried, layer by layer: which runs are done, which was last, when the press is free and what
it cost so far. Of two ways to the same runs and the same last one, the one that is neither sooner nor cheaper goes.
Set-ups take what `queue_steps` says, prints end when `queue_hours` says, overtime is tried block by block. Screens are
burned by then and people have the minutes for all that is done; that they are also there at the right moment is left
out, and all that is left out could only make a plan dearer: so the cheapest way is a lower bound, and most often its
order, decoded, is a plan of just that cost. A layer that is not gone through proves what its cheapest way costs.
(Held and Karp 1962, with the free moment and the cost as a second and a third measure.)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from scheduler.search.bounds import must_burn
from scheduler.search.day_buckets import DayBuckets
from scheduler.search.genome import Genome
from scheduler.search.least_times import open_choices
from scheduler.search.queue_hours import LATER, Row
from scheduler.search.queue_steps import FIRST, QueueSteps
from scheduler.search.queue_week import NO_PLAN_CENTS, QueueWeek, people_limits
from scheduler.search.tables import Tables, with_nested

MOST_RUNS = 30
"""Runs of a week up to which it is worth beginning; each is a bit of a whole number."""
MOST_WAYS = 1_200_000
"""Ways in a layer up to which the next one is looked at; a few hundred MB."""
TAU_BITS = 24
"""Bits of a shop minute where it is sorted by."""
FEW_WAYS = 10_000
"""Ways of a layer that are followed where a good queue is wanted soon."""
CROWD_PRICES = (0.3, 0.7)
"""Of all orders' lateness by the minute of work, sorted: those that are tried as the price of a minute."""
CROWDS_APART_MIN = 60
"""Of dates closer than that the last one counts: each of them takes its time."""
MOST_CHOICES_OF_OVERTIME = 16
"""More of them are not told apart: then all overtime is open and none is paid for."""
MOST_QUEUES = 12
"""Cheapest orders that are handed out."""

KINDS = (np.int32, np.int8, np.int32, np.int64, np.int64, np.int16, np.int32)
"""Of the rows of `_Ways`: small ones, as there are millions of them."""
NEVER_FREE_TAU = (1 << TAU_BITS) - 1
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueLook:
    """What came of it. bound_cents: no plan costs less. genomes: the cheapest queues, none where it was cut short."""

    bound_cents: int
    genomes: tuple[Genome, ...] = ()


def is_one_queue(tables: Tables) -> bool:
    """True if one press prints everything, and the runs are few enough to begin."""
    presses = {choice.press for run in tables.runs for choice in open_choices(run)}
    every_run_fits = all(open_choices(run) for run in tables.runs)
    return len(presses) == 1 and every_run_fits and 0 < len(tables.runs) <= MOST_RUNS


@dataclass(slots=True)
class _Ways:
    """Ways to print some of the runs, in parallel rows.

    done: a bit a run. last: number of the last run, `FIRST` for none. free_tau: its print end. seen: inks, a bit each,
    that printed before the last run. departed: how often an ink has left altogether, at most.
    parent: row of the way in the layer before that this one goes on from.
    """

    done: Row
    last: Row
    free_tau: Row
    cents: Row
    seen: Row
    departed: Row
    parent: Row

    def __len__(self) -> int:
        return len(self.done)

    def only(self, which: NDArray[np.bool_] | Row | slice) -> _Ways:
        return _Ways(*(getattr(self, name)[which] for name in _Ways.__slots__))


class OneQueue:
    """The search of one week, over every choice of overtime."""

    def __init__(self, tables: Tables, stop: Stop = lambda: False, most_ways: int = MOST_WAYS) -> None:
        """Work out what does not depend on overtime. Needs `is_one_queue`.

        stop: asked now and then; True ends a look with what is proven by then. most_ways: of a layer, for a proof.
        """
        self.tables = tables
        self.stop = stop
        self.most_ways = most_ways
        self._weeks: dict[frozenset[str], QueueWeek] = {}
        self.press = open_choices(tables.runs[0])[0].press
        self.choice = [run.by_press[self.press] for run in tables.runs]
        self.buckets = DayBuckets(tables, 2)
        self.buckets.make_dates()
        self.limits = people_limits(self.buckets, self.press)
        self.steps = QueueSteps(tables, self.press)
        self.burns_cents = sum(one.burn_cents for one in tables.sets if must_burn(tables, one))
        pieces = self.buckets.pieces[self.press]
        self.cents_per_min = pieces.cents_per_min
        # What a run costs on its press whatever goes before it, its set-up minutes left out.
        self.own_cents = [
            round(self.buckets.choice_cents(run, choice)) - pieces.own_min[run.number] * self.cents_per_min
            for run, choice in zip(tables.runs, self.choice, strict=True)
        ]
        steps, numbers = self.steps.steps, range(len(tables.runs))
        self.least_min = [min(steps[old, new].least_min for old in (FIRST, *numbers) if old != new) for new in numbers]
        self.least_cents = [
            least * self.cents_per_min + own for least, own in zip(self.least_min, self.own_cents, strict=True)
        ]

    def best(self, known_cents: int) -> QueueLook:
        """The cheapest queues and what no plan undercuts; nothing above what a known plan costs is proven."""
        return self._looked(known_cents)

    def good(self, known_cents: int, ways: int = FEW_WAYS) -> tuple[Genome, ...]:
        """Queues found soon, following only so many of the most promising ways of a layer; nothing is proven."""
        return self._looked(known_cents, ways).genomes

    def week(self, bought: frozenset[str]) -> QueueWeek:
        """The week under one choice of overtime, worked out once."""
        if bought not in self._weeks:
            self._weeks[bought] = QueueWeek(self.buckets, self.limits, self.press, bought)
        return self._weeks[bought]

    def _looked(self, known_cents: int, followed: int | None = None) -> QueueLook:
        bound_cents, found = known_cents, list[tuple[int, Genome]]()
        for paid_cents, bought in self._choices_of_overtime():
            if paid_cents >= bound_cents:
                break
            if self.stop():
                bound_cents = min(bound_cents, paid_cents + self.burns_cents + sum(self.least_cents))
                break
            queue = _Queue(self, bought, followed)
            bound_cents = min(bound_cents, paid_cents + queue.least_cents(bound_cents - paid_cents))
            found += [(paid_cents + cents, genome) for cents, genome in queue.genomes()]
        found.sort(key=lambda one: one[0])
        return QueueLook(bound_cents=bound_cents, genomes=tuple(genome for _, genome in found[:MOST_QUEUES]))

    def _choices_of_overtime(self) -> list[tuple[int, frozenset[str]]]:
        """(price, blocks with those they come after), cheapest first."""
        prices = self.tables.overtime_cents
        sizes = range(len(prices) + 1)
        found = {frozenset[str]()}
        for some in (some for size in sizes for some in combinations(sorted(prices), size)):
            found.add(with_nested(self.tables, frozenset(some)))
            if len(found) > MOST_CHOICES_OF_OVERTIME:
                return [(0, frozenset(prices))]
        paid = [(sum(prices[block] for block in bought), bought) for bought in found]
        return sorted(paid, key=lambda one: (one[0], sorted(one[1])))


class _Queue:
    """One choice of overtime."""

    def __init__(self, one: OneQueue, bought: frozenset[str], followed: int | None = None) -> None:
        self.one = one
        self.followed = followed
        self.tables = one.tables
        self.bought = bought
        self.week = one.week(bought)
        # Per layer: the last run of each way, and the row of the way in the layer before.
        self.layers: list[tuple[NDArray[np.int8], NDArray[np.int32]]] = []
        self.ends_cents: Row = np.zeros(0, dtype=np.int64)
        work_min = [min(way.work_min for way in (choice, *choice.other_ways)) for choice in one.choice]
        self.work_min = [least + work for least, work in zip(one.least_min, work_min, strict=True)]
        self.crowds = self._crowds()

    def least_cents(self, below: int) -> int:
        """Least cents of all ways, `below` at most; what is proven so far where it is cut short."""
        start = (0, FIRST, 0, self.one.burns_cents, 0, 0, 0)
        ways = _Ways(*(np.array([number], dtype=kind) for number, kind in zip(start, KINDS, strict=True)))
        proven = min(below, int(self._least(ways).min()))
        for _ in self.tables.runs:
            grown = self._grown(ways, below)
            if grown is None:
                return proven
            ways = _best_of_each(grown)
            least = self._least(ways)
            chosen = np.flatnonzero(least < below)
            if self.followed is not None:
                chosen = chosen[np.argsort(least[chosen], kind="stable")[: self.followed]]
            ways, least = ways.only(chosen), least[chosen]
            self.layers.append((ways.last.astype(np.int8), ways.parent.astype(np.int32)))
            if not len(ways):
                return below
            proven = max(proven, int(least.min()))
            if len(ways) > self.one.most_ways:
                return proven
        self.ends_cents = ways.cents
        return proven

    def genomes(self) -> list[tuple[int, Genome]]:
        """(cents, queue) of the cheapest ways; none where it was cut short."""
        cheapest = np.argsort(self.ends_cents, kind="stable")[:MOST_QUEUES]
        return [(int(self.ends_cents[at]), self._genome(int(at))) for at in cheapest]

    def _genome(self, at: int) -> Genome:
        order = []
        for last, parent in reversed(self.layers):
            order.append(self.tables.runs[int(last[at])].run_id)
            at = int(parent[at])
        press_id = self.tables.week.presses[self.one.press].press_id
        return Genome(order=tuple(reversed(order)), press=(press_id,) * len(order), overtime=self.bought)

    def _grown(self, ways: _Ways, below: int) -> _Ways | None:
        """All ways with one run more, as far as they may stay below; None where somebody says stop."""
        started = sum(1 << run.number for run in self.tables.runs if run.is_started)
        used, burn_min = self.week.people_by(ways.done), self.week.burn_min(ways.done)
        least_cents = ways.cents + self._own_cents(ways.done)
        found = [ways.only(slice(0))]
        for run in self.tables.runs:
            if self.one.stop():
                return None
            ahead = sum(1 << number for number in run.after) | (0 if run.is_started else started)
            mask = ahead | (1 << run.number)
            fits = np.flatnonzero(ways.done & mask == ahead)
            if len(fits):
                here = replace(ways.only(fits), parent=fits)
                from_tau = self.week.set_up_from(run.number, here.done, burn_min[fits])
                grown = self._set_up(here, from_tau, run.number, [minutes[fits] for minutes in used])
                spared = least_cents[fits] - here.cents - self.one.least_cents[run.number]
                found.append(grown.only(grown.cents + spared < below))
        return _Ways(*(np.concatenate([getattr(one, name) for one in found]) for name in _Ways.__slots__))

    def _set_up(self, ways: _Ways, from_tau: Row, number: int, used: list[Row]) -> _Ways:
        """The ways, and a run right after each, set up no sooner than that."""
        week, run, choice, before = self.week, self.tables.runs[number], self.one.choice[number], ways.last + 1
        steps = self.one.steps
        step = steps.to[number]
        set_up_min, departs = step.most_min[before], step.departs[before]
        for ink, spared_min in step.spared:
            set_up_min -= spared_min[before] * ((ways.seen >> ink) & 1)
        seen = ways.seen | steps.left_by[before]
        departed = np.maximum(ways.departed + departs, self._have_departed(number, seen))
        set_up_min += (departed - ways.departed - departs) * steps.least_leave_min
        index = week.hours.index_from[np.minimum(np.maximum(ways.free_tau, from_tau), week.horizon_tau)]
        for kin in {*run.after, *run.mates}:
            which = np.flatnonzero(ways.last == kin)
            by = week.hours.set_up_by(ways.free_tau[which] + self.tables.runs[kin].gap_min) - set_up_min[which]
            index[which] = np.maximum(index[which], by)
        start_tau, end_tau = week.hours.printed(run, choice, set_up_min, index)
        used = [minutes + runs[number] for minutes, (runs, _, _) in zip(used, week.limits, strict=True)]
        for minutes, (_, _, when) in zip(used, week.limits, strict=True):
            end_tau = np.maximum(end_tau, when[minutes])
        done, whole = ways.done | (1 << number), sum(1 << one for one in self.tables.orders[run.order].runs)
        packed_cents = week.packed_cents(number, start_tau, end_tau, used)
        cents = ways.cents + set_up_min * self.one.cents_per_min + self.one.own_cents[number]
        cents += np.where(done & whole == whole, packed_cents, 0) + np.where(end_tau >= LATER, NO_PLAN_CENTS, 0)
        columns = (
            done,
            np.full(len(done), number),
            np.minimum(end_tau, NEVER_FREE_TAU),
            cents,
            seen,
            departed,
            ways.parent,
        )
        return _Ways(*(column.astype(kind, copy=False) for column, kind in zip(columns, KINDS, strict=True)))

    def _have_departed(self, number: int, seen: Row) -> Row:
        """How many inks are off the press: they printed before, do not now, and there is no head to keep them on."""
        steps = self.one.steps
        others = [ink for ink in range(steps.ink_count) if ink not in steps.uses[number]]
        if not steps.counted[number] or len(others) <= steps.room[number]:
            return np.zeros(len(seen), dtype=np.int64)
        standing = np.zeros(len(seen), dtype=np.int64)
        for ink in others:
            standing += (seen >> ink) & 1
        return np.maximum(0, standing - steps.room[number])

    def _own_cents(self, done: Row) -> Row:
        """What the runs that are not done cost at least, whatever goes before them."""
        cents = np.full(len(done), sum(self.one.least_cents))
        for number, cents_of in enumerate(self.one.least_cents):
            cents -= np.where((done >> number) & 1 == 1, cents_of, 0)
        return cents

    def _least(self, ways: _Ways) -> Row:
        """What each way comes to at least: its cents, those of the runs left, and those of dates that orders miss.

        Each if it came next, and more because not all of them can.
        """
        week = self.week
        cents = ways.cents + self._own_cents(ways.done)
        free = week.hours.index_from[np.minimum(ways.free_tau, week.horizon_tau)]
        waiting: list[tuple[int, Row, Row, Row]] = []
        for number, order in enumerate(self.tables.orders):
            work_min, is_open = np.zeros(len(ways), dtype=np.int64), np.full(len(ways), False)
            for run in order.runs:
                left = (ways.done >> run) & 1 == 0
                work_min += np.where(left, self.work_min[run], 0)
                is_open |= left
            end_tau = week.hours.end_by(free + work_min)
            packed_tau = np.maximum(end_tau + week.tail_min[number], week.alone_tau[number])
            next_cents = np.where(is_open, week.cents_at(number, packed_tau), 0)
            cents += next_cents
            waiting.append((number, work_min, packed_tau, next_cents))
        return cents + self._crowded(free, waiting)

    def _crowds(self) -> list[tuple[int, list[float]]]:
        """(moment by which an order is off the press to make its date, what a minute of putting off may cost)."""
        off_tau, prices = set[int](), set[float]()
        for number, order in enumerate(self.tables.orders):
            off_tau.add(order.promised_tau - self.week.tail_min[number])
            prices.add(order.late_cents / max(1, sum(self.work_min[run] for run in order.runs)))
        known, moments = sorted(prices), sorted(off_tau)
        some = [known[int(share * (len(known) - 1))] for share in CROWD_PRICES]
        later = [*moments[1:], LATER]
        return [(tau, some) for tau, after in zip(moments, later, strict=True) if after - tau > CROWDS_APART_MIN]

    def _crowded(self, free: Row, waiting: list[tuple[int, Row, Row, Row]]) -> Row:
        """What putting off so much work costs that the rest is done by a date; of all dates, the worst.

        For any price of a minute: price x minutes too many, less what orders are worth beyond that (Lagrange).
        """
        week = self.week
        most = np.zeros(len(free))
        for off_tau, prices in self.crowds:
            room_min = np.maximum(0, week.hours.index_from[min(off_tau, week.horizon_tau)] - free)
            work: list[tuple[Row, Row]] = []
            for number, work_min, packed_tau, next_cents in waiting:
                made_tau = off_tau + week.tail_min[number]
                missed_cents = week.order_cents[number][min(made_tau + 1, week.horizon_tau)]
                work.append((np.where(packed_tau <= made_tau, work_min, 0), missed_cents - next_cents))
            over_min = sum(minutes for minutes, _ in work) - room_min
            if not len(over_min) or over_min.max() <= 0:
                continue
            for price in prices:
                spared = sum(np.maximum(0.0, price * minutes - extra) for minutes, extra in work)
                most = np.maximum(most, price * over_min - spared)
        return most.astype(np.int64)


def _best_of_each(ways: _Ways) -> _Ways:
    """Of all ways to the same runs and the same last one, those that none other is both as soon and as cheap as."""
    if not len(ways):
        return ways
    # One number to sort by: runs done, last run, free minute. Of two that are alike in all the first stays.
    key = ((ways.done.astype(np.int64) * (MOST_RUNS + 1) + ways.last) << TAU_BITS) | ways.free_tau
    order = np.argsort(key, kind="stable")  # which of two alike stays must not hang on the machine
    group, cents = key[order] >> TAU_BITS, ways.cents[order]
    is_new = group[1:] != group[:-1]
    number = np.cumsum(np.concatenate([[0], is_new]))
    # Cents of a later group lie below all of an earlier one, so that one running minimum serves all groups.
    below = cents - number * (int(cents.max()) - int(cents.min()) + 1)
    sooner = np.concatenate([[np.iinfo(np.int64).max], np.minimum.accumulate(below)[:-1]])
    chosen = below < sooner
    # A way that stands for others, too, may not be told to have had fewer inks leave than any of them.
    begins = np.flatnonzero(np.concatenate([[True], is_new]))
    departed = np.maximum.reduceat(ways.departed[order], begins)[number[chosen]]
    return replace(ways.only(order[chosen]), departed=departed)

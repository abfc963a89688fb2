"""People, belts and exposure units in the crowding bound: by the end of each stretch, no more of their time is used up
than they were there.

People come in the unions that the decoder looks at too (see `profiles.Limits`): a union of people is asked for by all
work that only they can do. What is used by a moment is never more than what was there until then, so only sums from
the start of the week are compared; that holds wherever inside a stretch the work is done.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from scheduler.search.bounds import must_burn
from scheduler.search.day_buckets import HOUR_MIN, DayBuckets
from scheduler.search.least_times import open_choices
from scheduler.search.profiles import FIELD_BITS, MOST, Track
from scheduler.search.stretches import Capacity, capacity_of
from scheduler.search.tables import ChoiceSpec, RunSpec, SetSpec, Tables, opened_with

Minutes = Callable[[int], float]
"""Minutes that are there from the start of the week until a shop minute."""


@dataclass(slots=True)
class Demand:
    """What is asked of one limit.

    by_share: minutes by (run, press), used in proportion to what is done of the run. by_date: minutes by order, used up
    at the latest when the order is off the presses. packing: minutes by order, used up when it is packed.
    """

    by_share: dict[tuple[int, int], float] = field(default_factory=dict)
    by_date: dict[int, float] = field(default_factory=dict)
    packing: dict[int, float] = field(default_factory=dict)


def add_floor_rows(buckets: DayBuckets) -> None:
    """Add every limit that the week could run into."""
    for demand, until, extra in floor_demands(buckets):
        _add(buckets, demand, until, extra)


def floor_demands(buckets: DayBuckets) -> Iterator[tuple[Demand, Minutes, dict[str, Minutes]]]:
    """For each limit: what is asked of it, what there is of it, and what each block of overtime adds."""
    tables = buckets.tables
    try:
        plain = opened_with(tables, frozenset()).floor
        bought = {block_id: opened_with(tables, frozenset({block_id})).floor for block_id in buckets.bought}
    except ValueError:  # the calendar's own bookings ask for too many people: there is no plan to be bounded
        return
    for limit in range(tables.limits.fields):
        until = _until(plain, limit)
        extra = {block_id: _more(_until(track, limit), until) for block_id, track in bought.items()}
        yield _floor_demand(buckets, limit), until, extra
    room = tables.week.screen_room
    if room is not None:
        hours, units = capacity_of(room.calendar), room.exposure_units
        burning = Demand(by_share=_first_runs(buckets, lambda one: float(one.burn_min)))
        yield burning, _open_until(hours, units), {}


def _add(buckets: DayBuckets, demand: Demand, until: Minutes, extra: dict[str, Minutes]) -> None:
    """Rows for one limit: what is used by the end of each stretch, as sums of sums."""
    programme, stretches = buckets.programme, buckets.stretches
    total = sum(_most_by_run(demand.by_share).values()) + sum(demand.by_date.values()) + sum(demand.packing.values())
    if total <= until(stretches.to_tau(0)):
        return
    so_far: int | None = None
    for at in range(stretches.count):
        to_tau = stretches.to_tau(at)
        if total <= until(to_tau):
            return
        row = {
            variable: minutes / HOUR_MIN
            for key, minutes in demand.by_share.items()
            if (variable := buckets.shares[key].get(at)) is not None and minutes
        }
        now = programme.variable(most=total / HOUR_MIN)
        programme.at_most({**row, **({} if so_far is None else {so_far: 1.0}), now: -1.0}, 0.0)
        so_far = now
        limit, used = until(to_tau) / HOUR_MIN, {now: 1.0}
        for order, minutes in [*_off_by(buckets, demand, at), *_packed_by(buckets, demand, at)]:
            if order is None:
                limit -= minutes / HOUR_MIN
            else:
                used[order] = used.get(order, 0.0) + minutes / HOUR_MIN
        for block_id, variable in buckets.bought.items():
            if block_id in extra and extra[block_id](to_tau):
                used[variable] = -extra[block_id](to_tau) / HOUR_MIN
        programme.at_most(used, limit)


def _most_by_run(by_share: dict[tuple[int, int], float]) -> dict[int, float]:
    most: dict[int, float] = {}
    for (number, _), minutes in by_share.items():
        most[number] = max(most.get(number, 0.0), minutes)
    return most


def _off_by(buckets: DayBuckets, demand: Demand, at: int) -> list[tuple[int | None, float]]:
    """(variable that says an order is off the presses by the end of a stretch, minutes); None: it is for certain."""
    found: list[tuple[int | None, float]] = []
    for number, minutes in demand.by_date.items():
        run = buckets.tables.runs[number]
        made = [
            date.made
            for date in buckets.dates[run.order]
            if buckets.stretches.index(buckets.off_press_tau(run, date.tau)) <= at
        ]
        if made and minutes:
            found.append((made[-1], minutes))
    return found


def _packed_by(buckets: DayBuckets, demand: Demand, at: int) -> list[tuple[int | None, float]]:
    """The same for orders packed by the end of a stretch."""
    found: list[tuple[int | None, float]] = []
    for order, minutes in demand.packing.items():
        made = [date.made for date in buckets.dates[order] if buckets.stretches.index(date.tau) <= at]
        if made and minutes:
            found.append((made[-1], minutes))
    return found


def _floor_demand(buckets: DayBuckets, limit: int) -> Demand:
    tables = buckets.tables

    def of(need: int) -> int:
        return (need >> (FIELD_BITS * limit)) & MOST

    demand = Demand()
    for run in tables.runs:
        staging = 0.0 if run.is_started else float(of(tables.stage_need) * tables.stage_min)
        ends: list[float] = []
        for choice in open_choices(run):
            rates = [
                _rates(buckets, run, way, of(way.set_up_need), of(way.print_need))
                for way in (choice, *choice.other_ways)
            ]
            demand.by_share[run.number, choice.press] = min(steady for steady, _ in rates) + staging
            ends.append(min(end for _, end in rates))
        demand.by_date[run.number] = min(ends)
    room_need = of(tables.room_need)
    if room_need:
        for key, minutes in _first_runs(buckets, lambda one: float(room_need * (one.burn_min + one.tape_min))).items():
            demand.by_share[key] += minutes
    for number, order in enumerate(tables.orders):
        demand.packing[number] = float(of(tables.finish_need) * order.finish_min)
    return demand


def _rates(buckets: DayBuckets, run: RunSpec, choice: ChoiceSpec, set_up: int, printing: int) -> tuple[float, float]:
    """(minutes used in proportion to what is done of a run, minutes more that are used once all of it is done).

    Where set-up needs more people than printing, more than the proportion is used early; where it needs fewer, only
    its own rate is used for certain before the end.
    """
    own_min = buckets.pieces[choice.press].own_min[run.number]
    print_min = buckets.work_min(run, choice) - own_min
    if set_up >= printing:
        return float(set_up * own_min + printing * print_min), 0.0
    return float(set_up * (own_min + print_min)), float((printing - set_up) * print_min)


def _first_runs(buckets: DayBuckets, minutes: Callable[[SetSpec], float]) -> dict[tuple[int, int], float]:
    """Minutes for burning each set that must be burned, by one of its runs: no more is done of it than of the burn."""
    tables: Tables = buckets.tables
    found: dict[tuple[int, int], float] = {}
    for one in tables.sets:
        if must_burn(tables, one):
            first = min(one.runs, key=lambda number: (tables.orders[tables.runs[number].order].promised_tau, number))
            for choice in open_choices(tables.runs[first]):
                found[first, choice.press] = minutes(one)
    return found


def _until(track: Track, limit: int) -> Minutes:
    """Free minutes of one limit of a track until a moment."""
    times = track.times
    free = [(value >> (FIELD_BITS * limit)) & MOST for value in track.free]
    sums = [0]
    for i in range(1, len(times)):
        sums.append(sums[-1] + free[i - 1] * max(0, times[i] - max(times[i - 1], 0)))

    def minutes(tau: int) -> float:
        i = bisect_right(times, tau) - 1
        return float(sums[i] + free[i] * max(0, tau - max(times[i], 0)))

    return minutes


def _more(wide: Minutes, narrow: Minutes) -> Minutes:
    return lambda tau: wide(tau) - narrow(tau)


def _open_until(hours: Capacity, units: int) -> Minutes:
    return lambda tau: float(units * hours.most(0, tau))

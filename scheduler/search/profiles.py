"""How much of the people, belts, exposure units and rack is free at every minute, as event lists.

Several limits share one event list: each limit is a field of 16 bits in one whole number, its top bit a guard. What
is free minus what is needed keeps every guard bit if and only if every field has enough, so one subtraction tests
all limits at once.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scheduler.domain.leads import post_parts
from scheduler.domain.week import Crew, Week
from scheduler.search.timing import NEVER, Hours

FIELD_BITS = 16
MOST = (1 << (FIELD_BITS - 1)) - 1
"""The largest number one field can hold."""
BELT_PERMILLE = 1000


def guard_bits(fields: int) -> int:
    """The guard bits of this many fields."""
    return sum(1 << (FIELD_BITS * field + FIELD_BITS - 1) for field in range(fields))


class Track:
    """What is free from each event on: free[i] holds on [times[i], times[i + 1]), guard bits added in."""

    __slots__ = ("free", "guards", "times")

    def __init__(self, times: list[int], free: list[int], guards: int) -> None:
        """Take over the lists; times[0] must be 0 or less."""
        self.times = times
        self.free = free
        self.guards = guards

    def copy(self) -> Track:
        """A track of its own that starts out the same."""
        return Track(self.times.copy(), self.free.copy(), self.guards)

    def clash_end(self, start_tau: int, end_tau: int, need: int) -> int:
        """Minute at which the last clash that touches [start, end) is over; 0 if `need` fits all the way."""
        times, free, guards = self.times, self.free, self.guards
        i = bisect_left(times, end_tau) - 1
        while True:
            if (free[i] - need) & guards != guards:
                return times[i + 1] if i + 1 < len(times) else NEVER
            if times[i] <= start_tau:
                return 0
            i -= 1

    def clash_end_of(self, pieces: Sequence[tuple[int, int]], need: int) -> int:
        """Minute at which the last clash with any of the pieces is over; 0 if `need` fits in all of them."""
        for start_tau, end_tau in reversed(pieces):
            over = self.clash_end(start_tau, end_tau, need)
            if over:
                return over
        return 0

    def take(self, start_tau: int, end_tau: int, need: int) -> None:
        """Use `need` on [start, end); a negative need gives it back."""
        if end_tau <= start_tau:
            return
        times, free = self.times, self.free
        i = bisect_left(times, start_tau)
        if i == len(times) or times[i] != start_tau:
            times.insert(i, start_tau)
            free.insert(i, free[i - 1])
        j = bisect_left(times, end_tau, i)
        if j == len(times) or times[j] != end_tau:
            times.insert(j, end_tau)
            free.insert(j, free[j - 1])
        for k in range(i, j):
            free[k] -= need

    def take_all(self, pieces: Iterable[tuple[int, int]], need: int) -> None:
        """Use `need` on every piece."""
        for start_tau, end_tau in pieces:
            self.take(start_tau, end_tau, need)


def plain_track(capacity: int) -> Track:
    """A track of one limit that is the same at every minute."""
    return Track([-1], [min(capacity, MOST) + guard_bits(1)], guard_bits(1))


@dataclass(frozen=True, slots=True)
class Limits:
    """Which field of the floor's track stands for what.

    unions: sets of people (bit masks over the week's people); a demand counts in every union that holds everybody who
    could fill it. By Hall's theorem a matching of people to demanded heads exists if and only if no union is asked for
    more heads than it has people there. Both are counted in parts of a person (`post_parts`), of which everybody has
    `lead_covers`. Belts follow, one field each, then pools of flashes, then stations.
    """

    unions: tuple[int, ...]
    dryer_ids: tuple[str, ...]
    masks: dict[tuple[str, str], int]
    pool_ids: tuple[str, ...] = ()
    station_ids: tuple[str, ...] = ()
    lead_covers: int = 1

    @property
    def fields(self) -> int:
        """Fields in the floor's track."""
        return len(self.unions) + len(self.dryer_ids) + len(self.pool_ids) + len(self.station_ids)

    def crew_need(self, crew: Crew, place: str) -> int:
        """The packed need of a crew at a press ("" off the presses)."""
        if not self.masks:
            return 0
        need = 0
        for role, count in crew:
            mask = self.masks[role, place]
            parts = count * post_parts(role, place, self.lead_covers)
            for field, union in enumerate(self.unions):
                if mask & ~union == 0:
                    need += parts << (FIELD_BITS * field)
        return need

    def belt_need(self, dryer_id: str | None, permille: int) -> int:
        """The packed need of a share of a belt."""
        if dryer_id is None or not permille:
            return 0
        return permille << (FIELD_BITS * (len(self.unions) + self.dryer_ids.index(dryer_id)))

    def flash_need(self, pool_id: str | None, units: int) -> int:
        """The packed need of flashes from a pool."""
        if pool_id is None or not units:
            return 0
        return units << (FIELD_BITS * (len(self.unions) + len(self.dryer_ids) + self.pool_ids.index(pool_id)))

    def station_need(self, station_id: str) -> int:
        """The packed need of one order at a station."""
        before = len(self.unions) + len(self.dryer_ids) + len(self.pool_ids)
        return 1 << (FIELD_BITS * (before + self.station_ids.index(station_id)))


def limits_of(week: Week) -> Limits:
    """The fields a week needs: every union of people that some mix of demands could overload, every belt and pool."""
    masks: dict[tuple[str, str], int] = {}
    if week.people:
        for role, place in _demand_classes(week):
            masks[role, place] = sum(1 << i for i, person in enumerate(week.people) if person.can(role, place))
    dryer_ids = sorted({press.dryer_id for press in week.presses if press.dryer_id is not None})
    return Limits(
        unions=_unions(masks.values()),
        dryer_ids=tuple(dryer_ids),
        masks=masks,
        pool_ids=tuple(pool.pool_id for pool in week.flash_pools),
        station_ids=tuple(one.station_id for one in week.stations if one.units is not None),
        lead_covers=week.lead_covers,
    )


def _demand_classes(week: Week) -> list[tuple[str, str]]:
    found: dict[tuple[str, str], None] = {}
    for press in week.presses:
        for role, _ in (*press.set_up_crew, *press.run_crew):
            found[role, press.press_id] = None
    lines = [line for line in (week.staging, week.finishing, week.screen_room) if line is not None]
    for line in lines:
        for role, _ in line.crew:
            found[role, ""] = None
    for station in week.stations:
        for role, _ in station.crew:
            found[role, ""] = None
    for booked in week.reservations:
        found[booked.role, ""] = None
    return list(found)


def _unions(masks: Iterable[int]) -> tuple[int, ...]:
    """Masks and the unions of masks that overlap; a union of two groups without a common person adds nothing."""
    singles = sorted(set(masks))
    known = set(singles)
    fresh = list(singles)
    while fresh:
        grown = []
        for union in fresh:
            for mask in singles:
                wider = union | mask
                if union & mask and wider not in known:
                    known.add(wider)
                    grown.append(wider)
        fresh = grown
    return tuple(sorted(known))


def floor_track(week: Week, limits: Limits, person_hours: Sequence[Hours]) -> Track:
    """People there less those booked, empty belts, all flashes.

    Raises ValueError if the bookings alone ask for too many.
    """
    change: dict[int, int] = {}

    def add(start_tau: int, end_tau: int, packed: int) -> None:
        change[start_tau] = change.get(start_tau, 0) + packed
        change[end_tau] = change.get(end_tau, 0) - packed

    # A person counts in every union they belong to. Several people may fill one union at once.
    for number, hours in enumerate(person_hours):
        packed = limits.lead_covers * sum(
            1 << (FIELD_BITS * field) for field, union in enumerate(limits.unions) if union >> number & 1
        )
        for start_tau, end_tau in zip(hours.starts, hours.ends, strict=True):
            add(start_tau, end_tau, packed)
    belts = sum(BELT_PERMILLE << (FIELD_BITS * (len(limits.unions) + i)) for i in range(len(limits.dryer_ids)))
    flashes = sum(limits.flash_need(pool.pool_id, min(pool.units, MOST)) for pool in week.flash_pools)
    units = sum(limits.station_need(one.station_id) * min(one.units, MOST) for one in week.stations if one.units)
    guards = guard_bits(limits.fields)
    times, free = [-1], [belts + flashes + units + guards]
    for tau in sorted(change):
        times.append(tau)
        free.append(free[-1] + change[tau])
    track = Track(times, free, guards)
    for booked in week.reservations if week.people else ():
        need = limits.crew_need(((booked.role, booked.count),), "")
        if track.clash_end(booked.start_tau, booked.end_tau, need):
            raise ValueError(f"nobody is free for {booked.what}")
        track.take(booked.start_tau, booked.end_tau, need)
    return track

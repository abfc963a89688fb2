"""From whom each piece of work takes over people, belt, flash, exposure unit or a station's place in the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.uses import burns
from scheduler.roster.by_name import RosterStretch, roster

Key = tuple[str, str]
"""(kind, run or order): "burn", "tape", "stage", "set-up", "print", "pack", or "visit" with "order#number"."""

BELT_PERMILLE = 1000
_KINDS = {
    "staging": "stage",
    "set-up": "set-up",
    "printing": "print",
    "burning": "burn",
    "taping": "tape",
    "packing": "pack",
}


def handed_on(week: Week, plan: Plan) -> dict[Key, list[Key]]:
    """For each piece of work those that are over before it and whose people, belt or place it takes over."""
    spans = _spans(plan)
    found: dict[Key, list[Key]] = {}
    for before, after in (*_people(week, plan, spans), *_belts(week, plan), *_units(week, plan), *_flashes(week, plan)):
        if before != after and before in spans and after in spans and spans[before][1] <= spans[after][0]:
            known = found.setdefault(after, [])
            if before not in known:
                known.append(before)
    return found


def _spans(plan: Plan) -> dict[Key, tuple[int, int]]:
    found: dict[Key, tuple[int, int]] = {}
    for one in plan.runs:
        found["set-up", one.run_id] = (one.set_up_start_tau, one.set_up_end_tau)
        found["print", one.run_id] = (one.print_start_tau, one.print_end_tau)
        found["stage", one.run_id] = (one.stage_start_tau, one.stage_end_tau)
        if one.burn is not None:
            found["burn", one.run_id] = (one.burn.start_tau, one.burn.end_tau)
            found["tape", one.run_id] = (one.burn.tape_start_tau, one.burn.tape_end_tau)
    for packed in plan.orders:
        found["pack", packed.order_id] = (packed.finish_start_tau, packed.packed_tau)
        for at, visit in enumerate(packed.stations):
            found["visit", f"{packed.order_id}#{at}"] = (visit.start_tau, visit.end_tau)
    return found


def _people(week: Week, plan: Plan, spans: dict[Key, tuple[int, int]]) -> Iterator[tuple[Key, Key]]:
    """Whoever starts something comes from what they did last, by the roster."""
    stretches = roster(week, plan)
    first: dict[Key, int] = {}
    for one in stretches:
        key = _key(one)
        first[key] = min(first.get(key, one.start_tau), one.start_tau)
    for person in week.people:
        last: dict[Key, None] = {}
        for one in stretches:
            if one.person_id != person.person_id or not one.owner_id:
                continue
            key = _key(one)
            if key in spans and one.start_tau == first[key]:
                yield from ((before, key) for before in last)
            last.pop(key, None)
            last[key] = None
            if len(last) > 2:
                last.pop(next(iter(last)))


def _key(one: RosterStretch) -> Key:
    return _KINDS.get(one.activity, one.activity), one.owner_id


def _belts(week: Week, plan: Plan) -> Iterator[tuple[Key, Key]]:
    """Prints that could not have shared the belt with one before them."""
    for one in plan.runs:
        dryer_id = week.press[one.press_id].dryer_id
        if dryer_id is None:
            continue
        mine = week.run[one.run_id].on_press[one.press_id].belt_permille
        for other in plan.runs:
            is_there = week.press[other.press_id].dryer_id == dryer_id and other.press_id != one.press_id
            theirs = week.run[other.run_id].on_press[other.press_id].belt_permille
            if is_there and mine + theirs > BELT_PERMILLE:
                yield ("print", other.run_id), ("print", one.run_id)


def _units(week: Week, plan: Plan) -> Iterator[tuple[Key, Key]]:
    """Burns that take over an exposure unit, and visits that take over a station's place."""
    if week.screen_room is not None:
        queue = sorted((burn.start_tau, burn.end_tau, ("burn", one.run_id)) for one, _, burn in burns(week, plan))
        yield from _behind(queue, week.screen_room.exposure_units)
    for station in week.stations:
        if station.units is not None:
            visits = sorted(
                (visit.start_tau, visit.end_tau, ("visit", f"{packed.order_id}#{at}"))
                for packed in plan.orders
                for at, visit in enumerate(packed.stations)
                if visit.station_id == station.station_id
            )
            yield from _behind(visits, station.units)


def _flashes(week: Week, plan: Plan) -> Iterator[tuple[Key, Key]]:
    """Set-ups that take over a flash on wheels."""
    for pool in week.flash_pools:
        queue = sorted(
            (one.set_up_start_tau, one.print_end_tau, ("print", one.run_id))
            for one in plan.runs
            if week.press[one.press_id].flash_pool == pool.pool_id
            and week.run[one.run_id].on_press[one.press_id].flash_units
        )
        yield from ((before, ("set-up", after[1])) for before, after in _behind(queue, pool.units))


def _behind(queue: Iterable[tuple[int, int, Key]], units: int) -> Iterator[tuple[Key, Key]]:
    """Each of a queue behind the one whose place it takes: when all are taken, the latest to end of those before it."""
    there: list[tuple[int, int, Key]] = []
    for start, end, key in queue:
        over = sorted((one for one in there if one[1] <= start), key=lambda one: one[1])
        if len(there) >= units and over:
            yield over[-1][2], key
            there.remove(over[-1])
        there.append((start, end, key))

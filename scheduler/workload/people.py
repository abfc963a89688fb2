"""Who is there when, and the minutes in which a press or a bench can be worked by people who know how."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from scheduler.domain.calendars import Calendar
from scheduler.domain.week import Crew, Person, Reservation
from scheduler.errors import Problem
from scheduler.workload.axis import Axis, OpenTimes, any_of
from scheduler.workload.kept_room import PressRoom, kept_days
from scheduler.workload.spans import Span, covers, union
from scheduler.workload.warm_up import print_calendars

Demand = tuple[tuple[str, str, int], ...]
"""(role, press id or "" off the presses, people)."""


def demand_of(crew: Crew, place: str) -> Demand:
    """What a crew asks for at a place."""
    return tuple((role, place, count) for role, count in crew if count > 0)


def build_people(axis: Axis) -> tuple[Person, ...]:
    """Everybody who works here, with their own hours less days off, plus the overtime that asks them in."""
    return tuple(
        Person(
            person_id=one.person_id,
            name=one.name,
            roles=frozenset(one.roles),
            press_ids=frozenset(one.press_ids),
            calendar=axis.calendar(axis.person_times[one.person_id]),
        )
        for one in axis.shop.people
    )


def can_be_filled(people: Iterable[Person], demand: Demand) -> bool:
    """True if everybody asked for can be a different person who knows the work there.

    A matching of people to places, grown one place at a time along paths that move people over.
    """
    there = list(people)
    places = [(role, place) for role, place, count in demand for _ in range(count)]
    sits_at: dict[int, int] = {}

    def seat(number: int, tried: set[int]) -> bool:
        for index, person in enumerate(there):
            if index in tried or not person.can(*places[number]):
                continue
            tried.add(index)
            if index not in sits_at or seat(sits_at[index], tried):
                sits_at[index] = number
                return True
        return False

    return len(places) <= len(there) and all(seat(number, set()) for number in range(len(places)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Booking:
    """People booked by the calendar itself, in wall minutes: a coat window or a reclaim block."""

    what: str
    crew: Crew
    span: Span


@dataclass(frozen=True, kw_only=True)
class Crewing:
    """Answers in which minutes crews can be filled. Nobody listed: nobody is demanded, always."""

    people: tuple[Person, ...]
    times: Mapping[str, OpenTimes]
    bookings: tuple[Booking, ...] = ()

    def narrowed(self, open_times: OpenTimes, *crews: tuple[Crew, str]) -> OpenTimes:
        """The part of the open times in which each of the crews, by itself, can be filled at its place.

        A minute that people can fill only in overtime belongs to that block.
        """
        if not self.people:
            return open_times
        demands = [demand for crew, place in crews if (demand := demand_of(crew, place))]
        normal: list[Span] = []
        overtime: dict[str, list[Span]] = {}
        seen: dict[tuple[frozenset[str], Demand], bool] = {}
        blocks = sorted({*open_times.overtime, *(block for times in self.times.values() for block in times.overtime)})
        opened = {block: open_times.with_block(block) for block in blocks}
        for span in self._pieces(open_times):
            if covers(open_times.normal, *span) and self._suffices(span, None, demands, seen):
                normal.append(span)
                continue
            for block in blocks:
                if covers(opened[block], *span) and self._suffices(span, block, demands, seen):
                    overtime.setdefault(block, []).append(span)
                    break
        return OpenTimes(normal=union(normal), overtime={block: union(spans) for block, spans in overtime.items()})

    def _pieces(self, open_times: OpenTimes) -> list[Span]:
        """The open minutes cut wherever anything about people changes."""
        ever = open_times.ever
        edges: set[int] = set()
        for times in (open_times, *self.times.values()):
            edges.update(edge for spans in (times.normal, *times.overtime.values()) for span in spans for edge in span)
        edges.update(edge for booking in self.bookings for edge in booking.span)
        ordered = sorted(edges)
        return [piece for piece in pairwise(ordered) if covers(ever, *piece)]

    def _suffices(
        self, span: Span, block: str | None, demands: list[Demand], seen: dict[tuple[frozenset[str], Demand], bool]
    ) -> bool:
        there = self.there(span, block)
        booked = tuple(
            item
            for booking in self.bookings
            if booking.span[0] < span[1] and span[0] < booking.span[1]
            for item in demand_of(booking.crew, "")
        )
        present = frozenset(person.person_id for person in there)
        for demand in demands:
            key = (present, (*demand, *booked))
            if key not in seen:
                seen[key] = can_be_filled(there, key[1])
            if not seen[key]:
                return False
        return True

    def there(self, span: Span, block: str | None = None) -> list[Person]:
        """People who are in for the whole span, in normal hours or in the overtime block."""
        return [
            person
            for person in self.people
            if covers(self.times[person.person_id].normal, *span)
            or (block is not None and covers(self.times[person.person_id].overtime.get(block, ()), *span))
        ]


def reservations(axis: Axis, bookings: Iterable[Booking]) -> tuple[Reservation, ...]:
    """The bookings on the shop axis, one per role."""
    return tuple(
        Reservation(
            role=role,
            count=count,
            start_tau=axis.clock.tau(booking.span[0]),
            end_tau=axis.clock.tau(booking.span[1]),
            what=booking.what,
        )
        for booking in bookings
        for role, count in booking.crew
        if count > 0
    )


@dataclass(frozen=True, kw_only=True)
class Benches:
    """The calendars people and hours leave for each press and for the work off the presses.

    presses: with the room that is kept free, for what is fixed; planned: without it, for everything else. prints: when
    presses can print, for those with something that must get hot first; planned_prints: without the room.
    """

    room: PressRoom
    presses: Mapping[str, Calendar]
    planned: Mapping[str, Calendar]
    prints: Mapping[str, Calendar]
    planned_prints: Mapping[str, Calendar]
    screens: Calendar
    staging: Calendar
    finishing: Calendar
    stations: Mapping[str, Calendar]


def build_benches(axis: Axis, crewing: Crewing) -> Benches:
    """Effective calendars: own hours, the dryer's hours, and people for the set-up and for the run."""
    shop = axis.shop
    presses = {}
    for press in shop.presses:
        times = axis.press_times[press.press_id]
        if press.dryer_id in axis.dryer_times:
            times = times.and_also(axis.dryer_times[str(press.dryer_id)])
        crews = ((press.set_up_crew, press.press_id), (press.run_crew, press.press_id))
        presses[press.press_id] = crewing.narrowed(times, *crews)
    kept = {one: kept_days(times, axis.days, shop.room_kept_free_min) for one, times in presses.items()}
    room = PressRoom(axis=axis, times=presses, kept=kept)
    room_crew = shop.screen_room.crew if shop.screen_room else ()
    return Benches(
        room=room,
        presses=room.whole(),
        planned=room.planned(),
        prints=print_calendars(axis, presses),
        planned_prints=print_calendars(axis, room.planned_times()),
        screens=axis.calendar(crewing.narrowed(axis.screens_times, (room_crew, ""))),
        staging=axis.calendar(
            crewing.narrowed(any_of(axis.shop_times, *axis.press_times.values()), (shop.stage_crew, ""))
        ),
        finishing=axis.calendar(crewing.narrowed(axis.packing_times, (shop.finish_crew, ""))),
        stations={
            one.name: axis.calendar(crewing.narrowed(axis.station_times[one.name], (one.crew, "")))
            for one in shop.stations
        },
    )


def crew_problems(axis: Axis, people: tuple[Person, ...]) -> list[Problem]:
    """Crews that could not be filled even if everybody were in at once."""
    if not people:
        return []
    shop = axis.shop
    asked: list[tuple[str, Crew, str]] = []
    for press in shop.presses:
        asked.append((f"setting up {press.name}", press.set_up_crew, press.press_id))
        asked.append((f"running {press.name}", press.run_crew, press.press_id))
    if shop.screen_room:
        asked.append(("the screen room", shop.screen_room.crew, ""))
    if shop.stage_min:
        asked.append(("staging", shop.stage_crew, ""))
    asked.append(("packing", shop.finish_crew, ""))
    asked += [(one.name, one.crew, "") for one in shop.stations]
    return [
        Problem(
            file="shop.toml",
            column="person",
            value=" + ".join(f"{role} {count}" for role, count in crew),
            code="nobody_can",
            message=f"{what} needs {' and '.join(f'{count} x {role}' for role, count in crew)}, "
            f"and the people listed cannot fill that",
            hint="give somebody the role, or ask for a smaller crew",
        )
        for what, crew, place in asked
        if not can_be_filled(people, demand_of(crew, place))
    ]

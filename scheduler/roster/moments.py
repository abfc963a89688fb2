"""The moments of a plan at which somebody may be sent elsewhere: what is asked of people from one to the next."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from scheduler.domain.leads import is_watched
from scheduler.domain.plan import Plan
from scheduler.domain.week import Person, Week
from scheduler.review.activities import activities
from scheduler.review.hours import can_start_at, open_windows

NIGHT_MIN = 240
"""Wall minutes the whole shop stands still, after which everybody starts a new day."""


class Work(NamedTuple):
    """Posts of one role in one activity: they differ in nothing but their number."""

    role: str
    place: str
    activity: str
    owner_id: str


Filling = list[dict[Work, frozenset[int]]]
"""Who is at what, by number in the week's list of people, moment by moment."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """[start, end) in which nothing changes: how many people each piece of work asks for, and who is in.

    begun: work that did not go on just before, after a pause too.
    """

    start_tau: int
    end_tau: int
    asked: dict[Work, int]
    begun: frozenset[Work]
    there: tuple[int, ...]


def days_of(week: Week, plan: Plan) -> list[list[Moment]]:
    """The moments of each day on which people are asked for, those without work among them."""
    cuts = [
        cut for cut in week.clock.cuts_tau if week.clock.wall_at_start(cut) - week.clock.wall_at_end(cut) >= NIGHT_MIN
    ]
    found: dict[int, list[Moment]] = {}
    for moment in _moments(week, plan):
        found.setdefault(bisect_right(cuts, moment.start_tau), []).append(moment)
    return [day for day in found.values() if any(moment.asked for moment in day)]


def _moments(week: Week, plan: Plan) -> list[Moment]:
    spans = [
        (Work(role, one.place, one.kind, one.owner_id), count, start, end)
        for one in activities(week, plan)
        for start, end in one.stretches
        for role, count in one.crew
        if count
    ]
    hours = [open_windows(person.calendar, plan) for person in week.people]
    edges = {edge for _, _, *span in spans for edge in span}
    if not edges:
        return []
    first, last = min(edges), max(edges)
    edges |= {edge for windows in hours for w in windows for edge in (w.start_tau, w.end_tau) if first < edge < last}
    ordered = sorted(edges)
    place = {edge: number for number, edge in enumerate(ordered)}
    asked: list[dict[Work, int]] = [{} for _ in ordered]
    begun: list[set[Work]] = [set() for _ in ordered]
    for work, count, start, end in spans:
        begun[place[start]].add(work)
        for number in range(place[start], place[end]):
            asked[number][work] = asked[number].get(work, 0) + count
    return [
        Moment(
            start_tau=start,
            end_tau=end,
            asked=asked[number],
            begun=frozenset(begun[number]),
            there=tuple(one for one, windows in enumerate(hours) if can_start_at(windows, start)),
        )
        for number, (start, end) in enumerate(pairwise(ordered))
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A stretch of a day: its moments and the roster that is known.

    last: who was at each piece of work before. is_cut_before, is_cut_after: the stretch is a part of a day, and what
    reaches over its edge may be as long as it likes.
    """

    week: Week
    moments: Sequence[Moment]
    known: Filling
    last: dict[Work, frozenset[int]] = field(default_factory=dict)
    is_cut_before: bool = False
    is_cut_after: bool = False

    def part(self, span: tuple[int, int]) -> Day:
        """The moments that meet a span, by themselves."""
        inside = [n for n, one in enumerate(self.moments) if one.start_tau < span[1] and span[0] < one.end_tau]
        first, last = inside[0], inside[-1] + 1
        return Day(
            week=self.week,
            moments=self.moments[first:last],
            known=self.known[first:last],
            is_cut_before=first > 0,
            is_cut_after=last < len(self.moments),
        )


def is_led(week: Week, work: Work) -> bool:
    """True for a press that a lead watches beside others."""
    return week.lead_covers > 1 and is_watched(work.role, work.place)


def able(people: Sequence[Person], moment: Moment, work: Work) -> list[int]:
    """Who is in and can do it."""
    return [number for number in moment.there if people[number].can(work.role, work.place)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """Somebody at one press from the first minute of work there to the last before other work or the day's end."""

    person: int
    place: str
    start_tau: int
    end_tau: int

    @property
    def minutes(self) -> int:
        """How long it lasts, waiting there included."""
        return self.end_tau - self.start_tau


def stays(week: Week, day: Sequence[Moment], filling: Filling) -> list[Stay]:
    """Every stay of a day, by its start. Who watches several presses walks between them: that is no stay."""
    doing: dict[int, list[tuple[str, int, int]]] = {}
    for moment, filled in zip(day, filling, strict=True):
        for work, who in filled.items():
            place = "" if is_led(week, work) else work.place
            for person in who:
                doing.setdefault(person, []).append((place, moment.start_tau, moment.end_tau))
    found: list[Stay] = []
    for person, done in doing.items():
        own: list[Stay] = []
        for place, start, end in done:
            if own and own[-1].place == place:
                own[-1] = Stay(person=person, place=place, start_tau=own[-1].start_tau, end_tau=end)
            else:
                own.append(Stay(person=person, place=place, start_tau=start, end_tau=end))
        found += [one for one in own if one.place]
    return sorted(found, key=lambda one: (one.start_tau, one.place, one.person))


def short_stays(week: Week, day: Sequence[Moment], filling: Filling) -> list[Stay]:
    """The stays of a day that are shorter than the shop wants them."""
    return [one for one in stays(week, day, filling) if one.minutes < week.least_stay_min]

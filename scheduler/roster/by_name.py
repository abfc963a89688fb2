"""Who does what when, by name: nobody is sent to a press for less than the shop wants, nor moved without need."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.roster.first_filling import first_filling
from scheduler.roster.moments import NIGHT_MIN, Day, Filling, Moment, Stay, Work, days_of, short_stays, stays


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterStretch:
    """Somebody in one role at one activity for [start, end), without a pause. person_id is None if nobody can.

    activity in shop words ("printing"), owner_id the run or order it belongs to ("" for coating and reclaiming),
    place the press or "", number tells the posts of one role in one activity apart (from 1).
    """

    person_id: str | None
    role: str
    place: str
    activity: str
    owner_id: str
    number: int
    start_tau: int
    end_tau: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortStay:
    """Somebody at a press for less than the shop wants. is_needed: no roster of that day has fewer such stays."""

    person_id: str
    place: str
    start_tau: int
    end_tau: int
    is_needed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """A roster by name, sorted by start, and the short stays left in it."""

    stretches: tuple[RosterStretch, ...] = ()
    short: tuple[ShortStay, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How hard a day is worked on: each step for so long, in the counted seconds of CP-SAT, and people may hand over
    anywhere in stretches of up to so many moments, counted for each person.
    """

    work_limit: float = 0.5
    free_moments: int = 1_200


QUICK, THOROUGH = Effort(), Effort(work_limit=30.0, free_moments=20_000)

MOST_MOMENTS = 500
"""Moments of a day up to which its roster is made anew."""


def roster(week: Week, plan: Plan) -> tuple[RosterStretch, ...]:
    """A roster by name, sorted by start; empty where the week names nobody."""
    return full_roster(week, plan).stretches


@lru_cache(maxsize=8)
def full_roster(week: Week, plan: Plan, effort: Effort = QUICK) -> Roster:
    """At every moment as many posts are filled as can be; of these rosters one with the fewest stays at a press shorter
    than `least_stay_min`, and of these one with few hand-overs and few walks between presses.

    What is left of short stays is told, with whether any roster has fewer.
    """
    if not week.people:
        return Roster()
    found: list[RosterStretch] = []
    short: list[ShortStay] = []
    holders: dict[tuple[Work, int], int] = {}
    names = _Names(week=week)
    last: dict[Work, frozenset[int]] = {}
    for moments in days_of(week, plan):
        day = Day(week=week, moments=moments, known=first_filling(week, moments, holders), last=last)
        filling, is_least = _best(day, effort)
        for filled in filling:
            last.update(filled)
        found += names.stretches(moments, filling)
        short += [
            ShortStay(
                person_id=week.people[one.person].person_id,
                place=one.place,
                start_tau=one.start_tau,
                end_tau=one.end_tau,
                is_needed=is_least,
            )
            for one in short_stays(week, moments, filling)
        ]
    found.sort(key=lambda one: (one.start_tau, one.place, one.owner_id, one.activity, one.role, one.number))
    return Roster(stretches=tuple(found), short=tuple(short))


def _best(day: Day, effort: Effort) -> tuple[Filling, bool]:
    """A day's roster with fewer short stays and hand-overs, and whether it is certain that none has fewer short stays.

    First people hand over where the first roster does, then also around the short stays left, further and further.
    That there must be as many is shown on those stretches by themselves.
    """
    from scheduler.roster.fewer_moves import least_short, remade

    week, moments = day.week, day.moments
    if len(moments) > MOST_MOMENTS:
        return day.known, not short_stays(week, moments, day.known)
    day = _better(day, remade(day, [], effort.work_limit))
    for reach in (1, 2, NIGHT_MIN):
        short = short_stays(week, moments, day.known)
        parts = [day.part(span) for span in _around(short, reach * week.least_stay_min)]
        if sum(len(part.moments) for part in parts) * len(week.people) > effort.free_moments:
            return day.known, False
        needed = sum(least_short(part, effort.work_limit) for part in parts)
        if needed < len(short):
            free = [(part.moments[0].start_tau, part.moments[-1].end_tau) for part in parts]
            day = _better(day, remade(day, free, effort.work_limit))
        if needed >= len(short_stays(week, moments, day.known)):
            return day.known, True
    return day.known, False


def _better(day: Day, filling: Filling) -> Day:
    """The day with this roster, if it is better than the one that is known."""

    def faults(one: Filling) -> tuple[int, int, int]:
        return (
            len(short_stays(day.week, day.moments, one)),
            _handed_over(day, one),
            len(stays(day.week, day.moments, one)),
        )

    return replace(day, known=filling) if faults(filling) < faults(day.known) else day


def _handed_over(day: Day, filling: Filling) -> int:
    """People who leave a piece of work that goes on."""
    last, count = dict(day.last), 0
    for filled in filling:
        count += sum(len(last[work] - who) for work, who in filled.items() if work in last)
        last.update(filled)
    return count


def _around(short: Sequence[Stay], reach_min: int) -> list[tuple[int, int]]:
    """The stretches within so many minutes of a short stay, those that meet made one."""
    found: list[tuple[int, int]] = []
    for one in short:
        start, end = one.start_tau - reach_min, one.end_tau + reach_min
        if found and start <= found[-1][1]:
            start, end = found[-1][0], max(end, found[-1][1])
            found.pop()
        found.append((start, end))
    return found


def hand_overs(stretches: Sequence[RosterStretch]) -> int:
    """Times a post goes from one person to another while its activity is under way."""
    last: dict[tuple[str, str, str, int], str | None] = {}
    count = 0
    for one in sorted(stretches, key=lambda stretch: stretch.start_tau):
        post = (one.owner_id, one.activity, one.role, one.number)
        if one.owner_id and None not in (last.get(post), one.person_id):
            count += last[post] != one.person_id
        last[post] = one.person_id
    return count


@dataclass(slots=True, kw_only=True)
class _Names:
    """Turns who is at what, moment by moment, into stretches; the posts of one piece of work keep their numbers."""

    week: Week
    posts: dict[Work, list[int | None]] = field(default_factory=dict)

    def stretches(self, moments: Sequence[Moment], filling: Filling) -> list[RosterStretch]:
        """The stretches of a day. One ends at every pause: its clock times must not run over a night."""
        done: list[RosterStretch] = []
        running: dict[tuple[Work, int], RosterStretch] = {}
        for moment, filled in zip(moments, filling, strict=True):
            now: dict[tuple[Work, int], RosterStretch] = {}
            for work, count in moment.asked.items():
                for number, person in enumerate(self._seated(work, count, filled[work]), start=1):
                    name = None if person is None else self.week.people[person].person_id
                    before = running.get((work, number))
                    goes_on = before is not None and before.person_id == name and before.end_tau == moment.start_tau
                    start_tau = (
                        before.start_tau if before and goes_on and work not in moment.begun else moment.start_tau
                    )
                    if start_tau == moment.start_tau and before is not None:
                        done.append(before)
                    now[work, number] = _stretch(work, number, name, start_tau, moment.end_tau)
            done += [one for post, one in running.items() if post not in now]
            running = now
        return [*done, *running.values()]

    def _seated(self, work: Work, count: int, who: frozenset[int]) -> list[int | None]:
        """Who is at which post: whoever had one keeps it."""
        held = (self.posts.get(work, []) + [None] * count)[:count]
        seats = [person if person in who else None for person in held]
        rest = sorted(who - set(seats))
        self.posts[work] = [person if person is not None else (rest.pop(0) if rest else None) for person in seats]
        return self.posts[work]


def _stretch(work: Work, number: int, person_id: str | None, start_tau: int, end_tau: int) -> RosterStretch:
    return RosterStretch(
        person_id=person_id,
        role=work.role,
        place=work.place,
        activity=work.activity,
        owner_id=work.owner_id,
        number=number,
        start_tau=start_tau,
        end_tau=end_tau,
    )

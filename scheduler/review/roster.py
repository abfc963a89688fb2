"""Who does what when, by name: people stay at what they are doing as far as they can."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from scheduler.domain.leads import is_watched
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.activities import activities
from scheduler.review.hours import Windows, can_start_at, open_windows


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
class _Post:
    """One place for one person in an activity, and the stretches in which it must be filled."""

    role: str
    place: str
    activity: str
    owner_id: str
    number: int
    stretches: tuple[tuple[int, int], ...]

    @property
    def is_watched(self) -> bool:
        """True for a lead's place at a press."""
        return is_watched(self.role, self.place)


# What it costs to give a post to somebody, in this order of weight: taking it from who holds it; taking who holds
# another one; sending somebody to another press; using somebody who can do more than the post asks.
_HAND_OVER = 1_000_000
_OTHER_PLACE = 10_000
_NEVER = 10**12


def roster(week: Week, plan: Plan) -> tuple[RosterStretch, ...]:
    """A roster by name, sorted by start; empty where the week names nobody.

    Whenever an activity starts, stops or ends, or somebody comes or goes, as many posts are filled as can be, and of
    these fillings one with the fewest hand-overs is taken.
    """
    if not week.people:
        return ()
    posts = _posts(week, plan)
    hours = [open_windows(person.calendar, plan) for person in week.people]
    edges = _edges(posts, hours)
    holders: dict[int, int] = {}
    last_place: dict[int, str] = {}
    running: dict[int, RosterStretch] = {}
    done: list[RosterStretch] = []
    for at, until in pairwise(edges):
        working = [n for n, post in enumerate(posts) if any(start <= at < end for start, end in post.stretches)]
        there = [number for number, windows in enumerate(hours) if can_start_at(windows, at)]
        filled = _fill(_Room(week=week, posts=posts, holders=holders, last_place=last_place), working, there)
        for number in [n for n in running if n not in working]:
            done.append(running.pop(number))
        for number in working:
            person = filled.get(number)
            if person is not None:
                holders[number] = person
                last_place[person] = posts[number].place
            name = week.people[person].person_id if person is not None else None
            # A stretch ends at every pause: its clock times must not run over a night.
            goes_on = number in running and not any(start == at for start, _ in posts[number].stretches)
            if goes_on and running[number].person_id == name:
                running[number] = _stretch(posts[number], name, running[number].start_tau, until)
            else:
                if number in running:
                    done.append(running.pop(number))
                running[number] = _stretch(posts[number], name, at, until)
    done += running.values()
    return tuple(sorted(done, key=lambda one: (one.start_tau, one.place, one.owner_id, one.activity, one.role)))


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


def _stretch(post: _Post, person_id: str | None, start_tau: int, end_tau: int) -> RosterStretch:
    return RosterStretch(
        person_id=person_id,
        role=post.role,
        place=post.place,
        activity=post.activity,
        owner_id=post.owner_id,
        number=post.number,
        start_tau=start_tau,
        end_tau=end_tau,
    )


def _posts(week: Week, plan: Plan) -> list[_Post]:
    return [
        _Post(
            role=role, place=one.place, activity=one.kind, owner_id=one.owner_id, number=number, stretches=one.stretches
        )
        for one in activities(week, plan)
        if one.stretches
        for role, count in one.crew
        for number in range(1, count + 1)
    ]


def _edges(posts: Sequence[_Post], hours: Sequence[Windows]) -> list[int]:
    edges = {edge for post in posts for stretch in post.stretches for edge in stretch}
    if not edges:
        return []
    first, last = min(edges), max(edges)
    return sorted(
        edges | {edge for windows in hours for w in windows for edge in (w.start_tau, w.end_tau) if first < edge < last}
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """What a filling goes by: who held a post last, and where each person was last."""

    week: Week
    posts: Sequence[_Post]
    holders: dict[int, int]
    last_place: dict[int, str]

    def cost(self, person: int, post: int) -> int:
        """What it costs to give a post to somebody who can."""
        who, holder, place = self.week.people[person], self.holders.get(post), self.last_place.get(person)
        if holder == person:
            return 0
        cost = len(who.roles) + (0 if who.press_ids else 1)
        if holder is not None:
            cost += _HAND_OVER
        if place is not None and place != self.posts[post].place:
            cost += _OTHER_PLACE
        return cost


def _fill(room: _Room, working: Sequence[int], there: Sequence[int]) -> dict[int, int]:
    """Person by post: as many posts as possible, at the least cost, whoever of the leads watches presses meanwhile."""
    fillings = [_filled(room, working, there, watching) for watching in _watching(room, working, there)]
    return min(
        fillings,
        key=lambda filled: (-len(filled), sum(room.cost(person, post) for post, person in filled.items())),
    )


def _watching(room: _Room, working: Sequence[int], there: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Everyone who could watch presses, and each of them not; nobody where a lead has one press."""
    covers = room.week.lead_covers
    watched = [room.posts[post] for post in working if covers > 1 and room.posts[post].is_watched]
    leads = [n for n in there if any(room.week.people[n].can(post.role, post.place) for post in watched)]
    least = min(-(-len(watched) // covers), len(leads))
    for count in range(least, min(len(watched), len(leads)) + 1):
        yield from combinations(leads, count)


def _filled(room: _Room, working: Sequence[int], there: Sequence[int], watching: Sequence[int]) -> dict[int, int]:
    """Person by post with these people watching presses and doing nothing else (shortest augmenting paths)."""
    covers = room.week.lead_covers
    seats = [n for n in there for _ in range(covers if n in watching else 1)]
    costs = {
        post: {
            seat: room.cost(person, post)
            for seat, person in enumerate(seats)
            if (covers > 1 and room.posts[post].is_watched) == (person in watching)
            and room.week.people[person].can(room.posts[post].role, room.posts[post].place)
        }
        for post in working
    }
    filled: dict[int, int] = {}
    for post in working:
        _augment(post, costs, filled)
    return {post: seats[seat] for post, seat in filled.items()}


def _augment(post: int, costs: dict[int, dict[int, int]], filled: dict[int, int]) -> None:
    """Fill one more post by the cheapest chain of people moving up (Bellman-Ford: few people, negative steps)."""
    by_person = {person: held for held, person in filled.items()}
    reach = {person: (cost, post) for person, cost in costs[post].items()}
    changed = True
    while changed:
        changed = False
        for person, (spent, _) in list(reach.items()):
            held = by_person.get(person)
            if held is None:
                continue
            for other, cost in costs[held].items():
                offer = spent - costs[held][person] + cost
                if offer < reach.get(other, (_NEVER, -1))[0]:
                    reach[other] = (offer, held)
                    changed = True
    free = [(spent, person) for person, (spent, _) in reach.items() if person not in by_person]
    if not free:
        return
    taken, giver = min(free)[1], -1
    while giver != post:
        giver = reach[taken][1]
        filled[giver], taken = taken, filled.get(giver, taken)

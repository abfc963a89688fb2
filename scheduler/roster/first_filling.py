"""A first roster, moment by moment: everybody stays at what they are doing as far as they can."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from scheduler.domain.week import Week
from scheduler.roster.moments import Filling, Moment, Work, is_led

# What it costs to give a post to somebody, in this order of weight: taking it from who holds it; taking who holds
# another one; sending somebody to another press; using somebody who can do more than the post asks.
_HAND_OVER = 1_000_000
_OTHER_PLACE = 10_000
_NEVER = 10**12

_Post = tuple[Work, int]
"""Work, and the number of the post in it."""


def first_filling(week: Week, day: Sequence[Moment], before: dict[_Post, int]) -> Filling:
    """As many posts filled as can be at each moment, and of these fillings one with the fewest hand-overs.

    before: who held a post last, kept up to date from day to day.
    """
    room = _Room(week=week, holders=before)
    found: Filling = []
    for moment in day:
        working = [(work, number) for work, count in moment.asked.items() for number in range(count)]
        filled = _fill(room, working, moment.there)
        who: dict[Work, set[int]] = {work: set() for work in moment.asked}
        for post, person in filled.items():
            room.holders[post] = person
            room.last_place[person] = post[0].place
            who[post[0]].add(person)
        found.append({work: frozenset(people) for work, people in who.items()})
    return found


@dataclass(slots=True, kw_only=True)
class _Room:
    """What a filling goes by: who held a post last, and where each person was last."""

    week: Week
    holders: dict[_Post, int]
    last_place: dict[int, str] = field(default_factory=dict)

    def cost(self, person: int, post: _Post) -> int:
        """What it costs to give a post to somebody who can."""
        who, holder, place = self.week.people[person], self.holders.get(post), self.last_place.get(person)
        if holder == person:
            return 0
        cost = len(who.roles) + (0 if who.press_ids else 1)
        if holder is not None:
            cost += _HAND_OVER
        if place is not None and place != post[0].place:
            cost += _OTHER_PLACE
        return cost


def _fill(room: _Room, working: Sequence[_Post], there: Sequence[int]) -> dict[_Post, int]:
    """Person by post: as many posts as possible, at the least cost, whoever of the leads watches presses meanwhile."""
    fillings = [_filled(room, working, there, watching) for watching in _watching(room, working, there)]
    return min(
        fillings,
        key=lambda filled: (-len(filled), sum(room.cost(person, post) for post, person in filled.items())),
    )


def _watching(room: _Room, working: Sequence[_Post], there: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Everyone who could watch presses, and each of them not; nobody where a lead has one press."""
    covers = room.week.lead_covers
    watched = [work for work, _ in working if is_led(room.week, work)]
    leads = [n for n in there if any(room.week.people[n].can(work.role, work.place) for work in watched)]
    least = min(-(-len(watched) // covers), len(leads))
    for count in range(least, min(len(watched), len(leads)) + 1):
        yield from combinations(leads, count)


def _filled(room: _Room, working: Sequence[_Post], there: Sequence[int], watching: Sequence[int]) -> dict[_Post, int]:
    """Person by post with these people watching presses and doing nothing else (shortest augmenting paths)."""
    seats = [n for n in there for _ in range(room.week.lead_covers if n in watching else 1)]
    costs = {
        post: {
            seat: room.cost(person, post)
            for seat, person in enumerate(seats)
            if is_led(room.week, post[0]) == (person in watching)
            and room.week.people[person].can(post[0].role, post[0].place)
        }
        for post in working
    }
    filled: dict[_Post, int] = {}
    for post in working:
        _augment(post, costs, filled)
    return {post: seats[seat] for post, seat in filled.items()}


def _augment(post: _Post, costs: dict[_Post, dict[int, int]], filled: dict[_Post, int]) -> None:
    """Fill one more post by the cheapest chain of people moving up (Bellman-Ford: few people, negative steps)."""
    by_seat = {seat: held for held, seat in filled.items()}
    reach = {seat: (cost, post) for seat, cost in costs[post].items()}
    changed = True
    while changed:
        changed = False
        for seat, (spent, _) in list(reach.items()):
            held = by_seat.get(seat)
            if held is None:
                continue
            for other, cost in costs[held].items():
                offer = spent - costs[held][seat] + cost
                if other not in reach or offer < reach[other][0]:
                    reach[other] = (offer, held)
                    changed = True
    free = [(spent, seat) for seat, (spent, _) in reach.items() if seat not in by_seat]
    if not free:
        return
    taken, giver = min(free)[1], None
    while giver != post:
        giver = reach[taken][1]
        filled[giver], taken = taken, filled.get(giver, taken)

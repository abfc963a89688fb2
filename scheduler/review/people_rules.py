"""Rules of people and hours: enough people who can, open hours only, overtime bought in its order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.calendars import Calendar
from scheduler.domain.leads import is_watched
from scheduler.domain.plan import Plan
from scheduler.domain.week import Person, Week
from scheduler.review.activities import Activity, activities
from scheduler.review.hours import can_end_at, can_start_at, open_windows
from scheduler.review.press_rules import staging_min
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, people_text, press_text, run_text, start_text

Post = tuple[str, str]
"""A role at a place, e.g. ("print", "press-1"); the place is "" off the presses."""


def people_suffice(week: Week, plan: Plan) -> list[Violation]:
    """At every minute there are enough people who can do what is going on.

    For every subset of posts demanded at a minute: people there who can fill one of them >= its size (so a matching
    of people to posts exists). A lead at presses fills up to `lead_covers` posts, and nothing else meanwhile. People
    hand over freely. Off where the week names nobody.
    """
    if not week.people:
        return []
    found: list[Violation] = []
    last_short: list[tuple[Post, str]] | None = None
    for start, working, there in minutes_with_work(week, plan):
        posts = [((role, one.place), one) for one in working for role, count in one.crew for _ in range(count)]
        short = _short_posts([post for post, _ in posts], there, week.lead_covers)
        told = sorted((posts[index][0], posts[index][1].owner_id) for index in short.posts) if short else None
        if short and told != last_short:
            needed = ", ".join(sorted({_post_text(week, posts[index][0]) for index in short.posts}))
            first = posts[short.posts[0]][1]
            found.append(
                Violation(
                    rule="people_suffice",
                    run_id=first.owner_id if first.owner_id in week.run else None,
                    order_id=first.owner_id if first.owner_id in week.order else None,
                    press_id=first.place or None,
                    at_tau=start,
                    message=f"{people_text(short.needed)} needed {start_text(week, start)} ({needed}), "
                    f"{short.there} there who can",
                )
            )
        last_short = told
    return found


def minutes_with_work(week: Week, plan: Plan) -> Iterator[tuple[int, list[Activity], list[Person]]]:
    """Each shop minute at which demand or presence changes, with what is worked on then and who is there."""
    work = [one for one in activities(week, plan) if one.crew and one.stretches]
    present = {person.person_id: open_windows(person.calendar, plan) for person in week.people}
    edges = {edge for one in work for stretch in one.stretches for edge in stretch}
    if not edges:
        return
    first, last = min(edges), max(edges)
    for windows in present.values():
        edges |= {edge for w in windows for edge in (w.start_tau, w.end_tau) if first <= edge <= last}
    for at in sorted(edges):
        working = [one for one in work if any(start <= at < end for start, end in one.stretches)]
        if working:
            yield at, working, [one for one in week.people if can_start_at(present[one.person_id], at)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Short:
    """Posts (by position) that too few people can fill: how many it takes, how many of these people are there."""

    posts: list[int]
    needed: int
    there: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seats:
    """What people offer at a minute: (person, True for one of the presses a lead watches). Post i asks for kind[i]."""

    people: Sequence[tuple[Person, bool]]
    posts: Sequence[Post]
    kind: Sequence[bool]

    def fit(self, seat: int, index: int) -> bool:
        """True if this seat can be at this post."""
        person, watches = self.people[seat]
        return watches == self.kind[index] and person.can(*self.posts[index])


def _short_posts(posts: Sequence[Post], there: Sequence[Person], lead_covers: int) -> _Short | None:
    """Posts that cannot all be filled, None if they can: with everyone who could watch presses doing so, and not.

    Of several ways in which it cannot be done, the one with the fewest watching is told.
    """
    watched = [index for index, post in enumerate(posts) if lead_covers > 1 and is_watched(*post)]
    kind = [index in watched for index in range(len(posts))]
    leads = [number for number, person in enumerate(there) if any(person.can(*posts[index]) for index in watched)]
    least = min(-(-len(watched) // lead_covers), len(leads))
    short: _Short | None = None
    for count in range(least, min(len(watched), len(leads)) + 1):
        for watching in combinations(leads, count):
            people = [
                (person, number in watching)
                for number, person in enumerate(there)
                for _ in range(lead_covers if number in watching else 1)
            ]
            unfilled = _unfilled(_Seats(people=people, posts=posts, kind=kind))
            if unfilled is None:
                return None
            short = short or _told(unfilled, watched, [there[number] for number in watching], posts, lead_covers)
    return short


def _told(
    unfilled: tuple[list[int], set[str]],
    watched: Sequence[int],
    watching: Sequence[Person],
    posts: Sequence[Post],
    lead_covers: int,
) -> _Short:
    """With who watches presses and could do what is missing counted in, and the presses they watch."""
    short, there = unfilled
    if not set(short) & set(watched):
        busy = {one.person_id for one in watching if any(one.can(*posts[index]) for index in short)}
        short, there = [*short, *(watched if busy else ())], there | busy
    leading = len(set(short) & set(watched))
    return _Short(posts=short, needed=len(short) - leading + -(-leading // lead_covers), there=len(there))


def _unfilled(seats: _Seats) -> tuple[list[int], set[str]] | None:
    """Posts that too few seats fit, and who these seats belong to; None if all are filled."""
    holder: dict[int, int] = {}
    for index in range(len(seats.posts)):
        asked: set[int] = set()
        if not _find_seat(index, seats, holder, asked):
            # Everyone who was asked holds another post nobody else can take over: these posts are too many for them.
            held = [holder[seat] for seat in sorted(asked)]
            return [index, *held], {seats.people[seat][0].person_id for seat in asked}
    return None


def _find_seat(index: int, seats: _Seats, holder: dict[int, int], asked: set[int]) -> bool:
    """Give a post to somebody free, or to somebody whose own post another can take over."""
    for seat in range(len(seats.people)):
        if seat in asked or not seats.fit(seat, index):
            continue
        asked.add(seat)
        if seat not in holder or _find_seat(holder[seat], seats, holder, asked):
            holder[seat] = index
            return True
    return False


def _post_text(week: Week, post: Post) -> str:
    role, place = post
    return f"{role} at {press_text(week, place)}" if place else role


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    """One activity as planned; calendar is None where no minute of it has to be open."""

    what: str
    calendar: Calendar | None
    start_tau: int
    end_tau: int
    run_id: str | None = None
    press_id: str | None = None
    order_id: str | None = None


def inside_open_hours(week: Week, plan: Plan) -> list[Violation]:
    """Work starts and ends in open minutes, and nothing lies off the week.

    For each activity with work: start in some [a, b), end in some (a, b] of its calendar, bought overtime included; a
    set-up of no minutes still starts in an open one. Every time is in [0, horizon].
    """
    found = []
    for span in _spans(week, plan):
        windows = open_windows(span.calendar, plan) if span.calendar is not None else None
        for verb, at, told, is_open in (
            ("starts", span.start_tau, start_text(week, span.start_tau), can_start_at),
            ("ends", span.end_tau, end_text(week, span.end_tau), can_end_at),
        ):
            is_on_axis = 0 <= at <= week.horizon_tau
            # Nothing that takes no time can end "after an open minute": its start alone must be open.
            is_point_end = verb == "ends" and span.start_tau == span.end_tau
            if is_on_axis and (windows is None or is_point_end or is_open(windows, at)):
                continue
            found.append(
                Violation(
                    rule="inside_open_hours",
                    run_id=span.run_id,
                    press_id=span.press_id,
                    order_id=span.order_id,
                    at_tau=at,
                    message=f"{span.what} {verb} {told}" + (", outside open hours" if is_on_axis else ""),
                )
            )
    return found


def _spans(week: Week, plan: Plan) -> Iterator[_Span]:
    for one in plan.runs:
        name, press, room = run_text(week, one.run_id), week.press.get(one.press_id), week.screen_room
        hours, prints = (press.calendar, press.prints_in) if press else (None, None)
        staging = week.staging.calendar if week.staging is not None and staging_min(week, one.run_id) else None
        spans: list[tuple[str, Calendar | None, int, int]] = [
            (
                "staging of",
                _if_work(staging, one.stage_start_tau, one.stage_end_tau),
                one.stage_start_tau,
                one.stage_end_tau,
            ),
            ("set-up of", hours, one.set_up_start_tau, one.set_up_end_tau),
            (
                "printing of",
                _if_work(prints, one.print_start_tau, one.print_end_tau),
                one.print_start_tau,
                one.print_end_tau,
            ),
        ]
        if one.burn is not None:
            burn, screens = one.burn, room.calendar if room else None
            spans += [
                ("burning for", _if_work(screens, burn.start_tau, burn.end_tau), burn.start_tau, burn.end_tau),
                ("drying for", None, burn.dry_tau, burn.dry_tau),
                (
                    "taping for",
                    _if_work(screens, burn.tape_start_tau, burn.tape_end_tau),
                    burn.tape_start_tau,
                    burn.tape_end_tau,
                ),
            ]
        for what, calendar, start, end in spans:
            yield _Span(
                what=f"{what} {name}",
                calendar=calendar,
                start_tau=start,
                end_tau=end,
                run_id=one.run_id,
                press_id=one.press_id,
            )
    for packed in plan.orders:
        packing = week.finishing.calendar if week.finishing else None
        start, end = packed.finish_start_tau, packed.packed_tau
        yield _Span(
            what=f"packing of {packed.order_id}",
            calendar=_if_work(packing, start, end),
            start_tau=start,
            end_tau=end,
            order_id=packed.order_id,
        )
        for visit in packed.stations:
            station = week.station.get(visit.station_id)
            yield _Span(
                what=f"{visit.station_id} of {packed.order_id}",
                calendar=station.calendar if station is not None and station.units is not None else None,
                start_tau=visit.start_tau,
                end_tau=visit.end_tau,
                order_id=packed.order_id,
            )


def _if_work(calendar: Calendar | None, start_tau: int, end_tau: int) -> Calendar | None:
    return calendar if start_tau != end_tau else None


def overtime_is_nested(week: Week, plan: Plan) -> list[Violation]:
    """Overtime is bought from what is on offer, once, and only after the block it follows.

    For each bought block b: b is on offer, and after_id[b], if any, is bought too.
    """
    offers = {block.block_id: block for block in week.overtime}
    found = []
    for block_id in sorted(set(plan.overtime)):
        block = offers.get(block_id)
        if block is None:
            message = f"overtime {block_id} is bought, it is not on offer"
            found.append(Violation(rule="overtime_is_nested", message=message))
            continue
        if plan.overtime.count(block_id) > 1:
            message = f"overtime {block.name} is bought twice"
            found.append(Violation(rule="overtime_is_nested", at_tau=block.start_tau, message=message))
        if block.after_id is not None and block.after_id not in plan.overtime:
            first = offers[block.after_id].name if block.after_id in offers else block.after_id
            message = f"overtime {block.name} is bought without {first} before it"
            found.append(Violation(rule="overtime_is_nested", at_tau=block.start_tau, message=message))
    return found

"""Who is there, minute by minute: opening times, and the desk that hands out people and belt."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Generator, Iterable
from itertools import product
from typing import Any

import simpy

from scheduler.domain.calendars import Calendar
from scheduler.domain.plan import Plan
from scheduler.domain.week import Crew, Week

Steps = Generator[simpy.Event, Any, Any]
PLENTY = 10**9


class OpenTimes:
    """Wall-minute opening times of one calendar with the overtime that was bought."""

    def __init__(self, week: Week, calendar: Calendar, bought: Iterable[str]) -> None:
        chosen = set(bought)
        spans: list[tuple[int, int]] = []
        for window in calendar.windows:
            if window.overtime_id is None or window.overtime_id in chosen:
                start = week.clock.wall_at_start(window.start_tau)
                spans.append((start, start + window.end_tau - window.start_tau))
        self.spans = spans
        self.starts = [start for start, _ in spans]

    def next_open(self, wall: int) -> int | None:
        """First open minute at or after `wall`."""
        index = bisect_right(self.starts, wall) - 1
        if index >= 0 and wall < self.spans[index][1]:
            return wall
        return self.starts[index + 1] if index + 1 < len(self.starts) else None


class Desk:
    """Hands out people and belt for each minute, first planned first served."""

    def __init__(self, env: simpy.Environment, week: Week, plan: Plan) -> None:
        self.env = env
        self.week = week
        self.asked: list[tuple[int, int, Crew, str, str | None, int, simpy.Event]] = []
        self.count = 0
        self.seated: list[tuple[str, str]] = []
        self.open = {p.person_id: OpenTimes(week, p.calendar, plan.overtime) for p in week.people}
        self.booked = [
            (week.clock.wall_at_start(one.start_tau), week.clock.wall_at_end(one.end_tau), one.role, one.count)
            for one in week.reservations
        ]

    def minute(self, since: int, crew: Crew, place: str, dryer_id: str | None, permille: int) -> simpy.Event:
        """Ask for a crew and a belt share for the minute from now; the event tells whether they were had."""
        event = self.env.event()
        if not self.asked:
            self.env.process(self._decide())
        self.count += 1
        self.asked.append((since, self.count, crew, place, dryer_id, permille, event))
        return event

    def _decide(self) -> Steps:
        yield self.env.timeout(0.5)
        now = int(self.env.now)
        there = [p for p in self.week.people if self.open[p.person_id].next_open(now) == now]
        held: dict[str, tuple[str, str]] = {}
        belt: dict[str, int] = {}
        self.seated = []
        if self.week.people:
            for start, end, role, count in self.booked:
                if start <= now < end and not self._seat(there, held, [(role, "")] * count):
                    raise AssertionError(f"nobody there for the booked {role} at {now}")
        for _, _, crew, place, dryer_id, permille, event in sorted(self.asked, key=lambda ask: ask[:2]):
            seats = [(role, place) for role, count in crew for _ in range(count)]
            fits_belt = dryer_id is None or belt.get(dryer_id, 0) + permille <= 1000
            had = fits_belt and (not self.week.people or self._seat(there, held, seats))
            if had and dryer_id is not None:
                belt[dryer_id] = belt.get(dryer_id, 0) + permille
            event.succeed(had)
        self.asked = []

    def _seat(self, there: list[Any], held: dict[str, tuple[str, str]], seats: list[tuple[str, str]]) -> bool:
        """Give every seat a person, moving people already seated if that helps; all or none."""
        if self.week.lead_covers > 1:
            return self._seat_with_leads(there, seats)
        trial = dict(held)
        if all(_placed(seat, there, trial, set()) for seat in seats):
            held.clear()
            held.update(trial)
            return True
        return False

    def _seat_with_leads(self, there: list[Any], seats: list[tuple[str, str]]) -> bool:
        """Where a lead may watch several presses: every way to hand the presses out, then the rest."""
        asked = [*self.seated, *seats]
        led = [place for role, place in asked if role == "lead" and place]
        rest = [(role, place) for role, place in asked if role != "lead" or not place]
        able = [[one for one in there if one.can("lead", place)] for place in led]
        for chosen in product(*able):
            if any(chosen.count(one) > self.week.lead_covers for one in chosen):
                continue
            held: dict[str, tuple[str, str]] = {}
            if all(_placed(seat, [one for one in there if one not in chosen], held, set()) for seat in rest):
                self.seated = asked
                return True
        return False


def _placed(seat: tuple[str, str], there: list[Any], held: dict[str, tuple[str, str]], seen: set[str]) -> bool:
    for person in there:
        if person.can(*seat) and person.person_id not in seen:
            seen.add(person.person_id)
            if person.person_id not in held or _placed(held[person.person_id], there, held, seen):
                held[person.person_id] = seat
                return True
    return False

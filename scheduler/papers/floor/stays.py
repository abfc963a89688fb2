"""Where everybody is by half days: the roster's stretches joined into stays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from itertools import groupby, pairwise

from scheduler.papers.roster_table import RosterRow

MORNING, AFTERNOON = "morning", "afternoon"
HALVES = (MORNING, AFTERNOON)
NOON = time(12)
SCREEN_ROOM = {"burning", "taping", "coating", "reclaiming"}
"""Work of the screen room: one place, whatever is done there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """Somebody at one place for part of a half day, from the first minute there to the last."""

    person: str
    day: date
    half: str
    place: str
    start_at: datetime
    end_at: datetime

    @property
    def text(self) -> str:
        """As "Big Eight 07:00-11:30"."""
        return f"{self.place} {self.start_at:%H:%M}-{self.end_at:%H:%M}"


def stays(rows: Sequence[RosterRow]) -> tuple[Stay, ...]:
    """Where everybody is: what follows at the same place is one stay, and so is what pauses there; noon ends it.

    A lead who watches several presses at once has one stay at each.
    """
    halves: dict[tuple[str, date, str], list[_Part]] = {}
    for row in sorted(rows, key=lambda row: (row.person, row.start_at, row.end_at)):
        for part in _halved(row):
            halves.setdefault((row.person, part.start_at.date(), part.half), []).append(part)
    return tuple(
        Stay(
            person=person,
            day=day,
            half=half,
            place=place,
            start_at=min(part.start_at for part in there),
            end_at=max(part.end_at for part in there),
        )
        for (person, day, half), parts in halves.items()
        for place, there in _by_place(parts)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """The share of a roster row that lies in one half of a day."""

    place: str
    half: str
    start_at: datetime
    end_at: datetime


def _by_place(parts: list[_Part]) -> list[tuple[str, list[_Part]]]:
    is_at_two = any(before.end_at > after.start_at for before, after in pairwise(parts))
    ordered = sorted(parts, key=lambda part: part.place) if is_at_two else parts
    return [(place, list(there)) for place, there in groupby(ordered, key=lambda part: part.place)]


def _place(row: RosterRow) -> str:
    """The press; off the presses the screen room, else what is done."""
    return row.place or ("screen room" if row.activity in SCREEN_ROOM else row.activity)


def _halved(row: RosterRow) -> Iterator[_Part]:
    """A stretch of the roster, cut at noon where it runs through it."""
    noon = datetime.combine(row.start_at.date(), NOON, row.start_at.tzinfo)
    place = _place(row)
    if row.start_at < noon:
        yield _Part(place=place, half=MORNING, start_at=row.start_at, end_at=min(row.end_at, noon))
    if row.end_at > noon:
        yield _Part(place=place, half=AFTERNOON, start_at=max(row.start_at, noon), end_at=row.end_at)

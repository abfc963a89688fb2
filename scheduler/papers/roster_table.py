"""Who does what, when and where, by name, as rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.roster.by_name import full_roster, roster


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterRow:
    """Somebody at one thing from start to end, without a pause. person is "nobody" where nobody can."""

    person: str
    start_at: datetime
    end_at: datetime
    role: str
    place: str
    activity: str
    run_or_order: str


def roster_rows(week: Week, plan: Plan) -> tuple[RosterRow, ...]:
    """Who does what when, by name; empty where the shop names nobody."""
    names = {person.person_id: person.name for person in week.people}
    places = {press.press_id: press.name for press in week.presses}
    return tuple(
        RosterRow(
            person=names.get(one.person_id or "", "nobody"),
            start_at=week.clock.starts_at(one.start_tau),
            end_at=week.clock.ends_at(one.end_tau),
            role=one.role,
            place=places.get(one.place, ""),
            activity=one.activity,
            run_or_order=one.owner_id,
        )
        for one in roster(week, plan)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortStayRow:
    """Somebody at a press for less than the shop wants, and why the roster has it."""

    person: str
    place: str
    start_at: datetime
    end_at: datetime
    why: str

    @property
    def text(self) -> str:
        """As "Bea at Big Eight 07:30-07:44"."""
        return f"{self.person} at {self.place} {self.start_at:%H:%M}-{self.end_at:%H:%M}"


NO_OTHER, NONE_FOUND = "no roster of this day avoids that", "no roster without them was found"


def short_stay_rows(week: Week, plan: Plan) -> tuple[ShortStayRow, ...]:
    """The stays at a press that are shorter than the shop wants, by their start."""
    names = {person.person_id: person.name for person in week.people}
    return tuple(
        ShortStayRow(
            person=names[one.person_id],
            place=week.press[one.place].name,
            start_at=week.clock.starts_at(one.start_tau),
            end_at=week.clock.ends_at(one.end_tau),
            why=NO_OTHER if one.is_needed else NONE_FOUND,
        )
        for one in full_roster(week, plan).short
    )

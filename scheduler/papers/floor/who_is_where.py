"""Who is on which press in the morning and in the afternoon, by name; the minutes behind it are the roster's."""

from __future__ import annotations

from datetime import date, datetime

from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.sheet import Sheet, Table
from scheduler.papers.floor.stays import HALVES, Stay
from scheduler.papers.words import long_day


def people_at(ground: Ground, press_id: str, day: date) -> list[tuple[str, list[str]]]:
    """Names at a press in the morning and in the afternoon of a day, each once."""
    name = ground.week.press[press_id].name
    there = [one for one in ground.stays if one.place == name and one.day == day]
    return [(half, list(dict.fromkeys(one.person for one in there if one.half == half))) for half in HALVES]


def roster_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """A sheet for each day: presses with their people, then people with their places; none where nobody is named."""
    found = ground.stays
    return tuple(_day(ground, day, [one for one in found if one.day == day]) for day in sorted({s.day for s in found}))


def _day(ground: Ground, day: date, there: list[Stay]) -> Sheet:
    presses = [
        (press.name, *(", ".join(names) for _, names in people_at(ground, press.press_id, day)))
        for press in ground.week.presses
    ]
    people = [
        (
            person,
            *("\n".join(one.text for one in there if one.person == person and one.half == half) for half in HALVES),
        )
        for person in sorted({one.person for one in there})
    ]
    return Sheet(
        title=f"Who is where, {long_day(datetime(day.year, day.month, day.day))}",
        said=_short(ground, day),
        tables=(
            Table(
                kind="presses and people",
                title="Presses",
                headings=("press", *HALVES),
                rows=tuple(row for row in presses if any(row[1:])),
                has_box=False,
                bold=frozenset({0}),
            ),
            Table(
                kind="people and places",
                title="People",
                headings=("person", *HALVES),
                rows=tuple(people),
                has_box=False,
                bold=frozenset({0}),
            ),
        ),
    )


def _short(ground: Ground, day: date) -> tuple[str, ...]:
    """Who is sent to a press for less than the shop wants, in one sentence; none where nobody is."""
    there = [one for one in ground.short_stays if one.start_at.date() == day]
    if not there:
        return ()
    least_min, why = ground.week.least_stay_min, there[0].why
    return (f"Less than {least_min} min at a press: {', '.join(one.text for one in there)}; {why}.",)

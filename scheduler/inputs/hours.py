"""Opening hours: a table of weekdays and hours to the hours of a shop, a press or a person."""

from __future__ import annotations

from scheduler.domain.shop import DayHours, Hours
from scheduler.inputs.moments import WEEKDAYS, hours_line, weekdays
from scheduler.inputs.shop_section import Section


def read_hours(section: Section, *, tell: bool = False) -> Hours | None:
    """The `hours` table of a section: mon-fri = "07:00-12:00, 12:30-16:00"; None if there is none.

    Days that are not named are closed; tell: say so as an assumption.
    """
    table = section.inner("hours")
    if table is None:
        return None
    found: list[DayHours] = []
    named: dict[int, str] = {}
    for name, leaf in table.items():
        days = section.reading.faults.read(table.place(name, leaf.row), name, weekdays)
        shift = table.parsed(name, leaf, hours_line) if leaf.text else None
        if days is None:
            continue
        twice = [day for day in days if day in named]
        if twice:
            message = f"{WEEKDAYS[twice[0]].capitalize()} stands in {named[twice[0]]} and in {name}"
            section.reading.faults.add(table.place(name, leaf.row), "day_twice", message, "name every weekday once")
        named |= dict.fromkeys(days, name)
        if shift is not None:
            found.append(DayHours(weekdays=days, from_min=shift.from_min, to_min=shift.to_min, breaks=shift.breaks))
    silent = [WEEKDAYS[day] for day in range(7) if day not in named]
    if tell and silent:
        text = f"{', '.join(day.capitalize() for day in silent)}: closed, as no hours are given"
        section.reading.assumed.add("closed_days", text, "shop settings", "shop")
    return tuple(found)

"""Locks of runs, found and written in the orders sheet; nothing here is shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler import api
from scheduler.domain.week import Run

LOCK_PRESS, LOCK_AT = "lock_press", "lock_at"
HEADINGS = {LOCK_PRESS: "Lock press", LOCK_AT: "Lock at"}

Rows = list[list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """A row of the orders sheet that is locked: what it prints, to which press and time; place: which row."""

    place: int
    order: str
    location: str
    garment: str
    press: str
    at: str


def places_of(sheet: api.SheetCells, run: Run) -> list[int]:
    """The rows of the orders sheet behind a run."""
    garments = {part.garment.casefold() for part in run.parts}
    found = []
    for place in range(len(sheet.rows)):
        row = cells(sheet, place)
        is_same = row.get("order") == run.order_id and row.get("location", "").casefold() == run.location.casefold()
        if is_same and row.get("garment", "").casefold() in garments:
            found.append(place)
    return found


def cells(sheet: api.SheetCells, place: int) -> dict[str, str]:
    """A row's cells by heading."""
    return dict(zip([api.heading_key(one) for one in sheet.headings], sheet.rows[place], strict=True))


def locks(sheet: api.SheetCells) -> list[Lock]:
    """Every row with a lock."""
    found = []
    for place in range(len(sheet.rows)):
        row = cells(sheet, place)
        if row.get(LOCK_PRESS) or row.get(LOCK_AT):
            found.append(
                Lock(
                    place=place,
                    order=row.get("order", ""),
                    location=row.get("location", ""),
                    garment=row.get("garment", ""),
                    press=row.get(LOCK_PRESS, ""),
                    at=row.get(LOCK_AT, ""),
                )
            )
    return found


def with_lock(sheet: api.SheetCells, places: Sequence[int], press_id: str, at: str) -> tuple[tuple[str, ...], Rows]:
    """Headings and rows with these rows locked; press and time "" take the lock off."""
    headings = list(sheet.headings)
    keys = [api.heading_key(one) for one in headings]
    for name, heading in HEADINGS.items():
        if name not in keys:
            headings.append(heading)
            keys.append(name)
    rows = [[*row, *[""] * (len(headings) - len(row))] for row in sheet.rows]
    for place in places:
        rows[place][keys.index(LOCK_PRESS)] = press_id
        rows[place][keys.index(LOCK_AT)] = at
    return tuple(headings), rows

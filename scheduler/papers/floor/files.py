"""All papers of a plan for the floor, by file name: sheets to print, lists, a workbook, calendars."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from scheduler.papers.floor.calendars import press_calendar, screen_room_calendar
from scheduler.papers.floor.day_sheets import day_sheets
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.html import list_pages
from scheduler.papers.floor.ink_list import ink_sheets
from scheduler.papers.floor.press_pages import press_sheets_page
from scheduler.papers.floor.pull_lists import frame_sheets, garment_sheets
from scheduler.papers.floor.run_tables import run_sheets
from scheduler.papers.floor.screen_days import screen_sheets
from scheduler.papers.floor.sheet import Sheet
from scheduler.papers.floor.ship_list import chase_sheets, ship_sheets, station_sheets
from scheduler.papers.floor.who_is_where import roster_sheets
from scheduler.papers.floor.workbook import workbook
from scheduler.papers.text import LONGEST_STEM

WORKBOOK = "lists.xlsx"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One file: its name, what it is, and what is in it."""

    name: str
    what: str
    content: bytes

    @property
    def is_page(self) -> bool:
        """True for what is printed."""
        return self.name.endswith(".html")


def floor_papers(ground: Ground) -> tuple[Paper, ...]:
    """Every file of the floor's papers, those that are printed first."""
    return tuple(each_floor_paper(ground))


def each_floor_paper(ground: Ground) -> Iterator[Paper]:
    """The same one after the other, each made when it is asked for."""
    days = {press.press_id: day_sheets(ground, press.press_id) for press in ground.week.presses}
    lists = floor_lists(ground)
    everything = [
        *(sheet for sheets in days.values() for sheet in sheets),
        *run_sheets(ground),
        *(sheet for _, sheets in lists.values() for sheet in sheets),
    ]
    yield from _press_papers(ground, days)
    yield from (
        _page(f"{name}.html", what, list_pages(ground, what, own)) for name, (what, own) in lists.items() if own
    )
    yield Paper(name=WORKBOOK, what="All of these as one workbook", content=workbook(everything, ground.printed_at))
    yield from _calendars(ground)


def _press_papers(ground: Ground, days: Mapping[str, tuple[Sheet, ...]]) -> Iterator[Paper]:
    for press_id, stem in _stems(ground).items():
        name = ground.week.press[press_id].name
        yield _page(f"{stem}-days.html", f"{name}: a sheet for each day", list_pages(ground, name, days[press_id]))
        yield _page(f"{stem}-runs.html", f"{name}: a sheet for each run", press_sheets_page(ground, press_id))


def floor_lists(ground: Ground) -> Mapping[str, tuple[str, tuple[Sheet, ...]]]:
    """Lists by file name: what each is, and its sheets."""
    return {
        "screen-room-days": ("Screen room: tonight and tomorrow morning", screen_sheets(ground)),
        "garments": ("Garments to pull", garment_sheets(ground)),
        "ink": ("Ink per colour", ink_sheets(ground)),
        "frames": ("Frames by size and mesh", frame_sheets(ground)),
        "who-is-where": ("Who is where", roster_sheets(ground)),
        "stations": ("Other stations", station_sheets(ground)),
        "leaving": ("What leaves when", ship_sheets(ground)),
        "ringing": ("Whom to ring", chase_sheets(ground.chase)),
    }


def _calendars(ground: Ground) -> Iterator[Paper]:
    for press_id, stem in _stems(ground).items():
        what = f"{ground.week.press[press_id].name}: calendar"
        yield Paper(name=f"{stem}.ics", what=what, content=press_calendar(ground, press_id).encode())
    if ground.week.screen_room is not None:
        content = screen_room_calendar(ground).encode()
        yield Paper(name="screen-room.ics", what="Screen room: calendar", content=content)


def file_stems(press_ids: Iterable[str]) -> dict[str, str]:
    """File names of presses without ending: "press-auto-1", safe on every system and different for every press."""
    found: dict[str, str] = {}
    for press_id in press_ids:
        name = stem = f"press-{re.sub(r'[^A-Za-z0-9_-]+', '-', press_id).strip('-').lower()[:LONGEST_STEM] or 'x'}"
        number = 2
        while name in found.values():
            name, number = f"{stem}-{number}", number + 1
        found[press_id] = name
    return found


def _stems(ground: Ground) -> dict[str, str]:
    return file_stems(press.press_id for press in ground.week.presses)


def _page(name: str, what: str, text: str) -> Paper:
    return Paper(name=name, what=what, content=text.encode())

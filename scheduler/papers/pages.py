"""Printable pages: one per press for its operator, one for the screen room.

Each is one HTML file that needs nothing else: black on white, large type, breaks between runs, margins that suit A4
and Letter alike. Everything typed by people is escaped.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import TypeVar

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers import words
from scheduler.papers.cautions import press_cautions, screen_room_cautions, station_cautions
from scheduler.papers.csv_files import prints_text
from scheduler.papers.kept_free import kept_free_text
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.station_tables import station_rows
from scheduler.papers.tables import QueueRow, StagingRow, kept_text, press_queue, staging_rows
from scheduler.papers.text import LONGEST_STEM

SCREEN_ROOM_FILE = "screen-room.html"
STATIONS_FILE = "stations.html"


def press_page(week: Week, plan: Plan, press_id: str, *, shop_name: str = "") -> str:
    """The page of one press: its runs in order, each with heads, set-up and reason. KeyError for an unknown press."""
    press = week.press[press_id]
    rows = [row for row in press_queue(week, plan) if row.press_id == press_id]
    stacks = [week.run[row.run_id].on_press[press_id].stack for row in rows]
    return (
        _environment()
        .get_template("press.html")
        .render(
            title=press.name,
            shop_name=shop_name,
            planned_at=week.clock.now,
            days=_by_day(rows, [row.set_up_at for row in rows]),
            cautions=press_cautions([*stacks, press.now_on], week.ink),
            kept_free=kept_free_text(week, plan, press),
            run_count=len(rows),
            piece_count=sum(row.pieces for row in rows),
        )
    )


def screen_room_page(week: Week, plan: Plan, *, shop_name: str = "") -> str:
    """The screen room's page: what to coat, burn, tape and reclaim by when, then the carts to stage."""
    screens, carts = screen_rows(week, plan), staging_rows(week, plan)
    return (
        _environment()
        .get_template("screen_room.html")
        .render(
            title="Screen room",
            shop_name=shop_name,
            planned_at=week.clock.now,
            days=_by_day(screens, [row.start_at for row in screens]),
            cart_days=_by_day(carts, [row.start_at for row in carts]),
            cautions=screen_room_cautions(),
            burn_count=sum(row.screens for row in screens if row.what == "burn"),
        )
    )


def stations_page(week: Week, plan: Plan, *, shop_name: str = "") -> str:
    """The page of the stations beside the presses: which order is there when, or away until when."""
    rows = station_rows(week, plan)
    return (
        _environment()
        .get_template("stations.html")
        .render(
            title="Other stations",
            shop_name=shop_name,
            planned_at=week.clock.now,
            stations=[(station, list(own)) for station, own in groupby(rows, key=lambda row: row.station)],
            cautions=station_cautions(),
        )
    )


def press_file(press_id: str, press_ids: Iterable[str]) -> str:
    """File name of a press's page: "press-auto-1.html", safe on every system and different for every press."""
    names: dict[str, str] = {}
    for one in press_ids:
        name = stem = f"press-{re.sub(r'[^A-Za-z0-9_-]+', '-', one).strip('-').lower()[:LONGEST_STEM] or 'x'}"
        number = 2
        while name in names.values():
            name, number = f"{stem}-{number}", number + 1
        names[one] = name
    return f"{names[press_id]}.html"


Row = TypeVar("Row", QueueRow, ScreenRow, StagingRow)


def _by_day(rows: Sequence[Row], starts: Sequence[datetime]) -> list[tuple[str, list[Row]]]:
    """Rows under the name of the day they start on."""
    paired = zip(starts, rows, strict=True)
    return [
        (words.long_day(datetime(day.year, day.month, day.day)), [row for _, row in group])
        for day, group in groupby(paired, key=lambda pair: pair[0].date())
    ]


def _frame_text(row: ScreenRow) -> str:
    """Frame sizes of a set, once each (the mesh stands with each screen); else its frames as the shop counts them."""
    sizes = list(dict.fromkeys(frame for _, _, frame in row.prints if frame))
    return f"frame {words.listed(sizes)}" if sizes else row.frames


@cache
def _environment() -> Environment:
    """Templates with escaping on and unknown names refused."""
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["day_and_time"] = words.day_and_time
    environment.filters["minutes"] = words.minutes
    environment.filters["kept_text"] = kept_text
    environment.filters["prints_text"] = prints_text
    environment.filters["frame_text"] = _frame_text
    environment.globals["until"] = words.until
    environment.globals["counted"] = words.counted
    return environment

"""Grounds for the floor's papers: invented weeks with a first plan, and how a reader sees a page."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler import api
from scheduler.domain.clock import ShopClock
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.papers.floor.files import Paper, floor_papers
from scheduler.papers.floor.ground import Ground
from scheduler.search.engine import plan_week

SCENARIOS = Path(__file__).resolve().parents[3] / "scenarios"
NAMES = ("solo", "midsize")


@cache
def ground(name: str) -> Ground:
    """An invented week with its first plan."""
    return ground_of(api.read_week(SCENARIOS / name))


@cache
def papers(name: str) -> tuple[Paper, ...]:
    """All papers of an invented week."""
    return floor_papers(ground(name))


def ground_of(inputs: WeekInputs, planned: Plan | None = None) -> Ground:
    """A week as typed, with its first plan and whom to ring, printed on the afternoon of its first day.

    planned: its plan, where only words differ from a week that is planned already.
    """
    week = api.build_workload(inputs).week
    plan = planned or plan_week(week, SearchSettings(iterations=0)).plan
    assert plan is not None
    at = week.clock.now.replace(hour=14, minute=30)
    return Ground(inputs=inputs, week=week, plan=plan, printed_at=at, chase=tuple(api.chase_list(inputs, week, plan)))


def with_paper(of: Ground, **settings: object) -> Ground:
    """The same, with other settings of the shop's papers."""
    shop = of.inputs.shop
    return replace(of, inputs=replace(of.inputs, shop=replace(shop, paper=replace(shop.paper, **settings))))  # type: ignore[arg-type]


def wall(clock: ShopClock, tau: int, *, is_end: bool = False) -> datetime:
    """Local time of a shop minute, found by walking the open stretches one after the other."""
    left = tau
    for stretch in clock.stretches:
        length = stretch.wall_end_min - stretch.wall_start_min
        if left < length or (is_end and left == length):
            minute = stretch.wall_start_min + left
            return (clock.now.astimezone(UTC) + timedelta(minutes=minute)).astimezone(ZoneInfo(clock.zone))
        left -= length
    raise AssertionError(f"minute {tau} lies behind the axis")


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.sheets: list[list[str]] = []
        self.tables: list[list[list[str]]] = []
        self.tags: list[str] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag == "section":
            self.sheets.append([])
        if tag == "table":
            self.tables.append([])
        if tag == "tr":
            self.tables[-1].append([])
        if tag in ("td", "th"):
            self.tables[-1][-1].append("")
        if tag == "br":
            self._add("\n")

    def handle_data(self, data: str) -> None:
        if self.tags[-1:] != ["style"]:
            self._add(data)

    def _add(self, data: str) -> None:
        self.words.append(data)
        if self.sheets:
            self.sheets[-1].append(data)
        if self.tables and self.tables[-1] and self.tables[-1][-1]:
            self.tables[-1][-1][-1] += data


def _read(page: str) -> _Reader:
    reader = _Reader()
    reader.feed(page)
    reader.close()
    return reader


def sheets_of(page: str) -> list[str]:
    """The words of each sheet of a page, blanks squeezed."""
    return [re.sub(r"\s+", " ", "".join(sheet)).strip() for sheet in _read(page).sheets]


def tables_of(page: str) -> list[list[list[str]]]:
    """Every table of a page as rows of cells."""
    return [[[re.sub(r"[ \t]+", " ", cell).strip() for cell in row] for row in table] for table in _read(page).tables]


def tags_of(page: str) -> set[str]:
    """Every tag of a page."""
    return set(_read(page).tags)

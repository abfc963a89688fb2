"""A small plan of a small week, made once for all tests of plans and events in the book."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler import api, shop_book
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.construction import first_plans
from scheduler.search.decoder import Decoder
from tests.book.books import NOW, book_at
from tests.inputs.weeks import write_folder

SOLO = Path(__file__).resolve().parents[2] / "scenarios" / "solo"
CLOCK = datetime(2026, 3, 2, 12, 50, tzinfo=ZoneInfo("UTC"))
"""What the computer's clock says in these tests: five to one on the first day of the solo week."""


def solo_book(folder: Path) -> str:
    """The path of a book with the solo week in it."""
    book_at(folder / "shop.book").close()
    week = write_folder(folder / "solo", {path.name: path.read_bytes() for path in api.week_files(SOLO)})
    shop_book.bring(str(folder / "shop.book"), week, who="Ana", now=NOW)
    return str(folder / "shop.book")


@cache
def solo_plan() -> tuple[WeekInputs, Plan]:
    """The solo week and a plan of it."""
    inputs = api.read_week(SOLO)
    return inputs, quick_plan(api.build_workload(inputs).week)


def quick_plan(week: Week) -> Plan:
    """The first plan the rules make, without any search."""
    return first_plans(week, Decoder(week))[0].decoded.plan


def announced_book(folder: Path) -> str:
    """The same, with a plan of it announced."""
    book = solo_book(folder)
    shop_book.keep_plan(book, shop_book.question(book), solo_plan()[1], who="Ana", now=CLOCK)
    shop_book.announce(book, who="Ana", now=CLOCK)
    return book


def noted(book: str, word: str, about: str = "", at: str = "", who: str = "Ben", **more: object) -> api.Event:
    """Something noted in the book."""
    told = shop_book.Note(word=word, about=about, at=at, who=who, **more)  # type: ignore[arg-type]
    return shop_book.note(book, told, now=CLOCK)


def slow_first_run(book: str) -> str:
    """The first run of the announced plan, noted with a set-up three times as long as planned, and done."""
    told = shop_book.announced_plan(book)
    assert told is not None
    first = min(told.plan.runs, key=lambda one: one.set_up_start_tau)
    begun = shop_book.week_of_plan(told).clock.starts_at(first.set_up_start_tau)
    right = begun + timedelta(minutes=3 * first.set_up_min)
    for word, at in (("start", begun), ("right", right), ("done", right + timedelta(minutes=40))):
        noted(book, word, first.run_id, f"{at:%H:%M}")
    return first.run_id


def planned_again(book: str, now: str) -> tuple[shop_book.Question, Plan, int]:
    """The question from now on, a plan for it, and the number under which the plan is kept."""
    asked = shop_book.question(book, now)
    found = quick_plan(asked.workload.week)
    return asked, found, shop_book.keep_plan(book, asked, found, who="Ana", now=CLOCK)

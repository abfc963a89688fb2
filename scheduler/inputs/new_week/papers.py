"""What lies beside the settings in a new week: the empty orders sheet, an example, burned sets, READ-ME.txt."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from scheduler.inputs.columns import ORDER_COLUMNS, SCREEN_COLUMNS, Column, shown
from scheduler.inputs.new_week.question import Answers
from scheduler.inputs.new_week.settings import open_days

SHEET_HEADINGS = (
    "order", "client", "due", "garment", "shade", "pieces", "location", "inks", "blanks", "art",
    "design", "firm", "press", "carrier", "sizes", "note",
)  # fmt: skip
"""Headings of a new orders sheet; every other one may be added."""

README_WIDTH = 78


def csv_of(rows: Iterable[Sequence[str]], separator: str) -> str:
    """Rows as the text of a CSV file, lines ended by a plain line feed."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows(rows)
    return out.getvalue()


def example_rows(answers: Answers) -> list[dict[str, str]]:
    """Three orders such as one might type: one simple, one with two prints, one that waits for its art."""
    due = _days_on(answers, 3), _days_on(answers, 6)
    soon = _days_on(answers, 1)
    first = {"order": "101", "client": "Example Bakery", "due": due[0], "garment": "natural tote bag", "shade": "light"}
    first |= {"pieces": "60", "location": "front", "inks": "brown", "blanks": "in", "art": "ok"}
    second = {"order": "102", "client": "Example Rowing Club", "due": due[1], "garment": "navy tee", "shade": "dark"}
    second |= {"pieces": "72", "location": "left chest", "inks": "white", "blanks": soon, "art": "ok", "firm": "firm"}
    third = {"order": "103", "client": "Example Choir", "due": due[1], "garment": "white tee", "shade": "light"}
    third |= {"pieces": "48", "location": "front", "inks": "black, red", "blanks": "in", "art": "?"}
    return [
        first | {"design": "loaf"},
        second | {"sizes": "S 12, M 30, L 30", "note": "regatta on Saturday", "design": "crest"},
        second | {"location": "back", "design": "oars"},
        third,
    ]


def _days_on(answers: Answers, days: int) -> str:
    """An open day, so many days after planning starts."""
    day = date.fromisoformat(answers.one("plan_from")[:10]) + timedelta(days=days)
    open_on = {weekday for one in open_days(answers) for weekday in one.weekdays}
    while day.weekday() not in open_on:
        day += timedelta(days=1)
    return day.isoformat()


def sheet_rows(rows: Iterable[dict[str, str]]) -> list[list[str]]:
    """Rows under the headings of a new orders sheet, the headings first."""
    return [[shown(name) for name in SHEET_HEADINGS]] + [[row.get(name, "") for name in SHEET_HEADINGS] for row in rows]


def burned_rows(answers: Answers) -> list[list[str]]:
    """The sheet of screens that hang, its headings first; no more than those where none hang."""
    headings = [shown(one.name) for one in SCREEN_COLUMNS]
    return [headings] + [[design, "burned", "", "", ""] for design in answers.values.get("burned", ())]


def column_note(column: Column) -> str:
    """What a heading means, in one or two sentences."""
    what = f"{column.meaning[:1].upper()}{column.meaning[1:]}. As {column.example}."
    if column.is_needed:
        return f"{what} Needed." if column.name not in ("shade", "inks", "due") else what
    return f"{what} Left empty: {column.default}." if column.default else what


def readme(answers: Answers, place: str) -> str:
    """READ-ME.txt. place: the folder as it is typed in a command."""
    quoted = f'"{place}"' if " " in place else place
    parts = [
        *_opening(answers.one("name"), quoted),
        "ORDERS.CSV: ONE ROW FOR EACH PRINT LOCATION",
        "",
        *_wrapped(
            "Several rows may share an order: its front and its back, or two kinds of garments. Write ? where nobody "
            "knows yet (date, garment, light or dark, pieces, location, inks, blanks, art): the order then waits, with "
            "its reason, and everything else is planned."
        ),
        "",
        *(line for name in SHEET_HEADINGS for line in _column(name)),
        "",
        "HEADINGS YOU MAY ADD",
        "",
        *(line for one in ORDER_COLUMNS if one.name not in SHEET_HEADINGS for line in _column(one.name)),
        "",
        *_closing(quoted),
    ]
    return "\n".join(parts) + "\n"


def _opening(name: str, quoted: str) -> list[str]:
    title = f"A week of {name}"
    return [
        title,
        "=" * len(title),
        "",
        *_wrapped("Next: type your orders into orders.csv (orders-example.csv shows how), then type"),
        "",
        f"    pressweek check {quoted}",
        "",
        *_wrapped("It says what is wrong and where, or what it takes for granted. When that looks right, type"),
        "",
        f"    pressweek plan {quoted} --out plan",
        "",
        *_wrapped("Do you keep your orders in a spreadsheet of your own? Then bring it in as it is:"),
        "",
        f"    pressweek bring YOUR-SHEET.xlsx --into {quoted}",
        "",
    ]


def _closing(quoted: str) -> list[str]:
    return [
        "EVERY WEEK",
        "",
        *_wrapped(
            "In shop.toml set plan_from to the moment planning starts from, what is on each press now and how many "
            "frames hang coated; in screens.csv, if you keep one, the sets that hang burned (design, state: burned or "
            "to reclaim, frame, mesh, screens). Take out what has left the shop and plan again. "
            "Or copy the folder first: headings.toml in it remembers how your own sheet is read."
        ),
        "",
        *_wrapped(
            "Times for flash and cure are start values only: the ink makers' technical and safety data sheets, the "
            "machine manuals, local code and licensed practice win."
        ),
        "",
        *_wrapped(f"All other commands: pressweek --help. This folder in commands: {quoted}"),
    ]


def _column(name: str) -> list[str]:
    column = next(one for one in ORDER_COLUMNS if one.name == name)
    return textwrap.wrap(
        f"{shown(name):<13}{column_note(column)}", README_WIDTH, subsequent_indent=" " * 13, break_on_hyphens=False
    )


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, README_WIDTH, break_on_hyphens=False, break_long_words=False)

"""Sheets as HTML: black on white, A4 or Letter as the printer has it, all that people typed kept apart and escaped.

Typed texts stand in their own direction (right to left ones too) and lose only what steers a printer or a reader.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from scheduler.papers import words
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.sheet import Cell, Sheet
from scheduler.papers.text import harmless

LONG_FROM = 60
"""Letters from which a name is set smaller, so that it leaves room for what has to be read at the press."""

TEMPLATES = Path(__file__).parent.parent / "templates"


def render(template: str, ground: Ground, *, title: str, **values: Any) -> str:
    """A sheet from its template; what stands on every sheet is added here."""
    return (
        _environment()
        .get_template(template)
        .render(
            title=title,
            shop_name=ground.inputs.shop.name,
            planned_at=ground.week.clock.now,
            printed_at=ground.printed_at,
            plan_name=ground.plan_name,
            units=ground.units,
            long_from=LONG_FROM,
            **values,
        )
    )


def typed(text: object) -> Markup:
    """What somebody typed: in its own direction, so that it cannot turn its neighbours round."""
    return Markup('<bdi dir="auto">{}</bdi>').format(harmless(str(text)))


def cell_html(cell: Cell) -> Markup:
    """A cell of a list: moments in words, a line for each line of the text, kept from turning its neighbours round."""
    if isinstance(cell, datetime):
        return Markup(escape(words.day_and_time(cell)))
    lines = str("" if cell is None else cell).split("\n")
    # Words of ours and theirs stand in one line: it runs left to right, so that a number stays where it is read.
    return Markup("<br>").join(Markup('<bdi dir="ltr">{}</bdi>').format(harmless(line)) for line in lines)


def list_pages(ground: Ground, title: str, sheets: Sequence[Sheet]) -> str:
    """Sheets of lists as one file; each starts on a new page."""
    return render("floor_lists.html", ground, title=title, sheets=sheets)


def _finalized(value: object) -> object:
    """Texts without control and direction marks; markup of ours stays."""
    return harmless(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _from_to(start: Any, end: Any) -> str:
    return f"{start:%H:%M} to {words.until(start, end)}"


@cache
def _environment() -> Environment:
    """Templates with escaping on and unknown names refused."""
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_finalized,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {
        "typed": typed,
        "cell": cell_html,
        "day_and_time": words.day_and_time,
        "long_day": words.long_day,
        "minutes": words.minutes,
        "listed": words.listed,
        "escaped": escape,
    }
    environment.globals |= {"until": words.until, "counted": words.counted, "from_to": _from_to}
    return environment

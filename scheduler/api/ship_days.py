"""Days to say, dates for orders not taken yet, and the page a client sees."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.domain.answers import Answer
    from scheduler.domain.what_if import WhatIf
    from scheduler.papers.client_page import ClientView
    from scheduler.papers.text import Section
    from scheduler.promise import Promise
    from scheduler.shipping import Outlook


def outlook(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    confidence: float = 0.8,
    replays: int = 2000,
    seed: int = 1,
    with_slips: bool = True,
) -> Outlook:
    """The day to say for every planned order, from living the plan through many times."""
    from scheduler.shipping import outlook as lived

    return lived(inputs, week, plan, confidence=confidence, replays=replays, seed=seed, with_slips=with_slips)


def outlook_report(found: Outlook) -> tuple[str, tuple[Section, ...]]:
    """The days to say in one sentence, and as a table."""
    from scheduler.shipping import opening, sections

    return opening(found), sections(found)


def outlook_figures(found: Outlook) -> dict[str, Any]:
    """The days to say in figures for other programs."""
    from scheduler.shipping import figures as figures_of

    return figures_of(found)


def outlook_basis(found: Outlook) -> str:
    """What the odds of an outlook rest on, in a sentence."""
    from scheduler.papers.odds import basis

    return basis(found.chances)


def promise(
    inputs: WeekInputs,
    plan: Plan,
    asked: Sequence[WhatIf],
    settings: SearchSettings,
    *,
    confidence: float = 0.8,
    on_answer: Callable[[Answer], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Promise:
    """The date for an order not taken yet, `asked` as one rush. Raises InputError where it is anything else."""
    from scheduler.promise import promise as find
    from scheduler.promise import rush_of

    rush = rush_of(list(asked))
    return find(inputs, plan, rush, settings, confidence=confidence, on_answer=on_answer, stop=stop)


def promise_report(found: Promise, *, currency: str = "") -> tuple[str, tuple[Section, ...]]:
    """The date in a sentence, and every way to take the order side by side."""
    from scheduler.promise import opening, sections

    return opening(found), sections(found, currency)


def promise_figures(found: Promise) -> dict[str, Any]:
    """The ways to take an order in figures for other programs."""
    from scheduler.promise import figures as figures_of

    return figures_of(found)


def client_view(inputs: WeekInputs, week: Week, plan: Plan, order_id: str, *, confidence: float = 0.8) -> ClientView:
    """One order as its client may see it. Raises InputError for an order that is not in the week."""
    return client_view_of(inputs, week, plan, order_id, outlook(inputs, week, plan, confidence=confidence))


def client_view_of(inputs: WeekInputs, week: Week, plan: Plan, order_id: str, found: Outlook) -> ClientView:
    """One order as its client may see it, with the day from an outlook that is known already."""
    from scheduler.shipping import view_for_client

    day = next((day for day in found.days if day.order_id == order_id), None)
    return view_for_client(inputs, week, plan, order_id, day)


def client_html(view: ClientView) -> str:
    """A client's page as it would be written."""
    from scheduler.papers.client_page import client_html as html_of

    return html_of(view)


def client_file(order_id: str) -> str:
    """The name of a client's page: safe on every system, and another for every order."""
    from scheduler.papers.text import file_stem

    return f"order-{file_stem(order_id)}.html"


def write_client_page(folder: Path, view: ClientView) -> tuple[Path, ...]:
    """A client's page and the day as a calendar file, written into a folder; the files written."""
    from scheduler.shipping import write_client_page as write

    return write(folder, view)

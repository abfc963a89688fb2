"""The papers for the floor: made from a week and a plan, handed out as files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.papers.floor.files import Paper, floor_papers
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.pdf import NoPdfError, page_pdf
from scheduler.questions import chase_list, joint_week
from scheduler.safe_files import write_bytes


def make_papers(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    units: str | None = None,
    size: str | None = None,
    with_pdf: bool = False,
    printed_at: datetime | None = None,
) -> tuple[Paper, ...]:
    """Every paper of a plan, with the pages as PDF too where that is asked for.

    units, size: instead of the shop's own settings. printed_at: None for now. Raises InputError where PDF cannot be
    made on this machine.
    """
    shop = inputs.shop
    paper = replace(shop.paper, units=units or shop.paper.units, size=size or shop.paper.size)
    typed = replace(inputs, shop=replace(shop, paper=paper))
    ground = Ground(
        inputs=typed,
        week=joint_week(inputs, week, plan),
        plan=plan,
        printed_at=(printed_at or datetime.now(week.clock.now.tzinfo)).astimezone(week.clock.now.tzinfo),
        chase=chase_list(inputs, week, plan),
    )
    found = floor_papers(ground)
    return (*found, *(_as_pdf(one, paper.size) for one in found if one.is_page)) if with_pdf else found


def write_papers(folder: Path, papers: Sequence[Paper]) -> tuple[Path, ...]:
    """The papers in a folder, each file whole or not at all. Raises InputError where it cannot be written."""
    for one in papers:
        write_bytes(folder / one.name, one.content)
    return tuple(folder / one.name for one in papers)


def _as_pdf(page: Paper, size: str) -> Paper:
    try:
        content = page_pdf(page.content.decode(), size)
    except NoPdfError as fault:
        problem = Problem(
            file=page.name,
            code="no_pdf",
            message="cannot be made into PDF here",
            hint=str(fault),
        )
        raise InputError((problem,)) from fault
    return Paper(name=page.name.removesuffix(".html") + ".pdf", what=f"{page.what} (PDF)", content=content)

"""The papers for the floor: made from a week and a plan, handed out as files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.papers.floor.files import WORKBOOK, Paper, each_floor_paper
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.pdf import NoPdfError, page_pdf
from scheduler.questions import chase_list, joint_week
from scheduler.safe_files import cannot_write, write_bytes


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
    found = tuple(each_paper(inputs, week, plan, units=units, size=size, printed_at=printed_at))
    paper_size = size or inputs.shop.paper.size
    return (*found, *(_as_pdf(one, paper_size) for one in found if one.is_page)) if with_pdf else found


def each_paper(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    units: str | None = None,
    size: str | None = None,
    printed_at: datetime | None = None,
) -> Iterator[Paper]:
    """Every paper of a plan, each made when it is asked for. Raises InputError where there is no room to make one."""
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
    try:
        yield from each_floor_paper(ground)
    except OSError as fault:  # a workbook goes through a file of its library's own
        raise cannot_write(Path(WORKBOOK), fault) from fault


def write_papers(folder: Path, papers: Iterable[Paper]) -> tuple[Path, ...]:
    """The papers in a folder, each file whole or not at all. Raises InputError where it cannot be written."""
    written = []
    for one in papers:
        write_bytes(folder / one.name, one.content)
        written.append(folder / one.name)
    return tuple(written)


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

"""Everything that leaves as a file: plan folder and floor papers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.inputs.plan_document import PlanFacts
    from scheduler.papers.chase_list import ChaseRow
    from scheduler.papers.floor.files import Paper


def make_folder(folder: Path) -> None:
    """The folder stands and can be written to. Raises InputError with one sentence where it cannot."""
    from scheduler.safe_files import make_folder as make

    make(folder)


def write_plan_folder(
    folder: Path,
    week: Week,
    plan: Plan,
    facts: PlanFacts,
    *,
    clients: Mapping[str, str] | None = None,
    chase: Sequence[ChaseRow] = (),
) -> tuple[Path, ...]:
    """A plan and its lists, each file whole or not at all; plan.json last, so it stands for a full set.

    Returns the files written. Raises InputError where the folder cannot be written.
    """
    from scheduler.inputs.plan_files import write_plan
    from scheduler.papers import chase_list, csv_files, roster_table, screen_tables, station_tables, tables
    from scheduler.safe_files import write_text

    roster = roster_table.roster_rows(week, plan)
    visits = station_tables.station_rows(week, plan)
    sheets = {
        "press-queue.csv": csv_files.press_queue_csv(tables.press_queue(week, plan)),
        "screens.csv": csv_files.screens_csv(screen_tables.screen_rows(week, plan)),
        "orders.csv": csv_files.orders_csv(tables.order_rows(week, plan, clients)),
        "carts.csv": csv_files.staging_csv(tables.staging_rows(week, plan)),
        **({"stations.csv": station_tables.stations_csv(visits)} if visits else {}),
        **({"roster.csv": csv_files.roster_csv(roster)} if roster else {}),
        **({"chase.csv": chase_list.chase_csv(chase)} if chase else {}),
    }
    for name, text in sheets.items():
        write_text(folder / name, text, encoding=csv_files.ENCODING)
    write_plan(folder / "plan.json", week, plan, facts)
    return tuple(folder / name for name in [*sheets, "plan.json"])


def floor_papers(
    inputs: WeekInputs,
    week: Week,
    plan: Plan,
    *,
    units: str | None = None,
    size: str | None = None,
    with_pdf: bool = False,
    printed_at: datetime | None = None,
) -> tuple[Paper, ...]:
    """Everything that hangs on the floor: sheets, lists, a workbook, calendars. units, size: the shop's own if None.

    Raises InputError where PDF is asked for and cannot be made on this machine.
    """
    from scheduler.floor_papers import make_papers

    return make_papers(inputs, week, plan, units=units, size=size, with_pdf=with_pdf, printed_at=printed_at)


def each_floor_paper(inputs: WeekInputs, week: Week, plan: Plan) -> Iterator[Paper]:
    """The same one after the other, by the shop's own units and size of paper, each made when it is asked for."""
    from scheduler.floor_papers import each_paper

    return each_paper(inputs, week, plan)


def can_make_pdf() -> bool:
    """True where pages can be made into PDF on this machine."""
    from scheduler.papers.floor.pdf import is_there

    return is_there()


def write_floor_papers(folder: Path, papers: Iterable[Paper]) -> tuple[Path, ...]:
    """The papers in a folder; the files written. Raises InputError where they cannot be."""
    from scheduler.floor_papers import write_papers

    return write_papers(folder, papers)

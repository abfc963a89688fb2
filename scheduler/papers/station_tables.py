"""Who is at which station when: orders worked on beside the presses, and orders sent out for days."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.csv_files import csv_text
from scheduler.papers.text import Line, Section
from scheduler.papers.words import day_and_time, until


@dataclass(frozen=True, slots=True, kw_only=True)
class StationRow:
    """A visit of an order to a station. is_sent_out: it leaves at the start and is back at the end."""

    station: str
    order_id: str
    client: str
    pieces: int
    start_at: datetime
    end_at: datetime
    is_before: bool
    is_sent_out: bool

    @property
    def when(self) -> str:
        """Before or after its prints."""
        return "before printing" if self.is_before else "after printing"


def station_rows(week: Week, plan: Plan) -> tuple[StationRow, ...]:
    """Every visit, station by station, in order of time; empty where no order goes anywhere."""
    clock = week.clock
    place = {station.station_id: number for number, station in enumerate(week.stations)}
    found = []
    for packed in plan.orders:
        order = week.order[packed.order_id]
        runs = [week.run[run_id] for run_id in order.run_ids if run_id in week.run]
        lots = {part.lot_id: part.pieces for run in runs for part in run.parts}
        for step, visit in zip(order.stations, packed.stations, strict=False):
            row = StationRow(
                station=week.station[visit.station_id].name,
                order_id=order.order_id,
                client=order.client,
                pieces=sum(lots.values()),
                start_at=clock.starts_at(visit.start_tau),
                end_at=clock.ends_at(visit.end_tau),
                is_before=step.is_before,
                is_sent_out=step.is_sent_out,
            )
            found.append((place[visit.station_id], visit.start_tau, order.order_id, row))
    return tuple(row for *_, row in sorted(found, key=lambda one: one[:3]))


def stations_section(rows: Iterable[StationRow]) -> Section | None:
    """The visits in the report; None without any."""
    lines = [
        Line(
            cells=(
                row.station,
                day_and_time(row.start_at),
                until(row.start_at, row.end_at),
                row.order_id,
                row.client,
                str(row.pieces),
                row.when,
            )
        )
        for row in rows
    ]
    if not lines:
        return None
    return Section(
        title="Other stations",
        headings=("station", "from", "until", "order", "client", "pieces", "when"),
        lines=tuple(lines),
        right=frozenset({5}),
    )


def stations_csv(rows: Iterable[StationRow]) -> str:
    """The visits as a table."""
    return csv_text(
        ("station", "start", "done at", "order", "client", "pieces", "when", "sent out"),
        [
            (
                row.station,
                row.start_at,
                row.end_at,
                row.order_id,
                row.client,
                row.pieces,
                row.when,
                "yes" if row.is_sent_out else "no",
            )
            for row in rows
        ],
    )

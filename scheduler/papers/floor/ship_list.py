"""What leaves by which pick-up, what goes to other stations, and whom to ring: the lists of the desk."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from scheduler.papers.cautions import station_cautions
from scheduler.papers.chase_list import EXPLAINED, ChaseRow
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.sheet import Sheet, Table
from scheduler.papers.station_tables import station_rows
from scheduler.papers.tables import OrderRow, order_rows
from scheduler.papers.words import day_and_time


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaving:
    """An order that is packed, and the pick-up it leaves by."""

    pick_up_at: datetime
    carrier: str
    row: OrderRow


def leavings(ground: Ground) -> tuple[Leaving, ...]:
    """Every firm order that is planned, pick-up by pick-up."""
    default = ground.inputs.shop.defaults.carrier
    found = [
        Leaving(
            pick_up_at=row.leaves_at,
            carrier=(ground.order[row.order_id].carrier or default) if row.order_id in ground.order else default,
            row=row,
        )
        for row in order_rows(ground.week, ground.plan)
        if row.leaves_at is not None and row.state == "planned"
    ]
    return tuple(sorted(found, key=lambda one: (one.pick_up_at, one.carrier, one.row.packed_at, one.row.order_id)))


def ship_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """A table for each pick-up: what must stand there by when."""
    found = leavings(ground)
    pick_ups = list(dict.fromkeys((one.pick_up_at, one.carrier) for one in found))
    tables = tuple(
        Table(
            kind="leaving",
            title=f"{day_and_time(at)}, {carrier}",
            headings=("order", "client", "pieces", "ready to leave", "must leave", "late"),
            rows=tuple(
                (
                    one.row.order_id,
                    one.row.client,
                    one.row.pieces,
                    one.row.packed_at,
                    one.row.must_leave_at,
                    one.row.late,
                )
                for one in found
                if (one.pick_up_at, one.carrier) == (at, carrier)
            ),
            widths=((0, 22), (2, 16), (3, 34), (4, 34), (5, 28)),
            right=frozenset({2}),
            bold=frozenset({0}),
            marks=frozenset({5}),
            blanks=(("boxes", 14),),
        )
        for at, carrier in pick_ups
    )
    return (Sheet(title="What leaves when", tables=tables),) if tables else ()


def chase_sheets(rows: Iterable[ChaseRow]) -> tuple[Sheet, ...]:
    """Whom to ring, most urgent first; none where nothing is missing."""
    listed = tuple(
        (
            "at once" if (row.needed_at or row.latest_at) is None else (row.needed_at or row.latest_at),
            f"{row.order_id}\n{row.client}",
            row.missing
            + (f"\nexpected {day_and_time(row.expected_at).removesuffix(' 00:00')}" if row.expected_at else ""),
            row.ring,
            row.holds_up,
            "\n".join(part for part in (row.why, row.note) if part),
        )
        for row in rows
    )
    table = Table(
        kind="whom to ring",
        headings=("by when", "order", "what is missing", "ring", "what it holds up", "to know"),
        rows=listed,
        widths=((0, 22), (1, 28), (3, 17), (4, 38)),
        bold=frozenset({0}),
        blanks=(("answer", 18),),
    )
    return (Sheet(title="Whom to ring", said=(EXPLAINED,), tables=(table,)),) if listed else ()


def station_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """A table for each station beside the presses: which order is there when, or away until when."""
    tables = tuple(
        Table(
            kind="other stations",
            title=station,
            headings=("from", "until", "order", "client", "pieces", "when"),
            rows=tuple(
                (
                    one.start_at,
                    f"away until {day_and_time(one.end_at)}" if one.is_sent_out else day_and_time(one.end_at),
                    one.order_id,
                    one.client,
                    one.pieces,
                    one.when,
                )
                for one in own
            ),
            widths=((0, 32), (1, 34), (2, 22), (4, 16), (5, 32)),
            right=frozenset({4}),
            bold=frozenset({0, 2}),
        )
        for station, own in groupby(station_rows(ground.week, ground.plan), key=lambda row: row.station)
    )
    return (Sheet(title="Other stations", tables=tables, cautions=station_cautions()),) if tables else ()

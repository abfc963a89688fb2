"""The tables of a plan as CSV text for spreadsheets.

Written as UTF-8 with a byte order mark (encoding "utf-8-sig"), because spreadsheets take accents for rubbish without
one. A text cell that starts with =, +, -, @, a tab or a carriage return gets an apostrophe in front: a spreadsheet
would run it as a formula, and these texts come from whoever wrote the order. Moments are local time, as
2026-03-02 07:00.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import datetime

from scheduler.papers.roster_table import RosterRow
from scheduler.papers.screen_tables import ScreenRow
from scheduler.papers.tables import OrderRow, QueueRow, StagingRow, garments_text, heads_text, kept_text

ENCODING = "utf-8-sig"
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")

Cell = str | int | datetime | None


def press_queue_csv(rows: Iterable[QueueRow]) -> str:
    """Every press's queue: one line per run, in the order they are set up."""
    headings = (
        "press", "number", "stage at", "set up at", "set up min", "print at", "done at", "order", "client", "design",
        "location", "garments", "pieces", "heads", "kept inks", "flash", "pallet", "dryer", "rate pcs/h", "print min",
        "after printing", "what changes", "screens", "late", "reason", "pencilled", "batches", "run",
    )  # fmt: skip
    return csv_text(
        headings,
        [
            (
                row.press_name, row.number, row.stage_at, row.set_up_at, row.set_up_min, row.print_at, row.end_at,
                row.order_id, row.client, row.design, row.location, garments_text(row), row.pieces, heads_text(row),
                kept_text(row), row.flash, row.pallet, row.dryer,
                row.rate_pcs_h, row.print_min, row.wash_up, "; ".join(row.changes), row.screens, row.late, row.reason,
                row.pencilled, row.batches, row.run_id,
            )
            for row in rows
        ],
    )  # fmt: skip


def screens_csv(rows: Iterable[ScreenRow]) -> str:
    """The screen room's work in the order it starts: coat, burn, tape, reclaim, each with when it is needed."""
    headings = (
        "what", "start", "done at", "needed by", "design", "screens", "frames", "what they print", "dry at", "order",
        "location", "press", "note", "run",
    )  # fmt: skip
    return csv_text(
        headings,
        [
            (
                row.what, row.start_at, row.end_at, row.needed_by, row.design, row.screens, row.frames,
                prints_text(row), row.dry_at, row.order_id, row.location, row.press_name, row.note, row.run_id,
            )
            for row in rows
        ],
    )  # fmt: skip


def orders_csv(rows: Iterable[OrderRow]) -> str:
    """Orders: late ones first, what is not planned last."""
    headings = (
        "order", "client", "firm", "pieces", "locations", "must leave", "ready to leave", "leaves", "late days",
        "late", "planned", "why",
    )  # fmt: skip
    return csv_text(
        headings,
        [
            (
                row.order_id, row.client, row.firmness, row.pieces or None, row.locations, row.must_leave_at,
                row.packed_at, row.leaves_at, row.late_days if row.packed_at else None, row.late, row.state, row.why,
            )
            for row in rows
        ],
    )  # fmt: skip


def staging_csv(rows: Iterable[StagingRow]) -> str:
    """Carts to stage, in order."""
    headings = (
        "start", "done at", "needed by", "press", "order", "client", "location", "garments", "screens", "inks",
        "pallet", "run",
    )  # fmt: skip
    return csv_text(
        headings,
        [
            (
                row.start_at, row.end_at, row.needed_at, row.press_name, row.order_id, row.client, row.location,
                row.garments, row.screens, row.inks, row.pallet, row.run_id,
            )
            for row in rows
        ],
    )  # fmt: skip


def roster_csv(rows: Iterable[RosterRow]) -> str:
    """Who does what when, by name."""
    return csv_text(
        ("person", "start", "until", "role", "where", "doing", "run or order"),
        [(row.person, row.start_at, row.end_at, row.role, row.place, row.activity, row.run_or_order) for row in rows],
    )


def prints_text(row: ScreenRow) -> str:
    """What each screen of a set prints: "white base 156, red 230"."""
    return ", ".join(f"{text} {mesh}" if mesh else text for text, mesh, _ in row.prints)


def csv_text(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A table as CSV: comma, quotes where needed, lines ending as spreadsheets expect them."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(headings)
    writer.writerows([cell_text(cell) for cell in row] for row in rows)
    return out.getvalue()


def cell_text(cell: Cell) -> str:
    """One cell: numbers and moments as they are, text kept from being run as a formula."""
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return f"{cell:%Y-%m-%d %H:%M}"
    if isinstance(cell, int):
        return str(cell)
    return f"'{cell}" if cell.startswith(FORMULA_STARTS) else cell

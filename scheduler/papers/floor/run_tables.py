"""What stands on the press sheets as tables, for the workbook: runs, their garments, heads, what comes off, checks."""

from __future__ import annotations

from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.press_sheets import PressSheet, press_sheets
from scheduler.papers.floor.sheet import Cell, Sheet, Table

RUN_HEADINGS = (
    "press", "number", "order", "client", "location", "design", "mock-up", "note", "pieces", "set up at", "set-up min",
    "print at", "print min", "done at", "pieces/h", "pallet", "dryer", "ink film", "s in the tunnel", "belt", "mix",
    "late", "why now",
)  # fmt: skip
HEAD_HEADINGS = ("head", "print order", "prints", "ink", "family", "mesh", "frame", "hits", "flash s", "to do")


def run_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """A sheet of tables for every run."""
    return tuple(
        _tables(ground, sheet) for press in ground.week.presses for sheet in press_sheets(ground, press.press_id)
    )


def _tables(ground: Ground, sheet: PressSheet) -> Sheet:
    row = sheet.row
    return Sheet(
        title=f"{row.press_name} {row.number}: {row.order_id} {row.location}",
        tables=(
            Table(kind="runs", headings=RUN_HEADINGS, rows=(_run(ground, sheet),)),
            Table(
                kind="runs, garments",
                headings=("garment", "sizes", "pieces", "ordered", "spares", "print min", "to know"),
                rows=tuple(
                    (one.garment, one.sizes, one.pieces, one.ordered, one.spares, one.print_min, one.note)
                    for one in sheet.garments
                ),
            ),
            Table(
                kind="runs, heads",
                headings=HEAD_HEADINGS,
                rows=tuple(
                    (
                        one.head, one.number, one.prints, one.ink, one.family, one.mesh, one.frame,
                        one.hits if one.number else None, "" if one.flash_s is None else f"{one.flash_s:g}", one.to_do,
                    )
                    for one in sheet.heads
                ),
            ),
            Table(
                kind="runs, what comes off",
                headings=("head", "screen of the run before", "ink", "its screen", "its ink"),
                rows=tuple(
                    (one.head, one.prints, one.ink, "comes off" if one.screen_comes_off else "stays", one.to_do)
                    for one in sheet.off
                ),
            ),
            Table(
                kind="runs, checks",
                headings=("due",),
                rows=tuple((due,) for due in sheet.checks) if sheet.dryer else (),
                blanks=tuple((name, 20) for name in CHECKED),
            ),
        ),
    )  # fmt: skip


CHECKED = ("exit, left", "exit, middle", "exit, right", "stretch, middle", "stretch, corners", "who")
"""What is written down at every check."""


def _run(ground: Ground, sheet: PressSheet) -> tuple[Cell, ...]:
    row, dryer, units = sheet.row, sheet.dryer, ground.units
    return (
        row.press_name, row.number, row.order_id, row.client, row.location, row.design, sheet.mock_up, sheet.note,
        row.pieces, row.set_up_at, row.set_up_min, row.print_at, row.print_min, row.end_at, row.rate_pcs_h, row.pallet,
        dryer.name if dryer else "", units.temperature(dryer.temperature_f) if dryer else "",
        dryer.tunnel_s if dryer else None, units.belt_speed(dryer.speed_in_min) if dryer else "", row.batches,
        "; ".join(one for one in (row.late, row.pencilled) if one), row.reason,
    )  # fmt: skip

"""Imprints: what the rows of one order say of one design at one location."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from scheduler.domain.orders import Imprint, Ink, Lot
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.cells import PressWish
from scheduler.inputs.columns import shown
from scheduler.inputs.faults import key_of
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.typed_rows import TypedRow

OF_IMPRINT = (
    "inks", "art", "press", "mesh", "family", "width", "height", "coverage", "mock_up", "frame", "pallet",
    "print_after", "between", "split", "split_sets", "approval", "base", "rate", "run", "set_up",
    "lock_press", "lock_at",
)  # fmt: skip


def read_imprint(
    sheet: OrdersSheet, order_id: str, location: str, design: str, rows: Sequence[TypedRow], lots: Mapping[str, Lot]
) -> Imprint:
    """One imprint from its rows; design "" where none is named. lots: the order's, by garment key."""
    where = f"{order_id} {location}"
    known = sheet.table.merged(rows, OF_IMPRINT, f"order {order_id}, {location}")
    if not design:
        sheet.assumed.add("design", "design named after its order and location", "prints", where)
    if "art" not in known and not sheet.table.is_faulty(rows, "art"):
        sheet.table.missing(rows[0], "art")
    art: Arrival = known.get("art", Arrival())
    sheet.note_arrival(rows, "art", art, where)
    wish: PressWish = known.get("press", PressWish())
    _check_wishes(sheet, rows, known, wish)
    design_id = sheet.spelled_design(design) if design else where
    return Imprint(
        order_id=order_id,
        location=location,
        design_id=design_id,
        inks=_inks(sheet, rows, known, design_id, where),
        lot_ids=tuple(lots[key_of(row.values["garment"])].lot_id for row in rows),
        art_at=art.at,
        is_waiting_for_art=art.is_waiting,
        with_base=known.get("base"),
        width_in=known.get("width"),
        height_in=known.get("height"),
        coverage_pct=known.get("coverage"),
        mock_up=known.get("mock_up", ""),
        frame_size=known.get("frame"),
        pallet=known.get("pallet"),
        presses=wish.allowed,
        preferred=wish.preferred,
        never=wish.never,
        stated_pcs_h=known.get("rate"),
        stated_run_min=known.get("run"),
        stated_set_up_min=known.get("set_up"),
        print_after=known.get("print_after", ()),
        between_min=known.get("between"),
        approval_at_press=known.get("approval", False),
        lock_press=known.get("lock_press"),
        lock_at=known.get("lock_at"),
        note=joined_notes(rows),
        source_row=rows[0].number,
    )


def joined_notes(rows: Sequence[TypedRow]) -> str:
    """Every different note of these rows, once."""
    return "; ".join(dict.fromkeys(row.values["note"] for row in rows if "note" in row.values))


def _inks(
    sheet: OrdersSheet, rows: Sequence[TypedRow], known: Mapping[str, Any], design_id: str, where: str
) -> tuple[Ink, ...]:
    """The inks typed, or the design's, with family and meshes."""
    inks: tuple[Ink, ...] = known.get("inks", ())
    if not inks and not sheet.table.is_faulty(rows, "inks"):
        remembered = sheet.designs.get(key_of(design_id))
        inks = remembered.inks if remembered else ()
        if inks:
            sheet.assumed.add("inks", "inks taken from the design", "prints", where)
        elif sheet.table.is_untold(rows, "inks"):
            sheet.note_untold(rows[0].values["order"], f"inks not told yet: {rows[0].values['location']}")
        else:
            sheet.table.missing(rows[0], "inks")
    if inks and sheet.shop is not None and "family" not in known and not sheet.table.is_faulty(rows, "family"):
        sheet.assumed.add("family", f"{sheet.shop.shop.defaults.family} ink assumed", "prints", where)
    return tuple(
        replace(ink, family=known.get("family"), mesh=mesh)
        for ink, mesh in zip(inks, _meshes(sheet, rows, known, len(inks)), strict=True)
    )


def _meshes(
    sheet: OrdersSheet, rows: Sequence[TypedRow], known: Mapping[str, Any], inks: int
) -> tuple[int | None, ...]:
    """One mesh per ink; a single one is meant for all."""
    meshes: tuple[int, ...] = known.get("mesh", ())
    if inks and len(meshes) not in (0, 1, inks):
        row = next(row for row in rows if "mesh" in row.values)
        message = f"{len(meshes)} meshes are given for {inks} {'ink' if inks == 1 else 'inks'}"
        sheet.table.fault(row, "mesh", "mesh_count", message, "write one for all, or one per ink in print order")
    return meshes if len(meshes) == inks else (meshes[0] if meshes else None,) * inks


def _check_wishes(sheet: OrdersSheet, rows: Sequence[TypedRow], known: Mapping[str, Any], wish: PressWish) -> None:
    """Note wishes for one print that cannot both be kept."""
    if "rate" in known and "run" in known:
        row = next(row for row in rows if "run" in row.values)
        message = "both a rate and a time for the whole run are given"
        sheet.table.fault(row, "run", "rate_and_run", message, f"keep {shown('rate')} or {shown('run')}, not both")
    locked = known.get("lock_press")
    if locked and (locked in wish.never or (wish.allowed and locked not in wish.allowed)):
        row = next(row for row in rows if "lock_press" in row.values)
        message = f"it is locked to {locked}, which the press cell refuses"
        sheet.table.fault(row, "lock_press", "lock_refused", message, "correct press or lock press")

"""Lots: what the rows of one order say of one kind of garment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from scheduler.domain.orders import Lot
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.faults import quoted
from scheduler.inputs.garment_words import TEE, kind_of, shade_of
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.sizes import pieces_in
from scheduler.inputs.typed_rows import TypedRow

OF_LOT = ("shade", "pieces", "blanks", "kind", "counted", "from_client", "sizes")

LOT_HINT = "write the same in both, leave this one empty, or name the garments differently"


def read_lot(sheet: OrdersSheet, order_id: str, rows: Sequence[TypedRow]) -> Lot:
    """One lot from its rows; with stand-ins where a fault was noted."""
    garment = rows[0].values["garment"]
    lot_id = f"{order_id} {garment}"
    known = sheet.table.merged(rows, OF_LOT, f"order {order_id}, {garment}", hint=LOT_HINT)
    for column in ("pieces", "blanks"):
        if column not in known and not sheet.table.is_faulty(rows, column):
            _tell_gap(sheet, rows, column, f"pieces not told yet: {garment}", lot_id)
    arrival: Arrival = known.get("blanks", Arrival())
    sheet.note_arrival(rows, "blanks", arrival, lot_id)
    _check_sizes(sheet, rows, known)
    if "counted" not in known:
        text = "pieces taken as ordered: nothing says they were counted in"
        sheet.assumed.add("counted", text, "garment lots", lot_id)
    return Lot(
        lot_id=lot_id,
        order_id=order_id,
        garment=garment,
        kind=known.get("kind") or _kind(sheet, garment, lot_id),
        shade=known.get("shade") or _shade(sheet, rows, garment, lot_id),
        pieces=known.get("pieces", 1),
        is_counted=known.get("counted", False),
        from_client=known.get("from_client", False),
        blanks_at=arrival.at,
        is_waiting=arrival.is_waiting,
        sizes=known.get("sizes", ""),
        source_row=rows[0].number,
    )


def _tell_gap(
    sheet: OrdersSheet, rows: Sequence[TypedRow], column: str, untold: str, lot_id: str, hint: str = ""
) -> None:
    """A cell nobody filled is a fault; one that says "?" makes the order wait."""
    if sheet.table.is_untold(rows, column):
        sheet.note_untold(rows[0].values["order"], untold)
        sheet.untold_lots.add(lot_id)
    else:
        sheet.table.missing(rows[0], column, hint=hint)


def _kind(sheet: OrdersSheet, garment: str, lot_id: str) -> str:
    """Garment kind from the words; a tee if they name none."""
    kind = kind_of(garment)
    text = f"read as {kind} from the garment's words" if kind else f"taken as {TEE}: the garment's words name no kind"
    sheet.assumed.add("garment_kind", text, "garment lots", lot_id)
    return kind or TEE


def _shade(sheet: OrdersSheet, rows: Sequence[TypedRow], garment: str, lot_id: str) -> str:
    """Light or dark from colour words; a fault where they do not tell."""
    shade = shade_of(garment)
    if sheet.table.is_faulty(rows, "shade"):
        return shade or "light"
    if shade is None:
        hint = f"write light or dark: {quoted(garment)} does not tell"
        _tell_gap(sheet, rows, "shade", f"light or dark not told yet: {garment}", lot_id, hint)
        return "light"
    sheet.assumed.add("shade", f"read as {shade} from the garment's colour", "garment lots", lot_id)
    return shade


def _check_sizes(sheet: OrdersSheet, rows: Sequence[TypedRow], known: Mapping[str, Any]) -> None:
    """Sizes that can be read add up to the pieces."""
    sizes, pieces = known.get("sizes"), known.get("pieces")
    if sizes is None or pieces is None:
        return
    row = next(row for row in rows if "sizes" in row.values)
    total = pieces_in(sizes)
    if total is None:
        message, hint = f"{quoted(sizes)} cannot be added up", "write it as S 20, M 60, L 64"
        sheet.table.faults.warn(sheet.table.place(row, "sizes"), "sizes_unread", message, hint, sizes)
    elif total != pieces:
        message = f"{quoted(sizes)} makes {total} pieces, not {pieces}"
        sheet.table.fault(row, "sizes", "sizes_do_not_sum", message, "correct the sizes or the pieces")

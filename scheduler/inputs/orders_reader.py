"""Orders: rows of the one sheet to orders, lots and imprints.

Same order and garment: one lot. Same order, location and design: one imprint on several lots. What several rows say of
one order, lot or imprint must agree; a cell left empty takes what another row of it says.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from scheduler.domain.orders import Imprint, Lot, Order
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.faults import key_of
from scheduler.inputs.lots_reader import read_lot
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.print_order import check_print_order
from scheduler.inputs.prints_reader import joined_notes, read_imprint
from scheduler.inputs.shop_people import UNREAD_DAY
from scheduler.inputs.splitting import checked_split, cut_lots
from scheduler.inputs.typed_rows import TypedRow

OF_ORDER = ("client", "due", "in_hands", "firm", "carrier", "late", "finish", "before", "after", "deposit")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrdersRead:
    """What the orders sheet holds.

    in_doubt: keys of orders some rows of which could not be placed, "" if a row names no order: what seems to be
    missing there may stand in such a row.
    """

    orders: tuple[Order, ...] = ()
    lots: tuple[Lot, ...] = ()
    imprints: tuple[Imprint, ...] = ()
    in_doubt: frozenset[str] = frozenset()


def read_orders(sheet: OrdersSheet) -> OrdersRead:
    """Group the rows. Contradictions, gaps and repetitions are noted as faults."""
    by_order: dict[str, list[TypedRow]] = {}
    in_doubt: set[str] = set()
    for row in sheet.table.rows:
        if "order" in row.values:
            by_order.setdefault(key_of(row.values["order"]), []).append(row)
            continue
        in_doubt.add("")
        if "order" not in row.faulty:
            sheet.table.missing(row, "order")
    return _joined([_order_with_all(sheet, rows) for rows in by_order.values()], in_doubt)


def _joined(found: Sequence[OrdersRead], in_doubt: Iterable[str]) -> OrdersRead:
    return OrdersRead(
        orders=tuple(order for one in found for order in one.orders),
        lots=tuple(lot for one in found for lot in one.lots),
        imprints=tuple(imprint for one in found for imprint in one.imprints),
        in_doubt=frozenset(in_doubt).union(*(one.in_doubt for one in found)),
    )


def _order_with_all(sheet: OrdersSheet, rows: Sequence[TypedRow]) -> OrdersRead:
    """One order with its lots and imprints."""
    order = _order(sheet, rows[0].values["order"], rows)
    whole = [row for row in rows if _has_place(sheet, row)]
    by_lot: dict[str, list[TypedRow]] = {}
    for row in rows:
        # A row whose location is faulty still tells what it can of its garments.
        if "garment" in row.values and "location" not in row.untold:
            by_lot.setdefault(key_of(row.values["garment"]), []).append(row)
    lots = {key: read_lot(sheet, order.order_id, own) for key, own in by_lot.items()}
    by_imprint = _by_imprint(sheet, whole)
    spelled: dict[str, str] = {}
    for own in by_imprint.values():
        spelled.setdefault(key_of(own[0].values["location"]), own[0].values["location"])
    imprints = [
        read_imprint(sheet, order.order_id, spelled[location], design, own, lots)
        for (location, design), own in by_imprint.items()
    ]
    check_print_order(sheet.table, imprints, list(by_imprint.values()), is_complete=len(whole) == len(rows))
    untold = sheet.untold.get(key_of(order.order_id), {})
    splits = [
        checked_split(sheet, own, [lots[key_of(row.values["garment"])] for row in own]) for own in by_imprint.values()
    ]
    typed_lots = [lot for lot in lots.values() if lot.lot_id not in sheet.untold_lots]
    cut, imprints = cut_lots(typed_lots, imprints, splits)
    has_pieces = all(any("pieces" in row.values for row in own) for own in by_lot.values())
    is_doubtful = len(whole) < len(rows) or not has_pieces or bool(untold)
    told = [
        one
        for one, own in zip(imprints, by_imprint.values(), strict=True)
        if (one.inks or not sheet.table.is_untold(own, "inks")) and not set(one.lot_ids) & sheet.untold_lots
    ]
    return OrdersRead(
        orders=(replace(order, untold=tuple(untold)),),
        lots=cut,
        imprints=tuple(
            replace(one, print_after=tuple(spelled.get(key_of(name), name) for name in one.print_after)) for one in told
        ),
        in_doubt=frozenset({key_of(order.order_id)}) if is_doubtful else frozenset(),
    )


def _has_place(sheet: OrdersSheet, row: TypedRow) -> bool:
    """True if the row says which garment and where; gaps are noted."""
    gaps = [column for column in ("garment", "location") if column not in row.values]
    for column in gaps:
        if column in row.untold:
            what = {"garment": "garments", "location": "print location"}[column]
            garment = f": {row.values['garment']}" if "garment" in row.values else ""
            sheet.note_untold(row.values["order"], f"{what} not told yet{garment}")
        elif column not in row.faulty:
            sheet.table.missing(row, column)
    return not gaps


def _by_imprint(sheet: OrdersSheet, rows: Sequence[TypedRow]) -> dict[tuple[str, str], list[TypedRow]]:
    """Rows by location and design. A row without a design means the one that is named at its location, if one is."""
    named: dict[str, dict[str, None]] = {}
    for row in rows:
        if "design" in row.values:
            named.setdefault(key_of(row.values["location"]), {})[key_of(row.values["design"])] = None
    found: dict[tuple[str, str], list[TypedRow]] = {}
    seen: dict[tuple[str, str], TypedRow] = {}
    for row in rows:
        garment, location = key_of(row.values["garment"]), key_of(row.values["location"])
        first = seen.setdefault((garment, location), row)
        if first is not row:
            message = (
                f"{row.values['garment']}, {row.values['location']} stands in {sheet.table.numbered(first)} already"
            )
            hint = "take one out, or name the location differently"
            sheet.table.fault(row, "location", "row_twice", message, hint)
            continue
        there = list(named.get(location, ()))
        design = key_of(row.values.get("design", there[0] if len(there) == 1 else ""))
        found.setdefault((location, design), []).append(row)
    return found


def _order(sheet: OrdersSheet, order_id: str, rows: Sequence[TypedRow]) -> Order:
    """What the rows say of the order as a whole; with stand-ins where a fault was noted."""
    table = sheet.table
    known = table.merged(rows, OF_ORDER, f"order {order_id}")
    if "client" not in known and not table.is_faulty(rows, "client"):
        table.missing(rows[0], "client")
    if "firm" not in known and sheet.shop is not None and not table.is_faulty(rows, "firm"):
        text = f"{sheet.shop.shop.defaults.firmness} assumed where nothing says how much a late day hurts"
        sheet.assumed.add("firmness", text, "orders", order_id)
    deposit: Arrival = known.get("deposit", Arrival())
    sheet.note_arrival(rows, "deposit", deposit, order_id)
    return Order(
        order_id=order_id,
        client=known.get("client", ""),
        due_at=_due(sheet, order_id, rows, known),
        due_kind="in_hands" if "in_hands" in known else "leaves",
        firmness=known.get("firm"),
        carrier=known.get("carrier"),
        late_cents=known.get("late"),
        finish_each_s=known.get("finish"),
        before=known.get("before", ()),
        after=known.get("after", ()),
        note=joined_notes(rows),
        deposit_at=deposit.at,
        is_waiting_for_deposit=deposit.is_waiting,
        source_row=rows[0].number,
    )


def _due(sheet: OrdersSheet, order_id: str, rows: Sequence[TypedRow], known: Mapping[str, Any]) -> date | datetime:
    """When the order must leave or be in hands: exactly one of the two."""
    if "in_hands" in known and "due" in known:
        row = next(row for row in rows if "in_hands" in row.values)
        message = f"order {order_id} has both a date to leave and a date in hands"
        sheet.table.fault(row, "in_hands", "both_dates", message, "keep due or in hands, not both")
    column = "in_hands" if "in_hands" in known else "due"
    due: date | datetime | None = known.get(column)
    if due is None:
        if sheet.table.is_untold(rows, "due", "in_hands"):
            sheet.note_untold(order_id, "date not told yet")
        elif not sheet.table.is_faulty(rows, "due", "in_hands"):
            sheet.table.missing(rows[0], "due", hint="write it as 2026-03-06, or fill in hands instead")
        return UNREAD_DAY
    sheet.warn_of_due(rows, column, due)
    return due

"""The smaller sheets: remembered designs, screens that hang, runs that have started; and an announced plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.orders import Announced, DesignRecord, Progress
from scheduler.domain.shop import BurnedSet
from scheduler.errors import InputError
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.faults import Faults, key_of, one_of, quoted
from scheduler.inputs.orders_reader import OrdersRead
from scheduler.inputs.plan_files import read_announced
from scheduler.inputs.shop_reader import ShopRead
from scheduler.inputs.typed_rows import TypedRow, TypedTable

BURNED, TO_RECLAIM = "burned", "to reclaim"
STATES = {BURNED: BURNED, TO_RECLAIM: TO_RECLAIM, "reclaim": TO_RECLAIM, "to be reclaimed": TO_RECLAIM}


def read_designs(table: TypedTable) -> dict[str, DesignRecord]:
    """Remembered designs by key; one that stands twice is a fault."""
    found: dict[str, DesignRecord] = {}
    lines: dict[str, TypedRow] = {}
    for row in _with(table, "design"):
        design = row.values["design"]
        key = key_of(design)
        if key in found:
            message = f"design {design} stands in {table.numbered(lines[key])} already"
            table.fault(row, "design", "twice", message, "keep one of the two rows")
            continue
        lines[key] = row
        found[key] = DesignRecord(
            design_id=design,
            inks=row.values.get("inks", ()),
            width_in=row.values.get("width"),
            height_in=row.values.get("height"),
            frame_size=row.values.get("frame"),
            actual_pcs_h=row.values.get("rate"),
            actual_set_up_min=row.values.get("set_up"),
            preferred=row.values.get("preferred", ()),
        )
    return found


@dataclass(slots=True)
class _Hanging:
    """Screens of one design in one state, growing row by row."""

    design: str
    is_to_reclaim: bool
    frames: list[tuple[str, int, int]]


def read_screens(table: TypedTable, shop: ShopRead | None, assumed: Assumed) -> tuple[BurnedSet, ...]:
    """Sets that hang burned or to be reclaimed; frames nobody listed, and a screen in two rows, are faults."""
    found: dict[tuple[str, bool], _Hanging] = {}
    for row in _with(table, "design", "state"):
        design, is_to_reclaim = row.values["design"], row.values["state"] == TO_RECLAIM
        hanging = found.setdefault((key_of(design), is_to_reclaim), _Hanging(design, is_to_reclaim, []))
        named = [column for column in ("frame", "mesh", "screens") if column in row.values or column in row.faulty]
        if not named and not is_to_reclaim:
            assumed.add("whole_set", "the whole set hangs burned, assumed", "designs", design)
            continue
        if _has_all(table, row, ("mesh", "screens")):
            _add_screens(table, row, hanging, shop, assumed)
    burned = tuple(
        BurnedSet(design_id=one.design, frames=tuple(one.frames), to_reclaim=one.is_to_reclaim)
        for one in found.values()
    )
    if shop is not None and "frames" not in shop.in_doubt:
        _check_stock(table, burned, shop)
    return burned


def _check_stock(table: TypedTable, burned: Sequence[BurnedSet], shop: ShopRead) -> None:
    """No more screens hang coated and burned than there are frames of their size and mesh."""
    hanging: Counter[tuple[str, int]] = Counter()
    for one in burned:
        for size, mesh, screens in one.frames:
            hanging[key_of(size), mesh] += screens
    for kind in shop.shop.frames:
        there = hanging[key_of(kind.size), kind.mesh]
        if kind.coated <= kind.count < there + kind.coated:
            message = (
                f"{there} burned and {kind.coated} coated are more than the {kind.count} "
                f"{kind.size} frames with {kind.mesh} mesh"
            )
            table.faults.add(table.table.place(None, "screens"), "too_many_screens", message, "correct what hangs")


def _add_screens(table: TypedTable, row: TypedRow, hanging: _Hanging, shop: ShopRead | None, assumed: Assumed) -> None:
    size, mesh, screens = row.values.get("frame"), row.values["mesh"], row.values["screens"]
    room = shop.shop.screen_room if shop else None
    if size is None and "frame" not in row.faulty:
        if room is None:
            if shop is not None and "screen_room" not in shop.in_doubt:
                table.missing(row, "frame")
            return
        size = room.default_frame
        assumed.add("hanging_frame", f"{size} frames assumed for screens that hang", "designs", hanging.design)
    if size is None:
        return
    if any(key_of(one[0]) == key_of(size) and one[1] == mesh for one in hanging.frames):
        message = f"{hanging.design}: {size} frames with {mesh} mesh stand here twice"
        table.fault(row, "mesh", "twice", message, "add them up in one row")
        return
    frames = shop.shop.frames if shop and "frames" not in shop.in_doubt else ()
    listed = {(key_of(one.size), one.mesh): one.size for one in frames}
    if listed and (key_of(size), mesh) not in listed:
        kinds = [f"{one.size} {one.mesh}" for one in frames]
        message = f"the shop has no {size} frames with {mesh} mesh"
        table.fault(row, "mesh", "no_such_frames", message, f"add [[frames]] to the shop, or {one_of(kinds)}")
    hanging.frames.append((listed.get((key_of(size), mesh), size), mesh, screens))


def read_progress(table: TypedTable, orders: OrdersRead, shop: ShopRead | None) -> tuple[Progress, ...]:
    """Runs that have started; rows about no print that is ordered, or about too many pieces, are faults."""
    found = []
    seen: dict[tuple[str, str, str], TypedRow] = {}
    needed = ("order", "location", "press", "started", "left")
    for row in table.rows:
        if not _has_all(table, row, needed):
            continue
        known = _ordered(table, row, orders)
        if known is None:
            continue
        order_id, location, shade, pieces = known
        first = seen.setdefault((order_id, location, shade or ""), row)
        if first is not row:
            message = f"order {order_id}, {location} stands in {table.numbered(first)} already"
            table.fault(row, "location", "twice", message, "keep one of the two rows")
            continue
        left, started = row.values["left"], row.values["started"]
        if left > pieces and key_of(order_id) not in orders.in_doubt:
            message = f"{left} pieces left are more than the {pieces} ordered"
            table.fault(row, "left", "too_many_left", message, f"write {pieces} or less")
        if shop is not None and shop.now is not None and started > shop.now:
            message = f"it started after the planning moment {shop.now:%Y-%m-%d %H:%M}"
            table.fault(row, "started", "not_started", message, "write when it started, or take the row out")
        found.append(
            Progress(
                order_id=order_id,
                location=location,
                shade=shade,
                press_id=row.values["press"],
                started_at=started,
                pieces_left=left,
                set_up_left_min=row.values.get("set_up_left", 0),
            )
        )
    _check_presses(table, found)
    return tuple(found)


def _ordered(table: TypedTable, row: TypedRow, orders: OrdersRead) -> tuple[str, str, str | None, int] | None:
    """The order, location, shade and pieces a progress row is about, as the orders sheet spells them."""
    order = next((one for one in orders.orders if key_of(one.order_id) == key_of(row.values["order"])), None)
    if order is None:
        if "" not in orders.in_doubt:
            message = f"{quoted(row.values['order'])} is no order of this week"
            table.fault(row, "order", "no_such_order", message, "correct it, or take the row out")
        return None
    own = [one for one in orders.imprints if one.order_id == order.order_id]
    here = [one for one in own if key_of(one.location) == key_of(row.values["location"])]
    on = {lot_id for one in here for lot_id in one.lot_ids}
    lots = [lot for lot in orders.lots if lot.lot_id in on]
    shade = row.values.get("shade")
    shades = {lot.shade for lot in lots}
    if here and (shade in shades or (shade is None and len(shades) == 1 and "shade" not in row.faulty)):
        return order.order_id, here[0].location, shade, sum(lot.pieces for lot in lots if shade in (None, lot.shade))
    if order.untold:
        message = f"order {order.order_id} is not told in full yet, so this row is not read"
        place = table.place(row, "order")
        table.faults.warn(place, "order_untold", message, "fill in what the order waits for, then it counts")
    elif key_of(order.order_id) in orders.in_doubt:
        pass  # what is missing may stand in a row of the order that has a fault of its own
    elif not here:
        message = f"{quoted(row.values['location'])} is no location of order {order.order_id}"
        table.fault(
            row, "location", "no_such_location", message, one_of(tuple(dict.fromkeys(one.location for one in own)))
        )
    elif shade is not None:
        message = f"order {order.order_id} has no {shade} garments there"
        table.fault(row, "shade", "no_such_shade", message, one_of(sorted(shades)))
    elif "shade" not in row.faulty:
        table.missing(row, "shade", hint="write light or dark: both are ordered")
    return None


def _check_presses(table: TypedTable, found: Sequence[Progress]) -> None:
    """A press holds one run that is not done."""
    going: dict[str, str] = {}
    rows = [row for row in table.rows if row.values.get("left", 0) > 0 and "press" in row.values]
    keys = {(one.press_id, key_of(one.order_id), key_of(one.location)) for one in found}
    for row in rows:
        press, order, location = row.values["press"], row.values.get("order", ""), row.values.get("location", "")
        if (press, key_of(order), key_of(location)) not in keys:
            continue
        other = going.setdefault(press, f"{order} {location}")
        if other != f"{order} {location}":
            message = f"{press} has started {other} already and holds one run only"
            table.fault(row, "press", "two_on_a_press", message, "write 0 left for the one that is done")


def read_plan_announced(path: Path, faults: Faults) -> tuple[Announced, ...]:
    """Where an earlier plan put each run; nothing, and its faults noted, if it cannot be read."""
    try:
        return read_announced(path)
    except InputError as fault:
        faults.extend(fault.problems)
        return ()


def _with(table: TypedTable, *columns: str) -> list[TypedRow]:
    """Rows in which all of these are filled; gaps are noted."""
    return [row for row in table.rows if _has_all(table, row, columns)]


def _has_all(table: TypedTable, row: TypedRow, columns: Sequence[str]) -> bool:
    gaps = [column for column in columns if column not in row.values]
    for column in gaps:
        if column not in row.faulty:
            table.missing(row, column)
    return not gaps


def spelled_designs(designs: Mapping[str, DesignRecord], orders: OrdersRead) -> dict[str, str]:
    """Each design's one spelling by key: as remembered, else as the orders spell it."""
    found = {key_of(one.design_id): one.design_id for one in orders.imprints}
    return found | {key: one.design_id for key, one in designs.items()}

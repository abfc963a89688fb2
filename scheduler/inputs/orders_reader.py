"""Orders: rows of the one sheet to orders, lots and imprints.

Same order and garment: one lot. Same order, location and design: one imprint on several lots. What several rows say of
one order, lot or imprint must agree; a cell left empty takes what another row of it says.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from scheduler.domain.orders import DesignRecord, Imprint, Ink, Lot, Order
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.cells import PressWish
from scheduler.inputs.columns import shown
from scheduler.inputs.faults import key_of, quoted
from scheduler.inputs.garment_words import TEE, kind_of, shade_of
from scheduler.inputs.print_order import check_print_order
from scheduler.inputs.shop_reader import ShopRead
from scheduler.inputs.sizes import pieces_in
from scheduler.inputs.typed_rows import TypedRow, TypedTable

OF_ORDER = ("client", "due", "in_hands", "firm", "carrier", "late", "finish")
OF_LOT = ("shade", "pieces", "blanks", "kind", "counted", "from_client", "sizes")
OF_IMPRINT = (
    "inks", "art", "press", "mesh", "family", "width", "height", "frame", "pallet", "print_after", "between",
    "approval", "base", "rate", "run", "set_up", "lock_press", "lock_at",
)  # fmt: skip

FAR_AHEAD = timedelta(days=366)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrdersRead:
    """What the orders sheet holds."""

    orders: tuple[Order, ...] = ()
    lots: tuple[Lot, ...] = ()
    imprints: tuple[Imprint, ...] = ()


def read_orders(
    table: TypedTable, shop: ShopRead | None, designs: Mapping[str, DesignRecord], assumed: Assumed
) -> OrdersRead:
    """Group the rows. designs: remembered ones by key. Contradictions, gaps and repetitions are noted as faults."""
    reader = _Reader(table=table, shop=shop, designs=designs, assumed=assumed)
    by_order: dict[str, list[TypedRow]] = {}
    for row in table.rows:
        if "order" in row.values:
            by_order.setdefault(key_of(row.values["order"]), []).append(row)
        elif "order" not in row.faulty:
            table.missing(row, "order")
    found = [reader.order(rows) for rows in by_order.values()]
    return OrdersRead(
        orders=tuple(order for one in found for order in one.orders),
        lots=tuple(lot for one in found for lot in one.lots),
        imprints=tuple(imprint for one in found for imprint in one.imprints),
    )


@dataclass(slots=True, kw_only=True)
class _Reader:
    """Reads order by order. spellings: design names as first spelled, by key."""

    table: TypedTable
    shop: ShopRead | None
    designs: Mapping[str, DesignRecord]
    assumed: Assumed

    def order(self, rows: Sequence[TypedRow]) -> OrdersRead:
        """One order with its lots and imprints."""
        order_id = rows[0].values["order"]
        order = self._order(order_id, rows)
        whole = [row for row in rows if self._has_place(row)]
        by_lot: dict[str, list[TypedRow]] = {}
        by_imprint: dict[tuple[str, str], list[TypedRow]] = {}
        seen: dict[tuple[str, str], TypedRow] = {}
        for row in whole:
            garment, location = key_of(row.values["garment"]), key_of(row.values["location"])
            by_lot.setdefault(garment, []).append(row)
            if self._is_repeated(row, seen.setdefault((garment, location), row)):
                continue
            by_imprint.setdefault((location, key_of(row.values.get("design", ""))), []).append(row)
        lots = {key: self._lot(order_id, own) for key, own in by_lot.items()}
        spelled = {key_of(own[0].values["location"]): own[0].values["location"] for own in by_imprint.values()}
        imprints = [self._imprint(order_id, spelled[location], own, lots) for (location, _), own in by_imprint.items()]
        check_print_order(self.table, imprints, list(by_imprint.values()))
        return OrdersRead(
            orders=() if order is None else (order,),
            lots=tuple(lots.values()),
            imprints=tuple(replace(one, print_after=_spelled(one.print_after, spelled)) for one in imprints),
        )

    def _has_place(self, row: TypedRow) -> bool:
        """True if the row says which garment and where; gaps are noted."""
        gaps = [column for column in ("garment", "location") if column not in row.values]
        for column in gaps:
            if column not in row.faulty:
                self.table.missing(row, column)
        return not gaps

    def _is_repeated(self, row: TypedRow, first: TypedRow) -> bool:
        """True, and a fault, if another row prints on the same garment at the same location."""
        if row is first:
            return False
        garment, location = row.values["garment"], row.values["location"]
        message = f"{garment}, {location} stands in {self.table.numbered(first)} already"
        self.table.fault(row, "location", "row_twice", message, "take one out, or name the location differently")
        return True

    def _order(self, order_id: str, rows: Sequence[TypedRow]) -> Order | None:
        known = self.table.merged(rows, OF_ORDER, f"order {order_id}")
        if "client" not in known and not self.table.is_faulty(rows, "client"):
            self.table.missing(rows[0], "client")
        due = known.get("in_hands", known.get("due"))
        if "in_hands" in known and "due" in known:
            row = next(row for row in rows if "in_hands" in row.values)
            message = f"order {order_id} has both a date to leave and a date in hands"
            self.table.fault(row, "in_hands", "both_dates", message, "keep due or in hands, not both")
        if due is None:
            if not self.table.is_faulty(rows, "due", "in_hands"):
                self.table.missing(rows[0], "due", hint="write it as 2026-03-06, or fill in hands instead")
            return None
        self._warn_of_date(rows, "in_hands" if "in_hands" in known else "due", due)
        if "firm" not in known and self.shop is not None:
            self.assumed.add(
                "firmness", f"{self.shop.shop.defaults.firmness} assumed, as nothing is said", "orders", order_id
            )
        notes = dict.fromkeys(row.values["note"] for row in rows if "note" in row.values)
        return Order(
            order_id=order_id,
            client=known.get("client", ""),
            due_at=due,
            due_kind="in_hands" if "in_hands" in known else "leaves",
            firmness=known.get("firm"),
            carrier=known.get("carrier"),
            late_cents=known.get("late"),
            finish_each_s=known.get("finish"),
            note="; ".join(notes),
            source_row=rows[0].number,
        )

    def _warn_of_date(self, rows: Sequence[TypedRow], column: str, due: date | datetime) -> None:
        if self.shop is None:
            return
        now = self.shop.shop.plan_from
        is_over = due < now if isinstance(due, datetime) else due < now.date()
        day = due.date() if isinstance(due, datetime) else due
        row = next(row for row in rows if column in row.values)
        place, text = self.table.place(row, column), row.texts[column]
        if is_over:
            message = f"{quoted(text)} is before the planning moment {now:%Y-%m-%d %H:%M}"
            self.table.faults.warn(place, "date_is_over", message, "look at the date: the order is late already", text)
        elif day > now.date() + FAR_AHEAD:
            message = f"{quoted(text)} is more than a year ahead"
            self.table.faults.warn(place, "date_is_far", message, "look at the year", text)

    def _lot(self, order_id: str, rows: Sequence[TypedRow]) -> Lot:
        garment = rows[0].values["garment"]
        lot_id = f"{order_id} {garment}"
        known = self.table.merged(rows, OF_LOT, f"order {order_id}, {garment}")
        for column in ("pieces", "blanks"):
            if column not in known and not self.table.is_faulty(rows, column):
                self.table.missing(rows[0], column)
        arrival: Arrival = known.get("blanks", Arrival())
        self._note_arrival(rows, "blanks", arrival, lot_id)
        self._check_sizes(rows, known)
        if "counted" not in known:
            text = "pieces taken as ordered: nothing says they were counted in"
            self.assumed.add("counted", text, "garment lots", lot_id)
        return Lot(
            lot_id=lot_id,
            order_id=order_id,
            garment=garment,
            kind=known.get("kind") or self._kind(garment, lot_id),
            shade=known.get("shade") or self._shade(rows, garment, lot_id),
            pieces=known.get("pieces", 1),
            is_counted=known.get("counted", False),
            from_client=known.get("from_client", False),
            blanks_at=arrival.at,
            is_waiting=arrival.is_waiting,
            sizes=known.get("sizes", ""),
            source_row=rows[0].number,
        )

    def _kind(self, garment: str, lot_id: str) -> str:
        kind = kind_of(garment)
        text = (
            f"read as {kind} from the garment's words" if kind else f"taken as {TEE}: the garment's words name no kind"
        )
        self.assumed.add("garment_kind", text, "garment lots", lot_id)
        return kind or TEE

    def _shade(self, rows: Sequence[TypedRow], garment: str, lot_id: str) -> str:
        shade = shade_of(garment)
        if shade is None:
            if not self.table.is_faulty(rows, "shade"):
                hint = f"write light or dark: {quoted(garment)} does not tell"
                self.table.missing(rows[0], "shade", hint=hint)
            return "light"
        self.assumed.add("shade", f"read as {shade} from the colour's words", "garment lots", lot_id)
        return shade

    def _check_sizes(self, rows: Sequence[TypedRow], known: Mapping[str, Any]) -> None:
        """Sizes that can be read add up to the pieces."""
        sizes, pieces = known.get("sizes"), known.get("pieces")
        if sizes is None or pieces is None:
            return
        row = next(row for row in rows if "sizes" in row.values)
        total = pieces_in(sizes)
        if total is None:
            message = f"{quoted(sizes)} cannot be added up"
            place = self.table.place(row, "sizes")
            self.table.faults.warn(place, "sizes_unread", message, "write it as S 20, M 60, L 64", sizes)
        elif total != pieces:
            message = f"{quoted(sizes)} makes {total} pieces, not {pieces}"
            self.table.fault(row, "sizes", "sizes_do_not_sum", message, "correct the sizes or the pieces")

    def _note_arrival(self, rows: Sequence[TypedRow], column: str, arrival: Arrival, what: str) -> None:
        """Tell what a bare day was taken for, and warn of a day that is over."""
        if arrival.at is None or self.shop is None:
            return
        if arrival.is_bare_day:
            text = "a day without a clock time: there as soon as the shop opens, assumed"
            self.assumed.add("bare_day", text, "dates of blanks and art", f"{what} {column}")
        now = self.shop.shop.plan_from
        if arrival.at.date() < now.date():
            row = next(row for row in rows if column in row.values)
            text = row.texts[column]
            message = f"{quoted(text)} is before the planning moment {now:%Y-%m-%d %H:%M}"
            hint = f"write {'in' if column == 'blanks' else 'ok'} if so; it is planned as if it were"
            self.table.faults.warn(self.table.place(row, column), "date_is_over", message, hint, text)

    def _imprint(self, order_id: str, location: str, rows: Sequence[TypedRow], lots: Mapping[str, Lot]) -> Imprint:
        what = f"order {order_id}, {location}"
        known = self.table.merged(rows, OF_IMPRINT, what)
        design = rows[0].values.get("design")
        design_id = self._spelled_design(design) if design else f"{order_id} {location}"
        if design is None:
            self.assumed.add("design", "design named after its order and location", "prints", design_id)
        if "art" not in known and not self.table.is_faulty(rows, "art"):
            self.table.missing(rows[0], "art")
        art: Arrival = known.get("art", Arrival())
        self._note_arrival(rows, "art", art, f"{order_id} {location}")
        wish: PressWish = known.get("press", PressWish())
        self._check_wishes(rows, known, wish)
        notes = dict.fromkeys(row.values["note"] for row in rows if "note" in row.values)
        return Imprint(
            order_id=order_id,
            location=location,
            design_id=design_id,
            inks=self._inks(rows, known, design_id, f"{order_id} {location}"),
            lot_ids=tuple(lots[key_of(row.values["garment"])].lot_id for row in rows),
            art_at=art.at,
            is_waiting_for_art=art.is_waiting,
            with_base=known.get("base"),
            width_in=known.get("width"),
            height_in=known.get("height"),
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
            note="; ".join(notes),
            source_row=rows[0].number,
        )

    def _spelled_design(self, typed: str) -> str:
        """A design as remembered, or as the sheet spells it first."""
        if key_of(typed) in self.designs:
            return self.designs[key_of(typed)].design_id
        first = (
            row.values["design"] for row in self.table.rows if key_of(row.values.get("design", "")) == key_of(typed)
        )
        return str(next(first, typed))

    def _inks(self, rows: Sequence[TypedRow], known: Mapping[str, Any], design_id: str, where: str) -> tuple[Ink, ...]:
        """The imprint's inks, or the design's, with family and meshes."""
        remembered = self.designs.get(key_of(design_id))
        inks: tuple[Ink, ...] = known.get("inks", ())
        if not inks and not self.table.is_faulty(rows, "inks"):
            inks = remembered.inks if remembered else ()
            if inks:
                self.assumed.add("inks", "inks taken from the design", "prints", where)
            else:
                self.table.missing(rows[0], "inks")
        if "family" not in known and self.shop is not None and inks and not any(ink.family for ink in inks):
            self.assumed.add("family", f"{self.shop.shop.defaults.family} ink assumed", "prints", where)
        meshes: tuple[int, ...] = known.get("mesh", ())
        if len(meshes) not in (0, 1, len(inks)) and inks:
            row = next(row for row in rows if "mesh" in row.values)
            message = f"{len(meshes)} meshes for {len(inks)} inks"
            self.table.fault(
                row, "mesh", "mesh_count", message, "write one mesh for all, or one per ink in print order"
            )
            meshes = meshes[:1]
        each = meshes * len(inks) if len(meshes) == 1 else meshes or (None,) * len(inks)
        return tuple(
            replace(ink, family=known.get("family", ink.family), mesh=mesh or ink.mesh)
            for ink, mesh in zip(inks, each, strict=True)
        )

    def _check_wishes(self, rows: Sequence[TypedRow], known: Mapping[str, Any], wish: PressWish) -> None:
        """Wishes for one print that cannot both be kept."""
        if "rate" in known and "run" in known:
            row = next(row for row in rows if "run" in row.values)
            message = "both a rate and a time for the whole run are given"
            self.table.fault(row, "run", "rate_and_run", message, f"keep {shown('rate')} or {shown('run')}, not both")
        locked = known.get("lock_press")
        if locked and (locked in wish.never or (wish.allowed and locked not in wish.allowed)):
            row = next(row for row in rows if "lock_press" in row.values)
            message = f"it is locked to {locked}, which the press column refuses"
            self.table.fault(row, "lock_press", "lock_refused", message, "correct press or lock press")


def _spelled(names: tuple[str, ...], spelled: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(spelled.get(key_of(one), one) for one in names)

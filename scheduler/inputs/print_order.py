"""Which location of an order is printed after which: names that exist, and no circle."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.orders import Imprint
from scheduler.inputs.faults import key_of, one_of, quoted
from scheduler.inputs.typed_rows import TypedRow, TypedTable


def check_print_order(
    table: TypedTable, imprints: Sequence[Imprint], rows: Sequence[Sequence[TypedRow]], *, is_complete: bool
) -> None:
    """Note what an order's `print after` cells get wrong. rows: those of each imprint, in the same order.

    is_complete: every row of the order could be placed, so a location that is not there is a fault.
    """
    locations = {key_of(one.location): one.location for one in imprints}
    is_sound = True
    for imprint, own in zip(imprints, rows, strict=True):
        row = next((row for row in own if "print_after" in row.values), own[0])
        others = [location for location in locations.values() if location != imprint.location]
        for wanted in imprint.print_after:
            if key_of(wanted) == key_of(imprint.location):
                message = f"{quoted(wanted)} cannot come after itself"
                table.fault(row, "print_after", "after_itself", message, "name another location of the order")
                is_sound = False
            elif is_complete and key_of(wanted) not in locations:
                message = f"{quoted(wanted)} is no location of order {imprint.order_id}"
                hint = one_of(others) if others else "leave it empty: the order has no other location"
                table.fault(row, "print_after", "no_such_location", message, hint)
                is_sound = False
    if is_sound:
        _check_circle(table, imprints, rows)


def _check_circle(table: TypedTable, imprints: Sequence[Imprint], rows: Sequence[Sequence[TypedRow]]) -> None:
    """Note the first print of an order that comes after itself by way of others on the same garments."""
    before: list[set[int]] = []
    for imprint in imprints:
        wanted = {key_of(one) for one in imprint.print_after}
        before.append(
            {
                number
                for number, other in enumerate(imprints)
                if key_of(other.location) in wanted and set(other.lot_ids) & set(imprint.lot_ids)
            }
        )
    for number, imprint in enumerate(imprints):
        reached: set[int] = set()
        todo = list(before[number])
        while todo:
            one = todo.pop()
            if one not in reached:
                reached.add(one)
                todo += before[one]
        if number in reached:
            row = next(row for row in rows[number] if "print_after" in row.values)
            message = f"order {imprint.order_id}: {imprint.location} comes after itself in the end"
            table.fault(row, "print_after", "circle", message, "take one of the order's print after cells out")
            return

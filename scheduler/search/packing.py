"""Packing an order once its runs are placed, and reclaiming the sets nobody waits for any more."""

from __future__ import annotations

from scheduler.search.placing import earliest_packing
from scheduler.search.state import NO_PIECES, State
from scheduler.search.tables import Opened, OrderSpec, Tables
from scheduler.search.visiting import strike_out_after, visit_after


def pack(tables: Tables, opened: Opened, state: State, order_number: int, release: frozenset[int]) -> bool:
    """Finish an order whose runs are all placed, price its date, and reclaim sets nobody waits for.

    False if it cannot be packed before its last pick-up.
    """
    if not _finish(tables, opened, state, order_number):
        return False
    runs = tables.runs
    for screen_set in dict.fromkeys(runs[number].screen_set for number in tables.orders[order_number].runs):
        if screen_set >= 0:
            _reclaim(tables, state, screen_set, release)
    return True


def unpack(tables: Tables, state: State, order_number: int) -> None:
    """Strike the packing of an order out again; reclaims that followed it stay booked."""
    order = tables.orders[order_number]
    if tables.finish_need:
        state.floor.take_all(state.finish_pieces[order_number], -tables.finish_need)
    late_cents, cushion_cents = date_cents(order, state.packed_tau[order_number])
    state.late_cents -= late_cents
    state.cushion_cents -= cushion_cents
    state.finish_tau[order_number] = state.packed_tau[order_number] = -1
    state.finish_pieces[order_number] = NO_PIECES
    if order.after:
        strike_out_after(tables, state, order_number)


def repack(tables: Tables, opened: Opened, state: State, order_number: int) -> bool:
    """Pack an order anew whose runs moved; False if it comes too late for a pick-up or for a reclaim booked before."""
    if not _finish(tables, opened, state, order_number):
        return False
    packed_tau = state.packed_tau[order_number]
    for (screen_set, after), block in state.reclaimed.items():
        uses = state.uses[screen_set]
        counted = uses[: uses.index(after) + 1]
        of_order = any(tables.runs[number].order == order_number for number in counted)
        if of_order and tables.blocks[block][0] < packed_tau:
            return False
    return True


def date_cents(order: OrderSpec, packed_tau: int) -> tuple[int, int]:
    """What packing at this minute costs: late days, and the cushion."""
    missed = sum(pickup_tau < packed_tau for pickup_tau in order.pickups_tau[order.must_leave :])
    return order.late_cents * missed, order.cushion_cents if packed_tau > order.cushion_from_tau else 0


def _finish(tables: Tables, opened: Opened, state: State, order_number: int) -> bool:
    order = tables.orders[order_number]
    after_tau = 0
    if order.before or order.after:
        back_tau = visit_after(tables, opened, state, order_number)
        if back_tau is None:
            return False
        after_tau = back_tau
    found = earliest_packing(tables, opened, state, order, after_tau)
    if found is None:
        return False
    start_tau, packed_tau, pieces = found
    if tables.finish_need:
        state.floor.take_all(pieces, tables.finish_need)
    state.finish_tau[order_number] = start_tau
    state.packed_tau[order_number] = packed_tau
    state.finish_pieces[order_number] = pieces
    late_cents, cushion_cents = date_cents(order, packed_tau)
    state.late_cents += late_cents
    state.cushion_cents += cushion_cents
    return True


def _reclaim(tables: Tables, state: State, screen_set: int, release: frozenset[int]) -> None:
    """Book the first reclaim block for a set that is used up, or is to be released, once its orders are packed."""
    spec, uses = tables.sets[screen_set], state.uses[screen_set]
    if not spec.screens or not uses or (screen_set, uses[-1]) in state.reclaimed:
        return
    if state.set_left[screen_set] and uses[-1] not in release:
        return
    packed = [state.packed_tau[tables.runs[number].order] for number in uses]
    if min(packed) < 0:
        return
    from_tau = max(packed)
    for block, (start_tau, end_tau, _) in enumerate(tables.blocks):
        if start_tau >= from_tau and state.block_left[block] >= spec.screens:
            state.block_left[block] -= spec.screens
            state.reclaimed[screen_set, uses[-1]] = block
            state.ledger.reclaim(end_tau, spec.frames)
            state.version += 1
            return

"""Packing an order and reclaiming its sets, as in `search/packing.py`."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.floor import clash_in_work, take_work
from scheduler.search.quick.frames import reclaim_frames
from scheduler.search.quick.hours import Row, end_minute, index_from, minute, total_min
from scheduler.search.quick.press import placed_of, run_of
from scheduler.search.quick.ready import strike_out_after, visit_after
from scheduler.search.quick.slots import (
    A_END,
    A_PRINT_START,
    K_SCREENS,
    K_USES,
    O_AFTER_COUNT,
    O_BEFORE_COUNT,
    O_CUSHION_CENTS,
    O_CUSHION_FROM,
    O_FINISH_LAG,
    O_FINISH_MIN,
    O_LAST_BOX,
    O_LATE_CENTS,
    O_MUST_LEAVE,
    O_PICKUP_COUNT,
    O_PICKUPS,
    O_RUN_COUNT,
    O_RUNS,
    P_BLOCK_LEFT,
    P_FINISH,
    P_FLOOR,
    P_PACKED,
    P_RECLAIMED,
    P_SET_LEFT,
    R_CURE,
    R_ORDER,
    R_SET,
    S_CUSHION,
    S_LATE,
    S_VERSION,
    W_BLOCK_COUNT,
    W_BLOCKS,
    W_FINISH_NEED,
    W_FINISHING_HOURS,
    W_GUARDS,
    W_HAS_FINISH_NEED,
    W_ORDERS,
    W_RUN_COUNT,
    W_SETS,
    W_WORDS,
)

IS_RELEASED, WAITS, STANDS = 1, 2, 4
"""What the genes say of a run, added up."""


@compiled
def pack(w: Row, s: Row, number: int, flags: Row) -> bool:
    """Finish an order whose runs are all placed, price its date, and reclaim sets nobody waits for."""
    order = w[w[W_ORDERS] + number]
    if not finish(w, s, number):
        return False
    for k in range(w[order + O_RUN_COUNT]):
        screen_set = w[run_of(w, w[w[order + O_RUNS] + k]) + R_SET]
        known = screen_set < 0
        for i in range(k):
            known = known or w[run_of(w, w[w[order + O_RUNS] + i]) + R_SET] == screen_set
        if not known:
            _reclaim(w, s, screen_set, flags)
    return True


@compiled
def date_cents(w: Row, order: int, packed_tau: int) -> tuple[int, int]:
    """What packing at this minute costs: late days, and the cushion."""
    missed = 0
    for k in range(w[order + O_MUST_LEAVE], w[order + O_PICKUP_COUNT]):
        missed += w[w[order + O_PICKUPS] + k] < packed_tau
    cushion_cents = w[order + O_CUSHION_CENTS] if packed_tau > w[order + O_CUSHION_FROM] else 0
    return w[order + O_LATE_CENTS] * missed, cushion_cents


@compiled
def finish(w: Row, s: Row, number: int) -> bool:
    """Visit stations, pack, and price the date; False if not in time."""
    order = w[w[W_ORDERS] + number]
    after_tau = 0
    if w[order + O_BEFORE_COUNT] or w[order + O_AFTER_COUNT]:
        after_tau = visit_after(w, s, order)
        if after_tau < 0:
            return False
    start_tau, packed_tau = _earliest_packing(w, s, order, after_tau)
    if packed_tau < 0:
        return False
    if w[W_HAS_FINISH_NEED] and w[order + O_FINISH_MIN]:
        _take_finishing(w, s, order, start_tau, 1)
    s[w[P_FINISH] + number] = start_tau
    s[w[P_PACKED] + number] = packed_tau
    late_cents, cushion_cents = date_cents(w, order, packed_tau)
    s[S_LATE] += late_cents
    s[S_CUSHION] += cushion_cents
    return True


@compiled
def unpack(w: Row, s: Row, number: int) -> None:
    """Strike the packing of an order out again; reclaims that followed it stay booked."""
    order = w[w[W_ORDERS] + number]
    if w[W_HAS_FINISH_NEED] and w[order + O_FINISH_MIN]:
        _take_finishing(w, s, order, s[w[P_FINISH] + number], -1)
    late_cents, cushion_cents = date_cents(w, order, s[w[P_PACKED] + number])
    s[S_LATE] -= late_cents
    s[S_CUSHION] -= cushion_cents
    s[w[P_FINISH] + number] = s[w[P_PACKED] + number] = -1
    if w[order + O_AFTER_COUNT]:
        strike_out_after(w, s, order)


@compiled
def repack(w: Row, s: Row, number: int) -> bool:
    """Pack an order anew whose runs moved; False if it comes too late for a pick-up or for a reclaim booked before."""
    if not finish(w, s, number):
        return False
    packed_tau = s[w[P_PACKED] + number]
    for after in range(w[W_RUN_COUNT]):
        block = s[w[P_RECLAIMED] + after]
        if block < 0 or w[w[W_BLOCKS] + 3 * block] >= packed_tau:
            continue
        uses = w[w[w[W_SETS] + w[run_of(w, after) + R_SET]] + K_USES]
        for k in range(s[uses]):
            use = s[uses + 1 + k]
            if w[run_of(w, use) + R_ORDER] == number:
                return False
            if use == after:
                break
    return True


@compiled
def _take_finishing(w: Row, s: Row, order: int, start_tau: int, sign: int) -> None:
    h = w[W_FINISHING_HOURS]
    index = index_from(w, h, start_tau)
    take_work(w, s, w[P_FLOOR], w[W_WORDS], w[W_FINISH_NEED], h, index, index + w[order + O_FINISH_MIN], sign)


@compiled
def _earliest_packing(w: Row, s: Row, order: int, after_tau: int) -> tuple[int, int]:
    """Earliest (start, packed) of finishing an order; packed -1 if not in time."""
    start_from_tau = end_from_tau = after_tau
    for k in range(w[order + O_RUN_COUNT]):
        number = w[w[order + O_RUNS] + k]
        one = placed_of(w, number)
        start_from_tau = max(start_from_tau, s[one + A_PRINT_START] + w[order + O_FINISH_LAG])
        cured_tau = s[one + A_END] + w[run_of(w, number) + R_CURE]
        end_from_tau = max(end_from_tau, cured_tau + w[order + O_LAST_BOX])
    latest_tau = w[w[order + O_PICKUPS] + w[order + O_PICKUP_COUNT] - 1]
    work_min = w[order + O_FINISH_MIN]
    if not work_min:
        return (end_from_tau, end_from_tau) if end_from_tau <= latest_tau else (-1, -1)
    h, need = w[W_FINISHING_HOURS], w[W_FINISH_NEED]
    index = max(index_from(w, h, start_from_tau), index_from(w, h, end_from_tau) - work_min)
    while index + work_min <= total_min(w, h):
        end_tau = end_minute(w, h, index + work_min)
        if end_tau < end_from_tau:
            index += 1
            continue
        if end_tau > latest_tau:
            return -1, -1
        over_tau = 0
        if w[W_HAS_FINISH_NEED]:
            over_tau = clash_in_work(w, s, w[P_FLOOR], w[W_WORDS], w[W_GUARDS], need, h, index, index + work_min)
        if not over_tau:
            return minute(w, h, index), end_tau
        index = max(index + 1, index_from(w, h, over_tau))
    return -1, -1


@compiled
def _reclaim(w: Row, s: Row, screen_set: int, flags: Row) -> None:
    """Book the first reclaim block for a set that is used up, or is to be released, once its orders are packed."""
    screens = w[w[W_SETS] + screen_set]
    uses = w[screens + K_USES]
    count = s[uses]
    if not w[screens + K_SCREENS] or not count:
        return
    last = s[uses + count]
    if s[w[P_RECLAIMED] + last] >= 0:
        return
    if s[w[P_SET_LEFT] + screen_set] and not flags[last] & IS_RELEASED:
        return
    from_tau = -1
    for k in range(count):
        packed_tau = s[w[P_PACKED] + w[run_of(w, s[uses + 1 + k]) + R_ORDER]]
        if packed_tau < 0:
            return
        from_tau = max(from_tau, packed_tau)
    for block in range(w[W_BLOCK_COUNT]):
        at = w[W_BLOCKS] + 3 * block
        if w[at] >= from_tau and s[w[P_BLOCK_LEFT] + block] >= w[screens + K_SCREENS]:
            s[w[P_BLOCK_LEFT] + block] -= w[screens + K_SCREENS]
            s[w[P_RECLAIMED] + last] = block
            reclaim_frames(w, s, screens, w[at + 1])
            s[S_VERSION] += 1
            return

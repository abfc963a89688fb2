"""What the dates of orders that are not packed yet cost at least, whatever comes: it ends a dear decoding sooner."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import date_cents
from scheduler.search.quick.press import placed_of, run_of
from scheduler.search.quick.set_ups import free_from, last_on
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    NEVER,
    O_LAST_BOX,
    O_RUN_COUNT,
    O_RUNS,
    P_ORDER_LEFT,
    R_CURE,
    R_FIXED_PRESS,
    R_LEAST_WORK,
    W_HAS_LOCKS,
    W_ORDER_COUNT,
    W_ORDERS,
    W_PRESS_COUNT,
)


@compiled
def still_late_cents(w: Row, s: Row, press: Row, spare_cents: int) -> int:
    """Late days and cushions of all orders that are not packed yet, at least; stops counting beyond `spare_cents`.

    What is placed stays where it is, and what is not comes after what stands on its press. With locked runs neither
    need be so: then nothing is counted.
    """
    cents = 0
    if w[W_HAS_LOCKS]:
        return cents
    soonest_tau = NEVER
    for on in range(w[W_PRESS_COUNT]):
        soonest_tau = min(soonest_tau, free_from(s, last_on(w, s, on)))
    for number in range(w[W_ORDER_COUNT]):
        if not s[w[P_ORDER_LEFT] + number]:
            continue
        order = w[w[W_ORDERS] + number]
        packed_tau = 0
        for k in range(w[order + O_RUN_COUNT]):
            one = w[w[order + O_RUNS] + k]
            run, placed = run_of(w, one), placed_of(w, one)
            if s[placed + A_CHOICE] >= 0:
                end_tau = s[placed + A_END]
            else:
                asked = w[run + R_FIXED_PRESS] if w[run + R_FIXED_PRESS] >= 0 else press[one]
                free_tau = soonest_tau if asked < 0 else free_from(s, last_on(w, s, asked))
                end_tau = free_tau + w[run + R_LEAST_WORK]
            packed_tau = max(packed_tau, end_tau + w[run + R_CURE] + w[order + O_LAST_BOX])
        late_cents, cushion_cents = date_cents(w, order, packed_tau)
        cents += late_cents + cushion_cents
        if cents > spare_cents:
            return cents
    return cents

"""A partial plan as a row of whole numbers, written from the decoder's state; and what a finished row says."""

from __future__ import annotations

import numpy as np

from scheduler.search.profiles import Track
from scheduler.search.quick import slots as at
from scheduler.search.quick.booking import cost_cents
from scheduler.search.quick.compiled import compiled_and_kept
from scheduler.search.quick.hours import Row
from scheduler.search.quick.press import placed_of
from scheduler.search.quick.slots import (
    A_END,
    O_LATE_CENTS,
    O_MUST_LEAVE,
    O_PICKUPS,
    P_PACKED,
    W_ORDER_COUNT,
    W_ORDERS,
    W_RUN_COUNT,
)
from scheduler.search.quick.week_row import WeekRow
from scheduler.search.state import Placed, State

EVENTS_A_RUN = 6
"""Room for events of the floor at first; the row is made longer when it is used up."""


def plan_row(week: WeekRow, w: Row, state: State) -> Row:
    """The row of a state; w: the week's row with its hours."""
    words = week.packing.words
    events = len(state.floor.times) + EVENTS_A_RUN * len(state.placed) + 2 * int(w[at.W_EVENT_ROOM])
    s = np.zeros(int(w[at.P_FLOOR]) + 1 + (words + 1) * events, dtype=np.int64)
    s[at.S_LATE], s[at.S_CUSHION], s[at.S_SET_UP] = state.late_cents, state.cushion_cents, state.set_up_cents
    s[at.S_PRINT] = state.print_cents
    s[at.S_BURN], s[at.S_AHEAD], s[at.S_MOVE] = state.burn_cents, state.ahead_cents, state.move_cents
    s[at.S_LEAST_LEFT], s[at.S_VERSION] = state.least_left, state.version
    for number, one in enumerate(state.placed):
        _write_placed(week, w, s, number, one)
    for press, queue in enumerate(state.queues):
        _write_list(s, int(w[at.P_QUEUES]) + press * (len(state.placed) + 1), queue)
    for i, uses in enumerate(state.uses):
        _write_list(s, int(w[w[w[at.W_SETS] + i] + at.K_USES]), uses)
    _write_list(s, int(w[at.P_WAITING]), state.waiting_locks)
    reclaimed = int(w[at.P_RECLAIMED])
    s[reclaimed : reclaimed + len(state.placed)] = -1
    for (_, run), block in state.reclaimed.items():
        s[reclaimed + run] = block
    for slot, values in (
        (at.P_BLOCK_LEFT, state.block_left),
        (at.P_ORDER_LEFT, state.order_left),
        (at.P_SET_LEFT, state.set_left),
        (at.P_FINISH, state.finish_tau),
        (at.P_PACKED, state.packed_tau),
        (at.P_TAKEN, state.ledger.taken),
        (at.P_CLEAN, [count for clean in state.ledger.clean for count in clean]),
    ):
        s[w[slot] : w[slot] + len(values)] = values
    _write_steps(week, w, s, state)
    burns = sorted((tau, one, count) for one, burns in enumerate(state.ledger.burns) for tau, count in burns)
    s[at.S_BURN_COUNT] = len(burns)
    for i, burn in enumerate(burns):
        s[w[at.P_BURNS] + 3 * i : w[at.P_BURNS] + 3 * i + 3] = burn
    _write_track(s, int(w[at.P_SHOTS]), state.shots)
    _write_track(s, int(w[at.P_RACK]), state.rack)
    _write_floor(week, s, int(w[at.P_FLOOR]), state.floor)
    return s


def longer(w: Row, s: Row) -> Row:
    """The same plan with room for more events on the floor."""
    more = (int(w[at.W_WORDS]) + 1) * (EVENTS_A_RUN * int(w[at.W_RUN_COUNT]) + 2 * int(w[at.W_EVENT_ROOM]))
    return np.concatenate((s, np.zeros(more, dtype=np.int64)))


def _write_placed(week: WeekRow, w: Row, s: Row, number: int, one: Placed | None) -> None:
    place = int(w[at.P_PLACED]) + number * int(w[at.W_PLACED_SIZE])
    if one is None:
        s[place + at.A_CHOICE] = -1
        return
    ready, burn = one.ready, one.ready.burn
    slots = {
        at.A_CHOICE: week.choice_at[number, one.choice.press, one.choice.way],
        at.A_SET_UP_MIN: one.set_up_min,
        at.A_START: one.start_tau,
        at.A_SET_UP_END: one.set_up_end_tau,
        at.A_PRINT_START: one.print_start_tau,
        at.A_END: one.end_tau,
        at.A_RINSE_MIN: one.rinse_min,
        at.A_STAGE_START: ready.stage_start_tau,
        at.A_STAGE_END: ready.stage_end_tau,
        at.A_BURN_START: -1 if burn is None else burn.start_tau,
        at.A_BURN_END: -1 if burn is None else burn.end_tau,
        at.A_DRY: -1 if burn is None else burn.dry_tau,
        at.A_TAPE_START: -1 if burn is None else burn.tape_start_tau,
        at.A_TAPE_END: -1 if burn is None else burn.tape_end_tau,
        at.A_KEPT_COUNT: len(one.kept),
    }
    for i, ink_id in enumerate(one.kept):
        slots[at.A_KEPT + i] = week.ink_number[ink_id]
    for slot, value in slots.items():
        s[place + slot] = value


def _write_list(s: Row, address: int, numbers: list[int]) -> None:
    s[address] = len(numbers)
    s[address + 1 : address + 1 + len(numbers)] = numbers


def _write_steps(week: WeekRow, w: Row, s: Row, state: State) -> None:
    address = int(w[at.P_STEPS])
    for number, order in enumerate(week.tables.orders):
        for steps, is_before in ((order.before, True), (order.after, False)):
            spans = state.steps.get((number, is_before))
            for i in range(len(steps)):
                s[address] = -1 if spans is None else spans[i].start_tau
                s[address + 1] = -1 if spans is None else spans[i].end_tau
                address += 2


def _write_track(s: Row, address: int, track: Track) -> None:
    """A track of one limit, with the guard bit of `W_ONE_GUARD`."""
    s[address] = len(track.times)
    for i, (tau, free) in enumerate(zip(track.times, track.free, strict=True)):
        s[address + 1 + 2 * i] = tau
        s[address + 2 + 2 * i] = free - track.guards + (1 << 40)


def _write_floor(week: WeekRow, s: Row, address: int, track: Track) -> None:
    step = week.packing.words + 1
    s[address] = len(track.times)
    for i, (tau, free) in enumerate(zip(track.times, track.free, strict=True)):
        first = address + 1 + i * step
        s[first] = tau
        s[first + 1 : first + step] = week.packing.words_of(free, guarded=True)


@compiled_and_kept
def summed_up(w: Row, s: Row) -> tuple[int, int, int]:
    """(cost without overtime, earliness, cents times minutes of all lateness) of a finished row."""
    earliness = late = 0
    for number in range(w[W_ORDER_COUNT]):
        order = w[w[W_ORDERS] + number]
        packed_tau = s[w[P_PACKED] + number]
        earliness += packed_tau
        over_min = packed_tau - w[w[order + O_PICKUPS] + w[order + O_MUST_LEAVE]]
        if over_min > 0:
            late += w[order + O_LATE_CENTS] * over_min
    for number in range(w[W_RUN_COUNT]):
        earliness += s[placed_of(w, number) + A_END]
    return cost_cents(s), earliness, late

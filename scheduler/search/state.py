"""A plan in the making: what is placed so far, what is still free, and what it costs up to here."""

from __future__ import annotations

from typing import NamedTuple

from scheduler.search.frames import FrameLedger
from scheduler.search.profiles import Track
from scheduler.search.set_ups import Kept
from scheduler.search.tables import ChoiceSpec, Opened, RunSpec, SetSpec, Tables
from scheduler.search.timing import NEVER

Pieces = list[tuple[int, int]]
NO_PIECES: Pieces = []


class BurnSpan(NamedTuple):
    """One burn: exposed and washed out [start, end), dry from dry on, taped [tape, tape end)."""

    start_tau: int
    end_tau: int
    dry_tau: int
    tape_start_tau: int
    tape_end_tau: int
    pieces: Pieces
    tape_pieces: Pieces


class StepSpan(NamedTuple):
    """One visit of an order to a station, with the pieces in which it is worked on."""

    start_tau: int
    end_tau: int
    pieces: Pieces


class Ready(NamedTuple):
    """What happens off the press before a set-up. stage_start_tau -1: no staging. from_tau: set-up may start."""

    burn: BurnSpan | None
    stage_start_tau: int
    stage_end_tau: int
    stage_pieces: Pieces
    from_tau: int


class Placed(NamedTuple):
    """A run on a press, with the pieces in which people and belt are used.

    rinse_min: minutes of its print in which inks are rinsed out before long stops and loaded after them.
    """

    choice: ChoiceSpec
    kept: Kept
    set_up_min: int
    start_tau: int
    set_up_end_tau: int
    print_start_tau: int
    end_tau: int
    set_up_pieces: Pieces
    print_pieces: Pieces
    ready: Ready
    rinse_min: int = 0


class State:
    """Everything a partial plan has used up. Numbers are those of `Tables`.

    queues[press] and uses[set]: run numbers in order of time. reclaimed[(set, run)]: block. packed_tau -1: not yet.
    steps[(order, before its prints)]: its visits to stations, once they are placed.
    least_left: cents that the runs not placed yet will cost at least. version counts the events that may free a run
    that was put off.
    """

    __slots__ = (
        "ahead_cents",
        "block_left",
        "burn_cents",
        "cushion_cents",
        "finish_pieces",
        "finish_tau",
        "floor",
        "late_cents",
        "least_left",
        "ledger",
        "move_cents",
        "order_left",
        "packed_tau",
        "placed",
        "print_cents",
        "queues",
        "rack",
        "reclaimed",
        "set_left",
        "set_up_cents",
        "shots",
        "steps",
        "uses",
        "version",
        "waiting_locks",
    )

    floor: Track
    shots: Track
    rack: Track
    ledger: FrameLedger
    placed: list[Placed | None]
    queues: list[list[int]]
    uses: list[list[int]]
    reclaimed: dict[tuple[int, int], int]
    block_left: list[int]
    order_left: list[int]
    set_left: list[int]
    finish_tau: list[int]
    finish_pieces: list[Pieces]
    packed_tau: list[int]
    steps: dict[tuple[int, bool], tuple[StepSpan, ...]]
    late_cents: int
    cushion_cents: int
    set_up_cents: int
    print_cents: int
    burn_cents: int
    ahead_cents: int
    move_cents: int
    least_left: int
    version: int
    waiting_locks: list[int]

    def copy(self) -> State:
        """A partial plan of its own that starts out the same."""
        twin = State.__new__(State)
        twin.floor = self.floor.copy()
        twin.shots = self.shots.copy()
        twin.rack = self.rack.copy()
        twin.ledger = self.ledger.copy()
        twin.placed = self.placed.copy()
        twin.queues = [queue.copy() for queue in self.queues]
        twin.uses = [uses.copy() for uses in self.uses]
        twin.reclaimed = self.reclaimed.copy()
        twin.block_left = self.block_left.copy()
        twin.order_left = self.order_left.copy()
        twin.set_left = self.set_left.copy()
        twin.finish_tau = self.finish_tau.copy()
        twin.finish_pieces = self.finish_pieces.copy()
        twin.packed_tau = self.packed_tau.copy()
        twin.steps = self.steps.copy()
        twin.late_cents = self.late_cents
        twin.cushion_cents = self.cushion_cents
        twin.set_up_cents = self.set_up_cents
        twin.print_cents = self.print_cents
        twin.burn_cents = self.burn_cents
        twin.ahead_cents = self.ahead_cents
        twin.move_cents = self.move_cents
        twin.least_left = self.least_left
        twin.version = self.version
        twin.waiting_locks = self.waiting_locks.copy()
        return twin

    @property
    def cost_cents(self) -> int:
        """Cost so far, overtime left out. It falls only if a fixed run, timed anew, is packed earlier."""
        work_cents = self.set_up_cents + self.print_cents + self.burn_cents + self.ahead_cents
        return self.late_cents + self.cushion_cents + work_cents + self.move_cents

    def of(self, run: int) -> Placed:
        """A run that is placed."""
        found = self.placed[run]
        assert found is not None
        return found


def empty_state(tables: Tables, opened: Opened) -> State:
    """Nothing placed; frames of burned sets that hang are in the reclaim blocks they are booked for."""
    state = State.__new__(State)
    state.floor = opened.floor.copy()
    state.shots = opened.shots.copy()
    state.rack = opened.rack.copy()
    state.ledger = FrameLedger(tables.frames)
    class_number = {class_id: i for i, class_id in enumerate(tables.frames.class_ids)}
    block_end = {block_id: tables.blocks[i][1] for i, block_id in enumerate(tables.block_ids)}
    for block_id, class_id, count in tables.week.early_reclaims:
        state.ledger.reclaim(block_end[block_id], ((class_number[class_id], count),))
    state.placed = [None] * len(tables.runs)
    state.queues = [[] for _ in tables.week.presses]
    state.uses = [[] for _ in tables.sets]
    state.reclaimed = {}
    state.block_left = [places for _, _, places in tables.blocks]
    state.order_left = [len(order.runs) for order in tables.orders]
    state.set_left = [len(one.runs) for one in tables.sets]
    state.finish_tau = [-1] * len(tables.orders)
    state.finish_pieces = [NO_PIECES] * len(tables.orders)
    state.packed_tau = [-1] * len(tables.orders)
    state.steps = {}
    state.late_cents = state.cushion_cents = state.set_up_cents = state.move_cents = 0
    state.burn_cents = state.ahead_cents = state.print_cents = 0
    state.least_left = sum(run.least_cents for run in tables.runs) + sum(_first_burn_cents(one) for one in tables.sets)
    state.version = 0
    state.waiting_locks = []
    return state


def put_in(tables: Tables, state: State, run: RunSpec, one: Placed, queue_at: int, use_at: int) -> None:
    """Book a run: press, people, belt, and its burn with rack, exposure unit and frames."""
    _book(tables, state, run, one, 1)
    state.placed[run.number] = one
    state.queues[one.choice.press].insert(queue_at, run.number)
    state.order_left[run.order] -= 1
    state.least_left -= run.least_cents
    if run.screen_set >= 0:
        if not state.uses[run.screen_set]:
            state.least_left -= _first_burn_cents(tables.sets[run.screen_set])
        state.uses[run.screen_set].insert(use_at, run.number)
        state.set_left[run.screen_set] -= 1


def take_out(tables: Tables, state: State, run: RunSpec) -> Placed:
    """Strike a run out again; returns what it was."""
    one = state.of(run.number)
    _book(tables, state, run, one, -1)
    state.placed[run.number] = None
    state.queues[one.choice.press].remove(run.number)
    state.order_left[run.order] += 1
    state.least_left += run.least_cents
    if run.screen_set >= 0:
        state.uses[run.screen_set].remove(run.number)
        if not state.uses[run.screen_set]:
            state.least_left += _first_burn_cents(tables.sets[run.screen_set])
        state.set_left[run.screen_set] += 1
    return one


def _book(tables: Tables, state: State, run: RunSpec, one: Placed, sign: int) -> None:
    choice, ready = one.choice, one.ready
    floor = state.floor
    if choice.set_up_need:
        floor.take_all(one.set_up_pieces, sign * choice.set_up_need)
    if choice.print_need:
        floor.take_all(one.print_pieces, sign * choice.print_need)
    if choice.flash_need:
        floor.take(one.start_tau, one.end_tau, sign * choice.flash_need)
    if tables.stage_need:
        floor.take_all(ready.stage_pieces, sign * tables.stage_need)
    state.set_up_cents += sign * (one.set_up_min + choice.wash_up_min + one.rinse_min) * choice.cents_per_min
    state.print_cents += sign * choice.print_cents
    state.move_cents += sign * _move_cents(tables, run, one)
    burn = ready.burn
    if burn is None:
        return
    screen_set = tables.sets[run.screen_set]
    if tables.room_need:
        floor.take_all(burn.pieces, sign * tables.room_need)
        floor.take_all(burn.tape_pieces, sign * tables.room_need)
    state.shots.take(burn.start_tau, burn.end_tau, sign)
    state.rack.take(burn.end_tau, burn.dry_tau, sign * screen_set.screens)
    state.burn_cents += sign * screen_set.burn_cents
    stands_min = one.start_tau - burn.tape_end_tau
    if stands_min < tables.ahead_min:
        state.ahead_cents += sign * (tables.ahead_min - stands_min) * tables.not_ahead_cents_per_min
    if sign > 0:
        state.ledger.burn(burn.start_tau, screen_set.frames)
    else:
        state.ledger.unburn(burn.start_tau, screen_set.frames)


def _first_burn_cents(one: SetSpec) -> int:
    """What the first use of a set costs for its burn, unless it has started: then the set counts as burned."""
    return 0 if one.is_burned_now or one.is_started or not one.runs else one.burn_cents


def _move_cents(tables: Tables, run: RunSpec, one: Placed) -> int:
    if run.announced_press == -1:
        return 0
    prices = tables.week.prices
    is_moved = one.choice.press != run.announced_press or (
        abs(one.start_tau - run.announced_tau) > prices.move_free_min
    )
    return prices.move_cents if is_moved else 0


def needs_burn(tables: Tables, state: State, run: RunSpec, use_at: int) -> int:
    """Shop minute from which the run's set may be burned for it; NEVER if it stands ready and needs no burn.

    use_at: place among the set's uses so far.
    """
    if run.screen_set < 0 or run.is_started:
        return NEVER
    screen_set = tables.sets[run.screen_set]
    if not screen_set.screens:
        return NEVER
    if use_at == 0:
        return NEVER if screen_set.is_burned_now else run.art_tau
    block = state.reclaimed.get((run.screen_set, state.uses[run.screen_set][use_at - 1]))
    return NEVER if block is None else max(run.art_tau, tables.blocks[block][1])

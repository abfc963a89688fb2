"""The earliest place of each activity, given everything placed so far.

Each search jumps from clash to clash. That is exact: a run that starts later covers no minute before its start, so
whatever clashes with it must be over before it starts.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from enum import Enum
from typing import NamedTuple

from scheduler.domain.week import DryerLine
from scheduler.search.profiles import Track
from scheduler.search.set_ups import Kept
from scheduler.search.state import NO_PIECES, BurnSpan, Pieces, Placed, Ready, State
from scheduler.search.tables import ChoiceSpec, Opened, OrderSpec, RunSpec, Tables
from scheduler.search.timing import NEVER, Hours, Rinsed, first_print, set_up_by
from scheduler.search.visiting import back_from_stations


class Stuck(Enum):
    """Why a run cannot be placed right now."""

    FRAMES = "no coated frames for its screens"
    ROOM = "the screen room has no room for its screens in time"
    STATION = "its garments are not back from other stations in time"
    STAGING = "nobody can stage it in time"
    PRESS = "no press has room for it in time"
    AFTER = "it prints after a run that is not placed yet"
    FIXED = "it cannot start when it is fixed to start"
    PACKING = "its order cannot be packed before the last pick-up"


def earliest_work(
    hours: Hours, floor: Track, from_tau: int, work_min: int, need: int
) -> tuple[int, int, Pieces] | None:
    """Earliest (start, end, pieces) of hands-on work from `from_tau` on, None if the hours do not suffice."""
    index = hours.index_from(from_tau)
    while index + work_min <= hours.total:
        pieces = hours.pieces(index, index + work_min)
        over_tau = floor.clash_end_of(pieces, need) if need else 0
        if not over_tau:
            return pieces[0][0], pieces[-1][1], pieces
        index = hours.index_from(over_tau)
    return None


def make_ready(
    tables: Tables, opened: Opened, state: State, run: RunSpec, burn_from_tau: int, not_before_tau: int
) -> Ready | Stuck:
    """Burn, tape and stage for a run as early as can be. burn_from_tau NEVER: the set stands ready."""
    burn: BurnSpan | None = None
    from_tau = run.blanks_tau
    if tables.orders[run.order].before:
        back_tau = back_from_stations(tables, opened, state, run.order)
        if back_tau is None:
            return Stuck.STATION
        from_tau = max(from_tau, back_tau)
    if burn_from_tau != NEVER:
        made = earliest_burn(tables, opened, state, run, burn_from_tau)
        if isinstance(made, Stuck):
            return made
        burn = made
        from_tau = max(from_tau, burn.tape_end_tau)
    if not tables.stage_min:
        return Ready(burn, -1, -1, NO_PIECES, max(from_tau, not_before_tau))
    staged = earliest_work(opened.staging, state.floor, from_tau, tables.stage_min, tables.stage_need)
    if staged is None:
        return Stuck.STAGING
    return Ready(burn, *staged, max(staged[1], not_before_tau))


def earliest_burn(tables: Tables, opened: Opened, state: State, run: RunSpec, from_tau: int) -> BurnSpan | Stuck:
    """Burn and tape a run's set: frames, exposure unit, people and rack have room."""
    screen_set = tables.sets[run.screen_set]
    hours, burn_min = opened.room, screen_set.burn_min
    need = tables.room_need
    index = hours.index_from(from_tau)
    if index >= hours.total:
        return Stuck.ROOM
    coated_tau = state.ledger.earliest(hours.minute(index), screen_set.frames)
    if coated_tau == NEVER:
        return Stuck.FRAMES
    index = max(index, hours.index_from(coated_tau))
    while index + burn_min <= hours.total and index < hours.total:
        later = hours.after_long_stop(index, index + burn_min, tables.room_idle_ok_min)
        if later >= 0:
            index = later
            continue
        start_tau = hours.minute(index)
        pieces = hours.pieces(index, index + burn_min)
        end_tau = pieces[-1][1] if pieces else start_tau
        over_tau = state.shots.clash_end(start_tau, end_tau, 1) if pieces else 0
        if not over_tau and need:
            over_tau = state.floor.clash_end_of(pieces, need)
        if over_tau:
            index = max(index + 1, hours.index_from(over_tau))
            continue
        dry_tau = tables.drying.dry_tau(end_tau, tables.dry_min)
        over_tau = state.rack.clash_end(end_tau, dry_tau, screen_set.screens) if dry_tau > end_tau else 0
        if over_tau:
            index = max(index + 1, hours.index_from(over_tau) - burn_min)
            continue
        burn = BurnSpan(start_tau, end_tau, dry_tau, dry_tau, dry_tau, pieces, NO_PIECES)
        return _taped(tables, opened, state, burn, screen_set.tape_min)
    return Stuck.ROOM


def _taped(tables: Tables, opened: Opened, state: State, burn: BurnSpan, tape_min: int) -> BurnSpan | Stuck:
    if not tape_min:
        return burn
    taped = earliest_work(opened.room, state.floor, burn.dry_tau, tape_min, tables.room_need)
    if taped is None:
        return Stuck.ROOM
    start_tau, end_tau, pieces = taped
    return burn._replace(tape_start_tau=start_tau, tape_end_tau=end_tau, tape_pieces=pieces)


class Fences(NamedTuple):
    """What the print of a run must keep clear of: other runs on its lots, and runs before or after it.

    apart: the print ends by the first minute or starts from the second on, for each pair.
    """

    end_by_tau: int
    print_from_tau: int
    apart: tuple[tuple[int, int], ...]


def fences_of(tables: Tables, state: State, run: RunSpec) -> Fences:
    """Read a run's fences off the runs placed so far."""
    placed, specs = state.placed, tables.runs
    end_by_tau, print_from_tau = NEVER, 0
    for number in run.after:
        one = placed[number]
        if one is not None:
            print_from_tau = max(print_from_tau, one.end_tau + specs[number].gap_min)
    for number in run.before:
        one = placed[number]
        if one is not None:
            end_by_tau = min(end_by_tau, one.print_start_tau - run.gap_min)
    apart = []
    for number in run.mates:
        one = placed[number]
        if one is not None:
            apart.append((one.print_start_tau - run.gap_min, one.end_tau + specs[number].gap_min))
    return Fences(end_by_tau, print_from_tau, tuple(apart))


def earliest_on_press(
    opened: Opened,
    state: State,
    run: RunSpec,
    choice: ChoiceSpec,
    set_up_min: int,
    from_tau: int,
    end_by_tau: int,
    fences: Fences,
) -> tuple[int, int, int] | None:
    """Earliest (first minute, first minute of print, end) of a run on its press.

    The first is counted in the press's open minutes, the others in those in which it can print. None if it cannot end
    by `end_by_tau`.
    """
    hours, prints, floor = opened.presses[choice.press], opened.prints[choice.press], state.floor
    is_hot = prints is hours
    total, work_min, idle_ok_min = prints.total, choice.work_min, run.idle_ok_min
    end_by_tau = min(end_by_tau, fences.end_by_tau)
    index = hours.index_from(from_tau)
    if fences.print_from_tau:
        index = max(index, set_up_by(hours, prints, fences.print_from_tau) - set_up_min)
    while True:
        print_index = index + set_up_min if is_hot else first_print(hours, prints, index + set_up_min)
        if idle_ok_min < 0:
            end_index = prints.print_end(print_index, work_min)
        else:
            end_index, later = _rinsed(hours, prints, run, choice, (index, set_up_min, print_index))
            if later >= 0:
                index = later
                continue
        if end_index > total:
            return None
        end_tau = prints.end(end_index) if work_min else prints.minute(print_index)
        if end_tau > end_by_tau:
            return None
        if fences.apart:
            clear_tau = _clear_of(fences.apart, prints.minute(print_index), end_tau)
            if clear_tau:
                index = max(index + 1, set_up_by(hours, prints, clear_tau) - set_up_min)
                continue
        if choice.print_need:
            over_tau = floor.clash_end_of(prints.pieces(print_index, end_index), choice.print_need)
            if over_tau:
                index = max(index + 1, set_up_by(hours, prints, over_tau) - set_up_min)
                continue
        if set_up_min and choice.set_up_need:
            over_tau = floor.clash_end_of(hours.pieces(index, index + set_up_min), choice.set_up_need)
            if over_tau:
                index = max(index + 1, hours.index_from(over_tau))
                continue
        if choice.flash_need and end_tau > (start_tau := hours.minute(index)):
            over_tau = floor.clash_end(start_tau, end_tau, choice.flash_need)
            if over_tau:
                index = max(index + 1, hours.index_from(over_tau))
                continue
        return index, print_index, end_index


def earliest_way(
    opened: Opened,
    state: State,
    run: RunSpec,
    choice: ChoiceSpec,
    set_up_min: int,
    from_tau: int,
    end_by_tau: int,
    fences: Fences,
    exact_tau: int = -1,
) -> tuple[ChoiceSpec, tuple[int, int, int]] | None:
    """The way to print a run on its press that ends earliest, and its place; of ways that end alike the fastest.

    exact_tau: the set-up must start then, -1 if it need not.
    """
    plain = fences
    if choice.setting_id is not None:
        fences = set_otherwise(opened, state, run, choice, plain)
    at = earliest_on_press(opened, state, run, choice, set_up_min, from_tau, end_by_tau, fences)
    if not choice.other_ways:
        return None if at is None else (choice, at)
    hours, prints = opened.presses[choice.press], opened.prints[choice.press]
    if at is not None and at[0] == hours.index_from(from_tau) and choice.work_min <= least_work_min(choice):
        return choice, at  # nothing holds it up: no other way ends sooner
    best = None
    if at is not None and exact_tau in (-1, hours.minute(at[0])):
        best, end_by_tau = (choice, at), _end_tau(prints, at) - 1
    for way in choice.other_ways:
        if way.setting_id is not None:
            fences = set_otherwise(opened, state, run, way, plain)
        at = earliest_on_press(opened, state, run, way, set_up_min, from_tau, end_by_tau, fences)
        if at is not None and exact_tau in (-1, hours.minute(at[0])):
            best, end_by_tau = (way, at), _end_tau(prints, at) - 1
    return best


def least_work_min(choice: ChoiceSpec) -> int:
    """Minutes of the fastest way to print: at another setting of its dryer a run may go faster than at its first."""
    return min(one.work_min for one in (choice, *choice.other_ways))


def set_otherwise(opened: Opened, state: State, run: RunSpec, choice: ChoiceSpec, fences: Fences) -> Fences:
    """The fences, and what the print must keep clear of: runs that want its dryer set otherwise."""
    dryer = opened.dryers[choice.press]
    if dryer is None or choice.setting_id is None:
        return fences
    found = [
        keeps_apart(
            dryer.line,
            (choice.setting_id, run.cure_min),
            (its_id, opened.cure_min[number]),
            (one.print_start_tau, one.end_tau),
        )
        for press in dryer.presses
        for number in state.queues[press]
        if (its_id := (one := state.of(number)).choice.setting_id) is not None and its_id != choice.setting_id
    ]
    return fences._replace(apart=(*fences.apart, *found)) if found else fences


def keeps_apart(
    line: DryerLine, own: tuple[str, int], its: tuple[str, int], its_print_tau: tuple[int, int]
) -> tuple[int, int]:
    """A print at one setting ends by the first minute, or starts from the second on, beside a print at another.

    own, its: setting and cure minutes. its_print_tau: from when to when the other one prints.
    """
    (setting_id, cure_min), (its_id, its_cure_min), (its_start_tau, its_end_tau) = own, its, its_print_tau
    on = line.switched_on_tau
    end_by_tau = its_start_tau - cure_min - line.settle_min(setting_id, its_id)
    from_tau = its_end_tau + its_cure_min + line.settle_min(its_id, setting_id)
    # Off in between, it comes on at the setting that is wanted.
    last = bisect_right(on, its_start_tau)
    if last:
        end_by_tau = max(end_by_tau, on[last - 1])
    first = bisect_left(on, its_end_tau)
    if first < len(on):
        from_tau = min(from_tau, on[first])
    return end_by_tau, from_tau


def _end_tau(prints: Hours, at: tuple[int, int, int]) -> int:
    return prints.end(at[2]) if at[2] > at[1] else prints.minute(at[1])


def _rinsed(hours: Hours, prints: Hours, run: RunSpec, choice: ChoiceSpec, at: tuple[int, int, int]) -> tuple[int, int]:
    """(end of a print whose inks dry, -1); or (NEVER, later minute from which to set it up).

    at: first minute, set-up minutes, first minute of print. Later, if its inks would stand over a stop before it
    prints, if there is no time to rinse out before a stop inside it, or if a start after that stop ends no later. Fixed
    runs start where they are fixed.
    """
    index, set_up_min, print_index = at
    if print_index >= prints.total:
        return NEVER, -1
    print_from = hours.index_from(prints.minute(print_index))
    stop_index = hours.after_long_stop(index, print_from + 1, run.idle_ok_min)
    if stop_index >= 0:
        return NEVER, stop_index
    through = rinsed_print(prints, run, choice, print_index)
    if through.start_from >= 0:
        later = set_up_by(hours, prints, prints.minute(through.start_from)) - set_up_min
        return NEVER, max(index + 1, later)
    if through.stops and run.fixed_start_tau < 0:
        stop_index = hours.after_long_stop(print_from, hours.total, run.idle_ok_min)
        print_later = first_print(hours, prints, stop_index + set_up_min) if stop_index >= 0 else NEVER
        if rinsed_print(prints, run, choice, print_later).end_index <= through.end_index:
            return NEVER, stop_index
    return through.end_index, -1


def rinsed_print(prints: Hours, run: RunSpec, choice: ChoiceSpec, print_index: int) -> Rinsed:
    """How a print whose inks dry goes from this minute on."""
    return prints.rinsed_print_end(print_index, choice.work_min, run.idle_ok_min, choice.wash_up_min, choice.re_ink_min)


def _clear_of(apart: tuple[tuple[int, int], ...], start_tau: int, end_tau: int) -> int:
    """Minute from which a print is clear of a run it would overlap with on a lot; 0 if it is clear of all."""
    for end_by_tau, from_tau in apart:
        if end_tau > end_by_tau and start_tau < from_tau:
            return from_tau
    return 0


def placed_at(
    opened: Opened,
    run: RunSpec,
    choice: ChoiceSpec,
    kept: Kept,
    set_up_min: int,
    at: tuple[int, int, int],
    ready: Ready,
) -> Placed:
    """The record of a run at a place found by `earliest_on_press`."""
    hours, prints = opened.presses[choice.press], opened.prints[choice.press]
    index, print_index, end_index = at
    start_tau = hours.minute(index)
    print_start_tau = prints.minute(print_index)
    stops = rinsed_print(prints, run, choice, print_index).stops if run.idle_ok_min >= 0 else 0
    return Placed(
        choice=choice,
        kept=kept,
        set_up_min=set_up_min,
        start_tau=start_tau,
        set_up_end_tau=hours.end(index + set_up_min) if set_up_min else start_tau,
        print_start_tau=print_start_tau,
        end_tau=prints.end(end_index) if end_index > print_index else print_start_tau,
        set_up_pieces=hours.pieces(index, index + set_up_min),
        print_pieces=prints.pieces(print_index, end_index),
        ready=ready,
        rinse_min=stops * (choice.wash_up_min + choice.re_ink_min),
    )


def earliest_packing(
    tables: Tables, opened: Opened, state: State, order: OrderSpec, after_tau: int
) -> tuple[int, int, Pieces] | None:
    """Earliest (start, packed, pieces) of finishing an order whose runs are all placed; None if not in time.

    after_tau: when the order is back from stations that come after its prints.
    """
    start_from_tau = end_from_tau = after_tau
    for number in order.runs:
        one = state.of(number)
        start_from_tau = max(start_from_tau, one.print_start_tau + order.finish_lag_min)
        end_from_tau = max(end_from_tau, one.end_tau + tables.runs[number].cure_min + order.last_box_min)
    latest_tau = order.pickups_tau[-1]
    if not order.finish_min:
        return (end_from_tau, end_from_tau, NO_PIECES) if end_from_tau <= latest_tau else None
    hours, work_min = opened.finishing, order.finish_min
    index = max(hours.index_from(start_from_tau), hours.index_from(end_from_tau) - work_min)
    while index + work_min <= hours.total:
        if hours.end(index + work_min) < end_from_tau:
            index += 1
            continue
        pieces = hours.pieces(index, index + work_min)
        if pieces[-1][1] > latest_tau:
            return None
        over_tau = state.floor.clash_end_of(pieces, tables.finish_need) if tables.finish_need else 0
        if not over_tau:
            return pieces[0][0], pieces[-1][1], pieces
        index = max(index + 1, hours.index_from(over_tau))
    return None

"""Putting one run at one place: at the end of a press, before a run that is fixed, or exactly where it is fixed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from scheduler.domain.week import Stack
from scheduler.search.packing import repack, unpack
from scheduler.search.placing import (
    Fences,
    Stuck,
    earliest_way,
    fences_of,
    least_work_min,
    make_ready,
    placed_at,
)
from scheduler.search.set_ups import Kept, SetUps
from scheduler.search.state import NO_PIECES, Placed, Ready, State, needs_burn, put_in, take_out
from scheduler.search.tables import ChoiceSpec, Opened, RunSpec, Tables
from scheduler.search.timing import NEVER


@dataclass(frozen=True, slots=True)
class Bench:
    """What every placing needs: the week in numbers, the open hours, remembered set-ups."""

    tables: Tables
    opened: Opened
    set_ups: SetUps
    ink_runs: dict[tuple[int, str], tuple[int, ...]]

    def stands(self, state: State, press: int, queue_at: int) -> tuple[int, Stack, Kept, int]:
        """What stands on a press before the run at this place of its queue: key, stack, kept inks, free from."""
        if queue_at == 0:
            return -1 - press, self.tables.week.presses[press].now_on, (), 0
        one = state.of(state.queues[press][queue_at - 1])
        return one.choice.key, one.choice.stack, one.kept, one.end_tau

    def keep(self, state: State, old_key: int, old: Stack, choice: ChoiceSpec, before: Kept, liked: Kept = ()) -> Kept:
        """Inks to keep beside a run; `liked` ones first, then those most runs still to come could print with."""
        if choice.keep_room <= 0:
            return ()

        def wanted(press: int, ink_id: str) -> int:
            if ink_id in liked:
                return 1 << 20
            return sum(state.placed[number] is None for number in self.ink_runs.get((press, ink_id), ()))

        return self.set_ups.kept(old_key, old, choice, before, wanted)


def ink_runs(tables: Tables) -> dict[tuple[int, str], tuple[int, ...]]:
    """Runs that could print with an ink on a press."""
    found: dict[tuple[int, str], list[int]] = {}
    for run in tables.runs:
        for choice in run.choices:
            for ink_id in sorted({head.ink_id for head in choice.stack.heads}):
                found.setdefault((choice.press, ink_id), []).append(run.number)
    return {key: tuple(numbers) for key, numbers in found.items()}


def append(
    bench: Bench, state: State, run: RunSpec, choice: ChoiceSpec, ready: Ready, fences: Fences, end_by_tau: int
) -> Placed | None:
    """The earliest place of a run after all others on its press, None if it cannot end by `end_by_tau`."""
    press = choice.press
    old_key, old, before, free_tau = bench.stands(state, press, len(state.queues[press]))
    kept = bench.keep(state, old_key, old, choice, before)
    set_up_min = bench.set_ups.minutes(old_key, old, choice, before, kept)
    from_tau = max(ready.from_tau, free_tau)
    found = earliest_way(bench.opened, state, run, choice, set_up_min, from_tau, end_by_tau, fences)
    return None if found is None else placed_at(bench.opened, run, found[0], kept, set_up_min, found[1], ready)


def insert(
    bench: Bench,
    state: State,
    run: RunSpec,
    choice: ChoiceSpec,
    queue_at: int,
    use_at: int,
    *,
    is_exact: bool = False,
    is_back: bool = False,
    keep: Kept | None = None,
    retimed: Iterable[int] = (),
    not_before_tau: int = 0,
    ready: Ready | Stuck | None = None,
) -> Stuck | None:
    """Put a run at this place of its press's queue and of its set's uses; None if it worked.

    retimed: fixed runs that come next; they are taken out and put back at their fixed starts, as what stands before
    them is new. keep: inks it must keep because the run after it counts on them. ready: burn and
    staging where they are known to fit. Changes `state` either way: try it
    on a copy.
    """
    tables = bench.tables
    queue = state.queues[choice.press]
    uses = state.uses[run.screen_set] if run.screen_set >= 0 else []
    if not is_back and any((run.screen_set, number) in state.reclaimed for number in uses[use_at:]):
        return Stuck.FIXED  # a reclaim waits for every order the set was used for before it
    later = [*queue[queue_at : queue_at + 1], *uses[use_at : use_at + 1]]
    end_by_tau = min((state.of(number).start_tau for number in later), default=NEVER)
    liked = state.of(queue[queue_at]).kept if queue_at < len(queue) else ()
    put_back = sorted(
        ((state.of(number).start_tau, number, state.of(number)) for number in dict.fromkeys(retimed)),
        key=lambda item: item[:2],
    )
    followed = {number: _is_followed(state, number, one) for _, number, one in put_back}
    moved = dict.fromkeys(tables.runs[number].order for _, number, _ in put_back)
    packed = [order for order in moved if state.packed_tau[order] >= 0]
    for order in packed:
        unpack(tables, state, order)
    for _, number, _ in put_back:
        take_out(tables, state, tables.runs[number])
    if uses[:use_at]:
        not_before_tau = max(not_before_tau, state.of(uses[use_at - 1]).end_tau)
    old_key, old, before, free_tau = bench.stands(state, choice.press, queue_at)
    if keep is None:
        keep = bench.keep(state, old_key, old, choice, before, liked)
    elif not bench.set_ups.keepable(old_key, old, choice, before).issuperset(keep):
        return Stuck.FIXED
    set_up_min = run.set_up_left_min if run.is_started else bench.set_ups.minutes(old_key, old, choice, before, keep)
    if ready is None:
        ready = _ready(bench, state, run, use_at, max(free_tau, not_before_tau))
    if isinstance(ready, Stuck):
        return ready
    from_tau = max(ready.from_tau, free_tau)
    if is_exact:
        if from_tau > run.fixed_start_tau:
            return Stuck.FIXED
        from_tau = run.fixed_start_tau
    fences = fences_of(tables, state, run)
    exact_tau = run.fixed_start_tau if is_exact else -1
    found = earliest_way(bench.opened, state, run, choice, set_up_min, from_tau, end_by_tau, fences, exact_tau)
    if found is None:
        return Stuck.PRESS
    one = placed_at(bench.opened, run, found[0], keep, set_up_min, found[1], ready)
    if is_exact and one.start_tau != run.fixed_start_tau:
        return Stuck.FIXED
    put_in(tables, state, run, one, queue_at, use_at)
    for start_tau, number, was in put_back:
        other = tables.runs[number]
        why = insert(
            bench,
            state,
            other,
            other.by_press[was.choice.press],
            place_by_time(state, state.queues[was.choice.press], start_tau),
            place_by_time(state, state.uses[other.screen_set], start_tau) if other.screen_set >= 0 else 0,
            is_exact=True,
            keep=was.kept if followed[number] else None,
            is_back=True,
        )
        if why is not None:
            return Stuck.FIXED
    if not all(repack(tables, bench.opened, state, order) for order in packed):
        return Stuck.PACKING
    return None


def place_by_time(state: State, numbers: list[int], start_tau: int) -> int:
    """Where a run that starts at `start_tau` belongs among these, in order of time."""
    return sum(state.of(number).start_tau < start_tau for number in numbers)


def fix(bench: Bench, state: State, run: RunSpec) -> tuple[State | None, Stuck]:
    """Put a run exactly where it is fixed: the state after it, or None and why not."""
    why = Stuck.FIXED
    for choice in run.choices:
        if run.fixed_press not in (-1, choice.press):
            continue
        trial = state.copy()
        queue = trial.queues[choice.press]
        queue_at = place_by_time(trial, queue, run.fixed_start_tau)
        uses = trial.uses[run.screen_set] if run.screen_set >= 0 else []
        use_at = place_by_time(trial, uses, run.fixed_start_tau)
        retimed = [*queue[queue_at : queue_at + 1], *uses[use_at : use_at + 1]]
        stuck = insert(bench, trial, run, choice, queue_at, use_at, is_exact=True, retimed=retimed)
        if stuck is None:
            return trial, why
        why = stuck
    return None, why


def gap_trials(
    bench: Bench, state: State, run: RunSpec, choice: ChoiceSpec, ready: Ready | Stuck, not_before_tau: int
) -> list[tuple[Placed, State]]:
    """Places of a run before fixed runs on its press or before fixed uses of its set, with the state after each.

    ready: its burn and staging beside all that is placed; they serve wherever its set's uses stay in order.
    """
    queue = state.queues[choice.press]
    uses = state.uses[run.screen_set] if run.screen_set >= 0 else []
    found, least_min = [], least_work_min(choice)
    for queue_at, use_at in _gaps(bench, queue, uses):
        by_tau = state.of(queue[queue_at]).start_tau if queue_at < len(queue) else NEVER
        from_tau = state.of(queue[queue_at - 1]).end_tau if queue_at else 0
        use_by_tau = state.of(uses[use_at]).start_tau if use_at < len(uses) else NEVER
        use_from_tau = state.of(uses[use_at - 1]).end_tau if use_at else 0
        known = ready if use_at == len(uses) and isinstance(ready, Ready) else None
        ready_tau = known.from_tau if known is not None else 0
        room_min = min(by_tau, use_by_tau) - max(from_tau, use_from_tau, ready_tau, not_before_tau)
        if room_min < least_min:
            continue
        trial = state.copy()
        stuck = insert(
            bench,
            trial,
            run,
            choice,
            queue_at,
            use_at,
            retimed=[*queue[queue_at : queue_at + 1], *uses[use_at : use_at + 1]],
            not_before_tau=not_before_tau,
            ready=None if known is None else known._replace(from_tau=max(ready_tau, not_before_tau)),
        )
        if stuck is None:
            found.append((trial.of(run.number), trial))
    return found


def _gaps(bench: Bench, queue: list[int], uses: list[int]) -> list[tuple[int, int]]:
    """(place in the queue, place among the set's uses) with a run that is fixed in time right behind one or both."""
    specs = bench.tables.runs
    fixed = [at for at, number in enumerate(queue) if _may_go_before(specs[number])]
    first_free = len(uses)
    while first_free and _may_go_before(specs[uses[first_free - 1]]):
        first_free -= 1
    places = [
        (queue_at, use_at) for queue_at in (*fixed, len(queue)) for use_at in range(len(uses), first_free - 1, -1)
    ]
    places.remove((len(queue), len(uses)))
    return places


def _may_go_before(run: RunSpec) -> bool:
    return run.fixed_start_tau >= 0 and not run.is_started


def _is_followed(state: State, number: int, one: Placed) -> bool:
    return state.queues[one.choice.press][-1] != number


def _ready(bench: Bench, state: State, run: RunSpec, use_at: int, not_before_tau: int) -> Ready | Stuck:
    if run.is_started:
        return Ready(None, -1, -1, NO_PIECES, 0)
    burn_from_tau = needs_burn(bench.tables, state, run, use_at)
    return make_ready(bench.tables, bench.opened, state, run, burn_from_tau, not_before_tau)

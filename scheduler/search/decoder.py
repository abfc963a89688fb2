"""From a genome to a plan: each run in turn gets its earliest place among all that is placed already.

Everything a rule asks for is booked as a run is placed: burn, drying, tape, staging, set-up, print; with the last run
of an order its finishing, and then the reclaim of its sets. Started and locked runs are placed before all others. A
run that waits for frames still bound, or for a run it prints after, is put off and tried again.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.inserting import Bench, append, fix, gap_trials, ink_runs
from scheduler.search.packing import pack
from scheduler.search.placing import Stuck, fences_of, make_ready
from scheduler.search.read_out import plan_of
from scheduler.search.set_ups import SetUps
from scheduler.search.state import Placed, State, empty_state, needs_burn, put_in
from scheduler.search.tables import ChoiceSpec, Opened, RunSpec, Tables, opened_with, tables_of, with_nested
from scheduler.search.timing import NEVER

if TYPE_CHECKING:
    from scheduler.search.quick.trials import Trials


@dataclass(frozen=True, slots=True)
class Refused:
    """No plan: why, in shop words, and the runs concerned. missing: runs and orders that found no place."""

    reason: str
    run_ids: tuple[str, ...] = ()
    missing: int = 1


@dataclass(frozen=True, slots=True)
class Decoded:
    """A finished state and its cost. terms: cents per term; they sum to cost_cents."""

    tables: Tables
    state: State
    bought: frozenset[str]
    cost_cents: int
    terms: dict[str, int]

    @property
    def plan(self) -> Plan:
        """The plan itself, built when asked for."""
        return plan_of(self.tables, self.state, self.bought)

    @property
    def packed_tau(self) -> list[int]:
        """When each order is packed, by its number."""
        return self.state.packed_tau

    @property
    def late_cents_min(self) -> int:
        """Cents for a late day times minutes after the pick-up that keeps the promise, over all orders."""
        over = zip(self.tables.orders, self.state.packed_tau, strict=True)
        return sum(order.late_cents * max(0, packed_tau - order.promised_tau) for order, packed_tau in over)

    @property
    def earliness(self) -> int:
        """Sum of packing and print ends in shop minutes: tells plans of equal cost apart, less is earlier."""
        return sum(self.state.packed_tau) + sum(one.end_tau for one in self.state.placed if one is not None)


@dataclass(slots=True)
class Progress:
    """A decoding under way: the state, the next place in the order, and the runs put off (run, why, version).

    lost: runs for which there is no place any more, and why; goes_on: place the others all the same.
    """

    state: State
    at: int = 0
    put_off: list[tuple[int, Stuck, int]] = field(default_factory=list)
    lost: list[tuple[int, Stuck]] = field(default_factory=list)
    goes_on: bool = False

    def copy(self) -> Progress:
        """A progress of its own that starts out the same."""
        return Progress(self.state.copy(), self.at, self.put_off.copy(), self.lost.copy(), self.goes_on)


class Decoder:
    """Decodes genomes of one week; remembers set-ups and open hours between calls."""

    def __init__(self, week: Week) -> None:
        """Number the week."""
        self.tables = tables_of(week)
        self.set_ups = SetUps(self.tables)
        self._ink_runs = ink_runs(self.tables)
        self.has_locks = any(run.fixed_start_tau >= 0 and not run.is_started for run in self.tables.runs)
        self._bases: dict[frozenset[str], tuple[Bench, State] | Refused] = {}
        self.trials: Trials | None = None

    def decode(self, genome: Genome) -> Decoded | Refused:
        """The plan of a genome, or why there is none."""
        return self.decode_genes(genes_of(self.tables, genome))

    def decode_genes(self, genes: Genes) -> Decoded | Refused:
        """The plan of numbered genes, or why there is none."""
        begun = self.begin(genes)
        return begun if isinstance(begun, Refused) else self.finish(genes, begun)

    def begin(self, genes: Genes, *, goes_on: bool = False) -> Progress | Refused:
        """What is fixed, placed; nothing else. goes_on: do not stop at the first run without a place."""
        base = self._base(genes.bought)
        return base if isinstance(base, Refused) else Progress(base[1].copy(), goes_on=goes_on)

    def finish(self, genes: Genes, progress: Progress, limit_cents: int = NEVER) -> Decoded | Refused:
        """Place all that is left; Refused as soon as the cost passes `limit_cents`."""
        refused = self.advance(genes, progress, len(genes.order), limit_cents)
        if refused is not None:
            return refused
        if progress.put_off or progress.lost or progress.state.waiting_locks:
            return self._left_over(progress)
        state = progress.state
        terms = {
            "late": state.late_cents,
            "cushion": state.cushion_cents,
            "overtime": sum(self.tables.overtime_cents[block_id] for block_id in genes.bought),
            "set_up": state.set_up_cents,
            "printing": state.print_cents,
            "burns": state.burn_cents,
            "ahead": state.ahead_cents,
            "moves": state.move_cents,
        }
        return Decoded(self.tables, state, genes.bought, sum(terms.values()), terms)

    def advance(self, genes: Genes, progress: Progress, to: int, limit_cents: int = NEVER) -> Refused | None:
        """Place runs up to place `to` of the order; None if all is well so far."""
        base = self._base(genes.bought)
        if isinstance(base, Refused):
            return base
        bench = base[0]
        runs = self.tables.runs
        while progress.at < to:
            run = runs[genes.order[progress.at]]
            progress.at += 1
            if progress.state.placed[run.number] is not None or run.number in progress.state.waiting_locks:
                continue
            refused = self._place_or_put_off(bench, genes, progress, run)
            if refused is not None:
                return refused
            if progress.state.cost_cents + progress.state.least_left > limit_cents:
                return Refused("dearer than asked for")
        return None

    def base(self, bought: frozenset[str]) -> tuple[Opened, State] | Refused:
        """The open hours with this overtime, and a state with everything fixed in it, not to be changed."""
        base = self._base(bought)
        return base if isinstance(base, Refused) else (base[0].opened, base[1])

    def with_nested(self, blocks: frozenset[str]) -> frozenset[str]:
        """The blocks and every block that must be bought before one of them."""
        return with_nested(self.tables, blocks)

    def _place_or_put_off(self, bench: Bench, genes: Genes, progress: Progress, run: RunSpec) -> Refused | None:
        why = self._place(bench, genes, progress, run)
        if why is not None:
            if not self._may_free_up(progress, why):
                return self._lose(progress, run, why)
            progress.put_off.append((run.number, why, progress.state.version))
            return None
        if not progress.put_off and not progress.state.waiting_locks:
            return None
        return self._try_again(bench, genes, progress)

    def _may_free_up(self, progress: Progress, why: Stuck) -> bool:
        if why is Stuck.PACKING:
            return False
        return why in (Stuck.FRAMES, Stuck.AFTER) or bool(progress.state.waiting_locks)

    def _lose(self, progress: Progress, run: RunSpec, why: Stuck) -> Refused | None:
        if not progress.goes_on:
            return Refused(why.value, (run.run_id,))
        progress.lost.append((run.number, why))
        return None

    def _try_again(self, bench: Bench, genes: Genes, progress: Progress) -> Refused | None:
        """Place what was put off, first come first served, until nothing more fits."""
        moved = True
        while moved:
            moved = self._fix_waiting(bench, genes, progress)
            for at, (number, why, version) in enumerate(progress.put_off):
                run = self.tables.runs[number]
                if why is not Stuck.AFTER and version == progress.state.version:
                    continue
                again = self._place(bench, genes, progress, run)
                if again is not None and self._may_free_up(progress, again):
                    progress.put_off[at] = (number, again, progress.state.version)
                    continue
                del progress.put_off[at]
                refused = None if again is None else self._lose(progress, run, again)
                if refused is not None:
                    return refused
                moved = True
                break
        return None

    def _fix_waiting(self, bench: Bench, genes: Genes, progress: Progress) -> bool:
        moved = False
        for number in list(progress.state.waiting_locks):
            run = self.tables.runs[number]
            fixed, _ = fix(bench, progress.state, run)
            if fixed is None:
                continue
            fixed.waiting_locks.remove(number)
            fixed.version += 1
            progress.state = fixed
            moved = True
            if not fixed.order_left[run.order]:
                pack(self.tables, bench.opened, fixed, run.order, genes.release)
        return moved

    def _place(self, bench: Bench, genes: Genes, progress: Progress, run: RunSpec) -> Stuck | None:
        """Put a run at its earliest end on the press its genes ask for, or on the best one; None if it worked."""
        state, tables = progress.state, self.tables
        if any(state.placed[number] is None for number in run.after):
            return Stuck.AFTER
        uses = state.uses[run.screen_set] if run.screen_set >= 0 else []
        not_before_tau = state.of(uses[-1]).end_tau if uses else 0
        burn_from_tau = needs_burn(tables, state, run, len(uses))
        ready = make_ready(tables, bench.opened, state, run, burn_from_tau, not_before_tau)
        why = ready if isinstance(ready, Stuck) else Stuck.PRESS
        if not isinstance(ready, Stuck) and ready.burn is not None and run.number in genes.stands:
            ready = ready._replace(from_tau=max(ready.from_tau, ready.burn.tape_end_tau + tables.ahead_min))
        fences = fences_of(tables, state, run)
        best: tuple[tuple[int, bool, int, int], Placed, State | None] | None = None
        for choice in self._choices(genes, run):
            waits_tau = self._waits_tau(genes, run, choice)
            if not isinstance(ready, Stuck):
                began = ready._replace(from_tau=max(ready.from_tau, waits_tau)) if waits_tau else ready
                by_tau = min(best[0][0] if best else NEVER, self._held_from(state, choice.press))
                one = append(bench, state, run, choice, began, fences, by_tau)
                if one is not None:
                    best = _better(best, (_rank(one), one, None))
            if self.has_locks:
                for one, trial in gap_trials(bench, state, run, choice, ready, waits_tau):
                    best = _better(best, (_rank(one), one, trial))
        if best is None:
            return why
        _, one, with_run = best
        after = state if with_run is None else with_run
        if with_run is None:
            put_in(tables, state, run, one, len(state.queues[one.choice.press]), len(uses))
        progress.state = after
        if not after.order_left[run.order] and not pack(self.tables, bench.opened, after, run.order, genes.release):
            return Stuck.PACKING
        return None

    def _choices(self, genes: Genes, run: RunSpec) -> tuple[ChoiceSpec, ...]:
        press = run.fixed_press if run.fixed_press >= 0 else genes.press[run.number]
        if press < 0:
            return run.choices
        choice = run.by_press.get(press)
        return () if choice is None else (choice,)

    def _waits_tau(self, genes: Genes, run: RunSpec, choice: ChoiceSpec) -> int:
        """Shop minute before which the genes do not want the run set up on this press."""
        later_tau = genes.later[run.number]
        if run.number in genes.waits and choice.press == run.announced_press:
            return max(later_tau, run.announced_tau - self.tables.week.prices.move_free_min)
        return later_tau

    def _held_from(self, state: State, press: int) -> int:
        """Shop minute from which a press is held for fixed runs that still wait for frames."""
        if not state.waiting_locks:
            return NEVER
        runs = self.tables.runs
        return min(
            (
                runs[number].fixed_start_tau
                for number in state.waiting_locks
                if press in runs[number].by_press and runs[number].fixed_press in (-1, press)
            ),
            default=NEVER,
        )

    def _base(self, bought: frozenset[str]) -> tuple[Bench, State] | Refused:
        """Open hours and a state with everything fixed in it, remembered per set of bought overtime."""
        base = self._bases.get(bought)
        if base is None:
            if len(self._bases) > 64:
                self._bases.clear()
            base = self._bases[bought] = self._new_base(bought)
        return base

    def _new_base(self, bought: frozenset[str]) -> tuple[Bench, State] | Refused:
        try:
            opened = opened_with(self.tables, bought)
        except ValueError as error:
            return Refused(str(error))
        bench = Bench(self.tables, opened, self.set_ups, self._ink_runs)
        state = empty_state(self.tables, opened)
        fixed = [run for run in self.tables.runs if run.fixed_start_tau >= 0]
        for run in sorted(fixed, key=lambda r: (not r.is_started, r.fixed_start_tau, r.number)):
            fixed_state, why = fix(bench, state, run)
            if fixed_state is not None:
                state = fixed_state
            elif why is Stuck.FRAMES:
                state.waiting_locks.append(run.number)
            else:
                return Refused(Stuck.FIXED.value, (run.run_id,))
        for number, order in enumerate(self.tables.orders):
            if not state.order_left[number] and not pack(self.tables, bench.opened, state, number, frozenset()):
                return Refused(Stuck.PACKING.value, tuple(self.tables.runs[run].run_id for run in order.runs))
        return bench, state

    def _left_over(self, progress: Progress) -> Refused:
        runs = self.tables.runs
        left = progress.lost + [(number, why) for number, why, _ in progress.put_off]
        left += [(number, Stuck.FRAMES) for number in progress.state.waiting_locks]
        return Refused(left[0][1].value, tuple(runs[number].run_id for number, _ in left), len(left))


def decode(week: Week, genome: Genome) -> Decoded | Refused:
    """The plan of a genome, or why there is none. For many genomes of one week keep a `Decoder`."""
    return Decoder(week).decode(genome)


def _rank(one: Placed) -> tuple[int, bool, int, int]:
    return one.end_tau, not one.choice.is_preferred, one.set_up_min, one.choice.press


_Offer = tuple[tuple[int, bool, int, int], Placed, State | None]


def _better(best: _Offer | None, offer: _Offer) -> _Offer:
    return offer if best is None or offer[0] < best[0] else best

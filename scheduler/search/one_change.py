"""Which one thing, done otherwise than listed, saves most: tried out one by one, all else as the planner listed it.

Every saving told is that of a whole plan, timed under every rule with that one change. Which changes are worth trying
is guessed first, from set-up minutes and from how far runs would move; what the guess passes over is not tried.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from scheduler.domain.own_order import OneChange
from scheduler.domain.week import Week
from scheduler.search.as_listed import AsListed, overtaken
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genes, genes_of
from scheduler.search.packing import date_cents
from scheduler.search.set_ups import SetUps
from scheduler.search.words import press_text

MOST_TOLD = 3
MOST_PLACED = 6_000
"""Runs placed in all trials together: about a second for fifty runs."""
LEAST_TRIALS = 40
FEWEST_CENTS = 1


@dataclass(frozen=True, slots=True)
class _Trial:
    """A change to try. key: the order or the overtime it is about, told once; guess: cents it may save."""

    key: str
    words: str
    genes: Genes
    guess: float


def best_changes(week: Week, listed: AsListed) -> tuple[OneChange, ...]:
    """The three changes that save most against the listed order, best first; fewer where fewer save anything.

    A change moves one run (to another place of its press, or to another press), takes all runs of a late order earlier,
    or works one block of overtime. It counts only if every other run keeps its press and its place among the others.
    """
    decoder = Decoder(week)
    base = _with_presses(decoder, listed)
    found: dict[str, OneChange] = {}
    trials = _Trials(week, decoder, base, listed.decoded)
    is_swapped = set(overtaken(_ids(decoder, base), listed.decoded))
    late = _late_count(listed.decoded)
    for trial in trials.most_promising(max(LEAST_TRIALS, MOST_PLACED // max(1, len(week.runs)))):
        decoded = decoder.decode_genes(trial.genes)
        if not isinstance(decoded, Decoded):
            continue
        saves_cents = listed.decoded.cost_cents - decoded.cost_cents
        known = found.get(trial.key)
        if saves_cents < FEWEST_CENTS or (known is not None and known.saves_cents >= saves_cents):
            continue
        if is_swapped.issuperset(overtaken(_ids(decoder, trial.genes), decoded)):
            fewer = late - _late_count(decoded)
            found[trial.key] = OneChange(words=trial.words, saves_cents=saves_cents, late_fewer=fewer)
    return tuple(sorted(found.values(), key=lambda one: (-one.saves_cents, one.words))[:MOST_TOLD])


def _with_presses(decoder: Decoder, listed: AsListed) -> Genes:
    """The genes of the listed order with every press held, so that one change changes nothing else."""
    genes = genes_of(decoder.tables, listed.genome)
    state = listed.decoded.state
    return replace(genes, press=tuple(state.of(run.number).choice.press for run in decoder.tables.runs))


def _ids(decoder: Decoder, genes: Genes) -> tuple[str, ...]:
    return tuple(decoder.tables.runs[number].run_id for number in genes.order)


def _late_count(decoded: Decoded) -> int:
    orders = zip(decoded.tables.orders, decoded.state.packed_tau, strict=True)
    return sum(packed_tau > order.promised_tau for order, packed_tau in orders)


def _best(trials: list[_Trial], count: int) -> list[_Trial]:
    return sorted(trials, key=lambda one: (-one.guess, one.words))[:count]


class _Trials:
    """Everything that could be changed, each with a guess at what it saves."""

    def __init__(self, week: Week, decoder: Decoder, base: Genes, decoded: Decoded) -> None:
        self.week = week
        self.tables = decoder.tables
        self.decoder = decoder
        self.base = base
        self.state = decoded.state
        self.set_ups: SetUps = decoder.set_ups

    def most_promising(self, count: int) -> list[_Trial]:
        """So many trials of the highest guesses: up to half of them of whole orders and overtime, guessed too well."""
        broad = _best([*self._overtime(), *self._orders()], count // 2)
        return [*broad, *_best(list(self._single_moves()), count - len(broad))]

    def _single_moves(self) -> Iterator[_Trial]:
        for run in self.tables.runs:
            if run.fixed_start_tau < 0:
                for press in run.by_press:
                    if run.fixed_press in (-1, press):
                        yield from self._moves(run.number, press)

    def _overtime(self) -> Iterator[_Trial]:
        late_cents = self.state.late_cents + self.state.cushion_cents
        for block in self.week.overtime:
            bought = self.decoder.with_nested(self.base.bought | {block.block_id})
            if block.block_id in self.base.bought:
                continue
            price = sum(self.tables.overtime_cents[one] for one in bought - self.base.bought)
            genes = replace(self.base, bought=bought)
            yield _Trial(f"overtime {block.block_id}", f"work overtime {block.name}", genes, late_cents - price)

    def _orders(self) -> Iterator[_Trial]:
        """All runs of a late order before any other run of the list."""
        runs = self.tables.runs
        for order, packed_tau in zip(self.tables.orders, self.state.packed_tau, strict=True):
            moved = [number for number in self.base.order if number in order.runs]
            if packed_tau <= order.promised_tau or any(runs[number].fixed_start_tau >= 0 for number in moved):
                continue
            first = min(self.base.order.index(number) for number in moved)
            for at in sorted({first * share // 4 for share in range(4)}):
                before = self.base.order[at]
                rest = [number for number in self.base.order if number not in order.runs]
                place = rest.index(before) if before in rest else 0
                genes = self._ordered([*rest[:place], *moved, *rest[place:]], moved)
                words = f"take all of {order.order_id} before {runs[before].run_id}"
                if before not in order.runs:
                    yield _Trial(order.order_id, words, genes, date_cents(order, packed_tau)[0])

    def _moves(self, number: int, press: int) -> Iterator[_Trial]:
        """The run at every other place of a press's queue."""
        runs, name = self.tables.runs, press_text(self.week, self.week.presses[press].press_id)
        was = self.state.of(number).choice.press
        queue = [one for one in self.state.queues[press] if one != number]
        here = self.state.queues[press].index(number) if press == was else -1
        rest = [one for one in self.base.order if one != number]
        for at in range(len(queue) + 1):
            is_before_started = at < len(queue) and runs[queue[at]].is_started
            if at == here or is_before_started:
                continue
            if at:
                place = rest.index(queue[at - 1]) + 1
                words = f"print {runs[number].run_id} right after {runs[queue[at - 1]].run_id} on {name}"
            else:
                place = rest.index(queue[0]) if queue else self.base.order.index(number)
                words = f"print {runs[number].run_id} first on {name}"
            genes = self._ordered([*rest[:place], number, *rest[place:]], [number])
            genes = replace(genes, press=(*genes.press[:number], press, *genes.press[number + 1 :]))
            order_id = self.tables.orders[runs[number].order].order_id
            yield _Trial(order_id, words, genes, self._guess(number, press, queue, at))

    def _ordered(self, order: list[int], moved: list[int]) -> Genes:
        """The order, without waits that only kept the moved runs, or the ones listed after them, in their places."""
        free = set(moved)
        for queue in self.state.queues:
            free.update(after for one, after in pairwise(queue) if one in moved)
        later = tuple(0 if number in free else tau for number, tau in enumerate(self.base.later))
        return replace(self.base, order=tuple(order), later=later)

    def _guess(self, number: int, press: int, queue: list[int], at: int) -> float:
        """Cents saved if set-ups were all there is to it and every later run of a press moved by the same minutes."""
        one = self.state.of(number)
        choice = self.tables.runs[number].by_press[press]
        was = self.state.queues[one.choice.press]
        place = was.index(number)
        before, after = was[place - 1] if place else -1, was[place + 1] if place + 1 < len(was) else -1
        press_was = one.choice.press
        closed_min = self._set_up_min(before, number, press_was) + self._set_up_min(number, after, press_was)
        closed_min -= self._set_up_min(before, after, press_was)
        new_before, new_after = queue[at - 1] if at else -1, queue[at] if at < len(queue) else -1
        opened_min = self._set_up_min(new_before, number, press) + self._set_up_min(number, new_after, press)
        opened_min -= self._set_up_min(new_before, new_after, press)
        shift = dict.fromkeys(was[place + 1 :], -closed_min - one.choice.work_min)
        for other in queue[at:]:
            shift[other] = shift.get(other, 0) + opened_min + choice.work_min
        start_tau = self.state.of(new_before).end_tau if new_before >= 0 else 0
        shift[number] = start_tau + opened_min + choice.work_min - one.end_tau
        saved = closed_min * one.choice.cents_per_min - opened_min * choice.cents_per_min
        return saved + self._dates_saved(shift)

    def _set_up_min(self, before: int, number: int, press: int) -> int:
        """Set-up of a run after another; -1: nothing before (what stands on the press now), or no run."""
        if number < 0:
            return 0
        choice = self.tables.runs[number].by_press[press]
        if before < 0:
            return self.set_ups.minutes(-1 - press, self.week.presses[press].now_on, choice, (), ())
        old = self.tables.runs[before].by_press[press]
        return self.set_ups.minutes(old.key, old.stack, choice, (), ())

    def _dates_saved(self, shift: dict[int, int]) -> float:
        """Cents that late days and cushions would fall by if each of these runs ended so many minutes later."""
        saved = 0
        for number in {self.tables.runs[one].order for one, minutes in shift.items() if minutes}:
            order, packed_tau = self.tables.orders[number], self.state.packed_tau[number]
            ends = [self.state.of(run).end_tau for run in order.runs]
            moved = [self.state.of(run).end_tau + shift.get(run, 0) for run in order.runs]
            saved += sum(date_cents(order, packed_tau))
            saved -= sum(date_cents(order, packed_tau + max(moved) - max(ends)))
        return saved

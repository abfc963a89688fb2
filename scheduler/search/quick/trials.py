"""Genomes of one week tried one after the other, compiled: what each costs, without the plan itself."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from scheduler.domain.plan import Plan
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genes
from scheduler.search.quick import slots as at
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import IS_RELEASED, STANDS, WAITS
from scheduler.search.quick.placing import advance
from scheduler.search.quick.plan_row import longer, plan_row, summed_up
from scheduler.search.quick.set_ups import MOST_HEADS
from scheduler.search.quick.week_row import WeekRow
from scheduler.search.tables import Tables
from scheduler.search.timing import NEVER

DEARER = Refused("dearer than asked for")
NO_PLACE = Refused("a run has no place in time")
"""Why exactly is for the decoder to say; the search does not ask."""


@dataclass(slots=True)
class Begun:
    """A decoding under way, compiled: the week with its hours, and the plan so far."""

    w: Row
    s: Row

    def copy(self) -> Begun:
        """One of its own that starts out the same."""
        return Begun(self.w, self.s.copy())


@dataclass
class Tried:
    """What genes cost, and their plan when somebody asks for it."""

    decoder: Decoder
    genes: Genes
    cost_cents: int
    earliness: int
    late_cents_min: int
    packed_tau: list[int]

    @cached_property
    def decoded(self) -> Decoded:
        """The same genes decoded whole."""
        found = self.decoder.decode_genes(self.genes)
        assert isinstance(found, Decoded)
        return found

    @property
    def plan(self) -> Plan:
        """The plan itself."""
        return self.decoded.plan


class Trials:
    """Tries genomes of one week; remembers set-ups and open hours between calls."""

    def __init__(self, decoder: Decoder) -> None:
        """Write the week into its row."""
        self.decoder = decoder
        self.week = WeekRow(decoder.tables)
        self.scratch = np.zeros(self.week.scratch_size, dtype=np.int64)
        self._spare = np.zeros(0, dtype=np.int64)
        self.pairs = np.full(self.week.pair_count, -1, dtype=np.int64)
        self._bases: dict[frozenset[str], Begun | Refused] = {}
        self._genes: Genes | None = None
        self._rows: tuple[Row, Row, Row, Row] = (self.scratch,) * 4

    @staticmethod
    def can_try(decoder: Decoder) -> bool:
        """True if every rule this week needs is among the compiled ones."""
        return _has_short_stacks(decoder.tables)

    def begin(self, genes: Genes) -> Begun | Refused:
        """What is fixed, placed; nothing else."""
        base = self._bases.get(genes.bought)
        if base is None:
            if len(self._bases) > 64:
                self._bases.clear()
            base = self._bases[genes.bought] = self._new_base(genes.bought)
        return base if isinstance(base, Refused) else base.copy()

    def advance(self, genes: Genes, begun: Begun, to: int, limit_cents: int = NEVER) -> Refused | None:
        """Place runs up to place `to` of the order; None if all is well so far."""
        order, press, later, flags = self._rows_of(genes)
        while True:
            if len(self._spare) < 2 * len(begun.s):
                self._spare = np.zeros(2 * len(begun.s), dtype=np.int64)
            spare, x, pairs = self._spare, self.scratch, self.pairs
            why = advance(begun.w, begun.s, spare, x, pairs, order, press, later, flags, to, limit_cents)
            if why != at.GROW:
                break
            begun.s = longer(begun.w, begun.s)
        if why == at.OK:
            return None
        return DEARER if why == at.DEARER else NO_PLACE

    def finish(self, genes: Genes, begun: Begun, limit_cents: int = NEVER) -> Tried | Refused:
        """Place all that is left; Refused as soon as the cost passes `limit_cents`."""
        refused = self.advance(genes, begun, len(genes.order), limit_cents)
        if refused is not None:
            return refused
        if begun.s[at.S_PUT_OFF_COUNT] or begun.s[begun.w[at.P_WAITING]]:
            return NO_PLACE
        cost_cents, earliness, late = summed_up(begun.w, begun.s)
        overtime = self.decoder.tables.overtime_cents
        packed = int(begun.w[at.P_PACKED])
        return Tried(
            decoder=self.decoder,
            genes=genes,
            cost_cents=cost_cents + sum(overtime[block_id] for block_id in genes.bought),
            earliness=earliness,
            late_cents_min=late,
            packed_tau=begun.s[packed : packed + len(self.decoder.tables.orders)].tolist(),
        )

    def used(self, begun: Begun) -> int:
        """How much of a plan's row is used: the floor's events so far end it."""
        floor = int(begun.w[at.P_FLOOR])
        return floor + 1 + int(begun.s[floor]) * (self.week.packing.words + 1)

    def _rows_of(self, genes: Genes) -> tuple[Row, Row, Row, Row]:
        """The genes as rows; what is the same as in the genes before is taken over."""
        was = self._genes
        order, press, later, flags = self._rows
        if was is None or was.order is not genes.order:
            order = np.array(genes.order, dtype=np.int64)
        if was is None or was.press is not genes.press:
            press = np.array(genes.press, dtype=np.int64)
        if was is None or was.later is not genes.later:
            later = np.array(genes.later, dtype=np.int64)
        if (
            was is None
            or was.release is not genes.release
            or was.waits is not genes.waits
            or was.stands is not genes.stands
        ):
            flags = flags_row(genes)
        self._genes, self._rows = genes, (order, press, later, flags)
        return self._rows

    def _new_base(self, bought: frozenset[str]) -> Begun | Refused:
        base = self.decoder.base(bought)
        if isinstance(base, Refused):
            return base
        opened, state = base
        w = self.week.with_hours(opened)
        return Begun(w, plan_row(self.week, w, state))


def flags_row(genes: Genes) -> Row:
    """What the genes say of each run of the week, added up; their order may hold only some of them."""
    flags = np.zeros(len(genes.press), dtype=np.int64)
    for numbers, flag in ((genes.release, IS_RELEASED), (genes.waits, WAITS), (genes.stands, STANDS)):
        for number in numbers:
            flags[number] |= flag
    return flags


def _has_short_stacks(tables: Tables) -> bool:
    """True if the week's stacks are short enough for the compiled matching."""
    stacks = [choice.stack for run in tables.runs for choice in run.choices]
    stacks += [press.now_on for press in tables.week.presses]
    return all(len(stack.heads) <= MOST_HEADS // 2 for stack in stacks)

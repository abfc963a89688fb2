"""What a run's set-up takes at least after another one on the same press, told which runs went before them.

Mounting, pallets, flashes and the test print follow from the run before alone. An ink is carded instead of loaded only
if it stood by beside the run before, so only if some run before that one printed with it; an ink leaves later, or
never, only if the run that is set up has a head to keep it on. Every choice of kept inks takes these minutes or more.
Inks that printed before and for which there is no head now have left, each once at least.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from scheduler.domain.week import Stack
from scheduler.search.least_times import open_choices
from scheduler.search.queue_hours import Row
from scheduler.search.tables import ChoiceSpec, RunSpec, Tables
from scheduler.trade.set_up import base_minutes, live_inks, pair_set_up

FIRST = -1
"""Number of what stands on the press now."""
MOST_INKS = 60
"""Inks that are told apart, those of most runs; any other counts as one that may always have stood by."""


@dataclass(frozen=True, slots=True)
class QueueStep:
    """One run set up right after another. most_min: minutes if no ink of it stood by.

    spared: (ink number, minutes it spares if it may have stood by). departs: inks that leave the press altogether.
    """

    most_min: int
    spared: tuple[tuple[int, int], ...] = ()
    departs: int = 0

    @property
    def least_min(self) -> int:
        """Minutes if all of them stood by."""
        return self.most_min - sum(minutes for _, minutes in self.spared)


NO_STEP = QueueStep(0)
"""From a run to itself."""


@dataclass(frozen=True, slots=True)
class StepsTo:
    """All steps to one run, by the number of the run before and one. spared: an ink and what each step spares by it."""

    most_min: Row
    departs: Row
    spared: tuple[tuple[int, Row], ...]


class QueueSteps:
    """Every step between two runs of one press."""

    def __init__(self, tables: Tables, press: int) -> None:
        """Work out all pairs."""
        self._tables = tables
        self._line = tables.week.presses[press]
        here = [(run, choice) for run in tables.runs for choice in open_choices(run) if choice.press == press]
        stacks: dict[int, Stack] = {FIRST: self._line.now_on}
        stacks |= {run.number: choice.stack for run, choice in here}
        live = {number: live_inks(stack, tables.week.ink) for number, stack in stacks.items()}
        users = Counter(ink for inks in live.values() for ink in sorted(inks))
        self._inks = sorted(ink for ink, _ in users.most_common(MOST_INKS))
        self.ink_count = len(self._inks)
        self.inks = {
            number: sum(1 << at for at, ink in enumerate(self._inks) if ink in inks) for number, inks in live.items()
        }
        """What a run leaves in the heads, a bit an ink."""
        self.counted = {run.number: not run.is_started and choice.stated_min is None for run, choice in here}
        """Whether a run's minutes are added up at all."""
        self.uses = {
            run.number: {self._inks.index(h.ink_id) for h in choice.stack.heads if h.ink_id in self._inks}
            for run, choice in here
        }
        """Numbers of the inks a run prints with."""
        self.room = {run.number: choice.keep_room for run, choice in here}
        leave_min = [self._line.set_up.leave_min(tables.week.ink[ink]) for ink in self._inks]
        self.least_leave_min = min(leave_min, default=0)
        room = {FIRST: self._line.head_count - len(self._line.now_on.heads)}
        room |= {run.number: choice.keep_room for run, choice in here}
        self.steps = {
            (before, run.number): self._step(stacks[before], room[before], run, choice)
            for run, choice in here
            for before in stacks
            if before != run.number
        }
        count = len(tables.runs)
        self.to = {run.number: self._steps_to(run.number, count) for run, _ in here}
        self.left_by = np.array([self.inks.get(before, 0) for before in range(FIRST, count)], dtype=np.int64)
        """What a run leaves in the heads, by its number and one."""

    def _steps_to(self, number: int, count: int) -> StepsTo:
        by_before = [self.steps.get((before, number), NO_STEP) for before in range(FIRST, count)]
        inks = sorted({ink for step in by_before for ink, _ in step.spared})
        spared = ((ink, np.array([dict(step.spared).get(ink, 0) for step in by_before])) for ink in inks)
        most_min = np.array([step.most_min for step in by_before])
        return StepsTo(most_min, np.array([step.departs for step in by_before]), tuple(spared))

    def _step(self, old: Stack, room_before: int, run: RunSpec, choice: ChoiceSpec) -> QueueStep:
        if run.is_started:
            return QueueStep(run.set_up_left_min)
        if choice.stated_min is not None:
            return QueueStep(choice.stated_min + choice.extra_min)
        minutes, inks = self._line.set_up, self._tables.week.ink
        pair = pair_set_up(old, choice.stack, minutes, inks)
        set_up_min = choice.extra_min + base_minutes(pair, minutes)
        set_up_min += minutes.load_min * sum(heads for _, heads in pair.loads)
        printed = {head.ink_id for head in choice.stack.heads}
        screens = {head.screen_id for head in choice.stack.heads}
        held_up = {head.ink_id for head in old.heads if head.screen_id in screens}
        leaves = [(minutes.leave_min(inks[ink]), heads, ink in printed | held_up) for ink, heads in pair.leaves]
        departs = sum(ink in held_up - printed for ink, _ in pair.leaves)
        may_stay = sorted((leave_min for leave_min, _, must_leave in leaves if not must_leave), reverse=True)
        departs += max(0, len(may_stay) - choice.keep_room)
        set_up_min += sum(leave_min * heads for leave_min, heads, _ in leaves) - sum(may_stay[: choice.keep_room])
        spare_min = minutes.load_min - minutes.card_min
        carded = [ink for ink, _ in pair.loads if spare_min > 0 and room_before > 0 and not inks[ink].dries]
        # A stack that prints with the ink has not kept it beside itself.
        carded = [ink for ink in carded if all(head.ink_id != ink for head in old.heads)]
        set_up_min -= spare_min * sum(ink not in self._inks for ink in carded)
        spared = tuple((self._inks.index(ink), spare_min) for ink in carded if ink in self._inks)
        return QueueStep(set_up_min, spared, departs)

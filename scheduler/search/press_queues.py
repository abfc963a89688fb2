"""What set-ups take at least when runs stand one after the other on a press, whichever inks are kept beside them.

Mounting, pallets, flashes and the test print follow from the run before alone. An ink may have stood by: then it is
carded once instead of loaded, and leaves some other time. So each head that must get its ink counts with the cheaper of
the two, and an ink that leaves counts only where it cannot be kept: because the next run prints with it, or its screen.
That an ink was loaded at all is counted elsewhere, once (see `press_pieces`).
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.week import Stack
from scheduler.search.least_times import open_choices
from scheduler.search.press_pieces import PressPieces
from scheduler.search.tables import ChoiceSpec, Tables
from scheduler.trade.set_up import base_minutes, pair_set_up

FIRST = -1
"""Number of what stands on the press now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One run right after another (or after `FIRST`). beyond_min: minutes beyond the later run's own, below 0 where the
    runs around it spare more; leave_min: minutes in which inks leave that cannot be kept.
    """

    before: int
    after: int
    beyond_min: int
    leave_min: int


def steps_on(tables: Tables, one: PressPieces) -> tuple[Step, ...]:
    """Every way in which one run can follow another on a press."""
    here = {run.number: choice for run in tables.runs for choice in open_choices(run) if choice.press == one.press}
    stacks: dict[int, Stack] = {FIRST: tables.week.presses[one.press].now_on}
    stacks |= {number: choice.stack for number, choice in here.items()}
    found = []
    for after, choice in here.items():
        run = tables.runs[after]
        for before, old in stacks.items():
            if before == after:
                continue
            if run.is_started or choice.stated_min is not None:
                found.append(Step(before=before, after=after, beyond_min=0, leave_min=0))
                continue
            set_up_min, leave_min = _between(tables, old, choice)
            beyond_min = set_up_min + choice.extra_min - one.own_min[after]
            found.append(Step(before=before, after=after, beyond_min=beyond_min, leave_min=leave_min))
    return tuple(found)


def _between(tables: Tables, old: Stack, choice: ChoiceSpec) -> tuple[int, int]:
    """Least minutes from one stack to the next without what leaves, and least minutes of what leaves."""
    minutes, inks = tables.week.presses[choice.press].set_up, tables.week.ink
    pair = pair_set_up(old, choice.stack, minutes, inks)
    carded_min = min(minutes.card_min, minutes.load_min)
    loads_min = sum(heads * (minutes.load_min if inks[ink].dries else carded_min) for ink, heads in pair.loads)
    printed = {head.ink_id for head in choice.stack.heads}
    screens = {head.screen_id for head in choice.stack.heads}
    held_up = {head.ink_id for head in old.heads if head.screen_id in screens}
    leave_min = sum(
        (heads - (ink not in printed | held_up)) * minutes.leave_min(inks[ink]) for ink, heads in pair.leaves
    )
    return base_minutes(pair, minutes) + loads_min, leave_min

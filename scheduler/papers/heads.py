"""Which head each screen of a run goes to, and which head keeps an ink for later.

Heads keep the print order. A screen or ink that stays from the run before keeps its head wherever the order allows
it, inks kept live beside the run stand in the heads it leaves free, and a flash that sits in a head takes one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from scheduler.domain.week import PressChoice, PressLine, Stack
from scheduler.trade.set_up import Inks, SetUpPair, live_inks, pair_set_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """What stands in which head of a press, counted from 1 in print order.

    of_screen: head of each of the stack's heads, in order. of_free: (head, what stands there instead of a screen) where
    a flash or its cool-down takes a head. of_kept: (ink id, head) of inks live beside the run.
    """

    stack: Stack
    of_screen: tuple[int, ...]
    of_free: tuple[tuple[int, str], ...] = ()
    of_kept: tuple[tuple[str, int], ...] = ()


def standing(press: PressLine) -> Placing:
    """What stands on a press at the planning moment: its screens in the first heads."""
    return Placing(stack=press.now_on, of_screen=tuple(range(1, len(press.now_on.heads) + 1)))


def place(
    press: PressLine, before: Placing, choice: PressChoice, kept_inks: tuple[str, ...], inks: Inks
) -> tuple[Placing, SetUpPair]:
    """Heads for the next run on a press, and what is done to get there.

    Fewest screens and kept inks change their head; of equal ways the one furthest towards the first heads. Where a
    plan asks for more heads than the press has, heads are counted on beyond the last one.
    """
    pair = pair_set_up(before.stack, choice.stack, press.set_up, inks)
    stood = {new: before.of_screen[old] for old, new in pair.matched}
    for ink_id, head in before.of_kept:  # an ink that stood by is taken up where it stands
        back = [n for n, one in enumerate(choice.stack.heads) if one.ink_id == ink_id and n not in stood]
        if back:
            stood[back[0]] = head
    slots = _slots(press, choice)
    kept_at = _kept_at(before, kept_inks, inks)
    head_count = max(press.head_count, len(slots) + len(kept_inks))
    wanted = [stood.get(slot) if isinstance(slot, int) else None for slot in slots]
    heads = _rising_heads(wanted, head_count, frozenset(kept_at.values()))
    of_screen = tuple(head for slot, head in zip(slots, heads, strict=True) if isinstance(slot, int))
    of_free = tuple((head, slot) for slot, head in zip(slots, heads, strict=True) if isinstance(slot, str))
    free = [head for head in range(1, head_count + 1) if head not in heads]
    now = Placing(stack=choice.stack, of_screen=of_screen, of_free=of_free, of_kept=_keep(kept_inks, kept_at, free))
    return now, pair


def _slots(press: PressLine, choice: PressChoice) -> list[int | str]:
    """What takes a head, in print order: the stack's heads (their index), and after a flash what it takes.

    Heads needed beyond the stack's own are shared out over its flashes, and named as the press has it.
    """
    flashes = sorted(set(choice.stack.flash_after))
    each, over = divmod(max(0, choice.heads_needed - len(choice.stack.heads)), max(1, len(flashes)))
    found: list[int | str] = []
    for index in range(len(choice.stack.heads)):
        found.append(index)
        if index in flashes:
            taken = each + (flashes.index(index) < over)
            found += [*press.flash_takes, *["empty"] * taken][:taken]
    return found


def _kept_at(before: Placing, kept_inks: tuple[str, ...], inks: Inks) -> dict[str, int]:
    """Head in which each kept ink stands already: where it was kept before, or its first head in the run before."""
    found = {ink_id: head for ink_id, head in before.of_kept if ink_id in kept_inks}
    live = live_inks(before.stack, inks)
    for one, head in zip(before.stack.heads, before.of_screen, strict=True):
        if one.ink_id in kept_inks and one.ink_id in live:
            found.setdefault(one.ink_id, head)
    return found


def _rising_heads(wanted: list[int | None], head_count: int, avoid: frozenset[int]) -> tuple[int, ...]:
    """Rising head numbers, one per slot, with the fewest slots off their wanted head or on one to be avoided.

    Of equal ways the one with the lowest first head, then the lowest second, and so on.
    """

    @cache
    def best(slot: int, first: int) -> tuple[int, tuple[int, ...]]:
        if slot == len(wanted):
            return 0, ()
        ways = []
        for head in range(first, head_count - (len(wanted) - slot) + 2):
            cost, rest = best(slot + 1, head + 1)
            ways.append((cost + (wanted[slot] not in (None, head)) + (head in avoid), (head, *rest)))
        return min(ways)

    return best(0, 1)[1]


def _keep(kept_inks: tuple[str, ...], kept_at: Mapping[str, int], free: list[int]) -> tuple[tuple[str, int], ...]:
    """A free head for each kept ink: its own where it is free, else the first that is left."""
    found = {ink_id: kept_at[ink_id] for ink_id in kept_inks if kept_at.get(ink_id) in free}
    left = [head for head in free if head not in found.values()]
    for ink_id in kept_inks:
        if ink_id not in found:
            found[ink_id] = left.pop(0)
    return tuple(sorted(found.items(), key=lambda item: item[1]))

"""Set-up minutes that depend on what stood on the press before: which screens, inks, pallets and flashes stay.

All minutes are whole minutes of the press's set-up people and come from the shop (`SetUpMinutes`): no published
figure for cleaning, carding or loading exists, so none is built in. What is fixed here is only the arithmetic.

Heads keep their order on a press, so old and new heads are paired by a matching that never crosses. Per head, left
to right:

- same screen, same ink: nothing;
- same screen, other ink (or rinsed out, because it dries): the old ink leaves, the new one is loaded, no mounting;
- other screen, same ink (one that does not dry): the screen is mounted and the ink carded over into it;
- a new head paired with nothing: mount and load; an old head paired with nothing: its ink, if any, leaves.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.week import Fixing, InkUse, PressChoice, SetUpMinutes, Stack, StackHead

Inks = Mapping[str, InkUse]
"""Inks by id."""

InkCounts = tuple[tuple[str, int], ...]
"""(ink id, heads) sorted by ink id; no zeros."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpPair:
    """What has to be done between two stacks before any ink is kept beside them.

    mounts: screens mounted and registered. cards: inks carded into another screen. leaves, loads: heads per ink that
    are cleaned or swapped out, and filled. matched: (old head, new head), 0-based, rising in both. strike_off_min is
    the test print's minutes if anything was mounted or loaded, else 0.
    """

    mounts: int
    cards: int
    pallet_min: int
    flash_min: int
    strike_off_min: int
    leaves: InkCounts
    loads: InkCounts
    matched: tuple[tuple[int, int], ...]


def pair_set_up(old: Stack, new: Stack, minutes: SetUpMinutes, inks: Inks) -> SetUpPair:
    """The cheapest way from one stack to the next, heads kept in order.

    A dynamic programme over both stacks: work grows with old heads times new heads. Equal minutes are settled by more
    screens that stay, then by the earliest old head for the earliest new head. Raises KeyError for an ink not in
    `inks`.
    """
    matched = _cheapest_matching(old, new, minutes, inks)
    of_new = {head: before for before, head in matched}
    leaves: Counter[str] = Counter()
    loads: Counter[str] = Counter()
    mounts = cards = 0
    kept_heads = {before for before, _ in matched}
    leaves.update(head.ink_id for at, head in enumerate(old.heads) if at not in kept_heads and _holds_ink(head, inks))
    for at, head in enumerate(new.heads):
        before = old.heads[of_new[at]] if at in of_new else None
        if before is not None and _ink_stays(before, head, inks):
            if before.screen_id != head.screen_id:
                mounts += 1
                cards += 1
            continue
        loads[head.ink_id] += 1
        if before is None:
            mounts += 1
        elif _holds_ink(before, inks):
            leaves[before.ink_id] += 1
    pallets = {old.pallet, new.pallet}
    return SetUpPair(
        mounts=mounts,
        cards=cards,
        pallet_min=minutes.pallet_min if len(pallets) == 2 and None not in pallets else 0,
        flash_min=minutes.flash_move_min * len(set(new.flash_after) - set(old.flash_after)),
        strike_off_min=minutes.strike_off_min if mounts or loads else 0,
        leaves=tuple(sorted(leaves.items())),
        loads=tuple(sorted(loads.items())),
        matched=matched,
    )


def live_inks(stack: Stack, inks: Inks) -> frozenset[str]:
    """Inks that still stand in a stack's screens once its run has ended: all but those that dry."""
    return frozenset(head.ink_id for head in stack.heads if _holds_ink(head, inks))


def may_keep(old: Stack, new: Stack, kept_before: Collection[str], inks: Inks) -> frozenset[str]:
    """Inks that may stay live on the press, a head each, beside the new run that does not use them.

    An ink may stay if it does not dry, the new run has no head for it, and it stood by already or its screens in the
    old run make way (a screen the new run prints with cannot hold it).
    """
    wanted = {head.ink_id for head in new.heads}
    screens = {head.screen_id for head in new.heads}
    held_up = {head.ink_id for head in old.heads if head.screen_id in screens}
    standing_by = {ink_id for ink_id in kept_before if ink_id in inks and not inks[ink_id].dries}
    return frozenset((standing_by | (live_inks(old, inks) - held_up)) - wanted)


def returning_inks(new: Stack, kept_before: Collection[str]) -> frozenset[str]:
    """Inks that stood by and are printed with again: one head of each is carded instead of loaded."""
    return frozenset(kept_before) & {head.ink_id for head in new.heads}


def base_minutes(pair: SetUpPair, minutes: SetUpMinutes) -> int:
    """Set-up minutes that no kept ink changes: mounting, carding over, pallets, flashes, test print."""
    return (
        minutes.mount_min * pair.mounts
        + minutes.card_min * pair.cards
        + pair.pallet_min
        + pair.flash_min
        + pair.strike_off_min
    )


def leave_minutes(leaves: InkCounts, minutes: SetUpMinutes, inks: Inks) -> int:
    """Minutes for these heads' inks to leave; a dark one may be dearer than a light one."""
    return sum(minutes.leave_min(inks[ink_id]) * heads for ink_id, heads in leaves)


def load_minutes(loads: InkCounts, minutes: SetUpMinutes) -> int:
    """Minutes to fill these heads."""
    return minutes.load_min * sum(heads for _, heads in loads)


def pair_minutes(pair: SetUpPair, minutes: SetUpMinutes, inks: Inks) -> int:
    """Set-up minutes where no ink is kept beside a run, neither before nor after."""
    return base_minutes(pair, minutes) + leave_minutes(pair.leaves, minutes, inks) + load_minutes(pair.loads, minutes)


def returning_extra_min(minutes: SetUpMinutes) -> int:
    """What one returning ink adds to the pair's minutes: carded once instead of loaded once (often below 0)."""
    return minutes.card_min - minutes.load_min


def kept_extra_min(
    new: Stack, minutes: SetUpMinutes, inks: Inks, kept_before: Collection[str], kept_after: Collection[str]
) -> int:
    """What keeping inks beside the runs adds to the pair's minutes (below 0 where it saves).

    An ink newly kept does not leave; one that stood by and is neither kept on nor printed with leaves now; one that
    is printed with again is carded instead of loaded.
    """
    before, after = frozenset(kept_before), frozenset(kept_after)
    back = returning_inks(new, before)
    saved = sum(minutes.leave_min(inks[ink_id]) for ink_id in after - before)
    given_up = sum(minutes.leave_min(inks[ink_id]) for ink_id in before - after - back)
    return given_up - saved + returning_extra_min(minutes) * len(back)


def set_up_minutes(
    pair: SetUpPair,
    old: Stack,
    new: Stack,
    minutes: SetUpMinutes,
    inks: Inks,
    kept_before: Collection[str] = (),
    kept_after: Collection[str] = (),
    extra_min: int = 0,
) -> int:
    """Set-up minutes of the new run, kept inks and client approval (`extra_min`) included.

    kept_before stood by beside the old run, kept_after stands by beside the new one. Raises ValueError if an ink is
    kept that may not be.
    """
    _refuse_keeping(old, new, inks, kept_before, kept_after)
    return pair_minutes(pair, minutes, inks) + kept_extra_min(new, minutes, inks, kept_before, kept_after) + extra_min


def implied_set_up_min(
    choice: PressChoice,
    old: Stack,
    minutes: SetUpMinutes,
    inks: Inks,
    kept_before: Collection[str] = (),
    kept_after: Collection[str] = (),
    fixing: Fixing | None = None,
) -> int:
    """Set-up minutes of a run after what stood on the press.

    A started run takes what is left of its set-up, a stated set-up wins over all arithmetic (approval is added), else
    `set_up_minutes` of the cheapest pairing. Raises ValueError if an ink is kept that may not be.
    """
    _refuse_keeping(old, choice.stack, inks, kept_before, kept_after)
    if fixing is not None and fixing.kind == "started":
        return fixing.set_up_left_min or 0
    if choice.stated_set_up_min is not None:
        return choice.stated_set_up_min + choice.set_up_extra_min
    pair = pair_set_up(old, choice.stack, minutes, inks)
    return set_up_minutes(
        pair, old, choice.stack, minutes, inks, kept_before, kept_after, extra_min=choice.set_up_extra_min
    )


def _refuse_keeping(
    old: Stack, new: Stack, inks: Inks, kept_before: Collection[str], kept_after: Iterable[str]
) -> None:
    wrong = frozenset(kept_after) - may_keep(old, new, kept_before, inks)
    if wrong:
        raise ValueError(f"these inks may not stay on the press beside the run: {', '.join(sorted(wrong))}")


def _holds_ink(head: StackHead, inks: Inks) -> bool:
    """True if the head's ink still stands in its screen when its run is over."""
    return not inks[head.ink_id].dries


def _ink_stays(old: StackHead, new: StackHead, inks: Inks) -> bool:
    return old.ink_id == new.ink_id and _holds_ink(old, inks)


_Cost = tuple[int, int]
"""(minutes, minus screens that stay): compared in this order, added place by place."""


def _pair_cost(old: StackHead, new: StackHead, minutes: SetUpMinutes, inks: Inks) -> _Cost | None:
    """Cost of one old head becoming one new head, None if they share neither screen nor ink."""
    if old.screen_id == new.screen_id:
        if _ink_stays(old, new, inks):
            return 0, -1
        return minutes.load_min + _leave_min(old, minutes, inks), -1
    if _ink_stays(old, new, inks):
        return minutes.mount_min + minutes.card_min, 0
    return None


def _leave_min(head: StackHead, minutes: SetUpMinutes, inks: Inks) -> int:
    return minutes.leave_min(inks[head.ink_id]) if _holds_ink(head, inks) else 0


def _cheapest_matching(old: Stack, new: Stack, minutes: SetUpMinutes, inks: Inks) -> tuple[tuple[int, int], ...]:
    """Pairs (old head, new head) of least minutes, never crossing.

    best[i][j] is the least cost of turning old heads i.. into new heads j.., pairs[i][j] whether new head j gets an
    old head in it. On a tie new head j takes old head i; failing that a later old head; failing that none. This picks
    the matching in which the earliest new head has the earliest old one, then the next, and so on.
    """
    n_old, n_new = len(old.heads), len(new.heads)
    best: list[list[_Cost]] = [[(0, 0)] * (n_new + 1) for _ in range(n_old + 1)]
    pairs = [[False] * (n_new + 1) for _ in range(n_old + 1)]
    step: list[list[str]] = [["new"] * (n_new + 1) for _ in range(n_old + 1)]
    for i in range(n_old, -1, -1):
        for j in range(n_new, -1, -1):
            offers: list[tuple[_Cost, int, str]] = []
            if i < n_old and j < n_new:
                cost = _pair_cost(old.heads[i], new.heads[j], minutes, inks)
                if cost is not None:
                    offers.append((_plus(best[i + 1][j + 1], cost), 0, "both"))
            if i < n_old:
                leave = (_leave_min(old.heads[i], minutes, inks), 0)
                offers.append((_plus(best[i + 1][j], leave), 1 if pairs[i + 1][j] else 3, "old"))
            if j < n_new:
                offers.append((_plus(best[i][j + 1], (minutes.mount_min + minutes.load_min, 0)), 2, "new"))
            if offers:
                best[i][j], _, step[i][j] = min(offers)
                pairs[i][j] = step[i][j] == "both" or (step[i][j] == "old" and pairs[i + 1][j])
    matched = []
    i = j = 0
    while i < n_old and j < n_new:
        if step[i][j] == "both":
            matched.append((i, j))
        i, j = i + (step[i][j] != "new"), j + (step[i][j] != "old")
    return tuple(matched)


def _plus(one: _Cost, other: _Cost) -> _Cost:
    return one[0] + other[0], one[1] + other[1]

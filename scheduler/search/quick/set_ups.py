"""Set-up minutes and kept inks, as in `trade/set_up.py` and `search/set_ups.py`, over stacks written as numbers."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    A_KEPT,
    A_KEPT_COUNT,
    C_EXTRA_MIN,
    C_KEEP_ROOM,
    C_PRESS,
    C_STACK,
    C_STATED_MIN,
    L_CARD,
    L_FLASH,
    L_LEAVE,
    L_LOAD,
    L_MINUTES_CLASS,
    L_MOUNT,
    L_PALLET,
    L_STACK_NOW,
    L_STRIKE_OFF,
    P_PLACED,
    P_QUEUES,
    T_FLASH_COUNT,
    T_FLASHES,
    T_HEAD_COUNT,
    T_HEADS,
    T_PALLET,
    W_INK_RUNS,
    W_INKS,
    W_PLACED_SIZE,
    W_PRESSES,
    W_RUN_COUNT,
    W_SCRATCH_KEPT,
    W_STACK_COUNT,
    W_STACKS,
)

MOST_HEADS = 40
"""Heads of the longest stack that is matched here."""
SCREENS = 1 << 10
"""Minutes count before screens that stay: both in one number, minutes times this less the screens."""


@compiled
def screen(w: Row, stack: int, head: int) -> int:
    """The screen in a head."""
    return w[stack + T_HEADS + 2 * head]


@compiled
def ink(w: Row, stack: int, head: int) -> int:
    """The ink in a head."""
    return w[stack + T_HEADS + 2 * head + 1]


@compiled
def dries(w: Row, ink_number: int) -> bool:
    """True if an ink dries in the screen."""
    return w[w[W_INKS] + ink_number] != 0


@compiled
def leave_min(w: Row, press: int, ink_number: int) -> int:
    """Minutes for a head's ink to leave when its run is over."""
    return 0 if dries(w, ink_number) else w[press + L_LEAVE + ink_number]


@compiled
def _both(w: Row, press: int, old: int, i: int, new: int, j: int) -> int:
    """What it costs old head i to become new head j; -1 if they share neither screen nor ink."""
    stays = ink(w, old, i) == ink(w, new, j) and not dries(w, ink(w, old, i))
    if screen(w, old, i) == screen(w, new, j):
        if stays:
            return 0
        return (w[press + L_LOAD] + leave_min(w, press, ink(w, old, i))) * SCREENS
    return (w[press + L_MOUNT] + w[press + L_CARD]) * SCREENS if stays else -1


@compiled
def matched_min(w: Row, x: Row, press: int, old: int, new: int) -> int:
    """Minutes of the cheapest matching that keeps the heads in order, test print included.

    The dynamic programme of `trade.set_up`, with its ties: more screens that stay first, then the earliest heads.
    """
    n_old, n_new = w[old + T_HEAD_COUNT], w[new + T_HEAD_COUNT]
    across = n_new + 1
    best = w[W_SCRATCH_KEPT] + 4 * MOST_HEADS
    pairs = best + (n_old + 1) * across
    step = pairs + (n_old + 1) * across
    mount_load = (w[press + L_MOUNT] + w[press + L_LOAD]) * SCREENS
    for i in range(n_old, -1, -1):
        for j in range(n_new, -1, -1):
            at = i * across + j
            cost, rank, way = 0, 9, 2
            if i < n_old and j < n_new:
                both = _both(w, press, old, i, new, j)
                if both >= 0:
                    stays = 1 if screen(w, old, i) == screen(w, new, j) else 0
                    cost, rank, way = x[best + at + across + 1] + both - stays, 0, 0
            if i < n_old:
                offer = x[best + at + across] + leave_min(w, press, ink(w, old, i)) * SCREENS
                its_rank = 1 if x[pairs + at + across] else 3
                if rank == 9 or offer < cost or (offer == cost and its_rank < rank):
                    cost, rank, way = offer, its_rank, 1
            if j < n_new:
                offer = x[best + at + 1] + mount_load
                if rank == 9 or offer < cost or (offer == cost and rank > 2):
                    cost, rank, way = offer, 2, 2
            x[best + at], x[step + at] = cost, way
            x[pairs + at] = 1 if way == 0 or (way == 1 and x[pairs + at + across]) else 0
    return _minutes(x[best]) + _test_print_min(w, x, press, old, new, step, across)


@compiled
def _minutes(cost: int) -> int:
    """The minutes of a cost."""
    return (cost + SCREENS - 1) // SCREENS


@compiled
def _test_print_min(w: Row, x: Row, press: int, old: int, new: int, step: int, across: int) -> int:
    """Minutes of the test print: none if every new head has its screen and its ink already."""
    n_old, n_new = w[old + T_HEAD_COUNT], w[new + T_HEAD_COUNT]
    i = j = same = 0
    while i < n_old and j < n_new:
        way = x[step + i * across + j]
        if way == 0 and screen(w, old, i) == screen(w, new, j):
            same += ink(w, old, i) == ink(w, new, j) and not dries(w, ink(w, old, i))
        i, j = i + (way != 2), j + (way != 1)
    return 0 if same == n_new else w[press + L_STRIKE_OFF]


@compiled
def pair_min(w: Row, x: Row, pairs: Row, press: int, old: int, new: int) -> int:
    """Set-up minutes between two stacks (numbers) where no ink is kept beside either, remembered per pair."""
    count = w[W_STACK_COUNT]
    at = (w[press + L_MINUTES_CLASS] * count + old) * count + new
    if pairs[at] >= 0:
        return pairs[at]
    before, after = w[w[W_STACKS] + old], w[w[W_STACKS] + new]
    minutes = matched_min(w, x, press, before, after)
    if w[before + T_PALLET] >= 0 and w[after + T_PALLET] >= 0 and w[before + T_PALLET] != w[after + T_PALLET]:
        minutes += w[press + L_PALLET]
    for k in range(w[after + T_FLASH_COUNT]):
        place = w[w[after + T_FLASHES] + k]
        stood = False
        for i in range(w[before + T_FLASH_COUNT]):
            stood = stood or w[w[before + T_FLASHES] + i] == place
        if not stood:
            minutes += w[press + L_FLASH]
    pairs[at] = minutes
    return minutes


@compiled
def last_on(w: Row, s: Row, press_number: int) -> int:
    """Where the last run on a press is written, -1 if there is none."""
    queue = w[P_QUEUES] + press_number * (w[W_RUN_COUNT] + 1)
    count = s[queue]
    return w[P_PLACED] + s[queue + count] * w[W_PLACED_SIZE] if count else -1


@compiled
def stack_before(w: Row, s: Row, press_number: int, before: int) -> int:
    """Number of the stack of a placed run; of what stands on the press now if there is none."""
    if before < 0:
        return w[w[w[W_PRESSES] + press_number] + L_STACK_NOW]
    return w[s[before + A_CHOICE] + C_STACK]


@compiled
def free_from(s: Row, before: int) -> int:
    """Shop minute from which a press is free after a placed run."""
    return 0 if before < 0 else s[before + A_END]


@compiled
def keep(w: Row, s: Row, x: Row, choice: int, before: int, liked: int) -> int:
    """Write the inks to keep beside a run into the scratch row, sorted; how many.

    before, liked: placed runs, -1 for none. Inks kept beside `liked` come first, then those most runs still to come
    could print with, then those dearer to clean.
    """
    room = w[choice + C_KEEP_ROOM]
    at = w[W_SCRATCH_KEPT]
    if room <= 0:
        return 0
    press_number = w[choice + C_PRESS]
    count = may_keep(w, s, x, choice, before)
    if count > room:
        press = w[w[W_PRESSES] + press_number]
        for k in range(count):
            one = x[at + k]
            wanted = 1 << 20 if _is_kept(s, liked, one) else _still_wanted(w, s, press_number, one)
            x[at + MOST_HEADS + k] = wanted * SCREENS * SCREENS + w[press + L_LEAVE + one]
        for k in range(room):
            best = k
            for i in range(k + 1, count):
                worth, most = x[at + MOST_HEADS + i], x[at + MOST_HEADS + best]
                if worth > most or (worth == most and x[at + i] < x[at + best]):
                    best = i
            x[at + k], x[at + best] = x[at + best], x[at + k]
            x[at + MOST_HEADS + k], x[at + MOST_HEADS + best] = x[at + MOST_HEADS + best], x[at + MOST_HEADS + k]
        count = room
    for k in range(1, count):
        i = k
        while i > 0 and x[at + i - 1] > x[at + i]:
            x[at + i - 1], x[at + i] = x[at + i], x[at + i - 1]
            i -= 1
    return count


@compiled
def may_keep(w: Row, s: Row, x: Row, choice: int, before: int) -> int:
    """Write the inks that may stay beside a new run into the scratch row; how many."""
    at = w[W_SCRATCH_KEPT]
    new = w[w[W_STACKS] + w[choice + C_STACK]]
    old = w[w[W_STACKS] + stack_before(w, s, w[choice + C_PRESS], before)]
    count = 0
    if before >= 0:
        for k in range(s[before + A_KEPT_COUNT]):
            one = s[before + A_KEPT + k]
            if not dries(w, one) and not _prints_with(w, new, one):
                x[at + count] = one
                count += 1
    for i in range(w[old + T_HEAD_COUNT]):
        one = ink(w, old, i)
        if dries(w, one) or _prints_with(w, new, one) or _is_held_up(w, old, new, one):
            continue
        known = False
        for k in range(count):
            known = known or x[at + k] == one
        if not known:
            x[at + count] = one
            count += 1
    return count


@compiled
def _prints_with(w: Row, stack: int, ink_number: int) -> bool:
    for head in range(w[stack + T_HEAD_COUNT]):
        if ink(w, stack, head) == ink_number:
            return True
    return False


@compiled
def _is_held_up(w: Row, old: int, new: int, ink_number: int) -> bool:
    """True if an ink stands in a screen that the new run prints with."""
    for i in range(w[old + T_HEAD_COUNT]):
        if ink(w, old, i) == ink_number:
            for j in range(w[new + T_HEAD_COUNT]):
                if screen(w, new, j) == screen(w, old, i):
                    return True
    return False


@compiled
def _is_kept(s: Row, placed: int, ink_number: int) -> bool:
    if placed < 0:
        return False
    for k in range(s[placed + A_KEPT_COUNT]):
        if s[placed + A_KEPT + k] == ink_number:
            return True
    return False


@compiled
def _still_wanted(w: Row, s: Row, press_number: int, ink_number: int) -> int:
    """How many runs not placed yet could print with an ink on a press."""
    entry = w[w[W_INK_RUNS] + press_number] + 2 * ink_number
    wanted = 0
    for k in range(w[entry + 1]):
        wanted += s[w[P_PLACED] + w[w[entry] + k] * w[W_PLACED_SIZE]] < 0
    return wanted


@compiled
def set_up_minutes(w: Row, s: Row, x: Row, pairs: Row, choice: int, before: int, kept: int) -> int:
    """Set-up minutes of a run after a placed one (-1: after what stands there now), with so many inks kept after it."""
    if w[choice + C_STATED_MIN] >= 0:
        return w[choice + C_STATED_MIN] + w[choice + C_EXTRA_MIN]
    press_number = w[choice + C_PRESS]
    press = w[w[W_PRESSES] + press_number]
    minutes = pair_min(w, x, pairs, press, stack_before(w, s, press_number, before), w[choice + C_STACK])
    minutes += w[choice + C_EXTRA_MIN]
    new = w[w[W_STACKS] + w[choice + C_STACK]]
    at = w[W_SCRATCH_KEPT]
    for k in range(kept):
        if not _is_kept(s, before, x[at + k]):
            minutes -= w[press + L_LEAVE + x[at + k]]
    if before < 0:
        return minutes
    for k in range(s[before + A_KEPT_COUNT]):
        one = s[before + A_KEPT + k]
        if _prints_with(w, new, one):
            minutes += w[press + L_CARD] - w[press + L_LOAD]
            continue
        stays = False
        for i in range(kept):
            stays = stays or x[at + i] == one
        if not stays:
            minutes += w[press + L_LEAVE + one]
    return minutes

"""Coated frames, as in `search/frames.py`: whether one more burn can have its frames coated in time.

All burns stand in one list (start, class, frames) in order of start. Each coat window serves those that wait, earliest
first, and stops looking as soon as its places or its clean frames are gone.
"""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row, up_to
from scheduler.search.quick.slots import (
    K_FRAME_COUNT,
    K_FRAMES,
    NEVER,
    P_BURNS,
    P_CLEAN,
    P_TAKEN,
    S_BURN_COUNT,
    W_CLASSES,
    W_COATED_NOW,
    W_READIES,
    W_READY_COUNT,
    W_SCRATCH_FRAMES,
    W_WINDOW_COUNT,
    W_WINDOWS,
)


@compiled
def book_burn(w: Row, s: Row, screens: int, start_tau: int) -> None:
    """Take coated frames at the start of a burn."""
    frames, burns = w[screens + K_FRAMES], w[P_BURNS]
    for k in range(w[screens + K_FRAME_COUNT]):
        one, count = w[frames + 2 * k], w[frames + 2 * k + 1]
        at = burns + 3 * s[S_BURN_COUNT]
        while at > burns and (s[at - 3] > start_tau or (s[at - 3] == start_tau and s[at - 2] > one)):
            s[at], s[at + 1], s[at + 2] = s[at - 3], s[at - 2], s[at - 1]
            at -= 3
        s[at], s[at + 1], s[at + 2] = start_tau, one, count
        s[S_BURN_COUNT] += 1
        s[w[P_TAKEN] + one] += count


@compiled
def strike_burn(w: Row, s: Row, screens: int, start_tau: int) -> None:
    """Strike a burn out again."""
    frames, burns = w[screens + K_FRAMES], w[P_BURNS]
    for k in range(w[screens + K_FRAME_COUNT]):
        one, count = w[frames + 2 * k], w[frames + 2 * k + 1]
        at = burns
        while s[at] != start_tau or s[at + 1] != one or s[at + 2] != count:
            at += 3
        last = burns + 3 * (s[S_BURN_COUNT] - 1)
        for i in range(at, last):
            s[i] = s[i + 3]
        s[S_BURN_COUNT] -= 1
        s[w[P_TAKEN] + one] -= count


@compiled
def reclaim_frames(w: Row, s: Row, screens: int, end_tau: int) -> None:
    """Frames come back clean at the end of a reclaim block."""
    frames, windows, count = w[screens + K_FRAMES], w[W_WINDOWS], w[W_WINDOW_COUNT]
    for window in range(count):
        if w[windows + 3 * window] >= end_tau:
            for k in range(w[screens + K_FRAME_COUNT]):
                s[w[P_CLEAN] + w[frames + 2 * k] * count + window] += w[frames + 2 * k + 1]


@compiled
def can_burn(w: Row, s: Row, x: Row, screens: int, start_tau: int) -> bool:
    """True if this burn and all burns so far can have their frames coated in time."""
    frames, taken, coated_now = w[screens + K_FRAMES], w[P_TAKEN], w[W_COATED_NOW]
    serves = True
    for k in range(w[screens + K_FRAME_COUNT]):
        one = w[frames + 2 * k]
        if s[taken + one] + w[frames + 2 * k + 1] > w[coated_now + one]:
            serves = False
    return serves or _coats(w, s, x, screens, start_tau)


@compiled
def earliest_frames(w: Row, s: Row, x: Row, screens: int, start_tau: int) -> int:
    """First minute from `start_tau` on at which a burn of these frames can be had; NEVER if none."""
    if can_burn(w, s, x, screens, start_tau):
        return start_tau
    readies, count = w[W_READIES], w[W_READY_COUNT]
    low, high = up_to(w, readies, count, start_tau), count - 1
    if low > high or not can_burn(w, s, x, screens, w[readies + high]):
        return NEVER
    while low < high:
        middle = (low + high) // 2
        if can_burn(w, s, x, screens, w[readies + middle]):
            high = middle
        else:
            low = middle + 1
    return w[readies + low]


@compiled
def _waiting(w: Row, s: Row, x: Row, screens: int, start_tau: int) -> int:
    """Write (burn start, class, frames) that the wall cannot serve, earliest first, into the scratch row; how many.

    The scratch row holds what is left on the wall per class first.
    """
    classes, burns, frames = w[W_CLASSES], w[P_BURNS], w[screens + K_FRAMES]
    wall = w[W_SCRATCH_FRAMES]
    for one in range(classes):
        x[wall + one] = w[w[W_COATED_NOW] + one]
    list_at = wall + 2 * classes
    count, burn, own = 0, 0, 0
    burn_count, own_count = s[S_BURN_COUNT], w[screens + K_FRAME_COUNT]
    while burn < burn_count or own < own_count:
        at = burns + 3 * burn
        if burn < burn_count and (own >= own_count or s[at] <= start_tau):
            due_tau, one, asked = s[at], s[at + 1], s[at + 2]
            burn += 1
        else:
            due_tau, one, asked = start_tau, w[frames + 2 * own], w[frames + 2 * own + 1]
            own += 1
        short = asked - x[wall + one]
        if short > 0:
            x[wall + one] = 0
            x[list_at + 3 * count] = due_tau
            x[list_at + 3 * count + 1] = one
            x[list_at + 3 * count + 2] = short
            count += 1
        else:
            x[wall + one] -= asked
    return count


@compiled
def _coats(w: Row, s: Row, x: Row, screens: int, start_tau: int) -> bool:
    """True if every burn can be served."""
    waiting = _waiting(w, s, x, screens, start_tau)
    classes, windows, window_count = w[W_CLASSES], w[W_WINDOWS], w[W_WINDOW_COUNT]
    coated = w[W_SCRATCH_FRAMES] + classes
    list_at = coated + classes
    for one in range(classes):
        x[coated + one] = 0
    first = 0
    for number in range(window_count):
        if first == waiting:
            return True
        if x[list_at + 3 * first] < w[windows + 3 * number + 1]:
            return False
        left = w[windows + 3 * number + 2]
        clean_left = 0
        for one in range(classes):
            clean_left += max(0, s[w[P_CLEAN] + one * window_count + number] - x[coated + one])
        # Served ones are closed up by moving those before them on: nothing behind the last one served is touched.
        at = first
        while at < waiting and left > 0 and clean_left > 0:
            entry = list_at + 3 * at
            one = x[entry + 1]
            given = min(x[entry + 2], left, s[w[P_CLEAN] + one * window_count + number] - x[coated + one])
            if given > 0:
                x[coated + one] += given
                left -= given
                clean_left -= given
                x[entry + 2] -= given
            if x[entry + 2] == 0:
                for back in range(at, first, -1):
                    for k in range(3):
                        x[list_at + 3 * back + k] = x[list_at + 3 * (back - 1) + k]
                first += 1
            at += 1
    return first == waiting

"""What is free at every minute, as in `search/profiles.py`: events in order, each a time and what is free from then on.

The floor's limits are packed side by side into as few words as their largest counts need, each with a guard bit above
it: what is free minus what is needed keeps every guard bit if and only if every limit has enough.
"""

from __future__ import annotations

from numpy import uintp

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row, up_to
from scheduler.search.quick.slots import H_COUNT, H_STARTS, NEVER


@compiled
def events_below(s: Row, track: int, words: int, tau: int) -> int:
    """How many events of a track come before `tau`."""
    step = words + 1
    low, high = 0, s[track]
    while low < high:
        middle = (low + high) >> 1
        if s[track + 1 + middle * step] < tau:
            low = middle + 1
        else:
            high = middle
    return low


@compiled
def clash_end(w: Row, s: Row, track: int, words: int, guards: int, need: int, start_tau: int, end_tau: int) -> int:
    """Minute at which the last clash that touches [start, end) is over; 0 if the need fits all the way."""
    step = words + 1
    count = s[track]
    i = events_below(s, track, words, end_tau) - 1
    while True:
        at = track + 1 + i * step
        for word in range(words):
            guard = w[guards + word]
            if (s[at + 1 + word] - w[need + word]) & guard != guard:
                return s[at + step] if i + 1 < count else NEVER
        if s[at] <= start_tau:
            return 0
        i -= 1


@compiled
def clash_in_work(
    w: Row, s: Row, track: int, words: int, guards: int, need: int, h: int, index: int, end_index: int
) -> int:
    """As `clash_end`, for the open minutes [index, end) of some hours: the last clash of all is what counts."""
    if end_index <= index:
        return 0
    count = w[h + H_COUNT]
    starts = h + H_STARTS
    opened = starts + 2 * count
    first = up_to(w, opened, count, index) - 1
    i = first
    while i + 1 < count and w[opened + i + 1] < end_index:
        i += 1
    stop = end_index
    while True:
        offset = w[starts + i] - w[opened + i]
        begin = index if i == first else w[opened + i]
        over = clash_end(w, s, track, words, guards, need, begin + offset, stop + offset)
        if over:
            return over
        if i == first:
            return 0
        stop = w[opened + i]
        i -= 1


@compiled
def event_at(s: Row, track: int, words: int, tau: int) -> int:
    """Number of the event at `tau`, put in if there is none."""
    step = words + 1
    count = s[track]
    i = events_below(s, track, words, tau)
    at = track + 1 + i * step
    if i < count and s[at] == tau:
        return i
    for k in range(track + count * step, at - 1, -1):  # unsigned places are not asked whether they count from the end
        s[uintp(k + step)] = s[uintp(k)]
    s[at] = tau
    for word in range(words):
        s[at + 1 + word] = s[at + 1 + word - step]
    s[track] = count + 1
    return i


@compiled
def take(w: Row, s: Row, track: int, words: int, need: int, start_tau: int, end_tau: int, sign: int) -> None:
    """Use what is needed on [start, end); sign -1 gives it back."""
    if end_tau <= start_tau:
        return
    step = words + 1
    i = event_at(s, track, words, start_tau)
    j = event_at(s, track, words, end_tau)
    for at in range(track + 1 + i * step, track + 1 + j * step, step):
        for word in range(words):
            s[at + 1 + word] -= sign * w[need + word]


@compiled
def take_work(w: Row, s: Row, track: int, words: int, need: int, h: int, index: int, end_index: int, sign: int) -> None:
    """Use what is needed in the open minutes [index, end) of some hours."""
    count = w[h + H_COUNT]
    starts = h + H_STARTS
    opened = starts + 2 * count
    i = up_to(w, opened, count, index) - 1
    while index < end_index:
        window_end = w[opened + i] + w[starts + count + i] - w[starts + i]
        stop = end_index if end_index < window_end else window_end
        offset = w[starts + i] - w[opened + i]
        take(w, s, track, words, need, index + offset, stop + offset, sign)
        index = stop
        i += 1

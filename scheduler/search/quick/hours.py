"""Open minutes counted one by one and back, as in `search/timing.py`, over hours written into the week's row."""

from __future__ import annotations

from numpy import int64
from numpy.typing import NDArray

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.slots import H_COUNT, H_STARTS, H_TOTAL, NEVER, W_CUT_COUNT, W_CUTS, W_DRY_MIN

Row = NDArray[int64]


@compiled
def up_to(row: Row, at: int, count: int, value: int) -> int:
    """How many of the rising numbers from `at` on are at most `value`."""
    low, high = 0, count
    while low < high:
        middle = (low + high) >> 1
        if row[at + middle] <= value:
            low = middle + 1
        else:
            high = middle
    return low


@compiled
def below(row: Row, at: int, count: int, value: int) -> int:
    """How many of the rising numbers from `at` on are less than `value`."""
    low, high = 0, count
    while low < high:
        middle = (low + high) >> 1
        if row[at + middle] < value:
            low = middle + 1
        else:
            high = middle
    return low


@compiled
def total_min(w: Row, h: int) -> int:
    """Open minutes in all."""
    return w[h + H_TOTAL]


@compiled
def index_from(w: Row, h: int, tau: int) -> int:
    """Index of the first open minute at or after `tau`; the total if there is none."""
    count = w[h + H_COUNT]
    starts = h + H_STARTS
    i = up_to(w, starts, count, tau) - 1
    if i < 0:
        return 0
    end = w[starts + count + i]
    return w[starts + 2 * count + i] + (tau if tau < end else end) - w[starts + i]


@compiled
def minute(w: Row, h: int, index: int) -> int:
    """Shop minute of an open minute."""
    count = w[h + H_COUNT]
    starts = h + H_STARTS
    opened = starts + 2 * count
    i = up_to(w, opened, count, index) - 1
    return w[starts + i] + index - w[opened + i]


@compiled
def end_minute(w: Row, h: int, index: int) -> int:
    """Shop minute at which work ends that has used the open minutes before `index`."""
    count = w[h + H_COUNT]
    starts = h + H_STARTS
    opened = starts + 2 * count
    i = below(w, opened, count, index) - 1
    return w[starts + i] + index - w[opened + i]


@compiled
def print_end(w: Row, h: int, index: int, work_min: int) -> int:
    """Index at which a print is through, restarts after stops included; NEVER if the hours do not suffice."""
    total = w[h + H_TOTAL]
    if index >= total:
        return NEVER
    count = w[h + H_COUNT]
    opened = h + H_STARTS + 2 * count
    restarts = opened + 2 * count
    i = up_to(w, opened, count, index) - 1
    left_min = work_min
    while True:
        window_end = w[opened + i + 1] if i < count - 1 else total
        room_min = window_end - index
        if left_min <= room_min:
            return index + left_min
        if i == count - 1:
            return NEVER
        left_min -= room_min
        i += 1
        index = window_end
        left_min += w[restarts + i]


@compiled
def rinsed_end(
    w: Row, h: int, index: int, work_min: int, idle_ok_min: int, rinse_min: int, ink_min: int
) -> tuple[int, int, int]:
    """(end, stops it is rinsed out for, start that may help) of a print whose inks dry, as `Hours.rinsed_print_end`."""
    total = w[h + H_TOTAL]
    if index >= total:
        return NEVER, 0, -1
    count = w[h + H_COUNT]
    opened = h + H_STARTS + 2 * count
    stops_at, restarts = opened + count, opened + 2 * count
    first = up_to(w, opened, count, index) - 1
    at, left_min, stops = first, work_min, 0
    while True:
        window_end = w[opened + at + 1] if at < count - 1 else total
        room_min = window_end - index
        if left_min <= room_min:
            return index + left_min, stops, -1
        if at == count - 1:
            return NEVER, stops, -1
        if w[stops_at + at + 1] > idle_ok_min:
            if room_min < rinse_min:
                return NEVER, stops, window_end if at == first else w[opened + at]
            left_min += rinse_min + ink_min
            stops += 1
        at += 1
        index = window_end
        left_min += w[restarts + at] - room_min


@compiled
def after_long_stop(w: Row, h: int, index: int, end_index: int, idle_ok_min: int) -> int:
    """Index just after the first stop longer than `idle_ok_min` inside the work [index, end); -1 if none."""
    count = w[h + H_COUNT]
    opened = h + H_STARTS + 2 * count
    i = up_to(w, opened, count, index)
    while i < count and w[opened + i] < end_index:
        if w[opened + count + i] > idle_ok_min:
            return w[opened + i]
        i += 1
    return -1


@compiled
def first_print(w: Row, hours: int, prints: int, ready_index: int) -> int:
    """First minute of print of a run set up by the press's open minute `ready_index`; NEVER if there is none."""
    if ready_index >= w[hours + H_TOTAL]:
        return NEVER
    return index_from(w, prints, minute(w, hours, ready_index))


@compiled
def set_up_by(w: Row, hours: int, prints: int, print_from_tau: int) -> int:
    """The press's first open minute at which a run may be set up without printing before `print_from_tau`."""
    if prints == hours:
        return index_from(w, hours, print_from_tau)
    index = index_from(w, prints, print_from_tau)
    return index_from(w, hours, end_minute(w, prints, index)) if index else 0


@compiled
def dry_tau(w: Row, end_tau: int) -> int:
    """Shop minute at which screens are dry whose burn ended at `end_tau`."""
    cuts, count = w[W_CUTS], w[W_CUT_COUNT]
    walls, wall_ends = cuts + count, cuts + 2 * count
    i = max(below(w, cuts, count, end_tau) - 1, 0)
    wall = w[walls + i] + end_tau - w[cuts + i] + w[W_DRY_MIN]
    while i < count - 1 and w[walls + i + 1] <= wall:
        i += 1
    end = w[wall_ends + i]
    return w[cuts + i] + (wall if wall < end else end) - w[walls + i]

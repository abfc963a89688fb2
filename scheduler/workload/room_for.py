"""Whether a run can ever be done in the hours a press has: work that goes on over breaks, inks that may not stand."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from scheduler.domain.calendars import Calendar, Restart, Window
from scheduler.domain.week import PressChoice, SetUpMinutes


class PrintWork(NamedTuple):
    """Press minutes after the set-up, and what a stop inside them costs.

    idle_ok_min: longest stop its inks may stand, None for any; for a longer one they are rinsed out and loaded again.
    """

    work_min: int
    restart: Restart
    idle_ok_min: int | None = None
    rinse_min: int = 0
    ink_min: int = 0

    def is_long(self, stop_min: int) -> bool:
        """True for a stop its inks may not stand."""
        return self.idle_ok_min is not None and stop_min > self.idle_ok_min


def all_bought(calendar: Calendar) -> Calendar:
    """The calendar with every overtime block bought."""
    return calendar.with_bought({window.overtime_id for window in calendar.windows if window.overtime_id})


def end_of_work(calendar: Calendar, from_tau: int, work_min: int) -> int | None:
    """Shop minute at which work that starts as early as it can from `from_tau` ends; None if the hours run out.

    `calendar` is one with bought overtime already merged in. Work of 0 minutes ends where it may start.
    """
    left = work_min
    for window in calendar.windows:
        start = max(window.start_tau, from_tau)
        if start >= window.end_tau:
            continue
        if left <= window.end_tau - start:
            return start + left
        left -= window.end_tau - start
    return None


def least_set_up_min(choice: PressChoice, minutes: SetUpMinutes, *, may_stand_there: bool) -> int:
    """The least set-up minutes a run can take on a press, whatever it follows.

    may_stand_there: its screens may be on the press already (from another run of the set, or now).
    """
    if choice.stated_set_up_min is not None:
        return choice.stated_set_up_min + choice.set_up_extra_min
    heads = len(choice.stack.heads)
    if may_stand_there or not heads:
        return choice.set_up_extra_min
    ink_min = min(minutes.card_min, minutes.load_min)
    return heads * (minutes.mount_min + ink_min) + minutes.strike_off_min + choice.set_up_extra_min


def most_set_up_min(choice: PressChoice, minutes: SetUpMinutes, heads: int) -> int:
    """A set-up no run takes longer than: every screen mounted and loaded, every head of the press cleaned before."""
    if choice.stated_set_up_min is not None:
        return choice.stated_set_up_min + choice.set_up_extra_min
    clean = max(minutes.clean_light_min, minutes.clean_dark_min, minutes.swap_min or 0)
    per_screen = minutes.mount_min + minutes.load_min + minutes.card_min
    return (
        per_screen * len(choice.stack.heads)
        + clean * heads
        + minutes.pallet_min
        + minutes.flash_move_min * len(choice.stack.flash_after)
        + minutes.strike_off_min
        + choice.set_up_extra_min
    )


def stretches(calendar: Calendar, from_tau: int, idle_ok_min: int | None) -> list[list[Window]]:
    """Open windows from `from_tau` on, parted at every stop longer than `idle_ok_min` (None: never)."""
    found: list[list[Window]] = []
    for window in all_bought(calendar).windows:
        if window.end_tau <= from_tau:
            continue
        start = max(window.start_tau, from_tau)
        stop = 0 if start > window.start_tau else window.stop_before_min
        cut = Window(start_tau=start, end_tau=window.end_tau, stop_before_min=stop)
        if found and (idle_ok_min is None or stop <= idle_ok_min):
            found[-1].append(cut)
        else:
            found.append([cut])
    return found


def longest_min(parts: Iterable[list[Window]]) -> int:
    """Open minutes of the longest stretch."""
    return max((sum(one.end_tau - one.start_tau for one in windows) for windows in parts), default=0)


def fits_somewhere(
    parts: Iterable[list[Window]], set_up_min: int, work: PrintWork, hot: Calendar | None = None
) -> bool:
    """True if set-up and print go through within one of the stretches, restarts after stops counted.

    A start is tried at the beginning of every window, and where the set-up would end with the window (a stop between
    set-up and print costs no restart). hot: when it can print, None if always.
    """
    for windows in parts:
        for at, window in enumerate(windows):
            late_start = max(window.start_tau, window.end_tau - set_up_min)
            for start in {window.start_tau, late_start}:
                if start < window.end_tau and _goes_through(windows[at:], start, set_up_min, work, hot):
                    return True
    return False


def can_start_at(calendar: Calendar, tau: int, set_up_min: int, work: PrintWork, hot: Calendar | None = None) -> bool:
    """True if set-up and print that start at this very minute go through."""
    windows = next(iter(stretches(calendar, tau, None)), [])
    starts = bool(windows) and windows[0].start_tau == tau
    return starts and _goes_through(windows, tau, set_up_min, work, hot)


def _goes_through(windows: list[Window], start: int, set_up_min: int, work: PrintWork, hot: Calendar | None) -> bool:
    if hot is not None:
        ready = end_of_work(Calendar(windows=tuple(windows)), start, set_up_min)
        ready = windows[-1].end_tau if ready is None else ready
        parts = stretches(hot, ready, None)
        hot_windows = [one for one in (parts[0] if parts else []) if one.start_tau < windows[-1].end_tau]
        prints_at = hot_windows[0].start_tau if hot_windows else windows[-1].end_tau
        if any(start < one.start_tau <= prints_at and work.is_long(one.stop_before_min) for one in windows):
            return False
        windows, start, set_up_min = hot_windows, ready, 0
    set_up_left, print_left, printed_min = set_up_min, work.work_min, -1
    for at, window in enumerate(windows):
        is_long = at > 0 and work.is_long(window.stop_before_min)
        if is_long and printed_min < work.rinse_min:
            return False  # the ink would stand, or could not be rinsed out
        room = window.end_tau - max(start, window.start_tau)
        used = min(room, set_up_left)
        set_up_left -= used
        room -= used
        if set_up_left or not room:
            continue
        if printed_min >= 0:
            print_left += work.restart.after(window.stop_before_min)
            print_left += work.rinse_min + work.ink_min if is_long else 0
        if print_left <= room:
            return True
        print_left -= room
        printed_min = room
    return False

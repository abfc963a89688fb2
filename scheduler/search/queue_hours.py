"""When a run can be through on a press at best, for every open minute from which its set-up may go on.

The same hours as in `timing`, for all minutes at once (NumPy): rows hold one number per open minute of the press, and
one more for "never". A run may always be set up later, so each row says what the best of all later starts comes to;
thus a press that is free sooner is never worse.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from scheduler.search.tables import ChoiceSpec, RunSpec, Tables
from scheduler.search.timing import Hours, open_hours

Row = NDArray[np.signedinteger]
"""One whole number per open minute, or per shop minute."""
LATER = 1 << 30
"""A shop minute after every other; small enough to add to."""


class QueueHours:
    """One press's hours under some bought overtime, and the ends of every run set up on it."""

    def __init__(self, tables: Tables, press: int, bought: frozenset[str]) -> None:
        """Count the press's open minutes, and those in which it may print."""
        line = tables.week.presses[press]
        self.horizon_tau = tables.horizon_tau
        self.hours = open_hours(line.calendar, bought)
        self.prints = open_hours(line.prints_in, bought, line.restart)
        self.index_from = index_row(self.hours, self.horizon_tau)
        self._print_from = index_row(self.prints, self.horizon_tau)
        self._minute = _minutes(self.hours)
        self._print_minute = _minutes(self.prints)
        self._end, self._print_end = _ends(self.hours), _ends(self.prints)
        self._ends: dict[tuple[int, int], Row] = {}
        self._rows: dict[tuple[int, int], tuple[Row, Row]] = {}

    def set_up_by(self, print_from_tau: Row) -> Row:
        """First open minute by which a run may be set up so that it prints no sooner than these shop minutes."""
        index = self._print_from[np.minimum(print_from_tau, self.horizon_tau)]
        opened = np.where(index > 0, self._print_end[index], 0)
        return np.asarray(self.index_from[np.minimum(opened, self.horizon_tau)])

    def end_by(self, index: Row) -> Row:
        """Shop minutes by which so many open minutes have gone by; the last one where there are no more."""
        return np.asarray(self._end[np.minimum(index, self.hours.total)])

    def printed(self, run: RunSpec, choice: ChoiceSpec, set_up_min: Row, index: Row) -> tuple[Row, Row]:
        """(earliest print start, earliest print end) of set-ups of so many minutes, going on from an open minute."""
        # Sorted by the minutes a set-up takes, each row is looked into once; sixteen bits are sorted without comparing.
        order = np.argsort(set_up_min.astype(np.int16), kind="stable")
        takes_min, at = set_up_min[order], index[order]
        borders = [0, *(np.flatnonzero(np.diff(takes_min)) + 1).tolist(), len(order)]
        start_tau, end_tau = np.empty_like(index), np.empty_like(index)
        for begin, end in pairwise(borders):
            starts, ends = self.rows(run, choice, int(takes_min[begin]))
            part = order[begin:end]
            start_tau[part], end_tau[part] = starts[at[begin:end]], ends[at[begin:end]]
        return start_tau, end_tau

    def rows(self, run: RunSpec, choice: ChoiceSpec, set_up_min: int) -> tuple[Row, Row]:
        """(earliest print start, earliest print end) by the open minute from which its set-up may go on."""
        key = (run.number, set_up_min)
        if key not in self._rows:
            self._rows[key] = self._worked_out(run, choice, set_up_min)
        return self._rows[key]

    def _worked_out(self, run: RunSpec, choice: ChoiceSpec, set_up_min: int) -> tuple[Row, Row]:
        begin = np.arange(self.hours.total + 1)
        ready = np.minimum(begin + set_up_min, self.hours.total)
        start = self._print_from[np.minimum(self._minute[ready], self.horizon_tau)]
        start_tau, end_tau = self._print_minute[start], self._print_ends(run, choice)[start]
        if run.idle_ok_min >= 0:
            long_stops = _stops_until(self.hours, run.idle_ok_min)
            print_from = self.index_from[np.minimum(start_tau, self.horizon_tau)]
            stands = long_stops[print_from] > long_stops[begin]
            start_tau, end_tau = np.where(stands, LATER, start_tau), np.where(stands, LATER, end_tau)
        start_tau = np.where(end_tau >= LATER, LATER, start_tau)
        return _at_best(start_tau), _at_best(end_tau)

    def _print_ends(self, run: RunSpec, choice: ChoiceSpec) -> Row:
        """Shop minutes at which a print is through, by the open minute it starts in; the fastest way counts."""
        work_min = min(one.work_min for one in (choice, *choice.other_ways))
        key = (run.number, work_min)
        if key not in self._ends:
            self._ends[key] = self._through(work_min, run.idle_ok_min, choice.wash_up_min, choice.re_ink_min)
        return self._ends[key]

    def _through(self, work_min: int, idle_ok_min: int, rinse_min: int, ink_min: int) -> Row:
        """`Hours.print_end`, or `Hours.rinsed_print_end` where inks dry, from every minute at once."""
        hours = self.prints
        at = np.arange(hours.total)
        index, left_min = at.copy(), np.full(hours.total, work_min)
        window = np.searchsorted(hours.opened, at, side="right") - 1
        through = np.full(hours.total + 1, LATER)
        for number in range(len(hours.opened)):
            here = window == number
            end = hours.opened[number + 1] if number + 1 < len(hours.opened) else hours.total
            room_min = end - index
            fits = here & (left_min <= room_min)
            through[:-1][fits] = self._print_end[(index + left_min)[fits]]
            on = here & ~fits
            if number + 1 == len(hours.opened):
                break
            after_min = hours.restarts[number + 1]
            if 0 <= idle_ok_min < hours.stops[number + 1]:
                on &= room_min >= rinse_min
                after_min += rinse_min + ink_min
            left_min = np.where(on, left_min - room_min + after_min, left_min)
            index, window = np.where(on, end, index), np.where(on, number + 1, window)
        if not work_min:
            through[:-1] = self._print_minute[:-1]
        return through


def index_row(hours: Hours, horizon_tau: int) -> Row:
    """`Hours.index_from` of every shop minute up to the horizon."""
    return np.array([hours.index_from(tau) for tau in range(horizon_tau + 1)], dtype=np.int64)


def _minutes(hours: Hours) -> Row:
    """`Hours.minute` of every open minute, `LATER` behind them."""
    spans = [np.arange(start, end) for start, end in zip(hours.starts, hours.ends, strict=True)]
    return np.concatenate([*spans, [LATER]]).astype(np.int64)


def _ends(hours: Hours) -> Row:
    """`Hours.end` of every number of open minutes used up, 0 for none."""
    return np.concatenate([[0], _minutes(hours)[:-1] + 1])


def _stops_until(hours: Hours, idle_ok_min: int) -> Row:
    """How many stops longer than that lie before each open minute, or straight before it."""
    long = [opened for opened, stop in zip(hours.opened, hours.stops, strict=True) if stop > idle_ok_min]
    return np.searchsorted(long, np.arange(hours.total + 1), side="right")


def _at_best(row: Row) -> Row:
    """The least of each number and all behind it."""
    return np.asarray(np.minimum.accumulate(row[::-1])[::-1])

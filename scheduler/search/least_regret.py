"""Lists made press by press: whichever press is free first takes the run that speaks for itself most.

The apparent tardiness cost rule with set-ups (Lee, Bhaskaran and Pinedo, 1997): money per minute of work, less by
exp of the minutes to spare, less by exp of the set-up. Screens and people are looked at by the decoder only.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.domain.week import Stack, Week
from scheduler.search.genome import Genome
from scheduler.search.set_ups import SetUps
from scheduler.search.tables import Opened, Tables, opened_with
from scheduler.search.timing import NEVER, Hours

Minutes = NDArray[np.float64]

LOOK_AHEAD = 2.0
"""How many mean run lengths ahead a due date starts to press. Common practice, no source; 1.5 to 4.5 is usual."""
SET_UP_SHY = 0.3
"""Share of a mean set-up that makes a run wait for a better neighbour. Common practice, no source."""
PROMISING = ((2.0, 2.0), (1.5, 2.0), (1.5, 4.0), (2.0, 1.0), (1.0, 2.0), (3.0, 1.0))
"""Pairs of the two with which lists are made besides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Regard:
    """What a list looks at: see `LOOK_AHEAD` and `SET_UP_SHY`.

    by_order: money counts per minute of all that is left of an order, so that what is begun is finished.
    """

    look_ahead: float = LOOK_AHEAD
    set_up_shy: float = SET_UP_SHY
    by_order: bool = False

    @property
    def words(self) -> str:
        """What tells it from other lists."""
        whole = ", whole orders" if self.by_order else ""
        return f"looking {self.look_ahead:g} ahead, set-ups {self.set_up_shy:g}{whole}"


def regards() -> Iterator[Regard]:
    """What else is worth a list, most promising first: measured on invented weeks of 40 to 1,000 runs."""
    for look_ahead, set_up_shy in PROMISING:
        for by_order in (True, False):
            yield Regard(look_ahead=look_ahead, set_up_shy=set_up_shy, by_order=by_order)


class LeastRegret:
    """Makes such lists for one week; what does not change between them is worked out once."""

    def __init__(self, week: Week, tables: Tables, set_ups: SetUps) -> None:
        """Write down minutes and money of every run on every press."""
        self.week = week
        self.tables = tables
        self.set_ups = set_ups
        self.opened: Opened = opened_with(tables, frozenset())
        works = [choice.work_min for run in tables.runs for choice in run.choices] or [1]
        self.mean_work_min = max(1.0, sum(works) / len(works))
        now = [(-1 - i, press.now_on) for i, press in enumerate(week.presses)]
        from_now = [set_ups.minutes(*now[c.press], c, (), ()) for run in tables.runs for c in run.choices] or [1]
        self.mean_set_up_min = max(1.0, sum(from_now) / len(from_now))
        self._note_runs()

    def _note_runs(self) -> None:
        runs, tables, week = self.tables.runs, self.tables, self.week
        self._work_min: Minutes = np.full((len(week.presses), len(runs)), np.inf)
        for run in runs:
            for press, choice in run.by_press.items():
                if run.fixed_press in (-1, press):
                    self._work_min[press, run.number] = max(1, choice.work_min)
        self._order = np.array([run.order for run in runs], dtype=np.int64)
        self._blanks_tau = np.array([run.blanks_tau for run in runs], dtype=float)
        orders = [tables.orders[run.order] for run in runs]
        with_order = zip(runs, orders, strict=True)
        tails = [run.cure_min + max(order.finish_min, order.last_box_min) for run, order in with_order]
        self._by_tau = np.array([order.promised_tau for order in orders], dtype=float) - tails
        self._money = np.array([order.late_cents + order.cushion_cents + 1 for order in orders], dtype=float)
        self._run_count = np.array([len(order.runs) for order in orders], dtype=float)

    def genome(self, regard: Regard) -> Genome:
        """The list, and the press of every run."""
        runs, free = self.tables.runs, [0] * len(self.week.presses)
        stands: list[tuple[int, Stack]] = [(-1 - i, press.now_on) for i, press in enumerate(self.week.presses)]
        work_min = self._work_min.copy()
        least_min = work_min.min(axis=0)
        known_min = np.where(np.isinf(least_min), 0.0, least_min)
        left_min = np.bincount(self._order, weights=known_min, minlength=len(self.tables.orders)).astype(np.float64)
        order: list[str] = []
        press: list[str | None] = [None] * len(runs)
        while True:
            able = [p for p in range(len(free)) if np.isfinite(work_min[p]).any()]
            if not able:
                break
            at = min(able, key=lambda p: (free[p], p))
            number, set_up_min = self._next(regard, at, free[at], work_min[at], left_min, stands[at])
            run = runs[number]
            choice = run.by_press[at]
            order.append(run.run_id)
            press[number] = self.week.presses[at].press_id
            free[at] = _end_tau(self.opened.presses[at], max(free[at], run.blanks_tau), set_up_min + choice.work_min)
            stands[at] = (choice.key, choice.stack)
            left_min[run.order] -= least_min[number]
            work_min[:, number] = np.inf
        named = set(order)
        order.extend(run.run_id for run in runs if run.run_id not in named)
        return Genome(order=tuple(order), press=tuple(press))

    def _next(
        self, regard: Regard, press: int, free_tau: int, work_min: Minutes, left_min: Minutes, stands: tuple[int, Stack]
    ) -> tuple[int, int]:
        """The run that speaks for itself most, and its set-up; only those are timed that could be it."""
        numbers = np.flatnonzero(np.isfinite(work_min))
        works = work_min[numbers]
        starts_tau = np.maximum(free_tau, self._blanks_tau[numbers])
        spare_min = np.maximum(0.0, self._by_tau[numbers] - starts_tau - self.mean_set_up_min - works)
        if regard.by_order:
            value = self._money[numbers] / np.maximum(works, left_min[self._order[numbers]])
        else:
            value = self._money[numbers] / self._run_count[numbers] / works
        value = value * np.exp(-spare_min / (regard.look_ahead * self.mean_work_min))
        value = value * np.exp((free_tau - starts_tau) / self.mean_work_min)
        best, best_value, best_min = -1, -1.0, 0
        for place in np.argsort(-value, kind="stable").tolist():
            if value[place] <= best_value:
                break
            number = int(numbers[place])
            set_up_min = self.set_ups.minutes(*stands, self.tables.runs[number].by_press[press], (), ())
            with_set_up = float(value[place] * np.exp(-set_up_min / (regard.set_up_shy * self.mean_set_up_min + 1)))
            if with_set_up > best_value:
                best, best_value, best_min = number, with_set_up, set_up_min
        return best, best_min


def _end_tau(hours: Hours, from_tau: int, work_min: int) -> int:
    index = hours.index_from(from_tau) + work_min
    return hours.end(index) if 0 < index <= hours.total else NEVER

"""For how long presses stand open with nothing to do before a run, and what the run waits for, read off the plan."""

from __future__ import annotations

from collections import Counter

from scheduler.domain.own_order import PressWait
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.search.reasons import (
    AHEAD,
    ANNOUNCED,
    BELT,
    FLASH,
    INK_STANDS,
    PEOPLE,
    SET_OTHERWISE,
    with_reasons,
)
from scheduler.search.tables import Opened, RunSpec, Tables, opened_with, tables_of

GARMENTS, SCREENS, CART = "garments", "screens", "a staged cart"
OTHER_PRESS, OTHER_PRINT = "screens on another press", "garments printed elsewhere first"
FIXED, LATER = "its fixed time", "what comes after"

_SAID = {
    PEOPLE: "people",
    AHEAD: "screens to stand ready a while",
    BELT: "room on the belt",
    SET_OTHERWISE: "the dryer's setting",
    FLASH: "a flash",
    INK_STANDS: "hours in which its ink need not stand",
    ANNOUNCED: "its announced time",
}
"""What a reason starts with, and what the press then waits for."""


def press_waits(week: Week, plan: Plan) -> tuple[PressWait, ...]:
    """Open minutes each press stands before a set-up, by what the run waits for; most first on each press.

    Counted from the press's first open minute, or from the end of the print before, to the start of the set-up.
    Minutes up to the last of garments, screens, and prints elsewhere count for whichever comes last; then the cart;
    what is left counts for people, the belt or whatever else the run's reason names. After its last run a press waits
    for nothing.
    """
    return _Reader(week, plan).waits()


class _Reader:
    def __init__(self, week: Week, plan: Plan) -> None:
        self.week = week
        self.plan = plan if all(one.reason for one in plan.runs) else with_reasons(week, plan)
        self.tables: Tables = tables_of(week)
        self.opened: Opened = opened_with(self.tables, frozenset(plan.overtime))

    def waits(self) -> tuple[PressWait, ...]:
        found: list[PressWait] = []
        for press in self.week.presses:
            minutes: Counter[str] = Counter()
            free_tau = 0
            for one in self.plan.queue.get(press.press_id, ()):
                self._count(one, free_tau, minutes)
                free_tau = one.print_end_tau
            found.extend(
                PressWait(press_id=press.press_id, what=what, wait_min=wait_min)
                for what, wait_min in sorted(minutes.items(), key=lambda item: (-item[1], item[0]))
            )
        return tuple(found)

    def _count(self, one: PlannedRun, free_tau: int, minutes: Counter[str]) -> None:
        """Add the minutes between `free_tau` and the run's set-up to what it waits for."""
        hours = self.opened.presses[self.tables.press_number[one.press_id]]
        at, start = hours.index_from(free_tau), hours.index_from(one.set_up_start_tau)
        if start <= at:
            return
        fixing = self.week.fixing.get(one.run_id)
        if fixing is not None and fixing.set_up_start_tau is not None:
            minutes[FIXED] += start - at
            return
        run = self.tables.runs[self.tables.run_number[one.run_id]]
        roots = [(hours.index_from(tau), what) for tau, what in self._roots(one, run)]
        roots += [(hours.index_from(tau) - one.set_up_min, OTHER_PRINT) for tau in self._other_prints(one, run)]
        staged = one.stage_end_tau if one.stage_end_tau > one.stage_start_tau else 0
        for until, what in (max(roots, default=(0, "")), (hours.index_from(staged), CART)):
            if until > at:
                minutes[what] += min(until, start) - at
                at = min(until, start)
        if start > at:
            minutes[_said(one.reason)] += start - at

    def _roots(self, one: PlannedRun, run: RunSpec) -> list[tuple[int, str]]:
        """Shop minutes from which garments and screens are there."""
        found = [(run.blanks_tau, GARMENTS)]
        if one.burn is not None:
            found.append((one.burn.tape_end_tau, SCREENS))
        for other in self.plan.runs:
            same_set = run.screen_set >= 0 and self.week.run[other.run_id].set_id == self.week.run[one.run_id].set_id
            if same_set and other.press_id != one.press_id and other.print_end_tau <= one.set_up_start_tau:
                found.append((other.print_end_tau, OTHER_PRESS))
        return found

    def _other_prints(self, one: PlannedRun, run: RunSpec) -> list[int]:
        """Shop minutes from which the run may print after others on its garments, or that it must follow."""
        found = []
        for number in {*run.after, *run.mates}:
            other = self.tables.runs[number]
            planned = self.plan.run[other.run_id]
            clear_tau = planned.print_end_tau + other.gap_min
            if planned.print_start_tau < one.print_start_tau and clear_tau <= one.print_start_tau:
                found.append(clear_tau)
        return found


def _said(reason: str) -> str:
    return next((what for start, what in _SAID.items() if reason.startswith(start)), LATER)

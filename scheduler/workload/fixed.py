"""What stays where it is: runs that have started, runs the planner locked, runs announced before a given time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from scheduler.domain.calendars import Calendar
from scheduler.domain.orders import Announced, Progress
from scheduler.domain.week import AnnouncedRun, Fixing, Part, Run
from scheduler.errors import Problem
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis, when
from scheduler.workload.plannable import RunMaker
from scheduler.workload.room_for import all_bought, end_of_work
from scheduler.workload.runs import RunDraft

Started = Mapping[str, Progress]
"""Progress rows by the run they are about."""


def match_progress(
    progress: tuple[Progress, ...], drafts: tuple[RunDraft, ...], press_ids: frozenset[str]
) -> tuple[dict[str, Progress], list[Problem]]:
    """Which run each progress row is about. Rows about no run, an unclear one, or a second on a press are faults."""
    found: dict[str, Progress] = {}
    problems: list[Problem] = []
    on_press: dict[str, str] = {}
    for row in progress:
        same = [
            draft
            for draft in drafts
            if draft.order.order_id == row.order_id
            and draft.imprint.location.lower() == row.location.lower()
            and (row.shade is None or draft.shade == row.shade)
            and row.run_id in (None, draft.run_id)
            and draft.run_id not in found
        ]
        shades = {draft.shade for draft in same}
        if not same:
            problems.append(_problem(row, "no_such_run", "no run of that order is left to be started", "order"))
        elif len(shades) > 1:
            problems.append(_problem(row, "which_shade", "light or dark garments? both are ordered", "shade"))
        elif row.press_id not in press_ids and not (row.run_id is not None and row.pieces_left <= 0):
            problems.append(_problem(row, "no_such_press", f"'{row.press_id}' is no press of the shop", "press"))
        elif row.press_id in on_press and row.pieces_left > 0:
            other = on_press[row.press_id]
            text = f"{row.press_id} has started {other} already and can hold one run only"
            problems.append(_problem(row, "two_on_a_press", text, "press"))
        else:
            run_id = min(same, key=lambda draft: draft.arrives is not None).run_id
            found[run_id] = row
            if row.pieces_left > 0:
                on_press[row.press_id] = run_id
    return found, problems


def _problem(row: Progress, code: str, message: str, column: str) -> Problem:
    return Problem(
        file="progress.csv",
        column=column,
        value=f"{row.order_id} {row.location}",
        code=code,
        message=f"{row.order_id} {row.location}: {message}",
        hint="correct the row, or take it out",
    )


def what_is_left(draft: RunDraft, pieces_left: int) -> RunDraft:
    """The rest of a started run: garments are printed in order, so the last ones are left."""
    done = max(0, draft.pieces - pieces_left)
    parts: list[Part] = []
    lots = []
    for lot, part in zip(draft.lots, draft.parts, strict=True):
        gone = min(done, part.pieces)
        done -= gone
        if gone < part.pieces:
            parts.append(replace(part, pieces=part.pieces - gone))
            lots.append(lot)
    return replace(draft, parts=tuple(parts), lots=tuple(lots), arrives=None)


def first_open(calendar: Calendar, from_tau: int = 0) -> int | None:
    """First minute at or after `from_tau` in normal hours; None if there is none."""
    for window in calendar.with_bought(()).windows:
        if window.end_tau > from_tau:
            return max(window.start_tau, from_tau)
    return None


def is_open_at(calendar: Calendar, tau: int) -> bool:
    """True if the minute lies in an open window, bought overtime counted in."""
    return any(one.start_tau <= tau < one.end_tau for one in all_bought(calendar).windows)


@dataclass(slots=True, kw_only=True)
class Fixer:
    """Collects what is fixed, and refuses what cannot be.

    maker: knows what hours and screens allow. runs: every run that can be planned. opened: press calendars.
    """

    axis: Axis
    opened: Mapping[str, Calendar]
    maker: RunMaker
    runs: Mapping[str, Run]
    notes: Notes
    fixings: list[Fixing] = field(default_factory=list)
    announced: list[AnnouncedRun] = field(default_factory=list)
    _held: list[tuple[str, str | None, int, int, str]] = field(default_factory=list)
    """(press, set, from, least end, run) of everything fixed in time."""

    def start(self, run: Run, row: Progress) -> None:
        """A started run: first on its press, at the press's first open minute."""
        tau = first_open(self.opened[row.press_id]) or 0
        self.fixings.append(
            Fixing(
                run_id=run.run_id,
                kind="started",
                press_id=row.press_id,
                set_up_start_tau=tau,
                set_up_left_min=row.set_up_left_min,
            )
        )
        self._hold(run, row.press_id, tau, row.set_up_left_min)

    def lock(self, run: Run, press_id: str | None, at: datetime | None) -> str | None:
        """Lock a run to a press, a moment or both; the reason in words if that cannot be."""
        if press_id is not None and press_id not in run.on_press:
            return f"locked to {press_id}, which it does not fit"
        if at is not None and self.axis.days.wall(at) < 0:
            text = "locked to a moment that is over: only the press is kept"
            self.notes.add("lock_over", text, "runs", where=run.run_id)
            at = None
        tau = None if at is None else self.axis.clock.tau_of(self.axis.days.aware(at))
        if at is not None and tau is not None:
            clash = self.clash(run, press_id, at)
            if clash:
                return clash
            only = _only_press(run, press_id)
            if only is not None:
                self._hold(run, only, tau, 0)
        if press_id is not None or tau is not None:
            self.fixings.append(Fixing(run_id=run.run_id, kind="locked", press_id=press_id, set_up_start_tau=tau))
        return None

    def announce(self, run: Run, earlier: Announced, dont_touch_before: datetime | None) -> None:
        """A run announced by an earlier plan: fixed before "don't touch before" where it can be, else priced."""
        days, clock = self.axis.days, self.axis.clock
        tau = clock.tau_of(days.aware(earlier.set_up_at))
        is_near = dont_touch_before is not None and days.wall(earlier.set_up_at) < days.wall(dont_touch_before)
        if is_near:
            can_stay = days.wall(earlier.set_up_at) >= 0 and earlier.press_id in run.on_press
            if can_stay and self.clash(run, earlier.press_id, earlier.set_up_at) is None:
                self.fixings.append(
                    Fixing(run_id=run.run_id, kind="announced", press_id=earlier.press_id, set_up_start_tau=tau)
                )
                self._hold(run, earlier.press_id, tau, 0)
                return
            text = 'announced before "don\'t touch before", but cannot stay there'
            self.notes.add("cannot_stay", text, "runs", where=run.run_id)
        self.announced.append(AnnouncedRun(run_id=run.run_id, press_id=earlier.press_id, set_up_start_tau=tau))

    def clash(self, run: Run, press_id: str | None, at: datetime) -> str | None:
        """Why a run cannot start its set-up at a moment, if that is plain to see: the first clash in words."""
        wall = self.axis.days.wall(at)
        tau, said = self.axis.clock.tau(wall), when(self.axis.clock.moment(wall))
        presses = [press_id] if press_id is not None else list(run.on_press)
        is_cut = self.axis.clock.wall_at_start(tau) != wall
        if is_cut or not any(is_open_at(self.opened[one], tau) for one in presses):
            return f"fixed to start {said}, when {' and '.join(presses)} cannot be worked"
        if run.blanks_tau > tau:
            return f"fixed to start {said}, before its garments are in"
        staged_tau = self.maker.staged_from_tau(run)
        if staged_tau > tau:
            back = self.axis.clock.ends_at(staged_tau)
            return f"fixed to start {said}; its garments are not back from other stations before {when(back)}"
        ready_tau = self.maker.screens_ready_tau(run) or 0
        if ready_tau > tau:
            ready = self.axis.clock.starts_at(ready_tau)
            return f"fixed to start {said}; its screens cannot be ready before {when(ready)}"
        for before in (self.runs[run_id] for run_id in run.print_after if run_id in self.runs):
            if not any(self.maker.can_follow(run, one, tau, before) for one in presses):
                return f"fixed to start {said}, before {before.run_id} can be printed"
        if not any(self.maker.can_start(run, one, tau) for one in presses):
            return f"fixed to start {said}, which leaves too little time on {' and '.join(presses)}"
        only = _only_press(run, press_id)
        return None if only is None else self._overlap(run, only, tau, said)

    def _overlap(self, run: Run, press_id: str, tau: int, said: str) -> str | None:
        """What else is fixed on the press, or with the run's screens, while it is set up and printed."""
        end = self._least_end(run, press_id, tau, 0)
        for held_press, held_set, start, held_end, other in self._held:
            if not (start < end and tau < held_end):
                continue
            if held_press == press_id:
                return f"fixed to start {said} on {press_id}, where {other} is fixed"
            if held_set is not None and held_set == run.set_id:
                return f"fixed to start {said}, when {other} is fixed with the same screens"
        return None

    def _hold(self, run: Run, press_id: str, tau: int, set_up_min: int) -> None:
        self._held.append((press_id, run.set_id, tau, self._least_end(run, press_id, tau, set_up_min), run.run_id))

    def _least_end(self, run: Run, press_id: str, tau: int, set_up_min: int) -> int:
        work = set_up_min + run.on_press[press_id].work_min
        end = end_of_work(all_bought(self.opened[press_id]), tau, work)
        return self.axis.clock.horizon_tau if end is None else end


def _only_press(run: Run, press_id: str | None) -> str | None:
    """The press a fixed run must be on: the one it is fixed to, or the only one it fits."""
    return run.choices[0].press_id if press_id is None and len(run.choices) == 1 else press_id

"""What every run has come to by now, read off the events: not begun, going, standing still, or done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from scheduler.domain.calendars import Calendar
from scheduler.domain.orders import Progress
from scheduler.domain.plan import Plan
from scheduler.domain.week import PressChoice, PressLine, Week
from scheduler.record.events import Counted, Done, Event, SetUpStarted, Spoiled, Stopped, StrikeOffRight, WentOn
from scheduler.review.hours import first_open, open_min, open_windows
from scheduler.workload.assumptions import Notes
from scheduler.workload.runs import RunDraft

OF_A_RUN = (SetUpStarted, StrikeOffRight, Stopped, WentOn, Done, Counted, Spoiled)
"""Events that say how a run stands."""

LEAST_LEFT_SHARE = 0.05
"""Of a run that should be over by its rate but was not told to be done, this share is taken to be left at least.
Common practice, no source.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunNow:
    """One run now. pieces: all of it; pieces_left: still to print; good: None where nobody counted.

    started_at None: not begun. stopped_why: why it stands, None if it does not. is_by_time: what is printed was worked
    out from open minutes and the planned rate, as nobody counted.
    """

    run_id: str
    pieces: int
    pieces_left: int
    press_id: str | None = None
    started_at: datetime | None = None
    printing_at: datetime | None = None
    done_at: datetime | None = None
    set_up_left_min: int = 0
    good: int | None = None
    spoiled: int = 0
    stopped_why: str | None = None
    is_by_time: bool = False

    @property
    def is_started(self) -> bool:
        """True from the first screen on the press, and for ever after."""
        return self.started_at is not None or self.is_done

    @property
    def is_done(self) -> bool:
        """True once the last piece is printed."""
        return self.done_at is not None

    @property
    def is_going(self) -> bool:
        """True while it has its press."""
        return self.is_started and not self.is_done


@dataclass(slots=True)
class Told:
    """What the events say of one run, in the order they happened."""

    press_id: str | None = None
    started_at: datetime | None = None
    printing_at: datetime | None = None
    done_at: datetime | None = None
    counted: tuple[datetime, int, int] | None = None
    """(when, good pieces, pieces spoiled until then)."""
    good: int | None = None
    spoiled: int = 0
    stops: list[tuple[datetime, datetime | None, str]] = field(default_factory=list)
    is_done_by_next: bool = False

    def hear(self, event: Event, at: datetime, *, is_new: bool) -> None:
        """One more event of this run; what was counted before the plan was made is in the plan already."""
        if isinstance(event, SetUpStarted):
            self.started_at = self.started_at or at
        elif isinstance(event, StrikeOffRight):
            self.printing_at = self.printing_at or at
        elif isinstance(event, Spoiled):
            self.spoiled += event.pieces
        if isinstance(event, Counted | Stopped | Done) and event.pieces is not None:
            self.good = event.pieces
            self.counted = (at, event.pieces, self.spoiled) if is_new else self.counted
        if self.stops and self.stops[-1][1] is None and isinstance(event, WentOn | StrikeOffRight | Stopped | Done):
            self.stops[-1] = (self.stops[-1][0], at, self.stops[-1][2])
        if isinstance(event, Stopped):
            self.stops.append((at, None, event.reason))
        elif isinstance(event, Done):
            self.done_at, self.is_done_by_next = at, False


@dataclass(frozen=True, kw_only=True)
class Floor:
    """The announced plan and its week, and what was already under way when that plan was made.

    drafts: every run of the orders, done ones too, by id. progress: rows of runs under way then.
    """

    week: Week
    plan: Plan
    drafts: Mapping[str, RunDraft]
    progress: Mapping[str, Progress]

    def aware(self, moment: datetime) -> datetime:
        """The moment with the shop's zone, where it has none."""
        return moment.replace(tzinfo=ZoneInfo(self.week.clock.zone)) if moment.tzinfo is None else moment

    def tau(self, moment: datetime) -> int:
        """Shop minute of a moment; 0 before the plan was made."""
        return self.week.clock.tau_of(self.aware(moment))


def runs_now(floor: Floor, events: Iterable[Event], now: datetime, notes: Notes) -> dict[str, RunNow]:
    """Every run of the orders as it stands. Events after `now` are not looked at; notes: what had to be assumed."""
    told = heard(floor, events, now, notes)
    return {run_id: _now(floor, draft, told.get(run_id), now, notes) for run_id, draft in floor.drafts.items()}


def heard(floor: Floor, events: Iterable[Event], now: datetime, notes: Notes) -> dict[str, Told]:
    """What was told of every run by now, in the order in which it happened.

    A run that has its press when another is set up there was done by then, whether or not anybody said so.
    """
    told: dict[str, Told] = {}
    on_press: dict[str, str] = {}
    for run_id, row in floor.progress.items():
        done_at = floor.aware(row.started_at) if row.pieces_left <= 0 else None
        told[run_id] = Told(press_id=row.press_id, started_at=floor.aware(row.started_at), done_at=done_at)
        if done_at is None:
            on_press[row.press_id] = run_id
    for event in events:
        at = floor.aware(event.at)
        if at > now or not isinstance(event, OF_A_RUN):
            continue
        run_id = event.run_id
        if run_id not in floor.drafts:
            notes.add("strange_event", "noted for a run that is in no order now: left out", "events", where=run_id)
            continue
        one = told.setdefault(run_id, Told())
        press_id = _press_taken(floor, event, one)
        if press_id is not None:
            before = on_press.get(press_id)
            if before is not None and before != run_id and told[before].done_at is None:
                told[before].done_at, told[before].is_done_by_next = at, True
            one.press_id = press_id
            on_press[press_id] = run_id
        # What was left of it when the plan was made holds earlier counts.
        one.hear(event, at, is_new=run_id not in floor.progress or at > floor.week.clock.now)
    for run_id, one in told.items():
        if one.is_done_by_next:
            text = "taken to be done when the next run was set up on its press"
            notes.add("done_by_next", text, "runs", where=run_id)
    return told


def _press_taken(floor: Floor, event: Event, told: Told) -> str | None:
    """The press a run has from this event on; where nobody said that it was set up, the one it was planned for."""
    if isinstance(event, SetUpStarted) and event.press_id in floor.week.press:
        return event.press_id
    if told.press_id is not None or not isinstance(event, SetUpStarted | StrikeOffRight | Done):
        return None
    planned = floor.plan.run.get(event.run_id)
    return planned.press_id if planned is not None else None


def _now(floor: Floor, draft: RunDraft, told: Told | None, now: datetime, notes: Notes) -> RunNow:
    """One run from what was told of it."""
    plain = RunNow(run_id=draft.run_id, pieces=draft.pieces, pieces_left=draft.pieces)
    if told is None or (told.started_at is None and told.done_at is None and told.printing_at is None):
        return plain
    known = replace(
        plain,
        press_id=told.press_id or floor.week.presses[0].press_id,
        started_at=told.started_at or told.printing_at or told.done_at,
        printing_at=told.printing_at,
        done_at=told.done_at,
        good=told.good,
        spoiled=told.spoiled,
        stopped_why=told.stops[-1][2] if told.stops and told.stops[-1][1] is None else None,
    )
    if told.done_at is not None:
        return replace(known, pieces_left=0)
    left, set_up_left_min, is_by_time = _left(floor, draft, known, told, now)
    if is_by_time and left < draft.pieces:
        notes.add("by_time", "printed so far by the planned rate, as nobody counted", "runs", where=draft.run_id)
    return replace(known, pieces_left=left, set_up_left_min=set_up_left_min, is_by_time=is_by_time)


def _left(floor: Floor, draft: RunDraft, known: RunNow, told: Told, now: datetime) -> tuple[int, int, bool]:
    """Pieces left, set-up minutes left, and whether the pieces are by time.

    left = pieces − printed; printed = good + spoiled when last counted, and since then rate × open minutes at work.
    """
    week, now_tau = floor.week, floor.tau(now)
    run = week.run.get(draft.run_id)
    choice = _choice(floor, known)
    if run is None or choice is None or known.press_id not in week.press:
        printed = 0 if told.counted is None else told.counted[1] + told.spoiled
        return max(1, draft.pieces - printed), 0, False
    press = week.press[known.press_id]
    assert known.started_at is not None
    begun_tau = floor.tau(known.started_at)
    planned = floor.plan.run.get(draft.run_id)
    set_up_min = planned.set_up_min if planned is not None else 0
    if told.printing_at is not None:
        from_tau, set_up_left_min = floor.tau(told.printing_at), 0
        if floor.aware(told.printing_at) < week.clock.now:  # what the plan calls its set-up is getting going again
            from_tau = _after_work(floor, press.calendar, 0, set_up_min)
    else:
        spent = at_work(floor, press.calendar, told, begun_tau, now_tau)
        set_up_left_min = max(0, set_up_min - spent)
        from_tau = now_tau if set_up_left_min else _after_work(floor, press.calendar, begun_tau, set_up_min)
    since_tau, printed = from_tau, draft.pieces - run.pieces
    if told.counted is not None:
        since_tau = max(from_tau, floor.tau(told.counted[0]))
        printed = told.counted[1] + told.spoiled
    minutes = at_work(floor, press.prints_in, told, since_tau, now_tau)
    by_time = int(run.pieces * minutes / choice.work_min) if choice.work_min else 0
    if not set_up_left_min and (minutes or printed):
        set_up_left_min = _restart_min(floor, press, now_tau)
    known_left = max(1, draft.pieces - printed)
    least = min(known_left, max(1, int(LEAST_LEFT_SHARE * draft.pieces)))
    return max(least, known_left - by_time), set_up_left_min, by_time > 0


def _restart_min(floor: Floor, press: PressLine, now_tau: int) -> int:
    """Minutes to get going again of a run that prints on after the stop that is now; 0 in the middle of the shift."""
    windows = open_windows(press.prints_in, floor.plan)
    if any(window.start_tau < now_tau < window.end_tau for window in windows):
        return 0
    after = next((window for window in windows if window.start_tau >= now_tau), None)
    return press.restart.after(after.stop_before_min) if after is not None else 0


def _choice(floor: Floor, known: RunNow) -> PressChoice | None:
    """How the run is printed on the press it is on; what the plan says of another press where it does not fit there."""
    run, planned = floor.week.run.get(known.run_id), floor.plan.run.get(known.run_id)
    if run is None:
        return None
    found = run.on_press.get(known.press_id or "")
    if found is not None and planned is not None and planned.press_id == known.press_id:
        return found.in_way(planned.way) or found
    return found or (run.choices[0] if run.choices else None)


def at_work(floor: Floor, calendar: Calendar, told: Told, from_tau: int, to_tau: int) -> int:
    """Open minutes in which the run did not stand still."""
    windows = open_windows(calendar, floor.plan)
    minutes = open_min(windows, from_tau, to_tau)
    for stopped_at, on_at, _ in told.stops:
        until = to_tau if on_at is None else floor.tau(on_at)
        minutes -= open_min(windows, max(from_tau, floor.tau(stopped_at)), min(to_tau, until))
    return max(0, minutes)


def _after_work(floor: Floor, calendar: Calendar, from_tau: int, minutes: int) -> int:
    """The shop minute at which so many open minutes are over."""
    windows = open_windows(calendar, floor.plan)
    tau = first_open(windows, from_tau)
    for window in windows:
        if tau is None or window.end_tau <= tau:
            continue
        start = max(tau, window.start_tau)
        if minutes <= window.end_tau - start:
            return start + minutes
        minutes -= window.end_tau - start
    return floor.week.horizon_tau

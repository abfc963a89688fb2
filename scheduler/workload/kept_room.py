"""Room kept free: the last open minutes of each press's working day, left out of what is planned.

Reprints, rushes and what nobody thought of have to go somewhere. How many minutes is a shop setting; 45 is common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.calendars import LONG_STOP_MIN, Calendar, KeptFree, Restart
from scheduler.domain.shop import Press
from scheduler.domain.week import Fixing, Run
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis, OpenTimes, when
from scheduler.workload.room_for import end_of_work, most_set_up_min
from scheduler.workload.spans import DAY_MIN, Days, Span, Spans, intersect, subtract, union
from scheduler.workload.warm_up import print_calendars

Reach = tuple[int, int]
"""Shop minutes [from, to) in which a fixed run may be at its press."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptDay:
    """The room of one working day, in wall minutes. block_id: overtime that follows directly, which opens it too."""

    spans: Spans
    block_id: str | None


def kept_days(times: OpenTimes, days: Days, minutes: int) -> tuple[KeptDay, ...]:
    """The last `minutes` open minutes of each working day in normal hours; a shorter day is kept whole."""
    if minutes <= 0:
        return ()
    found = []
    for day in working_days(times.normal, days):
        left, spans = minutes, []
        for start, end in reversed(day):
            if left > 0:
                spans.append((max(start, end - left), end))
                left -= end - max(start, end - left)
        follows = (block for block, more in times.overtime.items() if any(span[0] == day[-1][1] for span in more))
        found.append(KeptDay(spans=union(spans), block_id=next(follows, None)))
    return tuple(found)


def working_days(normal: Spans, days: Days) -> list[Spans]:
    """Open minutes day by day: a long stop ends a day, and midnight does where none comes for more than a day."""
    parted: list[list[Span]] = []
    for span in normal:
        if parted and span[0] - parted[-1][-1][1] < LONG_STOP_MIN:
            parted[-1].append(span)
        else:
            parted.append([span])
    found: list[Spans] = []
    for one in parted:
        if one[-1][1] - one[0][0] <= DAY_MIN:
            found.append(tuple(one))
            continue
        midnights = ((days.at(day, 0), days.at(day, DAY_MIN)) for day in days.all)
        found.extend(piece for midnight in midnights if (piece := intersect(tuple(one), (midnight,))))
    return found


def without(times: OpenTimes, kept: Iterable[KeptDay]) -> OpenTimes:
    """The open times with the room left out, or moved into the overtime that follows it directly."""
    overtime = dict(times.overtime)
    out: list[Span] = []
    for day in kept:
        out.extend(day.spans)
        if day.block_id is not None:
            overtime[day.block_id] = union((*overtime[day.block_id], *day.spans))
    return OpenTimes(normal=subtract(times.normal, union(out)), overtime=overtime)


def reach_of(fixing: Fixing, run: Run, press: Press, opened: Calendar, prints: Calendar) -> Reach | None:
    """Where a fixed run may be at this press, in the run's favour; None where no moment is fixed.

    opened, prints: when the press can be worked and when it can print, as if no room were kept. What was announced by
    an earlier plan paused over the room there and does so again: only its start counts.
    """
    tau = fixing.set_up_start_tau
    if tau is None or press.press_id not in run.on_press or fixing.press_id not in (None, press.press_id):
        return None
    if fixing.kind == "announced":
        return tau, tau + 1
    choice, set_up_min = run.on_press[press.press_id], fixing.set_up_left_min
    if set_up_min is None:
        set_up_min = most_set_up_min(choice, press.set_up, press.heads)
    set_up = end_of_work(opened.with_bought(()), tau, set_up_min)
    if set_up is None:
        return tau, opened.windows[-1].end_tau
    return tau, max(set_up, _latest_end(prints, set_up, choice.work_min, press.restart))


def _latest_end(prints: Calendar, tau: int, work_min: int, restart: Restart) -> int:
    """Where a print ends that goes on from then and buys no overtime, a restart after every stop counted."""
    left, at = work_min, tau
    for window in prints.with_bought(()).windows:
        if window.end_tau <= tau:
            continue
        if window.start_tau > tau and left < work_min:
            left += restart.after(window.stop_before_min)
        at = max(tau, window.start_tau)
        if left <= window.end_tau - at:
            return at + left
        left -= window.end_tau - at
        at = window.end_tau
    return at


@dataclass(frozen=True, kw_only=True)
class PressRoom:
    """What people and hours leave of each press, and the days' rooms in it."""

    axis: Axis
    times: Mapping[str, OpenTimes]
    kept: Mapping[str, tuple[KeptDay, ...]]

    def whole(self) -> dict[str, Calendar]:
        """Press calendars as if no room were kept: for runs that have started or are locked."""
        return {press_id: self.axis.calendar(times) for press_id, times in self.times.items()}

    def planned(self) -> dict[str, Calendar]:
        """Press calendars for what is planned: every day's room left out."""
        return {press_id: self.axis.calendar(times) for press_id, times in self.planned_times().items()}

    def planned_times(self) -> dict[str, OpenTimes]:
        """Open times with every day's room left out."""
        return {press_id: without(times, self.kept[press_id]) for press_id, times in self.times.items()}

    def beside(self, fixings: Iterable[Fixing], runs: Mapping[str, Run], notes: Notes) -> PressRoom:
        """The room that is left where fixed runs are: a day whose room one of them needs keeps none."""
        fixed, whole = list(fixings), self.whole()
        prints = {**whole, **print_calendars(self.axis, self.times)}
        kept: dict[str, tuple[KeptDay, ...]] = {}
        for press in self.axis.shop.presses:
            name = press.press_id
            found = (reach_of(one, runs[one.run_id], press, whole[name], prints[name]) for one in fixed)
            reaches = [reach for reach in found if reach is not None]
            kept[name] = tuple(day for day in self.kept[name] if not self._needed(day, reaches))
            for day in self.kept[name]:
                if day not in kept[name]:
                    text = "no room is kept free where a started or locked run needs it"
                    moment = self.axis.clock.moment(day.spans[0][0])
                    notes.add("room_given_up", text, "press days", where=f"{name} {when(moment)}")
        return PressRoom(axis=self.axis, times=self.times, kept=kept)

    def kept_free(self, press_id: str) -> tuple[KeptFree, ...]:
        """The room of a press on the shop axis."""
        tau = self.axis.clock.tau
        return tuple(
            KeptFree(start_tau=tau(start), end_tau=tau(end), overtime_id=day.block_id)
            for day in self.kept[press_id]
            for start, end in day.spans
        )

    def _needed(self, day: KeptDay, reaches: list[Reach]) -> bool:
        tau = self.axis.clock.tau
        return any(start < tau(span[1]) and tau(span[0]) < end for span in day.spans for start, end in reaches)

"""What every press, belt, screen-room place and role does minute by minute, on the shop axis."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scheduler.domain.leads import LEAD, post_parts
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import PressLine, Week
from scheduler.insight.key_figures import WorkUnitTimes
from scheduler.review.activities import activities
from scheduler.review.hours import open_min, open_windows, pieces
from scheduler.review.uses import burns, uses_in_order

PRINTING, SET_UP, PAUSED, WAITING, NOTHING, CLOSED = (
    "printing",
    "set-up",
    "paused",
    "waiting",
    "nothing booked",
    "closed",
)
BELT_PERMILLE = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class PressState:
    """A press in [start, end). state: one of the words above; what: the run it is about, or what is waited for."""

    press_id: str
    state: str
    what: str
    start_tau: int
    end_tau: int

    @property
    def minutes(self) -> int:
        """Shop minutes of the stretch."""
        return self.end_tau - self.start_tau


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """How much of something finite is in use in [start, end), and how much there is. In the units of its kind."""

    kind: str
    name: str
    start_tau: int
    end_tau: int
    used: int
    there: int


def press_states(week: Week, plan: Plan, press: PressLine) -> tuple[PressState, ...]:
    """The press from the planning moment to the end of the week, without a gap."""
    found: list[PressState] = []
    at = 0
    queue = plan.queue.get(press.press_id, ())
    for one in queue:
        found += _idle(week, plan, press, at, one.set_up_start_tau, _waits_for(one))
        found += _worked(plan, press, one)
        at = one.print_end_tau
    found += _idle(week, plan, press, at, week.horizon_tau, None)
    return tuple(state for state in found if state.minutes)


def unit_times(week: Week, plan: Plan, press: PressLine, until_tau: int) -> WorkUnitTimes:
    """Open, printing, set-up and waiting minutes of a press up to a shop minute."""
    minutes = {PRINTING: 0, SET_UP: 0, WAITING: 0, PAUSED: 0}
    for state in press_states(week, plan, press):
        if state.state in minutes:
            minutes[state.state] += max(0, min(state.end_tau, until_tau) - state.start_tau)
    return WorkUnitTimes(
        planned_min=open_min(open_windows(press.calendar, plan), 0, until_tau),
        print_min=minutes[PRINTING],
        set_up_min=minutes[SET_UP],
        delay_min=minutes[WAITING],
    )


def levels(week: Week, plan: Plan) -> tuple[Level, ...]:
    """Belts (permille), exposure units (sets), rack (screens), frames and roles (people), wherever any is in use."""
    return (*_belts(week, plan), *_screen_room(week, plan), *_frames(week, plan), *_roles(week, plan))


def _waits_for(one: PlannedRun) -> str:
    return one.reason.split(";")[0] or "its turn"


def _idle(
    week: Week, plan: Plan, press: PressLine, from_tau: int, to_tau: int, waits_for: str | None
) -> Iterator[PressState]:
    """A press with no run on it: closed, waiting for the next run's needs, or with nothing booked any more."""
    at = from_tau
    for start, end in (*pieces(open_windows(press.calendar, plan), from_tau, to_tau), (to_tau, to_tau)):
        yield PressState(press_id=press.press_id, state=CLOSED, what="", start_tau=at, end_tau=start)
        state, what = (NOTHING, "") if waits_for is None else (WAITING, waits_for)
        yield PressState(press_id=press.press_id, state=state, what=what, start_tau=start, end_tau=end)
        at = end


def _worked(plan: Plan, press: PressLine, one: PlannedRun) -> Iterator[PressState]:
    at = one.set_up_start_tau
    stretches = [
        (SET_UP, *piece)
        for piece in pieces(open_windows(press.calendar, plan), one.set_up_start_tau, one.set_up_end_tau)
    ]
    stretches += [
        (PRINTING, *piece)
        for piece in pieces(open_windows(press.prints_in, plan), one.print_start_tau, one.print_end_tau)
    ]
    for state, start, end in (*stretches, (PAUSED, one.print_end_tau, one.print_end_tau)):
        yield PressState(press_id=press.press_id, state=PAUSED, what=one.run_id, start_tau=at, end_tau=start)
        yield PressState(press_id=press.press_id, state=state, what=one.run_id, start_tau=start, end_tau=end)
        at = end


def _belts(week: Week, plan: Plan) -> Iterator[Level]:
    for dryer_id in dict.fromkeys(press.dryer_id for press in week.presses if press.dryer_id is not None):
        spans = [
            (start, end, week.run[one.run_id].on_press[one.press_id].belt_permille)
            for one in plan.runs
            if week.press[one.press_id].dryer_id == dryer_id
            for start, end in pieces(
                open_windows(week.press[one.press_id].prints_in, plan), one.print_start_tau, one.print_end_tau
            )
        ]
        yield from _summed("belt", dryer_id, spans, BELT_PERMILLE)


def _screen_room(week: Week, plan: Plan) -> Iterator[Level]:
    room = week.screen_room
    if room is None:
        return
    made = burns(week, plan)
    spans = [(burn.start_tau, burn.end_tau, 1) for _, _, burn in made]
    yield from _summed("exposure unit", "exposure units", spans, room.exposure_units)
    spans = [(burn.end_tau, burn.dry_tau, screens.screen_count) for _, screens, burn in made]
    yield from _summed("rack", "drying rack", spans, room.rack_places)


def _frames(week: Week, plan: Plan) -> Iterator[Level]:
    """Frames of each class that hold an image made in the plan, from their burn to the end of their reclaim block."""
    room = week.screen_room
    if room is None:
        return
    back = {block.block_id: block.end_tau for block in room.reclaim_blocks}
    spans: dict[str, list[tuple[int, int, int]]] = {}
    for set_id, uses in uses_in_order(week, plan).items():
        held_from: int | None = None
        for one in uses:
            held_from = one.burn.start_tau if one.burn is not None else held_from
            ends = [back[r.block_id] for r in plan.reclaims if r.set_id == set_id and r.after_run_id == one.run_id]
            if held_from is not None and (ends or one is uses[-1]):
                until = ends[0] if ends else week.horizon_tau
                for class_id, count in week.screen_set[set_id].frames:
                    spans.setdefault(class_id, []).append((held_from, until, count))
                held_from = None
    for stock in week.frames:
        there = (
            stock.coated_now
            + stock.clean_now
            + sum(count for _, class_id, count in week.early_reclaims if class_id == stock.class_id)
        )
        yield from _summed("frames", stock.name, spans.get(stock.class_id, []), there)


def _roles(week: Week, plan: Plan) -> Iterator[Level]:
    """People at work in each role, of those who can fill it anywhere and are there at some time of the week.

    Leads are counted in presses watched, of those they may watch.
    """
    spans: dict[str, list[tuple[int, int, int]]] = {}
    for one in activities(week, plan):
        for role, count in one.crew:
            parts = count * post_parts(role, one.place, week.lead_covers) if role == LEAD else count
            spans.setdefault(role, []).extend((start, end, parts) for start, end in one.stretches)
    for role in sorted(spans):
        there = sum(role in person.roles for person in week.people) * (week.lead_covers if role == LEAD else 1)
        if there:
            yield from _summed("role", role, spans[role], there)


def _summed(kind: str, name: str, spans: Iterable[tuple[int, int, int]], there: int) -> Iterator[Level]:
    """How much is in use from one change to the next."""
    changes: dict[int, int] = {}
    for start, end, used in spans:
        changes[start] = changes.get(start, 0) + used
        changes[end] = changes.get(end, 0) - used
    used, last = 0, 0
    for at in sorted(changes):
        if used and at > last:
            yield Level(kind=kind, name=name, start_tau=last, end_tau=at, used=used, there=there)
        used, last = used + changes[at], at

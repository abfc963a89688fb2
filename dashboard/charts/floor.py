"""What the floor does next: at a press, in the screen room, one person through a day. Rows, not pictures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from scheduler.api import words
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.api import PlanView, QueueRow, ScreenRow

STEP_MIN = 5
"""On the floor nobody works to the minute: times are shown to the nearest five."""

VERBS = {
    "set-up": "set up",
    "printing": "print",
    "staging": "fill the cart for",
    "burning": "burn",
    "taping": "tape",
    "packing": "pack",
    "coating": "coat screens",
    "reclaiming": "reclaim screens",
}
"""What an activity is called when somebody is told to do it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPress:
    """A press at a moment: the run on it, the runs to come, and how many have been."""

    now: QueueRow | None
    to_come: tuple[QueueRow, ...]
    done: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Something one person does from start to end, breaks inside it."""

    start_at: datetime
    end_at: datetime
    verb: str
    what: str
    place: str
    late: str = ""


def rounded(moment: datetime) -> datetime:
    """To the nearest five minutes."""
    low = moment.minute % STEP_MIN
    near = moment - timedelta(minutes=low, seconds=moment.second)
    return near + timedelta(minutes=STEP_MIN) if low * 2 >= STEP_MIN else near


def about(moment: datetime, seen_from: datetime) -> str:
    """A time of the day to five minutes, with its day where that is another one."""
    return words.until(seen_from, rounded(moment))


def at_press(view: PlanView, press_id: str, now: datetime) -> AtPress:
    """What is on a press now (from first mounting to last piece), and what comes after."""
    rows = [row for row in view.queue if row.press_id == press_id]
    on_it = next((row for row in rows if row.set_up_at <= now < row.end_at), None)
    to_come = tuple(row for row in rows if row.set_up_at > now)
    return AtPress(now=on_it, to_come=to_come, done=sum(row.end_at <= now for row in rows))


def print_of(week: Week, plan: Plan, run_id: str) -> tuple[int, int]:
    """Which print of its order a run is, in time, and of how many."""
    order_id = week.run[run_id].order_id
    mine = sorted(
        (plan.run[run.run_id].print_start_tau, run.run_id)
        for run in week.runs
        if run.order_id == order_id and run.run_id in plan.run
    )
    return [found for _, found in mine].index(run_id) + 1, len(mine)


def screen_work(view: PlanView, now: datetime, *, until: datetime | None = None) -> tuple[ScreenRow, ...]:
    """Work of the screen room that is not over yet and begins before `until`, in time."""
    return tuple(row for row in view.screens if row.end_at > now and (until is None or row.start_at < until))


def screens_for_later(view: PlanView, now: datetime, end_of_day: datetime) -> tuple[ScreenRow, ...]:
    """What the screen room does on the day that ends then, for later days: coat, reclaim, burn; taping goes with it."""
    start_of_day = end_of_day - timedelta(days=1)
    return tuple(
        row
        for row in screen_work(view, now, until=end_of_day)
        if row.start_at >= start_of_day
        and row.what != "tape"
        and (row.needed_by is None or row.needed_by >= end_of_day)
    )


def cautions_of_the_shop(view: PlanView) -> tuple[str, ...]:
    """Every caution of presses and screen room, once."""
    of_presses = (text for texts in view.press_cautions.values() for text in texts)
    return tuple(dict.fromkeys((*of_presses, *view.screen_cautions)))


def screens_sentence(rows: Iterable[ScreenRow], now: datetime) -> str:
    """How many screens are to burn, and who waits for the first."""
    burns = [row for row in rows if row.what == "burn"]
    if not burns:
        return "No screen waits to be burned: every set of the plan is burned."
    first = min(burns, key=lambda row: (row.needed_by or row.end_at, row.run_id))
    count = words.counted(sum(row.screens for row in burns), "screen")
    waits = f"{first.press_name} waits for {first.order_id} {first.location}"
    when = about(first.needed_by or first.end_at, now)
    return f"{count} to burn; {waits} first, at {when}."


def work_days(view: PlanView) -> tuple[date, ...]:
    """Days on which something of the plan is done."""
    days = {row.set_up_at.date() for row in view.queue} | {row.start_at.date() for row in view.screens}
    return tuple(sorted(days | {row.packed_at.date() for row in view.order_row.values() if row.packed_at is not None}))


def steps_of(week: Week, view: PlanView, person_id: str | None, day: date) -> tuple[Step, ...]:
    """One person's day in time; person None: everything done that day, where the shop names nobody."""
    if person_id is not None:
        found = [
            ((one.activity, one.owner_id, one.place), one.start_tau, one.end_tau)
            for one in view.roster
            if one.person_id == person_id
        ]
    else:
        found = [
            ((one.kind, one.owner_id, one.place), start, end) for one in view.activities for start, end in one.stretches
        ]
    spans: dict[tuple[str, str, str], tuple[datetime, datetime]] = {}
    for key, start_tau, end_tau in sorted(found, key=lambda one: one[1]):
        start, end = week.clock.starts_at(start_tau), week.clock.ends_at(end_tau)
        if start.date() == day:
            first = spans[key][0] if key in spans else start
            spans[key] = first, end
    steps = [_step(week, view, key, span) for key, span in spans.items()]
    return _joined(sorted(steps, key=lambda step: (step.start_at, step.end_at)))


def _joined(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Steps of one run that follow each other become one: "tape, set up, print"."""
    found: list[Step] = []
    for step in steps:
        before = found[-1] if found else None
        if before is not None and step.what and step.what == before.what:
            place = before.place or step.place
            verb = f"{before.verb}, {step.verb}"
            found[-1] = replace(before, verb=verb, place=place, end_at=max(before.end_at, step.end_at))
        else:
            found.append(step)
    return tuple(found)


def _step(week: Week, view: PlanView, key: tuple[str, str, str], span: tuple[datetime, datetime]) -> Step:
    activity, owner_id, place = key
    row = view.queue_row.get(owner_id)
    order = view.order_row.get(row.order_id if row is not None else owner_id)
    what = ""
    if row is not None:
        what = f"{row.order_id} {row.location}, {words.counted(row.pieces, 'piece')}, {row.client}"
    elif order is not None:
        what = f"{order.order_id}, {words.counted(order.pieces, 'piece')}, {order.client}"
    return Step(
        start_at=span[0],
        end_at=span[1],
        verb=VERBS.get(activity, activity),
        what=what,
        place=week.press[place].name if place in week.press else "",
        late=order.late if order is not None else "",
    )

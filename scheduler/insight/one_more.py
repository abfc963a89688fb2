"""The same week with one thing more: what a shop could buy, hire, open or ask a supplier for.

Every offer only loosens the week: a plan of the week itself stays a plan of it, so nothing on this list can do harm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

from scheduler.domain.plan import Plan
from scheduler.domain.week import Person, PressChoice, PressLine, Run, Week
from scheduler.insight.texts import press_text
from scheduler.review.hours import open_min, open_windows

MORE_FRAMES = 12
MORE_RACK_PLACES = 10
MOST_LATE_GARMENTS = 6
"""Orders at most that are asked about for earlier garments, those packed last first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One thing more. kind: "frames", "person", "belt", "press", "exposure unit", "rack", "coating", "garments",
    "evening" or "flash".

    words: what it is, as in "... would save". name: which one of its kind. week: as it would be, perhaps on a shop
    axis of its own. buys: overtime to start with.
    """

    kind: str
    name: str
    words: str
    week: Week
    buys: frozenset[str] = frozenset()


def offers(week: Week, plan: Plan) -> Iterator[Offer]:
    """Every one thing more that this shop could have."""
    yield from _frames(week)
    yield from _people(week, plan)
    yield from _belts(week)
    yield from _presses(week)
    yield from _screen_room(week)
    yield from _garments(week, plan)


def _frames(week: Week) -> Iterator[Offer]:
    for stock in week.frames:
        more = replace(stock, coated_now=stock.coated_now + MORE_FRAMES)
        frames = tuple(more if one is stock else one for one in week.frames)
        yield Offer(
            kind="frames",
            name=stock.name,
            words=f"a dozen more {stock.name} frames, coated",
            week=replace(week, frames=frames),
        )


def _people(week: Week, plan: Plan) -> Iterator[Offer]:
    for role in sorted({role for person in week.people for role in person.roles}):
        model = max(
            (person for person in week.people if role in person.roles),
            key=lambda person: open_min(open_windows(person.calendar, plan), 0, week.horizon_tau),
        )
        more = Person(
            person_id=f"one more for {role}",
            name=f"one more for {role}",
            roles=frozenset({role}),
            press_ids=frozenset(),
            calendar=model.calendar,
        )
        yield Offer(
            kind="person",
            name=role,
            words=f"one more person for {role}, in {model.name}'s hours",
            week=replace(week, people=(*week.people, more)),
        )


def _belts(week: Week) -> Iterator[Offer]:
    for dryer_id in dict.fromkeys(press.dryer_id for press in week.presses if press.dryer_id is not None):
        at_it = {press.press_id for press in week.presses if press.dryer_id == dryer_id}
        if len(at_it) < 2:
            continue  # a belt for one press alone is no limit beside the press's own rate
        runs = tuple(
            replace(
                run,
                choices=tuple(_half_belt(choice) if choice.press_id in at_it else choice for choice in run.choices),
            )
            for run in week.runs
        )
        yield Offer(
            kind="belt",
            name=dryer_id,
            words=f"a second belt as wide beside {dryer_id}",
            week=replace(week, runs=runs),
        )


def _half_belt(choice: PressChoice) -> PressChoice:
    return replace(choice, belt_permille=(choice.belt_permille + 1) // 2)


def _presses(week: Week) -> Iterator[Offer]:
    for press in week.presses:
        more = _twin(press)
        runs = tuple(_also_on(run, press.press_id, more.press_id) for run in week.runs)
        people = tuple(
            replace(person, press_ids=person.press_ids | {more.press_id})
            if press.press_id in person.press_ids
            else person
            for person in week.people
        )
        yield Offer(
            kind="press",
            name=press.press_id,
            words=f"a second press like {press_text(week, press.press_id)}, with the people there are",
            week=replace(week, presses=(*week.presses, more), runs=runs, people=people),
        )


def _twin(press: PressLine) -> PressLine:
    return replace(press, press_id=f"{press.press_id} again", name=f"another {press.name}", now_on=type(press.now_on)())


def _also_on(run: Run, press_id: str, twin_id: str) -> Run:
    choice = run.on_press.get(press_id)
    return run if choice is None else replace(run, choices=(*run.choices, replace(choice, press_id=twin_id)))


def _screen_room(week: Week) -> Iterator[Offer]:
    room = week.screen_room
    if room is None or not any(run.set_id is not None for run in week.runs):
        return
    yield Offer(
        kind="exposure unit",
        name="",
        words="one more exposure unit",
        week=replace(week, screen_room=replace(room, exposure_units=room.exposure_units + 1)),
    )
    yield Offer(
        kind="rack",
        name="",
        words=f"a drying rack with {MORE_RACK_PLACES} more places",
        week=replace(week, screen_room=replace(room, rack_places=room.rack_places + MORE_RACK_PLACES)),
    )
    if room.coat_windows:
        windows = tuple(replace(window, places=window.places + MORE_FRAMES) for window in room.coat_windows)
        blocks = tuple(replace(block, places=block.places + MORE_FRAMES) for block in room.reclaim_blocks)
        yield Offer(
            kind="coating",
            name="",
            words="room to coat and reclaim a dozen more each time",
            week=replace(week, screen_room=replace(room, coat_windows=windows, reclaim_blocks=blocks)),
        )


def _garments(week: Week, plan: Plan) -> Iterator[Offer]:
    """Garments a day earlier, for the orders that are packed last of those still waiting for some."""
    waiting = {run.order_id for run in week.runs if run.blanks_tau > 0}
    ends = sorted(((one.packed_tau, one.order_id) for one in plan.orders if one.order_id in waiting), reverse=True)
    for _, order_id in ends[:MOST_LATE_GARMENTS]:
        runs = tuple(_a_day_earlier(week, run) if run.order_id == order_id else run for run in week.runs)
        yield Offer(
            kind="garments",
            name=order_id,
            words=f"the garments of {order_id} a day earlier",
            week=replace(week, runs=runs),
        )


def _a_day_earlier(week: Week, run: Run) -> Run:
    """Shop minutes a day of wall time earlier; never before the planning moment."""
    if not run.blanks_tau:
        return run
    wanted = week.clock.starts_at(run.blanks_tau) - timedelta(days=1)
    low, high = 0, run.blanks_tau
    while low < high:
        middle = (low + high) // 2
        if week.clock.starts_at(middle) >= wanted:
            high = middle
        else:
            low = middle + 1
    return replace(run, blanks_tau=low)

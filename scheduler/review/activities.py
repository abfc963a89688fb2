"""Who is needed when: every activity of a plan as the stretches in which somebody works on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Crew, Week
from scheduler.review.hours import open_windows, pieces
from scheduler.review.press_rules import staging_min
from scheduler.review.uses import burns


@dataclass(frozen=True, slots=True, kw_only=True)
class Activity:
    """Something people work on: kind in shop words, run or order it belongs to, press ("" off the presses), crew.

    stretches are the open minutes [start, end) between its start and end, one for each window it reaches into.
    """

    kind: str
    owner_id: str
    place: str
    crew: Crew
    stretches: tuple[tuple[int, int], ...]


def activities(week: Week, plan: Plan) -> tuple[Activity, ...]:
    """Everything in the plan that needs people, and what the calendar itself has booked them for."""
    return (
        *_press_work(week, plan),
        *_screen_work(week, plan),
        *_packing(week, plan),
        *_at_stations(week, plan),
        *(
            Activity(
                kind=booked.what,
                owner_id="",
                place="",
                crew=((booked.role, booked.count),),
                stretches=((booked.start_tau, booked.end_tau),),
            )
            for booked in week.reservations
        ),
    )


def _press_work(week: Week, plan: Plan) -> Iterator[Activity]:
    for planned in plan.runs:
        if week.staging is not None and staging_min(week, planned.run_id):
            yield Activity(
                kind="staging",
                owner_id=planned.run_id,
                place="",
                crew=week.staging.crew,
                stretches=pieces(
                    open_windows(week.staging.calendar, plan), planned.stage_start_tau, planned.stage_end_tau
                ),
            )
        yield from _on_press(week, plan, planned)


def _on_press(week: Week, plan: Plan, planned: PlannedRun) -> Iterator[Activity]:
    press = week.press.get(planned.press_id)
    if press is None:
        return
    for kind, crew, calendar, start, end in (
        ("set-up", press.set_up_crew, press.calendar, planned.set_up_start_tau, planned.set_up_end_tau),
        ("printing", press.run_crew, press.prints_in, planned.print_start_tau, planned.print_end_tau),
    ):
        yield Activity(
            kind=kind,
            owner_id=planned.run_id,
            place=press.press_id,
            crew=crew,
            stretches=pieces(open_windows(calendar, plan), start, end),
        )


def _screen_work(week: Week, plan: Plan) -> Iterator[Activity]:
    room = week.screen_room
    if room is None:
        return
    windows = open_windows(room.calendar, plan)
    for planned, _, burn in burns(week, plan):
        for kind, start, end in (
            ("burning", burn.start_tau, burn.end_tau),
            ("taping", burn.tape_start_tau, burn.tape_end_tau),
        ):
            yield Activity(
                kind=kind, owner_id=planned.run_id, place="", crew=room.crew, stretches=pieces(windows, start, end)
            )


def _packing(week: Week, plan: Plan) -> Iterator[Activity]:
    if week.finishing is None:
        return
    windows = open_windows(week.finishing.calendar, plan)
    for packed in plan.orders:
        yield Activity(
            kind="packing",
            owner_id=packed.order_id,
            place="",
            crew=week.finishing.crew,
            stretches=pieces(windows, packed.finish_start_tau, packed.packed_tau),
        )


def _at_stations(week: Week, plan: Plan) -> Iterator[Activity]:
    for packed in plan.orders:
        for planned in packed.stations:
            station = week.station.get(planned.station_id)
            if station is not None and station.crew:
                yield Activity(
                    kind=station.name,
                    owner_id=packed.order_id,
                    place="",
                    crew=station.crew,
                    stretches=pieces(open_windows(station.calendar, plan), planned.start_tau, planned.end_tau),
                )

"""Everything a screen shows of a plan, worked out once: who does what when, what waits for what, how full belts are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from scheduler.domain.calendars import Window
from scheduler.domain.own_order import PressWait
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.papers.cautions import press_cautions, screen_room_cautions
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.tables import OrderRow, QueueRow, StagingRow, order_rows, press_queue, staging_rows
from scheduler.review.activities import Activity, activities
from scheduler.review.hours import open_windows, pieces
from scheduler.review.set_up_rules import replayed
from scheduler.roster.by_name import RosterStretch, roster
from scheduler.search.waits import press_waits


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltStretch:
    """[start, end) in which a belt carries the same runs, and the permille of it they fill; over 1000 is too full."""

    dryer_id: str
    start_tau: int
    end_tau: int
    permille: int
    run_ids: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class PlanView:
    """A plan as screens show it.

    activities: everything people do, and whatever else has a beginning and an end, as open stretches. waits: open
    minutes presses stand before set-ups, by what they wait for. ink_min: of a run's set-up, the minutes in which inks
    leave the press. press_hours, people_hours: open windows by id,
    bought overtime merged in. press_cautions, screen_cautions: what stands wherever the floor reads what to do.
    """

    queue: tuple[QueueRow, ...]
    orders: tuple[OrderRow, ...]
    screens: tuple[ScreenRow, ...]
    carts: tuple[StagingRow, ...]
    activities: tuple[Activity, ...]
    roster: tuple[RosterStretch, ...]
    waits: tuple[PressWait, ...]
    belts: tuple[BeltStretch, ...]
    ink_min: Mapping[str, int]
    press_hours: Mapping[str, tuple[Window, ...]]
    people_hours: Mapping[str, tuple[Window, ...]]
    press_cautions: Mapping[str, tuple[str, ...]]
    screen_cautions: tuple[str, ...]

    @cached_property
    def queue_row(self) -> dict[str, QueueRow]:
        """Queue rows by run id."""
        return {row.run_id: row for row in self.queue}

    @cached_property
    def order_row(self) -> dict[str, OrderRow]:
        """Rows of planned orders by id."""
        return {row.order_id: row for row in self.orders if row.state == "planned"}


def plan_view(week: Week, plan: Plan, clients: Mapping[str, str] | None = None, joint: Week | None = None) -> PlanView:
    """What screens show of a plan. clients: names by order, for orders the week only knows as not planned.

    joint: the week that knows pencilled orders too; without it they stand among those that are not planned.
    """
    return PlanView(
        queue=press_queue(week, plan),
        orders=order_rows(joint or week, plan, clients),
        screens=screen_rows(week, plan),
        carts=staging_rows(week, plan),
        activities=activities(week, plan),
        roster=roster(week, plan),
        waits=press_waits(week, plan),
        belts=tuple(_belts(week, plan)),
        ink_min={seen.planned.run_id: seen.ink_min for seen in replayed(week, plan)},
        press_hours={press.press_id: open_windows(press.calendar, plan) for press in week.presses},
        people_hours={person.person_id: open_windows(person.calendar, plan) for person in week.people},
        press_cautions={press.press_id: _cautions(week, plan, press.press_id) for press in week.presses},
        screen_cautions=screen_room_cautions(),
    )


def _cautions(week: Week, plan: Plan, press_id: str) -> tuple[str, ...]:
    stacks = [week.run[one.run_id].on_press[press_id].stack for one in plan.queue.get(press_id, ())]
    return press_cautions([*stacks, week.press[press_id].now_on], week.ink)


def _belts(week: Week, plan: Plan) -> Iterator[BeltStretch]:
    """Stretches of each belt in time, from one change of what lies on it to the next; empty belts are left out."""
    for dryer_id in dict.fromkeys(press.dryer_id for press in week.presses if press.dryer_id is not None):
        shares = [share for one in plan.runs for share in _on_belt(week, plan, one, dryer_id)]
        edges = sorted({edge for start, end, _, _ in shares for edge in (start, end)})
        for start_tau, end_tau in pairwise(edges):
            there = [share for share in shares if share[0] <= start_tau < share[1]]
            if there:
                yield BeltStretch(
                    dryer_id=dryer_id,
                    start_tau=start_tau,
                    end_tau=end_tau,
                    permille=sum(permille for _, _, permille, _ in there),
                    run_ids=tuple(sorted(run_id for _, _, _, run_id in there)),
                )


def _on_belt(week: Week, plan: Plan, one: PlannedRun, dryer_id: str) -> Iterator[tuple[int, int, int, str]]:
    """(start, end, permille, run) of a run's printing stretches into this dryer."""
    press = week.press[one.press_id]
    choice = week.run[one.run_id].printed_on(one.press_id, one.way)
    permille = choice.belt_permille if choice is not None else 0
    if press.dryer_id == dryer_id and permille:
        for start_tau, end_tau in pieces(open_windows(press.prints_in, plan), one.print_start_tau, one.print_end_tau):
            yield start_tau, end_tau, permille, one.run_id

"""Rules of stations beside the presses: before the prints, after them, and room for so many orders at once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from scheduler.domain.plan import Plan, PlannedOrder
from scheduler.domain.stations import PlannedStep, StationStep
from scheduler.domain.week import OrderDue, Week
from scheduler.review.hours import open_min, open_windows
from scheduler.review.press_rules import is_started, staging_min
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, run_text, start_text

Visited = tuple[StationStep, PlannedStep]


def visits(week: Week, plan: Plan) -> Iterator[tuple[OrderDue, PlannedOrder, list[Visited]]]:
    """Each planned order that goes to stations, with its visits as asked for and as planned, as far as they match."""
    for packed in plan.orders:
        order = week.order.get(packed.order_id)
        if order is not None and (order.stations or packed.stations):
            matched = [
                (step, planned)
                for step, planned in zip(order.stations, packed.stations, strict=False)
                if step.station_id == planned.station_id and step.station_id in week.station
            ]
            yield order, packed, matched


def _told(rule: str, order: OrderDue, at_tau: int, what: str) -> Violation:
    return Violation(rule=rule, order_id=order.order_id, at_tau=at_tau, message=f"{order.order_id} {what}")


def station_has_room(week: Week, plan: Plan) -> list[Violation]:
    """A station never has more orders than it can work on at once; one that waits there over a stop counts.

    For each minute and station: visits with start <= minute < end are at most its units. Work sent out has no limit.
    """
    found = []
    for station in week.stations:
        if station.units is None:
            continue
        there = sorted(
            (planned.start_tau, planned.end_tau, order.order_id)
            for order, _, matched in visits(week, plan)
            for _, planned in matched
            if planned.station_id == station.station_id
        )
        for start, _, order_id in there:
            at_once = sum(one <= start < end for one, end, _ in there)
            if at_once > station.units:
                found.append(
                    Violation(
                        rule="station_has_room",
                        order_id=order_id,
                        at_tau=start,
                        message=f"{at_once} orders are at {station.name} {start_text(week, start)}, it takes "
                        f"{station.units} at once",
                    )
                )
                break
    return found


def station_before_print(week: Week, plan: Plan) -> list[Violation]:
    """What an order needs before its prints is over when its runs are staged; it starts with all garments there.

    Visits follow each other; start >= blanks_tau of the order's runs; stage_start (set_up_start where nothing is
    staged) of each run not started >= the last end. Each takes its minutes, or comes back when it is due back.
    """
    rule = "station_before_print"
    found: list[Violation] = []
    for order, packed, matched in visits(week, plan):
        asked = [step.station_id for step in order.stations]
        planned_ids = [one.station_id for one in packed.stations]
        if asked != planned_ids:
            what = f"goes to {', '.join(planned_ids) or 'no station'}, it needs {', '.join(asked) or 'none'}"
            found.append(_told(rule, order, packed.packed_tau, what))
        before = [(step, planned) for step, planned in matched if step.is_before]
        found += _durations(week, plan, rule, order, before)
        if not before:
            continue
        runs = [(plan.run[i], week.run[i]) for i in order.run_ids if i in plan.run and i in week.run]
        first, last = before[0][1], before[-1][1]
        blanks = max((run.blanks_tau for _, run in runs), default=0)
        if first.start_tau < blanks:
            what = f"is at {first.station_id} {start_text(week, first.start_tau)}, its garments come "
            found.append(_told(rule, order, first.start_tau, what + start_text(week, blanks)))
        for planned, _ in runs:
            if is_started(week, planned.run_id):
                continue
            starts = planned.stage_start_tau if staging_min(week, planned.run_id) else planned.set_up_start_tau
            if starts < last.end_tau:
                back, name = end_text(week, last.end_tau), run_text(week, planned.run_id)
                what = f"is back from {last.station_id} {back}, {name} starts {start_text(week, starts)}"
                found.append(_told(rule, order, starts, what))
    return found


def station_after_print(week: Week, plan: Plan) -> list[Violation]:
    """What an order needs after its prints starts with the last piece cured, and packing starts when it is over.

    First start >= print_end + cure of every run of the order; visits follow each other; finish_start >= the last end.
    Each takes its minutes, or comes back when it is due back.
    """
    rule = "station_after_print"
    found: list[Violation] = []
    for order, packed, matched in visits(week, plan):
        after = [(step, planned) for step, planned in matched if not step.is_before]
        found += _durations(week, plan, rule, order, after)
        if not after:
            continue
        runs = [(plan.run[i], week.run[i]) for i in order.run_ids if i in plan.run and i in week.run]
        cured = max((planned.print_end_tau + run.cure_min for planned, run in runs), default=0)
        first, last = after[0][1], after[-1][1]
        if first.start_tau < cured:
            what = f"is at {first.station_id} {start_text(week, first.start_tau)}, its last piece is cured "
            found.append(_told(rule, order, first.start_tau, what + end_text(week, cured)))
        if packed.finish_start_tau < last.end_tau:
            what = f"is packed from {start_text(week, packed.finish_start_tau)}, it is back from {last.station_id} "
            found.append(_told(rule, order, packed.finish_start_tau, what + end_text(week, last.end_tau)))
    return found


def _durations(week: Week, plan: Plan, rule: str, order: OrderDue, visited: list[Visited]) -> Iterator[Violation]:
    """Visits that overlap, take other minutes than they need, or are back at another time than they can be."""
    for (_, one), (_, other) in pairwise(visited):
        if other.start_tau < one.end_tau:
            what = f"is at {other.station_id} {start_text(week, other.start_tau)}, at {one.station_id} until "
            yield _told(rule, order, other.start_tau, what + end_text(week, one.end_tau))
    for step, planned in visited:
        name = planned.station_id
        if step.is_sent_out:
            back = step.back_tau(planned.start_tau)
            if back != planned.end_tau:
                due = "never back within the planned days" if back is None else f"back {end_text(week, back)}"
                what = f"leaves for {name} {start_text(week, planned.start_tau)} and is {due}, not "
                yield _told(rule, order, planned.start_tau, what + end_text(week, planned.end_tau))
            continue
        windows = open_windows(week.station[name].calendar, plan)
        worked = open_min(windows, planned.start_tau, planned.end_tau)
        if worked != step.work_min:
            what = f"has {worked} open minutes at {name}, it takes {step.work_min}"
            yield _told(rule, order, planned.start_tau, what)

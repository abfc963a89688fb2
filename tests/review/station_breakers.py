"""Ways to break a rule of stations in a good plan: a plan that surely breaks it, or None."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.plan import Plan, PlannedOrder
from scheduler.domain.stations import PlannedStep, StationStep
from scheduler.domain.week import Week
from tests.review.good_plans import with_order, with_run
from tests.review.picking import Breaker, is_started, pick


def _visits(week: Week, plan: Plan, *, is_before: bool) -> list[tuple[PlannedOrder, int, StationStep, PlannedStep]]:
    """(order, number of the visit, what is asked for, what is planned) of every visit before, or after, the prints."""
    return [
        (one, number, step, planned)
        for one in plan.orders
        for number, (step, planned) in enumerate(zip(week.order[one.order_id].stations, one.stations, strict=True))
        if step.is_before is is_before
    ]


def _with_visit(plan: Plan, order: PlannedOrder, number: int, visit: PlannedStep) -> Plan:
    stations = tuple(visit if at == number else one for at, one in enumerate(order.stations))
    return with_order(plan, replace(order, stations=stations))


def _shortened(week: Week, plan: Plan, rng: random.Random, *, is_before: bool) -> Plan | None:
    found = pick(rng, _visits(week, plan, is_before=is_before))
    if found is None:
        return None
    order, number, _, visit = found
    return _with_visit(plan, order, number, replace(visit, end_tau=visit.end_tau - 1))


# station_before_print


def _last_before(week: Week, plan: Plan) -> list[tuple[PlannedOrder, PlannedStep]]:
    found = {order.order_id: (order, visit) for order, _, _, visit in _visits(week, plan, is_before=True)}
    return list(found.values())


def start_a_run_before_its_garments_are_back(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run is staged, or set up, a minute before its garments are back."""
    runs = [
        (plan.run[run_id], visit)
        for order, visit in _last_before(week, plan)
        for run_id in week.order[order.order_id].run_ids
        if not is_started(week, plan.run[run_id])
    ]
    found = pick(rng, runs)
    if found is None:
        return None
    one, at = found[0], found[1].end_tau - 1
    if week.staging is not None and week.staging.minutes:
        return with_run(plan, replace(one, stage_start_tau=at))
    return with_run(plan, replace(one, stage_start_tau=at, stage_end_tau=at, set_up_start_tau=at))


def work_on_garments_that_are_not_there(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The first visit starts a minute before the last garments come."""
    late = []
    for order, number, _, visit in _visits(week, plan, is_before=True):
        blanks = max(week.run[run_id].blanks_tau for run_id in week.order[order.order_id].run_ids)
        if number == 0 and blanks:
            late.append((order, replace(visit, start_tau=blanks - 1)))
    found = pick(rng, late)
    return _with_visit(plan, found[0], 0, found[1]) if found else None


def cut_work_before_printing_short(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A visit before the prints ends a minute too early."""
    return _shortened(week, plan, rng, is_before=True)


def leave_a_visit_out(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order does not go where it must."""
    one = pick(rng, [one for one in plan.orders if one.stations])
    return with_order(plan, replace(one, stations=one.stations[:-1])) if one else None


def go_to_another_station(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order goes to a station it did not ask for."""
    one = pick(rng, [one for one in plan.orders if one.stations])
    if one is None:
        return None
    other = next(two.station_id for two in week.stations if two.station_id != one.stations[0].station_id)
    return _with_visit(plan, one, 0, replace(one.stations[0], station_id=other))


# station_after_print


def _first_after(week: Week, plan: Plan) -> list[tuple[PlannedOrder, int, PlannedStep]]:
    found: dict[str, tuple[PlannedOrder, int, PlannedStep]] = {}
    for order, number, _, visit in _visits(week, plan, is_before=False):
        found.setdefault(order.order_id, (order, number, visit))
    return list(found.values())


def work_on_wet_prints(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The first visit after the prints starts a minute before the last piece is cured."""
    found = pick(rng, _first_after(week, plan))
    if found is None:
        return None
    order, number, visit = found
    run_ids = week.order[order.order_id].run_ids
    cured = max(plan.run[run_id].print_end_tau + week.run[run_id].cure_min for run_id in run_ids)
    return _with_visit(plan, order, number, replace(visit, start_tau=cured - 1))


def pack_before_it_is_back(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Packing starts a minute before the last visit is over."""
    after = _first_after(week, plan)
    one = pick(rng, [order for order, _, _ in after])
    return with_order(plan, replace(one, finish_start_tau=one.stations[-1].end_tau - 1)) if one else None


def cut_work_after_printing_short(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A visit after the prints ends a minute too early."""
    return _shortened(week, plan, rng, is_before=False)


def start_the_second_visit_before_the_first_is_over(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Two visits after the prints overlap by a minute."""
    pairs = []
    for order, number, _, visit in _visits(week, plan, is_before=False):
        if number and not week.order[order.order_id].stations[number - 1].is_before:
            early = order.stations[number - 1].end_tau - 1
            pairs.append((order, number, replace(visit, start_tau=early)))
    found = pick(rng, pairs)
    return _with_visit(plan, *found) if found else None


# station_has_room


def _pairs_at_one_station(week: Week, plan: Plan) -> list[tuple[PlannedOrder, int, PlannedStep, PlannedStep]]:
    """Visits of two orders at a station that takes one order at once."""
    single = {one.station_id for one in week.stations if one.units == 1}
    every = [
        (order, number, visit)
        for is_before in (True, False)
        for order, number, _, visit in _visits(week, plan, is_before=is_before)
        if visit.station_id in single
    ]
    return [
        (order, number, visit, other)
        for order, number, visit in every
        for other_order, _, other in every
        if other_order.order_id != order.order_id and other.station_id == visit.station_id
    ]


def be_there_when_another_order_is(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Two orders are at a station for one at the same time."""
    found = pick(rng, _pairs_at_one_station(week, plan))
    if found is None:
        return None
    order, number, visit, other = found
    return _with_visit(plan, order, number, replace(visit, start_tau=other.start_tau, end_tau=other.end_tau))


def come_a_minute_before_the_other_is_done(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order comes to a station for one while another has a minute left."""
    found = pick(rng, _pairs_at_one_station(week, plan))
    if found is None:
        return None
    order, number, visit, other = found
    start = other.end_tau - 1
    return _with_visit(plan, order, number, replace(visit, start_tau=start, end_tau=start + 1))


STATION_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "station_before_print": (
        start_a_run_before_its_garments_are_back,
        work_on_garments_that_are_not_there,
        cut_work_before_printing_short,
        leave_a_visit_out,
        go_to_another_station,
    ),
    "station_after_print": (
        work_on_wet_prints,
        pack_before_it_is_back,
        cut_work_after_printing_short,
        start_the_second_visit_before_the_first_is_over,
    ),
    "station_has_room": (be_there_when_another_order_is, come_a_minute_before_the_other_is_done),
}

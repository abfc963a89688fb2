"""Ways to break an order rule in a good plan: a plan that surely breaks it, or None."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.plan import Plan, PlannedOrder, PlannedRun
from scheduler.domain.week import Week
from tests.review.good_plans import with_order, with_run, with_runs
from tests.review.picking import Breaker, is_started, pick


def _free_tau(week: Week, planned: PlannedRun) -> int:
    run = week.run[planned.run_id]
    return planned.print_end_tau + run.cure_min + run.between_min


# lot_is_in_one_place


def _on_one_lot(week: Week, plan: Plan) -> list[tuple[PlannedRun, PlannedRun]]:
    """Pairs of runs on the same garments, the earlier print first."""
    return [
        (one, other)
        for one in plan.runs
        for other in plan.runs
        if one.print_start_tau < other.print_start_tau and week.run[one.run_id].lot_ids & week.run[other.run_id].lot_ids
    ]


def print_a_lot_twice_at_once(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Two prints on the same garments start at the same minute."""
    pair = pick(rng, _on_one_lot(week, plan))
    return with_run(plan, replace(pair[1], print_start_tau=pair[0].print_start_tau)) if pair else None


def print_a_lot_before_it_is_cured(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The second print starts a minute before the garments are free again."""
    pair = pick(rng, _on_one_lot(week, plan))
    if pair is None:
        return None
    return with_run(plan, replace(pair[1], print_start_tau=_free_tau(week, pair[0]) - 1))


# print_after_is_kept


def _followed(week: Week, plan: Plan) -> list[tuple[PlannedRun, PlannedRun]]:
    return [(plan.run[first], planned) for planned in plan.runs for first in week.run[planned.run_id].print_after]


def print_a_minute_before_the_run_it_follows_is_over(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The second print starts a minute too early."""
    pair = pick(rng, _followed(week, plan))
    if pair is None:
        return None
    return with_run(plan, replace(pair[1], print_start_tau=_free_tau(week, pair[0]) - 1))


def print_the_second_before_the_first(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Two prints that follow each other change their times."""
    pair = pick(rng, _followed(week, plan))
    if pair is None:
        return None
    first, second = pair
    late = replace(first, print_start_tau=second.print_start_tau, print_end_tau=second.print_end_tau)
    early = replace(second, print_start_tau=first.print_start_tau, print_end_tau=first.print_end_tau)
    return with_run(with_run(plan, late), early)


# blanks_are_there


def touch_garments_before_they_come(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The first touch is a minute, or a day, before the garments are there."""
    one = pick(rng, [one for one in plan.runs if week.run[one.run_id].blanks_tau and not is_started(week, one)])
    if one is None:
        return None
    at = week.run[one.run_id].blanks_tau - rng.choice([1, 600])
    if week.staging is not None and week.staging.minutes:
        return with_run(plan, replace(one, stage_start_tau=at))
    return with_run(plan, replace(one, stage_start_tau=at, stage_end_tau=at, set_up_start_tau=at))


# finishing_ends_last


def pack_a_minute_less(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order is called packed a minute before it is."""
    one = rng.choice(plan.orders)
    return with_order(plan, replace(one, packed_tau=one.packed_tau - 1))


def pack_before_there_is_anything_to_pack(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Packing is over before the last print ends."""
    one = rng.choice(plan.orders)
    end = max(plan.run[run_id].print_end_tau for run_id in week.order[one.order_id].run_ids)
    length = one.packed_tau - one.finish_start_tau
    return with_order(plan, replace(one, packed_tau=end - 1, finish_start_tau=end - 1 - length))


def stretch_the_packing(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Packers start a minute earlier than they need to, and stretch it."""
    one = pick(rng, [one for one in plan.orders if one.finish_start_tau < one.packed_tau])
    if one is None:
        return None
    calendar = week.finishing.calendar
    if any(w.start_tau == one.finish_start_tau for w in calendar.windows):
        return None
    return with_order(plan, replace(one, finish_start_tau=one.finish_start_tau - 1))


def print_on_after_packing(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The order is packed before its last piece is cured."""
    one = rng.choice(plan.runs)
    packed = plan.order[week.run[one.run_id].order_id].packed_tau
    return with_run(plan, replace(one, print_end_tau=packed + 1))


# leaves_by_a_pick_up


def pack_after_the_last_pick_up(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order is packed when nobody fetches it any more."""
    one = rng.choice(plan.orders)
    late = week.order[one.order_id].pickups_tau[-1] + rng.choice([1, 600])
    return with_order(plan, replace(one, packed_tau=late))


# what_is_fixed_stays


def _fixed(week: Week, plan: Plan) -> list[PlannedRun]:
    return [plan.run[fixing.run_id] for fixing in week.fixings if fixing.run_id in plan.run]


def move_a_fixed_run_by_a_minute(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run with a fixed time is set up a minute later or earlier."""
    timed = [one for one in _fixed(week, plan) if week.fixing[one.run_id].set_up_start_tau is not None]
    one = pick(rng, timed)
    return with_run(plan, replace(one, set_up_start_tau=one.set_up_start_tau + rng.choice([-1, 1]))) if one else None


def move_a_fixed_run_to_another_press(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run with a fixed press goes over to another one."""
    pressed = [
        replace(one, press_id=press.press_id)
        for one in _fixed(week, plan)
        for press in week.presses
        if week.fixing[one.run_id].press_id not in (None, press.press_id)
    ]
    one = pick(rng, pressed)
    return with_run(plan, one) if one else None


def put_a_run_before_a_started_one(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run jumps the queue before one that has started."""
    started = [one for one in plan.runs if is_started(week, one)]
    waiting = [one for one in plan.runs if not is_started(week, one)]
    if not started or not waiting:
        return None
    first = started[0]
    jumps = replace(rng.choice(waiting), press_id=first.press_id, set_up_start_tau=first.set_up_start_tau - 1)
    return with_run(plan, jumps)


# every_run_once


def forget_a_run(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run is not planned."""
    gone = rng.choice(plan.runs)
    return with_runs(plan, tuple(one for one in plan.runs if one is not gone))


def plan_a_run_twice(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run is planned a second time."""
    return with_runs(plan, (*plan.runs, rng.choice(plan.runs)))


def plan_what_nobody_ordered(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run or an order that is not of this week."""
    if rng.random() < 0.5:
        return with_runs(plan, (*plan.runs, replace(rng.choice(plan.runs), run_id="a run of last year")))
    stranger = PlannedOrder(order_id="an order of last year", finish_start_tau=0, packed_tau=0)
    return replace(plan, orders=(*plan.orders, stranger))


def forget_an_order(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An order is never packed, or packed twice."""
    gone = rng.choice(plan.orders)
    rest = tuple(one for one in plan.orders if one is not gone)
    return replace(plan, orders=rng.choice([rest, (*plan.orders, gone)]))


ORDER_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "lot_is_in_one_place": (print_a_lot_twice_at_once, print_a_lot_before_it_is_cured),
    "print_after_is_kept": (print_a_minute_before_the_run_it_follows_is_over, print_the_second_before_the_first),
    "blanks_are_there": (touch_garments_before_they_come,),
    "finishing_ends_last": (
        pack_a_minute_less,
        pack_before_there_is_anything_to_pack,
        stretch_the_packing,
        print_on_after_packing,
    ),
    "leaves_by_a_pick_up": (pack_after_the_last_pick_up,),
    "what_is_fixed_stays": (
        move_a_fixed_run_by_a_minute,
        move_a_fixed_run_to_another_press,
        put_a_run_before_a_started_one,
    ),
    "every_run_once": (forget_a_run, plan_a_run_twice, plan_what_nobody_ordered, forget_an_order),
}

"""What a finished plan costs, whoever made it; and the genome that leads the decoder close to it."""

from __future__ import annotations

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import OrderDue, Week
from scheduler.search.genome import Genome

TERMS = ("late", "cushion", "overtime", "set_up", "printing", "burns", "ahead", "moves")
"""Cost terms in the order in which they are shown."""


def price(week: Week, plan: Plan) -> dict[str, int]:
    """Integer cents per term of a valid plan; the cost is their sum."""
    prices = {block.block_id: block.price_cents for block in week.overtime}
    done = [(week.order[one.order_id], one.packed_tau) for one in plan.orders]
    terms = {
        "late": sum(order.late_cents * _missed(order, packed_tau) for order, packed_tau in done),
        "cushion": sum(order.cushion_cents for order, packed_tau in done if _in_cushion(order, packed_tau)),
        "overtime": sum(prices[block_id] for block_id in plan.overtime),
        "set_up": 0,
        "printing": 0,
        "burns": 0,
        "ahead": 0,
        "moves": 0,
    }
    for one in plan.runs:
        run, press = week.run[one.run_id], week.press[one.press_id]
        choice = run.on_press[one.press_id]
        minutes = one.set_up_min + choice.wash_up_min + _long_stops(week, plan, one) * choice.long_stop_min
        terms["set_up"] += minutes * press.set_up_cents_per_min
        in_way = choice.in_way(one.way)
        terms["printing"] += in_way.print_cents if in_way is not None else 0
        room = week.screen_room
        if one.burn is not None and room is not None and run.set_id is not None:
            terms["burns"] += week.screen_set[run.set_id].screen_count * room.burn_cents_per_screen
            missing_min = max(0, room.ahead_min - (one.set_up_start_tau - one.burn.tape_end_tau))
            terms["ahead"] += missing_min * room.not_ahead_cents_per_min
    terms["moves"] = week.prices.move_cents * sum(_is_moved(week, plan, told.run_id) for told in week.announced)
    return terms


def _long_stops(week: Week, plan: Plan, one: PlannedRun) -> int:
    """Stops inside the print that its inks may not stand."""
    limit_min = week.run[one.run_id].idle_ok_min
    if limit_min is None:
        return 0
    windows = week.press[one.press_id].prints_in.with_bought(plan.overtime).windows
    inside = [window for window in windows if one.print_start_tau < window.start_tau < one.print_end_tau]
    return sum(window.stop_before_min > limit_min for window in inside)


def _missed(order: OrderDue, packed_tau: int) -> int:
    return sum(pickup_tau < packed_tau for pickup_tau in order.pickups_tau[order.must_leave :])


def _in_cushion(order: OrderDue, packed_tau: int) -> bool:
    return packed_tau > order.pickups_tau[order.must_leave] - order.cushion_min


def _is_moved(week: Week, plan: Plan, run_id: str) -> bool:
    if run_id in week.fixing or run_id not in plan.run:
        return False
    told = next(one for one in week.announced if one.run_id == run_id)
    now = plan.run[run_id]
    shift_min = abs(now.set_up_start_tau - told.set_up_start_tau)
    return now.press_id != told.press_id or shift_min > week.prices.move_free_min


def genome_from(week: Week, plan: Plan) -> Genome:
    """Order, presses, reclaims, overtime of a plan, and its runs whose screens stand ready ahead. Decoding it may give
    an earlier plan, or now and then a dearer one: a genome says nothing about idle time a plan leaves on purpose.
    """
    queue = sorted(plan.runs, key=lambda one: (one.set_up_start_tau, one.print_end_tau, one.run_id))
    uses: dict[str, list[str]] = {}
    for one in queue:
        set_id = week.run[one.run_id].set_id
        if set_id is not None:
            uses.setdefault(set_id, []).append(one.run_id)
    early = {r.after_run_id for r in plan.reclaims if r.after_run_id != uses[r.set_id][-1]}
    return Genome(
        order=tuple(one.run_id for one in queue),
        press=tuple(plan.run[run.run_id].press_id for run in week.runs),
        release=frozenset(early),
        overtime=frozenset(plan.overtime),
        stands=frozenset(one.run_id for one in queue if _stands_ready(week, one)),
    )


def _stands_ready(week: Week, one: PlannedRun) -> bool:
    """True if the run's screens were burned for it and stand ready as long before its set-up as the shop wants."""
    if week.screen_room is None or not week.screen_room.ahead_min or one.burn is None:
        return False
    return one.set_up_start_tau - one.burn.tape_end_tau >= week.screen_room.ahead_min

"""Rules of orders: lots, blanks, print order, packing, pick-ups, what stays, and that nothing is left out."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

from scheduler.domain.plan import Plan, PlannedOrder, PlannedRun
from scheduler.domain.week import OrderDue, Run, Week
from scheduler.review.hours import open_min, open_windows
from scheduler.review.press_rules import is_started, staging_min
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, press_text, run_text, start_text


def _known(week: Week, plan: Plan) -> list[tuple[PlannedRun, Run]]:
    return [(planned, week.run[planned.run_id]) for planned in plan.runs if planned.run_id in week.run]


def _free_tau(planned: PlannedRun, run: Run) -> int:
    """From when on the run's garments may be printed again."""
    return planned.print_end_tau + run.cure_min + run.between_min


def lot_is_in_one_place(week: Week, plan: Plan) -> list[Violation]:
    """Two prints on the same garments never overlap, cure and the minutes between prints included.

    For runs a, b sharing a lot: print_end[a] + cure[a] + between[a] <= print_start[b], or the same with a, b swapped.
    """
    found = []
    for (one, run), (other, other_run) in combinations(_known(week, plan), 2):
        shared = run.lot_ids & other_run.lot_ids
        if shared and _free_tau(one, run) > other.print_start_tau and _free_tau(other, other_run) > one.print_start_tau:
            found.append(
                Violation(
                    rule="lot_is_in_one_place",
                    run_id=other.run_id,
                    order_id=other_run.order_id,
                    press_id=other.press_id,
                    at_tau=other.print_start_tau,
                    message=f"{min(shared)} is printed by {run_text(week, one.run_id)} from "
                    f"{start_text(week, one.print_start_tau)} and by {run_text(week, other.run_id)} from "
                    f"{start_text(week, other.print_start_tau)}, too close together",
                )
            )
    return found


def print_after_is_kept(week: Week, plan: Plan) -> list[Violation]:
    """A run prints after the runs it must follow, their cure and the minutes between prints included.

    For q in print_after[r]: print_end[q] + cure[q] + between[q] <= print_start[r].
    """
    found = []
    for planned, run in _known(week, plan):
        for first_id in run.print_after:
            first = plan.run.get(first_id)
            if first is None or first_id not in week.run:
                continue  # printed before this week, or every_run_once
            free = _free_tau(first, week.run[first_id])
            if free > planned.print_start_tau:
                found.append(
                    Violation(
                        rule="print_after_is_kept",
                        run_id=planned.run_id,
                        order_id=run.order_id,
                        press_id=planned.press_id,
                        at_tau=planned.print_start_tau,
                        message=f"{run_text(week, planned.run_id)} starts printing "
                        f"{start_text(week, planned.print_start_tau)}; {run_text(week, first_id)} must be over before "
                        f"it and is {end_text(week, free)}",
                    )
                )
    return found


def blanks_are_there(week: Week, plan: Plan) -> list[Violation]:
    """Nothing is staged or set up before its garments are there; what has started has them.

    stage_start >= blanks_tau, and set_up_start >= blanks_tau where nothing is staged.
    """
    found = []
    for planned, run in _known(week, plan):
        if is_started(week, planned.run_id):
            continue
        is_staged = bool(staging_min(week, planned.run_id))
        first = planned.stage_start_tau if is_staged else min(planned.stage_start_tau, planned.set_up_start_tau)
        if first < run.blanks_tau:
            found.append(
                Violation(
                    rule="blanks_are_there",
                    run_id=planned.run_id,
                    order_id=run.order_id,
                    press_id=planned.press_id,
                    at_tau=first,
                    message=f"{run_text(week, planned.run_id)} is {'staged' if is_staged else 'set up'} "
                    f"{start_text(week, first)}, its garments come {start_text(week, run.blanks_tau)}",
                )
            )
    return found


def finishing_ends_last(week: Week, plan: Plan) -> list[Violation]:
    """Packing takes its minutes in one go and ends after the last cured piece is boxed.

    finish_min > 0: open packing minutes in [finish_start, packed) = finish_min; finish_start >= max print_start +
    finish_lag_min; packed >= max(print_end + cure) + last_box_min and >= the end of stations after the prints. Else
    finish_start = packed = that last bound.
    """
    found = []
    for packed in plan.orders:
        order = week.order.get(packed.order_id)
        if order is None:
            continue  # every_run_once
        runs = [(plan.run[i], week.run[i]) for i in order.run_ids if i in plan.run and i in week.run]
        if not runs:
            continue
        boxed = max(planned.print_end_tau + run.cure_min for planned, run in runs) + order.last_box_min
        after = [one.end_tau for one, step in zip(packed.stations, order.stations, strict=False) if not step.is_before]
        boxed = max([boxed, *after])
        can_start = max(planned.print_start_tau for planned, _ in runs) + order.finish_lag_min
        found += [
            Violation(
                rule="finishing_ends_last",
                order_id=order.order_id,
                at_tau=packed.packed_tau,
                message=f"packing of {order.order_id} {what}",
            )
            for what in _packing_faults(week, plan, order, packed, can_start, boxed)
        ]
    return found


def _packing_faults(
    week: Week, plan: Plan, order: OrderDue, packed: PlannedOrder, can_start: int, boxed: int
) -> list[str]:
    if week.finishing is None or not order.finish_min:
        if packed.finish_start_tau == packed.packed_tau == boxed:
            return []
        return [f"takes no time and is over {end_text(week, boxed)}, not {end_text(week, packed.packed_tau)}"]
    found = []
    windows = open_windows(week.finishing.calendar, plan)
    worked = open_min(windows, packed.finish_start_tau, packed.packed_tau)
    if worked != order.finish_min:
        found.append(f"has {worked} open minutes, it takes {order.finish_min}")
    if packed.finish_start_tau < can_start:
        found.append(f"starts {start_text(week, packed.finish_start_tau)}, it can {start_text(week, can_start)}")
    if packed.packed_tau < boxed:
        found.append(f"ends {end_text(week, packed.packed_tau)}, the last box is closed {end_text(week, boxed)}")
    return found


def leaves_by_a_pick_up(week: Week, plan: Plan) -> list[Violation]:
    """Every order is packed in time for some pick-up.

    packed <= the last of pickups_tau.
    """
    return [
        Violation(
            rule="leaves_by_a_pick_up",
            order_id=packed.order_id,
            at_tau=packed.packed_tau,
            message=f"{packed.order_id} is packed {end_text(week, packed.packed_tau)}, the last pick-up is "
            f"{end_text(week, week.order[packed.order_id].pickups_tau[-1])}",
        )
        for packed in plan.orders
        if packed.order_id in week.order and packed.packed_tau > week.order[packed.order_id].pickups_tau[-1]
    ]


def what_is_fixed_stays(week: Week, plan: Plan) -> list[Violation]:
    """What has started or is fixed stays on its press and at its time, and started runs come first there.

    press = fixing.press_id and set_up_start = fixing.set_up_start_tau where given.
    """
    found = []

    def tell(planned: PlannedRun, what: str) -> None:
        found.append(
            Violation(
                rule="what_is_fixed_stays",
                run_id=planned.run_id,
                press_id=planned.press_id,
                at_tau=planned.set_up_start_tau,
                message=f"{run_text(week, planned.run_id)} {what}",
            )
        )

    for planned in plan.runs:
        fixing = week.fixing.get(planned.run_id)
        if fixing is None:
            continue
        if fixing.press_id is not None and planned.press_id != fixing.press_id:
            tell(
                planned, f"stays on {press_text(week, fixing.press_id)}, it is on {press_text(week, planned.press_id)}"
            )
        at = fixing.set_up_start_tau
        if at is not None and planned.set_up_start_tau != at:
            tell(
                planned,
                f"stays at {start_text(week, at)}, it is set up {start_text(week, planned.set_up_start_tau)}",
            )
    for press_id, queue in plan.queue.items():
        waiting: PlannedRun | None = None
        for planned in queue:
            if not is_started(week, planned.run_id):
                waiting = waiting or planned
            elif waiting is not None:
                tell(
                    planned,
                    f"has started on {press_text(week, press_id)}, {run_text(week, waiting.run_id)} is put before it",
                )
    return found


def every_run_once(week: Week, plan: Plan) -> list[Violation]:
    """Every run and every order with runs is planned exactly once, and nothing else is.

    count of r in plan = 1 for each run r of the week; the same for orders with runs.
    """
    found = []
    runs = Counter(planned.run_id for planned in plan.runs)
    for run in week.runs:
        if runs[run.run_id] != 1:
            what = "is not planned" if not runs[run.run_id] else f"is planned {runs[run.run_id]} times"
            message = f"{run_text(week, run.run_id)} {what}"
            found.append(Violation(rule="every_run_once", run_id=run.run_id, order_id=run.order_id, message=message))
    for run_id in sorted(set(runs) - set(week.run)):
        found.append(Violation(rule="every_run_once", run_id=run_id, message=f"run {run_id} is not of this week"))
    orders = Counter(packed.order_id for packed in plan.orders)
    for order in week.orders:
        has_runs = any(run_id in week.run for run_id in order.run_ids)
        times = orders[order.order_id]
        if times > 1 or (has_runs and not times):
            what = f"is packed {times} times" if times else "is never packed"
            message = f"{order.order_id} {what}"
            found.append(Violation(rule="every_run_once", order_id=order.order_id, message=message))
    for order_id in sorted(set(orders) - set(week.order)):
        message = f"order {order_id} is not of this week"
        found.append(Violation(rule="every_run_once", order_id=order_id, message=message))
    return found

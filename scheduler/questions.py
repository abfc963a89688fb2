"""What a planner asks beside "plan the week": how does my own order do, and whom do I ring by when?"""

from __future__ import annotations

from collections.abc import Callable, Collection
from datetime import timedelta

from scheduler.domain.orders import WeekInputs
from scheduler.domain.own_order import OwnOrder
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import SolverError
from scheduler.papers.chase_list import ChaseRow, chase_rows, waiting_orders
from scheduler.papers.yours_and_ours import YoursAndOurs
from scheduler.review.rules import check
from scheduler.search.as_listed import time_list
from scheduler.search.clash import without_clashes
from scheduler.search.decoder import Refused
from scheduler.search.one_change import best_changes
from scheduler.search.pencilling import joint_week as joint
from scheduler.search.pencilling import pencil_in as seek_places
from scheduler.search.result import SearchResult
from scheduler.search.waits import press_waits
from scheduler.workload.as_if import as_if_there, waiting_runs
from scheduler.workload.build import build_workload
from scheduler.workload.refusals import Refusals


def time_as_listed(inputs: WeekInputs, week: Week, own: OwnOrder, result: SearchResult) -> YoursAndOurs:
    """The planner's own sequence timed under every rule, beside the plan a search found.

    Raises SolverError if the timed sequence breaks a rule: our fault.
    """
    listed = time_list(week, own, Refusals(inputs).why_not)
    if isinstance(listed, Refused):
        who = f" ({', '.join(listed.run_ids)})" if listed.run_ids else ""
        return YoursAndOurs(week=week, source=own.source, yours=None, ours=result.plan, reason=f"{listed.reason}{who}")
    broken = check(week, listed.plan)
    if broken:
        told = "\n".join(f"  {one.rule}: {one.message}" for one in broken)
        raise SolverError(f"the listed order, timed by us, breaks {len(broken)} rules:\n{told}")
    is_ours_better = result.plan is not None and result.cost_cents < listed.decoded.cost_cents
    ours = result.plan if result.plan is not None and is_ours_better else listed.plan
    return YoursAndOurs(
        week=week,
        source=own.source,
        yours=listed.plan,
        ours=ours,
        told=listed.told,
        not_named=listed.not_named,
        names_every_press=listed.names_every_press,
        your_waits=press_waits(week, listed.plan),
        our_waits=press_waits(week, ours),
        changes=best_changes(week, listed),
    )


def chase_list(inputs: WeekInputs, week: Week, plan: Plan) -> tuple[ChaseRow, ...]:
    """What is missing, whom to ring, by when; the most urgent first. By when is what pencilling in has found."""
    return chase_rows(inputs, week, plan, {one.order_id: one for one in plan.pencilled.yes})


def pencil_in(
    inputs: WeekInputs, week: Week, plan: Plan, *, seconds: float | None = None, stop: Callable[[], bool] | None = None
) -> Plan:
    """The plan with every order that waits for art or garments pencilled in behind the firm ones.

    Raises SolverError if the two together break a rule: our fault.
    """
    order_ids = waiting_orders(inputs)
    if not order_ids:
        return plan
    full = _as_if_all_were_there(inputs, order_ids)
    waiting = [waiting_runs(inputs, full, order_id) for order_id in order_ids]
    found = seek_places(week, full, plan, waiting, seconds=seconds, stop=stop)
    broken = check(joint_week(inputs, week, found), found.with_pencilled)
    if broken:
        told = "\n".join(f"  {one.rule}: {one.message}" for one in broken)
        raise SolverError(f"the pencilled orders break {len(broken)} rules:\n{told}")
    return found


def joint_week(inputs: WeekInputs, week: Week, plan: Plan) -> Week:
    """The week in which the plan's pencilled orders are orders like others; the week itself where there are none."""
    order_ids = [order.order_id for order in plan.pencilled.orders]
    return joint(week, _as_if_all_were_there(inputs, order_ids), order_ids) if order_ids else week


def _as_if_all_were_there(inputs: WeekInputs, order_ids: Collection[str]) -> Week:
    # Any moment to come gives the same runs; no place is sought before it.
    there = as_if_there(inputs, order_ids, inputs.shop.plan_from + timedelta(minutes=1))
    return without_clashes(build_workload(there).week)

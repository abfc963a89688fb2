"""What a planner asks beside "plan the week": how does my own order do, and whom do I ring by when?"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import timedelta

from scheduler.domain.latest_yes import LatestYes
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
from scheduler.search.latest_yes import Waiting
from scheduler.search.latest_yes import latest_yes as seek
from scheduler.search.one_change import best_changes
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


def chase_list(inputs: WeekInputs, week: Week, plan: Plan, *, seconds: float | None = None) -> tuple[ChaseRow, ...]:
    """What is missing, whom to ring, by when; the most urgent first.

    The latest yes of waiting orders is worked out order by order, earliest due first, until `seconds` are over; the
    rows of the others say that it was not. None: however long it takes.
    """
    ends_at = None if seconds is None else time.monotonic() + seconds

    def is_over() -> bool:
        return ends_at is not None and time.monotonic() >= ends_at

    latest: dict[str, LatestYes] = {}
    for order_id in waiting_orders(inputs):
        if is_over():
            break
        latest[order_id] = latest_yes(inputs, plan, order_id, is_over)
    return chase_rows(inputs, week, plan, latest)


def latest_yes(inputs: WeekInputs, plan: Plan, order_id: str, stop: Callable[[], bool] | None = None) -> LatestYes:
    """How long the answer to an order that waits for art or garments may take, as the queue of the plan stands."""
    # Any moment to come gives the same runs; the search then tries every other moment itself.
    there = as_if_there(inputs, order_id, inputs.shop.plan_from + timedelta(minutes=1))
    week = without_clashes(build_workload(there).week)
    runs = waiting_runs(inputs, week, order_id)
    return seek(week, plan, Waiting(order_id=order_id, art=runs.art, garments=runs.garments), stop)

"""How much of a plan another plan leaves where it was: runs and minutes moved, presses changed, pairs turned round.

Minutes moved are the sum over runs of both plans of how far their start moves, as in W. Herroelen and R. Leus, "The
construction of stable project baseline schedules" (2004), unweighted; pairs in reversed order as in S. D. Wu, R. H.
Storer and P.-C. Chang, "One-machine rescheduling heuristics with efficiency and stability as criteria" (1993)
(memory).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week


@dataclass(frozen=True, slots=True, kw_only=True)
class Stability:
    """What moved among the runs both plans have, leaving out those that are fixed.

    moved: runs on another press, or moved more than is free. minutes: shop minutes of all starts together, small ones
    too. presses: runs on another press. reversed_pairs: pairs on one press in both plans that changed places.
    """

    runs: int
    moved: int
    minutes: int
    presses: int
    reversed_pairs: int


def stability(week: Week, before: Plan, week_after: Week, after: Plan) -> Stability:
    """How much of `before` the plan `after` (of a week that may have another axis) leaves as it was."""
    both = [run_id for run_id in before.run if run_id in after.run and run_id not in week_after.fixing]
    shift = {run_id: _start(week, week_after, after, run_id) - before.run[run_id].set_up_start_tau for run_id in both}
    other_press = {run_id for run_id in both if before.run[run_id].press_id != after.run[run_id].press_id}
    moved = [run_id for run_id in both if run_id in other_press or abs(shift[run_id]) > week.prices.move_free_min]
    return Stability(
        runs=len(both),
        moved=len(moved),
        minutes=sum(abs(minutes) for minutes in shift.values()),
        presses=len(other_press),
        reversed_pairs=_reversed(before, after, both, other_press),
    )


def _start(week: Week, week_after: Week, after: Plan, run_id: str) -> int:
    """Where a run of the later plan starts, on the axis of the earlier one."""
    tau = after.run[run_id].set_up_start_tau
    if week_after.clock == week.clock:
        return tau
    return week.clock.tau_of(week_after.clock.starts_at(min(max(tau, 0), week_after.horizon_tau)))


def _reversed(before: Plan, after: Plan, both: Collection[str], other_press: Collection[str]) -> int:
    """Pairs on one press in both plans that are set up in the other order."""
    by_press: dict[str, list[str]] = {}
    for run_id in both:
        if run_id not in other_press:
            by_press.setdefault(before.run[run_id].press_id, []).append(run_id)

    def begins(plan: Plan, run_id: str) -> tuple[int, int]:
        return plan.run[run_id].set_up_start_tau, plan.run[run_id].print_end_tau

    return sum(
        (begins(before, one) < begins(before, other)) != (begins(after, one) < begins(after, other))
        for own in by_press.values()
        for one, other in combinations(own, 2)
    )

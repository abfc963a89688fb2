"""The four ways to answer, each as a week whose prices make the search look for just that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from scheduler.domain.answers import BEST, KEEP, OVERTIME, STAY, Standing
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.words import counted, day_and_time, listed
from scheduler.review.measures import is_moved, late_orders
from scheduler.search.pricing import price
from scheduler.what_if.disturbed import hit_runs
from scheduler.what_if.standing import Question

SHOWN = 3
"""Names a sentence lists before it only counts."""
DEAR_CENTS = 100_000_000
"""What must not be, priced so that no saving is worth it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to answer: `week` has the prices that lead the search, `true_week` the shop's own.

    hit: runs that cannot stay, whatever is done; moving them counts against nobody.
    """

    kind: str
    week: Week
    true_week: Week
    standing: Standing
    hit: frozenset[str] = frozenset()

    def cents(self, plan: Plan) -> int:
        """What leads the search: what the plan costs, what must not be priced dear."""
        return sum(price(self.week, plan).values())

    def refusal(self, plan: Plan) -> str:
        """Why a plan is no answer of this kind, in shop words; "" if it is one."""
        begun = [run_id for run_id in plan.run if self._has_left_its_place(run_id, plan)]
        if begun:
            return f"{listed(begun[:SHOWN])} has begun and could not stay"
        later = newly_late(self.standing, self.true_week, plan)
        if self.kind == STAY:
            moved = [run_id for run_id in plan.run if run_id not in self.hit and is_moved(self.true_week, run_id, plan)]
            others = [one for one in later if one in self.standing.plan.order]
            if moved:
                more = f" and {len(moved) - SHOWN} more" if len(moved) > SHOWN else ""
                runs = counted(len(moved), "run")
                return f"no gap was found: at the least {runs} would have to move ({', '.join(moved[:SHOWN])}{more})"
            if others:
                return f"the runs could stay, but {listed(others[:SHOWN])} would be late"
        if self.kind == KEEP and later:
            return f"no plan was found without late days: {late_words(self.true_week, plan, later)}"
        if self.kind == OVERTIME and not set(plan.overtime) - set(self.standing.plan.overtime):
            return "overtime is not needed for it" if not later else "no overtime on offer would help"
        return ""

    def _has_left_its_place(self, run_id: str, plan: Plan) -> bool:
        """True for a run that has begun and is not where it was."""
        before, after = self.standing.plan.run.get(run_id), plan.run[run_id]
        if before is None or before.set_up_start_tau >= self.standing.now_tau:
            return False
        return self.true_week.clock == self.standing.week.clock and (
            (before.press_id, before.set_up_start_tau) != (after.press_id, after.set_up_start_tau)
        )


def ways(asked: Question) -> tuple[Way, ...]:
    """All four, in the order in which they are searched."""
    standing, week = asked.standing, asked.week
    old = standing.plan.order.keys()
    shut = _without_more_overtime(week, standing.plan.overtime)
    hit = hit_runs(standing, week)
    told = tuple(one for one in week.announced if one.run_id not in hit)
    stay = replace(shut, announced=told, prices=replace(week.prices, move_cents=DEAR_CENTS))
    weeks = {
        STAY: _with_dear_late_days(stay, old),
        KEEP: _with_dear_late_days(shut, week.order.keys()),
        BEST: shut,
        OVERTIME: _with_dear_late_days(week, week.order.keys()),
    }
    return tuple(
        Way(kind=kind, week=changed, true_week=asked.week, standing=standing, hit=hit)
        for kind, changed in weeks.items()
        if kind != OVERTIME or _has_more_overtime(week, standing.plan.overtime)
    )


def newly_late(standing: Standing, week: Week, plan: Plan) -> list[str]:
    """Orders that miss more pick-ups than in the plan as it stands."""
    missed = {one.order_id: one.pickups_missed for one in late_orders(standing.week, standing.plan)}
    return [one.order_id for one in late_orders(week, plan) if one.pickups_missed > missed.get(one.order_id, 0)]


def late_words(week: Week, plan: Plan, order_ids: Iterable[str]) -> str:
    """Late orders, each with when it is ready and when it had to leave."""
    told = []
    for order_id in list(order_ids)[:SHOWN]:
        due = week.order[order_id]
        ready = day_and_time(week.clock.ends_at(plan.order[order_id].packed_tau))
        leave = day_and_time(week.clock.ends_at(due.pickups_tau[due.must_leave]))
        told.append(f"{order_id} would be ready {ready}, its pick-up is {leave}")
    return "; ".join(told)


def _with_dear_late_days(week: Week, order_ids: Iterable[str]) -> Week:
    dear = set(order_ids)
    orders = tuple(
        replace(one, late_cents=one.late_cents + DEAR_CENTS) if one.order_id in dear else one for one in week.orders
    )
    return replace(week, orders=orders)


def _without_more_overtime(week: Week, bought: Iterable[str]) -> Week:
    """Only overtime that the plan has bought already."""
    have = set(bought)
    offers = tuple(one if one.block_id in have else replace(one, price_cents=DEAR_CENTS * 10) for one in week.overtime)
    return replace(week, overtime=offers)


def _has_more_overtime(week: Week, bought: Iterable[str]) -> bool:
    return bool({one.block_id for one in week.overtime} - set(bought))

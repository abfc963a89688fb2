"""One plan beside another: what it costs more or less, who is late now, and what moved."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.review.measures import Measures, measure


@dataclass(frozen=True, slots=True, kw_only=True)
class TermBeside:
    """One cost term of both plans, in cents."""

    term: str
    a_cents: int
    b_cents: int

    @property
    def change_cents(self) -> int:
        """What plan B costs more (below 0: less)."""
        return self.b_cents - self.a_cents


@dataclass(frozen=True, slots=True, kw_only=True)
class LateBeside:
    """An order late in either plan: pick-ups missed in A and in B, None where the plan does not have the order."""

    order_id: str
    a_missed: int | None
    b_missed: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedRun:
    """A run on another press or at another time in B, or in one plan only (`a` or `b` is None).

    later_min: shop minutes of A's week by which its set-up starts later in B, below 0 for earlier.
    """

    run_id: str
    a: PlannedRun | None
    b: PlannedRun | None
    later_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Plan A beside plan B. terms end with the total; late orders and moved runs are in reading order."""

    a: Measures
    b: Measures
    terms: tuple[TermBeside, ...]
    late_orders: tuple[LateBeside, ...]
    moved_runs: tuple[MovedRun, ...]


def compare(week: Week, a: Plan, b: Plan, *, week_b: Week | None = None) -> Comparison:
    """Plan A beside plan B, which may belong to another week (a what if); times are then compared by the clock.

    A run counts as moved on another press, or when its set-up starts more than `week.prices.move_free_min` off.
    """
    other = week_b or week
    seen_a, seen_b = measure(week, a), measure(other, b)
    terms_b = seen_b.cost.terms
    terms = [TermBeside(term=term, a_cents=cents, b_cents=terms_b[term]) for term, cents in seen_a.cost.terms.items()]
    terms.append(TermBeside(term="total", a_cents=seen_a.cost.total, b_cents=seen_b.cost.total))
    return Comparison(
        a=seen_a,
        b=seen_b,
        terms=tuple(terms),
        late_orders=_late_beside(a, b, seen_a, seen_b),
        moved_runs=_moved(week, a, other, b),
    )


def _late_beside(a: Plan, b: Plan, seen_a: Measures, seen_b: Measures) -> tuple[LateBeside, ...]:
    missed_a = {one.order_id: one.pickups_missed for one in seen_a.late_orders}
    missed_b = {one.order_id: one.pickups_missed for one in seen_b.late_orders}
    return tuple(
        LateBeside(
            order_id=order_id,
            a_missed=missed_a.get(order_id, 0) if order_id in a.order else None,
            b_missed=missed_b.get(order_id, 0) if order_id in b.order else None,
        )
        for order_id in sorted(missed_a.keys() | missed_b.keys())
    )


def _moved(week: Week, a: Plan, week_b: Week, b: Plan) -> tuple[MovedRun, ...]:
    found = []
    for run_id in sorted(a.run.keys() | b.run.keys()):
        before, after = a.run.get(run_id), b.run.get(run_id)
        later_min = 0
        if before is not None and after is not None:
            # Another week may have another axis (an extra shift): only the clock can be compared.
            at = after.set_up_start_tau
            if week_b.clock != week.clock:
                at = week.clock.tau_of(week_b.clock.starts_at(min(max(at, 0), week_b.horizon_tau)))
            later_min = at - before.set_up_start_tau
            if before.press_id == after.press_id and abs(later_min) <= week.prices.move_free_min:
                continue
        found.append(MovedRun(run_id=run_id, a=before, b=after, later_min=later_min))
    return tuple(found)

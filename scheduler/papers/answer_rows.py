"""One answer to a what-if beside the plan as it stands, as values: who moves, who turns late, what it costs more.

Moments are local times of the shop, money integer cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.answers import Answer, Answers
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.review.compare import TermBeside, compare
from scheduler.review.measures import pickups_missed
from scheduler.review.stability import Stability, stability


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedRow:
    """A run that moves. later_min: shop minutes, below 0 for sooner."""

    run_id: str
    order_id: str
    client: str
    from_press: str
    from_at: datetime
    to_press: str
    to_at: datetime
    later_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DateRow:
    """An order whose ready time changes; None where a plan does not have it. late: pick-ups missed before and after."""

    order_id: str
    client: str
    must_leave_at: datetime
    before_at: datetime | None
    after_at: datetime | None
    late_before: int
    late_after: int
    is_new: bool

    @property
    def turns_late(self) -> bool:
        """True if it misses more pick-ups than before."""
        return self.late_after > self.late_before


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueChange:
    """A press whose queue changes: run ids in order, before and after, from the first difference to the last."""

    press_id: str
    name: str
    before: tuple[str, ...]
    after: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerRow:
    """An answer in values. terms end with the total; extra_* against the plan as it stands."""

    kind: str
    ready: tuple[DateRow, ...]
    moved: tuple[MovedRow, ...]
    dates: tuple[DateRow, ...]
    queues: tuple[QueueChange, ...]
    terms: tuple[TermBeside, ...]
    stability: Stability
    extra_set_ups: int
    extra_screens: int
    extra_overtime_min: int
    dropped: tuple[str, ...]
    seconds: float

    @property
    def extra_cents(self) -> int:
        """What the shop pays more than for the plan as it stands: the floor of a rush fee."""
        return self.terms[-1].change_cents

    @property
    def late(self) -> tuple[DateRow, ...]:
        """Orders that miss more pick-ups than before."""
        return tuple(row for row in self.dates if row.turns_late)


def answer_row(answers: Answers, answer: Answer) -> AnswerRow:
    """The values of an answer that has a plan."""
    assert answer.plan is not None
    old, plan, week = answers.standing, answer.plan, answer.week
    beside = compare(old.week, old.plan, plan, week_b=week)
    dates = _dates(answers, week, plan)
    return AnswerRow(
        kind=answer.kind,
        ready=tuple(row for row in dates if row.order_id in answers.order_ids),
        moved=tuple(
            _moved(old.week, one.a, week, one.b, one.later_min)
            for one in beside.moved_runs
            if one.a is not None and one.b is not None
        ),
        dates=dates,
        queues=tuple(_queues(old.week, old.plan, plan)),
        terms=beside.terms,
        stability=stability(old.week, old.plan, week, plan),
        extra_set_ups=beside.b.set_ups - beside.a.set_ups,
        extra_screens=beside.b.screens_burned - beside.a.screens_burned,
        extra_overtime_min=beside.b.overtime_min - beside.a.overtime_min,
        dropped=tuple(order_id for order_id in old.plan.order if order_id not in plan.order),
        seconds=answer.seconds,
    )


def _moved(old: Week, before: PlannedRun, week: Week, after: PlannedRun, later_min: int) -> MovedRow:
    order_id = week.run[after.run_id].order_id
    return MovedRow(
        run_id=after.run_id,
        order_id=order_id,
        client=week.order[order_id].client,
        from_press=old.press[before.press_id].name,
        from_at=old.clock.starts_at(before.set_up_start_tau),
        to_press=week.press[after.press_id].name,
        to_at=week.clock.starts_at(after.set_up_start_tau),
        later_min=later_min,
    )


def _dates(answers: Answers, week: Week, plan: Plan) -> tuple[DateRow, ...]:
    """Orders ready at another time than before, new ones first, then by when they must leave."""
    old = answers.standing
    found = []
    for order in week.orders:
        packed = plan.order[order.order_id].packed_tau
        before = old.plan.order.get(order.order_id)
        after_at = week.clock.ends_at(packed)
        before_at = None if before is None else old.week.clock.ends_at(before.packed_tau)
        was_due = old.week.order.get(order.order_id)
        row = DateRow(
            order_id=order.order_id,
            client=order.client,
            must_leave_at=week.clock.ends_at(order.pickups_tau[order.must_leave]),
            before_at=before_at,
            after_at=after_at,
            late_before=0 if before is None or was_due is None else pickups_missed(was_due, before.packed_tau),
            late_after=pickups_missed(order, packed),
            is_new=order.order_id in answers.order_ids,
        )
        if row.before_at != row.after_at or row.late_before != row.late_after:
            found.append(row)
    return tuple(sorted(found, key=lambda row: (not row.is_new, row.must_leave_at, row.order_id)))


def _queues(week: Week, before: Plan, after: Plan) -> list[QueueChange]:
    found = []
    for press in week.presses:
        old = tuple(one.run_id for one in before.queue.get(press.press_id, ()))
        new = tuple(one.run_id for one in after.queue.get(press.press_id, ()))
        if old == new:
            continue
        start = next((at for at, (one, other) in enumerate(zip(old, new, strict=False)) if one != other), None)
        start = min(len(old), len(new)) if start is None else start
        end = 0
        while end < min(len(old), len(new)) - start and old[len(old) - 1 - end] == new[len(new) - 1 - end]:
            end += 1
        found.append(
            QueueChange(
                press_id=press.press_id,
                name=press.name,
                before=old[start : len(old) - end],
                after=new[start : len(new) - end],
            )
        )
    return found

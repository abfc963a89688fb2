"""Are we on time? The answer in a sentence, four figures, and the orders that miss their date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dashboard.charts.bars import late_words
from scheduler.api import words
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.api import OrderRow, PlanView

ORDER_HEADINGS = ("order", "client", "pieces", "prints", "ready to leave", "must leave", "late", "what decides it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """sentence: the answer. figures: (what it counts, the figure), in reading order."""

    sentence: str
    figures: tuple[tuple[str, str], ...]


def verdict(week: Week, plan: Plan, view: PlanView) -> Verdict:
    """How the planned orders stand against their dates."""
    late = late_orders(view)
    planned = len(view.order_row)
    worst = max((row.late_days for row in late), default=0)
    close = sum(
        order.pickups_tau[order.must_leave] - order.cushion_min
        < plan.order[order.order_id].packed_tau
        <= order.pickups_tau[order.must_leave]
        for order in week.orders
        if order.order_id in plan.order
    )
    cushion = max((order.cushion_min for order in week.orders), default=0)
    last = max((row.end_at for row in view.queue), default=None)
    if not planned:
        sentence = "No order is planned."
    elif late:
        of = words.counted(planned, "planned order")
        sentence = (
            f"{words.LATE_MARK} {len(late)} of {of} will miss their date; the worst by {words.counted(worst, 'day')}."
        )
    else:
        sentence = f"Yes: {_all_of(planned)} its pick-up."
    missing = len({row.order_id for row in not_planned(view)})
    if missing:
        sentence += f" {words.counted(missing, 'order')} not planned, in whole or in part."
    return Verdict(
        sentence=sentence,
        figures=(
            ("Orders that will miss their date", str(len(late))),
            (f"Packed within {words.minutes(cushion)} of their pick-up", str(close)),
            ("Worst miss", words.counted(worst, "day") if worst else "none"),
            ("Last press stops", words.day_and_time(last) if last else "nothing printed"),
        ),
    )


def _all_of(planned: int) -> str:
    return "the one planned order makes" if planned == 1 else f"every one of {planned} planned orders makes"


def late_orders(view: PlanView) -> tuple[OrderRow, ...]:
    """Orders that miss their date, most late days first."""
    return tuple(row for row in view.orders if row.late_days)


def not_planned(view: PlanView) -> tuple[OrderRow, ...]:
    """Orders, and parts of orders, that are not planned, each with why."""
    return tuple(row for row in view.orders if row.state != "planned")


def order_table(rows: Sequence[OrderRow]) -> tuple[tuple[str | int, ...], ...]:
    """Orders as rows under `ORDER_HEADINGS`."""
    return tuple(
        (
            row.order_id,
            row.client,
            row.pieces,
            row.locations,
            words.day_and_time(row.packed_at) if row.packed_at else "not planned",
            words.day_and_time(row.must_leave_at) if row.must_leave_at else "",
            late_words(row.late_days),
            row.why,
        )
        for row in rows
    )


def chain_steps(week: Week, view: PlanView, run_id: str) -> tuple[str, ...]:
    """Why a run starts when it does, run by run back to the first that waits for no other; one sentence each."""
    return tuple(_chain_step(week, view, one) for one in view.chain(run_id))


def _chain_step(week: Week, view: PlanView, run_id: str) -> str:
    row = view.queue_row[run_id]
    where, when = week.press[row.press_id].name, words.day_and_time(row.set_up_at)
    return f"{row.order_id} {row.location} on {where}, set up from {when}{': ' + row.reason if row.reason else ''}."


def last_run_of(week: Week, plan: Plan, order_id: str) -> str | None:
    """The run that ends an order's printing, None where none of it is planned."""
    mine = [plan.run[run.run_id] for run in week.runs if run.order_id == order_id and run.run_id in plan.run]
    return max(mine, key=lambda one: (one.print_end_tau, one.run_id)).run_id if mine else None

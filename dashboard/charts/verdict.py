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
    from scheduler.api import Chain, HoldingUp, OrderRow, PlanView

ORDER_HEADINGS = ("order", "client", "ready to leave", "must leave", "late", "pieces", "prints", "what decides it")
CHAIN_HEADINGS = ("what", "from", "until", "shop time")
LOAD_HEADINGS = ("what is shared", "in use", "all of it in use for")


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
    if waiting := len(pencilled(view)):
        sentence += f" {words.counted(waiting, 'order')} pencilled in."
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
    return tuple(row for row in view.orders if row.state not in ("planned", words.PENCILLED))


def pencilled(view: PlanView) -> tuple[OrderRow, ...]:
    """Orders that wait for a yes and are pencilled in, those that need it first first."""
    return tuple(row for row in view.orders if row.state == words.PENCILLED)


def order_table(rows: Sequence[OrderRow]) -> tuple[tuple[str | int, ...], ...]:
    """Orders as rows under `ORDER_HEADINGS`."""
    return tuple(
        (
            row.order_id,
            row.client,
            words.day_and_time(row.packed_at) if row.packed_at else "not planned",
            words.day_and_time(row.must_leave_at) if row.must_leave_at else "",
            late_words(row.late_days),
            row.pieces,
            row.locations,
            row.state if row.packed_at and row.why.startswith(row.state) else row.why,
        )
        for row in rows
    )


def chain_of(found: HoldingUp, order_id: str) -> Chain:
    """Why one planned order ends when it does."""
    return next(one for one in found.chains if one.order_id == order_id)


def chain_runs(week: Week, chain: Chain) -> tuple[str, ...]:
    """The runs on a press that a chain goes through, in time."""
    return tuple(
        dict.fromkeys(link.owner_id for link in chain.links if link.kind == "work" and link.place in week.press)
    )


def chain_table(week: Week, chain: Chain) -> tuple[tuple[str, ...], ...]:
    """A chain's stretches as rows under `CHAIN_HEADINGS`, one after the other without a gap."""
    clock = week.clock
    return tuple(
        (
            link.what,
            words.day_and_time(clock.starts_at(link.start_tau)),
            words.day_and_time(clock.ends_at(link.end_tau)),
            words.minutes(link.minutes),
        )
        for link in chain.links
    )


def load_table(found: HoldingUp) -> tuple[tuple[str, ...], ...]:
    """What is shared, as rows under `LOAD_HEADINGS`."""
    return tuple((one.what, words.percent(one.share), words.minutes(one.full_min)) for one in found.loads)

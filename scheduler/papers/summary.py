"""What a planner acts on, in reading order: late orders, what is not planned, queues, screens, carts, money."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.week import PressLine, Week
from scheduler.papers.kept_free import kept_free_text
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.station_tables import station_rows, stations_section
from scheduler.papers.tables import (
    OrderRow,
    QueueRow,
    StagingRow,
    garments_text,
    order_rows,
    press_queue,
    staging_rows,
)
from scheduler.papers.text import Line, Section
from scheduler.papers.words import PENCILLED, counted, day_and_time, listed, minutes, money, until
from scheduler.review.measures import cost, measure

TERM_NAMES = {
    "late": "late days",
    "cushion": "packed close to the pick-up",
    "overtime": "overtime",
    "set_up": "set-up and ink clean-up",
    "printing": "printing where it takes more hands or hours",
    "burns": "screens burned",
    "ahead": "screens not ready ahead",
    "moves": "announced runs moved",
}
"""Cost terms in shop words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What a plan is measured against.

    lower_bound_cents: no plan of this week is cheaper. baseline: the due-date list, worked off as it stands.
    """

    lower_bound_cents: int | None = None
    baseline: Plan | None = None


def plan_sections(
    week: Week,
    plan: Plan,
    *,
    currency: str = "",
    clients: Mapping[str, str] | None = None,
    beside: Beside | None = None,
) -> tuple[Section, ...]:
    """The whole report. clients: names of clients by order, for orders that are not planned."""
    orders = order_rows(week, plan, clients)
    queue = press_queue(week, plan)
    parts = [
        _late(orders, currency),
        _pencilled(orders),
        _not_planned(orders),
        *(
            _queue(press, [row for row in queue if row.press_id == press.press_id], kept_free_text(week, plan, press))
            for press in week.presses
        ),
        _screens(screen_rows(week, plan)),
        _carts(staging_rows(week, plan)),
        stations_section(station_rows(week, plan)),
        _overtime(week, plan, currency),
        _orders(orders),
        _cost(week, plan, currency),
        how_good(week, plan, currency, beside or Beside()),
    ]
    return tuple(part for part in parts if part is not None)


def opening_line(week: Week, plan: Plan) -> str:
    """The plan in one sentence."""
    late_count = len(measure(week, plan).late_orders)
    not_planned = {one.order_id for one in week.not_planned}
    told = f"{counted(len(plan.runs), 'run')} of {counted(len(plan.orders), 'order')} planned"
    told += f", {late_count or 'none'} late"
    if plan.pencilled.orders:
        told += f"; {counted(len(plan.pencilled.orders), 'order')} pencilled in"
    if not_planned:
        told += f"; {counted(len(not_planned), 'order')} not planned, in whole or in part"
    return f"{told}."


def _late(orders: Sequence[OrderRow], currency: str) -> Section:
    lines = [
        Line(
            cells=(
                row.late,
                row.order_id,
                row.client,
                row.firmness,
                day_and_time(row.packed_at) if row.packed_at else "",
                day_and_time(row.must_leave_at) if row.must_leave_at else "",
                money(row.late_cents),
            ),
            under=f"why: {row.why}",
        )
        for row in orders
        if row.late_days
    ]
    if not lines:
        return Section(title="Late orders", sentences=("None: every planned order makes its pick-up.",))
    cost_heading = f"costs {currency}".strip()
    return Section(
        title="Late orders",
        headings=("late", "order", "client", "firm", "ready to leave", "must leave", cost_heading),
        lines=tuple(lines),
        right=frozenset({6}),
    )


def _pencilled(orders: Sequence[OrderRow]) -> Section | None:
    lines = [
        Line(
            cells=(
                row.order_id,
                row.client,
                row.locations,
                day_and_time(row.packed_at) if row.packed_at else "",
                day_and_time(row.must_leave_at) if row.must_leave_at else "",
                row.why,
            )
        )
        for row in orders
        if row.state == PENCILLED
    ]
    if not lines:
        return None
    return Section(
        title="Pencilled in, waiting for a yes",
        headings=("order", "client", "what", "ready to leave", "must leave", "by when"),
        lines=tuple(lines),
    )


def _not_planned(orders: Sequence[OrderRow]) -> Section | None:
    lines = [
        Line(cells=(row.order_id, row.client, row.locations or "all", row.why))
        for row in orders
        if row.state not in ("planned", PENCILLED)
    ]
    if not lines:
        return None
    return Section(title="Not planned", headings=("order", "client", "what", "why"), lines=tuple(lines))


def _queue(press: PressLine, rows: Sequence[QueueRow], kept_free: str) -> Section:
    if not rows:
        return Section(title=f"{press.name}: queue", sentences=("Nothing is planned on this press.",))
    return Section(
        title=f"{press.name}: queue",
        sentences=(kept_free,) if kept_free else (),
        headings=("set-up starts", "order", "client", "location", "garments", "set-up", "prints", "done"),
        lines=tuple(
            Line(
                cells=(
                    day_and_time(row.set_up_at),
                    row.order_id,
                    row.client,
                    row.location,
                    garments_text(row),
                    minutes(row.set_up_min),
                    until(row.set_up_at, row.print_at),
                    until(row.set_up_at, row.end_at),
                ),
                under=_under(row),
            )
            for row in rows
        ),
        right=frozenset({5}),
    )


def _under(row: QueueRow) -> str:
    """The reason of a run, and what else its line must not hide."""
    told = [f"why: {row.reason}"] if row.reason and not row.is_started else []
    if row.late:
        told.insert(0, row.late)
    if row.pencilled:
        told = [row.pencilled]
    if row.is_started:
        told.insert(0, "started")
    if row.slowed and row.slowed not in row.reason:
        told.append(row.slowed)
    if row.batches:
        told.append(f"mix {row.batches}")
    if row.wash_up:
        told.append(f"afterwards {row.wash_up}")
    return "; ".join(told)


def _screens(rows: Sequence[ScreenRow]) -> Section | None:
    """Burns and the coating they wait for, one line each; all reclaiming of one time in one line."""
    taped = {row.run_id: row.end_at for row in rows if row.what == "tape"}
    reclaimed: dict[tuple[datetime, datetime], list[ScreenRow]] = {}
    for row in rows:
        if row.what == "reclaim":
            reclaimed.setdefault((row.start_at, row.end_at), []).append(row)
    lines = []
    for row in rows:
        if row.what == "reclaim":
            together = reclaimed.pop((row.start_at, row.end_at), [])
            if together:
                lines.append(_reclaim_line(together))
        elif row.what == "burn":
            for_what = f"{row.order_id} {row.location}"  # a design nobody named is called so too
            which = for_what if row.design == for_what else f"{row.design}, {for_what}"
            lines.append(_screen_line(row, which, taped.get(row.run_id)))
        elif row.what == "coat" and row.needed_by is not None:
            lines.append(_screen_line(row, f"{row.frames}, {row.note}", row.end_at))
    if not lines:
        return None
    return Section(
        title="Screen room: what to coat, burn and reclaim",
        sentences=("Coating that no burn of this plan waits for is left out here.",) if _has_stock(rows) else (),
        headings=("start", "what", "which screens", "press", "ready", "needed by"),
        lines=tuple(lines),
    )


def _has_stock(rows: Sequence[ScreenRow]) -> bool:
    return any(row.what == "coat" and row.needed_by is None for row in rows)


def _screen_line(row: ScreenRow, which: str, ready: datetime | None) -> Line:
    """Where nothing is taped, a burned set is ready when it is dry."""
    done = ready or row.dry_at or row.end_at
    return Line(
        cells=(
            day_and_time(row.start_at),
            f"{row.what} {row.screens}",
            which,
            row.press_name,
            until(row.start_at, done),
            until(row.start_at, row.needed_by) if row.needed_by else "",
        )
    )


def _reclaim_line(rows: Sequence[ScreenRow]) -> Line:
    first = rows[0]
    which = listed([row.design or f"{row.screens} old of {row.frames}" for row in rows])
    count = sum(row.screens for row in rows)
    return Line(
        cells=(day_and_time(first.start_at), f"reclaim {count}", which, "", until(first.start_at, first.end_at), "")
    )


def _carts(rows: Sequence[StagingRow]) -> Section | None:
    if not rows:
        return None
    return Section(
        title="Carts to stage",
        headings=("start", "by", "press", "order", "on the cart"),
        lines=tuple(
            Line(
                cells=(
                    day_and_time(row.start_at),
                    until(row.start_at, row.needed_at),
                    row.press_name,
                    f"{row.order_id} {row.location}",
                    f"{row.garments}; {counted(row.screens, 'screen')}; {row.inks}",
                )
            )
            for row in rows
        ),
    )


def _overtime(week: Week, plan: Plan, currency: str) -> Section | None:
    bought = [block for block in week.overtime if block.block_id in plan.overtime]
    if not bought:
        return None
    return Section(
        title="Overtime to arrange",
        headings=("from", "to", "what", "costs"),
        lines=tuple(
            Line(
                cells=(
                    day_and_time(week.clock.starts_at(block.start_tau)),
                    until(week.clock.starts_at(block.start_tau), week.clock.ends_at(block.end_tau)),
                    block.name,
                    money(block.price_cents, currency),
                )
            )
            for block in bought
        ),
        right=frozenset({3}),
    )


def _orders(orders: Sequence[OrderRow]) -> Section:
    return Section(
        title="When each order is ready",
        headings=("order", "client", "pieces", "ready to leave", "must leave", "late"),
        lines=tuple(
            Line(
                cells=(
                    row.order_id,
                    row.client,
                    str(row.pieces),
                    day_and_time(row.packed_at),
                    day_and_time(row.must_leave_at) if row.must_leave_at else "",
                    row.state if row.state == PENCILLED else row.late,
                )
            )
            for row in sorted(orders, key=lambda row: (row.packed_at is None, row.packed_at, row.order_id))
            if row.packed_at is not None
        ),
        right=frozenset({2}),
    )


def _cost(week: Week, plan: Plan, currency: str) -> Section:
    seen = cost(week, plan)
    lines = [Line(cells=(TERM_NAMES[term], money(cents))) for term, cents in seen.terms.items()]
    lines.append(Line(cells=("together", money(seen.total))))
    return Section(
        title="What the plan costs",
        headings=("what", currency or "money"),
        lines=tuple(lines),
        right=frozenset({1}),
    )


def how_good(week: Week, plan: Plan, currency: str, beside: Beside) -> Section:
    """How good the plan is, in the shop's money: against the cheapest possible and against the due-date list."""
    total = cost(week, plan).total
    told = []
    if beside.lower_bound_cents is not None:
        above = max(0, total - beside.lower_bound_cents)
        told.append(
            f"At most {money(above, currency)} above the cheapest plan possible."
            if above
            else "No cheaper plan exists for these orders and hours."
        )
    if beside.baseline is not None:
        seen = measure(week, beside.baseline)
        dearer = seen.cost.total - total
        more = f"{money(abs(dearer), currency)} {'more' if dearer > 0 else 'less'}" if dearer else "the same"
        late_count = counted(len(seen.late_orders), "order") if seen.late_orders else "no order"
        told.append(f"Working the orders off by due date would cost {more}, with {late_count} late.")
    return Section(title="How good is this plan", sentences=tuple(told) or ("Not measured.",))

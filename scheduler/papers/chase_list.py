"""Whom to ring: what is missing, for which order, by when the answer is needed, and what it holds up.

Only what the week's files hold: art, garments and deposits marked "?" or with a day still to come, and cells nobody
could fill.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.orders import Imprint, Lot, Order, WeekInputs
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Run, Week
from scheduler.papers.csv_files import csv_text
from scheduler.papers.text import Line, Section
from scheduler.papers.words import counted, day_and_time, listed

CLIENT, SUPPLIER = "client", "supplier"
DEPOSIT = "deposit"
EXPLAINED = (
    "By when: the last moment at which the missing thing still keeps the order's date, nothing else in the plan moved. "
    "Where a day is expected: when the plan first needs it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChaseRow:
    """One missing thing of one order.

    expected_at: the day that is known, None for "?". latest_at: latest yes of a waiting order. needed_at: when the
    plan first needs what has a day. why: why there is no latest yes, "" if there is one or none is asked for.
    """

    order_id: str
    client: str
    missing: str
    ring: str
    expected_at: datetime | None
    latest_at: datetime | None
    needed_at: datetime | None
    holds_up: str
    why: str
    note: str


def waiting_orders(inputs: WeekInputs) -> tuple[str, ...]:
    """Orders that wait for art, garments or a deposit nobody knows the day of, for nothing else; earliest due first."""
    waits = {lot.order_id for lot in inputs.lots if lot.is_waiting}
    waits |= {order.order_id for order in inputs.orders if order.is_waiting_for_deposit}
    waits |= {one.order_id for one in inputs.imprints if one.is_waiting_for_art}
    orders = [order for order in inputs.orders if order.order_id in waits and not order.untold]
    return tuple(order.order_id for order in sorted(orders, key=lambda one: (_day_text(one), one.order_id)))


def chase_rows(inputs: WeekInputs, week: Week, plan: Plan, latest: Mapping[str, LatestYes]) -> tuple[ChaseRow, ...]:
    """What is missing: first what nobody knows the day of, then what has a day; most urgent first in both."""
    reader = _Reader(inputs, week, plan, latest)
    waiting = sorted(reader.waiting(), key=lambda row: (row.latest_at is not None, row.latest_at or week.clock.now))
    dated = sorted(reader.dated(), key=lambda row: (row.needed_at is None, row.needed_at or week.clock.now))
    return (*waiting, *dated)


class _Reader:
    def __init__(self, inputs: WeekInputs, week: Week, plan: Plan, latest: Mapping[str, LatestYes]) -> None:
        self.inputs = inputs
        self.week = week
        self.plan = plan
        self.latest = latest
        self.orders = {order.order_id: order for order in inputs.orders}
        self.lots = {lot.lot_id: lot for lot in inputs.lots}

    def waiting(self) -> Iterator[ChaseRow]:
        """What is marked "?"."""
        for order in self.inputs.orders:
            for told in order.untold:
                yield self._waiting(order, told, CLIENT, 0, "what is missing decides how long it prints")
            if order.is_waiting_for_deposit:
                yield self._waiting(order, DEPOSIT, CLIENT, 0)
        for one in self.inputs.imprints:
            if one.is_waiting_for_art:
                yield self._waiting(self.orders[one.order_id], _art_text(one), CLIENT, self._pieces(one))
        for lot, _ in _typed_lots(self.inputs.lots):
            if lot.is_waiting:
                yield self._waiting(self.orders[lot.order_id], _lot_text(lot), _sender(lot), lot.pieces)

    def dated(self) -> Iterator[ChaseRow]:
        """What has a day still to come, for orders that are planned."""
        for order in self.inputs.orders:
            at = self._to_come(order.deposit_at)
            if at is not None:
                runs = self._planned(run for run in self.week.runs if run.order_id == order.order_id)
                yield from self._dated(order.order_id, DEPOSIT, CLIENT, at, [(_begins(run), run) for run in runs])
        for one in self.inputs.imprints:
            at = self._to_come(one.art_at)
            if at is not None:
                runs = self._planned(run for run in self.week.runs if _is_of(run, one))
                burns = [(run.burn.start_tau if run.burn else run.set_up_start_tau, run) for run in runs]
                yield from self._dated(one.order_id, _art_text(one), CLIENT, at, burns)
        for lot, lot_ids in _typed_lots(self.inputs.lots):
            at = self._to_come(lot.blanks_at)
            if at is not None:
                runs = self._planned(run for run in self.week.runs if lot_ids & run.lot_ids)
                carts = [(min(run.stage_start_tau, run.set_up_start_tau), run) for run in runs]
                yield from self._dated(lot.order_id, _lot_text(lot), _sender(lot), at, carts)

    def _waiting(self, order: Order, missing: str, ring: str, pieces: int, why: str = "") -> ChaseRow:
        found = self.latest.get(order.order_id)
        is_kept = found is not None and not found.missed
        latest_tau = found.latest_tau if found is not None and is_kept else None
        if found is not None and found.promised_tau is not None:
            leaves = f"must leave {day_and_time(self.week.clock.ends_at(found.promised_tau))}"
        else:
            leaves = f"due {_day_text(order)}"
        return ChaseRow(
            order_id=order.order_id,
            client=order.client,
            missing=missing,
            ring=ring,
            expected_at=None,
            latest_at=None if latest_tau is None else self.week.clock.starts_at(latest_tau),
            needed_at=None,
            holds_up=listed([*([f"{pieces} pieces"] if pieces else []), leaves]),
            why=why or ("not worked out" if found is None else self._why(found)),
            note=order.note,
        )

    def _why(self, found: LatestYes) -> str:
        """What is to be said beside the moment, or instead of it."""
        if found.missed and found.latest_tau is not None:
            moment = day_and_time(self.week.clock.starts_at(found.latest_tau))
            return f"too late already: {counted(found.missed, 'day')} late even with it by {moment}"
        if found.latest_tau is None or found.is_proven:
            return found.why
        return "or a little later: there was no time to be sure"

    def _dated(
        self, order_id: str, missing: str, ring: str, at: datetime, needs: list[tuple[int, PlannedRun]]
    ) -> Iterator[ChaseRow]:
        if not needs:
            return
        order, due = self.orders[order_id], self.week.order[order_id]
        tau, first = min(needs, key=lambda need: need[0])
        starts = day_and_time(self.week.clock.starts_at(first.set_up_start_tau))
        leaves = day_and_time(self.week.clock.ends_at(due.pickups_tau[due.must_leave]))
        where = self.week.press[first.press_id].name
        yield ChaseRow(
            order_id=order_id,
            client=order.client,
            missing=missing,
            ring=ring,
            expected_at=at,
            latest_at=None,
            needed_at=self.week.clock.starts_at(tau),
            holds_up=f"{self.week.run[first.run_id].location} on {where} {starts}, must leave {leaves}",
            why="",
            note=order.note,
        )

    def _planned(self, runs: Iterable[Run]) -> list[PlannedRun]:
        return [self.plan.run[run.run_id] for run in runs if run.run_id in self.plan.run]

    def _pieces(self, one: Imprint) -> int:
        return sum(self.lots[lot_id].pieces for lot_id in one.lot_ids)

    def _to_come(self, moment: datetime | None) -> datetime | None:
        """The moment in the shop's zone if it is still to come."""
        if moment is None:
            return None
        at = moment.replace(tzinfo=ZoneInfo(self.inputs.shop.zone)) if moment.tzinfo is None else moment
        return at if at > self.week.clock.now else None


def _typed_lots(lots: Iterable[Lot]) -> list[tuple[Lot, frozenset[str]]]:
    """Garments as they are rung up for: the shares of a split location are one delivery. With the ids of the shares."""
    found: dict[tuple[str, str], list[Lot]] = {}
    for lot in lots:
        found.setdefault((lot.order_id, lot.garment if lot.share else lot.lot_id), []).append(lot)
    return [
        (replace(own[0], pieces=sum(lot.pieces for lot in own)), frozenset(lot.lot_id for lot in own))
        for own in found.values()
    ]


def _is_of(run: Run, one: Imprint) -> bool:
    return (run.order_id, run.location) == (one.order_id, one.location) and run.design_id in one.set_names


def _begins(run: PlannedRun) -> int:
    """When the first hand is laid on a run: its burn, else its cart or set-up."""
    staged_tau = min(run.stage_start_tau, run.set_up_start_tau)
    return min(run.burn.start_tau, staged_tau) if run.burn else staged_tau


def _art_text(one: Imprint) -> str:
    return f"art: {one.location}"


def _lot_text(lot: Lot) -> str:
    return f"garments: {lot.pieces} {lot.garment}"


def _sender(lot: Lot) -> str:
    return CLIENT if lot.from_client else SUPPLIER


def _day_text(order: Order) -> str:
    """The typed date, so that texts sort as days do."""
    due = order.due_at
    return f"{due:%Y-%m-%d %H:%M}" if isinstance(due, datetime) else f"{due:%Y-%m-%d}"


def chase_section(rows: Iterable[ChaseRow]) -> Section | None:
    """The rows as a table to ring by; None if nothing is missing."""
    lines = [
        Line(cells=(_by_when(row), row.order_id, row.client, _missing(row), row.ring, row.holds_up), under=_under(row))
        for row in rows
    ]
    if not lines:
        return None
    headings = ("by when", "order", "client", "what is missing", "ring", "what it holds up")
    return Section(title="Whom to ring", sentences=(EXPLAINED,), headings=headings, lines=tuple(lines))


def _by_when(row: ChaseRow) -> str:
    by_when = row.needed_at or row.latest_at
    return "at once" if by_when is None else day_and_time(by_when)


def _missing(row: ChaseRow) -> str:
    if row.expected_at is None:
        return row.missing
    # A day without a clock time is midnight in the files; nobody rings about midnight.
    return f"{row.missing}, expected {day_and_time(row.expected_at).removesuffix(' 00:00')}"


def _under(row: ChaseRow) -> str:
    return "; ".join(part for part in (row.why, f"note: {row.note}" if row.note else "") if part)


def chase_csv(rows: Iterable[ChaseRow]) -> str:
    """The rows for a spreadsheet; `expected` is "?" where nobody knows the day."""
    headings = (
        "order", "client", "what is missing", "expected", "ring", "latest yes", "needed as planned",
        "what it holds up", "why no latest yes", "note",
    )  # fmt: skip
    return csv_text(
        headings,
        [
            (
                row.order_id, row.client, row.missing, row.expected_at or "?", row.ring, row.latest_at, row.needed_at,
                row.holds_up, row.why, row.note,
            )
            for row in rows
        ],
    )  # fmt: skip


def chase_figures(rows: Iterable[ChaseRow]) -> list[dict[str, str | None]]:
    """The rows for other programs; moments as local ISO times with their offset, None where there is none."""
    return [
        {
            "order": row.order_id,
            "missing": row.missing,
            "expected": _iso(row.expected_at),
            "latest_yes": _iso(row.latest_at),
            "needed": _iso(row.needed_at),
            "why_no_latest_yes": row.why,
        }
        for row in rows
    ]


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()

"""Visits of an order to stations: before its first run is staged, and after its last print has cured."""

from __future__ import annotations

from scheduler.domain.stations import StationStep
from scheduler.search.state import NO_PIECES, State, StepSpan
from scheduler.search.tables import Opened, Tables


def back_from_stations(tables: Tables, opened: Opened, state: State, order_number: int) -> int | None:
    """Shop minute at which an order is back from what comes before its prints; booked at the first call.

    None if the hours do not suffice.
    """
    order = tables.orders[order_number]
    if (order_number, True) not in state.steps:
        from_tau = max(tables.runs[number].blanks_tau for number in order.runs)
        if not _book(tables, opened, state, order_number, order.before, from_tau):
            return None
    return state.steps[order_number, True][-1].end_tau


def visit_after(tables: Tables, opened: Opened, state: State, order_number: int) -> int | None:
    """Book what comes after an order's prints, all of which are placed; the minute at which it is over.

    0 if nothing comes after, None if the hours do not suffice. What comes before is booked too, if no run asked for it.
    """
    order = tables.orders[order_number]
    if order.before and back_from_stations(tables, opened, state, order_number) is None:
        return None
    if not order.after:
        return 0
    from_tau = max(state.of(number).end_tau + tables.runs[number].cure_min for number in order.runs)
    if not _book(tables, opened, state, order_number, order.after, from_tau):
        return None
    return state.steps[order_number, False][-1].end_tau


def strike_out_after(tables: Tables, state: State, order_number: int) -> None:
    """Give back what was booked after an order's prints."""
    spans = state.steps.pop((order_number, False), ())
    for step, span in zip(tables.orders[order_number].after, spans, strict=bool(spans)):
        _take(tables, state, step, span, -1)


def _book(
    tables: Tables, opened: Opened, state: State, order_number: int, steps: tuple[StationStep, ...], from_tau: int
) -> bool:
    """Each visit as early as it can be after the one before; nothing is booked if one finds no place."""
    spans: list[StepSpan] = []
    for step in steps:
        span = _earliest(tables, opened, state, step, from_tau)
        if span is None:
            for booked, was in zip(steps, spans, strict=False):
                _take(tables, state, booked, was, -1)
            return False
        _take(tables, state, step, span, 1)
        spans.append(span)
        from_tau = span.end_tau
    state.steps[order_number, steps[0].is_before] = tuple(spans)
    return True


def _earliest(tables: Tables, opened: Opened, state: State, step: StationStep, from_tau: int) -> StepSpan | None:
    if step.is_sent_out:
        back_tau = step.back_tau(from_tau)
        return None if back_tau is None else StepSpan(from_tau, back_tau, NO_PIECES)
    spec, floor = tables.stations[step.station_id], state.floor
    hours = opened.stations[spec.number]
    index = hours.index_from(from_tau)
    while index + step.work_min <= hours.total:
        pieces = hours.pieces(index, index + step.work_min)
        start_tau, end_tau = pieces[0][0], pieces[-1][1]
        over_tau = floor.clash_end(start_tau, end_tau, spec.unit_need) if spec.unit_need else 0
        if not over_tau and spec.crew_need:
            over_tau = floor.clash_end_of(pieces, spec.crew_need)
        if not over_tau:
            return StepSpan(start_tau, end_tau, pieces)
        index = max(index + 1, hours.index_from(over_tau))
    return None


def _take(tables: Tables, state: State, step: StationStep, span: StepSpan, sign: int) -> None:
    spec = tables.stations[step.station_id]
    if spec.unit_need:
        state.floor.take(span.start_tau, span.end_tau, sign * spec.unit_need)
    if spec.crew_need:
        state.floor.take_all(span.pieces, sign * spec.crew_need)

"""A week as if what orders wait for came at a given moment: the inputs with that date written in."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import datetime

from scheduler.domain.latest_yes import Waiting
from scheduler.domain.orders import WeekInputs
from scheduler.domain.week import Week


def as_if_there(inputs: WeekInputs, order_ids: Collection[str], moment: datetime) -> WeekInputs:
    """The same inputs, but whatever these orders have marked "?" in art, blanks or deposit comes at `moment`."""
    return replace(
        inputs,
        orders=tuple(
            replace(order, is_waiting_for_deposit=False, deposit_at=moment)
            if order.order_id in order_ids and order.is_waiting_for_deposit
            else order
            for order in inputs.orders
        ),
        lots=tuple(
            replace(lot, is_waiting=False, blanks_at=moment) if lot.order_id in order_ids and lot.is_waiting else lot
            for lot in inputs.lots
        ),
        imprints=tuple(
            replace(one, is_waiting_for_art=False, art_at=moment)
            if one.order_id in order_ids and one.is_waiting_for_art
            else one
            for one in inputs.imprints
        ),
    )


def waiting_runs(inputs: WeekInputs, week: Week, order_id: str) -> Waiting:
    """Which runs of a week (built as if the missing things were there) need what the order waits for.

    Without its deposit nothing is begun: all of them wait as they would for art and garments both.
    """
    own = [run for run in week.runs if run.order_id == order_id]
    if any(order.is_waiting_for_deposit for order in inputs.orders if order.order_id == order_id):
        everything = frozenset(run.run_id for run in own)
        return Waiting(order_id=order_id, art=everything, garments=everything)
    art = {
        (one.location, set_name)
        for one in inputs.imprints
        if one.order_id == order_id and one.is_waiting_for_art
        for set_name in one.set_names
    }
    lots = {lot.lot_id for lot in inputs.lots if lot.order_id == order_id and lot.is_waiting}
    return Waiting(
        order_id=order_id,
        art=frozenset(run.run_id for run in own if (run.location, run.design_id) in art),
        garments=frozenset(run.run_id for run in own if run.lot_ids & lots),
    )

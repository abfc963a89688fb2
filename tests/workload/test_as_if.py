"""A week as if what an order waits for came at a moment: only that order's missing things change."""

from dataclasses import replace

from scheduler.workload.as_if import as_if_there, waiting_runs
from scheduler.workload.build import build_workload
from tests.workload import shops
from tests.workload.random_inputs import random_inputs


def test_only_what_is_missing_gets_the_moment() -> None:
    """Lots and imprints marked "?" come at the moment; everything else stays as typed, other orders too."""
    inputs = random_inputs(3)
    first, other = inputs.lots[0], next(lot for lot in inputs.lots if lot.order_id != inputs.lots[0].order_id)
    lots = tuple(replace(lot, is_waiting=lot in (first, other)) for lot in inputs.lots)
    imprints = tuple(
        replace(one, is_waiting_for_art=one.order_id == first.order_id and one.location == "front", art_at=None)
        for one in inputs.imprints
    )
    asked = replace(inputs, lots=lots, imprints=imprints)
    found = as_if_there(asked, (first.order_id,), shops.at(4))
    changed = [lot for lot, was in zip(found.lots, lots, strict=True) if lot != was]
    assert [(lot.lot_id, lot.blanks_at, lot.is_waiting) for lot in changed] == [(first.lot_id, shops.at(4), False)]
    moved = [one for one, was in zip(found.imprints, imprints, strict=True) if one != was]
    assert [(one.order_id, one.location, one.art_at) for one in moved] == [(first.order_id, "front", shops.at(4))]
    assert found.shop == asked.shop
    assert found.orders == asked.orders


def test_the_runs_that_wait_are_named() -> None:
    """Runs of a waiting location wait for art, runs on a waiting lot wait for garments."""
    inputs = random_inputs(3)
    order_id, lot_id = inputs.lots[0].order_id, inputs.lots[0].lot_id
    asked = replace(
        inputs,
        lots=tuple(replace(lot, is_waiting=lot.lot_id == lot_id) for lot in inputs.lots),
        imprints=tuple(
            replace(one, is_waiting_for_art=(one.order_id, one.location) == (order_id, "front"))
            for one in inputs.imprints
        ),
        progress=(),
    )
    week = build_workload(as_if_there(asked, (order_id,), shops.at(4))).week
    runs = waiting_runs(asked, week, order_id)
    own = [run for run in week.runs if run.order_id == order_id]
    assert own
    assert runs.art == {run.run_id for run in own if run.location == "front"}
    assert runs.garments == {run.run_id for run in own if lot_id in run.lot_ids}
    assert all(week.run[run_id].art_tau for run_id in runs.art)
    assert all(week.run[run_id].blanks_tau for run_id in runs.garments)

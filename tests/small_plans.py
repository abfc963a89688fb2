"""Plans of the small shop: every builder has harmless defaults, as in `tests/builders.py`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from scheduler.domain.plan import Burn, CoatBatch, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.stations import PlannedStep


def visits(*times: tuple[str, int, int]) -> tuple[PlannedStep, ...]:
    """Planned visits as (station, start, end)."""
    return tuple(PlannedStep(station_id=name, start_tau=start, end_tau=end) for name, start, end in times)


def planned_run(
    run_id: str = "r1",
    *,
    press_id: str = "P1",
    at: int = 0,
    set_up: int = 0,
    printing: int = 60,
    stage: tuple[int, int] | None = None,
    **more: Any,
) -> PlannedRun:
    """A run set up from `at` without any pause; staging takes no time unless given as (start, end)."""
    made = PlannedRun(
        run_id=run_id,
        press_id=press_id,
        stage_start_tau=stage[0] if stage else at,
        stage_end_tau=stage[1] if stage else at,
        set_up_start_tau=at,
        set_up_end_tau=at + set_up,
        set_up_min=set_up,
        print_start_tau=at + set_up,
        print_end_tau=at + set_up + printing,
    )
    return replace(made, **more)


def planned_burn(start: int = 0, *, burn: int = 30, dry: int = 60, tape: int = 10) -> Burn:
    """A burn without any pause: exposed, dried and taped one after the other."""
    end = start + burn
    return Burn(
        start_tau=start,
        end_tau=end,
        dry_tau=end + dry,
        tape_start_tau=end + dry,
        tape_end_tau=end + dry + tape,
    )


def planned_order(
    order_id: str = "or1", *, packed: int = 60, start: int | None = None, stations: tuple[PlannedStep, ...] = ()
) -> PlannedOrder:
    """An order packed at `packed`, without any packing unless `start` is given."""
    begins = packed if start is None else start
    return PlannedOrder(order_id=order_id, finish_start_tau=begins, packed_tau=packed, stations=stations)


def plan(
    *runs: PlannedRun,
    orders: Sequence[PlannedOrder] | None = None,
    coat_batches: Sequence[CoatBatch] = (),
    reclaims: Sequence[Reclaim] = (),
    overtime: Sequence[str] = (),
) -> Plan:
    """A plan of these runs; orders not given are packed when their run ("o" + run) leaves the press."""
    done = [planned_order(f"o{one.run_id}", packed=one.print_end_tau) for one in runs] if orders is None else orders
    return Plan(
        runs=runs,
        orders=tuple(done),
        coat_batches=tuple(coat_batches),
        reclaims=tuple(reclaims),
        overtime=tuple(overtime),
    )

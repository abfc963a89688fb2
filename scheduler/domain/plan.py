"""A finished plan: what happens when, on the shop axis. It says nothing about how good it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.pickled import OwnFieldsOnly
from scheduler.domain.stations import PlannedStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Burn:
    """Making a set ready: expose and wash out [start, end), dry until dry_tau, block out and tape [tape, tape end)."""

    start_tau: int
    end_tau: int
    dry_tau: int
    tape_start_tau: int
    tape_end_tau: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedRun:
    """A run on its press.

    set_up_min is the work in the set-up; kept_inks are inks not of this run that stay live on the press, a head each.
    stage_start_tau == stage_end_tau where no staging is planned. burn is None where the set stands ready already. way:
    how it is printed, by number among its choice's ways.
    """

    run_id: str
    press_id: str
    stage_start_tau: int
    stage_end_tau: int
    set_up_start_tau: int
    set_up_end_tau: int
    set_up_min: int
    print_start_tau: int
    print_end_tau: int
    kept_inks: tuple[str, ...] = ()
    burn: Burn | None = None
    reason: str = ""
    way: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOrder:
    """Finishing [finish_start, packed) of an order; equal where there is nothing to finish.

    stations: its visits to stations, in the order of `OrderDue.stations`.
    """

    order_id: str
    finish_start_tau: int
    packed_tau: int
    stations: tuple[PlannedStep, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatBatch:
    """Frames of one class coated in one coat window."""

    window_id: str
    class_id: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Reclaim:
    """A set reclaimed in a block, after its use by `after_run_id`."""

    set_id: str
    after_run_id: str
    block_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pencilled:
    """Orders that wait for something, each where it can stand behind the firm ones, none of which it moves.

    coat_batches: those of the whole plan, where these orders need more frames coated; else empty. yes: by when each
    waiting order needs its yes, those without a place too.
    """

    runs: tuple[PlannedRun, ...] = ()
    orders: tuple[PlannedOrder, ...] = ()
    coat_batches: tuple[CoatBatch, ...] = ()
    yes: tuple[LatestYes, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Plan(OwnFieldsOnly):
    """The whole plan. pencilled: orders that wait, beside it; nothing else here counts them."""

    runs: tuple[PlannedRun, ...]
    orders: tuple[PlannedOrder, ...]
    coat_batches: tuple[CoatBatch, ...] = ()
    reclaims: tuple[Reclaim, ...] = ()
    overtime: tuple[str, ...] = ()
    pencilled: Pencilled = Pencilled()

    @cached_property
    def with_pencilled(self) -> Plan:
        """The plan as it stands once every pencilled order gets its yes in time."""
        own = self.pencilled
        if not own.runs:
            return self
        waiting = {order.order_id for order in own.orders}
        return Plan(
            runs=(*self.runs, *own.runs),
            orders=(*(order for order in self.orders if order.order_id not in waiting), *own.orders),
            coat_batches=own.coat_batches or self.coat_batches,
            reclaims=self.reclaims,
            overtime=self.overtime,
        )

    @cached_property
    def run(self) -> dict[str, PlannedRun]:
        """Planned runs by id."""
        return {one.run_id: one for one in self.runs}

    @cached_property
    def order(self) -> dict[str, PlannedOrder]:
        """Planned orders by id."""
        return {one.order_id: one for one in self.orders}

    @cached_property
    def queue(self) -> dict[str, tuple[PlannedRun, ...]]:
        """Each press's runs in the order they are set up."""
        found: dict[str, list[PlannedRun]] = {}
        for one in sorted(self.runs, key=lambda r: (r.set_up_start_tau, r.print_end_tau, r.run_id)):
            found.setdefault(one.press_id, []).append(one)
        return {press_id: tuple(queue) for press_id, queue in found.items()}

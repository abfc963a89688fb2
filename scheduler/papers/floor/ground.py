"""What every paper for the floor is made from: the week as typed and as planned, and look-ups between the two."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from scheduler.domain.orders import Imprint, Lot, Order, WeekInputs
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.shop import Dryer
from scheduler.domain.week import PressChoice, Run, Week
from scheduler.papers.chase_list import ChaseRow
from scheduler.papers.floor.stays import Stay, stays
from scheduler.papers.floor.units import Units
from scheduler.papers.roster_table import ShortStayRow, roster_rows, short_stay_rows
from scheduler.papers.tables import QueueRow, press_queue


@dataclass(frozen=True, kw_only=True)
class Ground:
    """One week, one plan, one moment of printing. week: it knows the plan's pencilled orders too."""

    inputs: WeekInputs
    week: Week
    plan: Plan
    printed_at: datetime
    chase: tuple[ChaseRow, ...] = ()

    @property
    def units(self) -> Units:
        """How quantities are written."""
        return Units(first=self.inputs.shop.paper.units)

    @cached_property
    def plan_name(self) -> str:
        """Six letters that differ from plan to plan: two sheets belong together if they bear the same."""
        return hashlib.sha256(repr((self.week.digest, self.plan)).encode()).hexdigest()[:6]

    @cached_property
    def whole(self) -> Plan:
        """The plan with what is pencilled in."""
        return self.plan.with_pencilled

    @cached_property
    def queue(self) -> tuple[QueueRow, ...]:
        """Every press's queue."""
        return press_queue(self.week, self.plan)

    @cached_property
    def stays(self) -> tuple[Stay, ...]:
        """Where everybody is, by half days."""
        return stays(roster_rows(self.week, self.plan))

    @cached_property
    def short_stays(self) -> tuple[ShortStayRow, ...]:
        """Who is sent to a press for less than the shop wants."""
        return short_stay_rows(self.week, self.plan)

    @cached_property
    def lot(self) -> dict[str, Lot]:
        """Garments by id."""
        return {lot.lot_id: lot for lot in self.inputs.lots}

    @cached_property
    def order(self) -> dict[str, Order]:
        """Orders as typed by id."""
        return {order.order_id: order for order in self.inputs.orders}

    @cached_property
    def dryer(self) -> dict[str, Dryer]:
        """Dryers by id."""
        return {dryer.dryer_id: dryer for dryer in self.inputs.shop.dryers}

    @cached_property
    def _imprints(self) -> dict[tuple[str, str, str], Imprint]:
        return {(one.order_id, one.location, design): one for one in self.inputs.imprints for design in one.set_names}

    def imprint(self, run: Run) -> Imprint | None:
        """The print location a run prints; None for a week that was not typed."""
        return self._imprints.get((run.order_id, run.location, run.design_id))

    def choice(self, planned: PlannedRun) -> PressChoice:
        """A planned run on its press, printed as planned."""
        run = self.week.run[planned.run_id]
        return run.printed_on(planned.press_id, planned.way) or run.on_press[planned.press_id]

    def is_waiting(self, run_id: str) -> bool:
        """True for a run that is only pencilled in."""
        return run_id not in self.plan.run

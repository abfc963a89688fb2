"""What is open when a waiting order is pencilled in: its own runs, beside a plan of which nothing moves."""

from __future__ import annotations

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import PressChoice, Run, Week
from scheduler.model.scope import BURN_TIMES, RUN_TIMES, VISIT, LineUp, Scope


class PencilScope(Scope):
    """The runs of one order are open beside a plan of all others, of which every minute stays as it is.

    They may stand at the end of a press's queue, or in a hole of it where the run after them needs the set-up minutes
    it has in the plan. No overtime is bought for them, and no set is reclaimed for them.
    """

    def __init__(self, week: Week, order_id: str, plan: Plan) -> None:
        """Open the order's runs that `plan`, which plans every other run of the week, does not hold."""
        self._plan, self._order_id = plan, order_id
        self._free = frozenset(run.run_id for run in week.runs if run.run_id not in plan.run)
        self._sets = {set_id for set_id, uses in week.runs_of_set.items() if self._free & set(uses)}
        super().__init__(week)
        self.offered = frozenset()
        self.bought = frozenset(plan.overtime)

    def choices(self, run: Run) -> tuple[PressChoice, ...]:
        """A planned run keeps its press."""
        offered = super().choices(run)
        if run.run_id in self._free:
            return offered
        return tuple(choice for choice in offered if choice.press_id == self._plan.run[run.run_id].press_id)

    def _line_up(self, press_id: str) -> LineUp:
        queue = self._plan.queue.get(press_id, ())
        open_runs = [run for run in self.week.runs if run.run_id in self._free and press_id in run.on_press]
        ends = [0, *(one.print_end_tau for one in queue)]
        starts = [*(one.set_up_start_tau for one in queue), self.week.horizon_tau]
        holes = [
            frozenset(run.run_id for run in open_runs if run.on_press[press_id].work_min <= start - end)
            for end, start in zip(ends, starts, strict=True)
        ]
        first = next((number for number, hole in enumerate(holes) if hole), len(queue))
        stands, kept = self.week.press[press_id].now_on, frozenset[str]()
        if first:
            before = queue[first - 1]
            stands, kept = self.week.run[before.run_id].on_press[press_id].stack, frozenset(before.kept_inks)
        in_order = tuple(one.run_id for one in queue[first:])
        return LineUp(press_id=press_id, stands=stands, kept=kept, in_order=in_order, holes=tuple(holes[first:]))

    def span(self, kind: str, owner_id: str) -> tuple[int, int]:
        """What is planned has one value."""
        value = self._value(kind, owner_id)
        return (value, value) if value is not None else super().span(kind, owner_id)

    def _value(self, kind: str, owner_id: str) -> int | None:
        if kind.startswith(("packing", VISIT)):
            return None if owner_id == self._order_id else self._of_order(kind, owner_id)
        return None if owner_id in self._free else _of_run(kind, self._plan.run[owner_id])

    def _of_order(self, kind: str, order_id: str) -> int:
        order = self._plan.order[order_id]
        if kind.startswith(VISIT):
            number, edge = kind.removeprefix(VISIT).split("_")
            visit = order.stations[int(number)]
            return visit.start_tau if edge == "start" else visit.end_tau
        return order.finish_start_tau if kind == "packing_start" else order.packed_tau

    def way(self, run_id: str) -> int | None:
        """The way a planned run is printed."""
        return None if run_id in self._free else self._plan.run[run_id].way

    def kept_inks(self, run_id: str) -> tuple[str, ...] | None:
        """Inks kept beside a planned run."""
        return None if run_id in self._free else self._plan.run[run_id].kept_inks

    def uses_in_order(self, set_id: str) -> tuple[str, ...] | None:
        """The order of the uses of a set the order does not print from."""
        if set_id in self._sets:
            return None
        uses = self.week.runs_of_set[set_id]
        return tuple(sorted(uses, key=lambda run_id: self._plan.run[run_id].set_up_start_tau))

    def reclaim_block(self, run_id: str) -> str | None:
        """The block of the reclaim after a planned run, if there is one."""
        return next((one.block_id for one in self._plan.reclaims if one.after_run_id == run_id), None)


def _of_run(kind: str, planned: PlannedRun) -> int | None:
    """What the plan says of a time of a run; None for one that follows from the others."""
    if kind in BURN_TIMES:
        return BURN_TIMES[kind](planned.burn) if planned.burn is not None else 0
    return RUN_TIMES[kind](planned) if kind in RUN_TIMES else None

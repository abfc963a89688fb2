"""Tools to make solver variables: times, literals, moments in cells, work off the presses."""

from __future__ import annotations

from collections.abc import Callable

from ortools.sat.python import cp_model

from scheduler.domain.calendars import Calendar
from scheduler.domain.week import Week
from scheduler.model.cells import OpenCells, open_cells
from scheduler.model.keeping import KeepableInks
from scheduler.model.scope import Scope
from scheduler.model.variables import Expr, Literal, Moment, Spot, Work


def never_matters(stop_min: int) -> bool:
    """A stop that only pauses the work."""
    return False


class Maker:
    """Makes variables for one week. always: a literal that is true."""

    def __init__(self, model: cp_model.CpModel, week: Week, scope: Scope, always: Literal) -> None:
        """Note what is to be made, and how much of it is open."""
        self.model, self.week, self.scope, self.always = model, week, scope, always
        self.keepable = KeepableInks(week, scope)
        self._cells: dict[tuple[str, object], OpenCells] = {}

    def is_started(self, run_id: str) -> bool:
        """True for a run that was on its press when planning began."""
        fixing = self.week.fixing.get(run_id)
        return fixing is not None and fixing.kind == "started"

    def literal(self, name: str) -> Literal:
        """A new true-or-false."""
        return self.model.new_bool_var(name)

    def tau(self, kind: str, owner_id: str, *, may_be_absent: bool = False) -> cp_model.IntVar:
        """A new shop minute, within what the scope leaves open; 0 for what does not happen."""
        first, last = self.scope.span(kind, owner_id)
        return self.model.new_int_var(0 if may_be_absent else first, last, f"{kind}[{owner_id}]")

    def length(self, kind: str, owner_id: str) -> cp_model.IntVar:
        """A new length of an interval, in shop minutes."""
        return self.model.new_int_var(0, 2 * self.week.horizon_tau, f"{kind}_length[{owner_id}]")

    def moment(
        self, name: str, hours: OpenCells, happens: Literal, span_tau: tuple[int, int], *, is_end: bool
    ) -> Moment:
        """One literal per cell: starts lie in [a, b), ends in (a, b]."""
        shift = 1 if is_end else 0
        possible = []
        for cell in hours.cells:
            first = max(cell.start_tau + shift, span_tau[0])
            last = min(cell.end_tau - 1 + shift, span_tau[1])
            if first <= last:
                possible.append((cell, first, last))
        spots = tuple(
            Spot(
                cell=cell,
                first_tau=first,
                last_tau=last,
                literal=happens if len(possible) == 1 else self.literal(f"{name}@{cell.start_tau}"),
            )
            for cell, first, last in possible
        )
        return Moment(spots)

    def hours(
        self,
        name: str,
        calendar: Calendar,
        matters: Callable[[int], bool] = never_matters,
        *,
        key: object = None,
        split_at: frozenset[int] = frozenset(),
    ) -> OpenCells:
        """Cells of a calendar, made once for all that use it in the same way (`name` and `key` tell)."""
        if (name, key) not in self._cells:
            self._cells[name, key] = open_cells(
                calendar, matters=matters, offered=self.scope.offered, bought=self.scope.bought, split_at=split_at
            )
        return self._cells[name, key]

    def work(self, kind: str, owner_id: str, hours: OpenCells, work_min: int, happens: Literal) -> Work:
        """Work off the presses; of 0 minutes, it ends where it starts."""
        optional = happens is not self.always
        names = f"{kind}_start", f"{kind}_end"
        start = self.tau(names[0], owner_id, may_be_absent=optional)
        began = self.moment(
            f"{names[0]}[{owner_id}]", hours, happens, self.scope.span(names[0], owner_id), is_end=False
        )
        end, ended, length = start, began, self.model.new_constant(0)
        if work_min:
            end = self.tau(names[1], owner_id, may_be_absent=optional)
            ended = self.moment(
                f"{names[1]}[{owner_id}]", hours, happens, self.scope.span(names[1], owner_id), is_end=True
            )
            length = self.length(kind, owner_id)
        return Work(
            kind=kind,
            owner_id=owner_id,
            hours=hours,
            work_min=work_min,
            happens=happens,
            start=start,
            end=end,
            began=began,
            ended=ended,
            interval=self.model.new_optional_interval_var(start, length, end, happens, f"{kind}[{owner_id}]"),
        )

    def amount(self, name: str, most: int) -> Expr:
        """A new whole number in [0, most]."""
        return self.model.new_int_var(0, most, name)

"""A mixed-integer programme put together row by row, and the lower bound that its solver proves.

Only the proven bound ever leaves this room: it holds wherever the solver is stopped, however poor its answers are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from math import ceil, floor, isfinite
from queue import SimpleQueue
from threading import Thread

import numpy as np
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

Row = Mapping[int, float]
"""Factors by variable number."""

Way = tuple[int, int, int]
"""From a place to a place, and the number of the variable that says whether this way is gone; from a place to itself:
the round leaves it out."""
LITTLE = 1e-6
"""So close to a whole number is that number."""
TRUST = 2e-6
"""The solver keeps its rows to a millionth; so much of all money in play is not counted on."""


@dataclass(slots=True)
class Programme:
    """Least costs x, so that every row keeps its limits; whole where asked for."""

    costs: list[float] = field(default_factory=list)
    least: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    is_whole: list[bool] = field(default_factory=list)
    constant_cents: float = 0.0
    rows: list[Row] = field(default_factory=list)
    from_limits: list[float] = field(default_factory=list)
    to_limits: list[float] = field(default_factory=list)
    rounds: list[tuple[Way, ...]] = field(default_factory=list)
    """Ways that are gone, or not: those gone make one round trip. Only `learned_bounds` looks at them."""

    def variable(self, cents: float = 0.0, *, least: float = 0.0, most: float = 1.0, is_whole: bool = False) -> int:
        """The number of a new variable that costs `cents` a unit."""
        self.costs.append(cents)
        self.least.append(least)
        self.most.append(most)
        self.is_whole.append(is_whole)
        return len(self.costs) - 1

    def at_most(self, row: Row, limit: float, *, least: float = -np.inf) -> None:
        """Demand that the sum of factor x variable lies from `least` to `limit`."""
        if row:
            self.rows.append(row)
            self.from_limits.append(least)
            self.to_limits.append(limit)

    def bound_cents(self, *, seconds: float | None = None, in_part: bool = False) -> int | None:
        """Whole cents that no solution undercuts; None if the solver proved nothing.

        in_part: what should be whole may be had in part, which is solved much sooner and proves a little less.
        seconds: wall time at most. Every plan costs whole cents, so the first whole cent above what is proven (less a
        little that is not trusted) holds.
        """
        limits: dict[str, float] = {}
        if seconds is not None:
            limits["time_limit"] = max(0.01, seconds)
        found = milp(
            c=np.array(self.costs, dtype=float),
            constraints=LinearConstraint(self._matrix(), np.array(self.from_limits), np.array(self.to_limits)),
            integrality=np.array(self.is_whole, dtype=int) * (not in_part),
            bounds=Bounds(np.array(self.least, dtype=float), np.array(self.most, dtype=float)),
            options=limits,
        )
        # Without anything whole there is no tree; then only a finished solution proves anything.
        has_tree = any(self.is_whole) and not in_part
        proven: float | None = found.mip_dual_bound if has_tree else found.fun if found.status == 0 else None
        if proven is None or not isfinite(proven):
            return None
        spare = 0.01 + TRUST * sum(abs(cost) * most for cost, most in zip(self.costs, self.most, strict=True))
        return ceil(float(proven) + self.constant_cents - spare)

    def learned_bounds(self, *, seconds: float | None = None, counted_s: float | None = None) -> Iterator[int]:
        """Better and better whole cents that no solution undercuts, where everything is whole.

        The solver learns which variables cannot be one together. seconds: wall time at most. counted_s: work by its
        own count, for where nothing may read the clock. Factors that are not whole are rounded so that more is allowed.
        """
        told: SimpleQueue[float | None] = SimpleQueue()
        Thread(target=self._learn, args=(seconds, counted_s, told.put), daemon=True).start()
        best = 0
        while (proven := told.get()) is not None:
            cents = ceil(proven - LITTLE) + floor(self.constant_cents + LITTLE)
            if cents > best:
                best = cents
                yield best

    def _learn(self, seconds: float | None, counted_s: float | None, tell: Callable[[float | None], None]) -> None:
        """Tell of each better bound, the constant left out; None at the end."""
        try:
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.linearization_level = 2
            if seconds is not None:
                solver.parameters.max_time_in_seconds = seconds
            if counted_s is not None:
                solver.parameters.max_deterministic_time = counted_s
            solver.best_bound_callback = tell
            # Stopped before it had any solution, the solver calls its bound 0, which it has not proven.
            if solver.solve(self._in_whole_numbers()) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                tell(solver.best_objective_bound)
        finally:
            tell(None)

    def _in_whole_numbers(self) -> cp_model.CpModel:
        model = cp_model.CpModel()
        variables = [
            model.new_int_var(ceil(least - LITTLE), floor(most + LITTLE), "")
            for least, most in zip(self.least, self.most, strict=True)
        ]
        for row, least, most in zip(self.rows, self.from_limits, self.to_limits, strict=True):
            factors = [floor(factor + LITTLE) for factor in row.values()]
            whole = cp_model.LinearExpr.weighted_sum([variables[number] for number in row], factors)
            model.add(whole <= floor(most + LITTLE))
            if isfinite(least):
                model.add(whole >= ceil(least - LITTLE))
        for ways in self.rounds:
            places = {place: at for at, place in enumerate(sorted({one for way in ways for one in way[:2]}))}
            model.add_circuit([(places[begin], places[end], variables[gone]) for begin, end, gone in ways])
        cents = [floor(cost + LITTLE) for cost in self.costs]
        model.minimize(cp_model.LinearExpr.weighted_sum(variables, cents))
        return model

    def _matrix(self) -> csr_array:
        starts = [0]
        columns: list[int] = []
        factors: list[float] = []
        for row in self.rows:
            columns.extend(row.keys())
            factors.extend(row.values())
            starts.append(len(columns))
        return csr_array((factors, columns, starts), shape=(len(self.rows), len(self.costs)))

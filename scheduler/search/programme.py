"""A mixed-integer programme put together row by row, and the lower bound that its solver proves.

Only the proven bound ever leaves this room: it holds wherever the solver is stopped, however poor its answers are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, isfinite

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

Row = Mapping[int, float]
"""Factors by variable number."""

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

    def bound_cents(
        self, *, seconds: float | None = None, nodes: int | None = None, in_part: bool = False
    ) -> int | None:
        """Whole cents that no solution undercuts; None if the solver proved nothing.

        in_part: what should be whole may be had in part, which is solved much sooner and proves a little less.
        seconds: wall time at most. nodes: branches at most, for where nothing may read the clock. Every plan costs
        whole cents, so the first whole cent above what is proven (less a little that is not trusted) holds.
        """
        limits: dict[str, float] = {}
        if seconds is not None:
            limits["time_limit"] = max(0.01, seconds)
        if nodes is not None:
            limits["node_limit"] = nodes
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

    def _matrix(self) -> csr_array:
        starts = [0]
        columns: list[int] = []
        factors: list[float] = []
        for row in self.rows:
            columns.extend(row.keys())
            factors.extend(row.values())
            starts.append(len(columns))
        return csr_array((factors, columns, starts), shape=(len(self.rows), len(self.costs)))

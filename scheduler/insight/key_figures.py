"""Key figures of a press after ISO 22400-2, and Little's law between orders, their time in the shop and their rate.

Names and formulas of ISO 22400-2 (key performance indicators for manufacturing operations management) are given as
two public listings tell them (the hsu-aut ontology of the standard, and a second listing); the standard was not read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkUnitTimes:
    """Minutes of one press. planned_min: open (planned busy time, PBT). print_min: actual production time, APT.
    set_up_min: actual unit set-up time, AUST. delay_min: actual unit delay time, ADET: waiting for something.
    """

    planned_min: int
    print_min: int
    set_up_min: int
    delay_min: int

    @property
    def processing_min(self) -> int:
        """Actual unit processing time, AUPT = APT + AUST."""
        return self.print_min + self.set_up_min

    @property
    def busy_min(self) -> int:
        """Actual unit busy time, AUBT = AUPT + ADET."""
        return self.processing_min + self.delay_min

    @property
    def allocation(self) -> float:
        """Allocation efficiency = AUBT / PBT: how much of the open time the press has something on it."""
        return _share(self.busy_min, self.planned_min)

    @property
    def utilization(self) -> float:
        """Utilization efficiency = APT / AUBT: how much of that is printing."""
        return _share(self.print_min, self.busy_min)

    @property
    def availability(self) -> float:
        """Availability = APT / PBT = allocation x utilization."""
        return _share(self.print_min, self.planned_min)

    @property
    def set_up_share(self) -> float:
        """Set-up ratio = AUST / AUPT: how much of the work is setting up."""
        return _share(self.set_up_min, self.processing_min)

    @property
    def technical(self) -> float:
        """Technical efficiency = APT / (APT + ADET): printing against waiting."""
        return _share(self.print_min, self.print_min + self.delay_min)


def _share(part: int, whole: int) -> float:
    return part / whole if whole else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """Orders through the shop over [0, until): mean number there, arrivals per minute, mean minutes in the shop."""

    mean_there: Fraction
    per_min: Fraction
    mean_min: Fraction


def flow(spans: Sequence[tuple[int, int]], until: int) -> Flow:
    """Little's law, L = lambda x W, as counted: exact for every record that starts and ends empty.

    spans: (comes in, leaves) of each order, all within [0, until]. Raises ValueError for an order that leaves before
    it comes, or later than `until`. J. D. C. Little, A proof for the queuing formula L = lambda W, 1961.
    """
    if until <= 0 or any(not 0 <= start <= end <= until for start, end in spans):
        raise ValueError("every order comes in and leaves within the record")
    total = sum(end - start for start, end in spans)
    return Flow(
        mean_there=Fraction(_area(spans), until),
        per_min=Fraction(len(spans), until),
        mean_min=Fraction(total, len(spans)) if spans else Fraction(0),
    )


def _area(spans: Sequence[tuple[int, int]]) -> int:
    """Minutes times orders there, swept over the record from one coming or going to the next."""
    changes: dict[int, int] = {}
    for start, end in spans:
        changes[start] = changes.get(start, 0) + 1
        changes[end] = changes.get(end, 0) - 1
    area = there = last = 0
    for at in sorted(changes):
        area += there * (at - last)
        there, last = there + changes[at], at
    return area

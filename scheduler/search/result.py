"""What a search hands back: the plan, what it costs, how good it is proven to be, and how the search went."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal, Protocol

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week

Status = Literal["proven", "found", "none"]
"""proven: no valid plan is cheaper. found: a valid plan. none: no plan; `SearchResult.reason` says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TracePoint:
    """When a better plan was found. seconds is None where work is counted instead of timed."""

    seconds: float | None
    genomes: int
    cost_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Baseline:
    """The due-date list, timed by the same rules. plan None: the list makes no plan at all."""

    plan: Plan | None
    cost_cents: int
    terms: dict[str, int]


@dataclass(frozen=True, kw_only=True)
class SearchResult:
    """The outcome of one search.

    terms: cents per cost term, they sum to cost_cents. lower_bound_cents: no valid plan costs less. Seconds are None
    where work is counted instead of timed. reason and run_ids: why there is no plan, and the runs concerned. told: a
    sentence where something kept the search from looking as closely as it was asked to.
    """

    status: Status
    plan: Plan | None
    cost_cents: int = 0
    terms: dict[str, int] = field(default_factory=dict)
    lower_bound_cents: int = 0
    first_plan_seconds: float | None = None
    wall_seconds: float | None = None
    genomes: int = 0
    baseline: Baseline | None = None
    rule: str = ""
    trace: tuple[TracePoint, ...] = ()
    reason: str = ""
    run_ids: tuple[str, ...] = ()
    told: str = ""
    seed: int = 1

    @property
    def gap(self) -> float:
        """Share of the cost that is not proven to be needed; 0 if proven best or free of cost."""
        return (self.cost_cents - self.lower_bound_cents) / self.cost_cents if self.cost_cents else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What a search knows right now. phase: "first plans", "looking around", "proving" or
    "looking on".
    """

    phase: str
    seconds: float | None
    genomes: int
    cost_cents: int
    lower_bound_cents: int
    plan: Plan


OnProgress = Callable[[Progress], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Improved:
    """What an improver found. plan None: nothing better than what it was given. is_proven: nothing is cheaper than
    the better of both plans. lost: what befell it, if it was ended from outside.
    """

    plan: Plan | None
    lower_bound_cents: int = 0
    is_proven: bool = False
    lost: str = ""


class Improver(Protocol):
    """Polishes a plan by another method, e.g. exact windows, and may prove it."""

    def __call__(
        self,
        week: Week,
        plan: Plan,
        *,
        cost_cents: int,
        lower_bound_cents: int,
        settings: SearchSettings,
        seconds: float | None,
        on_better: Callable[[Plan], None],
        on_bound: Callable[[int], None],
        stop: Stop,
    ) -> Improved:
        """Look for plans cheaper than `cost_cents` for `seconds` (None: count work by `settings.iterations`).

        on_better hears of each better plan, on_bound of cents that no plan can be cheaper than.
        """

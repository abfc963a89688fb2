"""The best plan of a search while it goes on: what it costs, how it came, and who is told of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.genome import Genes
from scheduler.search.local import Best
from scheduler.search.pricing import price
from scheduler.search.result import OnProgress, Progress, TracePoint

TELL_EVERY_S = 0.2
"""Least seconds between two better plans of the walk that are told."""


@dataclass(slots=True, eq=False)
class BestSoFar:
    """Keeps the cheapest plan met and tells of better ones.

    seconds: wall seconds since the search began; None where work is counted. bound_cents: no valid plan costs less.
    genomes: tried so far. genes: what makes the best plan where a walk found it; None where something else did.
    """

    week: Week
    on_progress: OnProgress | None
    seconds: Callable[[], float | None]
    phase: str = "first plans"
    has_plan: bool = False
    cost_cents: int = 0
    bound_cents: int = 0
    genomes: int = 0
    genes: Genes | None = None
    trace: list[TracePoint] = field(default_factory=list)
    _made: Plan | Best | None = None
    _untold: bool = False
    _told_s: float = 0.0

    @property
    def plan(self) -> Plan | None:
        """The best plan. The walk only counts what a plan costs; it is made when somebody asks for it."""
        if isinstance(self._made, Best):
            self._made = self._made.decoded.plan
        return self._made

    def keep(self, best: Best) -> None:
        """Keep a walk's plan if it is cheaper; while looking around also one that costs the same."""
        cents = best.decoded.cost_cents
        if not self.has_plan or cents < self.cost_cents + (self.phase == "looking around"):
            self._note(best, cents)

    def keep_plan(self, plan: Plan, *, is_last: bool = False) -> None:
        """Keep a cheaper plan; the last one also where it costs the same."""
        cost_cents = sum(price(self.week, plan).values())
        if cost_cents < self.cost_cents:
            self._note(plan, cost_cents)
        elif is_last and cost_cents == self.cost_cents:
            self._made, self.genes = plan, None

    def hear_bound(self, bound_cents: int) -> None:
        """Take a bound that is higher."""
        self.bound_cents = max(self.bound_cents, bound_cents)

    def count(self, genomes: int) -> None:
        """So many more genomes were tried."""
        self.genomes += genomes

    def tell(self) -> None:
        """Tell whoever watches of the best plan, if that is news."""
        if not self._untold or self.on_progress is None:
            return
        plan, seconds = self.plan, self.seconds()
        assert plan is not None
        self._untold, self._told_s = False, seconds or 0.0
        self.on_progress(
            Progress(
                phase=self.phase,
                seconds=seconds,
                genomes=self.genomes,
                cost_cents=self.cost_cents,
                lower_bound_cents=min(self.bound_cents, self.cost_cents),
                plan=plan,
            )
        )

    def _note(self, made: Plan | Best, cost_cents: int) -> None:
        seconds = self.seconds()
        if not self.has_plan or cost_cents < self.cost_cents:
            self.trace.append(TracePoint(seconds=seconds, genomes=self.genomes, cost_cents=cost_cents))
        self._made, self.cost_cents, self.has_plan, self._untold = made, cost_cents, True, True
        self.genes = made.genes if isinstance(made, Best) else None
        # A plan found by the walk still has to be made; telling of every one would take longer than finding them.
        if seconds is None or isinstance(made, Plan) or seconds - self._told_s >= TELL_EVERY_S:
            self.tell()

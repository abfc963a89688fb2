"""An improver at work beside the search: what it finds is heard as it comes, and the search goes on meanwhile."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from queue import Empty, SimpleQueue

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.result import Improved, Improver, Stop


@dataclass(slots=True, eq=False)
class ImprovingBeside:
    """Runs an improver in a thread; it is meant for one whose work is done by another process.

    bound_cents: what it has proven so far. improved: its outcome, None while it is at work.
    """

    improver: Improver
    bound_cents: int = 0
    improved: Improved | None = None
    _plans: SimpleQueue[Plan] = field(default_factory=SimpleQueue)
    _over: threading.Event = field(default_factory=threading.Event)
    _failed: BaseException | None = None
    _thread: threading.Thread | None = None

    def start(self, week: Week, plan: Plan, cost_cents: int, settings: SearchSettings, seconds: float) -> None:
        """Set it to work on a plan for so many seconds."""
        self._thread = threading.Thread(
            target=self._work, args=(week, plan, cost_cents, settings, seconds), daemon=True, name="improver"
        )
        self._thread.start()

    @property
    def is_at_work(self) -> bool:
        """True until it has told its outcome or failed."""
        return self._thread is not None and self._thread.is_alive()

    def plans(self) -> list[Plan]:
        """Better plans it has found since last asked."""
        found = []
        while True:
            try:
                found.append(self._plans.get_nowait())
            except Empty:
                return found

    def end(self) -> Improved:
        """Ask it to stop and wait for its outcome. Raises what went wrong in it."""
        self._over.set()
        if self._thread is not None:
            self._thread.join()
        if self._failed is not None:
            raise self._failed
        return self.improved or Improved(plan=None)

    def _work(self, week: Week, plan: Plan, cost_cents: int, settings: SearchSettings, seconds: float) -> None:
        stop: Stop = self._over.is_set
        try:
            self.improved = self.improver(
                week,
                plan,
                cost_cents=cost_cents,
                lower_bound_cents=self.bound_cents,
                settings=settings,
                seconds=seconds,
                on_better=self._plans.put,
                on_bound=self._hear_bound,
                stop=stop,
            )
        except BaseException as failed:
            self._failed = failed

    def _hear_bound(self, bound_cents: int) -> None:
        self.bound_cents = max(self.bound_cents, bound_cents)

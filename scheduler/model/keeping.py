"""Which inks can ever stand by on a press beside a run: the only ones the model needs a decision for."""

from __future__ import annotations

from scheduler.domain.week import Week
from scheduler.model.scope import LineUp, Scope
from scheduler.trade.set_up import live_inks


class KeepableInks:
    """Inks that may be kept, press by press."""

    def __init__(self, week: Week, scope: Scope) -> None:
        """Look at every queue that is open."""
        self._beside: dict[tuple[str, str], tuple[str, ...]] = {}
        self._before: dict[tuple[str, str], tuple[str, ...]] = {}
        for press in week.presses:
            self._look_at(week, scope.line_up(press.press_id))

    def beside(self, run_id: str, press_id: str) -> tuple[str, ...]:
        """Inks that may stand by while this run is on this press."""
        return self._beside.get((run_id, press_id), ())

    def before(self, run_id: str, press_id: str) -> tuple[str, ...]:
        """Inks that may have stood by beside the run before this one."""
        return self._before.get((run_id, press_id), ())

    def _look_at(self, week: Week, line: LineUp) -> None:
        press_id, queue = line.press_id, line.runs
        stacks = {run_id: week.run[run_id].on_press[press_id].stack for run_id in queue}
        at_start = live_inks(line.stands, week.ink) | line.kept
        heads = week.press[press_id].head_count
        for run_id, stack in stacks.items():
            others = (live_inks(other, week.ink) for other_id, other in stacks.items() if other_id != run_id)
            around = at_start.union(*others)
            wanted = {head.ink_id for head in stack.heads}
            has_room = week.run[run_id].on_press[press_id].heads_needed < heads
            self._beside[run_id, press_id] = tuple(sorted(around - wanted)) if has_room else ()
        for run_id in queue:
            kept = (self._beside[other, press_id] for other in queue if other != run_id)
            self._before[run_id, press_id] = tuple(sorted(line.kept.union(*kept)))

"""Which runs print from a screen set, in which order, and what was reclaimed between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import Burn, Plan, PlannedRun, Reclaim
from scheduler.domain.week import ScreenSet, Week
from scheduler.review.press_rules import is_started


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """One run printing from a set; `reclaims` are the reclaims of the set after the use just before."""

    planned: PlannedRun
    screens: ScreenSet
    is_first: bool
    reclaims: tuple[Reclaim, ...]


def uses_in_order(week: Week, plan: Plan) -> dict[str, list[PlannedRun]]:
    """The planned runs of each known set in the order they are set up."""
    found: dict[str, list[PlannedRun]] = {}
    for planned in sorted(plan.runs, key=lambda one: (one.set_up_start_tau, one.print_end_tau, one.run_id)):
        run = week.run.get(planned.run_id)
        if run is not None and run.set_id in week.screen_set:
            found.setdefault(run.set_id, []).append(planned)
    return found


def all_uses(week: Week, plan: Plan) -> Iterator[Use]:
    """Every use of every known set."""
    for set_id, queue in uses_in_order(week, plan).items():
        before: PlannedRun | None = None
        for planned in queue:
            reclaims = tuple(
                one
                for one in plan.reclaims
                if before is not None and one.set_id == set_id and one.after_run_id == before.run_id
            )
            yield Use(planned=planned, screens=week.screen_set[set_id], is_first=before is None, reclaims=reclaims)
            before = planned


def needs_burn(week: Week, use: Use) -> bool:
    """A set is burned for its first use unless it hangs ready or the run has started, and again after a reclaim."""
    if week.screen_room is None or not use.screens.screen_count:
        return False
    if use.is_first:
        return not (use.screens.is_burned_now or is_started(week, use.planned.run_id))
    return bool(use.reclaims)


def burns(week: Week, plan: Plan) -> list[tuple[PlannedRun, ScreenSet, Burn]]:
    """Every burn of a known set."""
    return [
        (use.planned, use.screens, use.planned.burn) for use in all_uses(week, plan) if use.planned.burn is not None
    ]

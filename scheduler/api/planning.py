"""Plans made, checked, kept and set beside one another; every one that leaves has been checked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.api.weeks import build_workload
from scheduler.domain.orders import WeekInputs
from scheduler.domain.own_order import OwnOrder
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.errors import SolverError

if TYPE_CHECKING:
    from scheduler.inputs.plan_document import PlanFacts
    from scheduler.papers.chase_list import ChaseRow
    from scheduler.papers.text import Section
    from scheduler.papers.yours_and_ours import YoursAndOurs
    from scheduler.record.drift import Drift, PressDrift
    from scheduler.record.events import Event
    from scheduler.record.standing import StandsNow
    from scheduler.review.compare import Comparison
    from scheduler.review.measures import Measures
    from scheduler.review.violation import Violation
    from scheduler.search.genome import Genome
    from scheduler.search.result import Progress, SearchResult
    from scheduler.workload.build import Workload


def plan_week(
    workload: Workload,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SearchResult:
    """A checked plan for the week, or why there is none (`result.plan` is None).

    on_progress hears of better plans; when stop says True, the best plan so far comes back. Raises SolverError if a
    plan of ours breaks a rule: our fault.
    """
    return _searched(workload.week, settings, on_progress, stop, None)


def plan_on(
    stands: StandsNow,
    plan: Plan,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> SearchResult:
    """A checked plan from now on, never dearer than keeping the announced one; nothing that has started moves.

    Progress and faults as `plan_week`.
    """
    from scheduler.record.kept import kept

    held = kept(stands.week, plan)
    return _searched(stands.week, settings, on_progress, stop, held[0] if held is not None else None)


def _searched(
    week: Week,
    settings: SearchSettings,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
    standing: Genome | None,
) -> SearchResult:
    from scheduler.search.engine import plan_week as search
    from scheduler.search.proof import exact

    result = search(week, settings, on_progress, stop, exact, standing)
    if result.plan is not None:
        broken = check(week, result.plan)
        if broken:
            told = "\n".join(f"  {one.rule}: {one.message}" for one in broken)
            raise SolverError(f"a plan of ours breaks {len(broken)} rules:\n{told}")
    return result


def check(week: Week, plan: Plan) -> tuple[Violation, ...]:
    """Every rule the plan breaks, in every place; empty for a plan that can be kept."""
    from scheduler.review.rules import check as find_broken_rules

    return find_broken_rules(week, plan)


def rule_count() -> int:
    """How many rules a plan is checked against."""
    from scheduler.review.rules import RULES

    return len(RULES)


def measure(week: Week, plan: Plan) -> Measures:
    """What a plan costs and how it stands, recomputed from the plan alone."""
    from scheduler.review.measures import measure as measured

    return measured(week, plan)


def compare(week: Week, old: Plan, new: Plan, *, new_week: Week | None = None) -> Comparison:
    """One plan beside another, which may belong to another week: what it costs more, who is late now, what moved."""
    from scheduler.review.compare import compare as beside

    return beside(week, old, new, week_b=new_week)


def time_as_listed(inputs: WeekInputs, workload: Workload, own: OwnOrder, result: SearchResult) -> YoursAndOurs:
    """The planner's own sequence timed under every rule, beside the plan a search found; both checked.

    Where the search found nothing cheaper, the planner's plan stands on both sides.
    """
    from scheduler.questions import time_as_listed as timed

    return timed(inputs, workload.week, own, result)


def pencil_in(
    inputs: WeekInputs, week: Week, plan: Plan, *, seconds: float | None = None, stop: Callable[[], bool] | None = None
) -> Plan:
    """The plan with every order that waits for art or garments pencilled in, as late as keeps its date; checked.

    Nothing of the plan moves. seconds: for all of them; None for however long it takes.
    """
    from scheduler.questions import pencil_in as pencilled

    return pencilled(inputs, week, plan, seconds=seconds, stop=stop)


def joint_week(inputs: WeekInputs, week: Week, plan: Plan) -> Week:
    """The week that knows the plan's pencilled orders too; the week itself where there are none."""
    from scheduler.questions import joint_week as joint

    return joint(inputs, week, plan)


def chase_list(inputs: WeekInputs, week: Week, plan: Plan) -> tuple[ChaseRow, ...]:
    """Whom to ring about what is missing, by when (as pencilling in has found), and what it holds up."""
    from scheduler.questions import chase_list as chased

    return chased(inputs, week, plan)


def read_plan(path: Path, week: Week) -> tuple[Plan, PlanFacts]:
    """The plan in a plan file and what the file says about it. Raises InputError with every fault of the file."""
    from scheduler.inputs.plan_files import read_plan as read

    return read(path, week)


def other_inputs(facts: PlanFacts, week: Week) -> str | None:
    """One sentence where a plan file was made from other inputs than this week's."""
    from scheduler.inputs.plan_files import other_inputs as differs

    return differs(facts, week)


def plan_facts(week: Week, result: SearchResult, currency: str = "") -> PlanFacts:
    """What a plan file says about a search's plan."""
    from scheduler.inputs.plan_document import PlanFacts

    return PlanFacts(
        digest=week.digest,
        status=result.status,
        seed=result.seed,
        currency=currency,
        cost_cents=result.cost_cents,
        cost_terms=tuple(result.terms.items()),
        lower_bound_cents=result.lower_bound_cents,
    )


def standing_plan(path: Path | None, week: Path, inputs: WeekInputs) -> Plan | None:
    """The plan in a plan file, or the week's announced plan if it is one of all its runs; None without either.

    Raises InputError with every fault of a file that was named.
    """
    asked = build_workload(inputs).week
    if path is not None:
        return read_plan(path, asked)[0]
    announced = week / "announced.json"
    if not announced.is_file():
        return None
    found = read_plan(announced, asked)[0]
    return found if found.run.keys() == asked.run.keys() and not check(asked, found) else None


def plans_before(week: Path, inputs: WeekInputs) -> tuple[Plan, ...]:
    """The plans that stood before what was taken, the last first, as far as they can be read."""
    from scheduler.what_if.taking import kept_plans

    return kept_plans(week, build_workload(inputs).week)


def planned_week(inputs: WeekInputs) -> Workload:
    """The week as plans of it are made: what was announced and cannot stay where it is may move."""
    from scheduler.record.standing import planned_week as planned

    return planned(inputs)


def stands_now(inputs: WeekInputs, week: Week, plan: Plan, events: Sequence[Event], now: datetime) -> StandsNow:
    """A week as it stands after what was noted since a plan of it was announced: what is done is gone, what has started
    goes on with what is left. Raises InputError where it cannot be planned any more.
    """
    from scheduler.record.standing import stands_now as stands

    return stands(inputs, week, plan, events, now)


def drift(stands: StandsNow, week: Week, plan: Plan) -> Drift:
    """How far the floor is from an announced plan of `week`, and which orders that endangers."""
    from scheduler.record.drift import drift as drifted

    return drifted(stands, week, plan)


def press_words(one: PressDrift) -> str:
    """How far a press is ahead or behind, in words."""
    from scheduler.record.drift import press_words as told

    return told(one)


def drift_report(found: Drift) -> tuple[str, tuple[Section, ...]]:
    """Where the floor stands in one sentence, and press by press, order by order."""
    from scheduler.record.drift import opening, sections

    return opening(found), sections(found)

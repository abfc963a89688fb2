"""The plan as it stands, and a week re-planned from it: what has begun stays, what was announced costs to move."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from zoneinfo import ZoneInfo

from scheduler.domain.answers import Standing
from scheduler.domain.orders import Announced, WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Run, Week
from scheduler.domain.what_if import PrintChanged, WhatIf
from scheduler.errors import InputError, Problem
from scheduler.review.rules import check
from scheduler.search.clash import with_announced_loosened, without_clashes
from scheduler.what_if.applying import begun_problems, edited, resolved
from scheduler.what_if.past import stock_at
from scheduler.workload.build import build_workload

PLANS_KEPT = 4
"""Plans whose weeks are remembered between two what-ifs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A what-if ready to be planned.

    week: with the what-if in it, and nothing that has not begun can begin before now. resolved: what torn screens and
    missing inks came to.
    """

    standing: Standing
    week: Week
    resolved: tuple[PrintChanged, ...] = ()
    order_ids: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


def question(inputs: WeekInputs, plan: Plan, what_ifs: Iterable[WhatIf], now: datetime | None = None) -> Question:
    """The question a what-if asks of a plan of these inputs. now None: the planning moment.

    Raises InputError where the plan is not one of these inputs, or a what-if cannot be meant.
    """
    asked = tuple(what_ifs)
    moment = _aware(now or inputs.shop.plan_from, inputs)
    week, standing = _as_it_stands(inputs, plan, moment)
    begun = frozenset(
        (run.order_id, run.location) for run in week.runs if plan.run[run.run_id].set_up_start_tau < standing.now_tau
    )
    problems = begun_problems(inputs, asked, begun)
    if problems:
        raise InputError(tuple(problems))
    prints = resolved(inputs, week, asked, begun)
    with_all = edited(inputs, (*asked, *prints))
    changed = _announced_week(with_all.inputs, week, plan, moment) if asked else standing.week
    return Question(
        standing=standing,
        week=_from_now_on(changed, standing, moment),
        resolved=prints,
        order_ids=with_all.order_ids,
        told=with_all.told,
    )


@lru_cache(maxsize=PLANS_KEPT)
def _as_it_stands(inputs: WeekInputs, plan: Plan, now: datetime) -> tuple[Week, Standing]:
    """The week as typed, and the same with the plan announced: what-ifs are asked of one plan again and again."""
    week = _built(inputs)
    _refuse_other_plan(week, plan)
    announced = _announced_week(inputs, week, plan, now)
    return week, Standing(week=announced, plan=plan, now_tau=week.clock.tau_of(now))


def _built(inputs: WeekInputs) -> Week:
    return without_clashes(build_workload(inputs).week)


def _aware(moment: datetime, inputs: WeekInputs) -> datetime:
    return moment.replace(tzinfo=ZoneInfo(inputs.shop.zone)) if moment.tzinfo is None else moment


def _refuse_other_plan(week: Week, plan: Plan) -> None:
    """The plan must be one of this week: every run once, every rule kept."""
    strange = sorted(set(plan.run) ^ set(week.run))
    broken = [] if strange else check(week, plan)
    if not strange and not broken:
        return
    told = f"{strange[0]} is in one and not in the other" if strange else broken[0].message
    problem = Problem(
        file="plan.json",
        code="other_plan",
        message=f"the plan is not one of this week as it is typed now: {told}",
        hint="plan the week again, with the plan as announced.json in its folder, and name the new plan",
    )
    raise InputError((problem,))


def _announced_week(inputs: WeekInputs, week: Week, plan: Plan, now: datetime) -> Week:
    """The week with every run of the plan announced, and what begins before `now` not to be touched.

    Where such runs cannot all be put to the minute again, the last of them are only announced; an answer that moves
    them is refused later on.
    """
    before = inputs.shop.dont_touch_before
    touched = max(now, _aware(before, inputs)) if before is not None else now
    announced = tuple(
        Announced(run_id=one.run_id, press_id=one.press_id, set_up_at=week.clock.starts_at(one.set_up_start_tau))
        for one in plan.runs
    )
    shop = replace(inputs.shop, dont_touch_before=touched)
    return with_announced_loosened(build_workload(replace(inputs, shop=shop, announced=announced)).week)[0]


def _from_now_on(week: Week, standing: Standing, now: datetime) -> Week:
    """The week in which nothing that is not fixed begins before `now`."""
    now_tau = week.clock.tau_of(now)
    if not now_tau:
        return week
    runs = tuple(_not_before(run, week, standing, now_tau) for run in week.runs)
    return stock_at(replace(week, runs=runs), standing, now_tau)


def _not_before(run: Run, week: Week, standing: Standing, now_tau: int) -> Run:
    """A run as it can be from now on: staged, set up and burned no sooner, but for what the plan has had done before.

    A cart staged earlier stays staged; the plan then shows its minutes right before now. A set burned earlier was not
    burned before its time.
    """
    planned = standing.plan.run.get(run.run_id)
    is_burned = planned is not None and planned.burn is not None and planned.burn.start_tau < now_tau
    if is_burned and planned is not None and planned.burn is not None:
        run = replace(run, art_tau=max(run.art_tau, planned.burn.start_tau))
    if run.run_id in week.fixing and _is_fixed_in_time(week, run.run_id):
        return run
    is_staged = planned is not None and planned.stage_end_tau <= now_tau and planned.stage_start_tau < now_tau
    staged_min = week.staging.minutes if is_staged and week.staging is not None else 0
    return replace(
        run,
        blanks_tau=max(run.blanks_tau, now_tau - staged_min),
        art_tau=run.art_tau if is_burned else max(run.art_tau, now_tau),
    )


def _is_fixed_in_time(week: Week, run_id: str) -> bool:
    return week.fixing[run_id].set_up_start_tau is not None

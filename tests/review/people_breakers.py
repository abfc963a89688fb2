"""Ways to break a rule of people or hours in a good plan: a plan that surely breaks it, or None."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.leads import LEAD
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from tests.review.good_plans import is_open, with_order, with_run, with_runs
from tests.review.picking import Breaker, is_started, pick
from tests.review.screen_breakers import all_burned_like, burned_runs

# people_suffice


def _with_role(week: Week, role: str) -> int:
    return sum(role in person.roles for person in week.people)


def print_more_than_there_are_printers(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every print goes on at the same minute, more than there are people who print."""
    at = rng.choice(plan.runs).print_start_tau
    able = [one for one in plan.runs if is_open(week.press[one.press_id].calendar, plan, at)]
    if len(able) <= _with_role(week, "print"):
        return None
    moved = {one.run_id: replace(one, print_start_tau=at, print_end_tau=at + 1) for one in able}
    return with_runs(plan, tuple(moved.get(one.run_id, one) for one in plan.runs))


def pack_more_than_there_are_packers(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every order is packed at the same minute, more than there are people who pack."""
    if len(plan.orders) <= _with_role(week, "pack"):
        return None
    return replace(plan, orders=tuple(replace(one, finish_start_tau=100, packed_tau=130) for one in plan.orders))


def stage_more_than_there_are_people(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every cart is staged at the same minute, more than there are people who do it."""
    staged = {one.run_id for one in plan.runs if not is_started(week, one)}
    if week.staging is None or not week.staging.minutes or len(staged) <= _with_role(week, "catch"):
        return None
    return with_runs(
        plan,
        tuple(replace(one, stage_start_tau=20, stage_end_tau=25) if one.run_id in staged else one for one in plan.runs),
    )


def burn_more_than_there_are_people(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every set is burned at the same minute, more than there are people in the screen room."""
    burned = burned_runs(plan)
    return all_burned_like(plan, burned) if len(burned) > _with_role(week, "screens") else None


def watch_more_presses_than_leads_may(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every press that asks for a lead prints at the same minute, more than the leads there may watch."""
    at = rng.choice(plan.runs).print_start_tau
    led = {
        one.press_id: one
        for one in plan.runs
        if any(role == LEAD for role, _ in week.press[one.press_id].run_crew)
        and is_open(week.press[one.press_id].calendar, plan, at)
    }
    if len(led) <= week.lead_covers * _with_role(week, LEAD):
        return None
    moved = {one.run_id: replace(one, print_start_tau=at, print_end_tau=at + 1) for one in led.values()}
    return with_runs(plan, tuple(moved.get(one.run_id, one) for one in plan.runs))


def print_while_no_lead_is_there(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A press that asks for a lead prints while every lead is away."""
    found = [
        replace(one, print_start_tau=minute, print_end_tau=minute + 10)
        for one in plan.runs
        if any(role == LEAD for role, _ in week.press[one.press_id].run_crew)
        for minute in range(0, week.horizon_tau, 30)
        if is_open(week.press[one.press_id].calendar, plan, minute)
        and not any(LEAD in who.roles and is_open(who.calendar, plan, minute) for who in week.people)
    ]
    one = pick(rng, found)
    return with_run(plan, one) if one else None


def work_while_everybody_has_lunch(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A press prints while nobody who prints is there."""
    gone = [
        minute
        for minute in range(0, week.horizon_tau, 30)
        if not any("print" in one.roles and is_open(one.calendar, plan, minute) for one in week.people)
    ]
    found = [
        replace(one, print_start_tau=minute, print_end_tau=minute + 10)
        for one in plan.runs
        for minute in gone
        if is_open(week.press[one.press_id].calendar, plan, minute)
    ]
    one = pick(rng, found)
    return with_run(plan, one) if one else None


# inside_open_hours


def _closed_minutes(week: Week, plan: Plan, press_id: str) -> list[int]:
    calendar = week.press[press_id].calendar
    return [minute for minute in range(0, week.horizon_tau, 5) if not is_open(calendar, plan, minute)]


def set_up_in_a_closed_minute(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Set-up starts in a break, or in an evening nobody bought."""
    one = rng.choice(plan.runs)
    at = pick(rng, _closed_minutes(week, plan, one.press_id))
    return with_run(plan, replace(one, set_up_start_tau=at)) if at is not None else None


def print_into_a_closed_minute(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print ends inside a break, or in an evening nobody bought."""
    one = rng.choice(plan.runs)
    at = pick(rng, _closed_minutes(week, plan, one.press_id))
    return with_run(plan, replace(one, print_end_tau=at + 1)) if at is not None else None


def give_the_overtime_back(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Work stands in an evening that is no longer bought."""
    bought = [block for block in week.overtime if block.block_id in plan.overtime]
    worked = any(
        block.start_tau <= minute < block.end_tau
        for block in bought
        for one in plan.runs
        for minute in (one.set_up_start_tau, one.print_start_tau, one.print_end_tau - 1)
    )
    return replace(plan, overtime=()) if worked else None


def leave_the_week(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print lies before the week's first open minute or after its last."""
    one = rng.choice(plan.runs)
    at = rng.choice([-10, week.horizon_tau + 1])
    return with_run(plan, replace(one, print_start_tau=at, print_end_tau=at + 9))


def pack_over_lunch(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Packing starts while the packing table is closed."""
    closed = [minute for minute in range(0, week.horizon_tau, 5) if not is_open(week.finishing.calendar, plan, minute)]
    one = pick(rng, [one for one in plan.orders if one.finish_start_tau != one.packed_tau])
    if one is None or not closed:
        return None
    at = rng.choice(closed)
    return with_order(plan, replace(one, finish_start_tau=at, packed_tau=at + 40))


# overtime_is_nested


def buy_what_is_not_on_offer(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Overtime nobody offers."""
    return replace(plan, overtime=(*plan.overtime, "the Sunday after next"))


def buy_the_second_evening_only(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An evening without the one it follows."""
    block = pick(rng, [block for block in week.overtime if block.after_id is not None])
    return replace(plan, overtime=(block.block_id,)) if block else None


def buy_an_evening_twice(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The same evening two times."""
    block = pick(rng, week.overtime)
    return replace(plan, overtime=(*plan.overtime, block.block_id, block.block_id)) if block else None


PEOPLE_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "people_suffice": (
        print_more_than_there_are_printers,
        pack_more_than_there_are_packers,
        stage_more_than_there_are_people,
        burn_more_than_there_are_people,
        watch_more_presses_than_leads_may,
        print_while_no_lead_is_there,
        work_while_everybody_has_lunch,
    ),
    "inside_open_hours": (
        set_up_in_a_closed_minute,
        print_into_a_closed_minute,
        give_the_overtime_back,
        leave_the_week,
        pack_over_lunch,
    ),
    "overtime_is_nested": (buy_what_is_not_on_offer, buy_the_second_evening_only, buy_an_evening_twice),
}

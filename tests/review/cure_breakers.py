"""Ways to break a rule of drying inks, flashes and dryers. Each gives a plan that breaks it for certain, or None."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from tests.review.good_plans import is_open, with_run
from tests.review.picking import Breaker, choice_of, pick

# ink_may_not_stand


def let_drying_ink_stand(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Set up in the last minute before a stop that is too long, and printed after it."""
    found = []
    for one in plan.runs:
        allowed = week.run[one.run_id].idle_ok_min
        windows = week.press[one.press_id].calendar.with_bought(plan.overtime).windows
        for before, after in pairwise(windows):
            if allowed is not None and after.stop_before_min > allowed:
                start, prints = before.end_tau - 1, after.start_tau
                found.append(replace(one, set_up_start_tau=start, print_start_tau=prints, print_end_tau=prints + 30))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


# rinsed_before_long_stops


def rinse_in_too_few_minutes(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The print starts a minute too late before a stop to rinse the inks out for it."""
    found = []
    for one in plan.runs:
        allowed, rinse_min = week.run[one.run_id].idle_ok_min, choice_of(week, one).wash_up_min
        windows = week.press[one.press_id].prints_in.with_bought(plan.overtime).windows
        for before, after in pairwise(windows):
            if allowed is not None and after.stop_before_min > allowed and rinse_min > 1:
                prints = before.end_tau - rinse_min + 1
                found.append(replace(one, print_start_tau=prints, print_end_tau=after.start_tau + 30))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


# flash_units_suffice


def short_of_flashes(week: Week, plan: Plan) -> list[tuple[PlannedRun, PlannedRun]]:
    """Pairs of runs on two presses that together need more flashes than their pool has."""
    units = {pool.pool_id: pool.units for pool in week.flash_pools}
    found = []
    for one in plan.runs:
        for other in plan.runs:
            pool_id, asked = week.press[one.press_id].flash_pool, choice_of(week, one).flash_units
            is_shared = one.press_id != other.press_id and week.press[other.press_id].flash_pool == pool_id
            if pool_id and asked and is_shared and asked + choice_of(week, other).flash_units > units[pool_id]:
                found.append((one, other))
    return found


def take_a_flash_that_stands_elsewhere(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Set a run up while the flashes it needs stand on another press."""
    pair = pick(rng, short_of_flashes(week, plan))
    if pair is None:
        return None
    one, other = pair
    by = rng.randrange(other.set_up_start_tau, other.print_end_tau) - one.set_up_start_tau
    moved = replace(
        one,
        set_up_start_tau=one.set_up_start_tau + by,
        set_up_end_tau=one.set_up_end_tau + by,
        print_start_tau=one.print_start_tau + by,
        print_end_tau=one.print_end_tau + by,
    )
    return with_run(plan, moved)


def hold_on_to_a_flash(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Print on for a minute after another press has taken the flashes."""
    pairs = [(one, other) for one, other in short_of_flashes(week, plan) if one.print_end_tau <= other.set_up_start_tau]
    pair = pick(rng, pairs)
    return with_run(plan, replace(pair[0], print_end_tau=pair[1].set_up_start_tau + 1)) if pair else None


# belt_is_shared


def fill_the_belt_twice(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Move a print to a minute in which another one has more of the same belt than is left for it."""
    found = []
    for one in plan.runs:
        for other in plan.runs:
            press, beside = week.press[one.press_id], week.press[other.press_id]
            full = choice_of(week, one).belt_permille + choice_of(week, other).belt_permille > 1000
            at = other.print_start_tau
            shared = one.run_id != other.run_id and press.dryer_id == beside.dryer_id
            if shared and full and is_open(press.prints_in, plan, at) and is_open(beside.prints_in, plan, at):
                length = one.print_end_tau - one.print_start_tau
                found.append(replace(one, print_start_tau=at, print_end_tau=at + length))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


# dryer_setting_is_shared, setting_settles


def _set_otherwise(week: Week, plan: Plan) -> list[tuple[PlannedRun, PlannedRun]]:
    """Two runs into one dryer at different settings."""
    return [
        (one, other)
        for one in plan.runs
        for other in plan.runs
        if one.run_id != other.run_id
        and week.press[one.press_id].dryer_id == week.press[other.press_id].dryer_id
        and week.dryers
        and choice_of(week, one).setting_id != choice_of(week, other).setting_id
        and other.print_end_tau > other.print_start_tau
    ]


def print_while_the_dryer_is_set_otherwise(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print is moved to the last minute of one that has the dryer at another setting."""
    pair = pick(rng, _set_otherwise(week, plan))
    if pair is None:
        return None
    one, other = pair
    at, length = other.print_end_tau - 1, one.print_end_tau - one.print_start_tau
    return with_run(plan, replace(one, print_start_tau=at, print_end_tau=at + length))


def take_garments_off_the_belt_too_soon(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print starts a minute before the last piece at another setting is through."""
    return _moved_behind(week, plan, rng, lambda before, after: -1)


def print_before_the_setting_has_settled(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print starts a minute before the dryer has settled."""
    return _moved_behind(week, plan, rng, lambda before, after: week.dryers[0].settle_min(before, after) - 1, least=0)


def print_as_soon_as_the_belt_is_clear(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print starts the minute the last piece at another setting is through, though that takes time to settle."""
    return _moved_behind(
        week, plan, rng, lambda before, after: min(0, week.dryers[0].settle_min(before, after) - 1), least=0
    )


def _moved_behind(
    week: Week, plan: Plan, rng: random.Random, wait_min: Callable[[str, str], int], least: int = -1
) -> Plan | None:
    """A print moved so many minutes behind the last piece of another, where no night lies in between."""
    found = []
    for one, other in _set_otherwise(week, plan):
        settings = choice_of(week, other).setting_id or "", choice_of(week, one).setting_id or ""
        wait = wait_min(*settings)
        at = other.print_end_tau + week.run[other.run_id].cure_min + wait
        off = any(other.print_end_tau <= tau <= at for tau in week.dryers[0].switched_on_tau)
        if wait >= least and not off:
            found.append(replace(one, print_start_tau=at, print_end_tau=at + one.print_end_tau - one.print_start_tau))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


CURE_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "ink_may_not_stand": (let_drying_ink_stand,),
    "rinsed_before_long_stops": (rinse_in_too_few_minutes,),
    "flash_units_suffice": (take_a_flash_that_stands_elsewhere, hold_on_to_a_flash),
    "belt_is_shared": (fill_the_belt_twice,),
    "dryer_setting_is_shared": (print_while_the_dryer_is_set_otherwise, take_garments_off_the_belt_too_soon),
    "setting_settles": (print_before_the_setting_has_settled, print_as_soon_as_the_belt_is_clear),
}

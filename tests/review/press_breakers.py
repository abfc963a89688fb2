"""Ways to break a press rule in a good plan. Each gives a plan that breaks the rule for certain, or None."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from tests.review.good_plans import is_open, with_run
from tests.review.picking import Breaker, choice_of, is_started, neighbours, pick

# one_run_at_a_time


def set_up_a_minute_too_early(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Set-up starts while the last piece of the run before is printed."""
    pair = pick(rng, neighbours(plan))
    if pair is None:
        return None
    before, after = pair
    return with_run(plan, replace(after, set_up_start_tau=before.print_end_tau - 1))


def print_into_the_next_run(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The press still prints when the next run is set up."""
    pair = pick(rng, neighbours(plan))
    if pair is None:
        return None
    before, after = pair
    return with_run(plan, replace(before, print_end_tau=after.set_up_start_tau + 1))


def set_up_two_at_once(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Two runs are set up at the same minute."""
    pair = pick(rng, neighbours(plan))
    if pair is None:
        return None
    before, after = pair
    return with_run(plan, replace(after, set_up_start_tau=before.set_up_start_tau))


def put_a_run_on_a_busy_press(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run goes over to a press that holds another one then."""
    pairs = [
        (one, other)
        for one in plan.runs
        for other in plan.runs
        if one.press_id != other.press_id
        and one.set_up_start_tau < other.print_end_tau
        and other.set_up_start_tau < one.print_end_tau
    ]
    pair = pick(rng, pairs)
    return with_run(plan, replace(pair[0], press_id=pair[1].press_id)) if pair else None


# staged_before_set_up


def _staged(week: Week, plan: Plan) -> list[PlannedRun]:
    if week.staging is None or not week.staging.minutes:
        return []
    return [one for one in plan.runs if not is_started(week, one)]


def stage_a_minute_less(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Staging starts a minute late and ends on time."""
    one = pick(rng, _staged(week, plan))
    return with_run(plan, replace(one, stage_start_tau=one.stage_start_tau + 1)) if one else None


def drop_the_staging(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The cart is never staged."""
    one = pick(rng, _staged(week, plan))
    at = one.set_up_start_tau if one else 0
    return with_run(plan, replace(one, stage_start_tau=at, stage_end_tau=at)) if one else None


def stage_past_the_start_of_set_up(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Staging ends a minute after set-up starts."""
    one = pick(rng, _staged(week, plan))
    if one is None:
        return None
    start = one.set_up_start_tau + 1 - week.staging.minutes
    return with_run(plan, replace(one, stage_start_tau=start, stage_end_tau=one.set_up_start_tau + 1))


def stage_before_the_screens_are_taped(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Staging starts a minute before the screens are ready."""
    one = pick(rng, [one for one in _staged(week, plan) if one.burn is not None])
    if one is None:
        return None
    start = one.burn.tape_end_tau - 1
    return with_run(plan, replace(one, stage_start_tau=start, stage_end_tau=start + week.staging.minutes))


def stage_where_none_is_needed(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A minute of staging nobody needs."""
    none_needed = [one for one in plan.runs if one not in _staged(week, plan)]
    one = pick(rng, none_needed)
    return with_run(plan, replace(one, stage_start_tau=one.stage_start_tau - 1)) if one else None


# fits_its_press


def swap_to_a_press_it_does_not_fit(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run goes over to a press that is none of its choices."""
    wrong = [
        replace(one, press_id=press.press_id)
        for one in plan.runs
        for press in week.presses
        if press.press_id not in week.run[one.run_id].on_press
    ]
    one = pick(rng, wrong)
    return with_run(plan, one) if one else None


def put_a_run_on_no_press(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run goes to a press the shop does not have."""
    return with_run(plan, replace(rng.choice(plan.runs), press_id="a press of next year"))


def print_in_a_way_there_is_not(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A run is printed in a way nobody worked out."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, way=len(week.run[one.run_id].on_press[one.press_id].other_ways) + 1))


def keep_one_ink_too_many(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Inks are kept on one head more than the press has."""
    one = rng.choice(plan.runs)
    free = week.press[one.press_id].head_count - choice_of(week, one).heads_needed
    inks = [ink.ink_id for ink in week.inks] * 3
    return with_run(plan, replace(one, kept_inks=tuple(inks[: free + 1])))


# print_takes_its_time


def print_a_minute_less(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print ends a minute early."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, print_end_tau=one.print_end_tau - 1))


def print_a_minute_longer(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print goes on for an open minute it does not need."""
    longer = [one for one in plan.runs if is_open(week.press[one.press_id].prints_in, plan, one.print_end_tau)]
    # The night has no length on the shop axis: the minute after closing would be next morning's, after a restart.
    one = pick(rng, [one for one in longer if one.print_end_tau not in week.clock.cuts_tau])
    return with_run(plan, replace(one, print_end_tau=one.print_end_tau + 1)) if one else None


def claim_another_rate(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print takes the minutes of another rate than it is said to have."""
    found = []
    for one in plan.runs:
        ways = range(len(week.run[one.run_id].on_press[one.press_id].other_ways) + 1)
        work = {way: choice_of(week, replace(one, way=way)).work_min for way in ways}
        found += [replace(one, way=way) for way in ways if work[way] != work[one.way]]
    one = pick(rng, found)
    return with_run(plan, one) if one else None


def forget_to_rinse_out(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The minutes to rinse out an ink that dries are left out."""
    one = pick(rng, [one for one in plan.runs if choice_of(week, one).wash_up_min])
    return (
        with_run(plan, replace(one, print_end_tau=one.print_end_tau - choice_of(week, one).wash_up_min))
        if one
        else None
    )


def print_on_with_ink_that_went_off(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The minutes to mix one further batch are left out."""
    mixed = [one for one in plan.runs if choice_of(week, one).mixing_min]
    one = pick(rng, [one for one in mixed if one.print_end_tau not in week.clock.cuts_tau])
    if one is None:
        return None
    return with_run(plan, replace(one, print_end_tau=one.print_end_tau - week.run[one.run_id].remix_min))


def forget_the_restart(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Only prints that stop once and go on for longer than the restart: without it they end that much earlier."""
    found = []
    for one in plan.runs:
        press = week.press[one.press_id]
        stops = [
            window.start_tau
            for window in press.prints_in.with_bought(plan.overtime).windows
            if one.print_start_tau < window.start_tau < one.print_end_tau
        ]
        lost = min(cost for cost in (press.restart.break_min, press.restart.night_min))
        if len(stops) == 1 and lost and stops[0] < one.print_end_tau - lost:
            found.append(replace(one, print_end_tau=one.print_end_tau - lost))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


def forget_to_rinse_for_a_long_stop(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The ink is left in the mesh over one stop it may not stand."""
    found = []
    for one in plan.runs:
        limit_min, extra_min = week.run[one.run_id].idle_ok_min, choice_of(week, one).long_stop_min
        stops = [
            window.start_tau
            for window in week.press[one.press_id].prints_in.with_bought(plan.overtime).windows
            if one.print_start_tau < window.start_tau < one.print_end_tau
            and limit_min is not None
            and window.stop_before_min > limit_min
        ]
        if stops and extra_min and stops[-1] < one.print_end_tau - extra_min:
            found.append(replace(one, print_end_tau=one.print_end_tau - extra_min))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


def print_no_time_at_all(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print ends when it starts."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, print_end_tau=one.print_start_tau))


# set_up_follows_the_run_before


def _reckoned(week: Week, plan: Plan) -> list[PlannedRun]:
    """Runs whose set-up follows from what stood there: neither stated nor started."""
    return [one for one in plan.runs if not is_started(week, one) and choice_of(week, one).stated_set_up_min is None]


def claim_a_set_up_minute_less(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set-up is said to take, and takes, a minute less."""
    one = pick(rng, [one for one in plan.runs if one.set_up_min])
    if one is None:
        return None
    return with_run(plan, replace(one, set_up_min=one.set_up_min - 1, set_up_end_tau=one.set_up_end_tau - 1))


def claim_a_set_up_minute_more(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set-up is said to take, and takes, a minute more."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, set_up_min=one.set_up_min + 1, set_up_end_tau=one.set_up_end_tau + 1))


def work_a_set_up_minute_less_than_claimed(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set-up ends a minute before its minutes are worked."""
    one = pick(rng, [one for one in plan.runs if one.set_up_min])
    return with_run(plan, replace(one, set_up_end_tau=one.set_up_end_tau - 1)) if one else None


def keep_an_ink_that_may_not_stay(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An ink is kept that the run prints itself, or that dries."""
    one = rng.choice(plan.runs)
    printed = [head.ink_id for head in choice_of(week, one).stack.heads]
    drying = [ink.ink_id for ink in week.inks if ink.dries]
    return with_run(plan, replace(one, kept_inks=(*one.kept_inks, rng.choice(printed + drying))))


def give_a_kept_ink_up_for_nothing(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """An ink that no longer stays has to leave, and leaving always takes minutes in these weeks."""
    one = pick(rng, [one for one in _reckoned(week, plan) if one.kept_inks])
    return with_run(plan, replace(one, kept_inks=one.kept_inks[1:])) if one else None


# print_follows_set_up


def wait_a_minute_before_printing(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A press waits for a minute between set-up and print."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, print_start_tau=one.print_start_tau + 1, print_end_tau=one.print_end_tau + 1))


def print_before_set_up_is_over(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print starts a minute before its set-up ends."""
    one = rng.choice(plan.runs)
    return with_run(plan, replace(one, print_start_tau=one.set_up_end_tau - 1))


def print_while_the_dryer_warms_up(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A print that waits for heat starts where the press is open already."""
    found = []
    for one in plan.runs:
        press = week.press[one.press_id]
        at = one.print_start_tau - 1
        cold = at >= one.set_up_end_tau and not is_open(press.prints_in, plan, at)
        if cold and is_open(press.calendar, plan, at):
            found.append(replace(one, print_start_tau=at))
    one = pick(rng, found)
    return with_run(plan, one) if one else None


PRESS_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "one_run_at_a_time": (
        set_up_a_minute_too_early,
        print_into_the_next_run,
        set_up_two_at_once,
        put_a_run_on_a_busy_press,
    ),
    "staged_before_set_up": (
        stage_a_minute_less,
        drop_the_staging,
        stage_past_the_start_of_set_up,
        stage_before_the_screens_are_taped,
        stage_where_none_is_needed,
    ),
    "fits_its_press": (
        swap_to_a_press_it_does_not_fit,
        put_a_run_on_no_press,
        keep_one_ink_too_many,
        print_in_a_way_there_is_not,
    ),
    "print_takes_its_time": (
        print_a_minute_less,
        print_a_minute_longer,
        claim_another_rate,
        forget_to_rinse_out,
        print_on_with_ink_that_went_off,
        forget_the_restart,
        forget_to_rinse_for_a_long_stop,
        print_no_time_at_all,
    ),
    "set_up_follows_the_run_before": (
        claim_a_set_up_minute_less,
        claim_a_set_up_minute_more,
        work_a_set_up_minute_less_than_claimed,
        keep_an_ink_that_may_not_stay,
        give_a_kept_ink_up_for_nothing,
    ),
    "print_follows_set_up": (
        wait_a_minute_before_printing,
        print_before_set_up_is_over,
        print_while_the_dryer_warms_up,
    ),
}

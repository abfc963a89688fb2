"""Ways to break a rule of screens or frames in a good plan: a plan that surely breaks it, or None."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

from scheduler.domain.plan import CoatBatch, Plan, PlannedRun, Reclaim
from scheduler.domain.week import Week
from tests.review.good_plans import with_run, with_runs
from tests.review.picking import Breaker, pick


def burned_runs(plan: Plan) -> list[PlannedRun]:
    """Runs a set is burned for."""
    return [one for one in plan.runs if one.burn is not None]


def _uses(week: Week, plan: Plan) -> dict[str, list[PlannedRun]]:
    found: dict[str, list[PlannedRun]] = {}
    for one in sorted(plan.runs, key=lambda planned: planned.set_up_start_tau):
        set_id = week.run[one.run_id].set_id
        if set_id is not None:
            found.setdefault(set_id, []).append(one)
    return found


def _screens(week: Week, planned: PlannedRun) -> int:
    return len(week.screen_set[week.run[planned.run_id].set_id].screen_ids)


# screens_stand_ready


def drop_a_burn(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set is never burned."""
    one = pick(rng, burned_runs(plan))
    return with_run(plan, replace(one, burn=None)) if one else None


def burn_a_minute_less(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A burn starts a minute late and ends on time."""
    one = pick(rng, burned_runs(plan))
    return with_run(plan, replace(one, burn=replace(one.burn, start_tau=one.burn.start_tau + 1))) if one else None


def call_screens_dry_too_early(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Screens are said to be dry a minute before they are."""
    one = pick(rng, burned_runs(plan))
    return with_run(plan, replace(one, burn=replace(one.burn, dry_tau=one.burn.dry_tau - 1))) if one else None


def tape_wet_screens(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Taping starts a minute before the screens are dry."""
    one = pick(rng, burned_runs(plan))
    if one is None:
        return None
    length = one.burn.tape_end_tau - one.burn.tape_start_tau
    start = one.burn.dry_tau - 1
    return with_run(plan, replace(one, burn=replace(one.burn, tape_start_tau=start, tape_end_tau=start + length)))


def set_up_before_taping_ends(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Set-up starts a minute before the screens are ready."""
    one = pick(rng, burned_runs(plan))
    return with_run(plan, replace(one, set_up_start_tau=one.burn.tape_end_tau - 1)) if one else None


def burn_without_art(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set is burned a minute before its art is there."""
    one = pick(rng, [one for one in burned_runs(plan) if week.run[one.run_id].art_tau])
    if one is None:
        return None
    return with_run(plan, replace(one, burn=replace(one.burn, start_tau=week.run[one.run_id].art_tau - 1)))


def burn_a_set_that_is_held(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set that stands ready is burned again."""
    burned = burned_runs(plan)
    one = pick(rng, [one for one in plan.runs if one.burn is None])
    return with_run(plan, replace(one, burn=burned[0].burn)) if one and burned else None


def reclaim_a_set_before_it_is_used_again(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A held set is reclaimed although its next use burns nothing."""
    held = [
        (set_id, queue[index - 1])
        for set_id, queue in _uses(week, plan).items()
        for index in range(1, len(queue))
        if queue[index].burn is None
    ]
    found = pick(rng, held)
    if found is None:
        return None
    block = rng.choice(week.screen_room.reclaim_blocks)
    reclaim = Reclaim(set_id=found[0], after_run_id=found[1].run_id, block_id=block.block_id)
    return replace(plan, reclaims=(*plan.reclaims, reclaim))


def burn_over_night(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A burn stands half done over a night."""
    one = pick(rng, burned_runs(plan))
    if one is None:
        return None
    windows = week.screen_room.calendar.windows
    nights = [w.start_tau for w in windows[1:] if w.stop_before_min > week.screen_room.idle_ok_min]
    at = pick(rng, nights)
    if at is None:
        return None
    before = max(w.end_tau for w in windows if w.end_tau <= at)
    return with_run(plan, replace(one, burn=replace(one.burn, start_tau=before - 5, end_tau=at + 5)))


# exposure_units_suffice, rack_has_room


def burn_too_many_at_once(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """One set more than there are units is burned at the same minute."""
    needed = week.screen_room.exposure_units + 1
    burned = burned_runs(plan)
    if len(burned) < needed:
        return None
    chosen = rng.sample(burned, needed)
    return all_burned_like(plan, chosen)


def dry_more_than_the_rack_holds(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """So many sets are washed out at the same minute that their screens do not find a place."""
    burned = [one for one in burned_runs(plan) if one.burn.dry_tau > one.burn.end_tau]
    rng.shuffle(burned)
    if sum(_screens(week, one) for one in burned) <= week.screen_room.rack_places:
        return None
    return all_burned_like(plan, burned)


def all_burned_like(plan: Plan, chosen: list[PlannedRun]) -> Plan:
    """The plan with all these sets burned at the same minutes."""
    ids = {one.run_id for one in chosen}
    burn = chosen[0].burn
    return with_runs(plan, tuple(replace(one, burn=burn) if one.run_id in ids else one for one in plan.runs))


# coating_has_places


def coat_more_than_there_are_places(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """One frame more than places in a coat window."""
    window = rng.choice(week.screen_room.coat_windows)
    batch = CoatBatch(window_id=window.window_id, class_id=week.frames[0].class_id, count=window.places + 1)
    return replace(plan, coat_batches=(*plan.coat_batches, batch))


def coat_what_cannot_be_coated(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Coating in no window, of no frame the shop has, or of fewer than none."""
    good = CoatBatch(window_id=week.screen_room.coat_windows[0].window_id, class_id=week.frames[0].class_id, count=1)
    wrong = rng.choice(
        [replace(good, window_id="on Sunday"), replace(good, class_id="a frame of next year"), replace(good, count=-1)]
    )
    return replace(plan, coat_batches=(*plan.coat_batches, wrong))


# coated_screens_last, clean_frames_last


def _frames_burned(week: Week, plan: Plan) -> Counter[str]:
    found: Counter[str] = Counter()
    for one in burned_runs(plan):
        found.update(dict(week.screen_set[week.run[one.run_id].set_id].frames))
    return found


def _in_stock(week: Week, class_id: str) -> tuple[int, int]:
    stock = next(one for one in week.frames if one.class_id == class_id)
    return stock.coated_now, stock.clean_now


def coat_nothing(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """No frame is coated although those coated now do not last."""
    short = [name for name, count in _frames_burned(week, plan).items() if count > _in_stock(week, name)[0]]
    return replace(plan, coat_batches=()) if short else None


def burn_before_the_coating_is_dry(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Everything is burned in the first minute, on more frames than are coated then."""
    short = [name for name, count in _frames_burned(week, plan).items() if count > _in_stock(week, name)[0]]
    if not short:
        return None
    early = tuple(
        replace(one, burn=replace(one.burn, start_tau=0)) if one.burn is not None else one for one in plan.runs
    )
    return with_runs(plan, early)


def burn_one_set_too_many(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Sets are burned again and again until no coated frame is left."""
    burned = burned_runs(plan)
    one = pick(rng, burned)
    if one is None:
        return None
    frames = dict(week.screen_set[week.run[one.run_id].set_id].frames)
    class_id, count = next(iter(frames.items()))
    coated = sum(batch.count for batch in plan.coat_batches if batch.class_id == class_id)
    times = (_in_stock(week, class_id)[0] + coated) // count + 1
    return with_runs(plan, (*plan.runs, *[one] * times))


def coat_more_than_is_clean(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """One frame more is coated than is clean now or ever comes back."""
    class_id = rng.choice(week.frames).class_id
    back = sum(count for _, frame, count in week.early_reclaims if frame == class_id)
    for reclaim in plan.reclaims:
        back += dict(week.screen_set[reclaim.set_id].frames).get(class_id, 0)
    window = week.screen_room.coat_windows[-1]
    batch = CoatBatch(window_id=window.window_id, class_id=class_id, count=_in_stock(week, class_id)[1] + back + 1)
    return replace(plan, coat_batches=(*plan.coat_batches, batch))


def coat_before_the_frames_are_back(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """The first coat window takes one frame more than is clean before anything can be reclaimed."""
    window = week.screen_room.coat_windows[0]
    class_id = rng.choice(week.frames).class_id
    blocks = {block.block_id for block in week.screen_room.reclaim_blocks if block.end_tau > window.start_tau}
    late = tuple(replace(one, block_id=max(blocks)) for one in plan.reclaims)
    early = sum(n for block, frame, n in week.early_reclaims if frame == class_id and block not in blocks)
    batch = CoatBatch(window_id=window.window_id, class_id=class_id, count=_in_stock(week, class_id)[1] + early + 1)
    return replace(plan, coat_batches=(*plan.coat_batches, batch), reclaims=late)


# reclaim_after_counted


def reclaim_before_the_order_is_counted(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set is reclaimed in a block that starts before its order is packed."""
    early = [
        Reclaim(set_id=set_id, after_run_id=one.run_id, block_id=block.block_id)
        for set_id, queue in _uses(week, plan).items()
        for one in queue
        for block in week.screen_room.reclaim_blocks
        if block.start_tau < plan.order[week.run[one.run_id].order_id].packed_tau
    ]
    reclaim = pick(rng, early)
    if reclaim is None:
        return None
    rest = [one for one in plan.reclaims if (one.set_id, one.after_run_id) != (reclaim.set_id, reclaim.after_run_id)]
    return replace(plan, reclaims=(*rest, reclaim))


def reclaim_what_cannot_be_reclaimed(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Reclaimed twice, after a run of another set, or in no block."""
    one = pick(rng, plan.reclaims)
    if one is None:
        return None
    other = [run.run_id for run in week.runs if run.set_id != one.set_id]
    wrong = [one, replace(one, block_id="on Sunday")]
    if other:
        wrong.append(replace(one, after_run_id=other[0]))
    return replace(plan, reclaims=(*plan.reclaims, rng.choice(wrong)))


def reclaim_more_than_there_are_places(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """Every set is reclaimed in the same block, more screens than it has places."""
    block = rng.choice(week.screen_room.reclaim_blocks)
    last = {set_id: queue[-1].run_id for set_id, queue in _uses(week, plan).items()}
    screens = sum(len(week.screen_set[set_id].screen_ids) for set_id in last)
    if screens <= block.places:
        return None
    reclaims = tuple(Reclaim(set_id=name, after_run_id=run, block_id=block.block_id) for name, run in last.items())
    return replace(plan, reclaims=reclaims)


# set_is_in_one_place


def mount_a_set_twice_at_once(week: Week, plan: Plan, rng: random.Random) -> Plan | None:
    """A set goes on a second press while it is on the first."""
    pairs = [(queue[at], queue[at + 1]) for queue in _uses(week, plan).values() for at in range(len(queue) - 1)]
    pair = pick(rng, pairs)
    if pair is None:
        return None
    return with_run(plan, replace(pair[1], set_up_start_tau=rng.choice([pair[0].print_end_tau - 1, 0])))


SCREEN_BREAKERS: dict[str, tuple[Breaker, ...]] = {
    "screens_stand_ready": (
        drop_a_burn,
        burn_a_minute_less,
        call_screens_dry_too_early,
        tape_wet_screens,
        set_up_before_taping_ends,
        burn_without_art,
        burn_a_set_that_is_held,
        reclaim_a_set_before_it_is_used_again,
        burn_over_night,
    ),
    "exposure_units_suffice": (burn_too_many_at_once,),
    "rack_has_room": (dry_more_than_the_rack_holds,),
    "coating_has_places": (coat_more_than_there_are_places, coat_what_cannot_be_coated),
    "coated_screens_last": (coat_nothing, burn_before_the_coating_is_dry, burn_one_set_too_many),
    "clean_frames_last": (coat_more_than_is_clean, coat_before_the_frames_are_back),
    "reclaim_after_counted": (
        reclaim_before_the_order_is_counted,
        reclaim_what_cannot_be_reclaimed,
        reclaim_more_than_there_are_places,
    ),
    "set_is_in_one_place": (mount_a_set_twice_at_once,),
}

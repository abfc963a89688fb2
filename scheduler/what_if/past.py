"""What the plan has done by now in the screen room: what hangs coated, what is clean again, and no second time."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from scheduler.domain.answers import Standing
from scheduler.domain.plan import Plan
from scheduler.domain.week import FrameStock, Week


def stock_at(week: Week, standing: Standing, now_tau: int) -> Week:
    """The week with coating and reclaiming that began before now behind it.

    Sets that are burned, printed and reclaimed by now are out of the count: their frames are clean again.
    """
    room = week.screen_room
    if room is None:
        return week
    coated = _coated(week, standing, now_tau)
    blocks = _blocks_begun(week, now_tau)
    done = _closed_sets(week, standing, now_tau)
    burned: Counter[str] = Counter()
    freed: Counter[str] = Counter()
    for one in week.sets:
        if one.set_id in done:
            freed.update(dict(one.frames))
            burned.update({} if one.is_burned_now else dict(one.frames))
    for block_id, class_id, frames in week.early_reclaims:
        freed[class_id] += frames if block_id in blocks else 0
    return replace(
        week,
        screen_room=replace(
            room,
            coat_windows=tuple(one for one in room.coat_windows if one.start_tau >= now_tau),
            reclaim_blocks=tuple(one for one in room.reclaim_blocks if one.start_tau >= now_tau),
        ),
        sets=tuple(replace(one, frames=()) if one.set_id in done else one for one in week.sets),
        early_reclaims=tuple(one for one in week.early_reclaims if one[0] not in blocks),
        frames=tuple(
            _moved_on(one, coated[one.class_id], burned[one.class_id], freed[one.class_id]) for one in week.frames
        ),
    )


def with_past(plan: Plan, week: Week, standing: Standing) -> Plan:
    """A plan from now on, with the coating and reclaiming that had begun before. week: the one typed, whole."""
    if not standing.now_tau:
        return plan
    windows, blocks = _windows_begun(week, standing.now_tau), _blocks_begun(week, standing.now_tau)
    past = tuple(
        one
        for one in standing.plan.reclaims
        if one.block_id in blocks and one.after_run_id in plan.run and one.set_id in week.screen_set
    )
    taken = {(one.set_id, one.after_run_id) for one in past}
    return replace(
        plan,
        coat_batches=(
            *(one for one in standing.plan.coat_batches if one.window_id in windows),
            *plan.coat_batches,
        ),
        reclaims=(*past, *(one for one in plan.reclaims if (one.set_id, one.after_run_id) not in taken)),
    )


def _moved_on(stock: FrameStock, coated: int, burned: int, freed: int) -> FrameStock:
    return replace(
        stock, coated_now=stock.coated_now + coated - burned, clean_now=max(0, stock.clean_now - coated + freed)
    )


def _coated(week: Week, standing: Standing, now_tau: int) -> Counter[str]:
    """Frames the plan has coated by now, by class."""
    begun = _windows_begun(week, now_tau)
    found: Counter[str] = Counter()
    for batch in standing.plan.coat_batches:
        found[batch.class_id] += batch.count if batch.window_id in begun else 0
    return found


def _closed_sets(week: Week, standing: Standing, now_tau: int) -> frozenset[str]:
    """Sets the plan has reclaimed by now, of which every use has begun."""
    blocks = _blocks_begun(week, now_tau)
    reclaimed = {one.set_id for one in standing.plan.reclaims if one.block_id in blocks}
    plan = standing.plan
    going_on = {
        run.set_id
        for run in week.runs
        if run.run_id not in plan.run or plan.run[run.run_id].set_up_start_tau >= now_tau
    }
    return frozenset(reclaimed - going_on)


def _windows_begun(week: Week, now_tau: int) -> frozenset[str]:
    windows = week.screen_room.coat_windows if week.screen_room else ()
    return frozenset(one.window_id for one in windows if one.start_tau < now_tau)


def _blocks_begun(week: Week, now_tau: int) -> frozenset[str]:
    blocks = week.screen_room.reclaim_blocks if week.screen_room else ()
    return frozenset(one.block_id for one in blocks if one.start_tau < now_tau)

"""Rules of frames: coated ones, clean ones, and reclaiming."""

from __future__ import annotations

from collections import Counter

from scheduler.domain.plan import Plan, Reclaim
from scheduler.domain.week import CoatWindow, ReclaimBlock, Week
from scheduler.review.uses import burns, uses_in_order
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, run_text, start_text


def _coat_windows(week: Week) -> dict[str, CoatWindow]:
    return {one.window_id: one for one in week.screen_room.coat_windows} if week.screen_room else {}


def _reclaim_blocks(week: Week) -> dict[str, ReclaimBlock]:
    return {one.block_id: one for one in week.screen_room.reclaim_blocks} if week.screen_room else {}


def _class_names(week: Week) -> dict[str, str]:
    """Every frame class in stock or in a set, with its name."""
    found = {class_id: class_id for one in week.sets for class_id, _ in one.frames}
    return found | {stock.class_id: stock.name for stock in week.frames}


def coating_has_places(week: Week, plan: Plan) -> list[Violation]:
    """Frames are coated in a coat window that exists, no more at once than it has places.

    Per window: sum of counts <= places; counts >= 0; window and frame class are known.
    """
    windows, classes = _coat_windows(week), {stock.class_id for stock in week.frames}
    found, filled = [], Counter[str]()
    for batch in plan.coat_batches:
        filled[batch.window_id] += batch.count
        told = f"{batch.count} frames of {batch.class_id} are coated in {batch.window_id}"
        if batch.window_id not in windows:
            found.append(Violation(rule="coating_has_places", message=f"{told}, which is no coat window"))
        if batch.class_id not in classes:
            found.append(Violation(rule="coating_has_places", message=f"{told}; the shop has no such frames"))
        if batch.count < 0:
            found.append(Violation(rule="coating_has_places", message=f"{told}; a count cannot be negative"))
    for window_id, window in windows.items():
        if filled[window_id] > window.places:
            found.append(
                Violation(
                    rule="coating_has_places",
                    at_tau=window.start_tau,
                    message=f"{filled[window_id]} frames are coated from {start_text(week, window.start_tau)}, there "
                    f"are {window.places} places",
                )
            )
    return found


def coated_screens_last(week: Week, plan: Plan) -> list[Violation]:
    """Nothing is burned on a screen that is not coated and ready.

    Per frame class, at every minute t: coated_now + batches with ready_tau <= t >= frames of burns with start <= t.
    """
    windows = _coat_windows(week)
    now = {stock.class_id: stock.coated_now for stock in week.frames}
    found = []
    for class_id, name in _class_names(week).items():
        changes = [(0, now.get(class_id, 0))]
        for batch in plan.coat_batches:
            if batch.class_id == class_id and batch.window_id in windows:
                changes.append((windows[batch.window_id].ready_tau, batch.count))
        for _, screens, burn in burns(week, plan):
            changes += [(burn.start_tau, -count) for frame, count in screens.frames if frame == class_id]
        at, short = _first_shortage(changes)
        if short:
            found.append(
                Violation(
                    rule="coated_screens_last",
                    at_tau=at,
                    message=f"{short} coated screens of {name} are missing for the burn of {start_text(week, at)}",
                )
            )
    return found


def _first_shortage(changes: list[tuple[int, int]]) -> tuple[int, int]:
    """(minute, how many are missing) when the sum of changes first falls below 0; (0, 0) if it never does."""
    # What hangs ready now counts for a burn said to be in the past, too: the past is inside_open_hours' business.
    level = 0
    by_minute = Counter[int]()
    for at, change in changes:
        by_minute[max(0, at)] += change
    for at in sorted(by_minute):
        level += by_minute[at]
        if level < 0:
            return at, -level
    return 0, 0


def _frames_back(week: Week, plan: Plan) -> list[tuple[int, str, int]]:
    """(minute, class, frames) at which reclaimed frames are clean."""
    blocks = _reclaim_blocks(week)
    back = [
        (blocks[block_id].end_tau, class_id, count)
        for block_id, class_id, count in week.early_reclaims
        if block_id in blocks
    ]
    for reclaim in plan.reclaims:
        screens = week.screen_set.get(reclaim.set_id)
        if screens is not None and reclaim.block_id in blocks:
            end = blocks[reclaim.block_id].end_tau
            back += [(end, class_id, count) for class_id, count in screens.frames]
    return back


def clean_frames_last(week: Week, plan: Plan) -> list[Violation]:
    """Only frames that are clean when a coat window starts are coated in it.

    Per class, at each coat window start w: clean_now + frames reclaimed in blocks with end_tau <= w >= frames coated in
    windows with start_tau <= w.
    """
    windows, back = _coat_windows(week), _frames_back(week, plan)
    now = {stock.class_id: stock.clean_now for stock in week.frames}
    found = []
    for class_id, name in _class_names(week).items():
        for at in sorted({window.start_tau for window in windows.values()}):
            clean = now.get(class_id, 0) + sum(n for end, frame, n in back if frame == class_id and end <= at)
            coated = sum(
                batch.count
                for batch in plan.coat_batches
                if batch.class_id == class_id
                and batch.window_id in windows
                and windows[batch.window_id].start_tau <= at
            )
            if coated > clean:
                found.append(
                    Violation(
                        rule="clean_frames_last",
                        at_tau=at,
                        message=f"{coated - clean} clean frames of {name} are missing for the coating of "
                        f"{start_text(week, at)}",
                    )
                )
                break
    return found


def reclaim_after_counted(week: Week, plan: Plan) -> list[Violation]:
    """A set is reclaimed once its orders are counted good and packed, in a block that has places for it.

    after_run prints from the set; one reclaim per (set, after_run); block.start >= packed of the order of every use up
    to after_run; per block: screens reclaimed, early ones included, <= places.
    """
    blocks, uses = _reclaim_blocks(week), uses_in_order(week, plan)
    found, seen = [], Counter[tuple[str, str]]()
    filled = Counter(dict.fromkeys(blocks, 0))
    for block_id, _, count in week.early_reclaims:
        filled[block_id] += count
    for reclaim in plan.reclaims:
        seen[reclaim.set_id, reclaim.after_run_id] += 1
        screens = week.screen_set.get(reclaim.set_id)
        filled[reclaim.block_id] += screens.screen_count if screens else 0
        queue = [planned.run_id for planned in uses.get(reclaim.set_id, ())]
        if reclaim.after_run_id not in queue:
            what = f"after {run_text(week, reclaim.after_run_id)}, which does not print from it"
            found.append(_reclaim_fault(reclaim, what))
        if reclaim.block_id not in blocks:
            found.append(_reclaim_fault(reclaim, f"in {reclaim.block_id}, which is no reclaim block"))
            continue
        start = blocks[reclaim.block_id].start_tau
        until = queue.index(reclaim.after_run_id) + 1 if reclaim.after_run_id in queue else 0
        for run_id in queue[:until]:
            order = plan.order.get(week.run[run_id].order_id)
            if order is not None and order.packed_tau > start:
                what = f"{start_text(week, start)}, {order.order_id} is counted {end_text(week, order.packed_tau)} only"
                found.append(_reclaim_fault(reclaim, what, order.order_id, start))
    for (set_id, run_id), times in seen.items():
        if times > 1:
            what = f"{times} times after {run_text(week, run_id)}"
            found.append(_reclaim_fault(Reclaim(set_id=set_id, after_run_id=run_id, block_id=""), what))
    for block_id, block in blocks.items():
        if filled[block_id] > block.places:
            message = (
                f"{filled[block_id]} screens are reclaimed from {start_text(week, block.start_tau)}, there are "
                f"{block.places} places"
            )
            found.append(Violation(rule="reclaim_after_counted", at_tau=block.start_tau, message=message))
    return found


def _reclaim_fault(reclaim: Reclaim, what: str, order_id: str | None = None, at_tau: int | None = None) -> Violation:
    return Violation(
        rule="reclaim_after_counted",
        run_id=reclaim.after_run_id,
        order_id=order_id,
        at_tau=at_tau,
        message=f"set {reclaim.set_id} is reclaimed {what}",
    )

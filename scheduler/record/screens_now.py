"""The screen room now: which sets hang burned, what is coated, which frames are gone.

Where anybody ticks off screens, ticks count; a shop that ticks none is taken to have done what the plan says.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.domain.shop import BurnedSet, Frames, Shop
from scheduler.domain.week import ScreenSet
from scheduler.record.events import (
    BROKEN,
    BURNED,
    COATED,
    HELD,
    RECLAIMED,
    Event,
    FramesCoated,
    ScreenTicked,
)
from scheduler.record.runs_now import Floor, RunNow
from scheduler.workload.assumptions import Notes


@dataclass(slots=True)
class _Room:
    """Sets that carry an image, frames that came and went since the plan was made."""

    floor: Floor
    hanging: set[str]
    coated: Counter[str]
    held: set[str]
    broken: Counter[str]
    loose: Counter[str]
    """Frames of a broken set that hang and are still to be reclaimed."""

    def burn(self, one: ScreenSet) -> None:
        if one.set_id not in self.hanging:
            self.hanging.add(one.set_id)
            self.coated.subtract(dict(one.frames))

    def tick(self, one: ScreenSet, event: ScreenTicked) -> None:
        """A set, or one screen of it, has come to a state."""
        if event.state in (BURNED, HELD):
            self.burn(one)
            if event.state == HELD:
                self.held.add(one.set_id)
        elif event.state == RECLAIMED:
            self.hanging.discard(one.set_id)
            self.held.discard(one.set_id)
        elif event.state == BROKEN and one.set_id in self.hanging:
            self._break(one, event.screen_id)

    def _break(self, one: ScreenSet, screen_id: str | None) -> None:
        """The whole set is made anew: the broken frames are gone, the others hang to be reclaimed."""
        self.hanging.discard(one.set_id)
        broken = Counter(_classes(one, screen_id))
        self.broken.update(broken)
        self.loose.update(Counter(dict(one.frames)) - broken)


def screens_now(
    shop: Shop, floor: Floor, runs: Mapping[str, RunNow], events: Iterable[Event], now: datetime, notes: Notes
) -> tuple[tuple[BurnedSet, ...], tuple[Frames, ...]]:
    """What hangs burned (or hangs to be reclaimed), and all frames with how many of them are coated."""
    if shop.screen_room is None:
        return shop.burned, shop.frames
    week = floor.week
    ticks = [
        one
        for one in events
        if isinstance(one, ScreenTicked | FramesCoated) and week.clock.now < floor.aware(one.at) <= now
    ]
    room = _Room(
        floor=floor,
        hanging={one.set_id for one in week.sets if one.is_burned_now},
        coated=Counter({one.class_id: one.coated_now for one in week.frames}),
        held=set(),
        broken=Counter(),
        loose=Counter(),
    )
    for run in week.runs:
        if run.set_id in week.screen_set and runs[run.run_id].is_started:
            room.burn(week.screen_set[run.set_id])
    if ticks:
        for event in ticks:
            if isinstance(event, FramesCoated):
                (room.coated if event.state == COATED else room.broken)[event.class_id] += event.frames
            elif event.set_id in week.screen_set:
                room.tick(week.screen_set[event.set_id], event)
            else:
                notes.add("strange_event", "noted for screens that are in no order now: left out", "events")
    else:
        _as_planned(room, runs, floor.tau(now), notes)
    for run in week.runs:
        if run.set_id in week.screen_set and runs[run.run_id].is_going:
            room.burn(week.screen_set[run.set_id])
    burned = tuple(_burned(shop, room, runs, now))
    return burned, _frames(shop, room, burned)


def _as_planned(room: _Room, runs: Mapping[str, RunNow], now_tau: int, notes: Notes) -> None:
    """Burns and coating that the plan has had begun by now have been done, and reclaiming of what is printed."""
    week, plan = room.floor.week, room.floor.plan
    begun = [one for one in plan.runs if one.burn is not None and one.burn.start_tau < now_tau]
    for planned in begun:
        set_id = week.run[planned.run_id].set_id
        if set_id is not None:
            room.burn(week.screen_set[set_id])
            notes.add(
                "burned_as_planned", "burned as planned, as nobody ticks off screens", "screen sets", where=set_id
            )
    if week.screen_room is None:
        return
    windows = {one.window_id for one in week.screen_room.coat_windows if one.start_tau < now_tau}
    for batch in plan.coat_batches:
        room.coated[batch.class_id] += batch.count if batch.window_id in windows else 0
    blocks = {one.block_id: one.end_tau for one in week.screen_room.reclaim_blocks if one.start_tau < now_tau}
    for item in plan.reclaims:
        later = [one for one in begun if week.run[one.run_id].set_id == item.set_id]
        is_burned_again = any(
            one.burn is not None and one.burn.start_tau >= blocks.get(item.block_id, 0) for one in later
        )
        if item.block_id in blocks and runs[item.after_run_id].is_done and not is_burned_again:
            room.hanging.discard(item.set_id)


def _burned(shop: Shop, room: _Room, runs: Mapping[str, RunNow], now: datetime) -> Iterable[BurnedSet]:
    """Sets that hang: for their next run, or to be reclaimed where nobody prints from them any more."""
    week = room.floor.week
    for other in _not_yet_reclaimed(shop, room, now):
        if other.design_id not in week.screen_set:
            yield other
    for one in week.sets:
        if one.set_id in room.hanging:
            frames = tuple((*_size_and_mesh(class_id), count) for class_id, count in one.frames)
            is_over = one.set_id not in room.held and _is_over(room.floor, runs, one.set_id)
            yield BurnedSet(design_id=one.set_id, frames=frames, to_reclaim=is_over)
    loose = tuple((*_size_and_mesh(class_id), count) for class_id, count in sorted(room.loose.items()) if count)
    if loose:
        yield BurnedSet(design_id="sets with a broken screen", frames=loose, to_reclaim=True)


def _is_over(floor: Floor, runs: Mapping[str, RunNow], set_id: str) -> bool:
    """True once every order that prints from the set has all of its runs printed: then it is counted good."""
    orders = {floor.week.run[run_id].order_id for run_id in floor.week.runs_of_set.get(set_id, ())}
    return all(run.is_done for run_id, run in runs.items() if floor.drafts[run_id].order.order_id in orders)


def _not_yet_reclaimed(shop: Shop, room: _Room, now: datetime) -> Iterable[BurnedSet]:
    """Sets that hung to be reclaimed when the plan was made, without what its blocks have reclaimed by now."""
    week, now_tau = room.floor.week, room.floor.tau(now)
    blocks = week.screen_room.reclaim_blocks if week.screen_room else ()
    over = {block.block_id for block in blocks if block.end_tau <= now_tau}
    freed: Counter[str] = Counter()
    for block_id, class_id, count in week.early_reclaims:
        freed[class_id] += count if block_id in over else 0
    for one in shop.burned:
        if not one.to_reclaim:
            yield one
            continue
        left = []
        for size, mesh, count in one.frames:
            gone = min(count, freed[f"{size} {mesh}"])
            freed[f"{size} {mesh}"] -= gone
            if count > gone:
                left.append((size, mesh, count - gone))
        if left:
            yield replace(one, frames=tuple(left))


def _frames(shop: Shop, room: _Room, burned: Iterable[BurnedSet]) -> tuple[Frames, ...]:
    """All frames but broken ones, and those that are coated: at most as many as carry no image.

    The first line of a size and mesh carries what there is of them.
    """
    imaged: Counter[str] = Counter()
    for hanging in burned:
        for size, mesh, count in hanging.frames:
            imaged[f"{size} {mesh}"] += count
    known = set(room.coated)
    found: list[Frames] = []
    for one in shop.frames:
        class_id = f"{one.size} {one.mesh}"
        gone = min(one.count, room.broken[class_id])
        room.broken[class_id] -= gone
        with_image = min(one.count - gone, imaged[class_id])
        imaged[class_id] -= with_image
        wanted = room.coated[class_id] if class_id in known else one.coated
        coated = max(0, min(one.count - gone - with_image, wanted))
        room.coated[class_id] -= coated
        found.append(replace(one, count=one.count - gone, coated=coated))
    return tuple(found)


def _classes(one: ScreenSet, screen_id: str | None) -> dict[str, int]:
    """Frames of one screen of a set, or of all of them."""
    if screen_id is None or not one.notes:
        return dict(one.frames)
    return dict(Counter(f"{note.frame_size} {note.mesh}" for note in one.notes if note.screen_id == screen_id))


def _size_and_mesh(class_id: str) -> tuple[str, int]:
    size, mesh = class_id.rsplit(" ", 1)
    return size, int(mesh)

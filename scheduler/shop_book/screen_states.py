"""Screens and frames as they stand now: which set is on a press, burned, held or to be reclaimed; coated, broken."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.orders import WeekInputs
from scheduler.record.events import HELD, Event, ScreenTicked, that_count
from scheduler.shop_book.noting import events_of
from scheduler.shop_book.planning import question, typed_frames

ON_PRESS, BURNED, KEPT, TO_RECLAIM = "on press", "burned", "held", "to reclaim"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetState:
    """A screen set that carries its image. state: one of four; press: where it is on one. screens: how many."""

    set_id: str
    state: str
    screens: int
    press: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameState:
    """Frames of one size and mesh. count: those there are; the rest of them are clean. broken: gone since the week was
    typed.
    """

    size: str
    mesh: int
    count: int
    coated: int
    with_image: int
    broken: int

    @property
    def clean(self) -> int:
        """Frames without mesh coating or image."""
        return max(0, self.count - self.coated - self.with_image)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreensNow:
    """The screen room at a moment."""

    at: datetime
    sets: tuple[SetState, ...]
    frames: tuple[FrameState, ...]


def screens_now(address: str, now: str | datetime = "") -> ScreensNow:
    """How screens and frames stand, after all that was noted. now, and what it raises: as in `question`."""
    inputs = question(address, now, is_stated=True).inputs
    ticked = _held(events_of(address))
    return ScreensNow(
        at=inputs.shop.plan_from, sets=_sets(inputs, ticked), frames=_frames(inputs, typed_frames(address))
    )


def _held(events: tuple[Event, ...]) -> frozenset[str]:
    """Sets whose last tick says that they are held."""
    last = {one.set_id: one.state for one in that_count(events) if isinstance(one, ScreenTicked)}
    return frozenset(set_id for set_id, state in last.items() if state == HELD)


def _sets(inputs: WeekInputs, held: frozenset[str]) -> tuple[SetState, ...]:
    on = {press.now_on.design_id: press.press_id for press in inputs.shop.presses if press.now_on is not None}
    found = []
    for one in inputs.shop.burned:
        press = on.get(one.design_id, "")
        state = ON_PRESS if press else TO_RECLAIM if one.to_reclaim else KEPT if one.design_id in held else BURNED
        screens = sum(count for _, _, count in one.frames)
        found.append(SetState(set_id=one.design_id, state=state, screens=screens, press=press))
    return tuple(found)


def _frames(inputs: WeekInputs, typed: Counter[tuple[str, int]]) -> tuple[FrameState, ...]:
    imaged: Counter[tuple[str, int]] = Counter()
    for one in inputs.shop.burned:
        for size, mesh, count in one.frames:
            imaged[size, mesh] += count
    coated: Counter[tuple[str, int]] = Counter()
    there: Counter[tuple[str, int]] = Counter()
    for frames in inputs.shop.frames:
        coated[frames.size, frames.mesh] += frames.coated
        there[frames.size, frames.mesh] += frames.count
    return tuple(
        FrameState(
            size=size,
            mesh=mesh,
            count=there[size, mesh],
            coated=coated[size, mesh],
            with_image=imaged[size, mesh],
            broken=max(0, typed[size, mesh] - there[size, mesh]),
        )
        for size, mesh in there
    )

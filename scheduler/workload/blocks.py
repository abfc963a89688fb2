"""Booked times of the screen room: coating towards the end of each day, reclaiming before it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from scheduler.domain.calendars import LONG_STOP_MIN
from scheduler.domain.shop import ScreenRoom
from scheduler.domain.week import CoatWindow, ReclaimBlock
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis, OpenTimes
from scheduler.workload.people import Booking, Crewing
from scheduler.workload.spans import DAY_MIN, Span, Spans, covers, intersect

RACK_DRY_MIN = 720
"""Wall minutes after which a coated screen counts as dry where the shop does not close meanwhile.
Common practice, no source: makers say anything from 20 minutes in a strong cabinet to a day in still air.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomBlocks:
    """The screen room's booked times, and the people they book."""

    coat_windows: tuple[CoatWindow, ...] = ()
    reclaim_blocks: tuple[ReclaimBlock, ...] = ()
    bookings: tuple[Booking, ...] = ()


def build_blocks(axis: Axis, crewing: Crewing, notes: Notes) -> RoomBlocks:
    """A coat window and a reclaim block for each day on which the room is open and its people are in."""
    room = axis.shop.screen_room
    if room is None:
        return RoomBlocks()
    coats = _held(axis, crewing, _Plan(room=room, axis=axis).coat, "coating", notes)
    with_coats = replace(crewing, bookings=(*crewing.bookings, *(_booking(room, "coating", s) for _, s in coats)))
    coated_on = dict(coats)
    plan = _Plan(room=room, axis=axis, coats=coated_on)
    reclaims = _held(axis, with_coats, plan.reclaim, "reclaiming", notes)
    windows = tuple(_coat_window(axis, room, day, span) for day, span in coats if _places(span, room.coat_each_min) > 0)
    blocks = tuple(
        ReclaimBlock(
            block_id=f"reclaim {day.isoformat()}",
            start_tau=axis.clock.tau(span[0]),
            end_tau=axis.clock.tau(span[1]),
            places=_places(span, room.reclaim_each_min),
        )
        for day, span in reclaims
        if _places(span, room.reclaim_each_min) > 0
    )
    bookings = [_booking(room, "coating", span) for _, span in coats if _places(span, room.coat_each_min) > 0]
    bookings += [_booking(room, "reclaiming", span) for _, span in reclaims if _places(span, room.reclaim_each_min) > 0]
    return RoomBlocks(coat_windows=windows, reclaim_blocks=blocks, bookings=tuple(bookings))


def _booking(room: ScreenRoom, what: str, span: Span) -> Booking:
    return Booking(what=what, crew=room.crew, span=span)


def _places(span: Span, each_min: float) -> int:
    """Screens that can be done in the booked time, one after the other."""
    return int((span[1] - span[0]) // each_min) if each_min > 0 else DAY_MIN


def _coat_window(axis: Axis, room: ScreenRoom, day: date, span: Span) -> CoatWindow:
    return CoatWindow(
        window_id=f"coat {day.isoformat()}",
        start_tau=axis.clock.tau(span[0]),
        end_tau=axis.clock.tau(span[1]),
        ready_tau=axis.clock.tau(_ready_wall(axis, room, span[1])),
        places=min(room.coat_places, _places(span, room.coat_each_min)),
    )


def _ready_wall(axis: Axis, room: ScreenRoom, coated_at: int) -> int:
    """Wall minute from which a screen coated by `coated_at` may be burned."""
    if room.ready_after_min is not None:
        return coated_at + room.ready_after_min
    opens = axis.shop_times.normal
    for before, after in pairwise(opens):
        if after[0] >= coated_at and after[0] - before[1] >= LONG_STOP_MIN:
            return min(after[0], coated_at + RACK_DRY_MIN)
    return coated_at + RACK_DRY_MIN


Wish = Callable[[date, Spans], Span | None]
"""Where on a day a block goes, given when the room is open that day."""


def _held(axis: Axis, crewing: Crewing, wish: Wish, what: str, notes: Notes) -> list[tuple[date, Span]]:
    """The blocks that are really held: the room is open and its crew is in all the while.

    Where the set time never finds the crew in on any day, the block moves into the hours in which they are.
    """
    room = axis.shop.screen_room
    if room is None:
        return []
    open_times = OpenTimes(normal=axis.screens_times.normal)
    manned = crewing.narrowed(open_times, (room.crew, "")).normal
    found = [
        (day, span)
        for day in axis.days.all
        if (span := wish(day, _on_day(axis, day, open_times.normal))) and covers(manned, *span)
    ]
    if found or not manned:
        return found
    moved = [(day, span) for day in axis.days.all if (span := wish(day, _on_day(axis, day, manned)))]
    if moved:
        notes.add("block_moved", f"{what} moved into the hours in which its people are in", "days", count=len(moved))
    return moved


def _on_day(axis: Axis, day: date, spans: Spans) -> Spans:
    return intersect(spans, ((axis.days.at(day, 0), axis.days.at(day, DAY_MIN)),))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    room: ScreenRoom
    axis: Axis
    coats: dict[date, Span] | None = None

    def coat(self, day: date, opened: Spans) -> Span | None:
        """Coating at its set time, or in the last open minutes of a day that closes earlier."""
        wished = self._wished(day, self.room.coat_from_min, self.room.coat_length_min)
        if wished is None or not opened or covers(opened, *wished):
            return wished if opened else None
        return _last_minutes(opened[-1], self.room.coat_length_min)

    def reclaim(self, day: date, opened: Spans) -> Span | None:
        """Reclaiming at its set time, or just before coating on a day on which that is closed."""
        wished = self._wished(day, self.room.reclaim_from_min, self.room.reclaim_length_min)
        if wished is None or not opened or covers(opened, *wished):
            return wished if opened else None
        coat = (self.coats or {}).get(day)
        until = opened[-1][1] if coat is None else coat[0]
        before = [(start, min(end, until)) for start, end in opened if start < until]
        return _last_minutes(before[-1], self.room.reclaim_length_min) if before else None

    def _wished(self, day: date, from_min: int, length_min: int) -> Span | None:
        start = self.axis.days.at(day, from_min)
        end = start + length_min
        return (max(0, start), end) if length_min > 0 and end > 0 else None


def _last_minutes(span: Span, length_min: int) -> Span:
    return max(span[0], span[1] - length_min), span[1]

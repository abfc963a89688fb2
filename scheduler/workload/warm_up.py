"""Dryers and flashes get hot after every opening: a press can be set up meanwhile, but not print."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.calendars import Calendar
from scheduler.domain.shop import OFF_AFTER_MIN, Press
from scheduler.workload.axis import Axis, OpenTimes
from scheduler.workload.spans import Span, Spans, intersect, subtract, union


@dataclass(frozen=True, slots=True, kw_only=True)
class Heater:
    """Something that is switched on when it opens, and hot `warm_up_min` wall minutes later.

    before: when it was open before the planning moment. off_after_min: it stays on over shorter stops.
    """

    times: OpenTimes
    before: Spans
    warm_up_min: int
    off_after_min: int

    def hot(self, bought: Iterable[str]) -> Spans:
        """Wall minutes in which it is open and hot, if these overtime blocks are bought."""
        opened = union(
            (*self.before, *self.times.normal, *(span for one in bought for span in self.times.overtime.get(one, ())))
        )
        found: list[Span] = []
        on_at = last_end = None
        for start, end in opened:
            if on_at is None or last_end is None or start - last_end >= self.off_after_min:
                on_at = start
            found.append((max(0, start, on_at + self.warm_up_min), end))
            last_end = end
        return union(found)


def heaters(axis: Axis, press: Press) -> tuple[Heater, ...]:
    """What must be hot for a press to print: its dryer, and its flashes."""
    found = [
        Heater(
            times=axis.dryer_times[one.dryer_id],
            before=axis.heated_before[f"dryer {one.dryer_id}"],
            warm_up_min=one.warm_up_min,
            off_after_min=one.off_after_min,
        )
        for one in axis.shop.dryers
        if one.dryer_id == press.dryer_id and one.warm_up_min
    ]
    if press.flash_warm_up_min and press.flashes:
        found.append(
            Heater(
                times=axis.press_times[press.press_id],
                before=axis.heated_before[f"press {press.press_id}"],
                warm_up_min=press.flash_warm_up_min,
                off_after_min=OFF_AFTER_MIN,
            )
        )
    return tuple(found)


def print_calendars(axis: Axis, times: Mapping[str, OpenTimes]) -> dict[str, Calendar]:
    """When presses can print that are open at these times: those with something that must get hot first."""
    found = {press.press_id: print_calendar(axis, press, times[press.press_id]) for press in axis.shop.presses}
    return {press_id: calendar for press_id, calendar in found.items() if calendar is not None}


def print_calendar(axis: Axis, press: Press, open_times: OpenTimes) -> Calendar | None:
    """When a press that is open in `open_times` can print; None if nothing on it has to get hot."""
    found = heaters(axis, press)
    if not found:
        return None
    after = {one.block_id: one.after_id for one in axis.overtime}

    def printing(bought: tuple[str, ...]) -> Spans:
        spans = union((*open_times.normal, *(span for one in bought for span in open_times.overtime.get(one, ()))))
        for heater in found:
            spans = intersect(spans, heater.hot(bought))
        return spans

    normal = printing(())
    # Overtime before the opening is when the warm-up is over sooner: those minutes open with the block. Blocks that
    # must be bought first come first, so that each minute goes with the fewest blocks that open it.
    overtime: dict[str, Spans] = {}
    taken = normal
    for block_id in sorted(after, key=lambda one: (len(_with_earlier(one, after)), list(after).index(one))):
        spans = subtract(printing(_with_earlier(block_id, after)), taken)
        if spans:
            overtime[block_id] = spans
            taken = union((*taken, *spans))
    return axis.calendar(OpenTimes(normal=normal, overtime=overtime))


def _with_earlier(block_id: str, after: Mapping[str, str | None]) -> tuple[str, ...]:
    """A block, and all that must be bought before it."""
    found = [block_id]
    while (earlier := after.get(found[-1])) is not None and earlier not in found:
        found.append(earlier)
    return tuple(found)

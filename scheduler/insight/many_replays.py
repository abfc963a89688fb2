"""The plan lived through many times at once: queues kept, everything as planned or later, never earlier.

Each piece of work starts at its planned minute, or when the last of what it needs is over, whichever is later: what the
rules ask for (screens, garments, the press, prints before it), and, where people, belt or exposure unit went from one
piece of work to another in the plan, that other one. It takes its planned open minutes, times what the day brings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from itertools import pairwise

import numpy as np

from scheduler.domain.calendars import Calendar, Window
from scheduler.domain.chances import Chances
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.insight.draws import RunDays, run_days
from scheduler.insight.hand_on import Key, handed_on
from scheduler.insight.many_hours import ManyHours, Minutes, many_clock, many_hours
from scheduler.review.hours import open_min, open_windows
from scheduler.review.press_rules import is_started
from scheduler.review.uses import uses_in_order

RANK = {kind: at for at, kind in enumerate(("burn", "tape", "visit", "stage", "set-up", "print", "pack"))}
"""Which work comes first where two start and end at one minute."""


class ManyReplays:
    """All replays of one plan. ends[kind, id]: shop minutes by replay; packed[order]: when it is ready to leave."""

    def __init__(self, week: Week, plan: Plan, chances: Chances, replays: int, seed: int) -> None:
        """Draw what every replay brings."""
        self.week, self.plan, self.seed = week, plan, seed
        self.clock = many_clock(week.clock)
        self.hours: dict[str, ManyHours] = {}
        self.windows: dict[str, tuple[Window, ...]] = {}
        self.uses = uses_in_order(week, plan)
        self.handed = handed_on(week, plan)
        self.before: dict[str, PlannedRun] = {}
        for queue in plan.queue.values():
            for old, new in pairwise(queue):
                self.before[new.run_id] = old
        blocks = sorted(week.screen_room.reclaim_blocks, key=lambda b: b.start_tau) if week.screen_room else []
        self.block_starts = np.array([block.start_tau for block in blocks], dtype=np.int64)
        self.block_ends = np.array([block.end_tau for block in blocks], dtype=np.int64)
        self._draw(chances, replays)

    def again(self, chances: Chances, replays: int) -> ManyReplays:
        """The same plan lived anew with other chances; what only hangs on the plan is not worked out twice."""
        other = copy(self)
        other._draw(chances, replays)
        return other

    def _draw(self, chances: Chances, replays: int) -> None:
        self.replays = replays
        self.starts: dict[Key, Minutes] = {}
        self.ends: dict[Key, Minutes] = {}
        self.packed: dict[str, Minutes] = {}
        self.days: dict[str, RunDays] = {
            one.run_id: run_days(
                chances,
                one.run_id,
                self.week.run[one.run_id].order_id,
                self.week.run[one.run_id].on_press[one.press_id].print_min,
                replays,
                self.seed,
            )
            for one in self.plan.runs
        }

    def run(self) -> dict[str, Minutes]:
        """Packed minutes of every order, by replay."""
        for key, start_tau, end_tau in self._in_order():
            self._live(key, start_tau, end_tau)
        return self.packed

    def _in_order(self) -> Iterator[tuple[Key, int, int]]:
        """Everything that is worked on, in the order in which it is planned to start."""
        found: list[tuple[int, int, int, Key]] = []
        for one in self.plan.runs:
            spans = {
                "set-up": (one.set_up_start_tau, one.set_up_end_tau),
                "print": (one.print_start_tau, one.print_end_tau),
            }
            if one.stage_end_tau > one.stage_start_tau:
                spans["stage"] = (one.stage_start_tau, one.stage_end_tau)
            if one.burn is not None:
                spans["burn"] = (one.burn.start_tau, one.burn.end_tau)
                spans["tape"] = (one.burn.tape_start_tau, one.burn.tape_end_tau)
            found += [(start, end, RANK[kind], (kind, one.run_id)) for kind, (start, end) in spans.items()]
        for packed in self.plan.orders:
            for at, visit in enumerate(packed.stations):
                key = ("visit", f"{packed.order_id}#{at}")
                found.append((visit.start_tau, visit.end_tau, RANK["visit"], key))
            found.append((packed.finish_start_tau, packed.packed_tau, RANK["pack"], ("pack", packed.order_id)))
        for start, end, _, key in sorted(found):
            yield key, start, end

    def _live(self, key: Key, start_tau: int, end_tau: int) -> None:
        kind, owner = key
        start = np.full(self.replays, start_tau, dtype=np.int64)
        for needed in self._needs(key):
            start = np.maximum(start, needed)
        for other in self.handed.get(key, ()):
            start = np.maximum(start, self.ends[other])
        if kind == "visit":
            self._visit(key, start, end_tau)
            return
        hours = self._hours_of(key)
        worked = open_min(self.windows[self._place(key)[0]], start_tau, end_tau) if hours is not None else 0
        if hours is None or not worked:
            self.starts[key] = self.ends[key] = start
        else:
            self.starts[key] = np.where(start > start_tau, hours.start(start), start)
            self.ends[key] = hours.end(self.starts[key], self._minutes(key, worked))
        if kind == "pack":
            self.packed[owner] = self._packed(owner)

    def _minutes(self, key: Key, worked_min: int) -> Minutes:
        """What the day makes of the planned minutes; work that is planned to take none takes none."""
        kind, owner = key
        minutes = np.full(self.replays, worked_min, dtype=np.int64)
        if not worked_min or kind not in ("set-up", "print"):
            return minutes
        days = self.days[owner]
        factor = days.set_up if kind == "set-up" else days.printing
        minutes = np.maximum(1, np.rint(worked_min * factor).astype(np.int64))
        return minutes + days.lost_min if kind == "print" else minutes

    def _needs(self, key: Key) -> Iterator[Minutes]:
        """What must be over before this work starts, by the rules."""
        kind, owner = key
        if kind == "pack":
            yield from self._before_packing(owner)
            return
        if kind == "visit":
            yield from self._before_visit(owner)
            return
        one = self.plan.run[owner]
        run = self.week.run[owner]
        if kind == "burn":
            yield from self._before_burn(one)
        elif kind == "tape":
            yield self._dry(one)
        elif kind == "stage":
            yield from self._before_cart(one)
        elif kind == "set-up":
            if one.stage_end_tau > one.stage_start_tau:
                yield self.ends["stage", owner]
            else:
                yield from self._before_cart(one)
            if owner in self.before:
                yield self.ends["print", self.before[owner].run_id]
            for other in self.uses.get(run.set_id or "", ()):
                if other.print_end_tau <= one.set_up_start_tau and other is not one:
                    yield self.ends["print", other.run_id]
        else:
            yield self.ends["set-up", owner]
            for other in self.plan.runs:
                mate = self.week.run[other.run_id]
                is_needed = other.run_id in run.print_after or bool(mate.lot_ids & run.lot_ids)
                if is_needed and other is not one and other.print_end_tau <= one.print_start_tau:
                    yield self.ends["print", other.run_id] + mate.cure_min + mate.between_min

    def _before_cart(self, one: PlannedRun) -> Iterator[Minutes]:
        if is_started(self.week, one.run_id):
            return  # its garments and screens are at the press
        run = self.week.run[one.run_id]
        order = self.week.order[run.order_id]
        visits = sum(step.is_before for step in order.stations)
        if visits:
            yield self.ends["visit", f"{run.order_id}#{visits - 1}"]
        elif run.blanks_tau:
            yield self.clock.later(run.blanks_tau, self.days[one.run_id].blanks_days)
        if one.burn is not None:
            yield self.ends["tape", one.run_id] if one.burn.tape_end_tau > one.burn.tape_start_tau else self._dry(one)

    def _before_burn(self, one: PlannedRun) -> Iterator[Minutes]:
        run = self.week.run[one.run_id]
        if run.art_tau:
            yield self.clock.later(run.art_tau, self.days[one.run_id].art_days)
        uses = [use.run_id for use in self.uses.get(run.set_id or "", ())]
        for before in uses[: uses.index(one.run_id)]:
            packed = self.packed[self.week.run[before].order_id]
            yield self._reclaimed(packed)

    def _reclaimed(self, packed: Minutes) -> Minutes:
        """End of the first reclaim block that starts once an order is counted good."""
        at = np.searchsorted(self.block_starts, packed, side="left")
        known = np.clip(at, 0, len(self.block_ends) - 1)
        late = packed + (self.block_ends[-1] - self.block_starts[-1])
        return np.where(at < len(self.block_ends), self.block_ends[known], late)

    def _dry(self, one: PlannedRun) -> Minutes:
        assert self.week.screen_room is not None
        return self.clock.after(self.ends["burn", one.run_id], self.week.screen_room.dry_min)

    def _cured(self, order_id: str) -> Minutes:
        order = self.week.order[order_id]
        ends = [self.ends["print", run_id] + self.week.run[run_id].cure_min for run_id in order.run_ids]
        return _latest(ends)

    def _before_packing(self, order_id: str) -> Iterator[Minutes]:
        order = self.week.order[order_id]
        yield _latest([self.starts["print", run_id] for run_id in order.run_ids]) + order.finish_lag_min
        if not order.finish_min or self.week.finishing is None:
            yield self._boxed(order_id)

    def _before_visit(self, owner: str) -> Iterator[Minutes]:
        order_id, at = owner.rsplit("#", 1)
        order, number = self.week.order[order_id], int(at)
        is_before = order.stations[number].is_before
        if number and order.stations[number - 1].is_before == is_before:
            yield self.ends["visit", f"{order_id}#{number - 1}"]
        elif is_before:
            runs = [self.week.run[run_id] for run_id in order.run_ids]
            last = max(runs, key=lambda run: run.blanks_tau)
            if last.blanks_tau:
                yield self.clock.later(last.blanks_tau, self.days[last.run_id].blanks_days)
        else:
            yield self._cured(order_id)

    def _visit(self, key: Key, start: Minutes, end_tau: int) -> None:
        order_id, at = key[1].rsplit("#", 1)
        step = self.week.order[order_id].stations[int(at)]
        planned = self.plan.order[order_id].stations[int(at)]
        if step.is_sent_out:
            leaves = np.array([until for _, until, _ in step.returns], dtype=np.int64)
            backs = np.array([back for _, _, back in step.returns], dtype=np.int64)
            row = np.searchsorted(leaves, start, side="right")
            known = np.clip(row, 0, len(backs) - 1)
            self.ends[key] = np.where(row < len(backs), backs[known], start + end_tau - planned.start_tau)
        else:
            hours = self._hours_of(key)
            assert hours is not None
            start = np.where(start > planned.start_tau, hours.start(start), start)
            self.ends[key] = hours.end(start, np.full(self.replays, step.work_min, dtype=np.int64))
        self.starts[key] = start

    def _boxed(self, order_id: str) -> Minutes:
        order = self.week.order[order_id]
        boxed = self._cured(order_id) + order.last_box_min
        for at, step in enumerate(order.stations):
            if not step.is_before:
                boxed = np.maximum(boxed, self.ends["visit", f"{order_id}#{at}"])
        return boxed

    def _packed(self, order_id: str) -> Minutes:
        return np.maximum(self.ends["pack", order_id], self._boxed(order_id))

    def _place(self, key: Key) -> tuple[str, Calendar | None]:
        """Where work is done, and when it is open; None for what only takes time."""
        kind, owner = key
        week = self.week
        if kind in ("set-up", "print"):
            press = week.press[self.plan.run[owner].press_id]
            return f"{kind} {press.press_id}", press.prints_in if kind == "print" else press.calendar
        if kind == "visit":
            order_id, at = owner.rsplit("#", 1)
            station = week.station[week.order[order_id].stations[int(at)].station_id]
            return f"station {station.station_id}", station.calendar
        lines = {"stage": week.staging, "burn": week.screen_room, "tape": week.screen_room, "pack": week.finishing}
        line = lines[kind]
        return kind, line.calendar if line is not None else None

    def _hours_of(self, key: Key) -> ManyHours | None:
        name, calendar = self._place(key)
        if calendar is None:
            return None
        if name not in self.hours:
            self.hours[name] = many_hours(calendar, self.plan)
            self.windows[name] = open_windows(calendar, self.plan)
        return self.hours[name]


def _latest(rows: Sequence[Minutes]) -> Minutes:
    """The latest of several minutes, replay by replay."""
    latest = rows[0]
    for row in rows[1:]:
        latest = np.maximum(latest, row)
    return latest

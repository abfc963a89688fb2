"""An event simulation of a finished plan in simpy: its own reading of the rules, on wall minutes.

The plan's decisions (who goes where, when a thing may start at the earliest, kept inks, burns, batches, overtime) are
taken; every length, wait and end is worked out again minute by minute. A thing that finds its press, set, lot, frames,
people or belt taken waits, so a plan that breaks a rule ends late here. A minute runs from t to t + 1; at t + 0.5 the
desk hands out people and belt for it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Generator, Iterable
from functools import cache
from itertools import product
from typing import Any

import simpy

from scheduler.domain.calendars import Calendar
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Crew, Run, Stack, Week

Steps = Generator[simpy.Event, Any, Any]
PLENTY = 10**9


class OpenTimes:
    """Wall-minute opening times of one calendar with the overtime that was bought."""

    def __init__(self, week: Week, calendar: Calendar, bought: Iterable[str]) -> None:
        chosen = set(bought)
        spans: list[tuple[int, int]] = []
        for window in calendar.windows:
            if window.overtime_id is None or window.overtime_id in chosen:
                start = week.clock.wall_at_start(window.start_tau)
                spans.append((start, start + window.end_tau - window.start_tau))
        self.spans = spans
        self.starts = [start for start, _ in spans]

    def next_open(self, wall: int) -> int | None:
        """First open minute at or after `wall`."""
        index = bisect_right(self.starts, wall) - 1
        if index >= 0 and wall < self.spans[index][1]:
            return wall
        return self.starts[index + 1] if index + 1 < len(self.starts) else None


def set_up_by_trying_all(week: Week, press_id: str, old: Stack, new: Stack, kept: set[str], keeps: set[str]) -> int:
    """Set-up minutes by trying every order-preserving matching of old heads to new ones."""
    minutes = week.press[press_id].set_up
    before = [(h.screen_id, None if week.ink[h.ink_id].dries else h.ink_id) for h in old.heads]
    after = [(h.screen_id, h.ink_id) for h in new.heads]
    leave = {ink_id: minutes.leave_min(ink) for ink_id, ink in week.ink.items()}

    @cache
    def best(i: int, j: int) -> tuple[int, int, int, tuple[str, ...], tuple[str, ...]]:
        """(minutes, -same screens, touched, inks leaving, inks loaded) for the heads from i and j on."""
        options = []
        if i < len(before):
            ink = before[i][1]
            rest = best(i + 1, j)
            gone = (ink,) if ink else ()
            options.append((rest[0] + (leave[ink] if ink else 0), rest[1], rest[2], gone + rest[3], rest[4]))
        if j < len(after):
            rest = best(i, j + 1)
            cost = minutes.mount_min + minutes.load_min
            options.append((rest[0] + cost, rest[1], 1, rest[3], (after[j][1], *rest[4])))
        if i < len(before) and j < len(after):
            rest = best(i + 1, j + 1)
            same_screen, ink = before[i][0] == after[j][0], before[i][1]
            if same_screen and ink == after[j][1]:
                options.append((rest[0], rest[1] - 1, rest[2], rest[3], rest[4]))
            elif same_screen:
                cost = minutes.load_min + (leave[ink] if ink else 0)
                gone = (ink,) if ink else ()
                options.append((rest[0] + cost, rest[1] - 1, 1, gone + rest[3], (after[j][1], *rest[4])))
            elif ink == after[j][1]:
                options.append((rest[0] + minutes.mount_min + minutes.card_min, rest[1], 1, rest[3], rest[4]))
        return min(options) if options else (0, 0, 0, (), ())

    total, _, touched, _, loaded = best(0, 0)
    # Inks that stay live beside the stack are not cleaned; inks that stood beside the last stack need no loading.
    total -= sum(leave[ink] for ink in keeps - kept)
    new_inks = {ink for _, ink in after}
    total += sum(leave[ink] for ink in kept - keeps - new_inks)
    total += sum(minutes.card_min - minutes.load_min for ink in kept & new_inks & set(loaded))
    if old.pallet and new.pallet and old.pallet != new.pallet:
        total += minutes.pallet_min
    total += minutes.flash_move_min * len(set(new.flash_after) - set(old.flash_after))
    return total + (minutes.strike_off_min if touched else 0)


class Desk:
    """Hands out people and belt for each minute, first planned first served."""

    def __init__(self, env: simpy.Environment, week: Week, plan: Plan) -> None:
        self.env = env
        self.week = week
        self.asked: list[tuple[int, int, Crew, str, str | None, int, simpy.Event]] = []
        self.count = 0
        self.seated: list[tuple[str, str]] = []
        self.open = {p.person_id: OpenTimes(week, p.calendar, plan.overtime) for p in week.people}
        self.booked = [
            (week.clock.wall_at_start(one.start_tau), week.clock.wall_at_end(one.end_tau), one.role, one.count)
            for one in week.reservations
        ]

    def minute(self, since: int, crew: Crew, place: str, dryer_id: str | None, permille: int) -> simpy.Event:
        """Ask for a crew and a belt share for the minute from now; the event tells whether they were had."""
        event = self.env.event()
        if not self.asked:
            self.env.process(self._decide())
        self.count += 1
        self.asked.append((since, self.count, crew, place, dryer_id, permille, event))
        return event

    def _decide(self) -> Steps:
        yield self.env.timeout(0.5)
        now = int(self.env.now)
        there = [p for p in self.week.people if self.open[p.person_id].next_open(now) == now]
        held: dict[str, tuple[str, str]] = {}
        belt: dict[str, int] = {}
        self.seated = []
        if self.week.people:
            for start, end, role, count in self.booked:
                if start <= now < end and not self._seat(there, held, [(role, "")] * count):
                    raise AssertionError(f"nobody there for the booked {role} at {now}")
        for _, _, crew, place, dryer_id, permille, event in sorted(self.asked, key=lambda ask: ask[:2]):
            seats = [(role, place) for role, count in crew for _ in range(count)]
            fits_belt = dryer_id is None or belt.get(dryer_id, 0) + permille <= 1000
            had = fits_belt and (not self.week.people or self._seat(there, held, seats))
            if had and dryer_id is not None:
                belt[dryer_id] = belt.get(dryer_id, 0) + permille
            event.succeed(had)
        self.asked = []

    def _seat(self, there: list[Any], held: dict[str, tuple[str, str]], seats: list[tuple[str, str]]) -> bool:
        """Give every seat a person, moving people already seated if that helps; all or none."""
        if self.week.lead_covers > 1:
            return self._seat_with_leads(there, seats)
        trial = dict(held)
        if all(_placed(seat, there, trial, set()) for seat in seats):
            held.clear()
            held.update(trial)
            return True
        return False

    def _seat_with_leads(self, there: list[Any], seats: list[tuple[str, str]]) -> bool:
        """Where a lead may watch several presses: every way to hand the presses out, then the rest."""
        asked = [*self.seated, *seats]
        led = [place for role, place in asked if role == "lead" and place]
        rest = [(role, place) for role, place in asked if role != "lead" or not place]
        able = [[one for one in there if one.can("lead", place)] for place in led]
        for chosen in product(*able):
            if any(chosen.count(one) > self.week.lead_covers for one in chosen):
                continue
            held: dict[str, tuple[str, str]] = {}
            if all(_placed(seat, [one for one in there if one not in chosen], held, set()) for seat in rest):
                self.seated = asked
                return True
        return False


def _placed(seat: tuple[str, str], there: list[Any], held: dict[str, tuple[str, str]], seen: set[str]) -> bool:
    for person in there:
        if person.can(*seat) and person.person_id not in seen:
            seen.add(person.person_id)
            if person.person_id not in held or _placed(held[person.person_id], there, held, seen):
                held[person.person_id] = seat
                return True
    return False


class Replay:
    """One replay; `ends` has the wall minute at which each thing ended.

    begun, left: of set-ups and prints the wall minute of their first worked minute, and the minutes still to work.
    is_strict: a plan that has inks dry in is a fault.
    """

    is_strict = True

    def __init__(self, week: Week, plan: Plan) -> None:
        self.week, self.plan = week, plan
        self.env = simpy.Environment()
        self.desk = Desk(self.env, week, plan)
        self.ends: dict[tuple[str, str], int] = {}
        self.begun: dict[tuple[str, str], int] = {}
        self.left: dict[tuple[str, str], int] = {}
        self.floor_log: list[tuple[str, str, str, int, int]] = []
        """(what, id, window or run, frames, wall minute) of coating and reclaiming."""
        clock = week.clock
        self.start_of = clock.wall_at_start
        one = simpy.Resource
        self.presses = {press.press_id: one(self.env, 1) for press in week.presses}
        self.sets = {item.set_id: one(self.env, 1) for item in week.sets}
        self.lots = {lot: one(self.env, 1) for run in week.runs for lot in run.lot_ids}
        self.flashes = {pool.pool_id: simpy.Container(self.env, pool.units, pool.units) for pool in week.flash_pools}
        self.done = {run.run_id: self.env.event() for run in week.runs}
        self.cured = {run.run_id: self.env.event() for run in week.runs}
        self.started = {run.run_id: self.env.event() for run in week.runs}
        self.packed = {order.order_id: self.env.event() for order in week.orders}
        self.ready = {run.run_id: self.env.event() for run in week.runs}
        self.stations = {one.station_id: simpy.Resource(self.env, one.units or PLENTY) for one in week.stations}
        self.back = {order.order_id: self.env.event() for order in week.orders}
        self.clean, self.coated = {}, {}
        for stock in week.frames:
            self.clean[stock.class_id] = simpy.Container(self.env, PLENTY, stock.clean_now)
            self.coated[stock.class_id] = simpy.Container(self.env, PLENTY, stock.coated_now)
        room = week.screen_room
        if room is not None:
            self.units = one(self.env, room.exposure_units)
            self.rack = simpy.Container(self.env, room.rack_places, room.rack_places)
            self.room_open = OpenTimes(week, room.calendar, plan.overtime)
        self.reclaimed = {(item.set_id, item.after_run_id): self.env.event() for item in plan.reclaims}

    def run(self) -> dict[tuple[str, str], int]:
        """Play everything; returns {(what, id): wall minute of its end}."""
        self.prepare()
        self.env.run()
        return self.ends

    def prepare(self) -> None:
        """Everything stands ready to begin."""
        env = self.env
        for press_id, queue in self.plan.queue.items():
            state, kept = self.week.press[press_id].now_on, set[str]()
            for planned in queue:
                env.process(self._print_run(planned, self._set_up_min(planned, state, kept)))
                state = self.week.run[planned.run_id].on_press[press_id].stack
                kept = set(planned.kept_inks)
        for planned in self.plan.runs:
            env.process(self._screens(planned))
        for order in self.plan.orders:
            env.process(self._visit_before(order.order_id, order.stations))
            env.process(self._finish(order.order_id, order.finish_start_tau, order.stations))
        self._frame_moves()

    def _set_up_min(self, planned: PlannedRun, state: Stack, kept: set[str]) -> int:
        fixing = self.week.fixing.get(planned.run_id)
        if fixing is not None and fixing.kind == "started":
            return fixing.set_up_left_min or 0
        choice = self.week.run[planned.run_id].on_press[planned.press_id]
        if choice.stated_set_up_min is not None:
            return choice.stated_set_up_min + choice.set_up_extra_min
        keeps = set(planned.kept_inks)
        return choice.set_up_extra_min + set_up_by_trying_all(
            self.week, planned.press_id, state, choice.stack, kept, keeps
        )

    def _print_work_min(self, planned: PlannedRun, planned_min: int) -> int:
        """Minutes the print really takes: here those the plan says."""
        return planned_min

    def _until(self, wall: int) -> simpy.Event:
        return self.env.timeout(max(0, wall - self.env.now))

    def _work(
        self,
        work_min: int,
        hours: OpenTimes,
        crew: Crew,
        place: str,
        *,
        dryer: tuple[str | None, int] = (None, 0),
        restart: Any = None,
        drying: tuple[int, int, int] | None = None,
        name: tuple[str, str] | None = None,
    ) -> Steps:
        """Work `work_min` open minutes with a crew; pauses when closed, waits when people or belt are short.

        name: what is worked on, where its first minute and what is left of it are of interest.
        drying: longest pause the inks may stand, minutes to rinse them out before a longer one and to load them after.
        """
        env, since, last, in_a_row = self.env, int(self.env.now), None, 0
        while work_min > 0:
            opens = hours.next_open(int(env.now))
            if opens is None:
                raise AssertionError("ran out of open hours")
            if opens > env.now:
                yield env.timeout(opens - env.now)
            if restart is not None and last is not None and env.now > last:
                pause_min = int(env.now) - last
                work_min += restart.after(pause_min)
                if drying is not None and pause_min > drying[0]:
                    assert in_a_row >= drying[1] or not self.is_strict, "no time to rinse out before the stop"
                    work_min += drying[1] + drying[2]
                in_a_row = 0
            had = yield self.desk.minute(since, crew, place, *dryer)
            yield env.timeout(0.5)
            if had:
                work_min -= 1
                in_a_row += 1
                last = int(env.now)
                if name is not None:
                    self.begun.setdefault(name, last - 1)
                    self.left[name] = work_min

    def _screens(self, planned: PlannedRun) -> Steps:
        week, env, burn = self.week, self.env, planned.burn
        run = week.run[planned.run_id]
        if burn is None or run.set_id is None or week.screen_room is None:
            self.ready[planned.run_id].succeed()
            return
        room, one = week.screen_room, week.screen_set[run.set_id]
        yield self._until(self.start_of(max(burn.start_tau, run.art_tau)))
        before = self._use_before(planned, run.set_id)
        if before is not None and (run.set_id, before) in self.reclaimed:
            yield self.reclaimed[run.set_id, before]
        for class_id, count in one.frames:
            yield self.coated[class_id].get(count)
        with self.units.request() as unit:
            yield unit
            yield from self._work(one.burn_min, self.room_open, room.crew, "")
        self.ends["burn", planned.run_id] = int(env.now)
        if room.dry_min and one.screen_count:
            yield self.rack.get(one.screen_count)
            yield env.timeout(room.dry_min)
            yield self.rack.put(one.screen_count)
        if one.tape_min:
            yield self._until(self.start_of(burn.tape_start_tau))
            yield from self._work(one.tape_min, self.room_open, room.crew, "")
            self.ends["tape", planned.run_id] = int(env.now)
        self.ready[planned.run_id].succeed()

    def _use_before(self, planned: PlannedRun, set_id: str) -> str | None:
        uses = sorted(
            (self.plan.run[run_id] for run_id in self.week.runs_of_set[set_id]), key=lambda r: r.set_up_start_tau
        )
        index = uses.index(planned)
        return uses[index - 1].run_id if index else None

    def _print_run(self, planned: PlannedRun, set_up_min: int) -> Steps:
        week, env = self.week, self.env
        run, press = week.run[planned.run_id], week.press[planned.press_id]
        choice = run.printed_on(planned.press_id, planned.way)
        assert choice is not None
        hours = OpenTimes(week, press.calendar, self.plan.overtime)
        if week.staging is not None and planned.stage_end_tau > planned.stage_start_tau:
            yield self.ready[run.run_id]
            yield self.back[run.order_id]
            yield self._until(self.start_of(max(planned.stage_start_tau, run.blanks_tau)))
            open_floor = OpenTimes(week, week.staging.calendar, self.plan.overtime)
            yield from self._work(week.staging.minutes, open_floor, week.staging.crew, "")
            self.ends["stage", run.run_id] = int(env.now)
        fixing = week.fixing.get(run.run_id)
        if fixing is None or fixing.kind != "started":
            yield self.back[run.order_id]
        yield self._until(self.start_of(planned.set_up_start_tau))
        yield self.ready[run.run_id]
        holds = [(self.presses[press.press_id], self.presses[press.press_id].request())]
        if run.set_id is not None:
            holds.append((self.sets[run.set_id], self.sets[run.set_id].request()))
        for _, request in holds:
            yield request
        flashes = self.flashes[press.flash_pool] if press.flash_pool is not None and choice.flash_units else None
        if flashes is not None:
            yield flashes.get(choice.flash_units)
        self.left["set-up", run.run_id] = set_up_min
        yield from self._work(set_up_min, hours, press.set_up_crew, press.press_id, name=("set-up", run.run_id))
        self.ends["set-up", run.run_id] = int(env.now)
        hot = OpenTimes(week, press.prints_in, self.plan.overtime)
        opens = hot.next_open(int(env.now))
        yield self._until(opens if opens is not None else PLENTY)
        for earlier in run.print_after:
            yield self.cured[earlier]
        lots = [(self.lots[lot], self.lots[lot].request()) for lot in sorted(run.lot_ids)]
        for _, request in lots:
            yield request
        yield from self._dryer_set(planned)
        self.started[run.run_id].succeed()
        yield from self._work(
            self._print_work_min(planned, choice.print_min + choice.wash_up_min + _mixing_min(run, choice.print_min)),
            hot,
            press.run_crew,
            press.press_id,
            name=("print", run.run_id),
            dryer=(press.dryer_id, choice.belt_permille),
            restart=press.restart,
            drying=None if run.idle_ok_min is None else (run.idle_ok_min, choice.wash_up_min, choice.re_ink_min),
        )
        self.ends["print", run.run_id] = int(env.now)
        self.done[run.run_id].succeed()
        if flashes is not None:
            yield flashes.put(choice.flash_units)
        for resource, request in holds:
            resource.release(request)
        yield from self._shop_minutes(run.cure_min + run.between_min)
        for resource, request in lots:
            resource.release(request)
        self.cured[run.run_id].succeed()

    def _setting(self, planned: PlannedRun) -> tuple[str | None, str | None]:
        """The dryer a run prints into, and at what setting."""
        choice = self.week.run[planned.run_id].printed_on(planned.press_id, planned.way)
        return self.week.press[planned.press_id].dryer_id, choice.setting_id if choice is not None else None

    def _dryer_set(self, planned: PlannedRun) -> Steps:
        """Wait until every run printed before at another setting is through and the dryer has settled, or been off."""
        dryer_id, setting = self._setting(planned)
        line = next((one for one in self.week.dryers if one.dryer_id == dryer_id), None)
        if line is None or setting is None:
            return
        for other in self.plan.runs:
            its_dryer, its_setting = self._setting(other)
            before = (other.print_start_tau, other.run_id) < (planned.print_start_tau, planned.run_id)
            if not before or its_dryer != dryer_id or its_setting in (None, setting) or its_setting is None:
                continue
            yield self.done[other.run_id]
            end_tau = self.week.clock.tau(self.ends["print", other.run_id])
            settled = end_tau + self.week.run[other.run_id].cure_min + line.settle_min(its_setting, setting)
            yield self._until(self.start_of(min([settled, *(tau for tau in line.switched_on_tau if tau >= end_tau)])))

    def _shop_minutes(self, minutes: int) -> Steps:
        """Let `minutes` go by of those in which anything in the shop is open; stands after any cut it ends on."""
        tau = self.week.clock.tau(int(self.env.now)) + minutes
        yield self._until(self.start_of(tau) if minutes else int(self.env.now))

    def _visit_before(self, order_id: str, planned: Any) -> Steps:
        order = self.week.order[order_id]
        before = [(step, visit) for step, visit in zip(order.stations, planned, strict=True) if step.is_before]
        if before:
            blanks = max(self.week.run[run_id].blanks_tau for run_id in order.run_ids)
            yield self._until(self.start_of(blanks))
            yield from self._visits(order_id, before)
        self.back[order_id].succeed()

    def _visits(self, order_id: str, visits: Any) -> Steps:
        """One station after the other: worked on there with a crew, or away until the day's return."""
        week, env = self.week, self.env
        for step, visit in visits:
            yield self._until(self.start_of(visit.start_tau))
            station = week.station[step.station_id]
            with self.stations[station.station_id].request() as place:
                yield place
                if step.returns:
                    left = week.clock.tau(int(env.now))
                    (back,) = [back for first, until, back in step.returns if first <= left < until]
                    yield self._until(week.clock.wall_at_end(back))
                else:
                    yield from self._work(
                        step.work_min, OpenTimes(week, station.calendar, self.plan.overtime), station.crew, ""
                    )
            self.ends[f"station {order_id}", f"{visit.station_id} {visit.start_tau}"] = int(env.now)

    def _finish(self, order_id: str, start_tau: int, planned: Any) -> Steps:
        week, env = self.week, self.env
        order = week.order[order_id]
        for run_id in order.run_ids:
            yield self.started[run_id]
        clock = week.clock
        first_tau = clock.tau(int(env.now)) + order.finish_lag_min
        after = [(step, visit) for step, visit in zip(order.stations, planned, strict=True) if not step.is_before]
        back_tau = 0
        if after:
            for run_id in order.run_ids:
                yield self.done[run_id]
            cured_tau = max(week.clock.tau(self.ends["print", one]) + week.run[one].cure_min for one in order.run_ids)
            yield self._until(self.start_of(cured_tau))
            yield from self._visits(order_id, after)
            back_tau = week.clock.tau(int(env.now))
        if order.finish_min and week.finishing is not None:
            yield self._until(self.start_of(max(start_tau, first_tau)))
            hours = OpenTimes(week, week.finishing.calendar, self.plan.overtime)
            yield from self._work(order.finish_min, hours, week.finishing.crew, "")
        packed_tau = clock.tau(int(env.now)) if order.finish_min else 0
        for run_id in order.run_ids:
            yield self.done[run_id]
        last_tau = max(clock.tau(self.ends["print", run_id]) + week.run[run_id].cure_min for run_id in order.run_ids)
        packed_tau = max(packed_tau, last_tau + order.last_box_min, back_tau)
        self.ends["packed", order_id] = clock.wall_at_end(packed_tau)
        yield self._until(clock.wall_at_end(packed_tau))
        self.packed[order_id].succeed()

    def _frame_moves(self) -> None:
        room = self.week.screen_room
        if room is None:
            return
        windows = {window.window_id: window for window in room.coat_windows}
        blocks = {block.block_id: block for block in room.reclaim_blocks}
        for batch in self.plan.coat_batches:
            if batch.count:
                self.env.process(self._coat(windows[batch.window_id], batch.class_id, batch.count))
        for block_id, class_id, count in self.week.early_reclaims:
            self.env.process(self._give_back(self.start_of(blocks[block_id].end_tau), class_id, count))
        for item in self.plan.reclaims:
            self.env.process(self._reclaim(item.set_id, item.after_run_id, blocks[item.block_id]))

    def _coat(self, window: Any, class_id: str, count: int) -> Steps:
        yield self._until(self.start_of(window.start_tau))
        yield self.clean[class_id].get(count)
        self.floor_log.append(("coated", class_id, window.window_id, count, int(self.env.now)))
        yield self._until(self.start_of(window.ready_tau))
        yield self.coated[class_id].put(count)

    def _give_back(self, wall: int, class_id: str, count: int) -> Steps:
        yield self._until(wall)
        yield self.clean[class_id].put(count)

    def _reclaim(self, set_id: str, after_run_id: str, block: Any) -> Steps:
        yield self._until(self.start_of(block.start_tau))
        yield self.packed[self.week.run[after_run_id].order_id]
        length = self.week.clock.wall_at_end(block.end_tau) - self.start_of(block.start_tau)
        yield self.env.timeout(length)
        self.reclaimed[set_id, after_run_id].succeed()
        self.floor_log.append(("reclaimed", set_id, after_run_id, 0, int(self.env.now)))
        for class_id, count in self.week.screen_set[set_id].frames:
            yield self.clean[class_id].put(count)


def _mixing_min(run: Run, print_min: int) -> int:
    """Minutes the press stands to mix again: each time what was mixed is used up and something is left to print."""
    stands, left = 0, print_min
    while run.pot_life_min is not None and left > run.pot_life_min:
        left -= run.pot_life_min
        stands += run.remix_min
    return stands


def planned_ends(week: Week, plan: Plan) -> dict[tuple[str, str], int]:
    """The same ends as the plan states them, in wall minutes."""
    end = week.clock.wall_at_end
    found: dict[tuple[str, str], int] = {}
    for planned in plan.runs:
        run = week.run[planned.run_id]
        found["set-up", run.run_id] = (
            end(planned.set_up_end_tau) if planned.set_up_min else week.clock.wall_at_start(planned.set_up_start_tau)
        )
        found["print", run.run_id] = end(planned.print_end_tau)
        if planned.stage_end_tau > planned.stage_start_tau:
            found["stage", run.run_id] = end(planned.stage_end_tau)
        if planned.burn is not None and run.set_id is not None:
            found["burn", run.run_id] = end(planned.burn.end_tau)
            if week.screen_set[run.set_id].tape_min:
                found["tape", run.run_id] = end(planned.burn.tape_end_tau)
    for order in plan.orders:
        found["packed", order.order_id] = end(order.packed_tau)
        for visit in order.stations:
            found[f"station {order.order_id}", f"{visit.station_id} {visit.start_tau}"] = end(visit.end_tau)
    return found

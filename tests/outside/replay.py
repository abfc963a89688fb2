"""An event simulation of a finished plan in simpy: its own reading of the rules, on wall minutes.

The plan's decisions (who goes where, when a thing may start at the earliest, kept inks, burns, batches, overtime) are
taken; every length, wait and end is worked out again minute by minute. A thing that finds its press, set, lot, frames,
people or belt taken waits, so a plan that breaks a rule ends late here. A minute runs from t to t + 1; at t + 0.5 the
desk hands out people and belt for it.
"""

from __future__ import annotations

from typing import Any

import simpy

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Crew, Run, Stack, Week
from tests.outside.desk import PLENTY, Desk, OpenTimes, Steps
from tests.outside.set_ups import set_up_by_trying_all


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

"""A week's tables written into one row of whole numbers, once; and the open hours of each set of bought overtime."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from scheduler.domain.stations import StationStep
from scheduler.domain.week import Stack
from scheduler.search.quick import slots as at
from scheduler.search.quick.hours import Row
from scheduler.search.quick.packed_needs import packing_of
from scheduler.search.quick.set_ups import MOST_HEADS
from scheduler.search.tables import ChoiceSpec, Opened, OrderSpec, RunSpec, SetSpec, Tables
from scheduler.search.timing import Hours


class WeekRow:
    """The row of a week, and where in it runs, choices and inks are.

    choice_at: by run, press and way. ink_number: inks in order of their ids. row: without open hours.
    """

    def __init__(self, tables: Tables) -> None:
        """Write everything that no genome and no overtime changes."""
        self.tables = tables
        self.numbers: list[int] = [0] * at.WEEK_SLOTS
        self.choice_at: dict[tuple[int, int, int], int] = {}
        self.packing = packing_of(tables)
        self.ink_number = {ink_id: i for i, ink_id in enumerate(sorted(tables.week.ink))}
        self.screen_number: dict[str, int] = {}
        self.pallet_number: dict[str, int] = {}
        self.stack_number: dict[Stack, int] = {}
        self.setting_number: dict[tuple[str | None, str | None], int] = {}
        self.minutes_classes = 0
        self._write()
        self.row: Row = np.array(self.numbers, dtype=np.int64)

    @property
    def pair_count(self) -> int:
        """Pairs of stacks, apart for presses with other minutes."""
        return self.minutes_classes * len(self.stack_number) ** 2

    @property
    def scratch_size(self) -> int:
        """Numbers the scratch row holds."""
        head = int(self.row[at.W_SCRATCH_KEPT])
        return head + 4 * MOST_HEADS + 3 * (MOST_HEADS + 1) ** 2

    def with_hours(self, opened: Opened) -> Row:
        """The row with the open hours of one set of bought overtime written behind it."""
        tail: list[int] = []
        begin = len(self.row)
        row = self.row.copy()
        known: dict[int, int] = {}

        def address(hours: Hours) -> int:
            if id(hours) not in known:
                known[id(hours)] = begin + len(tail)
                tail.extend((len(hours.starts), hours.total))
                for part in (hours.starts, hours.ends, hours.opened, hours.stops, hours.restarts):
                    tail.extend(part)
            return known[id(hours)]

        for number, (hours, prints) in enumerate(zip(opened.presses, opened.prints, strict=True)):
            press = row[row[at.W_PRESSES] + number]
            row[press + at.L_HOURS] = address(hours)
            row[press + at.L_PRINTS] = address(prints)
        row[at.W_ROOM_HOURS] = address(opened.room)
        row[at.W_STAGING_HOURS] = address(opened.staging)
        row[at.W_FINISHING_HOURS] = address(opened.finishing)
        for number, hours in enumerate(opened.stations):
            row[row[at.W_STATION_HOURS] + number] = address(hours)
        every = [*opened.presses, *opened.prints, opened.room, opened.staging, opened.finishing, *opened.stations]
        room = 2 * sum(len(hours.starts) + 8 for hours in every) + 64
        # A run put before fixed ones moves two of them, and packs their orders anew.
        row[at.W_EVENT_ROOM] = 4 * room if row[at.W_HAS_LOCKS] else room
        return np.concatenate((row, np.array(tail, dtype=np.int64)))

    def _write(self) -> None:
        tables, numbers = self.tables, self.numbers
        week = tables.week
        numbers[at.W_ONE], numbers[at.W_ONE_GUARD] = 1, 1 << 40
        numbers[at.W_WORDS] = self.packing.words
        numbers[at.W_GUARDS] = self._put(self.packing.guards)
        self._write_needs()
        numbers[at.W_STAGE_MIN], numbers[at.W_ROOM_IDLE_OK] = tables.stage_min, tables.room_idle_ok_min
        numbers[at.W_DRY_MIN], numbers[at.W_AHEAD_MIN] = tables.dry_min, tables.ahead_min
        numbers[at.W_NOT_AHEAD_CENTS] = tables.not_ahead_cents_per_min
        numbers[at.W_MOVE_CENTS], numbers[at.W_MOVE_FREE_MIN] = week.prices.move_cents, week.prices.move_free_min
        numbers[at.W_RUN_COUNT], numbers[at.W_ORDER_COUNT] = len(tables.runs), len(tables.orders)
        numbers[at.W_PRESS_COUNT] = len(week.presses)
        numbers[at.W_HAS_LOCKS] = int(any(one.fixed_start_tau >= 0 and not one.is_started for one in tables.runs))
        numbers[at.W_STATION_HOURS] = self._put([0] * len(week.stations))
        numbers[at.W_INKS] = self._put(int(week.ink[ink_id].dries) for ink_id in self.ink_number)
        self._write_frames()
        numbers[at.W_RUNS] = self._put([0] * len(tables.runs))
        numbers[at.W_PRESSES] = self._put([0] * len(week.presses))
        self._write_presses()
        for run in tables.runs:
            numbers[numbers[at.W_RUNS] + run.number] = self._run(run)
        numbers[at.W_STACKS] = self._put([0] * len(self.stack_number))
        numbers[at.W_STACK_COUNT] = len(self.stack_number)
        for stack, number in self.stack_number.items():
            numbers[numbers[at.W_STACKS] + number] = self._stack(stack)
        self._write_plan_slots()
        numbers[at.W_ORDERS] = self._put([0] * len(tables.orders))
        steps = 0
        for i, order in enumerate(tables.orders):
            numbers[numbers[at.W_ORDERS] + i] = self._order(order, steps)
            steps += len(order.before) + len(order.after)
        self._write_ink_runs()

    def _put(self, values: Iterable[int]) -> int:
        address = len(self.numbers)
        self.numbers.extend(values)
        return address

    def _record(self, size: int, values: dict[int, int]) -> int:
        record = [0] * size
        for slot, value in values.items():
            record[slot] = value
        return self._put(record)

    def _need(self, packed: int) -> int:
        return self._put(self.packing.words_of(packed))

    def _write_needs(self) -> None:
        tables, numbers = self.tables, self.numbers
        for slot, has, need in (
            (at.W_ROOM_NEED, at.W_HAS_ROOM_NEED, tables.room_need),
            (at.W_STAGE_NEED, at.W_HAS_STAGE_NEED, tables.stage_need),
            (at.W_FINISH_NEED, at.W_HAS_FINISH_NEED, tables.finish_need),
        ):
            numbers[slot], numbers[has] = self._need(need), int(need != 0)

    def _write_frames(self) -> None:
        tables, numbers, frames = self.tables, self.numbers, self.tables.frames
        numbers[at.W_CLASSES] = len(frames.class_ids)
        numbers[at.W_COATED_NOW] = self._put(frames.coated_now)
        numbers[at.W_WINDOWS] = self._put(n for window in frames.windows for n in window)
        numbers[at.W_WINDOW_COUNT] = len(frames.windows)
        numbers[at.W_READIES], numbers[at.W_READY_COUNT] = self._put(frames.readies), len(frames.readies)
        numbers[at.W_BLOCKS] = self._put(n for block in tables.blocks for n in block)
        numbers[at.W_BLOCK_COUNT] = len(tables.blocks)
        drying = tables.drying
        numbers[at.W_CUTS] = self._put((*drying.cuts_tau, *drying.walls, *drying.wall_ends))
        numbers[at.W_CUT_COUNT] = len(drying.cuts_tau)

    def _write_presses(self) -> None:
        week, numbers = self.tables.week, self.numbers
        classes: dict[object, int] = {}
        dryers: dict[str, int] = {}
        lines = {line.dryer_id: line for line in week.dryers}
        for number, press in enumerate(week.presses):
            minutes = press.set_up
            dryer = -1
            if press.dryer_id in lines:
                if press.dryer_id not in dryers:
                    dryers[press.dryer_id] = self._dryer(press.dryer_id)
                dryer = dryers[press.dryer_id]
            slots = {
                at.L_MOUNT: minutes.mount_min,
                at.L_LOAD: minutes.load_min,
                at.L_CARD: minutes.card_min,
                at.L_PALLET: minutes.pallet_min,
                at.L_FLASH: minutes.flash_move_min,
                at.L_STRIKE_OFF: minutes.strike_off_min,
                at.L_STACK_NOW: self._stack_number(press.now_on),
                at.L_MINUTES_CLASS: classes.setdefault(minutes, len(classes)),
                at.L_DRYER: dryer,
            }
            for ink_id, ink in self.ink_number.items():
                slots[at.L_LEAVE + ink] = minutes.leave_min(week.ink[ink_id])
            size = at.L_LEAVE + len(self.ink_number)
            numbers[numbers[at.W_PRESSES] + number] = self._record(size, slots)
        self.minutes_classes = len(classes)

    def _dryer(self, dryer_id: str) -> int:
        week = self.tables.week
        line = next(one for one in week.dryers if one.dryer_id == dryer_id)
        presses = [i for i, press in enumerate(week.presses) if press.dryer_id == dryer_id]
        ids = [one.setting_id for one in line.settings]
        self.setting_number.update({(dryer_id, setting_id): i for i, setting_id in enumerate(ids)})
        slots = {
            at.D_PRESSES: self._put(presses),
            at.D_PRESS_COUNT: len(presses),
            at.D_ON: self._put(line.switched_on_tau),
            at.D_ON_COUNT: len(line.switched_on_tau),
            at.D_SETTLE: self._put(line.settle_min(one, other) for one in ids for other in ids),
            at.D_SETTING_COUNT: len(ids),
        }
        return self._record(at.DRYER_SIZE, slots)

    def _stack_number(self, stack: Stack) -> int:
        return self.stack_number.setdefault(stack, len(self.stack_number))

    def _stack(self, stack: Stack) -> int:
        heads = [
            number
            for head in stack.heads
            for number in (
                self.screen_number.setdefault(head.screen_id, len(self.screen_number)),
                self.ink_number[head.ink_id],
            )
        ]
        pallet = -1
        if stack.pallet is not None:
            pallet = self.pallet_number.setdefault(stack.pallet, len(self.pallet_number))
        flashes = self._put(sorted(set(stack.flash_after)))
        return self._put([pallet, flashes, len(set(stack.flash_after)), len(stack.heads), *heads])

    def _run(self, run: RunSpec) -> int:
        choices = [self._choice(run, choice) for choice in run.choices]
        slots = {
            at.R_ORDER: run.order,
            at.R_SET: run.screen_set,
            at.R_BLANKS: run.blanks_tau,
            at.R_ART: run.art_tau,
            at.R_IDLE_OK: run.idle_ok_min,
            at.R_CURE: run.cure_min,
            at.R_GAP: run.gap_min,
            at.R_IS_STARTED: int(run.is_started),
            at.R_FIXED_PRESS: run.fixed_press,
            at.R_FIXED_START: run.fixed_start_tau,
            at.R_ANNOUNCED_PRESS: run.announced_press,
            at.R_ANNOUNCED_TAU: run.announced_tau,
            at.R_LEAST_CENTS: run.least_cents,
            at.R_SET_UP_LEFT: run.set_up_left_min,
            at.R_LEAST_WORK: min((way.work_min for one in run.choices for way in (one, *one.other_ways)), default=0),
            at.R_CHOICES: self._put(choices),
            at.R_CHOICE_COUNT: len(choices),
        }
        for slot, count, others in (
            (at.R_AFTER, at.R_AFTER_COUNT, run.after),
            (at.R_BEFORE, at.R_BEFORE_COUNT, run.before),
            (at.R_MATES, at.R_MATE_COUNT, run.mates),
        ):
            slots[slot], slots[count] = self._put(others), len(others)
        return self._record(at.RUN_SIZE, slots)

    def _choice(self, run: RunSpec, choice: ChoiceSpec) -> int:
        ways = [self._choice(run, way) for way in choice.other_ways]
        dryer_id = self.tables.week.presses[choice.press].dryer_id
        setting = self.setting_number.get((dryer_id, choice.setting_id), -1)
        slots = {
            at.C_PRESS: choice.press,
            at.C_WORK_MIN: choice.work_min,
            at.C_EXTRA_MIN: choice.extra_min,
            at.C_STATED_MIN: -1 if choice.stated_min is None else choice.stated_min,
            at.C_WASH_UP_MIN: choice.wash_up_min,
            at.C_RE_INK_MIN: choice.re_ink_min,
            at.C_IS_PREFERRED: int(choice.is_preferred),
            at.C_CENTS_PER_MIN: choice.cents_per_min,
            at.C_PRINT_CENTS: choice.print_cents,
            at.C_KEEP_ROOM: choice.keep_room,
            at.C_SETTING: setting,
            at.C_WAY: choice.way,
            at.C_STACK: self._stack_number(choice.stack),
            at.C_OTHER_WAYS: self._put(ways),
            at.C_OTHER_WAY_COUNT: len(ways),
        }
        for slot, has, need in (
            (at.C_SET_UP_NEED, at.C_HAS_SET_UP_NEED, choice.set_up_need),
            (at.C_PRINT_NEED, at.C_HAS_PRINT_NEED, choice.print_need),
            (at.C_FLASH_NEED, at.C_HAS_FLASH_NEED, choice.flash_need),
        ):
            slots[slot], slots[has] = self._need(need), int(need != 0)
        address = self._record(at.CHOICE_SIZE, slots)
        self.choice_at[run.number, choice.press, choice.way] = address
        return address

    def _order(self, order: OrderSpec, steps: int) -> int:
        slots = {
            at.O_RUNS: self._put(order.runs),
            at.O_RUN_COUNT: len(order.runs),
            at.O_PICKUPS: self._put(order.pickups_tau),
            at.O_PICKUP_COUNT: len(order.pickups_tau),
            at.O_MUST_LEAVE: order.must_leave,
            at.O_LATE_CENTS: order.late_cents,
            at.O_CUSHION_FROM: order.cushion_from_tau,
            at.O_CUSHION_CENTS: order.cushion_cents,
            at.O_FINISH_MIN: order.finish_min,
            at.O_FINISH_LAG: order.finish_lag_min,
            at.O_LAST_BOX: order.last_box_min,
            at.O_BEFORE: self._steps(order.before),
            at.O_BEFORE_COUNT: len(order.before),
            at.O_AFTER: self._steps(order.after),
            at.O_AFTER_COUNT: len(order.after),
            at.O_STEPS_AT: steps,
        }
        return self._record(at.ORDER_SIZE, slots)

    def _steps(self, steps: Sequence[StationStep]) -> int:
        records = []
        for step in steps:
            spec = self.tables.stations[step.station_id]
            records.append(
                {
                    at.V_WORK_MIN: step.work_min,
                    at.V_HOURS: self.numbers[at.W_STATION_HOURS] + spec.number,
                    at.V_UNIT_NEED: self._need(spec.unit_need),
                    at.V_HAS_UNIT: int(spec.unit_need != 0),
                    at.V_CREW_NEED: self._need(spec.crew_need),
                    at.V_HAS_CREW: int(spec.crew_need != 0),
                    at.V_RETURNS: self._put(n for one in step.returns for n in one),
                    at.V_RETURN_COUNT: len(step.returns),
                }
            )
        address = len(self.numbers)
        for slots in records:
            self._record(at.STEP_SIZE, slots)
        return address

    def _write_ink_runs(self) -> None:
        """Per press and ink: the runs that could print with it there."""
        numbers, inks = self.numbers, self.ink_number
        found: dict[tuple[int, int], list[int]] = {}
        for run in self.tables.runs:
            for choice in run.choices:
                for ink in sorted({inks[head.ink_id] for head in choice.stack.heads}):
                    found.setdefault((choice.press, ink), []).append(run.number)
        presses = []
        for press in range(len(self.tables.week.presses)):
            entries = []
            for ink in range(len(inks)):
                runs = found.get((press, ink), [])
                entries += [self._put(runs), len(runs)]
            presses.append(self._put(entries))
        numbers[at.W_INK_RUNS] = self._put(presses)

    def _write_plan_slots(self) -> None:
        """Where everything stands in the row of a partial plan; the floor comes last, so that it can grow."""
        tables, numbers = self.tables, self.numbers
        runs, orders, sets = len(tables.runs), len(tables.orders), len(tables.sets)
        kept = max([choice.keep_room for run in tables.runs for choice in run.choices], default=0)
        numbers[at.W_MOST_KEPT] = max(kept, 0)
        numbers[at.W_PLACED_SIZE] = at.A_KEPT + max(kept, 0)
        most_frames = max((len(one.frames) for one in tables.sets), default=0)
        steps = sum(len(order.before) + len(order.after) for order in tables.orders)
        sizes = {
            at.P_PLACED: runs * numbers[at.W_PLACED_SIZE],
            at.P_QUEUES: len(tables.week.presses) * (runs + 1),
            at.P_USES: sum(len(one.runs) + 1 for one in tables.sets),
            at.P_RECLAIMED: runs,
            at.P_BLOCK_LEFT: len(tables.blocks),
            at.P_ORDER_LEFT: orders,
            at.P_SET_LEFT: sets,
            at.P_FINISH: orders,
            at.P_PACKED: orders,
            at.P_STEPS: 2 * steps,
            at.P_PUT_OFF: 3 * (runs + 1),
            at.P_BURNS: 3 * (runs * most_frames + 1),
            at.P_TAKEN: len(tables.frames.class_ids),
            at.P_CLEAN: len(tables.frames.class_ids) * len(tables.frames.windows),
            at.P_SHOTS: 1 + 2 * (2 + 2 * runs),
            at.P_RACK: 1 + 2 * (2 + 2 * runs),
            at.P_WAITING: runs + 1,
            at.P_FLOOR: 0,
        }
        address = at.PLAN_SLOTS
        for slot, size in sizes.items():
            numbers[slot] = address
            address += size
        use = numbers[at.P_USES]
        numbers[at.W_SETS] = self._put([0] * sets)
        for i, one in enumerate(tables.sets):
            numbers[numbers[at.W_SETS] + i] = self._set(one, use)
            use += len(one.runs) + 1
        numbers[at.W_SCRATCH_FRAMES] = at.X_APART + 4 * runs + 4
        waiting = 3 * (runs * most_frames + most_frames + 1)
        numbers[at.W_SCRATCH_KEPT] = numbers[at.W_SCRATCH_FRAMES] + 2 * len(tables.frames.class_ids) + waiting

    def _set(self, one: SetSpec, use_at: int) -> int:
        slots = {
            at.K_SCREENS: one.screens,
            at.K_BURN_MIN: one.burn_min,
            at.K_TAPE_MIN: one.tape_min,
            at.K_IS_BURNED: int(one.is_burned_now),
            at.K_BURN_CENTS: one.burn_cents,
            at.K_IS_STARTED: int(one.is_started),
            at.K_RUN_COUNT: len(one.runs),
            at.K_FRAMES: self._put(n for frame in one.frames for n in frame),
            at.K_FRAME_COUNT: len(one.frames),
            at.K_USES: use_at,
        }
        return self._record(at.SET_SIZE, slots)

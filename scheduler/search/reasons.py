"""Why each run starts when it does, read off the finished plan in a few shop words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from scheduler.domain.plan import Burn, Plan, PlannedRun
from scheduler.domain.stations import PlannedStep
from scheduler.domain.week import OrderDue, Week
from scheduler.search.finds import finds
from scheduler.search.passed_over import passed_over
from scheduler.search.placing import keeps_apart, rinsed_print
from scheduler.search.profiles import FIELD_BITS, MOST, Track
from scheduler.search.tables import ChoiceSpec, Opened, RunSpec, Tables, opened_with, tables_of
from scheduler.search.timing import NEVER, Hours, first_print
from scheduler.search.words import from_text, listed, minutes_text, press_text, until_text

PEOPLE, BELT, ANNOUNCED = "waiting for people", "belt full", "kept near its announced time"
AHEAD = "its screens should stand ready"
FLASH = "waiting for a flash"
SET_OTHERWISE = "dryer set otherwise"
INK_STANDS = "its ink may not stand over the stop before"
"""How reasons start that no garments, screens or prints account for."""


def with_reasons(week: Week, plan: Plan, is_over: Callable[[], bool] = lambda: False) -> Plan:
    """The same plan with every run's `reason` filled: what holds its set-up back, then what it finds on the press.

    is_over: once it says True, no more is tried in the hours a press stands open.
    """
    reader, passed = _Reader(week, plan), passed_over(week, plan, is_over)
    reasons = {one.run_id: [reader.reason(one), passed.get(one.run_id, "")] for one in plan.runs}
    return replace(
        plan, runs=tuple(replace(one, reason="; ".join(filter(None, reasons[one.run_id]))) for one in plan.runs)
    )


@dataclass(frozen=True, slots=True)
class _Hold:
    """Something that keeps a set-up from starting before an open minute of the press, and its words."""

    index: int
    words: str


class _Reader:
    def __init__(self, week: Week, plan: Plan) -> None:
        self.week = week
        self.plan = plan
        self.tables: Tables = tables_of(week)
        self.opened: Opened = opened_with(self.tables, frozenset(plan.overtime))
        self.before: dict[str, PlannedRun | None] = {}
        for queue in plan.queue.values():
            for old, new in zip((None, *queue), queue, strict=False):
                self.before[new.run_id] = old
        self.done_at: dict[int, list[tuple[int, str]]] = {}
        self.floor = self._floor()

    def reason(self, one: PlannedRun) -> str:
        """What holds the run back; what speaks for it just here."""
        facts = () if self._is_started(one) else finds(self.week, self.plan, one, self.before[one.run_id])
        return "; ".join([self._held_by(one), *facts])

    def _held_by(self, one: PlannedRun) -> str:
        fixing = self.week.fixing.get(one.run_id)
        if self._is_started(one):
            return "started"
        if fixing is not None and fixing.set_up_start_tau is not None:
            return f"{fixing.kind} at {from_text(self.week, one.set_up_start_tau)}"
        hold = self.hold(one)
        return hold.words if hold is not None else self._crowded(one)

    def hold(self, one: PlannedRun) -> _Hold | None:
        """What the run's set-up starts right after; None for fixed runs, and where people, belt or hours decide."""
        fixing = self.week.fixing.get(one.run_id)
        if fixing is not None and fixing.set_up_start_tau is not None:
            return None
        run, _, hours, _ = self._specs(one)
        index = hours.index_from(one.set_up_start_tau)
        holds = [
            *self._garments(one, run, hours),
            *self._screens(one, run, hours),
            self._press(one, hours),
            *self._other_prints(one, run, hours),
        ]
        return next((hold for hold in holds if hold.index >= index), None)

    def _is_started(self, one: PlannedRun) -> bool:
        fixing = self.week.fixing.get(one.run_id)
        return fixing is not None and fixing.kind == "started"

    def _specs(self, one: PlannedRun) -> tuple[RunSpec, ChoiceSpec, Hours, Hours]:
        """A run, its choice, and when its press is open and when it can print."""
        run = self.tables.runs[self.tables.run_number[one.run_id]]
        press = self.tables.press_number[one.press_id]
        choice = run.by_press[press]
        if one.way:
            choice = choice.other_ways[one.way - 1]
        return run, choice, self.opened.presses[press], self.opened.prints[press]

    def _press(self, one: PlannedRun, hours: Hours) -> _Hold:
        old = self.before[one.run_id]
        if old is None:
            return _Hold(0, "first on the press")
        words = f"press free at {until_text(self.week, old.print_end_tau)}"
        return _Hold(hours.index_from(old.print_end_tau), words)

    def _garments(self, one: PlannedRun, run: RunSpec, hours: Hours) -> list[_Hold]:
        from_tau, words = run.blanks_tau, f"garments in at {from_text(self.week, run.blanks_tau)}"
        before = [
            visit for step, visit in zip(self._order(one).stations, self._visits(one), strict=True) if step.is_before
        ]
        if before and before[-1].end_tau > from_tau:
            name = self.week.station[before[-1].station_id].name
            from_tau = before[-1].end_tau
            words = f"back from {name} at {until_text(self.week, from_tau)}"
        if not from_tau:
            return []
        if one.stage_end_tau > one.stage_start_tau and one.stage_start_tau == self._staging_from(from_tau):
            return [_Hold(hours.index_from(one.stage_end_tau), words)]
        return [_Hold(hours.index_from(from_tau), words)]

    def _order(self, one: PlannedRun) -> OrderDue:
        return self.week.order[self.week.run[one.run_id].order_id]

    def _visits(self, one: PlannedRun) -> tuple[PlannedStep, ...]:
        """Visits to stations of the run's order."""
        packed = self.plan.order.get(self.week.run[one.run_id].order_id)
        return packed.stations if packed is not None else ()

    def _staging_from(self, tau: int) -> int:
        """First minute from `tau` on at which a cart can be filled."""
        staging = self.opened.staging
        index = staging.index_from(tau)
        return staging.minute(index) if index < staging.total else NEVER

    def _screens(self, one: PlannedRun, run: RunSpec, hours: Hours) -> list[_Hold]:
        holds = []
        is_staged = one.stage_end_tau > one.stage_start_tau
        if one.burn is not None:
            words = f"screens ready at {until_text(self.week, one.burn.tape_end_tau)}{self._burned_late(one.burn, run)}"
            waits = is_staged and one.stage_start_tau == self._staging_from(one.burn.tape_end_tau)
            ready_tau = one.stage_end_tau if waits else one.burn.tape_end_tau
            holds.append(_Hold(hours.index_from(ready_tau), words))
        if is_staged:
            words = f"on its cart at {until_text(self.week, one.stage_end_tau)}"
            holds.append(_Hold(hours.index_from(one.stage_end_tau), words))
        for other in self.plan.runs:
            same_set = run.screen_set >= 0 and self.week.run[other.run_id].set_id == self.week.run[one.run_id].set_id
            if same_set and other.press_id != one.press_id and other.print_end_tau <= one.set_up_start_tau:
                where = press_text(self.week, other.press_id)
                words = f"screens come off {where} at {until_text(self.week, other.print_end_tau)}"
                holds.append(_Hold(hours.index_from(other.print_end_tau), words))
        return holds

    def _other_prints(self, one: PlannedRun, run: RunSpec, hours: Hours) -> list[_Hold]:
        """Runs on the same garments, and runs this one prints after."""
        holds = []
        for number in dict.fromkeys((*run.after, *run.mates)):
            other = self.tables.runs[number]
            planned = self.plan.run[other.run_id]
            free_tau = planned.print_end_tau + other.gap_min
            if planned.print_start_tau >= one.print_start_tau or free_tau > one.print_start_tau:
                continue
            words = f"garments come from {other.run_id} at {until_text(self.week, free_tau)}"
            holds.append(_Hold(hours.index_from(free_tau) - one.set_up_min, words))
        return holds

    def _crowded(self, one: PlannedRun) -> str:
        """What stands in the way of the same run one open minute earlier."""
        run, choice, hours, prints = self._specs(one)
        index = hours.index_from(one.set_up_start_tau)
        at = index - 1
        if at < 0:
            return "first on the press"
        print_at = first_print(hours, prints, at + one.set_up_min)
        if run.idle_ok_min >= 0:
            print_from = hours.index_from(prints.minute(print_at)) if print_at < prints.total else hours.total
            if hours.after_long_stop(at, print_from + 1, run.idle_ok_min) >= 0:
                return INK_STANDS
            now = rinsed_print(prints, run, choice, prints.index_from(one.print_start_tau))
            through = rinsed_print(prints, run, choice, print_at)
            if through.start_from >= 0 or through.stops > now.stops:
                return INK_STANDS
            end_at = through.end_index
        else:
            end_at = prints.print_end(print_at, choice.work_min)
        if end_at > prints.total:
            return "first on the press"
        end_tau = prints.end(end_at) if end_at else 0
        set_otherwise = self._set_otherwise(one, run, choice, prints.minute(print_at), end_tau)
        if set_otherwise:
            return set_otherwise
        first, last = prints.index_from(one.print_start_tau), prints.index_from(one.print_end_tau)
        own = [(hours.pieces(index, index + one.set_up_min), choice.set_up_need)]
        own.append((prints.pieces(first, last), choice.print_need))
        floor = self.floor.copy()
        for pieces, need in own:
            floor.take_all(pieces, -need)
        people_bits = FIELD_BITS * len(self.tables.limits.unions)
        people = choice.print_need & ((1 << people_bits) - 1)
        belt = choice.print_need - people
        over_tau = floor.clash_end_of(prints.pieces(print_at, end_at), belt) if belt else 0
        if over_tau:
            return f"{BELT} until {until_text(self.week, over_tau)}{self._ends(over_tau, belt)}"
        over_tau = floor.clash_end_of(prints.pieces(print_at, end_at), people) if people else 0
        if not over_tau and one.set_up_min and choice.set_up_need:
            over_tau = floor.clash_end_of(hours.pieces(at, at + one.set_up_min), choice.set_up_need)
        if over_tau:
            asked = people | choice.set_up_need
            until = until_text(self.week, min(over_tau, self.week.horizon_tau))
            return f"{PEOPLE} until {until}{self._ends(over_tau, asked)}"
        if choice.flash_need:
            floor.take(one.set_up_start_tau, one.print_end_tau, -choice.flash_need)
            over_tau = floor.clash_end(hours.minute(at), end_tau, choice.flash_need)
            if over_tau:
                return f"{FLASH} until {until_text(self.week, over_tau)}{self._ends(over_tau, choice.flash_need)}"
        if run.announced_press >= 0:
            return ANNOUNCED
        room = self.week.screen_room
        stands_min = NEVER if one.burn is None else one.set_up_start_tau - one.burn.tape_end_tau
        if room is not None and room.not_ahead_cents_per_min and stands_min <= room.ahead_min:
            return f"{AHEAD} {minutes_text(room.ahead_min)} before"
        return "kept back for what comes after"

    def _burned_late(self, burn: Burn, run: RunSpec) -> str:
        """Why screens were not ready sooner: film, coated frames, hands to burn or tape; "" for none of these."""
        room, week = self.opened.room, self.week
        starts = room.index_from(burn.start_tau)
        if run.art_tau and room.index_from(run.art_tau) == starts:
            return f" (art in at {from_text(week, run.art_tau)})"
        coated = {window.ready_tau for window in week.screen_room.coat_windows} if week.screen_room else set()
        if any(tau > 0 and room.index_from(tau) == starts for tau in coated):
            return f" (frames coated by {from_text(week, burn.start_tau)})"
        waits_for_tape = room.index_from(burn.tape_start_tau) > room.index_from(burn.dry_tau)
        done, at_tau = ("taped", burn.tape_start_tau) if waits_for_tape else ("burned", burn.start_tau)
        ends = self._ends(at_tau, self.tables.room_need).replace("(", f"({done} after ", 1)
        return ends.replace(" burning ", " screens of ").replace(" taping ", " screens of ")

    def _set_otherwise(
        self, one: PlannedRun, run: RunSpec, choice: ChoiceSpec, start_tau: int, end_tau: int
    ) -> str | None:
        """What keeps a print at these times out of its dryer: another run that has it at another setting."""
        dryer = self.opened.dryers[choice.press]
        if dryer is None or choice.setting_id is None:
            return None
        for other in self.plan.runs:
            its_run, its_choice, _, _ = self._specs(other)
            if its_choice.press not in dryer.presses or its_choice.setting_id in (None, choice.setting_id):
                continue
            end_by_tau, from_tau = keeps_apart(
                dryer.line,
                (choice.setting_id, run.cure_min),
                (its_choice.setting_id or "", its_run.cure_min),
                (other.print_start_tau, other.print_end_tau),
            )
            if end_tau > end_by_tau and start_tau < from_tau:
                until = until_text(self.week, min(from_tau, one.print_start_tau))
                return f"{SET_OTHERWISE} until {until} ({its_choice.setting_id} for {other.run_id})"
        return None

    def _ends(self, tau: int, need: int) -> str:
        """What ends at a shop minute and lets go of what `need` asks for, in brackets; "" for nothing."""
        shifts = range(0, need.bit_length(), FIELD_BITS)
        found = [
            words
            for asked, words in self.done_at.get(tau, ())
            if any(need >> shift & MOST and asked >> shift & MOST for shift in shifts)
        ]
        return f" ({listed(sorted(found))})" if found else ""

    def _floor(self) -> Track:
        """People and belts as the whole plan leaves them."""
        floor = self.opened.floor.copy()
        for pieces, need, words in self._spans():
            floor.take_all(pieces, need)
            if pieces and need:
                self.done_at.setdefault(pieces[-1][1], []).append((need, words))
        return floor

    def _spans(self) -> Iterator[tuple[list[tuple[int, int]], int, str]]:
        """Everything that takes people or belt: its open minutes, what it takes, and its words."""
        tables, opened = self.tables, self.opened
        for one in self.plan.runs:
            run, choice, hours, prints = self._specs(one)
            index = hours.index_from(one.set_up_start_tau)
            yield hours.pieces(index, index + one.set_up_min), choice.set_up_need, f"set-up of {one.run_id}"
            print_index = prints.index_from(one.print_start_tau)
            end_index = prints.index_from(one.print_end_tau)
            yield prints.pieces(print_index, end_index), choice.print_need, f"printing {one.run_id}"
            if choice.flash_need:
                yield [(one.set_up_start_tau, one.print_end_tau)], choice.flash_need, f"printing {one.run_id}"
            if one.stage_end_tau > one.stage_start_tau:
                pieces = _pieces(opened.staging, one.stage_start_tau, tables.stage_min)
                yield pieces, tables.stage_need, f"cart of {one.run_id}"
            if one.burn is not None:
                screens = tables.sets[run.screen_set]
                pieces = _pieces(opened.room, one.burn.start_tau, screens.burn_min)
                yield pieces, tables.room_need, f"burning {screens.set_id}"
                pieces = _pieces(opened.room, one.burn.tape_start_tau, screens.tape_min)
                yield pieces, tables.room_need, f"taping {screens.set_id}"
        for order in tables.orders:
            if order.finish_min:
                start_tau = self.plan.order[order.order_id].finish_start_tau
                pieces = _pieces(opened.finishing, start_tau, order.finish_min)
                yield pieces, tables.finish_need, f"packing {order.order_id}"
            visits = self.plan.order[order.order_id].stations
            for step, visit in zip((*order.before, *order.after), visits, strict=True):
                spec = tables.stations[step.station_id]
                pieces = _pieces(opened.stations[spec.number], visit.start_tau, step.work_min)
                yield pieces, spec.crew_need, f"{step.station_id} {order.order_id}"


def _pieces(hours: Hours, start_tau: int, work_min: int) -> list[tuple[int, int]]:
    index = hours.index_from(start_tau)
    return hours.pieces(index, index + work_min) if work_min else []

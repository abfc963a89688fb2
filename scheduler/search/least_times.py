"""The earliest each run and order could be done if it were alone in a shop whose overtime is open and free.

More open minutes never make anything later here: restarts are left out, and a stop shortened by overtime is still a
stop. So the times hold for every choice of overtime.
"""

from __future__ import annotations

from collections.abc import Callable

from scheduler.domain.calendars import Calendar
from scheduler.domain.stations import StationStep
from scheduler.search.tables import ChoiceSpec, OrderSpec, RunSpec, SetSpec, Tables
from scheduler.search.timing import NEVER, Hours, first_print, open_hours, set_up_by

LeastMinutes = Callable[[RunSpec, ChoiceSpec], int]


def open_choices(run: RunSpec) -> list[ChoiceSpec]:
    """Presses a run may still go to."""
    return [choice for choice in run.choices if run.fixed_press in (-1, choice.press)]


def least_print_cents(choice: ChoiceSpec) -> int:
    """What the print crew costs at least beyond the run's cheapest press, whichever way it is printed here."""
    return min(one.print_cents for one in (choice, *choice.other_ways))


class LeastTimes:
    """Earliest set-up, print and packing times; worked out when asked for, then remembered."""

    def __init__(self, tables: Tables, always_min: LeastMinutes) -> None:
        """always_min: set-up minutes that nothing can spare a run on a press."""
        self.tables = tables
        self.always_min = always_min
        week = tables.week
        bought = frozenset(tables.overtime_cents)
        nothing = Calendar(windows=())
        room, staging, finishing = week.screen_room, week.staging, week.finishing
        self.presses = [open_hours(press.calendar, bought) for press in week.presses]
        self.prints = [
            hours if press.print_calendar is None else open_hours(press.print_calendar, bought)
            for hours, press in zip(self.presses, week.presses, strict=True)
        ]
        self.room = open_hours(room.calendar if room else nothing, bought)
        self.staging = open_hours(staging.calendar if staging else nothing, bought)
        self.finishing = open_hours(finishing.calendar if finishing else nothing, bought)
        self.stations = [open_hours(one.calendar, bought) for one in week.stations]
        self._prints: dict[int, tuple[int, int]] = {}
        self._taped: dict[int, int] = {}

    def set_up_from_tau(self, number: int) -> int:
        """Earliest start of a run's set-up."""
        run = self.tables.runs[number]
        if run.fixed_start_tau >= 0:
            return run.fixed_start_tau
        from_tau = run.blanks_tau
        order = self.tables.orders[run.order]
        if order.before and not run.is_started:
            blanks_tau = max(self.tables.runs[other].blanks_tau for other in order.runs)
            from_tau = max(from_tau, self._visited_tau(order.before, blanks_tau))
        own_burn_tau = ready_tau = 0
        if run.screen_set >= 0:
            one = self.tables.sets[run.screen_set]
            ready_tau = self._taped_tau(run.screen_set)
            own_burn_tau = ready_tau if len(one.runs) == 1 else 0
        if self.tables.stage_min:
            staged = _end_tau(self.staging, max(from_tau, own_burn_tau), self.tables.stage_min)
            from_tau = max(from_tau, staged)
        return max(from_tau, ready_tau)

    def print_tau(self, number: int) -> tuple[int, int]:
        """Earliest (start, end) of a run's print; each on its own, NEVER if it cannot be done at all."""
        found = self._prints.get(number)
        if found is not None:
            return found
        run = self.tables.runs[number]
        self._prints[number] = (0, 0)  # runs that wait for each other in a ring have no plan; any number holds
        print_from_tau = 0
        for before in run.after:
            print_from_tau = max(print_from_tau, self.print_tau(before)[1] + self.tables.runs[before].gap_min)
        from_tau = self.set_up_from_tau(number)
        starts, ends = [NEVER], [NEVER]
        for choice in open_choices(run):
            start_tau, end_tau = self._on_press(run, choice, from_tau, print_from_tau)
            starts.append(start_tau)
            ends.append(end_tau)
        self._prints[number] = min(starts), min(ends)
        return self._prints[number]

    def packed_tau(self, order_number: int) -> int:
        """Earliest moment at which an order is packed; NEVER if it cannot be."""
        order = self.tables.orders[order_number]
        start_from_tau = end_from_tau = 0
        for number in order.runs:
            start_tau, end_tau = self.print_tau(number)
            start_from_tau = max(start_from_tau, start_tau + order.finish_lag_min)
            end_from_tau = max(end_from_tau, end_tau + self.tables.runs[number].cure_min)
        cured_tau = max(end_from_tau, self._one_lot_tau(order), self._one_set_tau(order))
        end_from_tau = cured_tau + order.last_box_min
        if order.after:
            start_from_tau = max(start_from_tau, self._visited_tau(order.after, cured_tau))
            end_from_tau = max(end_from_tau, start_from_tau)
        if not order.finish_min or end_from_tau >= NEVER:
            return end_from_tau
        hours, work_min = self.finishing, order.finish_min
        index = max(hours.index_from(start_from_tau), hours.index_from(end_from_tau) - work_min)
        while index + work_min <= hours.total:
            if hours.end(index + work_min) >= end_from_tau:
                return hours.end(index + work_min)
            index += 1
        return NEVER

    def _visited_tau(self, steps: tuple[StationStep, ...], from_tau: int) -> int:
        """Earliest end of visits to stations one after the other, with nobody else there."""
        for step in steps:
            if from_tau >= NEVER:
                break
            if step.is_sent_out:
                back_tau = step.back_tau(from_tau)
                from_tau = NEVER if back_tau is None else back_tau
            else:
                from_tau = _end_tau(
                    self.stations[self.tables.stations[step.station_id].number], from_tau, step.work_min
                )
        return from_tau

    def _on_press(self, run: RunSpec, choice: ChoiceSpec, from_tau: int, print_from_tau: int) -> tuple[int, int]:
        hours, prints = self.presses[choice.press], self.prints[choice.press]
        set_up_min, work_min = self.always_min(run, choice), choice.work_min
        index = max(hours.index_from(from_tau), set_up_by(hours, prints, print_from_tau) - set_up_min)
        while (print_index := first_print(hours, prints, index + set_up_min)) + work_min <= prints.total:
            if print_index >= prints.total:
                break
            start_tau = prints.minute(print_index)
            end_tau = prints.end(print_index + work_min) if work_min else start_tau
            # Inks that dry stand over no long stop before the print; inside it they are rinsed out, which takes longer.
            print_from = hours.index_from(start_tau)
            later = hours.after_long_stop(index, print_from + 1, run.idle_ok_min) if run.idle_ok_min >= 0 else -1
            if later < 0:
                return start_tau, end_tau
            index = later
        return NEVER, NEVER

    def _taped_tau(self, screen_set: int) -> int:
        """Earliest moment at which a set that must be burned is taped; 0 if it need not be."""
        found = self._taped.get(screen_set)
        if found is None:
            one = self.tables.sets[screen_set]
            must = one.screens and not one.is_burned_now
            started = any(self.tables.runs[number].is_started for number in one.runs)
            found = self._burned_tau(one) if must and not started else 0
            self._taped[screen_set] = found
        return found

    def _burned_tau(self, one: SetSpec) -> int:
        tables, hours = self.tables, self.room
        from_tau = min(tables.runs[number].art_tau for number in one.runs)
        from_tau = max([from_tau, *(self._coated_tau(frame_class, count) for frame_class, count in one.frames)])
        index = hours.index_from(from_tau)
        while index + one.burn_min <= hours.total and index < hours.total:
            later = hours.after_long_stop(index, index + one.burn_min, tables.room_idle_ok_min)
            if later < 0:
                end_tau = hours.end(index + one.burn_min) if one.burn_min else hours.minute(index)
                return _end_tau(hours, tables.drying.dry_tau(end_tau, tables.dry_min), one.tape_min)
            index = later
        return NEVER

    def _coated_tau(self, frame_class: int, count: int) -> int:
        """Earliest moment at which so many frames of a class could be coated."""
        shop = self.tables.frames
        on_wall = shop.coated_now[frame_class]
        if on_wall >= count:
            return 0
        for _, ready_tau, places in sorted(shop.windows, key=lambda window: window[1]):
            on_wall += places
            if on_wall >= count:
                return ready_tau
        return NEVER

    def _one_lot_tau(self, order: OrderSpec) -> int:
        """Earliest last cure of an order whose runs on one lot print one after the other."""
        runs = self.tables.runs
        latest = 0
        for first in order.runs:
            together = [first, *(number for number in runs[first].mates if number in order.runs)]
            if any(other not in runs[one].mates for one in together for other in together if other != one):
                continue  # two of them may print at once
            prints = [runs[number] for number in together]
            from_tau = min(self.print_tau(number)[0] for number in together)
            works = sum(min((c.work_min for c in open_choices(run)), default=0) for run in prints)
            gaps = sum(run.gap_min for run in prints) - max(run.gap_min for run in prints)
            latest = max(latest, from_tau + works + gaps + min(run.cure_min for run in prints))
        return latest

    def _one_set_tau(self, order: OrderSpec) -> int:
        """Earliest last cure of an order whose runs share a screen set: it is on one press at a time."""
        latest = 0
        for screen_set in {self.tables.runs[number].screen_set for number in order.runs} - {-1}:
            runs = [
                self.tables.runs[number] for number in order.runs if self.tables.runs[number].screen_set == screen_set
            ]
            from_tau = min(self.set_up_from_tau(run.number) for run in runs)
            offers = [[c.work_min + self.always_min(run, c) for c in open_choices(run)] for run in runs]
            works = sum(min(offer, default=0) for offer in offers)
            latest = max(latest, from_tau + works + min(run.cure_min for run in runs))
        return latest


def _end_tau(hours: Hours, from_tau: int, work_min: int) -> int:
    if not work_min:
        return from_tau
    index = hours.index_from(from_tau) + work_min
    return hours.end(index) if index <= hours.total else NEVER

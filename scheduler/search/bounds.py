"""What no plan of a week can save: a proven lower bound on its cost, term by term.

Set-ups follow the run before, and inks that stay cost nothing, so only what no neighbour can spare a run is counted:

- minutes that are always added: approval, rinsing out, a stated or half-done set-up;
- each screen is mounted at least once: the first run in time that prints with it finds it on no press;
- each ink is loaded at least once, by the same argument; inks that dry are loaded for every run;
- a test print for every run that surely mounts or loads, and for the first use of every set;
- one burn of each set that is not burned yet.

That screens stand ready late costs nothing here: a run may always wait for them.

Dates are those of `least_times`: every order as if it were alone. Everything is a minimum over the presses that fit,
so the bound never exceeds the cost of a valid plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search.least_times import LeastTimes, least_print_cents, open_choices
from scheduler.search.tables import ChoiceSpec, RunSpec, SetSpec, Tables, tables_of
from scheduler.trade.set_up import live_inks


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A lower bound in cents and the terms it is the sum of."""

    cents: int
    terms: dict[str, int]


def lower_bound(week: Week) -> Bound:
    """The proven lower bound on the cost of every valid plan of the week."""
    tables = tables_of(week)
    set_ups = LeastSetUps(tables)
    times = LeastTimes(tables, set_ups.always_min)
    late = cushion = 0
    for number, order in enumerate(tables.orders):
        packed_tau = times.packed_tau(number)
        missed = sum(pickup_tau < packed_tau for pickup_tau in order.pickups_tau[order.must_leave :])
        late += order.late_cents * missed
        cushion += order.cushion_cents if packed_tau > order.cushion_from_tau else 0
    terms = {
        "late": late,
        "cushion": cushion,
        "overtime": 0,
        "set_up": set_ups.cents(),
        "printing": sum(min(map(least_print_cents, open_choices(run)), default=0) for run in tables.runs),
        "burns": sum(one.burn_cents for one in tables.sets if must_burn(tables, one)),
        "ahead": 0,
        "moves": sum(_move_cents(tables, times, run) for run in tables.runs),
    }
    return Bound(cents=sum(terms.values()), terms=terms)


def must_burn(tables: Tables, one: SetSpec) -> bool:
    """True if the first use of a set cannot do without a burn: nothing burned hangs, nothing has started."""
    if one.is_burned_now or not one.screens or not one.runs:
        return False
    return not any(tables.runs[number].is_started for number in one.runs)


def _move_cents(tables: Tables, times: LeastTimes, run: RunSpec) -> int:
    """What an announced run costs that cannot stay where it was announced."""
    if run.announced_press == -1:
        return 0
    prices = tables.week.prices
    latest_tau = run.announced_tau + prices.move_free_min
    can_stay = run.announced_press in {choice.press for choice in open_choices(run)}
    return 0 if can_stay and times.set_up_from_tau(run.number) <= latest_tau else prices.move_cents


class LeastSetUps:
    """Set-up minutes and cents that no run before can spare."""

    def __init__(self, tables: Tables) -> None:
        """Note which runs print with which screen, and what stands on the presses now."""
        self.tables = tables
        week = tables.week
        self.live = [live_inks(press.now_on, week.ink) for press in week.presses]
        self.standing = [frozenset(head.screen_id for head in press.now_on.heads) for press in week.presses]
        self.users: dict[str, set[int]] = {}
        for run in tables.runs:
            for choice in run.choices:
                for head in choice.stack.heads:
                    self.users.setdefault(head.screen_id, set()).add(run.number)

    def always_min(self, run: RunSpec, choice: ChoiceSpec) -> int:
        """Set-up minutes of a run on a press that no neighbour can spare it."""
        if run.is_started:
            return run.set_up_left_min
        if choice.stated_min is not None:
            return choice.stated_min + choice.extra_min
        minutes = self._minutes(choice)
        mounts, loads = self._lone_mounts(run, choice), self._drying_heads(choice)
        test_min = minutes.strike_off_min if mounts or loads else 0
        return choice.extra_min + mounts * minutes.mount_min + loads * minutes.load_min + test_min

    def cents(self) -> int:
        """Unavoidable set-up and rinsing of the whole week."""
        total = 0
        for run in self.tables.runs:
            offers = [(self.always_min(run, c) + c.wash_up_min) * c.cents_per_min for c in open_choices(run)]
            total += min(offers, default=0)
        total += sum(self._first_mounting(screen_id) for screen_id in self.users)
        total += sum(self._first_test_print(one) for one in self.tables.sets)
        return total + sum(self._first_loading(ink_id) for ink_id in self._inks())

    def _minutes(self, choice: ChoiceSpec) -> SetUpMinutes:
        return self.tables.week.presses[choice.press].set_up

    def _drying_heads(self, choice: ChoiceSpec) -> int:
        ink = self.tables.week.ink
        return sum(ink[head.ink_id].dries for head in choice.stack.heads)

    def _lone_mounts(self, run: RunSpec, choice: ChoiceSpec) -> int:
        """Screens that only this run prints with and that stand on no press: they are mounted for it."""
        screens = {head.screen_id for head in choice.stack.heads} - self.standing[choice.press]
        return sum(self.users[screen_id] == {run.number} for screen_id in screens)

    def _counts(self, run: RunSpec, choice: ChoiceSpec) -> bool:
        """True if the run's set-up minutes are added up from what stands there before."""
        return not run.is_started and choice.stated_min is None

    def _offers(self, numbers: set[int]) -> Iterator[tuple[RunSpec, ChoiceSpec]]:
        for number in sorted(numbers):
            for choice in open_choices(self.tables.runs[number]):
                yield self.tables.runs[number], choice

    def _first_mounting(self, screen_id: str) -> int:
        """Least cents for mounting a screen that several runs share, once."""
        users = self.users[screen_id]
        if len(users) == 1:
            return 0  # counted with its run
        offers = []
        for run, choice in self._offers(users):
            if all(head.screen_id != screen_id for head in choice.stack.heads):
                # On this press the run does without the screen: another user may never come to print with it.
                return 0
            spared = not self._counts(run, choice) or screen_id in self.standing[choice.press]
            offers.append(0 if spared else self._minutes(choice).mount_min * choice.cents_per_min)
        return min(offers, default=0)

    def _first_test_print(self, one: SetSpec) -> int:
        """Least cents of the test print at the first use of a set; 0 where a run may have counted its own."""
        offers = []
        for run, choice in self._offers(set(one.runs)):
            screens = {head.screen_id for head in choice.stack.heads}
            minutes = self._minutes(choice)
            spared = not self._counts(run, choice) or screens <= self.standing[choice.press]
            counted = self._drying_heads(choice) or self._lone_mounts(run, choice)
            offers.append(0 if spared or counted else minutes.strike_off_min * choice.cents_per_min)
        return min(offers, default=0)

    def _inks(self) -> list[str]:
        ink = self.tables.week.ink
        used = {head.ink_id for run in self.tables.runs for c in run.choices for head in c.stack.heads}
        return sorted(ink_id for ink_id in used if not ink[ink_id].dries)

    def _first_loading(self, ink_id: str) -> int:
        """Least cents for filling an ink for the first time on the press that needs it first."""
        offers = []
        users = set()
        for run in self.tables.runs:
            heads = [sum(h.ink_id == ink_id for h in choice.stack.heads) for choice in open_choices(run)]
            if heads and all(heads):
                users.add(run.number)  # wherever it goes, it prints with the ink
            elif any(heads):
                return 0
        for run, choice in self._offers(users):
            count = sum(head.ink_id == ink_id for head in choice.stack.heads)
            spared = not self._counts(run, choice) or ink_id in self.live[choice.press]
            offers.append(0 if spared else count * self._minutes(choice).load_min * choice.cents_per_min)
        return min(offers, default=0)

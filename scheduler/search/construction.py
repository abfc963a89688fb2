"""Plans made in one go by rules a planner could follow: the start of every search, and what it is measured against."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import exp

from scheduler.domain.week import Stack, Week
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genome
from scheduler.search.set_ups import SetUps
from scheduler.search.tables import ChoiceSpec, Opened, RunSpec, Tables, opened_with
from scheduler.search.timing import NEVER, Hours

LOOK_AHEAD = 2.0
"""How many mean run lengths ahead a due date starts to press. Common practice, no source; 1.5 to 4.5 is usual."""
SET_UP_SHY = 0.3
"""Share of a mean set-up that makes a run wait for a better neighbour. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPlan:
    """A plan made by one rule, and the genome that makes it again."""

    rule: str
    genome: Genome
    decoded: Decoded


def due_date_list(week: Week) -> Genome:
    """Runs by the pick-up that keeps the promise, then by id; each on the press where it ends first.

    Runs that a run fixed in time prints after come before all others: they have no time to lose.
    """
    order = tuple(sorted(week.run, key=lambda run_id: (_promised_tau(week, run_id), run_id)))
    return Genome(order=_before_fixed_first(week, order))


def _before_fixed_first(week: Week, order: tuple[str, ...]) -> tuple[str, ...]:
    """The same order, but runs that must print before a run fixed in time moved to the front."""
    waiting = [f.run_id for f in week.fixings if f.set_up_start_tau is not None and f.run_id in week.run]
    urgent: set[str] = set()
    while waiting:
        before = [run_id for run_id in week.run[waiting.pop()].print_after if run_id in week.run]
        waiting.extend(run_id for run_id in before if run_id not in urgent)
        urgent.update(before)
    return tuple(sorted(order, key=lambda run_id: run_id not in urgent))


def same_screens_together(week: Week) -> Genome:
    """The due-date list with all runs of one screen set pulled up to the first of them."""
    first: dict[str, int] = {}
    order = due_date_list(week).order
    for at, run_id in enumerate(order):
        first.setdefault(week.run[run_id].set_id or run_id, at)
    place = {run_id: at for at, run_id in enumerate(order)}
    return Genome(
        order=tuple(sorted(order, key=lambda run_id: (first[week.run[run_id].set_id or run_id], place[run_id])))
    )


def as_announced(week: Week) -> Genome:
    """Announced runs as they were announced, on their presses and not earlier; the others by due date after them."""
    told = {one.run_id: one for one in week.announced if one.run_id in week.run}
    late = week.horizon_tau + 1
    order = sorted(
        week.run,
        key=lambda run_id: (
            told[run_id].set_up_start_tau if run_id in told else late,
            _promised_tau(week, run_id),
            run_id,
        ),
    )
    press = tuple(
        told[run.run_id].press_id if run.run_id in told and told[run.run_id].press_id in run.on_press else None
        for run in week.runs
    )
    return Genome(order=tuple(order), press=press, waits=frozenset(told))


def least_regret(week: Week, tables: Tables, set_ups: SetUps) -> Genome:
    """Each press in turn takes the run that its due date, its money and its set-up speak for most.

    The apparent tardiness cost rule with set-ups (Lee, Bhaskaran and Pinedo, 1997): money per minute of work, less by
    exp of the minutes to spare, less by exp of the set-up. Screens and people are looked at by the decoder only.
    """
    return _LeastRegret(week, tables, set_ups).genome()


class _LeastRegret:
    def __init__(self, week: Week, tables: Tables, set_ups: SetUps) -> None:
        self.week = week
        self.tables = tables
        self.set_ups = set_ups
        self.opened: Opened = opened_with(tables, frozenset())
        works = [choice.work_min for run in tables.runs for choice in run.choices] or [1]
        self.mean_work_min = max(1.0, sum(works) / len(works))
        now = [(-1 - i, press.now_on) for i, press in enumerate(week.presses)]
        from_now = [set_ups.minutes(*now[c.press], c, (), ()) for run in tables.runs for c in run.choices] or [1]
        self.mean_set_up_min = max(1.0, sum(from_now) / len(from_now))

    def genome(self) -> Genome:
        tables = self.tables
        free = [0] * len(self.opened.presses)
        stands: list[tuple[int, Stack]] = [(-1 - i, press.now_on) for i, press in enumerate(self.week.presses)]
        left = list(tables.runs)
        order: list[str] = []
        press: list[str | None] = [None] * len(tables.runs)
        while left:
            able = sorted({choice.press for run in left for choice in self._choices(run)}, key=lambda p: (free[p], p))
            if not able:
                break
            at = able[0]
            best: tuple[float, int, RunSpec, ChoiceSpec, int] | None = None
            for run in left:
                choice = run.by_press.get(at)
                if choice is None or run.fixed_press not in (-1, at):
                    continue
                set_up_min = self.set_ups.minutes(*stands[at], choice, (), ())
                offer = (self._index(run, choice, set_up_min, free[at]), -run.number, run, choice, set_up_min)
                best = offer if best is None or offer[:2] > best[:2] else best
            if best is None:
                break
            _, _, run, choice, set_up_min = best
            left.remove(run)
            order.append(run.run_id)
            press[run.number] = self.week.presses[at].press_id
            free[at] = _end_tau(self.opened.presses[at], max(free[at], run.blanks_tau), set_up_min + choice.work_min)
            stands[at] = (choice.key, choice.stack)
        order.extend(run.run_id for run in left)
        return Genome(order=tuple(order), press=tuple(press))

    def _choices(self, run: RunSpec) -> list[ChoiceSpec]:
        return [choice for choice in run.choices if run.fixed_press in (-1, choice.press)]

    def _index(self, run: RunSpec, choice: ChoiceSpec, set_up_min: int, free_tau: int) -> float:
        order = self.tables.orders[run.order]
        work_min = max(1, choice.work_min)
        tail_min = run.cure_min + max(order.finish_min, order.last_box_min)
        start_tau = max(free_tau, run.blanks_tau)
        spare_min = order.promised_tau - start_tau - set_up_min - work_min - tail_min
        money = (order.late_cents + order.cushion_cents + 1) / len(order.runs)
        urgency = exp(-max(0, spare_min) / (LOOK_AHEAD * self.mean_work_min))
        waiting = exp(-max(0, start_tau - free_tau) / self.mean_work_min)
        return money / work_min * urgency * waiting * exp(-set_up_min / (SET_UP_SHY * self.mean_set_up_min + 1))


def _end_tau(hours: Hours, from_tau: int, work_min: int) -> int:
    index = hours.index_from(from_tau) + work_min
    return hours.end(index) if 0 < index <= hours.total else NEVER


def _promised_tau(week: Week, run_id: str) -> int:
    order = week.order[week.run[run_id].order_id]
    return order.pickups_tau[order.must_leave]


def rules(week: Week, decoder: Decoder) -> Iterator[tuple[str, Genome]]:
    """Every rule with its genome, the due-date list first."""
    due = due_date_list(week)
    yield "due-date list", due
    if week.announced:
        yield "as announced", as_announced(week)
    together = same_screens_together(week)
    yield "same screens together", together
    regret = least_regret(week, decoder.tables, decoder.set_ups)
    yield "least regret", regret
    yield "least regret, any press", replace(regret, press=())
    released = frozenset(week.run)
    yield "due-date list, screens released", replace(due, release=released)
    yield "least regret, screens released", replace(regret, press=(), release=released)


def first_plans(week: Week, decoder: Decoder, is_enough: Callable[[], bool] | None = None) -> list[FirstPlan]:
    """The plans of all rules that make one, cheapest first; equal ones by earliness, then in the order of the rules.

    Overtime is bought, all of it, only if no rule makes a plan without. is_enough: asked after each rule; where it says
    True and there is a plan, no further rule is tried.
    """
    found: list[FirstPlan] = []
    every_block = frozenset(block.block_id for block in week.overtime)
    for bought in dict.fromkeys((frozenset[str](), every_block)):
        for rule, genome in rules(week, decoder):
            with_hours = replace(genome, order=_before_fixed_first(week, genome.order), overtime=bought)
            decoded = decoder.decode(with_hours)
            if isinstance(decoded, Decoded):
                found.append(FirstPlan(rule=rule, genome=with_hours, decoded=decoded))
            if found and is_enough is not None and is_enough():
                break
        if found:
            break
    found.sort(key=lambda one: (one.decoded.cost_cents, one.decoded.earliness))
    return found


def baseline(week: Week, decoder: Decoder) -> Decoded | Refused:
    """The due-date list: what the shop does today, timed by the same rules."""
    return decoder.decode(due_date_list(week))


def first_plan(week: Week) -> Decoded | Refused:
    """The cheapest plan of all rules; if no rule makes one, why the due-date list does not."""
    decoder = Decoder(week)
    found = first_plans(week, decoder)
    return found[0].decoded if found else baseline(week, decoder)

"""A day's roster made anew with CP-SAT: fewest short stays first, then fewest hand-overs and walks between presses.

Only where people may hand over is a choice made: work that goes on keeps its people in between. With a roster to start
from, they hand over where it does and where somebody comes or goes, and at every moment of the stretches named `free`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ortools.sat.python import cp_model

from scheduler.roster.moments import Day, Filling, Moment, Work, able, is_led

Span = tuple[int, int]

# What is avoided, in this order of weight: short stays, hand-overs, walks between presses.
_SHORT, _HAND_OVER, _ARRIVAL = 1_000_000, 4, 1


def remade(day: Day, free: Sequence[Span], work_limit: float) -> Filling:
    """The best roster found within a limit of counted work (not of seconds: the same every time)."""
    model = _Model(day, free)
    solver = _solved(model, work_limit)
    if solver is None:
        return day.known
    return [
        {work: frozenset(n for n, at in people.items() if solver.value(at)) for work, people in one.items()}
        for one in model.at
    ]


def least_short(day: Day, work_limit: float) -> int:
    """No roster of this stretch has fewer short stays, whatever the rest of the day is like."""
    solver = _solved(_Model(day, None), work_limit)
    return 0 if solver is None else max(0, round(solver.best_objective_bound))


def _solved(model: _Model, work_limit: float) -> cp_model.CpSolver | None:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # Measured on the days of scenarios/contract: yes-or-no choices and few costs are proven fastest from the costs up,
    # without linear programmes, looking for symmetry or probing (a fifth to a half of the time).
    solver.parameters.optimize_with_core = True
    solver.parameters.linearization_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_deterministic_time = work_limit
    status = solver.solve(model.model)
    return solver if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


class _Model:
    """Who is at what at every moment (`at`), and where each person is stationed in between.

    free: where people may hand over at every moment; None for everywhere, with short stays alone counted.
    """

    def __init__(self, day: Day, free: Sequence[Span] | None) -> None:
        self.day, self.week = day, day.week
        self.free = free
        self.model = cp_model.CpModel()
        self.costs: list[tuple[int, cp_model.IntVar]] = []
        self.moments = day.moments
        self.known = day.known
        if free is None:
            self.moments, self.known = _merged(day)
        self.at: list[dict[Work, dict[int, cp_model.IntVar]]] = []
        for number in range(len(self.moments)):
            self.at.append({})
            self._fill(number)
        for person in range(len(self.week.people)):
            self._stay(person)
        self.model.minimize(sum(weight * bool_var for weight, bool_var in self.costs))

    def _fill(self, number: int) -> None:
        """As many people at each piece of work as the known roster has there."""
        moment, known = self.moments[number], self.known[number]
        is_full = all(len(known[work]) == count for work, count in moment.asked.items())
        for work, count in moment.asked.items():
            if self._goes_on(number, work):
                self.at[number][work] = self.at[number - 1][work]
            else:
                people = {n: self.model.new_bool_var("") for n in able(self.week.people, moment, work)}
                self.at[number][work] = people
                for person, var in people.items():
                    self.model.add_hint(var, person in known[work])
                if self.free is not None:
                    self._hand_overs(number, work)
            filled = sum(self.at[number][work].values())
            self.model.add(filled == count if is_full else filled <= count)
        if not is_full:
            every = [var for people in self.at[number].values() for var in people.values()]
            self.model.add(sum(every) == sum(len(who) for who in known.values()))

    def _goes_on(self, number: int, work: Work) -> bool:
        """True where the people at a piece of work stay the same as just before."""
        if self.free is None or not number or work not in self.at[number - 1]:
            return False
        moment, before = self.moments[number], self.moments[number - 1]
        return (
            work not in moment.begun
            and moment.asked[work] == before.asked[work]
            and self.known[number][work] == self.known[number - 1][work]
            and able(self.week.people, moment, work) == able(self.week.people, before, work)
            and not any(start <= moment.start_tau < end for start, end in self.free)
        )

    def _hand_overs(self, number: int, work: Work) -> None:
        """Everybody counts who had a post of this work last, and has none now."""
        last = next((one[work] for one in reversed(self.at[:number]) if work in one), None)
        here = self.at[number][work]
        if last is None:
            before: dict[int, list[cp_model.IntVar]] = {person: [] for person in self.day.last.get(work, ())}
        else:
            before = {person: [var] for person, var in last.items()}
        for person, was in before.items():
            gone = self.model.new_bool_var("")
            still = [here[person]] if person in here else []
            self.model.add_bool_or([gone, *(~var for var in was), *still])
            self.costs.append((_HAND_OVER, gone))

    def _stay(self, person: int) -> None:
        """One place at a time, and a stay that is no shorter than the shop wants, or counts as short."""
        steps = self._steps(person)
        places = sorted({place for step in steps for place in step.at})
        stationed = [{place: self.model.new_bool_var("") for place in places} for _ in steps]
        for number, step in enumerate(steps):
            watching = [self.model.new_bool_var("")] if step.watching else []
            for var in step.watching:
                self.model.add_implication(var, watching[0])
            if len(step.watching) > self.week.lead_covers:
                self.model.add(sum(step.watching) <= self.week.lead_covers)
            self.model.add_at_most_one([*step.away, *watching, *stationed[number].values()])
            for place, there in step.at.items():
                self.model.add_at_most_one(there)
                for var in there:
                    self.model.add_implication(var, stationed[number][place])
        for place in places:
            self._lasts([(step, at[place]) for step, at in zip(steps, stationed, strict=True)], place)

    def _lasts(self, steps: list[tuple[_Step, cp_model.IntVar]], place: str) -> None:
        """A stay begins and ends with work; it is short if it does not cover every step begun in its first minutes."""
        model, least_min, final = self.model, self.week.least_stay_min, len(steps) - 1
        for number, (step, here) in enumerate(steps):
            work = step.at.get(place, [])
            before = [steps[number - 1][1]] if number else []
            if number or not self.day.is_cut_before:
                model.add_bool_or([~here, *before, *work])
            if number < final or not self.day.is_cut_after:
                model.add_bool_or([~here, *([steps[number + 1][1]] if number < final else []), *work])
            if not work or (not number and self.day.is_cut_before):
                continue
            if self.free is not None:
                arrives = model.new_bool_var("")
                model.add_bool_or([~here, arrives, *before])
                self.costs.append((_ARRIVAL, arrives))
            short = model.new_bool_var("")
            self.costs.append((_SHORT if self.free is not None else 1, short))
            until_tau = step.start_tau + least_min
            if until_tau > self.moments[-1].end_tau and not self.day.is_cut_after:
                model.add_bool_or([~here, short, *before])
                continue
            for later, there in steps[number + 1 :]:
                if later.start_tau >= until_tau:
                    break
                model.add_bool_or([~here, short, there, *before])

    def _steps(self, person: int) -> list[_Step]:
        """What one person may be at, from one change of it to the next."""
        found: list[_Step] = []
        for number, moment in enumerate(self.moments):
            step = _Step(start_tau=moment.start_tau)
            for work, people in self.at[number].items():
                if person not in people:
                    continue
                if is_led(self.week, work):
                    step.watching.append(people[person])
                elif work.place:
                    step.at.setdefault(work.place, []).append(people[person])
                else:
                    step.away.append(people[person])
            if not found or not step.is_like(found[-1]):
                found.append(step)
        return found


@dataclass(slots=True, kw_only=True)
class _Step:
    """What a person may be at for a while: posts at presses, posts elsewhere, presses to watch."""

    start_tau: int
    at: dict[str, list[cp_model.IntVar]] = field(default_factory=dict)
    away: list[cp_model.IntVar] = field(default_factory=list)
    watching: list[cp_model.IntVar] = field(default_factory=list)

    def is_like(self, other: _Step) -> bool:
        """True if the choices are the very same."""
        return self._choices() == other._choices()

    def _choices(self) -> tuple[Any, ...]:
        at = tuple((place, tuple(var.index for var in there)) for place, there in self.at.items())
        return at, tuple(var.index for var in self.away), tuple(var.index for var in self.watching)


def _merged(day: Day) -> tuple[list[Moment], Filling]:
    """The moments with work told apart by role and place alone: all that short stays depend on."""
    moments, known = [], []
    for moment, filled in zip(day.moments, day.known, strict=True):
        asked: dict[Work, int] = {}
        who: dict[Work, frozenset[int]] = {}
        for work, count in moment.asked.items():
            plain = Work(work.role, work.place, "", "")
            asked[plain] = asked.get(plain, 0) + count
            who[plain] = who.get(plain, frozenset()) | filled[work]
        moments.append(replace(moment, asked=asked, begun=frozenset()))
        known.append(who)
    return moments, known

"""Published scheduling instances as weeks: a unit of theirs is a shop minute, a machine is a press.

Makespan: one order holds every run and has a pick-up at every minute; each pick-up missed from the least minute on
costs a cent, so the cost is the makespan less that minute. Weighted tardiness: an order per run, its weight in cents.
Presses are open round the clock; nothing is set up, burned or finished, and nobody is needed unless a pool says so.

Files and best-known values are the public ones of `shared/refdata`, sources in its PROVENANCE.md.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.calendars import Calendar
from scheduler.domain.clock import ShopClock
from scheduler.domain.week import OrderDue, Person, PressLine, Run, Week
from tests.builders import choice, clock, hours, order_due, person, press_line, run, week

REFERENCE_DATA = Path(__file__).resolve().parents[3] / "shared" / "refdata"

JOB_SHOPS = ("ft06", "la01", "la05", "la16", "ft10", "la21")
FLEXIBLE = {"mk01": 40, "mk04": 60, "mk02": 26, "mk05": 172, "kacem1": 11, "kacem2": 11, "kacem3": 7}
"""Brandimarte 1993 and Kacem, Hammadi and Borne 2002; optima of bks.json."""
PROJECTS = tuple(f"J30_{number}" for number in range(1, 11))
TARDINESS = (1, 2, 6, 11, 16, 21, 26, 31, 36, 41, 46, 51, 56, 61, 66, 71, 76, 81, 86, 91, 96, 101, 106, 111, 116)
"""Numbers of 40-job instances with one optimum known for all (OR-Library wt40)."""
ROOM = 3.0
"""The week is this many times as long as the optimum: nobody needs the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """A published instance as a week. best: its optimum, in its own units; least: what to add to a plan's cost."""

    name: str
    week: Week
    best: int
    least: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """One step of an instance: minutes by press, steps before it, people of each pool, the lot it is done on."""

    minutes: dict[str, int]
    after: tuple[str, ...] = ()
    pools: tuple[tuple[str, int], ...] = ()
    lot: str


def instances() -> Iterator[Instance]:
    """Every instance, quick ones first."""
    for name in JOB_SHOPS:
        yield _job_shop(name)
    for name in FLEXIBLE:
        yield _flexible(name)
    for name in PROJECTS:
        yield _project(name)
    for number in TARDINESS:
        yield _tardiness(number)


def _job_shop(name: str) -> Instance:
    found = json.loads((REFERENCE_DATA / "jsp" / "jsp_small.json").read_text(encoding="utf-8"))[name]
    steps = {}
    for number, (lengths, machines) in enumerate(
        zip(found["duration_matrix"], found["machines_matrix"], strict=True), start=1
    ):
        offers = [{f"m{machine}": length} for length, machine in zip(lengths, machines, strict=True)]
        steps.update(_chain(number, offers))
    return _makespan(name, steps, found["optimum"])


def _flexible(name: str) -> Instance:
    rows = (REFERENCE_DATA / "fjsp" / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    steps = {}
    for number, row in enumerate(rows[1 : 1 + int(rows[0].split()[0])], start=1):
        figures = iter(int(text) for text in row.split())
        offers = []
        for _ in range(next(figures)):
            offers.append({f"m{next(figures)}": next(figures) for _ in range(next(figures))})
        steps.update(_chain(number, offers))
    return _makespan(name, steps, FLEXIBLE[name])


def _chain(number: int, offers: Sequence[dict[str, int]]) -> dict[str, _Step]:
    """The steps of one job, each after the one before it."""
    return {
        f"j{number}.{at}": _Step(minutes=minutes, lot=f"j{number}", after=(f"j{number}.{at - 1}",) if at else ())
        for at, minutes in enumerate(offers)
    }


def _project(name: str) -> Instance:
    """Each activity has a press of its own; people of four pools are what is short."""
    rows = (REFERENCE_DATA / "rcpsp" / f"{name}.txt").read_text(encoding="utf-8").split("\n")
    figures = [[int(text) for text in row.split()] for row in rows if row.strip()]
    capacities, activities = figures[1], figures[2:]
    before: dict[int, list[str]] = {}
    for number, activity in enumerate(activities, start=1):
        for later in activity[6:]:
            before.setdefault(later, []).append(f"a{number}")
    idle = {f"a{number}" for number, activity in enumerate(activities, start=1) if not activity[0]}
    steps = {
        f"a{number}": _Step(
            minutes={f"p{number}": activity[0]},
            lot=f"a{number}",
            after=tuple(one for one in before.get(number, ()) if one not in idle),
            pools=tuple((f"pool {at}", count) for at, count in enumerate(activity[1:5]) if count),
        )
        for number, activity in enumerate(activities, start=1)
        if activity[0]
    }
    rows = (REFERENCE_DATA / "rcpsp" / "J30_opt.csv").read_text(encoding="utf-8").splitlines()
    best = {f"J30_{row.split(',')[0]}": row.split(",")[4] for row in rows}[name]
    return _makespan(name, steps, int(best), {f"pool {at}": count for at, count in enumerate(capacities)})


def _tardiness(number: int) -> Instance:
    figures = [int(text) for text in (REFERENCE_DATA / "wt" / "wt40.txt").read_text(encoding="utf-8").split()]
    lengths, weights, dues = (figures[120 * (number - 1) + 40 * part :][:40] for part in range(3))
    best = int((REFERENCE_DATA / "wt" / "wtopt40.txt").read_text(encoding="utf-8").split()[number - 1])
    total = sum(lengths)
    runs = [
        run(f"r{at}", order_id=f"o{at}", choices=[choice("m1", print_min=length)]) for at, length in enumerate(lengths)
    ]
    orders = [
        order_due(f"o{at}", (f"r{at}",), pickups_tau=(*range(due, total), total + 1), late_cents=weight)
        if due < total
        else order_due(f"o{at}", (f"r{at}",), pickups_tau=(total + 1,))
        for at, (due, weight) in enumerate(zip(dues, weights, strict=True))
    ]
    axis, open_all = _round_the_clock(total + 1)
    return Instance(
        name=f"wt40-{number}",
        week=week(runs=runs, orders=orders, presses=[press_line("m1", calendar=open_all)], clock=axis),
        best=best,
        least=0,
    )


def _makespan(name: str, steps: dict[str, _Step], best: int, pools: dict[str, int] | None = None) -> Instance:
    until = int(ROOM * best) + 1
    axis, open_all = _round_the_clock(until)
    least = _longest_chain(steps)
    runs: list[Run] = []
    crew: dict[str, tuple[tuple[str, int], ...]] = {}
    for step_id, step in steps.items():
        offers = [choice(press_id, print_min=minutes) for press_id, minutes in step.minutes.items()]
        runs.append(run(step_id, order_id="all", lots=[step.lot], choices=offers, print_after=step.after))
        crew.update(dict.fromkeys(step.minutes, step.pools))
    orders: list[OrderDue] = [
        order_due("all", tuple(steps), pickups_tau=tuple(range(least, until + 1)), late_cents=1),
    ]
    presses: list[PressLine] = [
        press_line(press_id, calendar=open_all, run_crew=pool) for press_id, pool in sorted(crew.items())
    ]
    people: list[Person] = [
        person(f"{pool} {at}", roles=[pool], calendar=open_all)
        for pool, count in (pools or {}).items()
        for at in range(count)
    ]
    made = week(runs=runs, orders=orders, presses=presses, people=people, clock=axis)
    return Instance(name=name, week=made, best=best, least=least)


def _round_the_clock(until: int) -> tuple[ShopClock, Calendar]:
    axis = clock(days=1, day_min=until)
    return axis, hours((0, until), on=axis)


def _longest_chain(steps: dict[str, _Step]) -> int:
    """No plan ends sooner than its longest chain of steps, each on its quickest press."""
    ends: dict[str, int] = {}

    def end(step_id: str) -> int:
        if step_id not in ends:
            step = steps[step_id]
            ends[step_id] = max((end(one) for one in step.after), default=0) + min(step.minutes.values())
        return ends[step_id]

    return max(end(step_id) for step_id in steps)

"""Short stays at a press: as few as any roster has, held against every roster there is on small days."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from itertools import product

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.roster.by_name import RosterStretch, full_roster, roster
from tests import builders as b

Post = tuple[str, str, int, int]
"""(role, place, start, end)."""


def two_runs(first_min: int, gap_min: int, second_min: int, *, least_stay_min: int = 30) -> tuple[Week, Plan]:
    """A run on press 1, a longer one on press 2 beside it, and one more on press 1 after a gap; Ana and Ben print."""
    presses = [b.press_line(f"P{n}", run_crew=(("print", 1),)) for n in (1, 2)]
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")]), b.run("r3")]
    week = b.week(runs=runs, presses=presses, people=[b.person("Ana"), b.person("Ben")], least_stay_min=least_stay_min)
    plan = b.plan(
        b.planned_run("r1", printing=first_min),
        b.planned_run("r2", press_id="P2", at=first_min + gap_min, printing=120),
        b.planned_run("r3", at=first_min + gap_min, printing=second_min),
    )
    return week, plan


def test_whoever_came_for_a_short_run_stays_for_the_next() -> None:
    """After ten minutes at a press the same person prints the next run there: that is one stay."""
    week, plan = two_runs(10, 5, 60)
    found = full_roster(week, plan)
    at_first = {one.person_id for one in found.stretches if one.place == "P1"}
    assert len(at_first) == 1
    assert found.short == ()


@pytest.mark.parametrize(("minutes", "is_short"), [(29, True), (30, False)])
def test_a_stay_no_roster_can_avoid_is_told(minutes: int, is_short: bool) -> None:
    """One run at a press, and nothing else there all day: a minute under the least it is told, on the dot it is not."""
    week = b.week(presses=[b.press_line(run_crew=(("print", 1),))], people=[b.person("Ana")])
    found = full_roster(week, b.plan(b.planned_run(printing=minutes))).short
    assert [(one.person_id, one.start_tau, one.end_tau, one.is_needed) for one in found] == (
        [("Ana", 0, 29, True)] if is_short else []
    )


def test_a_shop_may_want_no_least_stay() -> None:
    """With nought minutes no stay is too short."""
    week = b.week(presses=[b.press_line(run_crew=(("print", 1),))], people=[b.person("Ana")], least_stay_min=0)
    assert full_roster(week, b.plan(b.planned_run(printing=1))).short == ()


def test_a_lead_who_watches_presses_has_no_stay() -> None:
    """Watching is walking from press to press: ten minutes of it are no short stay."""
    week = b.week(
        presses=[b.press_line(run_crew=(("lead", 1),))], people=[b.person("Lea", roles=["lead"])], lead_covers=2
    )
    assert full_roster(week, b.plan(b.planned_run(printing=10))).short == ()


def small_day(rng: random.Random) -> tuple[Week, Plan, list[Post]]:
    """Two or three presses with a few runs each, most of them short, at times packing beside, and up to five people."""
    presses, runs, planned, posts = [], [], [], list[Post]()
    for name in ("P1", "P2", "P3")[: rng.randint(2, 3)]:
        crew = (("print", 1),) if rng.random() < 0.6 else (("print", 1), ("catch", 1))
        presses.append(b.press_line(name, run_crew=crew))
        at = rng.choice([0, 0, 10])
        for _ in range(rng.randint(1, 2)):
            run_id, minutes = f"r{len(runs) + 1}", rng.choice([10, 20, 30, 60])
            runs.append(b.run(run_id, choices=[b.choice(name)]))
            planned.append(b.planned_run(run_id, press_id=name, at=at, printing=minutes))
            posts += [(role, name, at, at + minutes) for role, _ in crew]
            at += minutes + rng.choice([0, 0, 10])
    packed = rng.choice([None, 20, 40])
    orders = [] if packed is None else [b.planned_order(start=packed, packed=packed + 20)]
    posts += [] if packed is None else [("pack", "", packed, packed + 20)]
    people = [
        b.person(
            f"p{number}",
            roles=rng.sample(["print", "catch", "pack"], rng.randint(1, 3)),
            press_ids=rng.choice([(), (), ("P1", "P2")]),
            calendar=b.hours(rng.choice([(0, 540), (0, 540), (20, 540), (0, 50)])),
        )
        for number in range(rng.randint(3, 4))
    ]
    people.append(b.person("all", roles=["print", "catch", "pack"]))
    order = b.order_due(finish_min=0 if packed is None else 20, run_ids=[one.run_id for one in runs])
    week = b.week(
        runs=runs, orders=[order], presses=presses, people=people, finishing=b.floor_line(crew=(("pack", 1),))
    )
    return week, b.plan(*planned, orders=orders or None), posts


def fewest_short(week: Week, posts: list[Post]) -> int:
    """The fewest short stays of all rosters: every way to fill as many posts as can be, from one moment to the next."""
    windows = {who.person_id: who.calendar.windows[0] for who in week.people}
    edges = {edge for *_, start, end in posts for edge in (start, end)}
    last_tau = max(edges)
    edges |= {edge for one in windows.values() for edge in (one.start_tau, one.end_tau) if edge < last_tau}
    # A roster so far: for each person the place of the stay they are in, its start and end; with its short stays.
    so_far: dict[tuple[tuple[str, int, int], ...], int] = {(("", 0, 0),) * len(week.people): 0}
    for at, until in zip(sorted(edges), sorted(edges)[1:], strict=False):
        asked = [(role, place) for role, place, start, end in posts if start <= at < end]
        then: dict[tuple[tuple[str, int, int], ...], int] = {}
        for places in fillings(week, asked, at, windows):
            for state, short in so_far.items():
                now, count = [], short
                for stay, place in zip(state, places, strict=True):
                    if place is None:
                        now.append(stay)
                    elif place == stay[0]:
                        now.append((place, stay[1], until))
                    else:
                        count += is_short(week, stay)
                        now.append((place, at, until))
                key = tuple(now)
                then[key] = min(count, then.get(key, count))
        so_far = then
    return min(count + sum(is_short(week, stay) for stay in state) for state, count in so_far.items())


def is_short(week: Week, stay: tuple[str, int, int]) -> bool:
    """A stay at a press that is too short."""
    return bool(stay[0]) and stay[2] - stay[1] < week.least_stay_min


def fillings(
    week: Week, asked: list[tuple[str, str]], at: int, windows: dict[str, object]
) -> Iterator[list[str | None]]:
    """Where each person is in every way to fill as many posts as can be: a place, "" off the presses, None idle."""
    there = [who for who in week.people if who.calendar.windows[0].start_tau <= at < who.calendar.windows[0].end_tau]
    ways = []
    for chosen in product([*there, None], repeat=len(asked)):
        named = [who for who in chosen if who is not None]
        if len({who.person_id for who in named}) == len(named) and all(
            who is None or who.can(*post) for who, post in zip(chosen, asked, strict=True)
        ):
            ways.append((len(named), chosen))
    most = max(count for count, _ in ways)
    for count, chosen in ways:
        if count == most:
            at_post = {who.person_id: post[1] for who, post in zip(chosen, asked, strict=True) if who is not None}
            yield [at_post.get(who.person_id) for who in week.people]


def counted(stretches: tuple[RosterStretch, ...], week: Week) -> int:
    """The short stays of a roster, counted from its stretches by hand."""
    short = 0
    for who in week.people:
        own = sorted((one.start_tau, one.end_tau, one.place) for one in stretches if one.person_id == who.person_id)
        stay = ("", 0, 0)
        for start, end, place in own:
            if place == stay[0]:
                stay = (place, stay[1], end)
            else:
                short += is_short(week, stay)
                stay = (place, start, end)
        short += is_short(week, stay)
    return short


def test_no_roster_has_fewer_short_stays() -> None:
    """On fifty small days the roster has as few short stays as the best of all rosters, and says that it must."""
    rng = random.Random(5)
    seen: Counter[str] = Counter()
    for number in range(50):
        week, plan, posts = small_day(rng)
        found = full_roster(week, plan)
        least = fewest_short(week, posts)
        assert counted(found.stretches, week) == len(found.short) == least, f"day {number}"
        assert all(one.is_needed for one in found.short), f"day {number}"
        seen["must"] += bool(least)
        seen["none"] += not least
    assert min(seen.values()) > 8


def test_the_same_week_has_the_same_roster() -> None:
    """Rosters do not change from one look to the next."""
    week, plan, _ = small_day(random.Random(8))
    assert roster(week, plan) == roster(week, plan)

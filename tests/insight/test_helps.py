"""What would help: shops whose narrow place is known, more of it first; more of what is plenty brings nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import OrderDue, Week
from scheduler.insight.helps import WhatHelps, headline, what_helps
from scheduler.insight.one_more import offers
from scheduler.review.rules import check
from scheduler.search.engine import plan_week
from tests.builders import (
    choice,
    coat_window,
    frame_stock,
    order_due,
    person,
    press_line,
    run,
    screen_room,
    screen_set,
    week,
)
from tests.random_weeks import random_week

TRIES = 60
DAY_MIN = 540
PICKUPS = tuple(range(DAY_MIN, 5 * DAY_MIN + 1, DAY_MIN))
PEOPLE = [person("Ana", roles=["print"]), person("Bo", roles=["print"]), person("Cy", roles=["screens"])]


def due(number: int, must_leave: int = 0) -> OrderDue:
    """An order that should leave on the first evening; each day more costs a hundred."""
    return order_due(f"or{number}", (f"r{number}",), pickups_tau=PICKUPS, must_leave=must_leave, late_cents=10_000)


def narrow_belt() -> Week:
    """Three presses, one belt that carries one of their runs at a time."""
    presses = [press_line(f"P{n}", dryer_id="tunnel") for n in range(3)]
    runs = [run(f"r{n}", choices=[choice(f"P{n}", print_min=400, belt_permille=900)]) for n in range(3)]
    return week(runs=runs, orders=[due(n) for n in range(3)], presses=presses, people=PEOPLE)


def few_frames() -> Week:
    """Three sets of eight screens, coated frames for one, eight more each evening; the press has time for all."""
    evenings = [coat_window(f"coat {n}", start=480 + n * DAY_MIN, end=540 + n * DAY_MIN, places=8) for n in range(2)]
    windows = tuple(replace(evening, ready_tau=evening.end_tau) for evening in evenings)
    return week(
        runs=[run(f"r{n}", set_id=f"s{n}", choices=[choice("P1", print_min=60)]) for n in range(3)],
        orders=[due(n) for n in range(3)],
        sets=[screen_set(f"s{n}", screens=8, burn_min=10, tape_min=5) for n in range(3)],
        frames=[frame_stock(coated_now=8)],
        screen_room=screen_room(coat_windows=windows, crew=(("screens", 1),)),
        people=PEOPLE,
    )


def slow_screen_tech() -> Week:
    """Six sets of an hour and a half each for one screen tech; presses wait for them."""
    return week(
        runs=[run(f"r{n}", set_id=f"s{n}", choices=[choice(f"P{n}", print_min=30)]) for n in range(6)],
        orders=[due(n) for n in range(6)],
        presses=[press_line(f"P{n}") for n in range(6)],
        sets=[screen_set(f"s{n}", burn_min=110, tape_min=10) for n in range(6)],
        frames=[frame_stock(coated_now=40)],
        screen_room=screen_room(crew=(("screens", 1),), exposure_units=6, dry_min=5),
        people=PEOPLE,
    )


def one_press() -> Week:
    """Four runs of four hours on the one press they fit."""
    return week(
        runs=[run(f"r{n}", choices=[choice("P1", print_min=240)]) for n in range(4)],
        orders=[due(n) for n in range(4)],
        presses=[press_line("P1"), press_line("P2")],
        people=PEOPLE,
    )


def one_printer() -> Week:
    """Three presses and one who can print."""
    return week(
        runs=[run(f"r{n}", choices=[choice(f"P{n}", print_min=300)]) for n in range(3)],
        orders=[due(n) for n in range(3)],
        presses=[press_line(f"P{n}", run_crew=(("print", 1),)) for n in range(3)],
        people=[person("Ana", roles=["print"]), person("Cy", roles=["screens"])],
    )


def planned(one: Week) -> Plan:
    """The week's plan, searched a little."""
    found = plan_week(one, SearchSettings(iterations=200)).plan
    assert found is not None
    return found


def tried(one: Week) -> WhatHelps:
    """What would help in it."""
    return what_helps(one, planned(one), tries=TRIES)


@pytest.mark.parametrize(
    ("built", "kind", "name"),
    [
        pytest.param(narrow_belt, "belt", "tunnel", id="dryer"),
        pytest.param(few_frames, "frames", "23x31/156", id="frames of one mesh"),
        pytest.param(slow_screen_tech, "person", "screens", id="screen tech"),
        pytest.param(one_press, "press", "P1", id="press"),
        pytest.param(one_printer, "person", "print", id="one person"),
    ],
)
def test_more_of_what_is_narrow_comes_first(built: Callable[[], Week], kind: str, name: str) -> None:
    """In a shop with one narrow place more of it ranks first and saves late days; whatever is plenty saves nothing."""
    found = tried(built())
    best, *others = found.helps
    assert found.is_whole
    assert (best.kind, best.name) == (kind, name)
    assert best.saved_late_days > 0
    assert best.saved_cents <= best.most_saved_cents
    assert all(other.saved_cents < best.saved_cents for other in others)
    plenty = [other for other in others if other.kind not in ("press", "coating")]
    assert plenty
    assert [other.saved_cents for other in plenty] == [0] * len(plenty)


def test_nothing_helps_a_week_without_late_orders() -> None:
    """Where nothing costs anything the bound says so, and nothing is tried."""
    found = what_helps(week(people=PEOPLE), planned(week(people=PEOPLE)), tries=TRIES)
    assert {(one.saved_cents, one.most_saved_cents, one.tries) for one in found.helps} == {(0, 0, 0)}
    assert headline(found, str).startswith("Nothing on this list")


def test_the_headline_names_the_thing_the_days_and_the_money() -> None:
    """One sentence with what to get, what it saves in late days, and in money."""
    told = headline(tried(one_press()), lambda cents: f"{cents / 100:.2f} EUR")
    assert told.startswith("What would help most: a second press like P1, with the people there are. It would save ")
    assert "late day" in told
    assert told.endswith("EUR this week.")


@pytest.mark.parametrize("seed", range(12))
def test_a_plan_of_the_week_is_a_plan_with_one_thing_more(seed: int) -> None:
    """Every offer only loosens the week: the standing plan keeps every rule of it."""
    one = random_week(seed)
    plan = plan_week(one, SearchSettings(iterations=0)).plan
    if plan is None:
        assert not any(offer.week.runs == () for offer in offers(one, Plan(runs=(), orders=())))
        return
    for offer in offers(one, plan):
        assert check(offer.week, plan) == (), offer.words


def test_the_same_question_gets_the_same_answer() -> None:
    """Counted tries make the answer the same each time."""
    one = one_press()
    plan = planned(one)
    assert what_helps(one, plan, tries=TRIES) == what_helps(one, plan, tries=TRIES)


def test_stopping_keeps_what_is_known() -> None:
    """Stopped after two offers, two are told, and that others are missing is said."""
    one = one_press()
    heard: list[object] = []
    found = what_helps(
        one, planned(one), tries=TRIES, on_help=lambda help_: heard.append(help_), stop=lambda: len(heard) >= 2
    )
    assert len(found.helps) == len(heard) == 2
    assert not found.is_whole

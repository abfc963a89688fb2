"""What speaks for a run right where it stands: one hand-made case per fact, word for word."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.week import Part, ScreenNote, Week
from scheduler.search.finds import finds
from tests.builders import (
    choice,
    fixing,
    frame_stock,
    ink,
    order_due,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.search.decoding import plan


def facts(one: Week, run_id: str, *order: str) -> list[str]:
    """What is told of a run of the plan made in this order."""
    made = plan(one, *order)
    (queue,) = (queue for queue in made.queue.values() if run_id in [planned.run_id for planned in queue])
    at = [planned.run_id for planned in queue].index(run_id)
    return list(finds(one, made, queue[at], queue[at - 1] if at else None))


def on_base(set_id: str, *tops: str) -> Week:
    """Two runs: red on a white base, and a design of `set_id` in these inks on its own base, if it names one."""
    first = stack(("s1:base", "white"), ("s1:1", "red"), set_id="s1")
    heads = [(f"{set_id}:{'base' if at == 0 else at}", ink_id) for at, ink_id in enumerate(tops)]
    second = stack(*heads, set_id=set_id)
    notes = (ScreenNote(screen_id=f"{set_id}:base", prints="white base", mesh=156, frame_size="23x31"),)
    return week(
        runs=[
            run("r1", set_id="s1", choices=[choice(on=first)]),
            run("r2", set_id=set_id, choices=[choice(on=second)]),
        ],
        sets=[screen_set("s1", is_burned_now=True), replace(screen_set("s2", is_burned_now=True), notes=notes)],
        inks=[ink("white"), ink("red"), ink("blue")],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )


@pytest.mark.parametrize(
    ("tops", "told"),
    [
        (("white", "blue"), ["white base stays"]),
        (("white", "red"), ["red and white base stay"]),
        (("white", "white"), ["white stays"]),
        (("blue", "blue"), []),
    ],
)
def test_an_ink_that_stays_as_the_base_is_told_as_the_base(tops: tuple[str, ...], told: list[str]) -> None:
    """White that prints nothing but the base is "white base"; printed as a colour too it is "white"."""
    assert facts(on_base("s2", *tops), "r2") == told


def test_the_base_that_is_switched_off_is_told() -> None:
    """The light garments of a dark design: the same screens without the base."""
    dark = stack(("s2:base", "white"), ("s2:1", "red"), set_id="s2")
    light = stack(("s2:1", "red"), set_id="s2")
    one = on_base("s2", "white", "red")
    runs = (
        run("r1", set_id="s2", choices=[choice(on=dark)]),
        run("r2", set_id="s2", choices=[choice(on=light)]),
    )
    assert facts(replace(one, runs=runs), "r2") == ["same screens, white base off"]
    again = run("r2", set_id="s2", choices=[choice(on=dark)])
    assert facts(replace(one, runs=(runs[0], again)), "r2") == ["same screens"]


@pytest.mark.parametrize(
    ("kinds", "told"),
    [(("fleece", "fleece"), ["fleece together"]), (("tee", "tee"), []), (("fleece", "bag"), []), (("", ""), [])],
)
def test_garments_of_one_kind_are_together(kinds: tuple[str, str], told: list[str]) -> None:
    """Fleece after fleece is worth a word, tees are not, and nothing is said of kinds nobody knows."""
    runs = [
        replace(run(f"r{at}"), parts=(Part(lot_id=f"l{at}", garment="garment", pieces=9, kind=kind),))
        for at, kind in enumerate(kinds)
    ]
    assert facts(week(runs=runs), "r1") == told


@pytest.mark.parametrize(("last", "told"), [("hoodie", ["hoodie pallets stay"]), ("adult", [])])
def test_pallets_that_stay_are_told_where_there_are_others(last: str, told: list[str]) -> None:
    """Hoodie after hoodie keeps its pallets; in a week of one pallet kind nobody asks."""
    runs = [
        run(f"r{at}", choices=[choice(on=replace(stack(), pallet=pallet))])
        for at, pallet in enumerate(("adult", "hoodie", last))
    ]
    assert facts(week(runs=runs), "r2") == told
    assert facts(week(runs=runs[1:]), "r2") == told * (last != "hoodie")


def test_the_only_press_that_takes_a_run_is_named() -> None:
    """Said where the shop has several presses, not where somebody fixed the run."""
    presses = [press_line("P1", name="Big Eight"), press_line("P2")]
    runs = [run("r1", choices=[choice("P1")]), run("r2", choices=[choice("P1"), choice("P2")])]
    one = week(runs=runs, presses=presses)
    assert facts(one, "r1") == ["only fits Big Eight"]
    assert facts(one, "r2") == []
    assert facts(week(runs=runs[:1]), "r1") == []
    assert facts(replace(one, fixings=(fixing("r1", press_id="P1", at=0),)), "r1") == []


@pytest.mark.parametrize(
    ("leaves", "told"),
    [
        (540, ["same garments", "must leave Mon 17:00"]),
        (600, ["same garments"]),
        (100, ["same garments"]),
    ],
)
def test_the_pick_up_of_the_day_is_told(leaves: int, told: list[str]) -> None:
    """An order that leaves on the day it is printed says so; one that leaves later, or is late already, does not."""
    runs = [run("r1", order_id="o1", lots=["tees"]), run("r2", order_id="o2", lots=["tees"])]
    orders = [order_due("o1", ("r1",)), order_due("o2", ("r2",), pickups_tau=(leaves, 2700))]
    assert facts(week(runs=runs, orders=orders), "r2", "r1", "r2") == told


@pytest.mark.parametrize(("leaves", "told"), [(600, ["must leave Tue 09:00"]), (50, []), (2700, [])])
def test_the_date_is_told_where_there_is_nothing_else_to_say(leaves: int, told: list[str]) -> None:
    """A run that finds nothing on the press is next by its date; one that is late or has no date says nothing."""
    one = week(runs=[run("r1")], orders=[order_due(run_ids=("r1",), pickups_tau=(leaves, 2700))])
    assert facts(one, "r1") == told

"""The planner's list: timed in its own order, with every thing it could not have told in shop words."""

import random
from itertools import pairwise
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.calendars import Restart
from scheduler.domain.own_order import OwnLine
from scheduler.domain.week import NotPlanned, Week
from scheduler.review.rules import check
from scheduler.search.as_listed import AsListed, overtaken, time_list
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.list_order import list_order
from tests.builders import (
    choice,
    coat_window,
    fixing,
    frame_stock,
    hours,
    order_due,
    overtime,
    press_line,
    reclaim_block,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week
from tests.search.listing import own, queue, timed

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


def three_runs(**more: object) -> Week:
    """Three orders of one run on one press; each prints an hour."""
    return week(**{"runs": [run("r1"), run("r2"), run("r3")], **more})


def test_the_listed_order_is_the_order_of_the_press() -> None:
    """Whatever the due dates say, the press works off the list."""
    found = timed(three_runs(), "or3", "or1", "or2")
    assert queue(found) == ["r3", "r1", "r2"]
    assert (found.told, found.not_named) == ((), ())


def test_what_is_not_named_comes_after_by_due_date() -> None:
    """Runs the list leaves out follow it, the earliest promise first."""
    orders = [order_due(f"or{n}", [f"r{n}"], pickups_tau=(day * 540, 2700)) for n, day in ((1, 3), (2, 2), (3, 1))]
    found = timed(three_runs(orders=orders), "or1")
    assert queue(found) == ["r1", "r3", "r2"]
    assert found.not_named == ("r3", "r2")


def test_a_line_names_runs_by_location_shade_and_garment() -> None:
    """A line with a location means that print alone; the order alone means what is left of it."""
    runs = [
        run("7 front dark", order_id="7", location="front", lots=["a"]),
        run("7 back dark", order_id="7", location="back", lots=["b"]),
        run("7 back light", order_id="7", location="back", lots=["c"]),
    ]
    light_back = OwnLine(order_id="7", location="back", shade="light")
    assert queue(timed(week(runs=runs), light_back, "7")) == ["7 back light", "7 front dark", "7 back dark"]
    tee_back = OwnLine(order_id="7", location="back", garment="tee")
    assert queue(timed(week(runs=runs), tee_back, "7")) == ["7 back dark", "7 back light", "7 front dark"]


def test_a_named_press_is_kept() -> None:
    """Two presses are free; everything waits for the one the list names."""
    offers = [choice("P1"), choice("P2")]
    one = week(runs=[run("r1", choices=offers), run("r2", choices=offers)], presses=[press_line(), press_line("P2")])
    found = timed(one, OwnLine(order_id="or1", press_id="P2"), OwnLine(order_id="or2", press_id="P2"))
    assert (queue(found), queue(found, "P2")) == ([], ["r1", "r2"])
    assert found.names_every_press
    free = timed(one, "or1", "or2")
    assert (queue(free), queue(free, "P2")) == (["r1"], ["r2"])
    assert not free.names_every_press


def test_a_press_it_does_not_fit_is_told() -> None:
    """The run goes where it fits, and the sentence says why not where it was listed."""
    one = week(presses=[press_line(), press_line("P2", name="Manual")])
    asked = own(OwnLine(order_id="or1", press_id="P2"))
    found = time_list(one, asked, lambda run_id, press_id: f"{run_id} needs 6 heads; {press_id} has 4")
    assert isinstance(found, AsListed)
    assert found.told == ("r1 does not fit Manual (r1 needs 6 heads; P2 has 4): it goes on P1.",)
    assert queue(found) == ["r1"]


def test_a_locked_press_wins() -> None:
    """What is locked on one press does not follow the list to another."""
    offers = [choice("P1"), choice("P2")]
    one = week(
        runs=[run("r1", choices=offers)],
        presses=[press_line(), press_line("P2")],
        fixings=[fixing("r1", press_id="P1")],
    )
    found = timed(one, OwnLine(order_id="or1", press_id="P2"))
    assert found.told == ("r1 is locked on P1: it stays there, not on P2.",)


def test_prints_the_other_way_round_are_turned() -> None:
    """A back that prints after the front comes right after it; a front nobody listed is taken just before."""
    runs = [
        run("front", order_id="o", lots=["lot"]),
        run("back", order_id="o", location="back", lots=["lot"], print_after=("front",)),
        run("r3"),
    ]
    one = week(runs=runs)
    back, front = OwnLine(order_id="o", location="back"), OwnLine(order_id="o", location="front")
    turned = timed(one, back, "or3", front)
    assert queue(turned) == ["r3", "front", "back"]
    assert turned.told == ("back prints after front, not before: it comes right after it.",)
    added = timed(one, back, "or3")
    assert queue(added) == ["front", "back", "r3"]
    assert added.told == ("back prints after front, which the list does not name: that one goes just before it.",)


def test_lines_that_mean_nothing_are_told_once() -> None:
    """An order named twice, one that waits and one that is printed already are told, each in one sentence."""
    waiting = NotPlanned(order_id="9", run_id=None, reasons=("waiting for art: front",), kind="waiting")
    told = list_order(three_runs(not_planned=[waiting]), own("or1", "9", "9", "8", "or1")).told
    assert told == (
        "9: waiting for art: front; it is left out.",
        "8: nothing of it is left to print; it is left out.",
        "or1 stands in the list twice: the first place counts.",
    )


def short_of_frames() -> Week:
    """Two frames, both coated: r2 gets them once r1 is packed, reclaimed on Tuesday and coated before noon."""
    offers = [[choice("P1", on=stack((f"s{n}.1", "white"), set_id=f"s{n}"))] for n in (1, 2)]
    runs = [
        run("r1", set_id="s1", choices=offers[0]),
        run("r2", set_id="s2", choices=offers[1]),
        run("r3", choices=[choice("P1"), choice("P2")]),
        run("r4", choices=[choice("P1")]),
    ]
    room = screen_room(
        reclaim_blocks=(reclaim_block(),), coat_windows=(coat_window("coat", start=600, end=660, ready=700),)
    )
    return week(
        runs=runs,
        sets=[screen_set("s1"), screen_set("s2")],
        frames=[frame_stock(coated_now=2, clean_now=0)],
        screen_room=room,
        presses=[press_line(), press_line("P2")],
    )


def test_a_press_waits_for_frames_rather_than_break_the_list() -> None:
    """r2 waits for the frames of r1 until Tuesday; r4, listed after it on the same press, waits with it."""
    found = timed(short_of_frames(), "or1", "or2", "or3", "or4")
    assert [one for one in queue(found) if one != "r3"] == ["r1", "r2", "r4"]
    assert found.plan.run["r4"].set_up_start_tau > found.plan.run["r2"].set_up_start_tau > 700
    assert not overtaken(found.listed, found.decoded)


def test_the_order_gives_where_nothing_else_can_go_on() -> None:
    """r2, listed first of all, needs frames that hang in r1 on the same press: it comes after r1, and this is told."""
    one = short_of_frames()
    one = week(
        runs=one.runs,
        sets=[screen_set("s1", is_burned_now=True), screen_set("s2")],
        frames=[frame_stock(coated_now=0, clean_now=0)], screen_room=one.screen_room, presses=one.presses,
    )  # fmt: skip
    found = timed(one, OwnLine(order_id="or2", press_id="P1"), OwnLine(order_id="or1", press_id="P1"), "or3", "or4")
    assert queue(found).index("r1") < queue(found).index("r2")
    assert found.told == ("On P1 r2 comes after r1: there are no coated frames for its screens any earlier.",)


def test_a_locked_run_in_the_way_is_told() -> None:
    """A run locked at nine goes ahead of a long one listed before it; what is listed after both stays behind both."""
    runs = [run("r1", choices=[choice(print_min=120)]), run("r2"), run("r3", choices=[choice(print_min=30)])]
    one = week(runs=runs, fixings=[fixing("r2", press_id="P1", at=60)])
    found = timed(one, "or1", "or2", "or3")
    assert queue(found) == ["r2", "r1", "r3"]
    assert found.told == ("r2 is locked at Mon 09:00 on P1: r1, listed before it, comes after it.",)


def test_overtime_only_where_there_is_no_other_way() -> None:
    """A list that does not fit the normal hours works the overtime on offer and says so."""
    calendar = hours((0, 480), (480, 540, "late Mon"))
    one = week(
        runs=[run("r1", choices=[choice(print_min=450)]), run("r2")],
        presses=[press_line(calendar=calendar)],
        overtime=[overtime()],
    )
    found = timed(one, "or1", "or2")
    assert found.plan.overtime == ("late Mon",)
    assert found.told == ("Without overtime the list does not fit the planned days: all that is on offer is worked.",)
    assert timed(week(presses=[press_line(calendar=calendar)], overtime=[overtime()]), "or1").plan.overtime == ()


def test_a_run_without_a_place_goes_first() -> None:
    """The run that fills a day is taken to the front where the list leaves it no room to go on after the night."""
    whole_day = run("r2", choices=[choice(print_min=540)])
    press = press_line(calendar=hours((0, 540), (540, 600)), restart=Restart(night_min=10))
    one = week(runs=[run("r1"), whole_day], presses=[press])
    found = timed(one, "or1", "or2")
    assert queue(found) == ["r2", "r1"]
    assert found.told[0] == "r2 finds no place in the planned days where it is listed: it goes first."


def test_a_list_that_cannot_be_done_says_why() -> None:
    """Where not even everything else first helps, there is no plan and a reason."""
    found = time_list(week(runs=[run("r1", choices=[choice(print_min=4000)])]), own("or1"))
    assert isinstance(found, Refused)
    assert found.reason == "no press has room for it in time"


@pytest.mark.parametrize("seed", range(40))
def test_every_press_keeps_the_listed_order(seed: int) -> None:
    """In random weeks and random lists with presses named here and there, each press's queue is the list's; the rest
    is told. The genome makes the same plan again.
    """
    one = random_week(seed, size="small")
    rng = random.Random(seed)
    lines = [
        OwnLine(order_id=each.order_id, location=each.location, press_id=rng.choice(each.choices).press_id)
        if rng.random() < 0.6
        else OwnLine(order_id=each.order_id, location=each.location)
        for each in rng.sample(one.runs, len(one.runs))
    ]
    found = time_list(one, own(*lines))
    if isinstance(found, Refused):
        assert found.reason
        return
    assert check(one, found.plan) == ()
    rank = {run_id: at for at, run_id in enumerate(found.listed)}
    pairs = [(a.run_id, b.run_id) for press in found.plan.queue.values() for a, b in pairwise(press)]
    swapped = [pair for pair in pairs if rank[pair[0]] > rank[pair[1]]]
    told = " ".join(found.told)
    assert all(first in told or second in told for first, second in swapped)
    named = {one.run[r].run_id: line.press_id for line, r in zip(lines, _meant(one, lines), strict=True)}
    for run_id, press_id in named.items():
        assert press_id in ("", found.plan.run[run_id].press_id) or run_id in told
    again = Decoder(one).decode(found.genome)
    assert isinstance(again, Decoded)
    assert [o.run_id for q in again.plan.queue.values() for o in q] == [
        o.run_id for q in found.plan.queue.values() for o in q
    ]


def _meant(one: Week, lines: list[OwnLine]) -> list[str]:
    by_place = {(each.order_id, each.location): each.run_id for each in one.runs}
    return [by_place[line.order_id, line.location] for line in lines]


@pytest.mark.parametrize("name", ["solo", "midsize", "contract"])
def test_the_sheets_own_rows_can_be_timed(name: str) -> None:
    """The invented weeks in the order of their sheets: no rule broken, order kept but for what started or is locked."""
    inputs = api.read_week(SCENARIOS / name)
    one = api.build_workload(inputs).week
    found = time_list(one, api.read_own_order("", SCENARIOS / name, inputs))
    assert isinstance(found, AsListed)
    assert check(one, found.plan) == ()
    fixed = {fixed.run_id for fixed in one.fixings}
    assert all(fixed.intersection(pair) for pair in overtaken(found.listed, found.decoded))
    assert found.not_named == ()

"""What a timeline draws: every stretch of the plan, nothing else, each told as what it is."""

from __future__ import annotations

from itertools import pairwise

import pytest

from dashboard.charts.bars import DRYERS, PEOPLE, PRESSES, SCREEN_ROOM, gaps, lanes, late_words, split, within
from tests import builders as b
from tests.dashboard.charts.shown_plans import over_lunch, seen, two_press_shop


def test_a_run_is_set_up_printing_pause_printing() -> None:
    """The press's own lunch is a pause on the shop axis, with the run still on the press."""
    lane = lanes(*over_lunch())[0]
    assert (lane.name, lane.group) == ("P1", PRESSES)
    found = sorted((bar.start_tau, bar.end_tau, bar.look) for bar in lane.bars)
    assert found == [(0, 20, "set-up"), (20, 40, "printing"), (40, 60, "pause"), (60, 100, "printing")]


def test_late_is_a_look_a_mark_and_words() -> None:
    """Printing for a late order is drawn as late, its words begin with the mark, and it says how much."""
    printing = [bar for bar in lanes(*over_lunch(late=True))[0].bars if bar.what == "printing"]
    assert {bar.look for bar in printing} == {"late"}
    assert {bar.late for bar in printing} == {"▲ LATE 1 day"}
    assert all(label.startswith("▲") for bar in printing for label in bar.labels)
    on_time = [bar for bar in lanes(*over_lunch())[0].bars if bar.what == "printing"]
    assert not any("▲" in label or bar.late for bar in on_time for label in bar.labels)


@pytest.mark.parametrize(("days", "text"), [(0, ""), (1, "▲ LATE 1 day"), (2, "▲ LATE 2 days")])
def test_lateness_in_words(days: int, text: str) -> None:
    """Mark, word and how much; nothing where nothing is late."""
    assert late_words(days) == text


def test_all_minutes_of_the_plan_are_drawn_once() -> None:
    """Per press, ink changes, set-ups, printing and rinsing together are the plan's own press minutes."""
    week, plan, view = two_press_shop()
    for press, lane in zip(week.presses, lanes(week, plan, view), strict=False):
        drawn: dict[str, int] = {}
        for bar in lane.bars:
            drawn[bar.what] = drawn.get(bar.what, 0) + bar.end_tau - bar.start_tau
        queue = plan.queue[press.press_id]
        set_up_min = sum(one.set_up_min for one in queue)
        leaving_min = sum(view.ink_min[one.run_id] for one in queue)
        choices = [week.run[one.run_id].on_press[press.press_id] for one in queue]
        assert drawn.get("inks leave the press", 0) == leaving_min
        assert drawn.get("set-up", 0) == set_up_min - leaving_min
        assert drawn.get("rinsing out", 0) == sum(choice.wash_up_min for choice in choices)
        assert drawn["printing"] >= sum(choice.print_min for choice in choices)


def test_ink_changes_are_seen() -> None:
    """The two-press shop has set-ups in which inks leave, and a water-based run that is rinsed out."""
    looks = [bar.what for lane in lanes(*two_press_shop()) for bar in lane.bars if bar.look == "ink change"]
    assert {"inks leave the press", "rinsing out"} <= set(looks)


def test_bars_of_a_press_do_not_overlap() -> None:
    """A press does one thing at a time in the picture as in the plan."""
    for lane in lanes(*two_press_shop()):
        if lane.group == PRESSES:
            spans = sorted((bar.start_tau, bar.end_tau) for bar in lane.bars)
            assert all(end <= start for (_, end), (start, _) in pairwise(spans))


def test_the_screen_room_shows_burns_drying_and_coating() -> None:
    """Every burn of the plan has its bars: burn, dry, tape; coating and reclaiming say how many."""
    week, plan, view = two_press_shop()
    room = {lane.name: lane.bars for lane in lanes(week, plan, view) if lane.group == SCREEN_ROOM}
    burns = [one for one in plan.runs if one.burn is not None]
    assert burns
    burning = {(bar.run_id, bar.start_tau) for bar in room["Burn, tape"] if bar.what == "burn"}
    assert burning == {(one.run_id, one.burn.start_tau) for one in burns if one.burn}
    drying = {(bar.run_id, bar.start_tau, bar.end_tau) for bar in room["Drying"]}
    assert drying <= {(one.run_id, one.burn.end_tau, one.burn.dry_tau) for one in burns if one.burn}
    coated = sum(batch.count for batch in plan.coat_batches)
    told = [int(bar.labels[0].removeprefix("coat ")) for bar in room["Coat, reclaim"] if bar.what == "coat"]
    assert sum(told) == coated


def test_a_belt_bar_is_as_high_as_the_belt_is_full() -> None:
    """Eight tenths of the belt fill eight tenths of the lane, while something prints."""
    belt = next(lane for lane in lanes(*over_lunch()) if lane.group == DRYERS)
    assert [(bar.start_tau, bar.end_tau, bar.share) for bar in belt.bars] == [(20, 40, 0.8), (60, 100, 0.8)]
    assert belt.bars[0].labels == ("80 %",)


def test_everybody_named_has_a_lane_with_their_work() -> None:
    """The people's lanes hold the roster, stretch by stretch."""
    week, plan, view = two_press_shop()
    found = [lane for lane in lanes(week, plan, view) if lane.group == PEOPLE]
    assert {person.name for person in week.people} <= {lane.name for lane in found}
    drawn = sorted((bar.start_tau, bar.end_tau) for lane in found for bar in lane.bars)
    assert drawn == sorted((one.start_tau, one.end_tau) for one in view.roster)


@pytest.mark.parametrize(
    ("first_min", "head", "rest"),
    [
        (0, [], [(0, 10), (20, 30)]),
        (4, [(0, 4)], [(4, 10), (20, 30)]),
        (10, [(0, 10)], [(20, 30)]),
        (11, [(0, 10), (20, 21)], [(21, 30)]),
        (20, [(0, 10), (20, 30)], []),
    ],
)
def test_spans_are_cut_after_their_first_minutes(
    first_min: int, head: list[tuple[int, int]], rest: list[tuple[int, int]]
) -> None:
    """The cut may fall inside a span, between two, or at the end."""
    assert split([(0, 10), (20, 30)], first_min) == (head, rest)


def test_gaps_have_a_length() -> None:
    """Spans that touch on the shop axis (a night between) leave no gap to draw."""
    assert gaps([(20, 30), (0, 10), (10, 20)]) == []
    assert gaps([(0, 10), (11, 20)]) == [(10, 11)]


@pytest.mark.parametrize(("from_tau", "to_tau", "count"), [(0, 20, 1), (0, 21, 2), (99, 200, 1), (100, 200, 0)])
def test_only_what_lies_inside_is_kept(from_tau: int, to_tau: int, count: int) -> None:
    """A bar that ends where the picture begins, or begins where it ends, is not in it."""
    assert len(within(lanes(*over_lunch())[0].bars, from_tau, to_tau)) == count


def test_a_lead_at_two_presses_has_one_bar_that_names_both() -> None:
    """While a lead watches two presses their lane says so in one bar; before and after it names the one press."""
    crew = (("lead", 1),)
    presses = [b.press_line(name, run_crew=crew) for name in ("P1", "P2")]
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")])]
    week = b.week(runs=runs, presses=presses, people=[b.person("Lea", roles=["lead"])], lead_covers=2)
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=20))
    (lane,) = [one for one in lanes(*seen(week, plan)) if one.group == PEOPLE]
    assert [(bar.labels[0], bar.what, bar.start_tau, bar.end_tau) for bar in lane.bars] == [
        ("P1", "printing", 0, 20),
        ("P1 and P2", "watching", 20, 60),
        ("P2", "printing", 60, 80),
    ]

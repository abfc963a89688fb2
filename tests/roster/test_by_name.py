"""Rosters by name: filled whenever they can be, with few hand-overs."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from scheduler.domain.leads import is_watched
from scheduler.review.rules import check
from scheduler.roster.by_name import RosterStretch, hand_overs, roster
from tests import builders as b
from tests.review.good_plans import good_plans


def told(stretches: tuple[RosterStretch, ...]) -> list[tuple[str | None, str, int, int]]:
    """(person, activity, start, end) of each stretch."""
    return [(one.person_id, one.activity, one.start_tau, one.end_tau) for one in stretches]


def is_watching(beside: Sequence[RosterStretch], lead_covers: int) -> bool:
    """True if what one person does at one minute is watching presses, no more than a lead may."""
    places = {one.place for one in beside}
    return all(is_watched(one.role, one.place) for one in beside) and len(beside) == len(places) <= lead_covers


def test_one_person_sets_up_and_prints() -> None:
    """Who sets a press up goes on to print on it when both can."""
    press = b.press_line(set_up_crew=(("print", 1),), run_crew=(("print", 1),))
    week = b.week(presses=[press], people=[b.person("Ana"), b.person("Ben")])
    found = roster(week, b.plan(b.planned_run(set_up=10)))
    assert told(found) == [("Ana", "set-up", 0, 10), ("Ana", "printing", 10, 70)]


def test_nobody_hands_over_because_somebody_else_starts() -> None:
    """A second activity starts with a person who is free; the first keeps theirs."""
    presses = [b.press_line("P1", run_crew=(("print", 1),)), b.press_line("P2", run_crew=(("print", 1),))]
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")])]
    week = b.week(runs=runs, presses=presses, people=[b.person("Ana"), b.person("Ben")])
    found = roster(week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=30)))
    assert told(found) == [("Ana", "printing", 0, 60), ("Ben", "printing", 30, 90)]
    assert hand_overs(found) == 0


def test_somebody_makes_way_when_only_they_can() -> None:
    """The only packer leaves the press to the other printer: one hand-over, and both posts are filled. It comes as soon
    as the other is in, who stands there for half an hour then.
    """
    press = b.press_line(run_crew=(("print", 1),))
    week = b.week(
        runs=[b.run("r1")],
        orders=[b.order_due(finish_min=20)],
        presses=[press],
        finishing=b.floor_line(crew=(("pack", 1),)),
        people=[
            b.person("Ana", roles=["print", "pack"]),
            b.person("Ben", roles=["print"], calendar=b.hours((30, 540))),
        ],
    )
    found = roster(week, b.plan(b.planned_run(), orders=[b.planned_order(start=45, packed=65)]))
    assert told(found) == [
        ("Ana", "printing", 0, 30),
        ("Ben", "printing", 30, 60),
        ("Ana", "packing", 45, 65),
    ]
    assert hand_overs(found) == 1


def test_the_one_who_can_do_less_is_asked_first() -> None:
    """The all-rounder is left free for what nobody else can do."""
    press = b.press_line(run_crew=(("print", 1),))
    people = [b.person("Ana", roles=["print", "pack", "screens"]), b.person("Ben", roles=["print"])]
    found = roster(b.week(presses=[press], people=people), b.plan(b.planned_run()))
    assert told(found) == [("Ben", "printing", 0, 60)]


def test_the_same_person_comes_back_after_a_pause() -> None:
    """A stretch ends at a break, and the person who printed before it prints after it."""
    press = b.press_line(run_crew=(("print", 1),), calendar=b.every_day(breaks=[(240, 30)]))
    week = b.week(presses=[press], people=[b.person("Ana"), b.person("Ben")])
    found = roster(week, b.plan(b.planned_run(at=210, printing=90)))
    assert told(found) == [("Ana", "printing", 210, 240), ("Ana", "printing", 270, 300)]
    assert hand_overs(found) == 0


def test_no_stretch_runs_over_a_night() -> None:
    """Work on both sides of a night is two stretches, though the axis has no minute between them."""
    week = b.week(presses=[b.press_line(run_crew=(("print", 1),))], people=[b.person("Ana")])
    found = roster(week, b.plan(b.planned_run(at=510)))
    assert told(found) == [("Ana", "printing", 510, 540), ("Ana", "printing", 540, 570)]


def test_a_post_nobody_can_fill_stays_open() -> None:
    """As many posts as possible are filled; the rest are told without a name."""
    press = b.press_line(run_crew=(("print", 1), ("catch", 2)))
    people = [b.person("Ana", roles=["print", "catch"]), b.person("Ben", roles=["catch"])]
    found = roster(b.week(presses=[press], people=people), b.plan(b.planned_run()))
    assert sorted((one.role, one.person_id or "") for one in found) == [
        ("catch", ""),
        ("catch", "Ben"),
        ("print", "Ana"),
    ]


def test_a_week_without_names_has_no_roster() -> None:
    """Nobody is named where the shop names nobody."""
    assert roster(b.week(presses=[b.press_line(run_crew=(("print", 1),))]), b.plan(b.planned_run())) == ()


@pytest.mark.parametrize("part", range(4))
def test_rosters_of_good_plans_hold(part: int) -> None:
    """Every post of a good plan has a name, who can do it and is there, and nobody is in two places at once."""
    for _, week, plan in good_plans()[part::4]:
        assert not [one for one in check(week, plan) if one.rule == "people_suffice"]
        found = roster(week, plan)
        people = {person.person_id: person for person in week.people}
        busy: dict[str, list[RosterStretch]] = {}
        for one in found:
            assert one.person_id is not None
            assert people[one.person_id].can(one.role, one.place)
            windows = people[one.person_id].calendar.with_bought(plan.overtime).windows
            assert any(w.start_tau <= one.start_tau and one.end_tau <= w.end_tau for w in windows)
            busy.setdefault(one.person_id, []).append(one)
        for spans in busy.values():
            for one in spans:
                beside = [other for other in spans if other.start_tau <= one.start_tau < other.end_tau]
                assert len(beside) == 1 or is_watching(beside, week.lead_covers)


def test_one_lead_watches_two_presses_by_name() -> None:
    """The lead stands in the roster at both presses at once; a third press is watched by another."""
    crew = (("lead", 1),)
    presses = [b.press_line(f"P{number}", run_crew=crew) for number in (1, 2, 3)]
    runs = [b.run(f"r{number}", choices=[b.choice(f"P{number}")]) for number in (1, 2, 3)]
    people = [b.person("Lea", roles=["lead"]), b.person("Max", roles=["lead", "print"])]
    week = b.week(runs=runs, presses=presses, people=people, lead_covers=2)
    plan = b.plan(*(b.planned_run(f"r{number}", press_id=f"P{number}") for number in (1, 2, 3)))
    assert sorted((one.person_id or "", one.place) for one in roster(week, plan)) == [
        ("Lea", "P1"),
        ("Lea", "P2"),
        ("Max", "P3"),
    ]

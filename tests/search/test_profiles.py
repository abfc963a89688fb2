"""People, belts and places over time: what fits beside what is booked."""

import itertools
import random

import pytest

from scheduler.domain.week import Crew, Person, Week
from scheduler.search.profiles import Limits, Track, floor_track, limits_of, plain_track
from scheduler.search.timing import NEVER, open_hours
from tests.builders import (
    choice,
    floor_line,
    hours,
    person,
    press_line,
    reservation,
    run,
    week,
)


def floor_of(one: Week) -> tuple[Limits, Track]:
    """A week's people and belts with nothing placed."""
    limits = limits_of(one)
    return limits, floor_track(one, limits, [open_hours(who.calendar, frozenset()) for who in one.people])


def test_a_place_is_free_again_when_its_use_ends() -> None:
    """A clash is told by the minute it is over; touching uses do not clash."""
    track = plain_track(2)
    track.take(10, 20, 1)
    track.take(15, 30, 1)
    assert track.clash_end(0, 15, 1) == 0
    assert track.clash_end(0, 16, 1) == 20
    assert track.clash_end(20, 30, 1) == 0
    assert track.clash_end(12, 40, 2) == 30
    assert plain_track(2).clash_end(0, 5, 3) == NEVER


def test_giving_back_leaves_no_trace() -> None:
    """What is taken and given back fits as if it had never been there."""
    track = plain_track(1)
    track.take(5, 9, 1)
    track.take(5, 9, -1)
    assert track.clash_end(0, 20, 1) == 0


@pytest.mark.parametrize("permille", [400, 401])
def test_a_belt_holds_a_thousand_and_no_more(permille: int) -> None:
    """Shares on one belt add up to at most 1000; another belt is another matter."""
    one = week(presses=[press_line("P1", dryer_id="D1"), press_line("P2", dryer_id="D2")])
    limits, floor = floor_of(one)
    floor.take(0, 60, limits.belt_need("D1", 600))
    assert (floor.clash_end(30, 90, limits.belt_need("D1", permille)) == 0) is (permille == 400)
    assert floor.clash_end(30, 90, limits.belt_need("D2", permille)) == 0


def test_roles_share_people() -> None:
    """One person with two roles fills one of them at a time; two people fill both."""
    press = press_line(set_up_crew=(("print", 1),), run_crew=(("print", 1), ("catch", 1)))
    both = ("print", "catch")
    alone = week(presses=[press], people=[person("Ana", roles=both)])
    limits, floor = floor_of(alone)
    assert floor.clash_end(0, 10, limits.crew_need(press.set_up_crew, "P1")) == 0
    assert floor.clash_end(0, 10, limits.crew_need(press.run_crew, "P1")) != 0
    pair = week(presses=[press], people=[person("Ana", roles=both), person("Ben", roles=["catch"])])
    limits, floor = floor_of(pair)
    assert floor.clash_end(0, 10, limits.crew_need(press.run_crew, "P1")) == 0


def test_people_are_there_in_their_own_hours_only() -> None:
    """A person out at noon is missing at noon, and a booking of the calendar takes them too."""
    press = press_line(run_crew=(("print", 1),))
    one = week(
        presses=[press],
        finishing=floor_line(crew=(("print", 1),)),
        people=[person("Ana", calendar=hours((0, 200), (260, 540)))],
        reservations=[reservation("print", start=400, end=450)],
    )
    limits, floor = floor_of(one)
    need = limits.crew_need(press.run_crew, "P1")
    assert floor.clash_end(150, 200, need) == 0
    assert floor.clash_end(150, 201, need) == 260
    assert floor.clash_end(260, 400, need) == 0
    assert floor.clash_end(260, 401, need) == 450
    assert floor.clash_end(500, 541, need) == NEVER


def test_a_booking_nobody_can_keep_is_told() -> None:
    """If the calendar books more people than there are, no plan can mend it."""
    one = week(people=[person("Ana")], reservations=[reservation("print", count=2)])
    with pytest.raises(ValueError, match="nobody is free for coating"):
        floor_of(one)


def test_without_people_nobody_is_asked_for() -> None:
    """A week that names no people demands none."""
    one = week(presses=[press_line(run_crew=(("print", 9),))])
    limits, _ = floor_of(one)
    assert limits.crew_need((("print", 9),), "P1") == 0


def can_all_be_filled(people: list[Person], demands: list[tuple[str, str]], lead_covers: int = 1) -> bool:
    """Try every assignment of people to demanded heads; a lead may have several presses, and nothing else then."""
    for chosen in itertools.product(people, repeat=len(demands)):
        if not all(who.can(*post) for who, post in zip(chosen, demands, strict=True)):
            continue
        held: dict[str, list[tuple[str, str]]] = {}
        for who, post in zip(chosen, demands, strict=True):
            held.setdefault(who.person_id, []).append(post)
        if all(
            len(posts) == 1 or (len(posts) <= lead_covers and all(role == "lead" and place for role, place in posts))
            for posts in held.values()
        ):
            return True
    return False


def test_limits_hold_exactly_when_a_matching_exists() -> None:
    """The packed limits say yes if and only if somebody can stand at every demanded head."""
    rng = random.Random(11)
    seen = {True: 0, False: 0}
    for _ in range(300):
        roles = ["print", "catch", "pack", "screens"]
        crews: list[Crew] = [tuple((role, 1) for role in rng.sample(roles, rng.randint(1, 2))) for _ in range(4)]
        people = [
            person(
                f"p{i}",
                roles=rng.sample(roles, rng.randint(1, 3)),
                press_ids=rng.choice([(), (), ("P1",), ("P2",)]),
            )
            for i in range(rng.randint(1, 4))
        ]
        one = week(
            runs=[run(choices=[choice("P1"), choice("P2")])],
            presses=[
                press_line("P1", set_up_crew=crews[0], run_crew=crews[1]),
                press_line("P2", set_up_crew=crews[0], run_crew=crews[2]),
            ],
            finishing=floor_line(crew=crews[3]),
            people=people,
        )
        limits, floor = floor_of(one)
        busy = [(crews[1], "P1"), (crews[2], "P2"), (crews[3], "")][: rng.randint(1, 3)]
        need = sum(limits.crew_need(crew, place) for crew, place in busy)
        demands = [(role, place) for crew, place in busy for role, _ in crew]
        fits = len(demands) <= len(people) and can_all_be_filled(people, demands)
        assert (floor.clash_end(0, 1, need) == 0) is fits
        seen[fits] += 1
    assert min(seen.values()) > 50


def test_limits_hold_exactly_where_leads_watch_several_presses() -> None:
    """The packed limits say what trying everything says, where all who also do other work lead at the same presses."""
    rng = random.Random(12)
    seen = {True: 0, False: 0}
    for _ in range(400):
        roles = ["lead", "print", "catch"]
        places = ["P1", "P2", "P3"]
        crews: list[Crew] = [tuple((role, 1) for role in rng.sample(roles, rng.randint(1, 2))) for _ in places]
        same = rng.choice([(), (), ("P1", "P2")])
        people = []
        for number in range(rng.randint(1, 4)):
            can = rng.sample(roles, rng.randint(1, 3))
            presses = same if "lead" in can and len(can) > 1 else rng.choice([(), ("P1",), ("P2", "P3")])
            people.append(person(f"p{number}", roles=can, press_ids=presses))
        off = (("lead", 1),) if rng.random() < 0.2 and all(who.roles != {"lead"} for who in people) else (("catch", 1),)
        one = week(
            runs=[run(choices=[choice(place) for place in places])],
            presses=[press_line(place, run_crew=crew) for place, crew in zip(places, crews, strict=True)],
            finishing=floor_line(crew=off),
            people=people,
            lead_covers=rng.choice([2, 2, 3]),
        )
        limits, floor = floor_of(one)
        busy = rng.sample([*zip(crews, places, strict=True), (off, "")], rng.randint(2, 4))
        need = sum(limits.crew_need(crew, place) for crew, place in busy)
        demands = [(role, place) for crew, place in busy for role, _ in crew]
        fits = can_all_be_filled(people, demands, one.lead_covers)
        assert (floor.clash_end(0, 1, need) == 0) is fits
        seen[fits] += 1
    assert min(seen.values()) > 60

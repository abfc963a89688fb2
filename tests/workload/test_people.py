"""Who is there, and what their hours leave of presses and benches."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.calendars import Calendar
from scheduler.domain.shop import Dryer, OvertimeOffer, Shop, Worker
from scheduler.domain.week import Person
from scheduler.errors import InputError
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import build_axis
from scheduler.workload.build import build_workload
from scheduler.workload.ground import Ground, build_ground
from scheduler.workload.people import build_people, can_be_filled
from tests.workload import shops


def _person(name: str, *roles: str, presses: tuple[str, ...] = ()) -> Person:
    return Person(
        person_id=name,
        name=name,
        roles=frozenset(roles),
        press_ids=frozenset(presses),
        calendar=Calendar(windows=()),
    )


def _ground(shop: Shop) -> Ground:
    axis = build_axis(shop)
    return build_ground(axis, build_people(axis), Notes())


def _press_windows(shop: Shop, press_id: str = "auto-1") -> list[tuple[int, int, str | None]]:
    calendar = _ground(shop).benches.presses[press_id]
    return [(one.start_tau, one.end_tau, one.overtime_id) for one in calendar.windows]


def _worker(name: str, *roles: str, **more: object) -> Worker:
    return Worker(person_id=name, name=name, roles=roles or ("print",), **more)  # type: ignore[arg-type]


PRINTER = (("print", 1),)
PAIR = (("print", 1), ("catch", 1))


def test_a_crew_takes_different_people() -> None:
    """One person with two roles fills one place, and may have to move over for somebody who knows only one."""
    both, catcher = _person("both", "print", "catch"), _person("catcher", "catch")
    wanted = (("catch", "auto-1", 1), ("print", "auto-1", 1))
    assert can_be_filled([both, catcher], wanted)
    assert not can_be_filled([both], wanted)
    assert not can_be_filled([catcher, _person("third", "catch")], wanted)


def test_somebody_for_one_press_does_not_run_another() -> None:
    """Presses a person can run bind their press work, not their work off the presses."""
    only_one = _person("ana", "print", "screens", presses=("auto-1",))
    assert can_be_filled([only_one], (("print", "auto-1", 1),))
    assert not can_be_filled([only_one], (("print", "auto-2", 1),))
    assert can_be_filled([only_one], (("screens", "", 1),))


@given(
    skills=st.lists(st.sets(st.sampled_from("abc")), max_size=4),
    asked=st.lists(st.sampled_from("abc"), max_size=4),
)
def test_matching_agrees_with_trying_every_seating(skills: list[set[str]], asked: list[str]) -> None:
    """A crew can be filled exactly if some way of seating people fills every place."""
    people = [_person(str(number), *sorted(one)) for number, one in enumerate(skills)]
    seated = any(
        all(role in skills[index] for role, index in zip(asked, seats, strict=True))
        for seats in permutations(range(len(people)), len(asked))
    )
    assert can_be_filled(people, tuple((role, "", 1) for role in asked)) is seated


def test_a_press_is_open_while_its_printer_is_in() -> None:
    """The printer's own hours and days off close the press; breaks do too."""
    ana = _worker("ana", hours=shops.hours("09:00", "16:00", ("12:00", "12:30")), days_off=(date(2026, 3, 3),))
    shop = shops.shop(shops.press(run_crew=PRINTER), people=(ana,), days_ahead=3)
    assert _press_windows(shop) == [(60, 240, None), (270, 480, None), (1140, 1320, None), (1350, 1560, None)]


def test_set_up_and_run_crews_must_each_be_there_but_not_both_at_once() -> None:
    """One person may set up first and run after; a run crew of two needs two people in."""
    two = (_worker("ana", "print"), _worker("rui", "catch", hours=shops.hours("10:00", "15:00")))
    one_does_both = shops.press(set_up_crew=PRINTER, run_crew=PRINTER)
    needs_two = shops.press(set_up_crew=PRINTER, run_crew=PAIR)
    assert _press_windows(shops.shop(one_does_both, people=two, days_ahead=1)) == [(0, 540, None)]
    assert _press_windows(shops.shop(needs_two, people=two, days_ahead=1)) == [(120, 420, None)]


def test_without_people_listed_nobody_is_demanded() -> None:
    """A shop that lists nobody has its presses open all day."""
    shop = shops.shop(shops.press(run_crew=PAIR), days_ahead=1)
    assert _press_windows(shop) == [(0, 540, None)]


def test_a_coat_window_closes_the_press_of_a_one_person_shop() -> None:
    """Who coats cannot print: the last hour of the day is gone from the press, and from burning."""
    shop = shops.shop(
        shops.press(set_up_crew=PRINTER, run_crew=PRINTER),
        people=(shops.solo(),),
        screen_room=shops.room(crew=(("screens", 1),), reclaim_length_min=0),
        days_ahead=1,
    )
    assert _press_windows(shop) == [(0, 480, None)]
    assert [(one.start_tau, one.end_tau) for one in _ground(shop).benches.screens.windows] == [(0, 480)]


def test_a_second_person_keeps_the_press_open_while_screens_are_coated() -> None:
    """With somebody else to coat, the press prints on."""
    shop = shops.shop(
        shops.press(set_up_crew=PRINTER, run_crew=PRINTER),
        people=(shops.solo(), _worker("rui", "screens")),
        screen_room=shops.room(crew=(("screens", 1),), reclaim_length_min=0),
        days_ahead=1,
    )
    assert _press_windows(shop) == [(0, 540, None)]


def test_a_press_needs_its_dryer() -> None:
    """A dryer that opens later opens the press later."""
    dryer = Dryer(
        dryer_id="dry", name="dryer", heated_length_in=96, belt_width_in=30, hours=shops.hours("09:00", "15:00")
    )
    shop = shops.shop(shops.press(dryer_id="dry"), dryers=(dryer,), days_ahead=1)
    assert _press_windows(shop) == [(60, 420, None)]


def _offer(start: str, end: str, **more: object) -> OvertimeOffer:
    return OvertimeOffer(
        day=date(2026, 3, 2),
        from_min=shops.clock_min(start),
        to_min=shops.clock_min(end),
        price_cents=5000,
        **more,  # type: ignore[arg-type]
    )


def test_overtime_needs_the_people_it_asks_in() -> None:
    """An evening for the press is worth nothing if the block asks in somebody who cannot print."""
    crew = (_worker("ana", "print"), _worker("rui", "pack"))
    press = shops.press(run_crew=PRINTER)
    with_printer = shops.shop(
        press, people=crew, overtime=(_offer("17:00", "18:00", person_ids=("ana",)),), days_ahead=1
    )
    without = replace(with_printer, overtime=(_offer("17:00", "18:00", person_ids=("rui",)),))
    block = build_axis(with_printer).overtime[0].block_id
    assert _press_windows(with_printer) == [(0, 540, None), (540, 600, block)]
    assert _press_windows(without) == [(0, 540, None)]


def test_nobody_comes_in_for_overtime_on_a_day_off() -> None:
    """A block for everybody leaves out those who are off that day."""
    off = _worker("ana", days_off=(date(2026, 3, 2),))
    shop = shops.shop(shops.press(run_crew=PRINTER), people=(off,), overtime=(_offer("17:00", "18:00"),), days_ahead=1)
    assert _press_windows(shop) == []
    there = replace(off, days_off=(date(2026, 3, 3),))
    assert len(_press_windows(replace(shop, people=(there,)))) == 2


def test_press_minutes_that_people_fill_only_in_overtime_belong_to_the_block() -> None:
    """The press is open all day, its printer until noon: the afternoon is there once overtime is bought."""
    ana = _worker("ana", hours=shops.hours("08:00", "12:00"))
    shop = shops.shop(shops.press(run_crew=PRINTER), people=(ana,), overtime=(_offer("12:00", "15:00"),), days_ahead=1)
    block = build_axis(shop).overtime[0].block_id
    assert _press_windows(shop) == [(0, 240, None), (240, 420, block)]


def test_a_role_nobody_has_is_a_fault() -> None:
    """Told at once for every crew, naming what cannot be done."""
    shop = shops.shop(shops.press(run_crew=PAIR), people=(_worker("ana", "print"),), finish_crew=(("pack", 1),))
    with pytest.raises(InputError) as caught:
        build_workload(shops.week_inputs(shop))
    told = [problem.message for problem in caught.value.problems]
    assert told == [
        "running auto-1 needs 1 x print and 1 x catch, and the people listed cannot fill that",
        "packing needs 1 x pack, and the people listed cannot fill that",
    ]

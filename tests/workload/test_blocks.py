"""Coat windows and reclaim blocks."""

from __future__ import annotations

from datetime import date

import pytest

from scheduler.domain.shop import DayHours, ScreenRoom, Shop, Worker
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import build_axis
from scheduler.workload.blocks import RoomBlocks, build_blocks
from scheduler.workload.people import Crewing, build_people
from tests.workload import shops

SCREENS = (("screens", 1),)


def _blocks(shop: Shop, notes: Notes | None = None) -> RoomBlocks:
    axis = build_axis(shop)
    people = build_people(axis)
    return build_blocks(axis, Crewing(people=people, times=axis.person_times), notes or Notes())


def _coats(shop: Shop) -> list[tuple[str, int, int, int, int]]:
    return [(w.window_id, w.start_tau, w.end_tau, w.ready_tau, w.places) for w in _blocks(shop).coat_windows]


def _reclaims(shop: Shop) -> list[tuple[str, int, int, int]]:
    return [(b.block_id, b.start_tau, b.end_tau, b.places) for b in _blocks(shop).reclaim_blocks]


def _shop(room: ScreenRoom, **more: object) -> Shop:
    return shops.shop(screen_room=room, **{"days_ahead": 2, **more})


def test_coating_in_the_last_hour_is_ready_at_the_next_opening() -> None:
    """Coated by 17:00, ready when the shop opens: the same shop minute, with a night between."""
    assert _coats(_shop(shops.room())) == [
        ("coat 2026-03-02", 480, 540, 540, 20),
        ("coat 2026-03-03", 1020, 1080, 1080, 20),
    ]


def test_the_cabinet_counts_wall_minutes() -> None:
    """With a cabinet the screens are ready its minutes after coating: the same day, or through the night."""
    early = shops.room(coat_from_min=600, ready_after_min=90)
    assert [one[3] for one in _coats(_shop(early))] == [120 + 60 + 90, 540 + 270]
    late = shops.room(ready_after_min=16 * 60)
    assert [one[3] for one in _coats(_shop(late))] == [540 + 60, 1080]


def test_a_shop_that_never_closes_waits_for_the_rack() -> None:
    """Without an opening to wait for, coated screens count as dry after twelve hours."""
    always = shops.hours("00:00", "24:00", weekdays=shops.ALL_DAYS)
    first = _coats(_shop(shops.room(), hours=always, plan_from=shops.at(2, "00:00")))[0]
    assert first[1:4] == (960, 1020, 1020 + 720)


def test_a_lunch_break_is_no_opening() -> None:
    """Screens coated before lunch are not ready after it."""
    room = shops.room(coat_from_min=660, coat_length_min=60)
    shop = _shop(room, hours=shops.hours("08:00", "17:00", ("12:00", "13:00")))
    assert _coats(shop)[0] == ("coat 2026-03-02", 180, 240, 480, 20)


@pytest.mark.parametrize(
    ("length", "each", "places", "expected"), [(60, 3.0, 24, 20), (60, 2.0, 24, 24), (60, 61, 24, 0)]
)
def test_places_are_what_the_minutes_and_the_rack_allow(length: int, each: float, places: int, expected: int) -> None:
    """Minutes booked over minutes a screen, at most the coating places; no place, no window."""
    found = _coats(_shop(shops.room(coat_length_min=length, coat_each_min=each, coat_places=places)))
    assert [one[4] for one in found] == ([expected] * 2 if expected else [])


def test_a_day_that_closes_early_coats_in_its_last_hour() -> None:
    """Where 16:00 is after closing, the last open hour is taken; the reclaim block goes just before it."""
    shop = _shop(shops.room(), hours=shops.hours("08:00", "13:00"), days_ahead=1)
    assert _coats(shop) == [("coat 2026-03-02", 240, 300, 300, 20)]
    assert _reclaims(shop) == [("reclaim 2026-03-02", 180, 240, 7)]


def test_a_block_under_way_keeps_what_is_left_of_it() -> None:
    """Planned from 16:30, half of today's coating is left; planned from 17:00 there is none today."""
    half = _shop(shops.room(), plan_from=shops.at(2, "16:30"), days_ahead=1)
    assert _coats(half) == [("coat 2026-03-02", 0, 30, 30, 10)]
    assert [one[0] for one in _coats(_shop(shops.room(), plan_from=shops.at(2, "17:00")))] == ["coat 2026-03-03"]


def _tech(**more: object) -> Worker:
    return Worker(person_id="eva", name="Eva", roles=("screens",), **more)  # type: ignore[arg-type]


def test_a_block_whose_people_are_out_is_not_held() -> None:
    """The day the screen tech is off has neither coating nor reclaiming."""
    shop = _shop(shops.room(crew=SCREENS), people=(_tech(days_off=(date(2026, 3, 2),)),))
    found = _blocks(shop)
    assert [one.window_id for one in found.coat_windows] == ["coat 2026-03-03"]
    assert [one.block_id for one in found.reclaim_blocks] == ["reclaim 2026-03-03"]


def test_a_time_at_which_nobody_is_ever_in_is_moved_and_told() -> None:
    """A tech who always leaves at 14:00 coats in their last hour, not never."""
    notes = Notes()
    shop = _shop(shops.room(crew=SCREENS), people=(_tech(hours=shops.hours("08:00", "14:00")),))
    found = _blocks(shop, notes)
    assert [(one.start_tau, one.end_tau) for one in found.coat_windows] == [(300, 360), (840, 900)]
    assert "coating moved into the hours in which its people are in" in [one.text for one in notes.merged_with(())]


def test_coating_and_reclaiming_at_once_need_two_people() -> None:
    """Two techs hold both blocks at 16:00; one tech reclaims in the hour before coating instead."""
    room = shops.room(crew=SCREENS, reclaim_from_min=960)
    two = (_tech(), Worker(person_id="ivo", name="Ivo", roles=("screens",)))
    assert [one[1:3] for one in _reclaims(_shop(room, people=two))] == [(480, 540), (1020, 1080)]
    assert [one[1:3] for one in _reclaims(_shop(room, people=(_tech(),)))] == [(420, 480), (960, 1020)]


def test_no_length_means_no_block() -> None:
    """A shop that sends its reclaiming out books nobody for it."""
    found = _blocks(_shop(shops.room(crew=SCREENS, reclaim_length_min=0), people=(_tech(),)))
    assert not found.reclaim_blocks
    assert {booking.what for booking in found.bookings} == {"coating"}


def test_two_shifts_coat_once_a_day() -> None:
    """The window stays at its set time, in the second shift, and is ready in the morning."""
    early = DayHours(weekdays=shops.WORKDAYS, from_min=360, to_min=840)
    late = DayHours(weekdays=shops.WORKDAYS, from_min=840, to_min=1320)
    shop = _shop(shops.room(), hours=(early, late), plan_from=shops.at(2, "06:00"))
    assert _coats(shop)[0] == ("coat 2026-03-02", 600, 660, 960, 20)


def test_screens_coated_early_in_a_long_day_need_not_wait_for_the_morning() -> None:
    """Coated by 07:00 in a shop open until 22:00, they are dry at 19:00."""
    shop = _shop(shops.room(coat_from_min=360), hours=shops.hours("06:00", "22:00"), plan_from=shops.at(2, "06:00"))
    assert _coats(shop)[0] == ("coat 2026-03-02", 0, 60, 60 + 720, 20)


def test_blocks_follow_the_clock_through_the_change_of_clocks() -> None:
    """On the Sunday clocks go forward in Lisbon, 16:00 is one elapsed hour earlier after midnight."""
    always = shops.hours("08:00", "17:00", weekdays=shops.ALL_DAYS)
    shop = _shop(shops.room(), hours=always, plan_from=shops.at(28), days_ahead=2)
    axis = build_axis(shop)
    assert [axis.clock.starts_at(one[1]).hour for one in _coats(shop)] == [16, 16]


def test_a_shop_without_a_screen_room_has_no_blocks() -> None:
    """Screens that come ready from outside are neither coated nor reclaimed here."""
    assert _blocks(shops.shop()) == RoomBlocks()

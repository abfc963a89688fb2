"""Counting open minutes: pauses, restarts, long stops, drying over nights."""

import random

import pytest

from scheduler.domain.calendars import Calendar, Restart
from scheduler.domain.clock import ShopClock
from scheduler.search.timing import NEVER, Hours, advance, drying, open_hours
from tests.builders import clock, every_day, hours
from tests.random_weeks import random_week

LUNCH = ((240, 30),)
"""Every day 240 minutes of work, 30 of lunch, 270 of work: shop minutes 0-240, 270-540, 540-780, 810-1080, ..."""


def open_on(calendar: Calendar, *, bought: tuple[str, ...] = (), restart: Restart | None = None) -> Hours:
    """The calendar's hours, ready for counting."""
    return open_hours(calendar, frozenset(bought), restart)


@pytest.mark.parametrize(
    ("start_tau", "work_min", "end_tau"),
    [
        (0, 240, 240),  # up to the minute lunch starts
        (0, 241, 271),  # one minute more goes on after lunch
        (100, 0, 100),
        (300, 240, 540),  # up to the evening
        (300, 241, 541),  # one minute more goes on next morning: a night has no length here
    ],
)
def test_work_pauses_when_closed(start_tau: int, work_min: int, end_tau: int) -> None:
    """Work takes its open minutes and not one more; it ends before a closure if it can."""
    assert advance(open_on(every_day(breaks=LUNCH)), start_tau, work_min) == end_tau


def test_work_beyond_the_last_hour_never_ends() -> None:
    """What does not fit the hours has no end."""
    short = open_on(hours((0, 100)))
    assert advance(short, 50, 50) == 100
    assert advance(short, 50, 51) == NEVER
    assert advance(short, 50, 51, is_print=True) == NEVER


@pytest.mark.parametrize(
    ("start_tau", "work_min", "end_tau"),
    [
        (0, 240, 240),  # ends at lunch: no restart
        (0, 241, 274),  # one minute after lunch and three of restart
        (270, 270, 540),  # ends in the evening: no restart
        (270, 271, 551),  # one minute next morning and ten of restart
        (0, 511, 554),  # lunch adds three, which pushes four minutes over the night, which adds ten
    ],
)
def test_a_print_restarts_after_stops(start_tau: int, work_min: int, end_tau: int) -> None:
    """Each stop a print goes on after costs its restart; a stop it ends at costs nothing."""
    press = open_on(every_day(breaks=LUNCH), restart=Restart(break_min=3, night_min=10))
    assert advance(press, start_tau, work_min, is_print=True) == end_tau


def test_overtime_counts_once_bought() -> None:
    """An unbought block is part of the stop, a bought one is open."""
    calendar = hours((0, 480), (480, 540, "late Mon"), (540, 1020))
    assert advance(open_on(calendar), 400, 100) == 560
    assert advance(open_on(calendar, bought=("late Mon",)), 400, 100) == 500
    assert open_on(calendar).stops[1] == 15 * 60 + 60
    assert open_on(calendar, bought=("late Mon",)).stops[1] == 15 * 60


def test_a_long_stop_is_found_and_named() -> None:
    """The first stop longer than allowed, strictly inside the work, is where it must start after."""
    press = open_on(every_day(breaks=LUNCH))
    assert press.after_long_stop(0, 240, 20) == -1  # ends at lunch
    assert press.after_long_stop(0, 241, 20) == 240
    assert press.after_long_stop(0, 241, 30) == -1  # lunch is as long as it may be
    assert press.after_long_stop(0, 600, 30) == 510  # the night
    assert press.after_long_stop(510, 600, 30) == -1  # starts in the morning


def test_pieces_leave_the_pauses_out() -> None:
    """People are there in every piece and in no pause."""
    press = open_on(every_day(breaks=LUNCH))
    assert press.pieces(200, 300) == [(200, 240), (270, 330)]
    assert press.pieces(500, 520) == [(530, 540), (540, 550)]
    assert press.pieces(7, 7) == []


def brute_end(hours_: Hours, start_tau: int, work_min: int) -> int:
    """Count minute by minute."""
    left, tau = work_min, start_tau
    while left:
        left -= hours_.is_open(tau)
        tau += 1
    return tau


def test_index_and_minute_agree_with_counting() -> None:
    """Index, minute and end are one count seen from three sides."""
    rng = random.Random(3)
    for seed in range(15):
        week = random_week(seed)
        press = open_on(week.presses[0].calendar)
        for _ in range(20):
            index = rng.randrange(press.total - 1)
            tau = press.minute(index)
            assert press.is_open(tau)
            assert press.index_from(tau) == index
            work = rng.randint(1, min(400, press.total - index))
            assert press.end(index + work) == brute_end(press, tau, work)


def test_drying_agrees_with_the_clock() -> None:
    """Dry minutes on plain numbers are those of the shop clock, nights included."""
    clocks: list[ShopClock] = [clock(), random_week(1).clock, random_week(5, size="medium").clock]
    for one in clocks:
        quick = drying(one)
        for end_tau in range(0, one.horizon_tau + 1, 7):
            for dry_min in (0, 20, 90, 900, 2000):
                assert quick.dry_tau(end_tau, dry_min) == one.tau_after(end_tau, dry_min)

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from scheduler.inputs import moments, units
from scheduler.inputs.arrivals import Arrival, arrival
from scheduler.inputs.moments import DAY_FIRST, EITHER, MONTH_FIRST, Shift
from tests.inputs.test_cells import refused

LISBON = ZoneInfo("Europe/Lisbon")


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("2026-03-06", ""),
        ("2026/3/6", ""),
        ("2026.03.06", ""),
        (" 6 Mar 2026 ", ""),
        ("6. March 2026", ""),
        ("6-Mar-2026", ""),
        ("March 6, 2026", ""),
        ("Mar 6 2026", MONTH_FIRST),
        ("6/3/2026", DAY_FIRST),
        ("06.03.2026", DAY_FIRST),
        ("6-3-26", DAY_FIRST),
        ("3/6/2026", MONTH_FIRST),
        ("6/3/2026", EITHER),
    ],
)
def test_one_day_has_many_spellings(text: str, order: str) -> None:
    """The sixth of March is read in every way that says which number is the month."""
    assert moments.day(order)(text) == date(2026, 3, 6)


@pytest.mark.parametrize(("text", "day"), [("13/05/2026", 13), ("05/13/2026", 13), ("05/05/2026", 5)])
def test_a_day_above_twelve_tells_itself_from_a_month(text: str, day: int) -> None:
    """Without a setting, slashed dates are read where only one reading is a date."""
    assert moments.day()(text) == date(2026, 5, day)


@pytest.mark.parametrize(
    ("text", "order", "told"),
    [
        (
            "3/4/2026",
            "",
            "'3/4/2026' does not say which number is the month; write 2026-04-03 or 2026-03-04, "
            'or set dates = "day first" or "month first" for the shop',
        ),
        ("31/02/2026", "", "'31/02/2026' is not a date; write it as 2026-02-28"),
        ("30/02/2028", DAY_FIRST, "'30/02/2028' is not a date; write it as 2028-02-29"),
        ("2026-04-31", "", "'2026-04-31' is not a date; write it as 2026-04-30"),
        ("05/13/2026", DAY_FIRST, "'05/13/2026' is not a date; write it as 2026-05-13"),
        ("2026-00-10", "", "'2026-00-10' is not a date; write it as 2026-02-28"),
        ("6 Foo 2026", "", "'6 Foo 2026' is not a date; write it as 2026-02-28"),
        ("46087", "", "'46087' is not a date; write it as 2026-02-28"),
        ("1999-12-31", "", "'1999-12-31' is in the year 1999; write a year from 2000 to 2100"),
        ("2101-01-01", "", "'2101-01-01' is in the year 2101; write a year from 2000 to 2100"),
        ("0026-03-06", "", "'0026-03-06' is in the year 26; write a year from 2000 to 2100"),
    ],
)
def test_what_is_no_day_is_refused(text: str, order: str, told: str) -> None:
    """Days that are not in the calendar, absurd years and dates that can be read two ways are refused."""
    assert refused(moments.day(order), text) == told


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-06 15:00",
        "2026-03-06T15:00",
        "2026-03-06 15:00:00",
        "2026-03-06, 15:00",
        "2026-03-06 at 3 pm",
        "2026-03-06 3:00 p.m.",
        "6 Mar 2026 15.00",
        "2026-03-06T15:00Z",
        "2026-03-06 16:00+01:00",
        "2026-03-06 09:30-05:30",
    ],
)
def test_one_moment_has_many_spellings(text: str) -> None:
    """Three in the afternoon in the shop's zone, with or without an offset."""
    found = moments.moment(LISBON)(text)
    assert found == datetime(2026, 3, 6, 15, tzinfo=LISBON)
    assert found.tzinfo == LISBON


@pytest.mark.parametrize(
    ("zone", "text", "told"),
    [
        ("Europe/Lisbon", "2026-03-29 01:30", "clocks go forward then: write 2026-03-29 02:30"),
        ("America/Chicago", "2026-03-08 02:00", "clocks go forward then: write 2026-03-08 03:00"),
        ("Australia/Lord_Howe", "2026-10-04 02:15", "clocks go forward then: write 2026-10-04 02:45"),
    ],
)
def test_a_clock_time_the_zone_skips_is_refused(zone: str, text: str, told: str) -> None:
    """A moment in the hour that clocks jump over does not exist; the one an hour on is offered."""
    assert refused(moments.moment(ZoneInfo(zone)), text) == f"'{text}' does not exist in {zone}; {told}"


def test_of_a_clock_time_that_comes_twice_the_first_is_meant() -> None:
    """In the night in which clocks go back, half past one is the earlier of the two."""
    found = moments.moment(LISBON)("2026-10-25 01:30")
    assert found.astimezone(UTC) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("2026-03-06", "'2026-03-06' has no clock time; write it as 2026-03-06 15:00"),
        ("2026-03-06 25:00", "'25:00' is not a clock time; write it as 07:30"),
        ("tomorrow 15:00", "'tomorrow 15:00' is not a date; write it as 2026-02-28"),
        ("2026-03-06 15:00+19:00", "'2026-03-06 15:00+19:00' is not a moment; write it as 2026-03-06 15:00"),
    ],
)
def test_what_is_no_moment_is_refused(text: str, told: str) -> None:
    """A day alone, a clock time that is none and words are refused."""
    assert refused(moments.moment(LISBON), text) == told


def test_midnight_at_the_end_of_a_day_is_the_next_day() -> None:
    """24:00 is where the day ends."""
    assert moments.moment(LISBON)("2026-03-06 24:00") == datetime(2026, 3, 7, tzinfo=LISBON)


def test_a_day_starts_where_its_zone_lets_it() -> None:
    """Where clocks go forward at midnight the day starts at one."""
    found = moments.start_of(date(2026, 9, 6), ZoneInfo("America/Santiago"))
    assert (found.hour, found.date()) == (1, date(2026, 9, 6))


@pytest.mark.parametrize(
    ("text", "minute"),
    [
        ("07:00", 420),
        ("7:00", 420),
        ("7", 420),
        ("7am", 420),
        ("7:30 PM", 1170),
        ("12 am", 0),
        ("12 pm", 720),
        ("7.30", 450),
        ("7h30", 450),
        ("07:00:00", 420),
        ("24:00", 1440),
        ("0:00", 0),
    ],
)
def test_clock_times_are_minutes_of_the_day(text: str, minute: int) -> None:
    """Twelve and twenty-four hour clocks, with colon, point or h."""
    assert moments.clock(text) == minute


@pytest.mark.parametrize("text", ["24:01", "7:60", "13 pm", "0 am", "noon", "-1:00", "7:3"])
def test_what_is_no_clock_time_is_refused(text: str) -> None:
    """Times the day does not have are refused with one to copy."""
    assert refused(moments.clock, text) == f"'{text}' is not a clock time; write it as 07:30"


@pytest.mark.parametrize(
    ("text", "shift"),
    [
        (
            "07:00-12:00, 12:30-16:00",
            Shift(from_min=420, to_min=960, breaks=((720, 750),)),
        ),
        ("07:00 – 16:00", Shift(from_min=420, to_min=960)),
        ("7am to 4pm", Shift(from_min=420, to_min=960)),
        ("06:00-10:00; 10:30-14:00; 14:30-18:00", Shift(from_min=360, to_min=1080, breaks=((600, 630), (840, 870)))),
        ("07:00-12:00, 12:00-16:00", Shift(from_min=420, to_min=960)),
        ("8-17", Shift(from_min=480, to_min=1020)),
        ("8-13", Shift(from_min=480, to_min=780)),
        ("22:00-06:00", Shift(from_min=1320, to_min=1800)),
        ("00:00-24:00", Shift(from_min=0, to_min=1440)),
        ("Closed", None),
        ("-", None),
    ],
)
def test_hours_are_one_shift_with_its_breaks(text: str, shift: Shift | None) -> None:
    """Gaps are breaks, pieces that touch are one, the last piece may run past midnight."""
    assert moments.hours_line(text) == shift


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("all day", "'all day' is not from one time to another; write it as 07:00-12:00, 12:30-16:00, or closed"),
        ("7-4", "'7-4' can be read two ways; write it as 07:00-16:00"),
        ("8-12", "'8-12' can be read two ways; write it as 08:00-12:00"),
        ("07:00-07:00", "'07:00-07:00' is no time at all; write it as 07:00-12:00"),
        ("24:00-06:00", "'24:00-06:00' is no time at all; write it as 07:00-12:00"),
        (
            "07:00-03:00",
            "'07:00-03:00' would run past midnight for 20 hours; write the earlier time first, as 07:00-15:00",
        ),
        (
            "12:30-16:00, 07:00-12:00",
            "'12:30-16:00, 07:00-12:00': the pieces overlap or are out of order; "
            "write them one after the other, as 07:00-12:00, 12:30-16:00",
        ),
        ("07:00-25:00", "'25:00' is not a clock time; write it as 07:30"),
    ],
)
def test_hours_that_cannot_be_are_refused(text: str, told: str) -> None:
    """Words, hours that could be a day or a night, and pieces out of order are refused."""
    assert refused(moments.hours_line, text) == told


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("mon-fri", (0, 1, 2, 3, 4)),
        ("Mon - Fri", (0, 1, 2, 3, 4)),
        ("monday to friday", (0, 1, 2, 3, 4)),
        ("tue, thu", (1, 3)),
        ("sat", (5,)),
        ("Thursdays", (3,)),
        ("fri-mon", (0, 4, 5, 6)),
        ("every day", (0, 1, 2, 3, 4, 5, 6)),
        ("mon-wed, fri", (0, 1, 2, 4)),
    ],
)
def test_weekdays_are_read_in_words(text: str, days: tuple[int, ...]) -> None:
    """Single days, lists and stretches, over the weekend too."""
    assert moments.weekdays(text) == days


@pytest.mark.parametrize("text", ["t", "xx", "mon-tue-wed", ",", "weekdays"])
def test_what_is_no_weekday_is_refused(text: str) -> None:
    """One letter can be two days; other words are none."""
    assert refused(moments.weekdays, text) == f"'{text}' is not weekdays; write them as mon-fri, or mon, wed, sat"


def test_days_off_may_be_stretches() -> None:
    """Days and stretches of days come out sorted, each once."""
    found = moments.days()("2026-04-23, 2026-04-20 to 2026-04-21, 2026-04-21")
    assert found == (date(2026, 4, 20), date(2026, 4, 21), date(2026, 4, 23))


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12 in", 12.0),
        ("12in", 12.0),
        ('12"', 12.0),
        ("12 inches", 12.0),
        ("8 ft", 96.0),
        ("8'", 96.0),
        ("12 FT", 144.0),
        ("30 cm", 11.811024),
        ("2,4 m", 94.488189),
        ("500 mm", 19.685039),
        ("1 yd 2 in", 38.0),
    ],
)
def test_lengths_become_inches(text: str, inches: float) -> None:
    """Feet, inches, metres and their parts are inches in the end."""
    assert units.length_in()(text) == inches


@pytest.mark.parametrize(
    ("parse", "text", "told"),
    [
        (units.length_in(), "12", "'12' has no unit; write it with one, as 12 in"),
        (units.length_in(), "12 s", "'12 s' is not a length; write it as 12 in"),
        (units.length_in(), "12 parsnips", "'12 parsnips' is not a length; write it as 12 in"),
        (units.length_in(), "1,500 mm", "'1,500' can be read two ways; write 1500 or 1.500"),
        (units.length_in(), "0 in", "'0 in' is not between 0.1 and 2000 inch; write it as 12 in"),
        (units.length_in(), "1e400 in", "'1e400 in' is not a length; write it as 12 in"),
        (units.length_in(), "2 in ** 99999999", "'2 in ** 99999999' is not a length; write it as 12 in"),
        (units.whole_minutes(), "15", "'15' has no unit; write it with one, as 15 min"),
        (units.whole_minutes(), "15 m", "'15 m' is not a time; write it as 15 min"),
        (units.whole_minutes(), '8"', "'8\"' is not a time; write it as 15 min"),
        (units.whole_minutes(), "-5 min", "'-5 min' is not a time; write it as 15 min"),
        (units.whole_minutes(), "90 s", "'90 s' has parts of a minute; write 2 min"),
        (units.whole_seconds(), "1.5 s", "'1.5 s' has parts of a second; write 2 s"),
        (units.rate_pcs_h, "300/kg", "'300/kg' is not a rate; write pieces an hour, as 300/h"),
        (units.rate_pcs_h, "fast", "'fast' is not a rate; write pieces an hour, as 300/h"),
        (units.rate_pcs_h, "0", "'0' is not between 1 and 5000 an hour; write it as 300/h"),
    ],
)
def test_quantities_that_cannot_be_are_refused(parse: Callable[[str], Any], text: str, told: str) -> None:
    """A missing unit, a unit of something else, no unit at all and sums are refused, each with one to copy."""
    assert refused(parse, text) == told


@pytest.mark.parametrize(
    ("text", "minutes"), [("15 min", 15), ("15 mins", 15), ("1 h 30 min", 90), ("2 hours", 120), ("120 s", 2), ("0", 0)]
)
def test_times_become_minutes(text: str, minutes: int) -> None:
    """Hours, minutes and seconds add up; nothing needs no unit."""
    assert units.whole_minutes()(text) == minutes


@pytest.mark.parametrize(
    ("text", "rate"),
    [("300/h", 300), ("300", 300), ("5/min", 300), ("300 per hour", 300), ("300 pcs/h", 300), ("1,200/h", 1200)],
)
def test_rates_are_pieces_an_hour(text: str, rate: int) -> None:
    """Pieces an hour or a minute; a bare number is an hour's."""
    assert units.rate_pcs_h(text) == rate


def test_an_ink_may_stand_overnight_or_some_minutes() -> None:
    """Overnight means without limit."""
    assert units.idle_min("overnight") is None
    assert units.idle_min("20 min") == 20


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("in", Arrival()),
        ("IN", Arrival()),
        ("here", Arrival()),
        ("yes", Arrival()),
        ("?", Arrival(is_waiting=True)),
        ("tba", Arrival(is_waiting=True)),
        ("2026-03-06", Arrival(at=datetime(2026, 3, 6, tzinfo=LISBON), is_bare_day=True)),
        ("2026-03-06 14:00", Arrival(at=datetime(2026, 3, 6, 14, tzinfo=LISBON))),
    ],
)
def test_blanks_are_in_or_come_or_nobody_knows(text: str, found: Arrival) -> None:
    """A day alone means from its first minute on."""
    assert arrival("in", ("here",), LISBON, "")(text) == found


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("soon", "'soon' is neither in nor a day; write in, a day as 2026-03-06, or ? if nobody knows"),
        ("2026-02-30", "'2026-02-30' is not a date; write it as 2026-02-28"),
    ],
)
def test_blanks_that_say_neither_are_refused(text: str, told: str) -> None:
    """Words get all three ways to write it, a date that is none gets the nearest."""
    assert refused(arrival("in", (), LISBON, ""), text) == told

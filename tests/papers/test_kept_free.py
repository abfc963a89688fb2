"""What is said of the room kept free."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.calendars import KeptFree
from scheduler.domain.week import Week
from scheduler.papers.kept_free import kept_free_text
from scheduler.papers.summary import plan_sections
from tests.papers import small_shop

MONDAY = KeptFree(start_tau=510, end_tau=540, overtime_id="mon")
TUESDAY = KeptFree(start_tau=600, end_tau=630)
FAR = KeptFree(start_tau=900, end_tau=930)


def _week(*kept: KeptFree) -> Week:
    week = small_shop.week()
    return replace(week, presses=tuple(replace(press, kept_free=kept) for press in week.presses))


def _text(week: Week, *bought: str) -> str:
    plan = replace(small_shop.plan(), overtime=bought)
    return kept_free_text(week, plan, week.press["auto-1"])


def test_room_is_told_up_to_the_end_of_the_queue() -> None:
    """Two days are told with their clock times; what lies after the last run is not."""
    week = _week(MONDAY, TUESDAY, FAR)
    starts = [week.clock.starts_at(one.start_tau) for one in (MONDAY, TUESDAY)]
    told = _text(week)
    assert told.startswith("Kept free for reprints and rushes: ")
    assert [f"{start:%H:%M} to" in told for start in starts] == [True, True]
    assert told.count(" to ") == 2


def test_one_clock_time_is_told_once_for_all_its_days() -> None:
    """The same half hour on two days is one entry with both days."""
    week = _week(TUESDAY, replace(TUESDAY, start_tau=600, end_tau=630))
    assert _text(week).count(" to ") == 1


def test_room_that_bought_overtime_opens_is_not_kept() -> None:
    """With the evening bought, only the other day's room is told; none at all is no sentence."""
    week = _week(MONDAY, TUESDAY)
    assert _text(week).count(" to ") == 2
    assert _text(week, "mon").count(" to ") == 1
    assert _text(_week(MONDAY), "mon") == ""
    assert _text(_week()) == ""


def test_the_report_says_it() -> None:
    """The press's part of the report carries the sentence."""
    week = _week(TUESDAY)
    told = _text(week)
    assert told
    (queue,) = [one for one in plan_sections(week, small_shop.plan()) if one.title == "Big Eight: queue"]
    assert queue.sentences == (told,)

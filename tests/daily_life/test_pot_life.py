"""What a good printer does about ink that goes off once it is mixed: discharge in daily life."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler import api
from scheduler.papers.batches import batches_text, needed_at
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.press_pages import press_sheets_page
from tests.daily_life.typed import SCREENS, Day, automatic, burned, plan, shop

LONG_DAY = "08:00-22:00"
PASTE = """
    [ink.discharge]
    pot_life = "6 h"
    remix = "15 min"
    """


def _day(folder: Path, pieces: int, *parts: str, hours: str = LONG_DAY) -> Day:
    """One discharge print of so many pieces at 200 an hour, its screen burned."""
    return plan(
        folder,
        shop(automatic(rate="200/h"), SCREENS, *parts, hours=hours),
        f"""
        order,client,due,garment,shade,pieces,location,inks,family,design,blanks,art
        701,Quarry Lane Skate Park,2026-03-05,black tee,dark,{pieces},front,sand,discharge,skate,in,ok
        """,
        screens=burned("skate"),
    )


def test_a_second_batch_is_mixed_only_where_the_first_does_not_last(tmp_path: Path) -> None:
    """1200 pieces at 200 an hour use the paste up to its last minute; 4 more need a second batch, and the press stands
    15 minutes for it.
    """
    rinse_min = _day(tmp_path, 100, PASTE).week.press["auto-1"].set_up.clean_light_min
    assert _day(tmp_path, 1200, PASTE).print_min("701 front dark") == 360 + rinse_min
    assert _day(tmp_path, 1204, PASTE).print_min("701 front dark") == 362 + 15 + rinse_min


def test_the_press_sheet_says_how_much_to_mix_and_when(tmp_path: Path) -> None:
    """The ink kitchen reads three batches with their hours off the sheet that hangs at the press."""
    day = _day(tmp_path, 2500, PASTE)
    one = day.run("701 front dark")
    assert day.prints_at("701 front dark") == "Mon 08:13"
    told = "3 batches of sand, each lasts 6 h: by Mon 2 Mar 08:13, Mon 2 Mar 14:13 and Mon 2 Mar 20:28"
    assert batches_text(day.week, day.plan, one) == told
    at = datetime(2026, 3, 2, 8, tzinfo=ZoneInfo("Europe/Lisbon"))
    ground = Ground(inputs=api.read_week(tmp_path), week=day.week, plan=day.plan, printed_at=at, chase=())
    text = press_sheets_page(ground, "auto-1")
    assert text.count(told) == 1
    assert "formaldehyde" in text


def test_over_a_night_the_paste_is_not_kept(tmp_path: Path) -> None:
    """Ten hours of printing in eight hour days: the second batch is due when the first is used up, and what is left in
    the evening is thrown away.
    """
    day = _day(tmp_path, 2000, PASTE, hours="08:00-16:00")
    told = batches_text(day.week, day.plan, day.run("701 front dark"))
    assert told.startswith("2 batches of sand, each lasts 6 h: by Mon 2 Mar 08:13 and Mon 2 Mar 14:13; throw away")
    assert len(needed_at(day.week, day.plan, day.run("701 front dark"))) == 2


def test_what_nobody_typed_is_told(tmp_path: Path) -> None:
    """A shop that says nothing of discharge is told six hours and ten minutes; ink that lasts is not mixed again."""
    day = _day(tmp_path, 1204)
    assert any("discharge" in one.text and "mixed anew after 360 min" in one.text for one in day.workload.assumptions)
    assert day.print_min("701 front dark") == 362 + 10 + day.week.press["auto-1"].set_up.clean_light_min
    lasting = _day(tmp_path, 1204, '[ink.discharge]\npot_life = "none"\n')
    assert batches_text(lasting.week, lasting.plan, lasting.run("701 front dark")) == ""
    assert lasting.print_min("701 front dark") == 362 + lasting.week.press["auto-1"].set_up.clean_light_min


def test_a_slower_run_takes_more_batches(tmp_path: Path) -> None:
    """At half the rate the same pieces take twice the minutes, and so more batches: each way has its own."""
    two = shop(
        '[[dryer]]\nid = "long"\nheated = "20 ft"\nbelt = "48 in"',
        automatic("auto-1", 'dryer = "long"', rate="400/h"),
        automatic("auto-2", 'dryer = "long"', rate="400/h"),
        SCREENS,
        PASTE,
        hours=LONG_DAY,
    )
    orders = """
        order,client,due,garment,shade,pieces,location,inks,family,design,blanks,art
        701,Quarry Lane Skate Park,2026-03-05,black tee,dark,1200,front,sand,discharge,skate,in,ok
        """
    day = plan(tmp_path, two, orders, screens=burned("skate"))
    choice = day.week.run["701 front dark"].choices[0]
    assert choice.other_ways
    for way in range(len(choice.other_ways) + 1):
        there = choice.in_way(way)
        assert there is not None
        assert there.mixing_min == (-(-there.print_min // 360) - 1) * 15
    assert api.check(day.week, day.plan) == ()

"""The screen room's sheets: all it does stands on one of them, in time; sets are held for a reason that is so."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from scheduler.papers.cautions import PRESSURE, RECLAIMING, ULTRAVIOLET, WHO_WINS
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.html import list_pages
from scheduler.papers.floor.screen_days import held, screen_sheets, spans
from scheduler.papers.floor.sheet import Table
from scheduler.papers.words import day_and_time
from tests.papers.floor.grounds import NAMES, ground, sheets_of, wall, with_paper


def tables(of: Ground, kind: str) -> list[Table]:
    """Tables of one kind on all sheets, in order."""
    return [table for sheet in screen_sheets(of) for table in sheet.tables if table.kind == kind]


@pytest.mark.parametrize("name", NAMES)
def test_every_burn_coat_and_reclaim_stands_on_one_sheet(name: str) -> None:
    """As many sets are burned, screens coated and sets reclaimed on paper as in the plan."""
    of = ground(name)
    burned = Counter(str(row[1]).split("\n")[0] for table in tables(of, "burn") for row in table.rows)
    assert burned == Counter(of.week.run[one.run_id].design_id for one in of.plan.runs if one.burn is not None)
    coated = sum(int(str(row[2])) for table in tables(of, "coat") for row in table.rows)
    assert coated == sum(batch.count for batch in of.plan.coat_batches)
    reclaimed = [row for table in tables(of, "reclaim") for row in table.rows]
    assert len(reclaimed) == len(of.plan.reclaims) + len(of.week.early_reclaims)
    carts = sum(len(table.rows) for table in tables(of, "stage"))
    if of.week.staging is None:
        assert carts == len(of.plan.runs)
    else:
        assert carts == sum(one.stage_start_tau < one.stage_end_tau for one in of.plan.runs)


@pytest.mark.parametrize(
    ("name", "asked", "cut"),
    [("solo", 15 * 60, (15, 0)), ("solo", 18 * 60, (17, 0)), ("midsize", 14 * 60, (14, 0)), ("midsize", 900, (14, 30))],
)
def test_a_sheet_reaches_from_hand_over_to_hand_over(name: str, asked: int, cut: tuple[int, int]) -> None:
    """Sheets follow each other without a gap and change at the shop's hour, or when coating begins if sooner."""
    of = with_paper(ground(name), screen_sheet_min=asked)
    found = spans(of)
    assert found[0].from_at == of.week.clock.now
    assert all(one.to_at == other.from_at for one, other in pairwise(found))
    assert all((one.to_at.hour, one.to_at.minute) == cut for one in found)
    last = max(wall(of.week.clock, one.set_up_start_tau) for one in of.plan.runs)
    assert found[-1].to_at > last
    assert all(one.to_at - one.from_at <= timedelta(hours=25) for one in found)


@pytest.mark.parametrize("name", NAMES)
def test_tonight_is_the_evening_of_the_hand_over(name: str) -> None:
    """What is coated or burned "tonight" starts on the day its sheet is handed over; the rest names its day."""
    of = ground(name)
    starts = {day_and_time(span.from_at): span.from_at for span in spans(of)}
    for sheet in screen_sheets(of):
        handed_over = starts[sheet.title.removeprefix("Screen room, ").partition(" to ")[0]]
        for table in sheet.tables:
            days = [str(row[0]).split()[0] for row in table.rows if str(row[0])[:1].isalpha()]
            if table.title.endswith(("tonight", "now")):
                assert not days
            if table.title == "Burn in the morning":
                assert len(days) == len(table.rows)
                assert handed_over.strftime("%a") not in days
    assert any(table.title == "Coat tonight" and table.rows for sheet in screen_sheets(of) for table in sheet.tables)


@pytest.mark.parametrize("name", NAMES)
def test_ready_to_mount_is_when_the_tape_is_on(name: str) -> None:
    """A burned set's "ready to mount" is the minute its taping ends, never after its set-up."""
    of = ground(name)
    rows = [row for table in tables(of, "burn") for row in table.rows]
    planned = sorted(
        (one for one in of.plan.runs if one.burn is not None), key=lambda one: one.burn.start_tau if one.burn else 0
    )
    shown = Counter(str(row[4]).split()[-1] for row in rows)
    wanted = Counter(f"{wall(of.week.clock, one.burn.tape_end_tau, is_end=True):%H:%M}" for one in planned if one.burn)
    assert shown == wanted
    assert all(one.burn.tape_end_tau <= one.set_up_start_tau for one in planned if one.burn)


@pytest.mark.parametrize("name", NAMES)
def test_every_screen_has_its_own_box(name: str) -> None:
    """A set to burn lists each of its screens with a box to tick and its mesh."""
    of = ground(name)
    for table in tables(of, "burn"):
        for row in table.rows:
            design = str(row[1]).split("\n")[0]
            screens = next(one for one in of.week.sets if one.design_id == design)
            boxes = str(row[2]).split("\n")
            assert len(boxes) == screens.screen_count
            assert all(box.startswith("☐ ") for box in boxes)
            for note, box in zip(screens.notes, boxes, strict=True):
                assert note.prints in box
                assert f"{note.mesh}/in" in box


@pytest.mark.parametrize("name", NAMES)
def test_a_set_is_held_while_it_hangs_and_only_then(name: str) -> None:
    """At each hand-over a set stands on the list if it was burned more often than reclaimed, counted from the plan."""
    of = ground(name)
    clock = of.week.clock
    blocks = {block.block_id: block for block in of.week.screen_room.reclaim_blocks} if of.week.screen_room else {}
    started = {one.run_id for one in of.week.fixings if one.kind == "started"}
    for span in spans(of):
        hanging = []
        for one in of.week.sets:
            uses = [of.plan.run[run_id] for run_id in of.week.runs_of_set.get(one.set_id, ()) if run_id in of.plan.run]
            burns = sum(
                use.burn is not None and wall(clock, use.burn.end_tau, is_end=True) <= span.to_at for use in uses
            )
            gone = sum(
                wall(clock, blocks[done.block_id].end_tau, is_end=True) <= span.to_at
                for done in of.plan.reclaims
                if done.set_id == one.set_id
            )
            there = one.is_burned_now or any(use.run_id in started for use in uses)
            hanging += [one.design_id] if there + burns > gone else []
        assert sorted(row.design for row in held(of, span.to_at)) == sorted(hanging)


@pytest.mark.parametrize("name", NAMES)
def test_why_a_set_is_held_is_so(name: str) -> None:
    """A set held for a run names the next run of its design; one on a press is printing or being set up then."""
    of = ground(name)
    for span in spans(of):
        for one in held(of, span.to_at):
            uses = [use for use in of.plan.runs if of.week.run[use.run_id].design_id == one.design]
            on = [
                use
                for use in uses
                if wall(of.week.clock, use.set_up_start_tau)
                <= span.to_at
                < wall(of.week.clock, use.print_end_tau, is_end=True)
            ]
            coming = [use for use in uses if wall(of.week.clock, use.set_up_start_tau) > span.to_at]
            if one.why.startswith("on "):
                assert on
            elif one.why.startswith("for "):
                first = min(coming, key=lambda use: use.set_up_start_tau)
                run = of.week.run[first.run_id]
                assert one.why.startswith(f"for {run.order_id} {run.location} on {of.week.press[first.press_id].name}")
            else:
                assert not on
                assert "printed" in one.why or not uses


def test_the_sheet_has_the_rooms_cautions() -> None:
    """Ultraviolet light, pressure, chemicals and who wins stand on every sheet of the screen room."""
    of = ground("midsize")
    for text in sheets_of(list_pages(of, "Screen room", screen_sheets(of))):
        for caution in (WHO_WINS, ULTRAVIOLET, PRESSURE, RECLAIMING):
            assert caution in text


def test_a_shop_without_a_screen_room_has_no_such_sheet() -> None:
    """Screens that come ready from outside are nobody's evening."""
    of = ground("midsize")
    bare = replace(of.week, screen_room=None)
    assert screen_sheets(replace(of, week=bare)) == ()

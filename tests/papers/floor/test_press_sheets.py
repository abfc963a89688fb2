"""The press sheet and the day sheet: every number recomputed from the week's files and the plan."""

from __future__ import annotations

from datetime import timedelta
from functools import cache

import pytest

from scheduler.domain.shop import INK_START_VALUES
from scheduler.papers.cautions import CHEMICALS, HEAT, MOVING_PARTS, WHO_WINS
from scheduler.papers.floor.checks import checks_due
from scheduler.papers.floor.day_sheets import day_sheets
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.html import list_pages
from scheduler.papers.floor.press_pages import press_sheets_page
from scheduler.papers.floor.press_sheets import NO_SPARES, PressSheet, press_sheets
from scheduler.papers.words import day_and_time
from scheduler.review.set_up_rules import replayed
from tests.papers.floor.grounds import NAMES, ground, sheets_of, wall


@cache
def run_sheets(name: str, press_id: str) -> list[str]:
    """The words on a press's sheets, one text each."""
    return sheets_of(press_sheets_page(ground(name), press_id))


@cache
def all_sheets(name: str) -> list[PressSheet]:
    """The sheets of every press."""
    of = ground(name)
    return [sheet for press in of.week.presses for sheet in press_sheets(of, press.press_id)]


def family_of(of: Ground, name: str) -> tuple[int, float, int]:
    """(seconds in the tunnel, flash seconds, degrees) of a family: the shop's own, else the start value."""
    known = [*of.inputs.shop.families, *INK_START_VALUES]
    found = next(one for one in known if one.name.lower() == name.lower())
    return found.tunnel_s, found.flash_s, found.cure_f


@pytest.mark.parametrize("name", NAMES)
def test_there_is_one_sheet_for_every_run(name: str) -> None:
    """Each planned run has one sheet, on its press, in the order of the queue."""
    of = ground(name)
    for press in of.week.presses:
        queue = [one.run_id for one in of.plan.queue.get(press.press_id, ())]
        assert [sheet.row.run_id for sheet in press_sheets(of, press.press_id)] == queue
        assert len(run_sheets(name, press.press_id)) == max(1, len(queue))


@pytest.mark.parametrize("name", NAMES)
def test_times_rate_and_pieces_are_those_of_the_plan(name: str) -> None:
    """Set-up, print and end on paper are the plan's minutes on the clock; pieces and rate those of its press."""
    of = ground(name)
    for press in of.week.presses:
        shown = run_sheets(name, press.press_id)
        for planned, text in zip(of.plan.queue.get(press.press_id, ()), shown, strict=False):
            run = of.week.run[planned.run_id]
            choice = run.on_press[press.press_id].in_way(planned.way)
            assert choice is not None
            set_up = wall(of.week.clock, planned.set_up_start_tau)
            done = wall(of.week.clock, planned.print_end_tau, is_end=True)
            assert f"set up, {planned.set_up_min} min {day_and_time(set_up)}" in text or planned.set_up_min >= 120
            assert f"{wall(of.week.clock, planned.print_start_tau):%H:%M}" in text
            assert f"{done:%H:%M}" in text
            assert f"expect {choice.rate_pcs_h}/h" in text
            assert f"pieces {sum(part.pieces for part in run.parts)}" in text


@pytest.mark.parametrize("name", NAMES)
def test_garments_are_those_that_were_typed(name: str) -> None:
    """Every lot stands on its run's sheets with its sizes and pieces; only what is over the order is a spare."""
    of = ground(name)
    lots = {lot.lot_id: lot for lot in of.inputs.lots}
    for sheet in all_sheets(name):
        run = of.week.run[sheet.row.run_id]
        for part, shown in zip(run.parts, sheet.garments, strict=True):
            lot = lots[part.lot_id]
            assert (shown.pieces, shown.sizes, shown.ordered) == (part.pieces, lot.sizes, lot.pieces)
            assert shown.spares == max(0, part.pieces - lot.pieces)
            assert (shown.note == NO_SPARES) == lot.from_client
        assert sum(shown.print_min for shown in sheet.garments) == sheet.row.print_min


@pytest.mark.parametrize("name", NAMES)
def test_heads_stand_in_print_order_with_mesh_and_flash(name: str) -> None:
    """Heads rise, meshes are those of the set, hits those of the stack, flash seconds those of the ink's family."""
    of = ground(name)
    for sheet in all_sheets(name):
        planned = of.plan.run[sheet.row.run_id]
        run = of.week.run[planned.run_id]
        stack = run.on_press[planned.press_id].stack
        screens = [head for head in sheet.heads if head.number is not None]
        assert [head.number for head in screens] == list(range(1, len(stack.heads) + 1))
        taken = [head.head for head in sheet.heads if head.head is not None]
        assert taken == sorted(set(taken))
        notes = {note.screen_id: note for note in of.week.screen_set[run.set_id].notes} if run.set_id else {}
        for shown, head in zip(screens, stack.heads, strict=True):
            assert shown.hits == head.hits
            assert shown.mesh == (notes[head.screen_id].mesh if notes else None)
            assert shown.ink == of.week.ink[head.ink_id].name
        flashed = [stack.heads[at] for at in sorted(set(stack.flash_after))]
        wanted = [family_of(of, of.week.ink[head.ink_id].family)[1] for head in flashed]
        assert [head.flash_s for head in sheet.heads if head.prints == "flash"] == wanted


@pytest.mark.parametrize("name", NAMES)
def test_the_belt_is_the_heated_length_over_the_time(name: str) -> None:
    """Seconds and degrees are the most any ink of the run needs; belt speed is heated length x 60 / seconds."""
    of = ground(name)
    dryers = {press.press_id: press.dryer_id for press in of.inputs.shop.presses}
    lengths = {dryer.dryer_id: dryer.heated_length_in for dryer in of.inputs.shop.dryers}
    for sheet in all_sheets(name):
        planned = of.plan.run[sheet.row.run_id]
        stack = of.week.run[planned.run_id].on_press[planned.press_id].stack
        needs = [family_of(of, of.week.ink[head.ink_id].family) for head in stack.heads]
        use = sheet.dryer
        assert use is not None
        if not of.week.dryers:
            assert use.tunnel_s == max(need[0] for need in needs)
            assert use.temperature_f == max(need[2] for need in needs)
        heated = lengths[dryers[planned.press_id] or ""]
        assert use.speed_in_min == pytest.approx(heated * 60 / use.tunnel_s)
        text = run_sheets(name, planned.press_id)[sheet.row.number - 1]
        feet, metres = heated * 60 / use.tunnel_s / 12, heated * 60 / use.tunnel_s * 0.0254
        assert f"{use.tunnel_s} s in the tunnel" in text
        assert f"= {feet:.1f} ft/min ({metres:.2f} m/min)" in text


@pytest.mark.parametrize("name", NAMES)
def test_what_comes_off_is_what_the_set_up_costs(name: str) -> None:
    """As many inks leave on the sheet as the checker's replay of set-ups cleans or swaps out."""
    of = ground(name)
    leave_min = {seen.planned.run_id: seen.ink_min for seen in replayed(of.week, of.plan)}
    for sheet in all_sheets(name):
        press = of.week.press[sheet.row.press_id]
        by_name = {ink.name: ink for ink in of.week.inks}
        told = sum(press.set_up.leave_min(by_name[line.ink]) for line in sheet.off if line.leaves)
        if not sheet.row.is_started:
            assert told == leave_min[sheet.row.run_id], sheet.row.run_id


@pytest.mark.parametrize("name", NAMES)
def test_checks_are_due_at_the_start_and_every_hour(name: str) -> None:
    """The first check is the first print; no printing hour goes without one, and none is due while the press stands."""
    of = ground(name)
    for planned in of.plan.runs:
        due = checks_due(of.week, of.plan, planned)
        if planned.print_start_tau == planned.print_end_tau:
            continue
        assert due[0] == wall(of.week.clock, planned.print_start_tau)
        printing = []
        for window in of.week.press[planned.press_id].prints_in.with_bought(of.plan.overtime).windows:
            start = max(window.start_tau, planned.print_start_tau)
            end = min(window.end_tau, planned.print_end_tau)
            if start < end:
                printing.append((wall(of.week.clock, start), wall(of.week.clock, end, is_end=True)))
        assert all(any(start <= at < end for start, end in printing) for at in due)
        for start, end in printing:
            own = [at for at in due if start <= at < end]
            gaps = zip(own, [*own[1:], end], strict=True)
            assert own[0] == start
            assert all(timedelta(0) < after - before <= timedelta(hours=1) for before, after in gaps)


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_has_fields_and_cautions(name: str) -> None:
    """Strike-off, approval, checks and counts can be written on every sheet, and the cautions stand on it."""
    of = ground(name)
    for press in of.week.presses:
        for text in run_sheets(name, press.press_id):
            if "Nothing is planned" in text:
                continue
            for words in ("strike-off right at", "approved by", "stretch, corners", "exit, right", "good", "spoiled"):
                assert words in text or (words == "approved by" and "the client approves at the press" in text)
            for caution in (WHO_WINS, MOVING_PARTS, HEAT, CHEMICALS):
                assert caution in text


def test_a_client_who_approves_is_named_on_the_sheet() -> None:
    """Only a print whose client signs at the press asks for the client's name."""
    of = ground("midsize")
    asked = {(one.order_id, one.location) for one in of.inputs.imprints if one.approval_at_press}
    assert asked
    for sheet in all_sheets("midsize"):
        run = of.week.run[sheet.row.run_id]
        assert sheet.by_client == ((run.order_id, run.location) in asked)


@pytest.mark.parametrize("name", NAMES)
def test_a_day_sheet_holds_every_run_of_its_day(name: str) -> None:
    """A run stands on each day on which its press works on it, and on no other."""
    of = ground(name)
    for press in of.week.presses:
        wanted: dict[str, set[str]] = {}
        for planned in of.plan.queue.get(press.press_id, ()):
            run = of.week.run[planned.run_id]
            spans = [
                (window, start, end)
                for calendar, start, end in (
                    (press.calendar, planned.set_up_start_tau, planned.set_up_end_tau),
                    (press.prints_in, planned.print_start_tau, planned.print_end_tau),
                )
                for window in calendar.with_bought(of.plan.overtime).windows
            ]
            for window, start, end in spans:
                first = max(window.start_tau, start)
                if first < min(window.end_tau, end):
                    day = wall(of.week.clock, first)
                    wanted.setdefault(f"{day:%A} {day.day}", set()).add(f"{run.order_id} · ")
        sheets = day_sheets(of, press.press_id)
        found = {
            " ".join(sheet.title.split(", ")[-1].split()[:2]): {
                str(row[2]).split(" · ")[0] + " · " for table in sheet.tables for row in table.rows
            }
            for sheet in sheets
        }
        assert found == wanted
        assert len(sheets_of(list_pages(of, press.name, sheets))) == max(1, len(sheets))


def test_the_ink_of_a_shop_counts_before_the_start_value() -> None:
    """The mid-size shop flashes plastisol for 6 s, not for the start value's 7, and paper says so."""
    of = ground("midsize")
    assert {ink.name: ink.flash_s for ink in of.inputs.shop.families}["plastisol"] == 6
    assert "flash 6 s, start value" in " ".join(run_sheets("midsize", "auto-1"))

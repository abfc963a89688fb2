"""Orders that are only pencilled in: marked wherever they stand, and nobody pulls, mixes, burns or packs for them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import icalendar

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.plan import Pencilled
from scheduler.papers.floor.calendars import press_calendar
from scheduler.papers.floor.day_sheets import day_sheets
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.ink_list import ink_uses
from scheduler.papers.floor.press_pages import press_sheets_page
from scheduler.papers.floor.press_sheets import press_sheets
from scheduler.papers.floor.pull_lists import pulls
from scheduler.papers.floor.screen_days import screen_sheets
from scheduler.papers.floor.ship_list import leavings
from tests.papers.floor.grounds import ground, sheets_of


@cache
def last_one_waits() -> tuple[Ground, str]:
    """The one-press week with its last order only pencilled in, and that order."""
    of = ground("solo")
    last = of.plan.queue["press"][-1]
    order_id = of.week.run[last.run_id].order_id
    waiting = tuple(one for one in of.plan.runs if of.week.run[one.run_id].order_id == order_id)
    plan = replace(
        of.plan,
        runs=tuple(one for one in of.plan.runs if one not in waiting),
        orders=tuple(one for one in of.plan.orders if one.order_id != order_id),
        reclaims=(),
        pencilled=Pencilled(
            runs=waiting,
            orders=(of.plan.order[order_id],),
            yes=(LatestYes(order_id=order_id, latest_tau=last.set_up_start_tau),),
        ),
    )
    return replace(of, plan=plan), order_id


def test_a_waiting_run_has_a_marked_sheet() -> None:
    """Its press sheet and its day say that it is pencilled in, and by when it needs its yes; no other does."""
    of, order_id = last_one_waits()
    for sheet, text in zip(press_sheets(of, "press"), sheets_of(press_sheets_page(of, "press")), strict=True):
        assert ("pencilled in, yes by" in text) == (sheet.row.order_id == order_id)
    cells = [str(row[2]) for sheet in day_sheets(of, "press") for table in sheet.tables for row in table.rows]
    for cell in cells:
        assert ("pencilled in, yes by" in cell) == cell.startswith(f"{order_id} · ")


def test_firm_runs_read_as_if_nobody_waited() -> None:
    """What comes off before a firm run, and what is done, is the same with and without the waiting order."""
    of, _ = last_one_waits()
    alone = replace(of, plan=replace(of.plan, pencilled=Pencilled()))
    firm = {sheet.row.run_id: (sheet.off, sheet.heads) for sheet in press_sheets(alone, "press")}
    seen = {sheet.row.run_id: (sheet.off, sheet.heads) for sheet in press_sheets(of, "press")}
    assert all(seen[run_id] == told for run_id, told in firm.items())
    assert len(seen) == len(of.whole.runs)


def test_nobody_works_for_it_yet() -> None:
    """Garments, ink, screens and the ship list leave the waiting order out."""
    of, order_id = last_one_waits()
    assert order_id not in {pull.order_id for pull in pulls(of)}
    assert not [use for use in ink_uses(of) if use.run_id.startswith(f"{order_id} ")]
    assert order_id not in {one.row.order_id for one in leavings(of)}
    tables = [table for sheet in screen_sheets(of) for table in sheet.tables if table.kind in ("burn", "stage")]
    assert not [row for table in tables for row in table.rows if f"{order_id} " in str(row[1]) + str(row[2])]


def test_its_calendar_entries_are_not_sure() -> None:
    """In the press's calendar its work is tentative, everybody else's confirmed."""
    of, order_id = last_one_waits()
    found = icalendar.Calendar.from_ical(press_calendar(of, "press")).walk("VEVENT")
    for one in found:
        is_waiting = f" {order_id} " in f"{one['SUMMARY']} ".replace(",", " ")
        assert str(one["STATUS"]) == ("TENTATIVE" if is_waiting else "CONFIRMED")
    assert {str(one["STATUS"]) for one in found} == {"TENTATIVE", "CONFIRMED"}

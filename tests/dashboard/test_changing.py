"""What a planner changes on the pages: locks, the moment before which nothing moves, overtime, people, the sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from streamlit.testing.v1 import AppTest

from dashboard.parts import locking, people
from scheduler import api
from tests.dashboard.conftest import Open
from tests.dashboard.test_pages import texts
from tests.dashboard.weeks import copied, planned


def button(page: AppTest, label: str) -> None:
    """Press the button of this name."""
    next(one for one in page.button if one.label == label).click().run()
    assert not page.exception


def field(page: AppTest, label: str, number: int = 0) -> Any:
    """The list of this name."""
    return [one for one in page.selectbox if one.label == label][number]


def test_a_run_is_locked_to_press_and_time_and_freed_again(open_page: Open, tmp_path: Path) -> None:
    """A lock goes into the rows behind the run and no others; taken off, the sheet says what it said before."""
    week = planned("midsize", tmp_path)
    before = api.read_cells(week, "orders")
    page = open_page(week, "holds")
    field(page, "Which run").set_value("4122 front dark").run()
    field(page, "On which press").set_value("auto-2").run()
    page.toggle[0].set_value(True).run()
    field(page, "Set-up starts").set_value("09:15").run()
    button(page, "Lock it")
    assert "4122 front dark is locked." in texts(page)
    sheet = api.read_cells(week, "orders")
    found = [lock for lock in locking.locks(sheet) if lock.order == "4122"]
    assert [(lock.location, lock.garment, lock.press) for lock in found] == [
        ("front", f"{colour} tee", "auto-2") for colour in ("red", "royal", "black")
    ]
    assert all(lock.at.endswith(" 09:15") for lock in found)
    for _ in found:
        at = [lock.order for lock in locking.locks(api.read_cells(week, "orders"))].index("4122")
        page.button(key=f"off-{locking.locks(api.read_cells(week, 'orders'))[at].place}").click().run()
    assert api.read_cells(week, "orders") == before


def test_a_lock_column_is_added_where_the_sheet_has_none(tmp_path: Path) -> None:
    """A sheet without lock columns gets them at its right end, filled in the locked rows alone."""
    week = copied("solo", tmp_path)
    workload = api.build_workload(api.read_week(week))
    sheet = api.read_cells(week, "orders")
    keys = [api.heading_key(one) for one in sheet.headings]
    run = workload.week.runs[0]
    places = locking.places_of(sheet, run)
    headings, rows = locking.with_lock(sheet, places, "press", "")
    assert len(places) >= 1
    assert [api.heading_key(one) for one in headings][: len(keys)] == keys
    at = [api.heading_key(one) for one in headings].index("lock_press")
    assert [row[at] for row in rows].count("press") == len(places)


def test_dont_touch_before_is_moved(open_page: Open, tmp_path: Path) -> None:
    """The moment is set in the shop's file and counts from the next plan on."""
    week = planned("midsize", tmp_path)
    page = open_page(week, "holds")
    field(page, "Time").set_value("11:15")
    button(page, "Set it")
    before = api.read_week(week).shop.dont_touch_before
    assert before is not None
    assert f"{before:%Y-%m-%d %H:%M}" == "2026-04-13 11:15"


def test_the_plan_in_use_is_announced(open_page: Open, tmp_path: Path) -> None:
    """From then on the week's files hold it, and the page counts its runs."""
    week = planned("midsize", tmp_path)
    page = open_page(week, "holds")
    assert "No plan is announced" in texts(page)
    button(page, "Announce the plan in use")
    assert len(api.read_week(week).announced) == 51
    assert "A plan with 51 runs is announced." in texts(page)


def test_overtime_is_opened(open_page: Open, tmp_path: Path) -> None:
    """More overtime stands in the shop's file and on the page."""
    week = planned("midsize", tmp_path)
    page = open_page(week, "holds")
    field(page, "Day", -1).set_value(api.read_week(week).shop.overtime[0].day.replace(day=16))
    button(page, "Open it")
    assert "The overtime is on offer." in texts(page)
    offered = api.read_week(week).shop.overtime
    assert f"{offered[-1].day}" == "2026-04-16"
    assert len(page.table[0].value) == 3


def test_people_are_changed_and_added() -> None:
    """Only what was changed is written; hours go day by day; somebody new gets all that was typed."""
    texts_now = {
        "person.1.id": "marta",
        "person.1.name": "Marta",
        "person.1.roles": "print, stage",
        "person.1.hours.mon-thu": "07:00-15:30",
        "person.1.hours.fri": "07:00-12:00",
        "person.2.id": "ivo",
        "person.2.name": "Ivo",
        "person.2.days_off": "2026-04-20",
        "press.1.name": "Big Eight",
    }
    before = people.people_of(texts_now)
    assert before[0]["hours"] == "mon-thu 07:00-15:30; fri 07:00-12:00"
    rows = [
        ["Marta", "print", "", "mon-thu 08:00-15:30", ""],
        ["Ivo", "", "", "", "2026-04-20"],
        ["Ana Lu", "pack", "", "sat 08:00-12:00", ""],
        ["", "", "", "", ""],
    ]
    settings, added = people.people_edit(before, rows)
    assert settings == [
        ("person.1.roles", "print"),
        ("person.1.hours.mon-thu", "08:00-15:30"),
        ("person.1.hours.fri", ""),
    ]
    assert added == [
        (
            "person",
            [
                ("id", "ana-lu"),
                ("name", "Ana Lu"),
                ("roles", "pack"),
                ("presses", ""),
                ("days_off", ""),
                ("hours.sat", "08:00-12:00"),
            ],
        )
    ]


def test_somebody_new_is_read_with_the_week(tmp_path: Path) -> None:
    """A person added on the page is one of the people of the shop, with hours and roles."""
    week = copied("midsize", tmp_path)
    before = people.people_of(api.shop_texts(week))
    rows = [[person.get(key, "") for key in people.COLUMNS] for person in before]
    _, added = people.people_edit(before, [*rows, ["Ana Lu", "pack, catch", "", "mon-fri 08:00-12:00", "2026-04-14"]])
    api.edit_week(week, added=added)
    new = api.read_week(week).shop.people[-1]
    assert (new.person_id, new.name, new.roles) == ("ana-lu", "Ana Lu", ("pack", "catch"))
    assert new.hours is not None
    assert [f"{day}" for day in new.days_off] == ["2026-04-14"]

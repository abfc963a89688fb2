"""Whom to ring: a row for every missing thing, by when, and what it holds up."""

import csv
import io
from dataclasses import replace
from datetime import datetime

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.orders import Imprint, Ink, Lot, Order, WeekInputs
from scheduler.papers.chase_list import (
    chase_csv,
    chase_figures,
    chase_rows,
    chase_section,
    waiting_orders,
)
from scheduler.papers.text import section_text
from tests import builders
from tests.workload import shops

WEEK = builders.week(
    runs=[builders.run("8 front light", order_id="8", lots=["8 tee"], design_id="8 front")],
    orders=[builders.order_due("8", ["8 front light"], pickups_tau=(540, 2700))],
    presses=[builders.press_line(name="Six")],
)
PLAN = builders.plan(
    builders.planned_run("8 front light", at=200, stage=(150, 160)), orders=[builders.planned_order("8", packed=260)]
)


def lot(order_id: str, **more: object) -> Lot:
    """Sixty tees of an order."""
    return Lot(
        **{
            "lot_id": f"{order_id} tee", "order_id": order_id, "garment": "tee", "kind": "tee", "shade": "light",
            "pieces": 60, **more,
        }
    )  # type: ignore[arg-type]  # fmt: skip


def imprint(order_id: str, **more: object) -> Imprint:
    """A white front."""
    known = {"order_id": order_id, "location": "front", "design_id": f"{order_id} front", "inks": (Ink(name="white"),)}
    return Imprint(**{**known, "lot_ids": (f"{order_id} tee",), **more})  # type: ignore[arg-type]


def order(order_id: str, **more: object) -> Order:
    """An order of a client, due on Tuesday."""
    known = {"order_id": order_id, "client": f"Client {order_id}", "due_at": datetime(2026, 3, 3).date()}
    return Order(**{**known, **more})  # type: ignore[arg-type]


def inputs(orders: list[Order], lots: list[Lot], imprints: list[Imprint]) -> WeekInputs:
    """What was typed; the shop stands in Chicago like the week."""
    shop = replace(shops.shop(), zone=builders.ZONE)
    return WeekInputs(shop=shop, orders=tuple(orders), lots=tuple(lots), imprints=tuple(imprints))


def test_what_nobody_knows_the_day_of_comes_first_the_most_urgent_on_top() -> None:
    """Too late already comes before Monday noon, that before what was not worked out with a day of its own."""
    week = inputs(
        [order("5"), order("6", note="deposit?"), order("8")],
        [
            lot("5", is_waiting=True),
            lot("6", from_client=True, is_waiting=True),
            lot("8", blanks_at=datetime(2026, 3, 2, 9)),
        ],
        [imprint("5"), imprint("6", is_waiting_for_art=True), imprint("8")],
    )
    latest = {
        "5": LatestYes(order_id="5", latest_tau=240, promised_tau=540),
        "6": LatestYes(order_id="6", latest_tau=None, promised_tau=540, why="too late already", is_proven=False),
    }
    rows = chase_rows(week, WEEK, PLAN, latest)
    told = [(row.order_id, row.missing, row.ring, row.why) for row in rows]
    assert told == [
        ("6", "art: front", "client", "too late already"),
        ("6", "garments: 60 tee", "client", "too late already"),
        ("5", "garments: 60 tee", "supplier", ""),
        ("8", "garments: 60 tee", "supplier", ""),
    ]
    assert [f"{row.latest_at:%H:%M}" if row.latest_at else "" for row in rows] == ["", "", "12:00", ""]
    assert rows[2].holds_up == "60 pieces and must leave Mon 2 Mar 17:00"
    assert f"{rows[3].needed_at:%H:%M}" == "10:30"
    assert rows[3].holds_up == "front on Six Mon 2 Mar 11:20, must leave Mon 2 Mar 17:00"


def test_what_is_there_or_overdue_is_nobody_to_ring_about() -> None:
    """Art that is there, and a day that is over, make no row; neither does an order without a place in the plan."""
    week = inputs(
        [order("8"), order("9")],
        [lot("8", blanks_at=datetime(2026, 3, 1, 9)), lot("9")],
        [imprint("8"), imprint("9", art_at=datetime(2026, 3, 4))],
    )
    assert chase_rows(week, WEEK, PLAN, {}) == ()
    assert chase_section(()) is None


def test_what_cannot_be_read_yet_has_no_latest_yes() -> None:
    """Inks nobody has told decide how long the print takes: such an order is rung about, and not worked out."""
    week = inputs([order("7", untold=("inks not told yet: front",))], [lot("7", is_waiting=True)], [])
    assert waiting_orders(week) == ()
    rows = chase_rows(week, WEEK, PLAN, {})
    assert [(row.missing, row.holds_up, row.why) for row in rows] == [
        ("inks not told yet: front", "due 2026-03-03", "what is missing decides how long it prints"),
        ("garments: 60 tee", "60 pieces and due 2026-03-03", "not worked out"),
    ]


def test_waiting_orders_are_asked_about_earliest_due_first() -> None:
    """Orders that wait for a day nobody knows, by their due date."""
    late = datetime(2026, 3, 6).date()
    week = inputs(
        [order("5", due_at=late), order("6"), order("8")],
        [lot("5", is_waiting=True), lot("6"), lot("8")],
        [imprint("5"), imprint("6", is_waiting_for_art=True), imprint("8")],
    )
    assert waiting_orders(week) == ("6", "5")


def test_the_table_the_file_and_the_figures_say_the_same() -> None:
    """A midnight is a day; the file has "?" where no day is known; moments for programs carry their offset."""
    week = inputs(
        [order("5", note="=call Jo"), order("8")],
        [lot("5"), lot("8", blanks_at=datetime(2026, 3, 3))],
        [imprint("5", is_waiting_for_art=True), imprint("8")],
    )
    rows = chase_rows(week, WEEK, PLAN, {"5": LatestYes(order_id="5", latest_tau=240, promised_tau=540)})
    section = chase_section(rows)
    assert section is not None
    text = " ".join(" ".join(section_text(section, 200)).split())
    assert "Mon 2 Mar 12:00 5 Client 5 art: front client" in text
    assert "garments: 60 tee, expected Tue 3 Mar supplier" in text
    assert "note: =call Jo" in text
    found = list(csv.DictReader(io.StringIO(chase_csv(rows))))
    assert [row["expected"] for row in found] == ["?", "2026-03-03 00:00"]
    assert [row["latest yes"] for row in found] == ["2026-03-02 12:00", ""]
    assert found[0]["note"] == "'=call Jo"
    figures = chase_figures(rows)
    assert figures[0]["latest_yes"] == "2026-03-02T12:00:00-06:00"
    assert (figures[0]["expected"], figures[1]["needed"]) == (None, "2026-03-02T10:30:00-06:00")

"""Other stations on paper: rows, table, and what decides when an order is ready."""

from __future__ import annotations

import csv
import io

from scheduler.papers.station_tables import station_rows, stations_csv, stations_section
from scheduler.papers.summary import plan_sections
from scheduler.papers.tables import order_rows
from tests import builders as b

STEPS = (b.step("embroidery", before=30), b.step("outwork", after=((0, 540, 1080), (540, 1080, 1620))))
WEEK = b.week(
    orders=[b.order_due(stations=STEPS, client="Ann & Co")],
    stations=(b.station("embroidery"), b.station("outwork", units=None)),
)
DONE = b.planned_order(packed=1080, stations=b.visits(("embroidery", 0, 30), ("outwork", 90, 1080)))
PLAN = b.plan(b.planned_run(at=30), orders=[DONE])


def test_every_visit_has_its_row() -> None:
    """Station by station, with local times, and whether the order leaves the shop."""
    first, second = station_rows(WEEK, PLAN)
    assert (first.station, first.order_id, first.when, first.is_sent_out) == (
        "embroidery",
        "or1",
        "before printing",
        False,
    )
    assert (second.station, second.when, second.is_sent_out) == ("outwork", "after printing", True)
    assert second.start_at == WEEK.clock.starts_at(90)
    assert second.end_at == WEEK.clock.ends_at(1080)


def test_the_table_and_the_report_have_them_all() -> None:
    """stations.csv has a line for each; the report a section, and none where nobody goes anywhere."""
    lines = list(csv.DictReader(io.StringIO(stations_csv(station_rows(WEEK, PLAN)), newline="")))
    assert [(line["station"], line["sent out"]) for line in lines] == [("embroidery", "no"), ("outwork", "yes")]
    assert [part.title for part in plan_sections(WEEK, PLAN)].count("Other stations") == 1
    assert stations_section(()) is None
    plain = b.week()
    assert "Other stations" not in [part.title for part in plan_sections(plain, b.plan(b.planned_run()))]


def test_what_decides_names_the_station() -> None:
    """An order that comes back last says from where."""
    (row,) = order_rows(WEEK, PLAN)
    assert row.why.startswith("back from outwork Tue 3 Mar 17:00; front comes off P1")

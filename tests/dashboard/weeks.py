"""Weeks for the pages: copies of the invented shops, planned or not, and one without orders."""

from __future__ import annotations

import csv
import shutil
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from dashboard import kept
from scheduler import api
from scheduler.domain.settings import SearchSettings

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
NAMES = ("solo", "midsize", "contract")


@cache
def planned_once(name: str) -> Path:
    """A folder with the first plan of an invented week and its papers, made once for all tests."""
    return _plan_of(SCENARIOS / name)


def _plan_of(week: Path) -> Path:
    folder = Path(mkdtemp(prefix="pressweek-tests-"))
    inputs = api.read_week(week)
    workload = api.build_workload(inputs)
    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    api.write_plan_folder(
        folder,
        workload.week,
        result.plan,
        api.plan_facts(workload.week, result, inputs.shop.money.currency),
        clients={order.order_id: order.client for order in inputs.orders},
    )
    return folder


def copied(name: str, place: Path) -> Path:
    """A copy of an invented week."""
    place.mkdir(parents=True, exist_ok=True)
    return shutil.copytree(SCENARIOS / name, place / name, ignore=shutil.ignore_patterns("plans"))


def planned(name: str, place: Path) -> Path:
    """A copy of an invented week with a plan in use."""
    week = copied(name, place)
    kept.adopt(week, planned_once(name))
    return week


def many_orders(place: Path, times: int) -> Path:
    """The mid-size week so many times over, each time with orders and designs of its own, and a first plan of it."""
    week = copied("midsize", place)
    with (week / "orders.csv").open(encoding="utf-8", newline="") as lines:
        headings, *rows = csv.reader(lines)
    at = {heading: place for place, heading in enumerate(headings)}
    first = list(rows)
    for time in range(1, times):
        for row in first:
            more = list(row)
            more[at["Order"]] = f"{time}{row[at['Order']]}"
            more[at["Design"]] = f"{row[at['Design']]} {time}"
            more[at["Lock press"]] = more[at["Lock at"]] = ""
            rows.append(more)
    shop = (week / "shop.toml").read_text(encoding="utf-8")
    for now, then in (
        *(("days_ahead = 14", "days_ahead = 60"), ("coat_places = 30", "coat_places = 60")),
        *(("count = 80", f"count = {80 * times}"), ("count = 76", f"count = {76 * times}")),
    ):
        assert now in shop
        shop = shop.replace(now, then)
    (week / "shop.toml").write_text(shop, encoding="utf-8")
    with (week / "orders.csv").open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([headings, *rows])
    kept.adopt(week, _plan_of(week))
    return week


def without_orders(place: Path) -> Path:
    """The one-person shop before its first order."""
    week = copied("solo", place)
    for name in ("progress.csv", "screens.csv", "designs.csv"):
        (week / name).unlink(missing_ok=True)
    heading = (week / "orders.csv").read_text(encoding="utf-8").splitlines()[0]
    (week / "orders.csv").write_text(heading + "\n", encoding="utf-8")
    return week

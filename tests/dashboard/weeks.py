"""Weeks for the pages: copies of the invented shops, planned or not, and one without orders."""

from __future__ import annotations

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
    folder = Path(mkdtemp(prefix="pressweek-tests-"))
    inputs = api.read_week(SCENARIOS / name)
    workload = api.build_workload(inputs)
    result = api.plan_week(workload, SearchSettings(workers=1), stop=lambda: True)
    assert result.plan is not None
    api.write_plan_folder(
        folder,
        workload.week,
        result.plan,
        api.plan_facts(workload.week, result, inputs.shop.money.currency),
        shop_name=inputs.shop.name,
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


def without_orders(place: Path) -> Path:
    """The one-person shop before its first order."""
    week = copied("solo", place)
    for name in ("progress.csv", "screens.csv", "designs.csv"):
        (week / name).unlink(missing_ok=True)
    heading = (week / "orders.csv").read_text(encoding="utf-8").splitlines()[0]
    (week / "orders.csv").write_text(heading + "\n", encoding="utf-8")
    return week

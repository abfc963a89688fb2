from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from scheduler.domain.orders import (
    Announced,
    WeekInputs,
)
from scheduler.domain.shop import (
    Shop,
)
from scheduler.inputs.reader import read_week
from tests.inputs.good_week import ASSUMED, DESIGNS, IMPRINTS, LOTS, ORDERS, PROGRESS, SHOP, ZONE
from tests.inputs.weeks import good_files, write_folder


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> WeekInputs:
    """The small good week as read."""
    return read_week(write_folder(tmp_path_factory.mktemp("good") / "week", good_files()))


@pytest.mark.parametrize("name", [field.name for field in fields(Shop)])
def test_every_setting_of_the_shop_is_read(week: WeekInputs, name: str) -> None:
    """Each part of the shop is exactly what its file says, in inches, minutes, seconds and cents."""
    assert getattr(week.shop, name) == getattr(SHOP, name)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("orders", ORDERS),
        ("lots", LOTS),
        ("imprints", IMPRINTS),
        ("designs", DESIGNS),
        ("progress", PROGRESS),
        ("announced", ()),
    ],
)
def test_every_cell_of_the_sheets_is_read(week: WeekInputs, name: str, expected: object) -> None:
    """Orders, lots, imprints, designs and progress are what the sheets say, gaps filled from their other rows."""
    assert getattr(week, name) == expected


def test_everything_nobody_typed_is_listed_and_grouped(week: WeekInputs) -> None:
    """Each assumption is told once, with all the things it was made about, and how many they are."""
    assert {one.text: one.where for one in week.assumptions} == ASSUMED
    assert all(one.count == len(one.where) for one in week.assumptions)
    assert all(one.counted for one in week.assumptions)


def test_moments_know_their_zone(week: WeekInputs) -> None:
    """No moment anywhere in a week is without the shop's time zone."""
    moments = [one for one in values_in(week) if isinstance(one, datetime)]
    assert len(moments) > 6
    assert all(one.tzinfo == ZONE for one in moments)


def values_in(thing: Any) -> Iterator[Any]:
    """Every value within dataclasses and tuples."""
    if is_dataclass(thing):
        for field in fields(thing):
            yield from values_in(getattr(thing, field.name))
    elif isinstance(thing, tuple):
        for one in thing:
            yield from values_in(one)
    else:
        yield thing


def test_an_announced_plan_is_read_with_the_week(tmp_path: Path) -> None:
    """A plan file named announced.json tells where an earlier plan put each run, and it changes the digest."""
    plan = (
        '{"format": "pressweek plan", "version": 1, "inputs_digest": "abc", "status": "stopped", "activities": ['
        '{"kind": "set-up", "run": "4102 front dark", "where": "auto-1", "start": "2026-03-02T07:30+00:00"}]}'
    )
    plain = read_week(write_folder(tmp_path / "plain", good_files()))
    found = read_week(write_folder(tmp_path / "week", {**good_files(), "announced.json": plan}))
    moment = datetime.fromisoformat("2026-03-02T07:30+00:00")
    assert found.announced == (Announced(run_id="4102 front dark", press_id="auto-1", set_up_at=moment),)
    assert found.digest != plain.digest

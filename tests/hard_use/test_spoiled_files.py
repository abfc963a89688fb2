"""Whatever was spoiled, on disk or in typing: it is read, or refused with faults that say where and what to write.

Thousands more: `python -m tests.benchmarks.spoiled_files`.
"""

from __future__ import annotations

import contextlib
import json
import random
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler import api
from scheduler.errors import InputError
from tests.hard_use.mangling import mangled_bytes
from tests.hard_use.trying import (
    READ,
    REFUSED,
    TRIES,
    HungError,
    alarm,
    assert_fit_to_be_shown,
    plan_text,
    planned_week,
    try_one,
)
from tests.inputs.weeks import good_files, write_folder, write_workbook

SEEDS = range(20_000, 20_008)
DRAWN = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


@pytest.mark.parametrize("kind", TRIES)
def test_spoiled_things_are_read_or_refused(tmp_path: Path, kind: str) -> None:
    """No traceback, no hang, no fault without a place; and some injuries are noticed."""
    came = set()
    for seed in SEEDS:
        place = tmp_path / str(seed)
        place.mkdir()
        came.add(try_one(kind, seed, place).came)
    assert REFUSED in came
    assert came <= {READ, REFUSED}


@given(seed=st.integers(0, 10**6), hurt=st.sampled_from(sorted(good_files())), cut=st.binary(max_size=12))
@DRAWN
def test_hypothesis_looks_for_bytes_that_break_a_week(tmp_path: Path, seed: int, hurt: str, cut: bytes) -> None:
    """A good week's file with bytes injured by any dice and any bytes put at its end: read or refused."""
    files = good_files()
    files[hurt] = mangled_bytes(random.Random(seed), str(files[hurt]).encode()) + cut
    try:
        with alarm():
            api.build_workload(api.read_week(write_folder(tmp_path / "week", files)))
    except InputError as refused:
        for one in refused.problems:
            assert_fit_to_be_shown(one)


def test_an_order_that_is_a_list_in_a_plan_file(tmp_path: Path) -> None:
    """Whatever stands in a plan file's list of orders in place of a name is read past: the list repeats the plan."""
    document = json.loads(plan_text("solo"))
    document["orders"] = [{"order": ["a"], "packed_shop_min": 3}, 7, {"order": None}, {"order": {}}]
    (tmp_path / "plan.json").write_text(json.dumps(document), encoding="utf-8")
    plan, _ = api.read_plan(tmp_path / "plan.json", planned_week("solo"))
    assert api.check(planned_week("solo"), plan) == ()


def test_a_kind_of_three_thousand_signs_in_a_plan_file(tmp_path: Path) -> None:
    """A value of any length is told in one line that still says what is wrong and what to write."""
    document = json.loads(plan_text("solo"))
    document["activities"][0]["kind"] = "x" * 3_000
    (tmp_path / "plan.json").write_text(json.dumps(document), encoding="utf-8")
    with pytest.raises(InputError) as refused:
        api.read_plan(tmp_path / "plan.json", planned_week("solo"))
    told = str(refused.value.problems[0])
    assert_fit_to_be_shown(refused.value.problems[0])
    assert "is no kind; write one of stage, burn" in told


def test_a_read_that_hangs_is_noticed() -> None:
    """The alarm rings in the middle of work that does not end, past handlers that swallow everything."""

    def endless() -> None:
        while True:
            with contextlib.suppress(Exception):
                sum(range(10_000))

    with pytest.raises(HungError), alarm(1):
        endless()


@pytest.mark.parametrize("is_workbook", [False, True])
def test_a_spoiled_cell_is_found_at_its_row_and_column(tmp_path: Path, is_workbook: bool) -> None:
    """Whatever hostile text a dice puts under a heading, the faults it makes stand at that row and that heading."""
    files, wrong = good_files(), {"pieces": "-144", "due": "31/02/2026", "base": "perhaps", "split": "600-400"}
    head, *rows = str(files["orders.csv"]).splitlines()
    assert "split" not in head
    files["orders.csv"] = "\n".join([f"{head},split", *(f"{row}," for row in rows[:-1]), f"{rows[-1]},600-400", ""])
    files["orders.csv"] = files["orders.csv"].replace("Royal Hoodie,,40", "Royal Hoodie,,-144")
    files["orders.csv"] = files["orders.csv"].replace("Brewery,2026-03-05", "Brewery,31/02/2026")
    files["orders.csv"] = files["orders.csv"].replace(
        "adult,,15 min,yes,no,300/h,,", "adult,,15 min,yes,perhaps,300/h,,", 1
    )
    path = tmp_path / "week.xlsx"
    week = write_workbook(path, files) if is_workbook else write_folder(tmp_path / "week", files)
    with pytest.raises(InputError) as refused:
        api.read_week(week)
    found = {(one.row, one.column, one.value) for one in refused.value.problems if not one.is_warning}
    assert found >= {(2, "due", wrong["due"]), (5, "pieces", "-144"), (2, "base", "perhaps"), (5, "split", "600-400")}
    where = "week.xlsx (Orders)" if is_workbook else "orders.csv"
    assert {one.file for one in refused.value.problems} == {where}

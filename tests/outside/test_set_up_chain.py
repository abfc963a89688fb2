"""A press whose set-ups depend on the run before is a travelling salesman with no way back: held to an exact answer."""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Stack, Week
from tests.outside.set_ups import set_up_by_trying_all

SHOP = """\
name = "One press bench"
zone = "UTC"
plan_from = "2026-03-02 00:00"
days_ahead = 6

[hours]
mon-sun = "00:00-24:00"

[[press]]
id = "auto-1"
kind = "automatic"
heads = 3
run_crew = "print 1"
set_up = { mount = "4 min", load = "3 min", card = "1 min", clean_light = "5 min", clean_dark = "11 min", strike_off = "6 min" }
now_on = { inks = "black" }

[[person]]
id = "ada"
roles = "print"

[money]
person_hour = 60
cushion = 0

[defaults]
finish_each = "0 s"
dark_inks = "black, navy"
"""  # noqa: E501 an inline table is one line
INKS = ("white", "yellow", "red", "navy", "black")


def typed_week(folder: Path, seed: int, runs: int) -> Week:
    """Single-run orders of three inks each, all due at the end, on a press of three heads: nothing can be kept."""
    rng = random.Random(seed)
    rows = ["order,client,due,garment,shade,pieces,location,inks,blanks,art,run"]
    for number in range(1, runs + 1):
        inks = ", ".join(sorted(rng.sample(INKS, 3), key=INKS.index))
        rows.append(f'{number:02d},Client {number},2026-03-07,white tee,light,30,front,"{inks}",in,ok,20 min')
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    (folder / "orders.csv").write_text("\n".join(rows), encoding="utf-8")
    return api.build_workload(api.read_week(folder)).week


def cheapest_chain_min(week: Week) -> int:
    """Least set-up minutes over all orders of the runs: dynamic programming over sets of runs (Held and Karp 1962)."""
    stacks = [run.choices[0].stack for run in week.runs]
    start = week.press["auto-1"].now_on

    def step(old: Stack, new: Stack) -> int:
        return set_up_by_trying_all(week, "auto-1", old, new, set(), set())

    first = [step(start, stack) for stack in stacks]
    between = [[step(old, new) for new in stacks] for old in stacks]

    @cache
    def least(left: frozenset[int], last: int) -> int:
        if not left:
            return 0
        return min(between[last][index] + least(left - {index}, index) for index in left)

    everything = frozenset(range(len(stacks)))
    return min(first[index] + least(everything - {index}, index) for index in everything)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_set_ups_of_a_week_are_the_cheapest_chain(tmp_path: Path, seed: int) -> None:
    """Nine runs on one press: the plan's set-up minutes equal the exact least, and the search proves it."""
    week = typed_week(tmp_path, seed, runs=9)
    assert all(run.choices[0].heads_needed == 3 for run in week.runs)
    found = api.plan_week(
        api.build_workload(api.read_week(tmp_path)), SearchSettings(seconds=180, seed=seed, workers=2)
    )
    assert found.plan is not None
    assert sum(run.set_up_min for run in found.plan.runs) == cheapest_chain_min(week)
    assert (found.status, found.cost_cents) == ("proven", 100 * cheapest_chain_min(week))

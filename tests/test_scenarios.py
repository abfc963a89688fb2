"""The invented weeks keep what their pages promise: they read, count up and can be planned; the broken one is told."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.search.result import SearchResult
from scheduler.workload.build import Workload

SCENARIOS = Path(__file__).resolve().parent.parent / "scenarios"
BROKEN = SCENARIOS / "broken"


@dataclass(frozen=True, kw_only=True)
class Promise:
    """What a week's page says. least_load, most_load: press hours of the first days in use, in a planned week."""

    name: str
    planned_at: str
    orders: int
    runs: int
    presses: tuple[str, ...]
    dryers: int
    people: int
    families: frozenset[str]
    carriers: int
    burned: int
    to_reclaim: int
    waiting: tuple[str, ...] = ()
    started: tuple[str, ...] = ()
    locked: tuple[str, ...] = ()
    overtime: int = 0
    least_late_on_a_due_date_list: int = 0
    days: int = 5
    least_load: float = 0.0
    most_load: float = 1.0
    iterations: int = 0


PROMISES = (
    Promise(
        name="solo",
        planned_at="2026-03-02 08:30",
        orders=12,
        runs=16,
        presses=("manual",),
        dryers=1,
        people=1,
        families=frozenset({"plastisol", "water-based"}),
        carriers=1,
        burned=2,
        to_reclaim=4,
        least_load=0.55,
        most_load=0.95,
        iterations=50,
    ),
    Promise(
        name="midsize",
        planned_at="2026-04-13 07:00",
        orders=30,
        runs=51,
        presses=("automatic", "automatic", "manual"),
        dryers=2,
        people=8,
        families=frozenset({"plastisol", "water-based", "discharge"}),
        carriers=2,
        burned=4,
        to_reclaim=9,
        waiting=("4126",),
        started=("4103 front dark",),
        locked=("4130 front light",),
        overtime=2,
        least_late_on_a_due_date_list=2,
        least_load=0.70,
        most_load=0.95,
        iterations=300,
    ),
    Promise(
        name="contract",
        planned_at="2026-05-11 06:00",
        orders=59,
        runs=120,
        presses=("automatic",) * 6,
        dryers=3,
        people=20,
        families=frozenset({"plastisol", "water-based", "discharge"}),
        carriers=2,
        burned=6,
        to_reclaim=17,
        overtime=2,
        least_late_on_a_due_date_list=3,
        days=8,
        least_load=0.70,
        most_load=0.95,
        iterations=100,
    ),
)
EACH = pytest.mark.parametrize("promise", PROMISES, ids=lambda promise: promise.name)


@cache
def workload_of(name: str) -> Workload:
    """A week read and made into a planning question, once for all tests."""
    return api.build_workload(api.read_week(SCENARIOS / name))


@cache
def result_of(name: str, iterations: int) -> SearchResult:
    """A week searched for a counted number of steps."""
    return api.plan_week(workload_of(name), SearchSettings(iterations=iterations, seed=1, workers=1))


@EACH
def test_a_week_reads_without_a_fault_and_without_oddities(promise: Promise) -> None:
    """Nothing in the invented weeks is wrong, misspelt or unread."""
    _, warnings = api.read_week_with_warnings(SCENARIOS / promise.name)
    assert [str(warning) for warning in warnings] == []


@EACH
def test_the_planning_moment_stands_in_the_file(promise: Promise) -> None:
    """A week planned next year starts at the same minute as today."""
    shop = api.read_week(SCENARIOS / promise.name).shop
    assert shop.plan_from.replace(tzinfo=None) == datetime.fromisoformat(promise.planned_at)


@EACH
def test_a_week_holds_what_its_page_promises(promise: Promise) -> None:
    """Orders, presses, dryers, people, ink families, carriers, burned sets and overtime are as many as told."""
    inputs = api.read_week(SCENARIOS / promise.name)
    week = workload_of(promise.name).week
    assert len(inputs.orders) == promise.orders
    assert tuple(sorted(press.kind for press in inputs.shop.presses)) == promise.presses
    assert len(inputs.shop.dryers) == promise.dryers
    assert len(inputs.shop.people) == promise.people
    assert len(inputs.shop.carriers) == promise.carriers
    assert len(inputs.shop.overtime) == promise.overtime
    assert len(week.runs) == promise.runs
    assert {ink.family for ink in week.inks} == promise.families
    assert sum(one.is_burned_now and one.set_id in week.runs_of_set for one in week.sets) == promise.burned
    assert sum(frames for _, _, frames in week.early_reclaims) == promise.to_reclaim


@EACH
def test_what_waits_and_what_is_fixed_is_as_told(promise: Promise) -> None:
    """Started and locked runs stand where the files say; only orders that wait are left out, as waiting."""
    week = workload_of(promise.name).week
    assert {(one.order_id, one.kind) for one in week.not_planned} == {(name, "waiting") for name in promise.waiting}
    kinds = {(one.run_id, one.kind) for one in week.fixings}
    assert kinds == {(run, "started") for run in promise.started} | {(run, "locked") for run in promise.locked}


@EACH
def test_the_first_plan_keeps_every_rule(promise: Promise) -> None:
    """A plan is there at once, before any search, and the independent eye finds nothing wrong with it."""
    week = workload_of(promise.name).week
    first = first_plan(week)
    assert isinstance(first, Decoded)
    assert api.check(week, first.plan) == ()


@EACH
def test_a_short_search_is_no_dearer_than_the_due_date_list(promise: Promise) -> None:
    """The plan costs at most what the list sorted by date costs, nothing less than the bound, and its terms sum up."""
    found = result_of(promise.name, promise.iterations)
    assert found.plan is not None
    assert found.baseline is not None
    assert found.lower_bound_cents <= found.cost_cents <= found.baseline.cost_cents
    assert api.measure(workload_of(promise.name).week, found.plan).cost.total == found.cost_cents


@EACH
def test_orders_late_on_a_due_date_list_need_not_be(promise: Promise) -> None:
    """The list sorted by date loses the promised number of orders at least; a short search loses none."""
    week = workload_of(promise.name).week
    found = result_of(promise.name, promise.iterations)
    assert found.plan is not None
    assert found.baseline is not None
    assert found.baseline.plan is not None
    assert len(api.measure(week, found.baseline.plan).late_orders) >= promise.least_late_on_a_due_date_list
    assert api.measure(week, found.plan).late_orders == ()


def hours_in_use(week: Week, found: SearchResult, until_tau: int) -> float:
    """Share of the presses' open minutes before a shop minute that set-ups and prints take."""
    assert found.plan is not None
    open_min = busy_min = 0
    for press in week.presses:
        windows = [(one.start_tau, min(one.end_tau, until_tau)) for one in press.calendar.with_bought(()).windows]
        open_min += sum(max(0, end - start) for start, end in windows)
        for run in found.plan.queue.get(press.press_id, ()):
            for began, ended in ((run.set_up_start_tau, run.set_up_end_tau), (run.print_start_tau, run.print_end_tau)):
                busy_min += sum(max(0, min(end, ended) - max(start, began)) for start, end in windows)
    return busy_min / open_min


@EACH
def test_presses_are_as_busy_as_in_a_real_shop(promise: Promise) -> None:
    """The days that matter are neither empty nor hopeless: press hours are in use as told."""
    week = workload_of(promise.name).week
    end = week.clock.now + timedelta(days=promise.days)
    load = hours_in_use(week, result_of(promise.name, promise.iterations), week.clock.tau_of(end))
    assert promise.least_load <= load <= promise.most_load


@EACH
def test_rates_and_set_ups_are_those_of_a_real_shop(promise: Promise) -> None:
    """Automatics print 200 to 550 an hour and manuals 40 to 90; a bare set-up takes 4 to 14 min for each screen."""
    for load in workload_of(promise.name).press_loads:
        kinds = {press.press_id: press.kind for press in api.read_week(SCENARIOS / promise.name).shop.presses}
        low, high = (180, 550) if kinds[load.press_id] == "automatic" else (40, 90)
        assert load.low_pcs_h is not None
        assert load.high_pcs_h is not None
        assert low <= load.low_pcs_h <= load.high_pcs_h <= high
        for screens, minutes in load.set_up_min:
            assert minutes is None or 4 <= minutes / screens <= 14


def test_the_demo_plans_the_midsize_week() -> None:
    """What `pressweek demo` plans is one of the weeks checked here."""
    assert api.demo_week() == SCENARIOS / "midsize"


def test_every_week_has_a_page_of_its_own() -> None:
    """Each folder with a shop tells its story in a README."""
    folders = {path.parent for path in SCENARIOS.glob("*/shop.toml")}
    assert folders == {SCENARIOS / promise.name for promise in PROMISES} | {BROKEN}
    assert all((folder / "README.md").is_file() for folder in folders)


def test_the_broken_week_is_told_exactly_as_its_page_says() -> None:
    """Every fault of the broken week stands on its page, word for word, and no other fault is told."""
    with pytest.raises(InputError) as refused:
        api.read_week(BROKEN)
    told = [str(problem) for problem in refused.value.problems if not problem.is_warning]
    page = (BROKEN / "README.md").read_text(encoding="utf-8")
    assert told == page.split("```\n")[1].splitlines()
    assert len({problem.code for problem in refused.value.problems}) >= 15

"""The date for an order not taken yet: harmless first, never surer than it is, and an honest no."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler import api
from scheduler.cli import app
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.what_if import Rush
from scheduler.errors import InputError
from scheduler.promise import Promise, figures, opening, promise, rush_of, sections
from scheduler.search.engine import plan_week

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"
COUNTED = SearchSettings(iterations=60, workers=1)

RUSH = """\
[[rush]]
order = "4190"
client = "Hollow Creek Diner"
due = "2026-04-16"
garment = "black tee"
shade = "dark"
pieces = {pieces}
location = "front"
inks = "white, red"
blanks = "in"
art = "ok"
"""


@pytest.fixture(scope="module")
def standing() -> tuple[WeekInputs, Plan]:
    """The mid-size week and a plan of it."""
    inputs = api.read_week(SCENARIOS / "midsize")
    plan = plan_week(api.build_workload(inputs).week, SearchSettings(iterations=300)).plan
    assert plan is not None
    return inputs, plan


def rush(inputs: WeekInputs, folder: Path, pieces: int) -> Rush:
    """An order as somebody types it into a small file."""
    (folder / "rush.toml").write_text(RUSH.format(pieces=pieces), encoding="utf-8")
    asked = api.read_what_ifs([str(folder / "rush.toml")], SCENARIOS / "midsize", inputs, None)
    return rush_of([one for found in asked for one in found.what_ifs])


@pytest.fixture(scope="module")
def small(standing: tuple[WeekInputs, Plan], tmp_path_factory: pytest.TempPathFactory) -> Promise:
    """The date for forty-eight tees."""
    inputs, plan = standing
    order = rush(inputs, tmp_path_factory.mktemp("rush"), 48)
    return promise(inputs, plan, order, COUNTED, confidence=0.8, replays=300)


def test_the_harmless_day_hurts_nobody(small: Promise) -> None:
    """The day to say first is one for which nobody else turns late, kept as often as asked."""
    harmless = small.harmless
    assert harmless is not None
    assert harmless.turns_late == ()
    odds = next(one for one in harmless.day.odds if one.pickup_tau == harmless.day.say_tau)
    assert odds.ready >= 0.8 * odds.of
    assert opening(small).startswith("Say ")
    assert "nobody else turns late, and it holds in 16 of 20 weeks" in opening(small)


def test_the_earliest_day_is_no_later_than_the_harmless_one(small: Promise) -> None:
    """Hurting others can only bring the day forward."""
    assert small.harmless is not None
    assert small.earliest is not None
    assert small.harmless.day.say_tau is not None
    assert small.earliest.day.say_tau is not None
    assert small.earliest.day.say_tau <= small.harmless.day.say_tau


def test_every_plan_behind_a_date_can_be_kept(small: Promise) -> None:
    """Each way is a checked plan that holds the new order."""
    assert small.offers
    for one in small.offers:
        assert one.answer.plan is not None
        assert api.check(one.answer.week, one.answer.plan) == ()
        assert "4190" in one.answer.plan.order


def test_the_orders_own_lateness_is_no_price(small: Promise) -> None:
    """It is asked for at once, which nobody promised: what that would cost is left out of what it costs more."""
    late_day_cents = small.offers[0].answer.week.order["4190"].late_cents
    assert late_day_cents == 15_000
    assert 0 < min(one.extra_cents for one in small.offers) < late_day_cents


def test_ways_side_by_side(small: Promise) -> None:
    """The table and the figures tell the same ways."""
    (table,) = sections(small, "USD")
    told = json.loads(json.dumps(figures(small)))
    assert [line.cells[0] for line in table.lines] == [way["way"] for way in told["ways"]]
    assert all("USD" in line.cells[6] for line in table.lines)


def test_an_order_that_does_not_fit_is_refused_in_words(standing: tuple[WeekInputs, Plan], tmp_path: Path) -> None:
    """A hundred thousand pieces fit no planned day: told, not promised."""
    inputs, plan = standing
    found = promise(inputs, plan, rush(inputs, tmp_path, 100_000), COUNTED, confidence=0.8, replays=50)
    assert found.offers == ()
    assert opening(found).startswith("4190 cannot be taken: ")
    assert sections(found) == ()


def test_one_new_order_is_asked_about(standing: tuple[WeekInputs, Plan]) -> None:
    """Anything but a single new order is a fault with what to write instead."""
    inputs, _ = standing
    asked = api.read_what_ifs(["cancel order=4102"], SCENARIOS / "midsize", inputs, None)
    with pytest.raises(InputError) as fault:
        rush_of([one for found in asked for one in found.what_ifs])
    assert "[[rush]]" in fault.value.problems[0].hint


def test_the_command(tmp_path: Path) -> None:
    """From a small file to a date in a sentence."""
    run_it = CliRunner().invoke
    folder = tmp_path / "plan"
    week = str(SCENARIOS / "midsize")
    made = run_it(app, ["plan", week, "--seconds", "2", "--out", str(folder)])
    assert made.exit_code == 0, made.output
    (tmp_path / "rush.toml").write_text(RUSH.format(pieces=48), encoding="utf-8")
    asked = ["promise", week, "--order", str(tmp_path / "rush.toml"), "--plan", str(folder / "plan.json")]
    told = run_it(app, [*asked, "--seconds", "2"])
    assert told.exit_code == 0, told.output
    assert "Ways to take it" in told.stdout

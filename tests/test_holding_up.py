"""What holds a week up: figures that add up, sentences a planner reads first, and the command."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler import api
from scheduler.cli import app
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.holding_up import SHOWN_ORDERS, HoldingUp, figures, holding_up, opening, sections
from scheduler.insight.helps import what_helps
from scheduler.search.engine import plan_week
from tests.builders import choice, order_due, person, press_line, run, screen_room, week

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"


def planned(one: Week) -> Plan:
    """The week's plan."""
    found = plan_week(one, SearchSettings(iterations=0)).plan
    assert found is not None
    return found


def read(one: Week) -> HoldingUp:
    """What holds it up."""
    return holding_up(one, planned(one))


def text(found: HoldingUp) -> str:
    """The whole report as lines."""
    told = sections(found)
    return "\n".join(line for section in told for line in (section.title, *api.section_lines(section, 100)))


@pytest.fixture(scope="module")
def midsize() -> HoldingUp:
    """The mid-size week with the due-date list's plan."""
    one = api.build_workload(api.read_week(SCENARIOS / "midsize")).week
    listed = plan_week(one, SearchSettings(iterations=0)).baseline
    assert listed is not None
    assert listed.plan is not None
    return holding_up(one, listed.plan)


def test_press_minutes_add_up(midsize: HoldingUp) -> None:
    """Open minutes up to the last print are printing, set-up and waiting, and nothing else."""
    for one in midsize.presses:
        assert one.times.planned_min == one.times.print_min + one.times.set_up_min + one.times.delay_min


def test_only_one_place_holds_the_week_up_at_a_time(midsize: HoldingUp) -> None:
    """The stretches do not overlap and are no more than the week is long."""
    held = midsize.held
    assert all(before.end <= after.start for before, after in pairwise(held))
    assert sum(one.end - one.start for one in held) <= midsize.week.horizon_tau


def test_every_order_has_its_chain(midsize: HoldingUp) -> None:
    """One chain for each planned order, last packed first, each told in a sentence that names it."""
    assert [one.packed_tau for one in midsize.chains] == sorted(
        (one.packed_tau for one in midsize.plan.orders), reverse=True
    )
    assert all(one.sentence.startswith(f"{one.order_id} is packed ") for one in midsize.chains)


def test_late_orders_come_first(midsize: HoldingUp) -> None:
    """With late orders the report tells why these are late, with the mark, the word and when they should have left."""
    assert any(one.late for one in midsize.chains)
    told = text(midsize)
    assert "Why late orders are late" in told
    assert told.count("▲") == min(SHOWN_ORDERS, sum(one.late is not None for one in midsize.chains))
    assert "it should have left" in told


def test_what_is_shared_is_never_used_beyond_what_is_there(midsize: HoldingUp) -> None:
    """Belts, exposure units, rack and people are used up to what there is, for at most as long as they are used."""
    assert {load.kind for load in midsize.loads} == {"belt", "exposure unit", "rack", "frames", "role"}
    assert all(0 < load.used <= load.there for load in midsize.loads)


def test_a_busy_press_is_told_first() -> None:
    """With one press at work and one idle the first sentence names the one at work, and for how long."""
    one = week(runs=[run("r1"), run("r2")], presses=[press_line("P1", name="Big Eight"), press_line("P2")])
    assert opening(read(one)) == (
        "Big Eight holds the week up longest: for 2 h nothing else has been at work longer without a break."
    )


def test_an_empty_week_is_held_up_by_nothing() -> None:
    """No runs, no bottleneck, no traceback."""
    empty = week(runs=[], orders=[])
    found = holding_up(empty, Plan(runs=(), orders=()))
    assert opening(found) == "Nothing is planned, so nothing holds anything up."
    assert all(not section.lines for section in sections(found))


def test_figures_are_plain_json(midsize: HoldingUp) -> None:
    """Everything told is there for other programs too, and the key figures keep to their definitions."""
    told = json.loads(json.dumps(figures(midsize)))
    assert set(told) == {"holds", "moving", "presses", "loads", "chains", "helps"}
    for press in told["presses"]:
        assert press["allocation"] * press["utilization"] == pytest.approx(press["availability"])
    assert told["helps"] is None


def test_what_helps_leads_the_report() -> None:
    """Asked what would help, the first sentence and the first section tell it, with money."""
    one = week(
        runs=[run(f"r{n}", choices=[choice("P1", print_min=240)]) for n in range(4)],
        orders=[
            order_due(f"or{n}", (f"r{n}",), pickups_tau=(540, 1080, 1620, 2700), late_cents=10_000) for n in range(4)
        ],
        people=[person()],
        screen_room=screen_room(),
    )
    plan = planned(one)
    found = holding_up(one, plan, what_helps(one, plan, tries=40))
    assert opening(found, "EUR").startswith("What would help most: a second press like P1")
    first = sections(found, "EUR")[0]
    assert first.title == "What one thing more would save"
    assert first.lines[0].cells[0].startswith("a second press like P1")
    assert "200.00 EUR" in first.lines[0].cells[2]
    assert "Saves nothing this week: one more person for print" in " ".join(first.sentences)


def test_the_command(tmp_path: Path) -> None:
    """A plan that stands is read, what holds it up is told, and --json gives the same in figures."""
    plan_folder = tmp_path / "out"
    run_it = CliRunner().invoke
    made = run_it(app, ["plan", str(SCENARIOS / "solo"), "--seconds", "0.5", "--out", str(plan_folder)])
    assert made.exit_code == 0, made.output
    asked = ["bottlenecks", str(SCENARIOS / "solo"), "--plan", str(plan_folder / "plan.json")]
    told = run_it(app, asked)
    assert told.exit_code == 0, told.output
    assert "holds the week up longest" in told.stdout
    assert "Presses up to their last print" in told.stdout
    as_json = run_it(app, [*asked, "--json"])
    assert as_json.exit_code == 0, as_json.output
    assert json.loads(as_json.stdout)["presses"][0]["planned_min"] > 0


def test_a_plan_of_another_week_is_refused(tmp_path: Path) -> None:
    """A plan file that does not fit the week is told as such, with exit code 2."""
    (tmp_path / "plan.json").write_text("{}", encoding="utf-8")
    done = CliRunner().invoke(app, ["bottlenecks", str(SCENARIOS / "solo"), "--plan", str(tmp_path / "plan.json")])
    assert done.exit_code != 0

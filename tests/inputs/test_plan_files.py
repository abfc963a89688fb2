import json
import os
import stat
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import CoatBatch, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.week import FloorLine, Week
from scheduler.errors import InputError
from scheduler.inputs.plan_files import PlanFacts, other_inputs, read_announced, read_plan, write_plan
from tests import builders
from tests.random_weeks import random_week

FACTS = PlanFacts(
    digest="abc",
    status="stopped",
    seed=7,
    currency="EUR",
    cost_cents=31240,
    cost_terms=(("late", 30000), ("set_up", 1240)),
    lower_bound_cents=1240,
)


def small_week() -> Week:
    """Two runs of one order on one press, with a screen set, staging and packing."""
    first = builders.run("r1", order_id="A", set_id="s1")
    second = builders.run("r2", order_id="A", set_id="s1")
    return builders.week(
        runs=(first, second),
        sets=(builders.screen_set("s1"),),
        screen_room=builders.screen_room(
            coat_windows=(builders.coat_window(),), reclaim_blocks=(builders.reclaim_block(),)
        ),
        staging=FloorLine(calendar=builders.every_day(), crew=(("stage", 1),), minutes=5),
        digest="abc",
    )


def small_plan() -> Plan:
    """A plan of `small_week` with something of every kind in it, ending exactly at closing time."""
    return builders.plan(
        builders.planned_run("r2", at=120, set_up=20, stage=(110, 115), burn=builders.planned_burn(), reason="first"),
        builders.planned_run("r1", at=480, set_up=0, printing=60, kept_inks=("white", "red"), reason="then", way=2),
        orders=(PlannedOrder(order_id="A", finish_start_tau=540, packed_tau=540),),
        coat_batches=(CoatBatch(window_id="coat Mon", class_id="23x31/156", count=2),),
        reclaims=(Reclaim(set_id="s1", after_run_id="r1", block_id="reclaim Tue"),),
        overtime=("late Mon",),
    )


def written(folder: Path, week: Week | None = None, plan: Plan | None = None) -> tuple[Path, dict[str, Any]]:
    """A plan file and what stands in it."""
    path = folder / "plan.json"
    write_plan(path, week or small_week(), plan or small_plan(), FACTS)
    return path, json.loads(path.read_text(encoding="utf-8"))


def line_of(document: dict[str, Any], text: str) -> int:
    """The line on which this stands in the file."""
    return 1 + next(at for at, line in enumerate(json.dumps(document, indent=1).splitlines()) if text in line)


def faults(path: Path, document: object, week: Week | None = None) -> list[str]:
    """What reading a changed document complains of, as people see it."""
    path.write_text(document if isinstance(document, str) else json.dumps(document, indent=1), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_plan(path, week or small_week())
    return [str(problem) for problem in caught.value.problems]


def test_reads_back_to_the_same_plan(tmp_path: Path) -> None:
    """A plan written and read with the same week is the very same plan, with the very same facts."""
    path, _ = written(tmp_path)
    assert read_plan(path, small_week()) == (small_plan(), FACTS)


@st.composite
def any_plan(draw: st.DrawFn) -> tuple[Week, Plan]:
    """A random week and a plan of its runs that need not keep a single rule."""
    week = random_week(draw(st.integers(0, 60)), size="small")
    minute = st.integers(-50, week.horizon_tau + 50)

    def span() -> tuple[int, int]:
        start = draw(minute)
        return start, start + draw(st.integers(0, 900))

    runs = []
    for run in draw(st.permutations(week.runs)):
        (set_up, set_up_end), (printing, print_end), (stage, stage_end) = span(), span(), span()
        burn = builders.planned_burn(draw(minute), dry=draw(st.integers(0, 90))) if draw(st.booleans()) else None
        runs.append(
            PlannedRun(
                run_id=run.run_id,
                press_id=draw(st.sampled_from(["press-1", "press-7"])),
                stage_start_tau=stage,
                stage_end_tau=stage_end,
                set_up_start_tau=set_up,
                set_up_end_tau=set_up_end,
                set_up_min=draw(st.integers(0, 90)),
                print_start_tau=printing,
                print_end_tau=print_end,
                kept_inks=tuple(draw(st.lists(st.sampled_from(["white", "wb blue"]), max_size=2))),
                burn=burn,
                reason=draw(st.text(max_size=8)),
            )
        )
    orders = []
    for order in week.orders:
        start, end = span()
        orders.append(PlannedOrder(order_id=order.order_id, finish_start_tau=start, packed_tau=end))
    return week, Plan(runs=tuple(runs), orders=tuple(orders), overtime=tuple(draw(st.lists(st.text(), max_size=2))))


@settings(max_examples=60, deadline=None)
@given(any_plan())
def test_any_plan_survives_the_file(tmp_path_factory: pytest.TempPathFactory, case: tuple[Week, Plan]) -> None:
    """Good or bad, a plan comes back from its file unchanged, so a checker sees what was written."""
    week, plan = case
    path = tmp_path_factory.mktemp("plans") / "plan.json"
    write_plan(path, week, plan, PlanFacts(digest=week.digest))
    assert read_plan(path, week)[0] == plan


def test_times_are_told_on_the_right_side_of_a_night(tmp_path: Path) -> None:
    """Work that ends at closing ends today, and work that starts there starts tomorrow, with the zone's offset."""
    plan = builders.plan(
        builders.planned_run("r1", at=480, printing=60), builders.planned_run("r2", at=540, printing=60), orders=()
    )
    _, document = written(tmp_path, plan=plan)
    prints = {item["run"]: item for item in document["activities"] if item["kind"] == "print"}
    assert (prints["r1"]["end"], prints["r1"]["end_shop_min"]) == ("2026-03-02T17:00-06:00", 540)
    assert (prints["r2"]["start"], prints["r2"]["start_shop_min"]) == ("2026-03-03T08:00-06:00", 540)


def test_activities_say_what_a_reader_needs(tmp_path: Path) -> None:
    """A set-up names run, order, press, minutes of work, crew, kept inks and its reason."""
    week = replace(small_week(), presses=(builders.press_line(set_up_crew=(("print", 2),)),))
    _, document = written(tmp_path, week=week)
    set_up = next(item for item in document["activities"] if item["kind"] == "set-up" and item["run"] == "r1")
    assert {key: set_up[key] for key in ("order", "where", "work_min", "crew", "kept_inks", "reason")} == {
        "order": "A",
        "where": "P1",
        "work_min": 0,
        "crew": {"print": 2},
        "kept_inks": ["white", "red"],
        "reason": "then",
    }


def test_late_days_count_missed_pick_ups(tmp_path: Path) -> None:
    """An order packed after its promised pick-up and the next one is two late days in the file."""
    due = builders.order_due("A", ("r1", "r2"), pickups_tau=(100, 300, 500, 2700), must_leave=1)
    _, document = written(tmp_path, week=replace(small_week(), orders=(due,)))
    assert [order["late_days"] for order in document["orders"]] == [2]


def test_other_inputs_are_told_in_one_sentence(tmp_path: Path) -> None:
    """A plan of other inputs is named as such; a plan of these inputs raises no remark."""
    path, _ = written(tmp_path)
    changed = replace(small_week(), digest="xyz")
    _, facts = read_plan(path, changed)
    sentence = other_inputs(facts, changed)
    assert sentence is not None
    assert sentence.startswith("This plan was made from other inputs")
    assert other_inputs(facts, small_week()) is None


def test_under_other_inputs_the_clock_on_the_wall_counts(tmp_path: Path) -> None:
    """When the planning moment moves by an hour, an activity keeps its local time, not its shop minute."""
    path, _ = written(tmp_path)
    week = small_week()
    stretches = tuple(
        replace(one, wall_start_min=max(0, one.wall_start_min - 60), wall_end_min=one.wall_end_min - 60)
        for one in week.clock.stretches
    )
    later = replace(week.clock, now=week.clock.now + timedelta(hours=1), stretches=stretches)
    moved, _ = read_plan(path, replace(week, clock=later, digest="xyz"))
    assert moved.run["r2"].set_up_start_tau == 60
    assert later.starts_at(60) == week.clock.starts_at(120)


def test_announced_runs_are_read_in_wall_time(tmp_path: Path) -> None:
    """An announced plan gives each run's press and moment of set-up without needing the week it was made from."""
    path, _ = written(tmp_path)
    told = {one.run_id: (one.press_id, one.set_up_at.isoformat()) for one in read_announced(path)}
    assert told == {"r2": ("P1", "2026-03-02T10:00:00-06:00"), "r1": ("P1", "2026-03-02T16:00:00-06:00")}


def test_times_that_contradict_each_other_are_a_fault(tmp_path: Path) -> None:
    """A local time edited without its shop minute is told with both ways out, word for word."""
    path, document = written(tmp_path)
    set_up = next(number for number, item in enumerate(document["activities"]) if item["kind"] == "set-up")
    document["activities"][set_up]["start"] = "2026-03-02T11:00-06:00"
    line = line_of(document, '"start": "2026-03-02T11:00-06:00"')
    assert faults(path, document) == [
        f"plan.json:{line}:activities, entry {set_up + 1}, start: '2026-03-02T11:00-06:00' is not shop minute 120; "
        "write 2026-03-02T10:00-06:00, or shop minute 180"
    ]


def test_a_packing_time_that_does_not_count_is_a_fault(tmp_path: Path) -> None:
    """Editing the packing time under orders alone is refused rather than overlooked."""
    path, document = written(tmp_path)
    document["orders"][0]["packed_shop_min"] = 500
    line = line_of(document, '"packed_shop_min": 500')
    assert faults(path, document) == [
        f"plan.json:{line}:orders, entry 1, packed_shop_min: 500 is not when its finish activity ends; "
        "write 540, or change the finish activity too"
    ]


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    """Several faults in one file are reported together, each with its place."""
    path, document = written(tmp_path)
    kinds = [item["kind"] for item in document["activities"]]
    document["activities"][kinds.index("burn")]["start"] = "Monday"
    document["activities"][kinds.index("tape")]["end_shop_min"] = "soon"
    document["activities"][kinds.index("coat")]["frames"] = None
    document["activities"][kinds.index("reclaim")]["kind"] = "party"
    document["overtime"] = "none"
    told = faults(path, document)
    assert len(told) == 5
    line = line_of(document, '"overtime": "none"')
    assert (
        f'plan.json:{line}:overtime: \'none\' is not a list of names; write it as ["white", "red"], or [] for none'
        in told
    )


def test_a_run_without_its_print_is_a_fault(tmp_path: Path) -> None:
    """A set-up whose print was deleted is named by its run."""
    path, document = written(tmp_path)
    document["activities"] = [
        item for item in document["activities"] if not (item["kind"] == "print" and item["run"] == "r1")
    ]
    assert any("run 'r1' is set up but never printed; give it a print" in told for told in faults(path, document))


@pytest.mark.parametrize("kind", ["stage", "burn", "print"])
def test_work_without_a_set_up_is_a_fault(tmp_path: Path, kind: str) -> None:
    """Work for a run that is never set up is named, not dropped."""
    path, document = written(tmp_path)
    for item in document["activities"]:
        if item["kind"] == kind and item["run"] == "r2":
            item["run"] = "r9"
    assert any("run 'r9' has no set-up" in told for told in faults(path, document))


def test_a_run_set_up_twice_is_a_fault(tmp_path: Path) -> None:
    """Two set-ups of one run are told, because only one of them could be read back."""
    path, document = written(tmp_path)
    document["activities"].append(next(item for item in document["activities"] if item["kind"] == "set-up"))
    assert any("run 'r2' has two activities 'set-up'" in told for told in faults(path, document))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "plan.json:1: is not JSON: Expecting value; take the file as it was made, or mend this line"),
        ('{"format":\n oops}', "plan.json:2: is not JSON: Expecting value; "),
        ("[1, 2]", "plan.json: is not a plan file of this program; "),
        ('{"format": "pressweek plan", "version": 2}', "plan.json: has format version 2; this program reads version 1"),
        ("[" * 100_000, "plan.json: is JSON that no plan holds; "),
        ('{"format": ' + "9" * 5000 + "}", "plan.json: is JSON that no plan holds; "),
        ('{"format": "pressweek plan", "version": 1}', "plan.json:1:activities: is missing or not a list; "),
    ],
)
def test_what_is_no_plan_is_told(tmp_path: Path, text: str, message: str) -> None:
    """A file that is no plan is refused with its place and what to do."""
    assert any(told.startswith(message) for told in faults(tmp_path / "plan.json", text))


def test_minutes_years_away_are_a_fault(tmp_path: Path) -> None:
    """A shop minute with digits too many is told instead of breaking the calendar."""
    path, document = written(tmp_path)
    document["activities"][0]["start_shop_min"] = 10**15
    assert any("is years away" in told for told in faults(path, document))


def test_a_missing_file_is_a_fault(tmp_path: Path) -> None:
    """A plan file that is not there is told by name."""
    with pytest.raises(InputError, match=r"gone\.json: cannot be read \(no such file or directory\); name a plan file"):
        read_plan(tmp_path / "gone.json", small_week())


def test_writing_makes_the_folder_and_leaves_no_scraps(tmp_path: Path) -> None:
    """The folder is made, the old plan is replaced, and no temporary file is left beside it."""
    path = tmp_path / "new" / "plans" / "plan.json"
    write_plan(path, small_week(), small_plan(), FACTS)
    write_plan(path, small_week(), small_plan(), replace(FACTS, seed=8))
    assert [one.name for one in path.parent.iterdir()] == ["plan.json"]
    assert read_plan(path, small_week())[1].seed == 8


def test_a_plan_file_is_for_the_whole_shop(tmp_path: Path) -> None:
    """Others may read a plan as they may read any other new file."""
    path, _ = written(tmp_path)
    plain = tmp_path / "plain.txt"
    plain.write_text("x", encoding="utf-8")
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_folder_that_cannot_be_written_is_one_clear_message(tmp_path: Path) -> None:
    """Where a file stands in the way of the folder, one message says so and nothing is left behind."""
    (tmp_path / "plans").write_text("a file", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        write_plan(tmp_path / "plans" / "plan.json", small_week(), small_plan(), FACTS)
    (problem,) = caught.value.problems
    assert problem.code == "cannot_write"
    assert "cannot be written (" in str(problem)
    assert "--out" in problem.hint


def test_a_failed_swap_keeps_the_old_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the last step fails, the plan that stood there stays whole and no scrap is left."""
    path, before = written(tmp_path)

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(InputError, match=r"cannot be written \(permission denied\)"):
        write_plan(path, small_week(), small_plan(), replace(FACTS, seed=99))
    assert json.loads(path.read_text(encoding="utf-8")) == before
    assert [one.name for one in tmp_path.iterdir()] == ["plan.json"]

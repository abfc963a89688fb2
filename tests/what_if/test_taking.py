"""Taking an answer and taking it back: files whole or not at all, the old ones kept."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.answers import BEST, Answers
from scheduler.domain.orders import WeekInputs
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError
from scheduler.inputs.plan_files import PlanFacts, write_plan
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.what_if import taking as taken_room
from tests.what_if.midsize import RUSH

SOLO = Path(__file__).resolve().parents[2] / "scenarios" / "solo"
QUICK = SearchSettings(iterations=5, workers=1)
FIRST = SearchSettings(iterations=0, workers=1)


def files_in(folder: Path) -> dict[str, bytes]:
    """What a folder holds, but for what is kept of steps that were taken."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.parent.parent.name != "taken"
    }


@pytest.fixture
def week(tmp_path: Path) -> Path:
    """The one-person week with an announced plan."""
    folder = tmp_path / "week"
    shutil.copytree(SOLO, folder)
    asked = api.build_workload(api.read_week(folder)).week
    found = first_plan(asked)
    assert isinstance(found, Decoded)
    write_plan(folder / "announced.json", asked, found.plan, PlanFacts())
    return folder


def day_of(inputs: WeekInputs, days: int) -> str:
    """A day of the planned ones."""
    from datetime import timedelta

    return (inputs.shop.plan_from + timedelta(days=days)).date().isoformat()


def ask(week: Path, *what_ifs: str) -> tuple[WeekInputs, tuple[api.Asked, ...], Answers]:
    """The answers to what-ifs in words, tried on the announced plan."""
    inputs = api.read_week(week)
    asked = api.read_what_ifs(what_ifs, week, inputs)
    plan = api.standing_plan(None, week, inputs)
    assert plan is not None
    tried = [what_if for one in asked for what_if in one.what_ifs]
    return inputs, asked, api.ask_what_if(inputs, plan, tried, QUICK)


def take(week: Path, *what_ifs: str) -> Answers:
    """The best answer to what-ifs, taken."""
    _, asked, answers = ask(week, *what_ifs)
    best = answers.best
    assert best is not None
    written = api.take_answer(week, week / "announced.json", answers, best, asked)
    assert {path.name for path in written} == {"taken.toml", "announced.json"}
    return answers


def rush_words(week: Path, order_id: str = "R1") -> str:
    """A rush that leaves in four days."""
    due = day_of(api.read_week(week), 4)
    return f"{RUSH} order={order_id} due={due} garment='black tee' pieces=24 location=front inks=white"


def test_a_taken_rush_is_in_the_week_and_in_its_plan(week: Path) -> None:
    """Read anew, the week has the order and the announced plan is one of it that breaks no rule."""
    before = api.read_week(week)
    answers = take(week, rush_words(week), "cancel order=" + before.orders[-1].order_id)
    after = api.read_week(week)
    expected = {one.order_id for one in before.orders[:-1]} | {"R1"}
    assert {one.order_id for one in after.orders} == expected
    assert after.digest != before.digest
    plan = api.standing_plan(None, week, after)
    assert plan is not None
    best = answers.best
    assert best is not None
    assert plan.runs == getattr(best.plan, "runs", None)
    assert api.check(api.build_workload(after).week, plan) == ()


def test_the_plan_before_is_known_when_an_order_is_taken_off_again(week: Path) -> None:
    """Taken in and cancelled the next moment, the order leaves a week no dearer than going back to the plan before."""
    before = api.standing_plan(None, week, api.read_week(week))
    assert before is not None
    take(week, rush_words(week))
    inputs = api.read_week(week)
    assert [one.runs for one in api.plans_before(week, inputs)] == [before.runs]
    (asked,) = api.read_what_ifs(["cancel order=R1"], week, inputs)
    plan = api.standing_plan(None, week, inputs)
    assert plan is not None
    known = api.plans_before(week, inputs)
    best = api.ask_what_if(inputs, plan, asked.what_ifs, FIRST, earlier=known).of(BEST)
    assert best.plan is not None
    assert api.check(best.week, best.plan) == ()
    assert api.measure(best.week, best.plan).cost.total <= api.measure(best.week, before).cost.total


def test_a_plan_before_that_cannot_be_read_is_left_out(week: Path) -> None:
    """A spoiled file among the kept ones is no reason to refuse an answer."""
    take(week, rush_words(week))
    (week / "taken" / "001" / "plan-before.json").write_text("{", encoding="utf-8")
    assert api.plans_before(week, api.read_week(week)) == ()


def test_undo_puts_every_letter_back(week: Path) -> None:
    """After two taken what-ifs, two steps back lead to the very files of the start; what was taken is kept."""
    states = [files_in(week)]
    for words in (rush_words(week), rush_words(week, "R2")):
        take(week, words)
        states.append(files_in(week))
    assert states[0] != states[1] != states[2]
    for state in reversed(states[:2]):
        api.undo_taking(week)
        assert files_in(week) == state
    kept = sorted(path.name for path in (week / "taken" / "001").iterdir())
    assert kept == ["note-undone.json", "plan-after.json", "plan-before.json"]
    with pytest.raises(InputError, match="nothing was taken"):
        api.undo_taking(week)


def test_a_plan_file_elsewhere_is_the_one_that_changes(week: Path, tmp_path: Path) -> None:
    """With a plan file of its own, that one gets the new plan and the announced one stays; undo puts it back."""
    elsewhere = tmp_path / "plan.json"
    shutil.copy(week / "announced.json", elsewhere)
    before = elsewhere.read_bytes()
    announced = (week / "announced.json").read_bytes()
    _, asked, answers = ask(week, rush_words(week))
    best = answers.best
    assert best is not None
    api.take_answer(week, elsewhere, answers, best, asked)
    inputs = api.read_week(week)
    asked_week = api.build_workload(inputs).week
    _, facts = api.read_plan(elsewhere, asked_week)
    assert facts.digest == inputs.digest
    assert facts.cost_cents is not None
    assert api.other_inputs(facts, asked_week) is None
    assert (week / "announced.json").read_bytes() == announced
    api.undo_taking(week)
    assert elsewhere.read_bytes() == before


def test_a_failure_half_way_leaves_everything_as_it_was(week: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If the plan cannot be written, the week has not got the what-if either, and there is nothing to take back."""
    state = files_in(week)
    _, asked, answers = ask(week, rush_words(week))
    best = answers.best
    assert best is not None

    def full(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(taken_room, "write_plan", full)
    with pytest.raises(OSError, match="no space left"):
        api.take_answer(week, week / "announced.json", answers, best, asked)
    assert files_in(week) == state
    with pytest.raises(InputError, match="nothing was taken"):
        api.undo_taking(week)


def test_what_was_taken_and_no_longer_fits_is_told(week: Path) -> None:
    """Once the order is typed into the sheet, what was taken clashes with it: one fault that names the file."""
    take(week, rush_words(week))
    sheet = week / "orders.csv"
    lines = sheet.read_text(encoding="utf-8").splitlines()
    typed = lines[1].split(",")
    typed[0] = "R1"
    sheet.write_text("\n".join([*lines, ",".join(typed)]) + "\n", encoding="utf-8")
    with pytest.raises(InputError) as fault:
        api.read_week(week)
    assert [(one.file, one.code) for one in fault.value.problems] == [("taken.toml", "order_twice")]


def test_torn_screens_and_missing_inks_are_kept_print_by_print(week: Path) -> None:
    """What they came to is written out, so that the week reads the same whatever has begun by then."""
    inputs = api.read_week(week)
    design = inputs.imprints[0].design_id
    ink = inputs.imprints[-1].inks[0].name
    take(week, f"screen-broken design='{design}' burned=yes", f"ink-out ink='{ink}' until='{day_of(inputs, 1)} 12:00'")
    text = (week / "taken.toml").read_text(encoding="utf-8")
    assert "[[print]]" in text
    after = api.read_week(week)
    assert any(one.design_id == f"{design} again" for one in after.imprints)
    assert any(one.not_before is not None for one in after.imprints)
    note = json.loads((week / "taken" / "001" / "note.json").read_text(encoding="utf-8"))
    assert Path(note["plan"]).name == "announced.json"

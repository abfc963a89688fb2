"""A print location split by the planner: runs of their own, from one set of screens or from several."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.orders import WeekInputs
from scheduler.domain.week import Week
from scheduler.inputs.splitting import cut_lots
from scheduler.review.rules import check
from scheduler.workload.as_if import as_if_there, waiting_runs
from scheduler.workload.build import build_workload
from tests.search.decoding import plan as planned
from tests.workload import shops


def _split(pieces: tuple[int, ...], sets: int = 1, *, on: WeekInputs | None = None) -> WeekInputs:
    """A thousand tees with a front, split so, and a back that comes after it, on two presses with a screen room."""
    inputs = on or shops.week_inputs(
        shops.shop(shops.press("auto-1"), shops.press("auto-2"), screen_room=shops.room()),
        lots=(shops.lot(pieces=1000),),
        imprints=(shops.imprint("red"), shops.imprint("blue", location="back", print_after=("front",))),
    )
    lots, imprints = cut_lots(inputs.lots, inputs.imprints, ((pieces, sets), *[((), 1)] * (len(inputs.imprints) - 1)))
    return replace(inputs, lots=lots, imprints=tuple(imprints))


def _week(inputs: WeekInputs) -> Week:
    return build_workload(inputs).week


def test_a_split_location_is_several_runs() -> None:
    """600+400 of the front: two runs with those pieces; the back is one run that follows both."""
    week = _week(_split((600, 400)))
    assert [(run.run_id, run.pieces, run.design_id) for run in week.runs] == [
        ("1 front dark", 600, "1 front"),
        ("1 front dark 2", 400, "1 front"),
        ("1 back dark", 1000, "1 back"),
    ]
    assert week.run["1 back dark"].print_after == ("1 front dark", "1 front dark 2")
    assert [one.set_id for one in week.sets] == ["1 front", "1 back"]
    assert week.run["1 front dark 2"].parts[0].garment == "1 navy tee (2 of 2)"


def test_one_set_of_screens_makes_them_follow_each_other() -> None:
    """With one set the second run starts set-up no sooner than the first has printed, on two presses or one."""
    week = _week(_split((600, 400)))
    plan = planned(week)
    first, second = (plan.run[f"1 front dark{number}"] for number in ("", " 2"))
    assert check(week, plan) == ()
    assert second.set_up_start_tau >= first.print_end_tau
    overlapping = replace(second, set_up_start_tau=first.print_end_tau - 1)
    broken = check(week, replace(plan, runs=tuple(overlapping if one is second else one for one in plan.runs)))
    assert "set_is_in_one_place" in {one.rule for one in broken}


def test_two_sets_may_run_at_once() -> None:
    """The second set has screens and frames of its own, and both runs go through at the same time on two presses."""
    week = _week(_split((600, 400), 2))
    assert [one.set_id for one in week.sets] == ["1 front", "1 front (set 2)", "1 back"]
    assert not set(week.sets[0].screen_ids) & set(week.sets[1].screen_ids)
    plan = planned(week)
    first, second = (plan.run[f"1 front dark{number}"] for number in ("", " 2"))
    assert check(week, plan) == ()
    assert first.press_id != second.press_id
    assert first.print_start_tau < second.print_end_tau
    assert second.print_start_tau < first.print_end_tau


def test_three_runs_take_turns_with_two_sets() -> None:
    """The third run prints from the first set again."""
    week = _week(_split((500, 300, 200), 2))
    assert [run.set_id for run in week.runs][:3] == ["1 front", "1 front (set 2)", "1 front"]


def test_a_share_follows_only_its_own_garments() -> None:
    """Front and back split alike: each back waits for the front of the same garments only."""
    inputs = _split((600, 400))
    both = replace(inputs, imprints=(inputs.imprints[0], replace(inputs.imprints[1], split=inputs.imprints[0].split)))
    week = _week(both)
    assert week.run["1 back dark"].print_after == ("1 front dark",)
    assert week.run["1 back dark 2"].print_after == ("1 front dark 2",)


def test_every_piece_is_packed_once() -> None:
    """Packing minutes are those of the garments, split or not."""
    inputs = _split((600, 400))
    whole = _week(replace(_split((), 1), orders=(shops.order(finish_each_s=6.0),)))
    week = _week(replace(inputs, orders=(shops.order(finish_each_s=6.0),)))
    assert week.orders[0].finish_min == whole.orders[0].finish_min == 100


def test_stated_run_minutes_are_shared_out() -> None:
    """The minutes typed for the whole location go to its runs by pieces."""
    inputs = _split((600, 400), 2)
    stated = replace(inputs, imprints=(replace(inputs.imprints[0], stated_run_min=100), *inputs.imprints[1:]))
    week = _week(stated)
    assert [run.choices[0].print_min for run in week.runs][:2] == [60, 40]


def test_only_the_first_of_its_runs_is_held_to_the_locked_moment() -> None:
    """A locked moment is that of the location's first run, whichever set the others print from."""
    inputs = _split((600, 400), 2)
    locked = replace(
        inputs, imprints=(replace(inputs.imprints[0], lock_press="auto-1", lock_at=shops.at(4)), inputs.imprints[1])
    )
    assert [(one.run_id, one.set_up_start_tau) for one in _week(locked).fixings] == [
        ("1 front dark", 2 * shops.DAY_MIN),
        ("1 front dark 2", None),
    ]


def test_both_sets_wait_for_the_art() -> None:
    """Art that is missing holds up every run of a split location."""
    inputs = _split((600, 400), 2)
    waits = replace(inputs, imprints=(replace(inputs.imprints[0], is_waiting_for_art=True), inputs.imprints[1]))
    week = _week(as_if_there(waits, ("1",), shops.at(4)))
    assert waiting_runs(waits, week, "1").art == {"1 front dark", "1 front dark 2"}

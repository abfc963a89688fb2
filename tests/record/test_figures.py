"""Stated figures that are off: learnt from what was noted, planned with, and left alone where nothing was noted."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import log, sqrt
from statistics import fmean

import pytest

from scheduler import api
from scheduler.domain.chances import Chances
from scheduler.domain.learnt import NOTHING_LEARNT, LearntDesign, LearntFigures, LearntPress
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.record.figures import BELIEF_TIMES, learnt_chances, learnt_figures
from scheduler.record.learning import Time, times_of
from scheduler.record.standing import floor_of
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.workload.learnt import scaled
from tests.outside.lived import Carried, Days, lived, small_week
from tests.record.test_learning import a_time


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowDays(Days):
    """Days on which every set-up takes 1.3 of its stated minutes, give or take, and every print 1.15 of them."""

    stated: dict[str, int]
    set_up_spread: float = 0.1
    print_spread: float = 0.05
    stop_chance: float = 0.0

    def set_up(self, run_id: str, minutes: int) -> int:
        """Set-up minutes: the truth hangs on what is stated, whatever the plan says."""
        draw = random.Random(f"{self.seed} {run_id}")
        return max(1, round(1.3 * self.stated[run_id] * draw.lognormvariate(0, self.set_up_spread))) if minutes else 0

    def printing(self, run_id: str, minutes: int) -> int:
        """Print minutes by the stated rate of 150 an hour, and 1.15 of them."""
        pieces = int(self.stated[f"pieces {run_id}"])
        return round(1.15 * pieces * 60 / 150 * random.Random(run_id).lognormvariate(0, self.print_spread))


def planned(inputs: WeekInputs) -> tuple[Week, Plan]:
    """The week and its first plan, which keeps every rule."""
    week = api.build_workload(inputs).week
    found = first_plan(week)
    assert isinstance(found, Decoded)
    assert api.check(week, found.plan) == ()
    return week, found.plan


def stated_minutes(inputs: WeekInputs, plan: Plan) -> dict[str, int]:
    """Every run's set-up by the stated figures, after the run before it, and its pieces."""
    from scheduler.review.set_up_rules import replayed

    week = api.build_workload(replace(inputs, learnt=NOTHING_LEARNT)).week
    found = {seen.planned.run_id: seen.implied_min for seen in replayed(week, plan)}
    return found | {f"pieces {run.run_id}": run.pieces for run in week.runs}


def week_of(seed: int, learnt: LearntFigures) -> tuple[WeekInputs, Week, Plan, Sequence[Time]]:
    """A slow week lived by its plan, and the times it gives."""
    inputs = replace(small_week(seed), learnt=learnt)
    week, plan = planned(inputs)
    events = lived(week, plan, SlowDays(seed=seed, stated=stated_minutes(inputs, plan)), Carried(), None).events
    stated = api.build_workload(replace(inputs, learnt=NOTHING_LEARNT)).week
    return inputs, week, plan, times_of(floor_of(inputs, stated, plan), inputs.shop, events)


def test_a_shop_that_is_slower_than_stated_is_known_within_three_weeks() -> None:
    """Set-ups really take 1.3 of what is stated, prints 1.15: after three weeks, each planned by what was learnt
    before, both are known about to a twentieth on both presses, and the plan's set-ups come out as they are.
    """
    known: Sequence[Time] = ()
    errors = []
    for seed in range(3):
        _, _, plan, times = week_of(seed, learnt_figures(known))
        errors.append(abs(fmean(log((one.set_up_min or 0) / plan.run[one.run_id].set_up_min) for one in times)))
        known = (*times, *known)
    found = learnt_figures(known)
    assert [one.press_id for one in found.presses] == ["auto-1", "auto-2"]
    for press in found.presses:
        assert 120 <= press.set_up_pct <= 135  # ten of every n + 10 are the stated figure
        assert 85 <= press.rate_pct <= 90  # 1 / 1.15
        assert press.set_up_times > 20
    assert errors[0] > 0.15
    assert errors[2] < 0.07


def test_the_same_times_teach_the_same_whatever_the_plan_went_by() -> None:
    """A time is held against the stated figures, even if the plan it was set up under went by learnt ones."""
    by_learnt = LearntFigures(presses=(LearntPress(press_id="auto-1", set_up_pct=150, rate_pct=80),))
    inputs, week, plan, times = week_of(1, by_learnt)
    stated = stated_minutes(inputs, plan)
    own = [one for one in times if one.press_id == "auto-1"]
    assert own
    for one in own:
        assert one.planned_set_up_min == stated[one.run_id] < plan.run[one.run_id].set_up_min
        assert one.planned_tee_pcs_h == pytest.approx(150, rel=0.01)
        assert week.run[one.run_id].on_press["auto-1"].rate_pcs_h == 120
    assert week.press["auto-2"].set_up == api.build_workload(small_week(1)).week.press["auto-2"].set_up


def test_nothing_noted_plans_as_stated() -> None:
    """No times, or times just as stated: nothing is learnt, and the week is the same to the last field."""
    assert learnt_figures(()) == NOTHING_LEARNT
    assert learnt_figures([a_time()] * 50) == NOTHING_LEARNT
    inputs = small_week(0)
    assert api.build_workload(replace(inputs, learnt=learnt_figures(()))) == api.build_workload(inputs)


def test_one_time_hardly_counts_and_many_do() -> None:
    """Press = (1 - (10 / (n + 10))²) of the middle of its shop's logs, where it is the only press: once twice as long
    is taken for a tenth, sixty times for nearly all of it; a time noted ten times as long counts for three.
    """
    slow = a_time(set_up_min=40)
    assert learnt_figures([slow]).of_press("auto-1").set_up_pct == 115
    assert learnt_figures([slow] * 60).of_press("auto-1").set_up_pct == 195
    (forgotten,) = learnt_figures([a_time(set_up_min=200)] * 60).presses
    assert forgotten.set_up_pct == 200
    assert learnt_figures([a_time(set_up_min=200)]) == learnt_figures([a_time(set_up_min=60)])


def test_what_was_typed_for_itself_tells_nothing_of_its_press() -> None:
    """A set-up or rate typed for the order or design, or a set-up of a few minutes, says nothing of its press."""
    typed = a_time(set_up_min=40, tee_pcs_h=200.0, tells_set_up=False, tells_rate=False)
    assert learnt_figures([typed] * 30) == NOTHING_LEARNT
    short = [a_time(set_up_min=12, planned_set_up_min=4)] * 30
    assert learnt_figures(short) == NOTHING_LEARNT
    assert learnt_figures([a_time(set_up_min=15, planned_set_up_min=5)] * 30) != NOTHING_LEARNT


def test_a_design_slower_than_its_press_is_slower_wherever_it_is_printed() -> None:
    """One design at half the rate among many as stated: it is learnt as the design's, not as the press's; another
    design keeps its press's rate.
    """
    found = learnt_figures([a_time("hard", tee_pcs_h=200.0), *([a_time("easy")] * 4)] * 20)
    assert found.presses == ()
    (one,) = found.designs
    assert (one.design_id, one.rate_times) == ("hard", 20)
    assert 55 <= one.rate_pct <= 70
    inputs = small_week(0)
    design_id = inputs.imprints[0].design_id
    slower = replace(inputs, learnt=LearntFigures(designs=(LearntDesign(design_id=design_id, rate_pct=50),)))
    before, after = api.build_workload(inputs).week, api.build_workload(slower).week
    for run in before.runs:
        minutes = after.run[run.run_id].choices[0].print_min
        twice = 2 if run.design_id == design_id else 1
        assert minutes == pytest.approx(twice * run.choices[0].print_min, abs=1)


@pytest.mark.parametrize("pct", [50, 85, 105, 120, 130, 200])
def test_a_set_up_of_three_screens_comes_out_to_the_minute(pct: int) -> None:
    """Parts in whole minutes, one mounting, loading, cleaning and test print together within a minute of the factor."""
    stated = SetUpMinutes(mount_min=5, load_min=3, card_min=1, clean_light_min=4, clean_dark_min=8, strike_off_min=8)
    found = scaled(stated, pct)

    def minutes(one: SetUpMinutes) -> int:
        return 3 * (one.mount_min + one.load_min + one.clean_light_min) + one.strike_off_min

    assert abs(minutes(found) - minutes(stated) * pct / 100) <= 1
    assert found.pallet_min == 0
    assert found.swap_min is None
    swapped = scaled(replace(stated, swap_min=2), pct)
    assert swapped.swap_min is not None
    assert abs(swapped.swap_min - 2 * pct / 100) <= 1
    assert scaled(stated, 100) == stated


def test_what_is_learnt_is_told_among_the_assumptions() -> None:
    """A line for each figure that is not the stated one, with how many times it rests on."""
    told = LearntPress(press_id="auto-1", set_up_pct=120, set_up_times=14, rate_pct=90, rate_times=1)
    inputs = replace(small_week(0), learnt=LearntFigures(presses=(told,)))
    lines = [one.text for one in api.build_workload(inputs).assumptions]
    assert "set-up of auto-1 from your last 14 times: 1.2 of the stated minutes" in lines
    assert "printing on auto-1 from the one time noted: 0.9 of the stated pieces an hour" in lines


def test_how_far_the_shop_strays_is_learnt_unless_it_was_typed() -> None:
    """Spread = sqrt((n s² + 10 s0²) / (n + 10)) about what is learnt; a shop's own typed figures stay."""
    times = [a_time(set_up_min=40)] * 10
    found = learnt_chances(times, Chances())
    assert found.set_up_spread == pytest.approx(sqrt((10 * log(2) ** 2 + 10 * 0.2**2) / 20))
    assert found.print_spread == pytest.approx(sqrt(10 * 0.08**2 / 20))
    assert found.learnt_from == 10
    figures = LearntFigures(presses=(LearntPress(press_id="auto-1", set_up_pct=200),))
    assert learnt_chances(times, Chances(), figures).set_up_spread == pytest.approx(sqrt(10 * 0.2**2 / 20))
    typed = Chances(is_typed=True)
    assert learnt_chances(times, typed) == typed


def test_reprints_are_learnt_once_anybody_notes_them() -> None:
    """Runs that spoiled three pieces in a hundred, among ten counted for the start value; 0 noted says nobody notes."""
    start = Chances()
    assert learnt_chances([a_time()] * 10, start).spoil_chance == start.spoil_chance
    times = [a_time(pieces=400, spoiled=12)] * 2 + [a_time(pieces=400, spoiled=11)] * 8
    expected = (2 + BELIEF_TIMES * start.spoil_chance) / (10 + BELIEF_TIMES)
    assert learnt_chances(times, start).spoil_chance == pytest.approx(expected)

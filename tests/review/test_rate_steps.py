"""Runs slowed down to share a belt, as the checker reads them."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.week import Way, Week
from scheduler.review.press_rules import belt_is_shared, fits_its_press, print_takes_its_time
from scheduler.review.rules import check
from tests import builders as b


def shared_belt(half_permille: int) -> Week:
    """Two presses into one dryer: two hours at 700 permille, and an hour at 600 or two at half the rate."""
    half = Way(print_min=120, part_min=(120,), rate_pcs_h=30, belt_permille=half_permille, step_permille=500)
    first = b.run("r1", choices=[b.choice("P1", print_min=120, belt_permille=700)])
    second = b.run("r2", choices=[replace(b.choice("P2", print_min=60, belt_permille=600), other_ways=(half,))])
    presses = [b.press_line("P1", dryer_id="d"), b.press_line("P2", dryer_id="d")]
    return b.week(runs=[first, second], presses=presses)


def test_a_slowed_run_shares_the_belt() -> None:
    """Beside 700 permille there is room for 300, not for 301; at full rate there never is."""
    plan = b.plan(b.planned_run("r1", printing=120), b.planned_run("r2", press_id="P2", printing=120, way=1))
    assert check(shared_belt(300), plan) == ()
    assert [one.rule for one in belt_is_shared(shared_belt(301), plan)] == ["belt_is_shared"]
    full = b.plan(b.planned_run("r1", printing=120), b.planned_run("r2", press_id="P2"))
    assert [one.rule for one in belt_is_shared(shared_belt(300), full)] == ["belt_is_shared"]


def test_a_slowed_run_takes_its_own_minutes() -> None:
    """At half its rate it takes two hours, not one, and at full rate one, not two."""
    for way, minutes, wrong in ((0, 60, 120), (1, 120, 60)):
        good = b.planned_run("r2", press_id="P2", printing=minutes, way=way)
        assert print_takes_its_time(shared_belt(300), b.plan(good)) == []
        bad = b.planned_run("r2", press_id="P2", printing=wrong, way=way)
        assert len(print_takes_its_time(shared_belt(300), b.plan(bad))) == 1


def test_a_run_is_printed_in_a_way_it_has() -> None:
    """The last way is one, the next number is none, and neither is a number below 0."""
    for way, found in ((1, 0), (2, 1), (-1, 1)):
        plan = b.plan(b.planned_run("r2", press_id="P2", printing=120, way=way))
        assert len(fits_its_press(shared_belt(300), plan)) == found

"""A press that waits although something is ready for it: what would fit, and what it would cost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search.passed_over import passed_over
from scheduler.search.reasons import with_reasons
from tests.builders import choice, ink, press_line, run, stack, week
from tests.search.decoding import plan


def white_then_red(blanks_tau: int = 90, red_min: int = 60) -> Week:
    """White stands on the press and its garments come at half past nine; red is ready now."""
    white, red = stack(("s1.1", "white"), set_id="s1"), stack(("s2.1", "red"), set_id="s2")
    minutes = SetUpMinutes(mount_min=2, load_min=4, clean_light_min=6, clean_dark_min=8)
    return week(
        runs=[
            run("r1", choices=[choice(on=white)], blanks_tau=blanks_tau),
            run("r2", choices=[choice(on=red, print_min=red_min)]),
        ],
        presses=[press_line(set_up=minutes, set_up_cents_per_min=10, head_count=1, now_on=white)],
        inks=[ink("white"), ink("red")],
    )


@pytest.mark.parametrize(("blanks_tau", "red_min", "told"), [(90, 60, True), (90, 90, False), (50, 30, False)])
def test_what_would_fit_is_named_with_its_price(blanks_tau: int, red_min: int, told: bool) -> None:
    """Red first would wash white out and load it again. Too long for the gap, or the gap too short to ask: no word."""
    one = white_then_red(blanks_tau, red_min)
    made = plan(one, "r1", "r2")
    assert made.run["r1"].set_up_start_tau == blanks_tau
    found = passed_over(one, made)
    assert found == ({"r1": "r2 would fit before it, for 1.20 more"} if told else {})
    assert with_reasons(one, made).run["r1"].reason.endswith("for 1.20 more") is told


def test_nothing_is_said_where_it_would_not_be_dearer_or_is_not_ready() -> None:
    """What costs no more is a matter of the search, and garments that come later fill no gap."""
    one = white_then_red()
    free = replace(one, presses=tuple(replace(press, set_up_cents_per_min=0) for press in one.presses))
    assert passed_over(free, plan(free, "r1", "r2")) == {}
    late = replace(one, runs=(one.runs[0], replace(one.runs[1], blanks_tau=90)))
    assert passed_over(late, plan(late, "r1", "r2")) == {}

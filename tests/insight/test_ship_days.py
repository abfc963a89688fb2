"""The day to tell: counts from replays, rounded down, and what makes an order slip."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.chances import CAUSES, NO_SURPRISES, Chances
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.insight.ship_days import Odds, ship_days
from scheduler.search.engine import plan_week
from tests.builders import choice, order_due, press_line, run, week

DAYS = tuple(range(540, 2701, 540))


def planned(one: Week) -> Plan:
    """The week's plan."""
    found = plan_week(one, SearchSettings(iterations=0)).plan
    assert found is not None
    return found


def tight(print_min: int = 500) -> Week:
    """One long print that should leave on the first evening."""
    return week(
        runs=[run(choices=[choice(print_min=print_min)])],
        orders=[order_due(pickups_tau=DAYS, late_cents=1_000)],
        presses=[press_line()],
    )


def test_a_sure_day_is_told_as_it_is() -> None:
    """Where nothing comes in between the day of the plan is the day to tell, twenty times in twenty."""
    one = tight()
    (day,) = ship_days(one, planned(one), NO_SURPRISES, replays=40)
    assert (day.say_tau, day.kept, day.of) == (540, 40, 40)
    assert [(odds.pickup_tau, odds.in_20) for odds in day.odds] == [(540, 20)]
    assert day.slips == ()


@pytest.mark.parametrize(("confidence", "say"), [(0.5, 540), (0.99, 1080)])
def test_more_confidence_asks_for_a_later_day(confidence: float, say: int) -> None:
    """Ten hours and more happen to a print of 500 minutes now and then, so the careful day is the next one."""
    one = tight()
    chances = replace(NO_SURPRISES, print_spread=0.1)
    (day,) = ship_days(one, planned(one), chances, confidence=confidence, with_slips=False)
    assert day.say_tau == say
    assert 0.5 < day.kept / day.of < 0.99


def test_a_count_is_never_rounded_up() -> None:
    """1,999 of 2,000 is nineteen times in twenty, not always."""
    assert [Odds(pickup_tau=0, ready=ready, of=2000).in_20 for ready in (1999, 2000, 99, 100)] == [19, 20, 0, 1]


def test_the_odds_run_from_the_first_possible_day_to_the_first_sure_one() -> None:
    """Days on which it is never ready and days after it is always ready say nothing."""
    one = tight(print_min=530)
    (day,) = ship_days(one, planned(one), replace(NO_SURPRISES, print_spread=0.1), with_slips=False)
    assert [odds.pickup_tau for odds in day.odds] == [540, 1080]
    assert day.odds[0].ready < day.odds[1].ready == day.of


@pytest.mark.parametrize(
    ("cause", "chances", "wait_tau"),
    [
        ("prints that take longer", replace(NO_SURPRISES, print_spread=0.1), 0),
        ("press stops", replace(NO_SURPRISES, stop_per_hour=0.2, stop_min=60), 0),
        ("reprints", replace(NO_SURPRISES, spoil_chance=0.5, spoil_least=0.2, spoil_most=0.3), 0),
        ("broken screens", replace(NO_SURPRISES, screen_chance=0.4), 0),
        ("late garments", replace(NO_SURPRISES, blanks_chance=0.4), 30),
    ],
)
def test_what_makes_an_order_slip_is_named(cause: str, chances: Chances, wait_tau: int) -> None:
    """Left out alone, the one cause there is gives the promise back in all the days it cost."""
    one = week(
        runs=[run(choices=[choice(print_min=500)], blanks_tau=wait_tau)],
        orders=[order_due(pickups_tau=DAYS, late_cents=1_000)],
        presses=[press_line()],
    )
    (day,) = ship_days(one, planned(one), chances, replays=200)
    assert [slip.cause for slip in day.slips] == [cause]
    assert day.slips[0].saved == day.of - day.kept > 0


def test_every_cause_can_be_left_out() -> None:
    """Each cause names figures of the chances, and without all of them nothing comes in between."""
    chances = Chances()
    for cause in CAUSES:
        assert chances.without(cause) != chances
        chances = chances.without(cause)
    assert chances == NO_SURPRISES


@pytest.mark.parametrize("confidence", [0.0, 1.0, -1.0])
def test_no_day_is_ever_certain(confidence: float) -> None:
    """A confidence of all or nothing is refused."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        ship_days(tight(), planned(tight()), NO_SURPRISES, confidence=confidence)

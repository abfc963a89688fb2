"""What a design teaches: actual minutes, rate and spoilage, drawn towards the plan's when few."""

from __future__ import annotations

from datetime import timedelta
from math import exp, log

import pytest

from scheduler import api
from scheduler.record.events import Counted, Done, Event, SetUpStarted, Spoiled, Stopped, StrikeOffRight, WentOn
from scheduler.record.learning import (
    K_MOST,
    K_START,
    Time,
    credibility_k,
    last_times,
    learnt,
    times_of,
)
from scheduler.record.standing import floor_of
from tests.record.noted import local
from tests.what_if.small import plan_of, shop_inputs
from tests.workload import shops


def a_time(design_id: str = "crest", **more: object) -> Time:
    """A design set up in 20 minutes as planned and printed in an hour as planned."""
    known: dict[str, object] = {
        "run_id": f"{design_id} front",
        "press_id": "auto-1",
        "done_at": shops.at(2, "11:00"),
        "pieces": 400,
        "spoiled": 0,
        "print_min": 60,
        "planned_print_min": 60,
        "planned_set_up_min": 20,
        "pcs_h": 400,
        "tee_pcs_h": 400.0,
        "planned_tee_pcs_h": 400.0,
        "set_up_min": 20,
    }
    return Time(design_id=design_id, **{**known, **more})  # type: ignore[arg-type]


def noted(*more: Event) -> tuple[Time, ...]:
    """What the small shop's first run teaches: set up in 30 minutes, printed in 80 with 10 of them standing."""
    inputs = shop_inputs(2)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    first = plan.queue["auto-1"][0]
    begun = local(week.clock.starts_at(first.set_up_start_tau))
    right = begun + timedelta(minutes=30)
    events = (
        SetUpStarted(at=begun, run_id=first.run_id, press_id="auto-1", number=1),
        StrikeOffRight(at=right, run_id=first.run_id, number=2),
        Stopped(at=right + timedelta(minutes=20), run_id=first.run_id, reason="ink", number=3),
        WentOn(at=right + timedelta(minutes=30), run_id=first.run_id, number=4),
        Spoiled(at=right + timedelta(minutes=40), run_id=first.run_id, pieces=6, number=5),
        Done(at=right + timedelta(minutes=90), run_id=first.run_id, number=6),
    )
    return times_of(floor_of(inputs, week, plan), inputs.shop, (*events, *more))


def test_minutes_at_work_are_learnt_without_the_stops() -> None:
    """Set-up from start to strike-off; printing from there to the end, less what it stood; spoiled pieces beside."""
    (one,) = noted()
    assert (one.set_up_min, one.print_min, one.pieces, one.spoiled) == (30, 80, 400, 6)
    assert one.pcs_h == 300


def test_pieces_that_were_counted_make_the_rate() -> None:
    """Good ones counted and spoiled ones were printed; a run that ended short is not taken for a quick one."""
    (plain,) = noted()
    counted = Counted(at=local(shops.at(2, "16:00")), run_id=plain.run_id, pieces=194, number=7)
    (one,) = noted(counted)
    assert one.pieces == 200
    assert one.pcs_h == 150


def test_few_times_count_for_little_and_many_for_much() -> None:
    """Set-up = planned × exp(n / (n + K) × mean log ratio): once 30 for 20 is nearer 20, often 30 is nearly 30."""
    (once,) = learnt([a_time(set_up_min=30)])
    assert once.set_up_min == round(20 * exp(1 / (1 + K_START) * log(1.5)))
    (often,) = learnt([a_time(set_up_min=30)] * 30)
    assert often.set_up_min == round(20 * exp(30 / (30 + K_START) * log(1.5)))
    assert 20 < once.set_up_min < often.set_up_min < 30


def test_without_a_noted_strike_off_only_the_rate_is_learnt() -> None:
    """Start and end alone tell nothing of the set-up by itself."""
    (one,) = learnt([a_time(set_up_min=None, tee_pcs_h=300.0)])
    assert one.set_up_min is None
    assert one.pcs_h == round(400 * exp(1 / 3 * log(0.75)))


def test_spoilage_is_drawn_towards_the_shops() -> None:
    """No spoiled piece in 400 does not mean none ever; a tenth of 4,000 is believed."""
    (clean,) = learnt([a_time()])
    assert 0 < clean.spoiled_share < 0.015
    (dirty,) = learnt([a_time(pieces=4_000, spoiled=400)])
    assert 0.09 < dirty.spoiled_share < 0.1


def test_how_much_to_believe_is_read_off_the_record() -> None:
    """Designs that differ much and stray little need few times (K small); designs all alike need many (K large).

    K = within / (variance of means − within / times): [0, 0.2], [1, 1.2], [2, 2.2] give 0.02 / (1 − 0.01).
    """
    assert credibility_k([[0, 0.2], [1, 1.2]]) == K_START
    assert credibility_k([[0, 0.2], [1, 1.2], [2, 2.2]]) == pytest.approx(0.02 / (1 - 0.01))
    assert credibility_k([[0, 1], [1, 0], [0.5, 0.5]]) == K_MOST


def test_the_last_four_times_are_told() -> None:
    """Four lines, the latest first, with set-up, rate and spoiled pieces."""
    times = [a_time(done_at=shops.at(day, "11:00"), spoiled=day) for day in range(2, 8)]
    (one,) = learnt(times)
    told = last_times(one)
    assert len(told) == 4
    assert told[0] == "7 Mar on auto-1: 20 min set-up, 400 an hour, 7 of 400 spoiled"

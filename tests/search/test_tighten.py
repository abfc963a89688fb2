"""Finished plans timed anew: earlier where that costs nothing, and never dearer."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.week import Prices, Week
from scheduler.review.measures import cost
from scheduler.review.rules import check
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from scheduler.search.pricing import genome_from
from scheduler.search.tighten import earlier, tightened
from tests.builders import announced, choice, frame_stock, run, screen_room, screen_set, stack, week
from tests.random_weeks import random_week
from tests.search.decoding import plan


def one_burn(**more: object) -> Week:
    """A run whose set is burned, dried and taped by 100, wanted two hours ahead; and one that needs no screens."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    return week(
        **{
            "runs": [run("r1", set_id="s1", choices=offers), run("r2")],
            "sets": [screen_set()],
            "frames": [frame_stock()],
            "screen_room": screen_room(ahead_min=120, not_ahead_cents_per_min=1),
            **more,
        }
    )


def test_a_run_that_waits_for_its_screens_waits_no_longer_than_that() -> None:
    """Held back until Wednesday, it costs nothing; at 220, when its screens have stood two hours, neither."""
    one = one_burn()
    idle = plan(one, later=(("r1", 1200), ("r2", 1300)))
    made = tightened(Decoder(one), one, idle)
    assert check(one, made) == ()
    assert made.run["r1"].set_up_start_tau == 220
    assert cost(one, made).total == cost(one, idle).total == 0


def test_a_run_that_saves_money_by_waiting_is_left_there_and_the_others_move() -> None:
    """An announced run stays near its time, moving it would cost; the run that idles beside it moves up."""
    one = one_burn(announced=[announced("r1", at=1200)], prices=Prices(move_cents=5000, move_free_min=30))
    idle = plan(one, "r1", "r2", later=(("r1", 1200), ("r2", 2000)))
    made = tightened(Decoder(one), one, idle)
    assert check(one, made) == ()
    assert abs(made.run["r1"].set_up_start_tau - 1200) <= 30
    assert made.run["r2"].set_up_start_tau < 1400
    assert cost(one, made).total == cost(one, idle).total


def test_no_random_plan_gets_dearer_or_later() -> None:
    """Plans with idle time in them come back valid, no dearer, and no later taken all together."""
    moved = 0
    for seed in range(40):
        one = random_week(seed)
        decoder = Decoder(one)
        first = decoder.decode(Genome(order=tuple(one.run)))
        if not isinstance(first, Decoded):
            continue
        starts = tuple((planned.run_id, planned.set_up_start_tau + 40) for planned in first.plan.runs[::2])
        idle = decoder.decode(replace(genome_from(one, first.plan), later=starts))
        if not isinstance(idle, Decoded):
            continue
        made = tightened(decoder, one, idle.plan)
        assert check(one, made) == ()
        assert cost(one, made).total <= idle.cost_cents
        ends = sum(planned.print_end_tau for planned in made.runs) + sum(done.packed_tau for done in made.orders)
        assert ends <= idle.earliness
        moved += ends < idle.earliness
    assert moved >= 10


def test_what_can_print_at_once_is_not_kept_waiting_behind_what_cannot() -> None:
    """The run whose screens must stand two hours goes first in the plan at hand; the other, ready now, goes before."""
    one = one_burn()
    decoder = Decoder(one)
    behind = plan(one, "r1", "r2", stands=frozenset({"r1"}))
    assert behind.run["r2"].set_up_start_tau > behind.run["r1"].set_up_start_tau == 220
    made = earlier(decoder, one, behind, seed=1, is_over=lambda: False)
    assert check(one, made) == ()
    assert (made.run["r2"].set_up_start_tau, made.run["r1"].set_up_start_tau) == (0, 220)
    assert cost(one, made).total == 0
    assert earlier(decoder, one, behind, seed=1, is_over=lambda: True) == behind

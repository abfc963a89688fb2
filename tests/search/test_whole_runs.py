"""The bound that sends every run to one press as a whole: never above a plan, and what it sees that halves do not."""

import pytest

from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search.construction import first_plans
from scheduler.search.crowding import crowding_programme
from scheduler.search.decoder import Decoder
from scheduler.search.tables import tables_of
from scheduler.search.whole_runs import whole_runs_programme
from tests.builders import (
    choice,
    frame_stock,
    hours,
    ink,
    order_due,
    overtime,
    person,
    press_line,
    run,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week
from tests.search.decoding import decoded


def whole_bound(one: Week, *, in_queues: bool = False) -> int:
    """What is proven with whole runs."""
    programme = whole_runs_programme(tables_of(one), in_queues=in_queues)
    return max(programme.learned_bounds(counted_s=1.0), default=0)


def crowd(count: int, names: tuple[str, ...] = ("P0", "P1"), *, print_min: int = 300, **more: object) -> Week:
    """Orders of one run each, all due on Monday evening, on presses that serve them alike."""
    offers = [choice(name, print_min=print_min) for name in names]
    runs = [run(f"r{i}", order_id=f"o{i}", choices=offers) for i in range(count)]
    shape: dict[str, object] = {
        "runs": runs,
        "orders": [order_due(f"o{i}", [f"r{i}"], pickups_tau=(540, 2700), late_cents=900) for i in range(count)],
        "presses": [press_line(name) for name in names],
    }
    return week(**{**shape, **more})


@pytest.mark.parametrize(("print_min", "cents"), [(270, 900), (271, 2700)])
def test_a_run_is_not_shared_out(print_min: int, cents: int) -> None:
    """Two presses of nine hours take four runs of 270 minutes, but only two that are a minute longer."""
    one = crowd(5, print_min=print_min)
    halves = crowding_programme(tables_of(one), 8).bound_cents(in_part=True)
    assert whole_bound(one) == cents
    assert halves is not None
    assert halves <= cents


@pytest.mark.parametrize(("price", "cents"), [(400, 400), (1000, 900)])
def test_overtime_is_bought_where_it_pays(price: int, cents: int) -> None:
    """An evening hour makes room for the second run if it costs less than being late."""
    press = press_line("P0", calendar=hours((0, 480), (480, 600, "late Mon"), (600, 1080)))
    due = [order_due(f"o{i}", [f"r{i}"], pickups_tau=(600, 2700), late_cents=900) for i in range(2)]
    one = crowd(2, names=("P0",), orders=due, presses=[press], overtime=[overtime(price_cents=price)])
    assert whole_bound(one) == cents


@pytest.mark.parametrize(("mount_min", "cents"), [(20, 900), (0, 0)])
def test_a_shared_mounting_takes_its_time_once(mount_min: int, cents: int) -> None:
    """Two runs of one set fill the day to the minute and leave no time for mounting its screen."""
    heads = stack(("s1.1", "white"), set_id="s1")
    runs = [
        run(f"r{i}", order_id=f"o{i}", set_id="s1", choices=[choice("P0", print_min=270, on=heads)]) for i in (0, 1)
    ]
    more = {"sets": [screen_set(screens=1, is_burned_now=True)], "frames": [frame_stock()]}
    press = press_line("P0", set_up=SetUpMinutes(mount_min=mount_min))
    assert whole_bound(crowd(2, runs=runs, presses=[press], **more)) == cents


def test_one_printer_and_one_set_are_at_one_press() -> None:
    """Two presses do not help two runs of five hours where one person prints, or where one set prints both."""
    crew = (("print", 1),)
    presses = [press_line(name, set_up_crew=crew, run_crew=crew) for name in ("P0", "P1")]
    assert whole_bound(crowd(2, presses=presses, people=[person()])) == 900
    assert whole_bound(crowd(2, presses=presses, people=[person(), person("Ben")])) == 0
    offers = [choice(name, print_min=300, on=stack(("s1.1", "white"), set_id="s1")) for name in ("P0", "P1")]
    runs = [run(f"r{i}", order_id=f"o{i}", set_id="s1", choices=offers) for i in (0, 1)]
    more = {"sets": [screen_set(screens=1, is_burned_now=True)], "frames": [frame_stock()]}
    assert whole_bound(crowd(2, runs=runs, **more)) == 900


def test_bounds_rise() -> None:
    """What is told is better each time, and the last is what the counted work proves."""
    one = crowd(7, print_min=200)
    found = list(whole_runs_programme(tables_of(one)).learned_bounds(seconds=20.0))
    assert found == sorted(set(found))
    assert found[-1] == whole_bound(one)


@pytest.mark.parametrize(("inks", "more_min"), [(("white", "white"), 0), (("white", "red"), 3), (("red", "red"), 0)])
def test_an_ink_whose_screen_is_wanted_must_leave(inks: tuple[str, str], more_min: int) -> None:
    """Between two inks in one screen the cheaper to clean leaves; only who knows the queue sees that it must."""
    stacks = [stack(("s1.1", ink_id), set_id="s1") for ink_id in (*inks, *inks)]
    runs = [
        run(f"r{i}", order_id=f"o{i}", set_id="s1", choices=[choice("P0", print_min=10, on=heads)])
        for i, heads in enumerate(stacks)
    ]
    minutes = SetUpMinutes(mount_min=10, load_min=4, card_min=1, clean_light_min=3, clean_dark_min=9, strike_off_min=5)
    one = crowd(
        4,
        runs=runs,
        presses=[press_line("P0", set_up=minutes, set_up_cents_per_min=10)],
        sets=[screen_set(screens=1, is_burned_now=True)],
        frames=[frame_stock()],
        inks=[ink(), ink("red", is_dark=True)],
    )
    # The second ink's test print belongs to its own stack, so both bounds have it.
    assert whole_bound(one, in_queues=True) - whole_bound(one) == 10 * more_min
    assert decoded(one).cost_cents >= whole_bound(one, in_queues=True)


def test_queues_hold_on_random_weeks() -> None:
    """No plan found on random weeks is cheaper than the bound that knows who stands behind whom."""
    tried = 0
    for seed in range(40):
        one = random_week(seed, size="small")
        decoder = Decoder(one)
        found = first_plans(one, decoder)
        if found:
            tried += 1
            assert whole_bound(one, in_queues=True) <= found[0].decoded.cost_cents
    assert tried >= 30


def test_no_time_proves_nothing() -> None:
    """A solver stopped before it has begun tells of no bound above what all of its time proves."""
    one = crowd(7, print_min=200)
    for counted_s in (0.0, 1e-9, 1e-4):
        assert max(whole_runs_programme(tables_of(one)).learned_bounds(counted_s=counted_s), default=0) <= whole_bound(
            one
        )
    assert max(whole_runs_programme(tables_of(one)).learned_bounds(seconds=0.0), default=0) <= whole_bound(one)

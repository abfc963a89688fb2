"""The bound that looks at all orders at once: never above a plan, and each kind of crowding by hand."""

from dataclasses import replace
from time import sleep

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.search import crowding
from scheduler.search.bound_beside import SMALL_RUNS, BoundBeside
from scheduler.search.bounds import lower_bound
from scheduler.search.construction import due_date_list, first_plans
from scheduler.search.crowding import crowding_bound, crowding_bounds, crowding_programme
from scheduler.search.decoder import Decoder
from scheduler.search.genome import genes_of
from scheduler.search.local import Counted, anneal
from scheduler.search.programme import Programme
from scheduler.search.solve import Task, solve_here
from scheduler.search.tables import Tables, tables_of
from tests.builders import (
    announced,
    choice,
    every_day,
    floor_line,
    frame_stock,
    hours,
    ink,
    order_due,
    overtime,
    person,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week
from tests.search.decoding import decoded


@pytest.mark.parametrize("first", range(0, 60, 15))
def test_no_proven_plan_is_cheaper(first: int) -> None:
    """The cheapest plan of a tiny week costs at least the bound, whichever way the week is cut."""
    tried = 0
    for seed in range(first, first + 15):
        one = random_week(seed, size="tiny")
        best = solve_here(Task(week=one, seconds=20.0))
        if best.status != "proven" or best.cost_cents is None:
            continue
        assert crowding_bound(one) <= best.cost_cents
        for stretches in (3, 8):
            programme = crowding_programme(tables_of(one), stretches)
            in_part, whole = programme.bound_cents(in_part=True), programme.bound_cents()
            assert in_part is not None
            assert whole is not None
            assert in_part <= whole <= best.cost_cents
        tried += 1
    assert tried >= 12


@pytest.mark.parametrize(
    ("size", "first", "count"), [("small", at, 50) for at in range(0, 200, 50)] + [("medium", 0, 10)]
)
def test_no_plan_is_cheaper(size: str, first: int, count: int) -> None:
    """The best plan a short search finds on random weeks costs at least the bound."""
    tried = 0
    for seed in range(first, first + count):
        one = random_week(seed, size=size)
        decoder = Decoder(one)
        found = first_plans(one, decoder)
        start = found[0].genome if found else due_date_list(one)
        best = anneal(decoder, genes_of(decoder.tables, start), Counted(60), seed)
        if best is None:
            continue
        tried += 1
        assert crowding_bound(one) <= best.decoded.cost_cents
    assert tried >= 0.6 * count


def test_it_says_more_than_orders_one_by_one() -> None:
    """On random weeks of a dozen runs and more the bound lies well above that of orders timed alone."""
    weeks = [random_week(seed, size="medium") for seed in range(6)]
    assert sum(crowding_bound(one) for one in weeks) > 1.1 * sum(lower_bound(one).cents for one in weeks)


def crowd(*minutes: int, late_cents: tuple[int, ...] = (), due_tau: int = 540, **more: object) -> Week:
    """One order of one run for each of these minutes, all on one press unless told, all due on Monday evening."""
    prices = late_cents or (900,) * len(minutes)
    runs = [run(f"r{i}", order_id=f"o{i}", choices=[choice(print_min=length)]) for i, length in enumerate(minutes)]
    runs = more.pop("runs", runs)  # type: ignore[assignment]
    orders = [
        order_due(f"o{i}", [f"r{i}"], pickups_tau=(due_tau, 2700), late_cents=cents) for i, cents in enumerate(prices)
    ]
    return week(runs=runs, orders=orders, **more)


def test_a_day_holds_only_its_minutes() -> None:
    """Two runs of five hours and a day of nine: the cheaper order is late, and the plan costs no more than that."""
    one = crowd(300, 300, late_cents=(900, 500))
    assert lower_bound(one).cents == 0
    assert crowding_bound(one) == 500
    assert decoded(one).cost_cents == 500


def test_what_fits_costs_nothing() -> None:
    """Four and five hours fill the day to the minute."""
    assert crowding_bound(crowd(240, 300)) == 0


@pytest.mark.parametrize(("price", "cents"), [(400, 400), (600, 500)])
def test_overtime_is_bought_where_it_pays(price: int, cents: int) -> None:
    """An evening hour saves the cheaper order if it costs less than being late."""
    open_hours = hours((0, 480), (480, 540, "late Mon"), (540, 1080))
    press = press_line(calendar=open_hours)
    one = crowd(240, 300, late_cents=(900, 500), presses=[press], overtime=[overtime(price_cents=price)])
    assert crowding_bound(one) == cents


def test_garments_that_come_late_share_what_is_left() -> None:
    """Two runs that can start at noon only have half a day between them, although the day is long enough for both."""
    runs = [run(f"r{i}", order_id=f"o{i}", choices=[choice(print_min=200)], blanks_tau=240) for i in range(2)]
    assert crowding_bound(crowd(200, 200, runs=runs)) == 900
    assert crowding_bound(crowd(200, 200)) == 0


def on_two(print_min: int, count: int = 2, **more: object) -> dict[str, object]:
    """Runs that fit two presses alike."""
    offers = [choice(press_id, print_min=print_min, **more) for press_id in ("P1", "P2")]  # type: ignore[arg-type]
    runs = [run(f"r{i}", order_id=f"o{i}", choices=offers) for i in range(count)]
    return {"runs": runs, "presses": [press_line("P1"), press_line("P2")]}


@pytest.mark.parametrize(("count", "cents"), [(2, 0), (3, 900), (4, 1800)])
def test_two_presses_share_the_work(count: int, cents: int) -> None:
    """Each press takes one run of five hours by Monday evening."""
    assert crowding_bound(crowd(*[300] * count, **on_two(300, count))) == cents


def test_a_run_is_not_printed_on_two_presses_at_once() -> None:
    """Nine hours and a half on one press cannot be had by the evening by printing half on each."""
    assert crowding_bound(crowd(541, **on_two(541, 1))) == 900


def test_a_set_is_on_one_press_at_a_time() -> None:
    """Two runs of one screen set follow each other, although two presses stand free."""
    heads = stack(("s1.1", "white"), set_id="s1")
    offers = [choice(press_id, print_min=300, on=heads) for press_id in ("P1", "P2")]
    runs = [run(f"r{i}", order_id=f"o{i}", set_id="s1", choices=offers) for i in range(2)]
    more = {"sets": [screen_set(screens=1, is_burned_now=True)], "frames": [frame_stock()]}
    presses = [press_line("P1"), press_line("P2")]
    assert crowding_bound(crowd(300, 300, runs=runs, presses=presses, **more)) == 900


def test_one_printer_runs_one_press() -> None:
    """Two presses do not help where one person prints."""
    crew = (("print", 1),)
    shape = on_two(300)
    shape["presses"] = [press_line(one, set_up_crew=crew, run_crew=crew) for one in ("P1", "P2")]
    assert crowding_bound(crowd(300, 300, people=[person()], **shape)) == 900
    assert crowding_bound(crowd(300, 300, people=[person(), person("Ben")], **shape)) == 0


def test_a_catcher_is_needed_while_printing_only() -> None:
    """With one catcher for two presses two runs of four hours fit the day beside any set-up, two of five do not."""
    shape = on_two(300)
    shape["presses"] = [press_line(one, run_crew=(("catch", 1),)) for one in ("P1", "P2")]
    assert crowding_bound(crowd(300, 300, people=[person(roles=["catch"])], **shape)) == 900
    assert crowding_bound(crowd(240, 240, people=[person(roles=["catch"])], **{**shape, **on_two(240)})) == 0


def test_runs_on_one_belt_share_it() -> None:
    """Two runs that fill the belt cannot both go through it in the day."""
    shape = on_two(300, belt_permille=1000)
    shape["presses"] = [press_line(one, dryer_id="D1") for one in ("P1", "P2")]
    assert crowding_bound(crowd(300, 300, **shape)) == 900


def test_one_packer_packs_one_order_at_a_time() -> None:
    """Two orders of five hours' packing do not both leave in the evening."""
    runs = [run(f"r{i}", order_id=f"o{i}", choices=[choice(print_min=10)]) for i in range(2)]
    orders = [order_due(f"o{i}", [f"r{i}"], pickups_tau=(540, 2700), late_cents=900, finish_min=300) for i in range(2)]
    one = week(
        runs=runs,
        orders=orders,
        people=[person(roles=["pack"])],
        finishing=floor_line(crew=(("pack", 1),)),
    )
    assert crowding_bound(one) == 900
    assert decoded(one).cost_cents == 900


@pytest.mark.parametrize(("burn_min", "cents"), [(250, 900), (170, 0)])
def test_exposure_takes_its_time(burn_min: int, cents: int) -> None:
    """One exposure unit burns two sets one after the other; together they leave no time to print, or just enough."""
    runs = [
        run(f"r{i}", order_id=f"o{i}", set_id=f"s{i}", choices=[choice(f"P{i}", on=stack((f"s{i}.1", "white")))])
        for i in range(2)
    ]
    one = crowd(
        60,
        60,
        runs=runs,
        due_tau=420,
        presses=[press_line("P0"), press_line("P1")],
        sets=[screen_set(f"s{i}", screens=1, burn_min=burn_min) for i in range(2)],
        frames=[frame_stock()],
        screen_room=screen_room(exposure_units=1),
    )
    assert crowding_bound(one) == cents


def test_shared_mounting_takes_press_time() -> None:
    """Two runs of one set that fill the day to the minute leave no time for mounting its screen."""
    heads = stack(("s1.1", "white"), set_id="s1")
    runs = [run(f"r{i}", order_id=f"o{i}", set_id="s1", choices=[choice(print_min=270, on=heads)]) for i in range(2)]
    for mount_min, cents in ((20, 900), (0, 0)):
        one = crowd(
            270,
            270,
            runs=runs,
            presses=[press_line(set_up=SetUpMinutes(mount_min=mount_min))],
            sets=[screen_set(screens=1, is_burned_now=True)],
            frames=[frame_stock()],
        )
        assert crowding_bound(one) == cents


def test_restarts_take_press_time() -> None:
    """A print longer than any unbroken piece of the day goes on after a break, and that costs its minutes."""
    calendar = every_day(breaks=[(240, 30)])
    for restart_min, cents in ((5, 900), (0, 0)):
        press = press_line(calendar=calendar, restart=Restart(break_min=restart_min, night_min=restart_min))
        assert crowding_bound(crowd(400, 110, presses=[press])) == cents


def test_the_dear_press_is_paid_for_where_the_cheap_one_is_full() -> None:
    """Who does not fit the cheap press by the evening pays for the dear one, or for being late."""
    offers = [choice("P1", print_min=300), choice("P2", print_min=300, set_up_extra_min=10)]
    runs = [run(f"r{i}", order_id=f"o{i}", choices=offers) for i in range(2)]
    presses = [press_line("P1"), press_line("P2", set_up_cents_per_min=7)]
    assert crowding_bound(crowd(300, 300, runs=runs, presses=presses)) == 70
    assert decoded(crowd(300, 300, runs=runs, presses=presses)).cost_cents == 70


def test_a_move_is_paid_where_the_announced_press_is_full() -> None:
    """Two runs announced for one press on a day that holds one of them: one moves, or is late."""
    one = crowd(300, 300, **on_two(300))
    told = (announced("r0", at=0), announced("r1", at=100))
    prices = replace(one.prices, move_cents=40)
    assert crowding_bound(replace(one, announced=told, prices=prices)) == 40


def test_burns_are_in_it() -> None:
    """Every set that must be burned is paid for once."""
    one = crowd(
        60,
        runs=[run("r0", order_id="o0", set_id="s1", choices=[choice(on=stack(("s1.1", "white"), set_id="s1"))])],
        sets=[screen_set(screens=1)],
        frames=[frame_stock()],
        screen_room=screen_room(burn_cents_per_screen=300),
        inks=[ink()],
    )
    assert crowding_bound(one) == 300


def test_no_runs_no_bound() -> None:
    """A week without runs, or with a run that fits nowhere, has nothing to bound."""
    assert crowding_bound(week(runs=[])) == 0
    assert crowding_bound(week(runs=[run(choices=[])])) == 0


def test_no_programme_is_larger_than_memory_is_spent_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stretches that would make too many shares of runs are not asked for; what fewer prove is told all the same."""
    one = random_week(3, size="small")
    choices = sum(len(run.choices) for run in tables_of(one).runs)
    asked: list[int] = []

    def seen(tables: Tables, most_stretches: int) -> Programme:
        asked.append(most_stretches)
        return crowding_programme(tables, most_stretches)

    monkeypatch.setattr(crowding, "crowding_programme", seen)
    monkeypatch.setattr(crowding, "MOST_SHARES", 8 * choices)
    assert max(crowding_bounds(one, 30.0)) > 0
    assert asked == [4, 8, 8]


def test_bounds_rise_and_hold() -> None:
    """Finer and finer cuts give better and better bounds, none above the plan of the exact model."""
    one = random_week(21, size="tiny")
    found = list(crowding_bounds(one, 20.0))
    best = solve_here(Task(week=one, seconds=20.0)).cost_cents
    assert found
    assert found == sorted(set(found))
    assert best is not None
    assert found[-1] <= best


@pytest.mark.parametrize(
    "settings",
    [SearchSettings(iterations=5), SearchSettings(seconds=20, workers=1), SearchSettings(seconds=20, workers=2)],
)
def test_the_bound_beside_a_search_is_the_same_bound(settings: SearchSettings) -> None:
    """Counted, by one worker or beside the search, what is told holds and is more than nothing."""
    one = crowd(300, 300, late_cents=(900, 500))
    beside = BoundBeside(one, settings)
    assert beside.cents() == 500
    beside.close()
    assert beside.cents() == 500


def test_a_process_of_its_own_tells_the_bound() -> None:
    """A week too large to wait for is bounded by another process, which is heard whenever it has something to say."""
    count = SMALL_RUNS + 1
    one = crowd(*[100] * count)
    beside = BoundBeside(one, SearchSettings(seconds=60, workers=2))
    try:
        for _ in range(600):
            if beside.cents() == 900 * (count - 5):
                break
            sleep(0.1)
        assert beside.cents() == crowding_bound(one) == 900 * (count - 5)
    finally:
        beside.close()

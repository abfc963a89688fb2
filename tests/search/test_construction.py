"""First plans: the due-date list and the other rules."""

from dataclasses import replace

from scheduler.domain.week import SetUpMinutes
from scheduler.review.rules import check
from scheduler.search.construction import (
    as_announced,
    baseline,
    due_date_list,
    first_plan,
    first_plans,
    same_screens_together,
)
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.least_regret import LeastRegret, Regard
from tests.builders import (
    announced,
    choice,
    fixing,
    frame_stock,
    hours,
    order_due,
    overtime,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week


def dated(**dates: int):  # type: ignore[no-untyped-def]
    """Runs of an hour whose orders leave at these minutes."""
    runs = [run(run_id, order_id=f"o{run_id}") for run_id in dates]
    orders = [
        order_due(f"o{run_id}", (run_id,), pickups_tau=(tau, 2700), late_cents=100) for run_id, tau in dates.items()
    ]
    return week(runs=runs, orders=orders)


def test_the_due_date_list_goes_by_date_then_by_id() -> None:
    """The earliest promise first; of equal ones the smaller id."""
    genome = due_date_list(dated(c=300, b=100, a=300))
    assert genome.order == ("b", "a", "c")
    assert genome.press == ()


def test_no_further_rule_is_tried_once_there_is_a_plan_and_time_is_short() -> None:
    """One plan is made all the same; without the question every rule is tried."""
    one = dated(b=130, a=60)
    assert [found.rule for found in first_plans(one, Decoder(one), lambda: True)] == ["due-date list"]
    assert len(first_plans(one, Decoder(one), lambda: False)) == len(first_plans(one, Decoder(one))) > 1


def test_the_baseline_is_the_due_date_list_decoded() -> None:
    """Today's list is timed by the same rules."""
    one = dated(b=130, a=60)
    found = baseline(one, Decoder(one))
    assert isinstance(found, Decoded)
    assert [run.run_id for run in found.plan.queue["P1"]] == ["a", "b"]
    assert found.cost_cents == 0


def test_runs_of_one_set_are_pulled_together() -> None:
    """The later run of a set moves up behind the first one."""
    one = dated(a=100, b=200, c=300)
    shared = replace(one, runs=tuple(replace(r, set_id="s1") if r.run_id != "b" else r for r in one.runs))
    assert same_screens_together(shared).order == ("a", "c", "b")


def test_announced_runs_come_as_announced() -> None:
    """By announced time, on the announced press, the others after them by date."""
    one = dated(a=300, b=200, c=100)
    told = replace(one, announced=(announced("b", at=70), announced("a", at=0)))
    genome = as_announced(told)
    assert genome.order == ("a", "b", "c")
    assert genome.press == ("P1", "P1", None)
    assert genome.waits == {"a", "b"}


def test_least_regret_prefers_what_stands_on_the_press() -> None:
    """With time to spare the run whose screens hang there goes first, although its date is later."""
    offers = {name: [choice(on=stack((f"{name}.1", "white"), set_id=name))] for name in ("s1", "s2")}
    runs = [run("a", set_id="s1", choices=offers["s1"]), run("b", set_id="s2", choices=offers["s2"])]
    orders = [
        order_due(f"o{name}", (name,), pickups_tau=(tau, 2700), late_cents=100)
        for name, tau in (("a", 2000), ("b", 2100))
    ]
    one = week(
        runs=runs,
        orders=orders,
        presses=[press_line(set_up=SetUpMinutes(mount_min=30, load_min=5), now_on=stack(("s2.1", "white")))],
        sets=[screen_set("s1", is_burned_now=True), screen_set("s2", is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    decoder = Decoder(one)
    assert LeastRegret(one, decoder.tables, decoder.set_ups).genome(Regard()).order == ("b", "a")
    hurried = replace(one, orders=(replace(orders[0], pickups_tau=(100, 2700)), orders[1]))
    decoder = Decoder(hurried)
    assert LeastRegret(hurried, decoder.tables, decoder.set_ups).genome(Regard()).order == ("a", "b")


def test_the_first_plan_is_the_cheapest_of_all_rules() -> None:
    """No rule beats it, the due-date list least of all, and it keeps every rule."""
    better = 0
    for seed in range(25):
        one = random_week(seed)
        decoder = Decoder(one)
        found = first_plan(one)
        due = baseline(one, decoder)
        if isinstance(found, Refused):
            assert isinstance(due, Refused)
            continue
        assert check(one, found.plan) == ()
        assert all(found.cost_cents <= other.decoded.cost_cents for other in first_plans(one, decoder))
        if isinstance(due, Decoded):
            assert found.cost_cents <= due.cost_cents
            better += found.cost_cents < due.cost_cents
    assert better >= 10


def test_overtime_is_bought_if_nothing_else_makes_a_plan() -> None:
    """A week that only fits with its evening is planned with the evening."""
    windows = hours((0, 480), (480, 540, "late Mon"))
    one = week(
        runs=[run(choices=[choice(print_min=500)])], presses=[press_line(calendar=windows)], overtime=[overtime()]
    )
    found = first_plan(one)
    assert isinstance(found, Decoded)
    assert found.plan.overtime == ("late Mon",)
    locked = week(
        runs=[run()],
        presses=[press_line(calendar=windows)],
        overtime=[overtime()],
        fixings=[fixing("r1", press_id="P1", at=480)],
    )
    found = first_plan(locked)
    assert isinstance(found, Decoded)
    assert found.plan.overtime == ("late Mon",)


def test_what_prints_before_a_fixed_run_is_placed_first() -> None:
    """The base, and what goes under the base, come before runs that leave sooner, or the locked top has no plan."""
    one = dated(other=100, top=2000, base=2000, under=2000)
    after = {"top": ("base",), "base": ("under",)}
    runs = tuple(replace(r, print_after=after.get(r.run_id, ())) for r in one.runs)
    locked = replace(one, runs=runs, fixings=(fixing("top", press_id="P1", at=120),))
    found = baseline(locked, Decoder(locked))
    assert isinstance(found, Decoded)
    assert [planned.run_id for planned in found.plan.queue["P1"]] == ["under", "base", "top", "other"]
    assert len(first_plans(locked, Decoder(locked))) >= 3


def test_a_week_without_a_plan_says_why() -> None:
    """If no rule makes a plan, the due-date list's reason is told."""
    found = first_plan(week(runs=[run(choices=[choice(print_min=9999)])]))
    assert isinstance(found, Refused)
    assert found.reason == "no press has room for it in time"

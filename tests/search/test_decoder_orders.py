"""The decoder's orders and people: lots, print order, packing, pick-ups, money, overtime, crews."""

import pytest

from scheduler.domain.week import Prices, Week
from tests.builders import (
    announced,
    choice,
    every_day,
    floor_line,
    hours,
    order_due,
    overtime,
    person,
    press_line,
    reservation,
    run,
    week,
)
from tests.search.decoding import decoded, plan, print_times, refusal

TWO_PRESSES = [press_line("P1"), press_line("P2")]


def on(press_id: str, **more: int) -> list[object]:
    """One press to go to."""
    return [choice(press_id, **more)]  # type: ignore[arg-type]


def test_a_lot_is_printed_in_one_place_at_a_time() -> None:
    """The back waits until the front is cured and rested."""
    runs = [
        run("front", order_id="o", lots=["tees"], choices=on("P1"), cure_min=3, between_min=10),
        run("back", order_id="o", lots=["tees"], choices=on("P2"), cure_min=3),
    ]
    one = week(runs=runs, presses=TWO_PRESSES)
    assert print_times(plan(one, "front", "back")) == {"front": (0, 60), "back": (73, 133)}
    assert print_times(plan(one, "back", "front")) == {"back": (0, 60), "front": (63, 123)}


def test_a_run_may_slip_in_before_its_neighbour_on_the_lot() -> None:
    """The back is placed second but prints first, if it is through in time."""
    runs = [
        run("front", order_id="o", lots=["tees"], choices=on("P1"), blanks_tau=80),
        run("back", order_id="o", lots=["tees"], choices=on("P2", print_min=70), cure_min=10),
    ]
    assert print_times(plan(week(runs=runs, presses=TWO_PRESSES)))["back"] == (0, 70)
    runs[1] = run("back", order_id="o", lots=["tees"], choices=on("P2", print_min=71), cure_min=10)
    assert print_times(plan(week(runs=runs, presses=TWO_PRESSES)))["back"] == (140, 211)


def test_print_after_is_kept_in_any_order_of_placing() -> None:
    """A run that prints after another is put off until that one is placed."""
    runs = [run("base", cure_min=4, choices=on("P1")), run("top", choices=on("P2"), print_after=("base",))]
    one = week(runs=runs, presses=TWO_PRESSES)
    assert print_times(plan(one, "top", "base")) == {"base": (0, 60), "top": (64, 124)}


def test_runs_that_wait_for_each_other_have_no_plan() -> None:
    """A ring of print-after is told by the runs in it."""
    runs = [run("a", print_after=("b",)), run("b", print_after=("a",))]
    found = refusal(week(runs=runs))
    assert set(found.run_ids) == {"a", "b"}
    assert found.reason == "it prints after a run that is not placed yet"


def packing(**more: int) -> Week:
    """One run of an hour and its packing."""
    orders = [order_due("or1", **{"finish_min": 30, "finish_lag_min": 10, "last_box_min": 5, **more})]
    return week(runs=[run(cure_min=3)], orders=orders, finishing=floor_line())


def test_packing_ends_after_the_last_box() -> None:
    """Half an hour of packing comes so late that it goes through in one go: it ends five minutes after the cure."""
    done = plan(packing()).order["or1"]
    assert (done.finish_start_tau, done.packed_tau) == (38, 68)
    done = plan(packing(finish_lag_min=50)).order["or1"]
    assert (done.finish_start_tau, done.packed_tau) == (50, 80)


def test_nothing_to_pack_is_packed_with_the_last_cure() -> None:
    """Without packing minutes the order is ready when its last piece is cured and boxed."""
    done = plan(packing(finish_min=0)).order["or1"]
    assert (done.finish_start_tau, done.packed_tau) == (68, 68)


def test_packers_have_their_hours_and_hands() -> None:
    """Packing waits for the packer's noon and for the other order."""
    orders = [order_due(f"or{i}", (f"r{i}",), finish_min=30, pickups_tau=(2700,)) for i in (1, 2)]
    one = week(
        runs=[run("r1", order_id="or1"), run("r2", order_id="or2", choices=on("P2"))],
        presses=TWO_PRESSES,
        orders=orders,
        finishing=floor_line(crew=(("pack", 1),)),
        people=[person("Ana", roles=["pack"], calendar=hours((0, 50), (200, 540)))],
    )
    done = plan(one).order
    assert (done["or1"].finish_start_tau, done["or1"].packed_tau) == (200, 230)
    assert done["or2"].finish_start_tau == 230


def test_an_order_that_misses_its_last_pick_up_has_no_plan() -> None:
    """Packed on the minute it can still leave; a minute later it cannot."""
    assert plan(packing(finish_min=0), "r1").order["or1"].packed_tau == 68
    late = week(runs=[run(cure_min=3)], orders=[order_due("or1", pickups_tau=(62,))])
    assert refusal(late).reason == "its order cannot be packed before the last pick-up"


@pytest.mark.parametrize(
    ("pickups_tau", "late", "cushion"),
    [
        ((60, 500, 2700), 0, 70),  # packed at the pick-up, inside the cushion
        ((59, 500, 2700), 900, 70),
        ((30, 59, 2700), 1800, 70),
        ((80, 500, 2700), 0, 0),  # the cushion starts when it is packed
        ((79, 500, 2700), 0, 70),
    ],
)
def test_late_days_are_pick_ups_missed(pickups_tau: tuple[int, ...], late: int, cushion: int) -> None:
    """Each pick-up missed costs once; packing in the last twenty minutes before the promise costs the cushion."""
    due = order_due("or1", pickups_tau=pickups_tau, late_cents=900, cushion_min=20, cushion_cents=70)
    found = decoded(week(runs=[run()], orders=[due]))
    assert (found.terms["late"], found.terms["cushion"]) == (late, cushion)
    assert found.cost_cents == late + cushion


def test_overtime_is_bought_with_what_must_be_bought_before() -> None:
    """Tuesday's hour comes with Monday's; both are paid and used."""
    windows = hours((0, 480), (480, 540, "Mon"), (540, 1020), (1020, 1080, "Tue"), (1080, 2700))
    blocks = [overtime("Mon", price_cents=100), overtime("Tue", start=1020, end=1080, price_cents=50, after="Mon")]
    runs = [run("r1", choices=[choice(print_min=500)])]
    one = week(runs=runs, presses=[press_line(calendar=windows)], overtime=blocks)
    assert decoded(one).plan.run["r1"].print_end_tau == 560
    found = decoded(one, overtime=frozenset({"Tue"}))
    assert found.plan.overtime == ("Mon", "Tue")
    assert found.terms["overtime"] == 150
    assert found.plan.run["r1"].print_end_tau == 500


def test_one_printer_runs_one_press_at_a_time() -> None:
    """Set-up and print need the printer; the second press starts when the first one stops."""
    presses = [press_line(press_id, set_up_crew=(("print", 1),), run_crew=(("print", 1),)) for press_id in ("P1", "P2")]
    runs = [run("r1", choices=on("P1", stated_set_up_min=10)), run("r2", choices=on("P2", stated_set_up_min=10))]
    one = week(runs=runs, presses=presses, people=[person("Ana")])
    assert plan(one).run["r2"].set_up_start_tau == 70
    two = week(runs=runs, presses=presses, people=[person("Ana"), person("Ben")])
    assert plan(two).run["r2"].set_up_start_tau == 0
    other = week(runs=runs, presses=presses, people=[person("Ana"), person("Ben", press_ids=["P1"])])
    assert plan(other).run["r2"].set_up_start_tau == 0  # Ben runs P1, Ana P2


def test_a_printer_out_at_noon_stops_no_press_in_the_middle() -> None:
    """A run never pauses because somebody leaves: it starts when they are back, or ends before they go."""
    press = press_line(run_crew=(("print", 1),))
    ana = person("Ana", calendar=hours((0, 100), (150, 540)))
    for print_min, start_tau in ((100, 0), (101, 150)):
        one = week(runs=[run(choices=[choice(print_min=print_min)])], presses=[press], people=[ana])
        assert plan(one).run["r1"].print_start_tau == start_tau


def test_people_booked_for_coating_are_not_there() -> None:
    """The one screen tech coats from 60 to 120, so a crew of their role has to wait."""
    one = week(
        runs=[run("r1")],
        staging=floor_line(minutes=20, crew=(("screens", 1),)),
        people=[person("Ana", roles=["screens"])],
        reservations=[reservation("screens", start=10, end=120)],
    )
    assert plan(one).run["r1"].stage_start_tau == 120


@pytest.mark.parametrize(("at", "cents"), [(30, 0), (31, 700)])
def test_moving_an_announced_run_costs(at: int, cents: int) -> None:
    """Half an hour earlier than announced is no move, a minute more is one."""
    one = week(runs=[run()], announced=[announced(at=at)], prices=Prices(move_cents=700, move_free_min=30))
    assert decoded(one).terms["moves"] == cents
    assert decoded(one, waits=frozenset({"r1"})).terms["moves"] == 0


def test_another_press_is_a_move() -> None:
    """At the same minute on another press the run has moved all the same."""
    one = week(
        runs=[run(choices=[choice("P1"), choice("P2")])],
        presses=TWO_PRESSES,
        announced=[announced(press_id="P2")],
        prices=Prices(move_cents=700),
    )
    assert decoded(one, press=("P1",)).terms["moves"] == 700
    assert decoded(one, press=("P2",)).terms["moves"] == 0


def test_staging_and_packing_keep_to_their_calendars() -> None:
    """Carts are staged from nine, so the first set-up is at a quarter past."""
    one = week(
        runs=[run()],
        staging=floor_line(minutes=15, calendar=hours((60, 540))),
        presses=[press_line(calendar=every_day())],
    )
    made = plan(one).run["r1"]
    assert (made.stage_start_tau, made.set_up_start_tau) == (60, 75)

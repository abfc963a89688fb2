"""Why each run starts when it does: one hand-made case per reason, word for word."""

from dataclasses import replace

from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from scheduler.search.reasons import with_reasons
from tests.builders import (
    announced,
    choice,
    coat_window,
    fixing,
    flash_pool,
    floor_line,
    frame_stock,
    hours,
    ink,
    person,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.random_weeks import random_week
from tests.search.decoding import plan


def reasons(one: Week, *order: str, **more: object) -> dict[str, str]:
    """The reason of every run of the decoded plan."""
    made = with_reasons(one, plan(one, *order, **more))
    return {planned.run_id: planned.reason for planned in made.runs}


def test_first_and_next_on_the_press() -> None:
    """The first run has nothing before it, the next one waits for the press."""
    found = reasons(week(runs=[run("r1"), run("r2")]))
    assert found == {"r1": "first on the press", "r2": "press free at Mon 09:00"}


def test_garments_hold_a_run_back() -> None:
    """Garments in at ten, with or without a cart to fill."""
    assert reasons(week(runs=[run(blanks_tau=120)])) == {"r1": "garments in at Mon 10:00"}
    one = week(runs=[run(blanks_tau=120)], staging=floor_line(minutes=15))
    assert reasons(one) == {"r1": "garments in at Mon 10:00"}


def test_the_cart_holds_a_run_back() -> None:
    """The first set-up of the day waits for its cart."""
    assert reasons(week(staging=floor_line(minutes=15))) == {"r1": "on its cart at Mon 08:15"}


def test_screens_hold_a_run_back() -> None:
    """Taped at 09:40, set up at 09:40."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run(set_id="s1", choices=offers)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    assert reasons(one) == {"r1": "screens ready at Mon 09:40"}
    assert reasons(replace(one, staging=floor_line(minutes=5))) == {"r1": "screens ready at Mon 09:40"}


def test_screens_on_another_press_hold_a_run_back() -> None:
    """The set comes off press 1 at nine."""
    runs = [
        run(f"r{i}", set_id="s1", choices=[choice(f"P{i}", on=stack(("s1.1", "white"), set_id="s1"))]) for i in (1, 2)
    ]
    one = week(
        runs=runs,
        presses=[press_line("P1", name="the automatic"), press_line("P2")],
        sets=[screen_set(is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    assert reasons(one)["r2"] == "screens come off the automatic at Mon 09:00; only fits P2"


def test_garments_on_another_press_hold_a_run_back() -> None:
    """The back waits for the front's garments, less what its set-up takes."""
    runs = [
        run("front", order_id="o", lots=["tees"], choices=[choice("P1")], cure_min=5),
        run("back", order_id="o", lots=["tees"], choices=[choice("P2", stated_set_up_min=20)]),
    ]
    one = week(runs=runs, presses=[press_line("P1"), press_line("P2")])
    assert plan(one).run["back"].set_up_start_tau == 45
    assert reasons(one)["back"] == "garments come from front at Mon 09:05; only fits P2"


def test_people_hold_a_run_back() -> None:
    """One printer for two presses."""
    presses = [press_line(press_id, run_crew=(("print", 1),)) for press_id in ("P1", "P2")]
    runs = [run("r1", choices=[choice("P1")]), run("r2", choices=[choice("P2")])]
    found = reasons(week(runs=runs, presses=presses, people=[person()]))
    assert found["r2"] == "waiting for people until Mon 09:00 (printing r1); only fits P2"


def test_set_up_people_hold_a_run_back() -> None:
    """The one who sets up is out until half past eight."""
    press = press_line(set_up_crew=(("set up", 1),))
    ana = person("Ana", roles=["set up"], calendar=hours((30, 540)))
    one = week(runs=[run(choices=[choice(stated_set_up_min=10)])], presses=[press], people=[ana])
    assert reasons(one) == {"r1": "waiting for people until Mon 08:30"}


def test_the_belt_holds_a_run_back() -> None:
    """Two runs of 600 permille each do not fit one belt."""
    presses = [press_line(press_id, dryer_id="D") for press_id in ("P1", "P2")]
    runs = [run(f"r{i}", choices=[choice(f"P{i}", belt_permille=600)]) for i in (1, 2)]
    assert reasons(week(runs=runs, presses=presses))["r2"] == "belt full until Mon 09:00 (printing r1); only fits P2"


def test_a_flash_on_wheels_holds_a_run_back() -> None:
    """One flash for two presses."""
    presses = [press_line(press_id, flash_pool="wheels") for press_id in ("P1", "P2")]
    runs = [run(f"r{i}", choices=[choice(f"P{i}", flash_units=1)]) for i in (1, 2)]
    one = week(runs=runs, presses=presses, flash_pools=[flash_pool()])
    assert reasons(one)["r2"] == "waiting for a flash until Mon 09:00 (printing r1); only fits P2"


def test_ink_that_may_not_stand_holds_a_run_back() -> None:
    """Set up before the break, it would stand in the mesh over it."""
    press = press_line(calendar=hours((0, 50), (110, 540)))
    runs = [run("r1", choices=[choice(stated_set_up_min=50)], idle_ok_min=30)]
    assert reasons(week(runs=runs, presses=[press])) == {"r1": "its ink may not stand over the stop before"}


def test_rinsing_for_nothing_holds_a_run_back() -> None:
    """Ten minutes before a break go into rinsing out: it starts after it."""
    press = press_line(calendar=hours((0, 10), (70, 540)))
    runs = [run("r1", choices=[choice(wash_up_min=10)], idle_ok_min=30)]
    assert reasons(week(runs=runs, presses=[press])) == {"r1": "its ink may not stand over the stop before"}


def test_fixed_runs_say_so() -> None:
    """Started, locked and announced runs are where they are because somebody put them there."""
    fixings = [
        fixing("r1", "started", press_id="P1", at=0, left=0),
        fixing("r2", press_id="P1", at=100),
        fixing("r3", "announced", press_id="P1", at=200),
    ]
    found = reasons(week(runs=[run("r1"), run("r2"), run("r3")], fixings=fixings))
    assert found == {"r1": "started", "r2": "locked at Mon 09:40", "r3": "announced at Mon 11:20"}


def test_an_announced_run_is_kept_near_its_time() -> None:
    """Nothing else holds it back."""
    one = week(runs=[run()], announced=[announced(at=120)])
    assert reasons(one, waits=frozenset({"r1"})) == {"r1": "kept near its announced time"}


def test_idle_time_on_purpose_says_so() -> None:
    """A plan made otherwise may leave a press idle: nothing in it holds the run back."""
    one = week()
    made = plan(one)
    later = replace(made.runs[0], stage_start_tau=60, stage_end_tau=60, set_up_start_tau=60, set_up_end_tau=60)
    later = replace(later, print_start_tau=60, print_end_tau=120)
    assert with_reasons(one, replace(made, runs=(later,))).runs[0].reason == "kept back for what comes after"


def test_what_stays_on_the_press_is_told() -> None:
    """Same screens, inks that stay, a kept ink that comes back, the same garments."""
    white = stack(("s1.1", "white"), ("s1.2", "red"), set_id="s1")
    runs = [
        run("r1", order_id="o", lots=["tees"], set_id="s1", choices=[choice(on=white)]),
        run("r2", order_id="o", lots=["hoods"], set_id="s1", choices=[choice(on=white)]),
        run("r3", order_id="o", lots=["hoods"], set_id="s2", choices=[choice(on=stack(("s2.1", "red"), set_id="s2"))]),
        run("r4", set_id="s3", choices=[choice(on=stack(("s3.1", "white"), ("s3.2", "red"), set_id="s3"))]),
    ]
    one = week(
        runs=runs,
        sets=[screen_set(f"s{i}", is_burned_now=True) for i in (1, 2, 3)],
        inks=[ink("white"), replace(ink("red"), name="fire red")],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    assert reasons(one) == {
        "r1": "first on the press",
        "r2": "press free at Mon 09:00; same screens",
        "r3": "press free at Mon 10:00; fire red stays; same garments",
        "r4": "press free at Mon 11:00; fire red and white stay",
    }


def test_every_run_of_a_random_week_has_a_reason() -> None:
    """Nothing but the reasons is changed, and none is missing."""
    for seed in range(30):
        one = random_week(seed)
        found = Decoder(one).decode(Genome(order=tuple(one.run)))
        if not isinstance(found, Decoded):
            continue
        made = with_reasons(one, found.plan)
        assert all(planned.reason for planned in made.runs)
        assert replace(made, runs=tuple(replace(planned, reason="") for planned in made.runs)) == found.plan
        assert not any(planned.reason == "kept back for what comes after" for planned in made.runs)


def test_a_run_waits_for_its_screens_to_stand_ready() -> None:
    """Held back until its screens have stood ready for as long as the shop wants, and not for longer."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run(set_id="s1", choices=offers)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(ahead_min=90, not_ahead_cents_per_min=1),
    )
    later = plan(one, later=(("r1", 190),))
    found = with_reasons(one, later)
    assert found.run["r1"].reason == "its screens should stand ready 1 h 30 min before"
    assert with_reasons(one, plan(one, later=(("r1", 191),))).run["r1"].reason == "kept back for what comes after"


def test_why_screens_are_not_ready_sooner_is_told() -> None:
    """Film that comes at ten; frames coated over night; hands that print before they tape."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    base = week(
        runs=[run(set_id="s1", choices=offers)], sets=[screen_set()], frames=[frame_stock()], screen_room=screen_room()
    )
    late_film = replace(base, runs=(replace(base.runs[0], art_tau=120),))
    assert reasons(late_film) == {"r1": "screens ready at Mon 11:40 (art in at Mon 10:00)"}
    bare = replace(
        base,
        frames=(frame_stock(coated_now=0),),
        screen_room=screen_room(coat_windows=(coat_window(),)),
    )
    assert reasons(bare) == {"r1": "screens ready at Tue 09:40 (frames coated by Tue 08:00)"}


def test_hands_that_are_busy_are_named() -> None:
    """One person burns, prints and tapes: screens are burned once the first run is printed."""
    crew = (("print", 1),)
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run("r1", choices=[choice(print_min=90)]), run("r2", set_id="s1", choices=offers)],
        presses=[press_line(run_crew=crew)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(crew=crew),
        people=[person()],
    )
    assert reasons(one, "r2", "r1")["r2"] == "screens ready at Mon 09:40"
    busy = reasons(one, "r1", "r2")
    assert busy["r2"] == "screens ready at Mon 11:10 (burned after printing r1)"

"""Started, locked and announced runs stay; the others go around them."""

from dataclasses import replace

import pytest

from scheduler.domain.week import SetUpMinutes, Week
from tests.builders import (
    choice,
    coat_window,
    fixing,
    frame_stock,
    hours,
    ink,
    press_line,
    reclaim_block,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.search.decoding import plan, refusal

MINUTES = SetUpMinutes(mount_min=10, load_min=4, clean_light_min=3, clean_dark_min=9, strike_off_min=5)


def queue(*fixed: object, count: int = 3, print_min: int = 60) -> Week:
    """So many runs of an hour on one press."""
    return week(
        runs=[run(f"r{i}", choices=[choice(print_min=print_min)]) for i in range(1, count + 1)], fixings=list(fixed)
    )


def test_a_started_run_comes_first_with_what_is_left() -> None:
    """Its set-up is what is left of it, whatever the order says."""
    one = week(
        runs=[run("r1"), run("r2", choices=[choice(stated_set_up_min=30)], blanks_tau=500)],
        fixings=[fixing("r2", "started", press_id="P1", at=0, left=5)],
    )
    made = plan(one)
    assert (made.run["r2"].set_up_start_tau, made.run["r2"].set_up_min, made.run["r2"].print_end_tau) == (0, 5, 65)
    assert made.run["r1"].set_up_start_tau == 65


def test_a_started_run_needs_no_burn() -> None:
    """Its screens are on the press; a later run holds them."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run("r1", set_id="s1", choices=offers), run("r2", set_id="s1", choices=offers)],
        sets=[screen_set()],
        frames=[frame_stock(coated_now=0, clean_now=0)],
        screen_room=screen_room(),
        fixings=[fixing("r2", "started", press_id="P1", at=0, left=0)],
    )
    made = plan(one)
    assert made.run["r2"].burn is None
    assert made.run["r1"].burn is None
    assert made.run["r1"].set_up_start_tau == 60


@pytest.mark.parametrize(("at", "others"), [(120, [0, 60]), (119, [0, 179])])
def test_runs_go_before_a_lock_if_they_fit(at: int, others: list[int]) -> None:
    """Two runs of an hour fit before a lock at two hours; a minute earlier only one does."""
    made = plan(queue(fixing("r3", press_id="P1", at=at)))
    assert made.run["r3"].set_up_start_tau == at
    assert [made.run["r1"].set_up_start_tau, made.run["r2"].set_up_start_tau] == others


def test_a_locked_press_is_kept() -> None:
    """Locked to the slower press, the run goes there."""
    offers = [choice("P1"), choice("P2", print_min=90)]
    one = week(
        runs=[run(choices=offers)],
        presses=[press_line("P1"), press_line("P2")],
        fixings=[fixing("r1", press_id="P2")],
    )
    assert plan(one).run["r1"].press_id == "P2"


def colours(*fixed: object, at_least: int = 0) -> Week:
    """White on the press now; a red run and a white one, the white one locked."""
    runs = [
        run("red", set_id="s1", choices=[choice(on=stack(("s1.1", "red"), set_id="s1"))], blanks_tau=at_least),
        run("white", set_id="s2", choices=[choice(on=stack(("s2.1", "white"), set_id="s2"))]),
    ]
    press = press_line(set_up=MINUTES, head_count=1, now_on=stack(("old", "white")))
    return week(
        runs=runs,
        presses=[press],
        inks=[ink("white"), ink("red", is_dark=True)],
        sets=[screen_set("s1", is_burned_now=True), screen_set("s2", is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
        fixings=list(fixed),
    )


def test_a_run_before_a_lock_makes_the_lock_longer() -> None:
    """After white the locked run takes 15 minutes of set-up; with red in between it takes 28."""
    alone = colours(fixing("white", press_id="P1", at=200), at_least=260)
    assert plan(alone).run["white"].set_up_min == 15
    made = plan(colours(fixing("white", press_id="P1", at=200)))
    assert made.run["red"].set_up_start_tau == 0
    assert (made.run["white"].set_up_min, made.run["white"].print_end_tau) == (28, 288)


def test_a_run_that_would_push_the_next_lock_goes_elsewhere() -> None:
    """Two locks leave no minute for a longer set-up of the first one, so the red run comes last."""
    first = fixing("white", press_id="P1", at=200)
    for gap, red_at in ((88, 0), (87, 347)):
        one = colours(first)
        third = run("locked", choices=[choice(stated_set_up_min=0)])
        both = week(
            runs=[*one.runs, third],
            presses=one.presses,
            inks=one.inks,
            sets=one.sets,
            frames=one.frames,
            screen_room=one.screen_room,
            fixings=[first, fixing("locked", press_id="P1", at=200 + gap)],
        )
        assert plan(both).run["red"].set_up_start_tau == red_at


def test_a_run_may_be_kept_for_after_a_lock() -> None:
    """There is room before the lock, but the genome wants the run later."""
    one = queue(fixing("r3", press_id="P1", at=200))
    assert plan(one).run["r1"].set_up_start_tau == 0
    assert plan(one, later=(("r1", 200),)).run["r1"].set_up_start_tau == 260
    assert plan(one, later=(("r2", 500),)).run["r2"].set_up_start_tau == 500


def test_an_ink_beside_a_started_run_may_stay() -> None:
    """White stood there before the started run; it is still there for the next one."""
    runs = [
        run("red", set_id="s1", choices=[choice(on=stack(("s1.1", "red"), set_id="s1"))]),
        run("white", set_id="s2", choices=[choice(on=stack(("s2.1", "white"), set_id="s2"))]),
    ]
    one = week(
        runs=runs,
        presses=[press_line(set_up=replace(MINUTES, card_min=1), head_count=2, now_on=stack(("old", "white")))],
        sets=[screen_set("s1", is_burned_now=True), screen_set("s2", is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
        fixings=[fixing("red", "started", press_id="P1", at=0, left=0)],
    )
    made = plan(one)
    assert made.run["red"].kept_inks == ("white",)
    assert made.run["white"].set_up_min == 10 + 1 + 5


def test_a_run_takes_over_the_burn_of_a_lock_on_its_set() -> None:
    """Placed before the locked run, the free run burns the set and the locked one finds it held."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run("free", set_id="s1", choices=offers), run("lock", set_id="s1", choices=offers)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(),
        fixings=[fixing("lock", press_id="P1", at=300)],
    )
    made = plan(one)
    assert made.run["free"].set_up_start_tau == 100
    assert made.run["free"].burn is not None
    assert made.run["lock"].burn is None


def test_locks_that_overlap_have_no_plan() -> None:
    """Two locks an hour apart stand; a minute less and they do not."""
    made = plan(queue(fixing("r1", press_id="P1", at=100), fixing("r2", press_id="P1", at=160)))
    assert made.run["r2"].set_up_start_tau == 160
    found = refusal(queue(fixing("r1", press_id="P1", at=100), fixing("r2", press_id="P1", at=159)))
    assert found.run_ids == ("r2",)
    assert found.reason == "it cannot start when it is fixed to start"


def test_a_lock_in_a_closed_minute_has_no_plan() -> None:
    """Fixed to a minute in which the press is closed."""
    press = press_line(calendar=hours((0, 100), (150, 540)))
    for at, stands in ((99, True), (100, False), (149, False), (150, True)):
        one = week(runs=[run()], presses=[press], fixings=[fixing("r1", press_id="P1", at=at)])
        if stands:
            assert plan(one).run["r1"].set_up_start_tau == at
        else:
            assert refusal(one).run_ids == ("r1",)


def test_a_lock_waits_for_frames_that_others_bring_back() -> None:
    """The lock's screens can only be coated from the first run's frames; its place is kept free meanwhile."""
    runs = [
        run(name, set_id=f"s{i}", choices=[choice(on=stack((f"s{i}.1", "white"), set_id=f"s{i}"))])
        for i, name in ((1, "first"), (2, "lock"))
    ]
    runs.append(run("long", choices=[choice(print_min=800)]))
    one = week(
        runs=runs,
        sets=[screen_set("s1", is_burned_now=True), screen_set("s2")],
        frames=[frame_stock(coated_now=0, clean_now=0)],
        screen_room=screen_room(
            reclaim_blocks=(reclaim_block(start=300, end=360),), coat_windows=(coat_window(start=480, ready=540),)
        ),
        fixings=[fixing("lock", press_id="P1", at=700)],
    )
    made = plan(one, "long", "first", "lock")
    assert made.run["lock"].set_up_start_tau == 700
    assert made.run["first"].set_up_start_tau == 0
    assert made.run["long"].set_up_start_tau == 760

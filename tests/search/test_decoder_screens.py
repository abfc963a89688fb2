"""The decoder in the screen room: burns, drying, rack, frames, sets held or reclaimed and burned anew."""

import pytest

from scheduler.domain.week import Run, Week
from scheduler.search.pricing import price
from tests.builders import (
    choice,
    coat_window,
    floor_line,
    frame_stock,
    hours,
    order_due,
    person,
    press_line,
    reclaim_block,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)
from tests.search.decoding import decoded, plan, refusal


def printed(run_id: str, set_id: str, **more: object) -> Run:
    """A run of one screen of a set, one hour."""
    offers = [choice(on=stack((f"{set_id}.1", "white"), set_id=set_id))]
    return run(run_id, set_id=set_id, **{"choices": offers, **more})


def one_set(**more: object) -> Week:
    """One run whose set of two screens is to be burned: 30 to burn, 60 to dry, 10 to tape."""
    return week(
        **{
            "runs": [printed("r1", "s1")],
            "sets": [screen_set()],
            "frames": [frame_stock()],
            "screen_room": screen_room(burn_cents_per_screen=300),
            **more,
        }
    )


def test_burn_dry_tape_then_print() -> None:
    """The set is burned at once, dries, is taped, and only then is the press set up."""
    found = decoded(one_set())
    burn = found.plan.run["r1"].burn
    assert burn is not None
    assert (burn.start_tau, burn.end_tau, burn.dry_tau, burn.tape_end_tau) == (0, 30, 90, 100)
    assert found.plan.run["r1"].set_up_start_tau == 100
    assert found.terms["burns"] == 600


def test_a_burned_set_is_not_burned_again() -> None:
    """What hangs burned is mounted straight away."""
    found = decoded(one_set(sets=[screen_set(is_burned_now=True)]))
    assert found.plan.run["r1"].burn is None
    assert found.plan.run["r1"].set_up_start_tau == 0
    assert found.terms["burns"] == 0


def test_the_film_must_be_there() -> None:
    """A burn waits for the artwork, and the cart for the screens."""
    one = one_set(runs=[printed("r1", "s1", art_tau=25)], staging=floor_line(minutes=5))
    made = plan(one).run["r1"]
    assert made.burn is not None
    assert made.burn.start_tau == 25
    assert (made.stage_start_tau, made.set_up_start_tau) == (125, 130)


@pytest.mark.parametrize(("idle_ok_min", "start_tau"), [(60, 0), (59, 80)])
def test_a_burn_may_not_stand_over_a_long_break(idle_ok_min: int, start_tau: int) -> None:
    """A break as long as allowed is spanned, a longer one is waited for."""
    room = screen_room(calendar=hours((0, 20), (80, 540)), idle_ok_min=idle_ok_min)
    burn = plan(one_set(screen_room=room)).run["r1"].burn
    assert burn is not None
    assert burn.start_tau == start_tau


def test_screens_dry_over_night() -> None:
    """Drying goes on while nobody is there: burned in the last half hour, dry at opening."""
    room = screen_room(calendar=hours((0, 540), (540, 1080)), dry_min=900)
    burn = plan(one_set(runs=[printed("r1", "s1", art_tau=510)], screen_room=room)).run["r1"].burn
    assert burn is not None
    assert (burn.end_tau, burn.dry_tau, burn.tape_end_tau) == (540, 540, 550)


def two_sets(**more: object) -> Week:
    """Two designs of two screens each."""
    room = {"exposure_units": 1, **more.pop("room", {})}  # type: ignore[dict-item]
    return week(
        **{
            "runs": [printed("r1", "s1"), printed("r2", "s2")],
            "sets": [screen_set("s1"), screen_set("s2")],
            "frames": [frame_stock()],
            "screen_room": screen_room(**room),
            **more,
        }
    )


@pytest.mark.parametrize(("units", "start_tau"), [(1, 30), (2, 0)])
def test_exposure_units_are_shared(units: int, start_tau: int) -> None:
    """One unit burns one set after the other, two burn both at once."""
    burn = plan(two_sets(room={"exposure_units": units})).run["r2"].burn
    assert burn is not None
    assert burn.start_tau == start_tau


@pytest.mark.parametrize(("places", "end_tau"), [(4, 30), (3, 90)])
def test_the_rack_has_its_places(places: int, end_tau: int) -> None:
    """With a place too few the second set is washed out just when the first one is dry."""
    burn = plan(two_sets(room={"rack_places": places, "exposure_units": 2})).run["r2"].burn
    assert burn is not None
    assert burn.end_tau == end_tau


def test_one_person_burns_one_set_at_a_time() -> None:
    """Two exposure units and one pair of hands."""
    one = two_sets(room={"exposure_units": 2, "crew": (("screens", 1),)}, people=[person("Ana", roles=["screens"])])
    made = plan(one)
    first, second = made.run["r1"].burn, made.run["r2"].burn
    assert first is not None
    assert second is not None
    assert (first.start_tau, second.start_tau) == (0, 30)
    assert (first.tape_start_tau, second.tape_start_tau) == (90, 120)


def test_frames_on_the_wall_are_burned_first_and_others_after_coating() -> None:
    """Two coated frames serve the first set; the second waits for tonight's coating."""
    one = two_sets(frames=[frame_stock(coated_now=2, clean_now=2)], room={"coat_windows": (coat_window(),)})
    made = plan(one)
    burn = made.run["r2"].burn
    assert burn is not None
    assert burn.start_tau == 540
    assert [(batch.window_id, batch.count) for batch in made.coat_batches] == [("coat Mon", 2)]


def test_without_frames_there_is_no_plan() -> None:
    """Nothing coated, nothing clean: the run is told by name."""
    found = refusal(two_sets(frames=[frame_stock(coated_now=2, clean_now=0)]))
    assert found.run_ids == ("r2",)
    assert found.reason == "no coated frames for its screens"


def test_a_run_waits_for_frames_that_others_still_hold() -> None:
    """The second set is burned from the first one's frames: printed, reclaimed, coated, burned."""
    room = {
        "reclaim_blocks": (reclaim_block(start=300, end=360),),
        "coat_windows": (coat_window(start=480, end=540, ready=540),),
    }
    one = two_sets(frames=[frame_stock(coated_now=2, clean_now=0)], room=room)
    made = plan(one, "r2", "r1")
    assert made.run["r2"].set_up_start_tau == 100
    burn = made.run["r1"].burn
    assert burn is not None
    assert burn.start_tau == 540
    assert ("s2", "r2") in [(one.set_id, one.after_run_id) for one in made.reclaims]


@pytest.mark.parametrize(("block_start", "burn_tau"), [(160, 540), (159, None)])
def test_a_set_is_reclaimed_once_its_order_is_packed(block_start: int, burn_tau: int | None) -> None:
    """A block that starts as the order is packed will do; a minute earlier it will not."""
    room = {
        "reclaim_blocks": (reclaim_block(start=block_start, end=400),),
        "coat_windows": (coat_window(start=480, end=540, ready=540),),
    }
    one = two_sets(frames=[frame_stock(coated_now=2, clean_now=0)], room=room)
    if burn_tau is None:
        assert refusal(one).run_ids == ("r2",)
        return
    made = plan(one)
    assert made.order["or1"].packed_tau == 160
    burn = made.run["r2"].burn
    assert burn is not None
    assert burn.start_tau == burn_tau


@pytest.mark.parametrize(("places", "works"), [(2, True), (1, False)])
def test_a_reclaim_block_has_its_places(places: int, works: bool) -> None:
    """A block too small for the set is of no use."""
    room = {
        "reclaim_blocks": (reclaim_block(start=300, end=360, places=places),),
        "coat_windows": (coat_window(start=480, end=540, ready=540),),
    }
    one = two_sets(frames=[frame_stock(coated_now=2, clean_now=0)], room=room)
    if works:
        assert plan(one).run["r2"].burn is not None
    else:
        assert refusal(one).run_ids == ("r2",)


def used_twice(**more: object) -> Week:
    """One set for two orders; the second one's garments come on Tuesday."""
    room = screen_room(
        burn_cents_per_screen=300,
        reclaim_blocks=(reclaim_block(start=300, end=360),),
        coat_windows=(coat_window(start=480, end=540, ready=540),),
    )
    runs = [printed("r1", "s1"), printed("r2", "s1", blanks_tau=600)]
    return week(
        runs=runs, sets=[screen_set()], frames=[frame_stock(coated_now=2, clean_now=0)], screen_room=room, **more
    )


def test_a_set_is_held_for_its_next_run() -> None:
    """Held, the set is burned once and costs one burn."""
    found = decoded(used_twice())
    assert found.plan.run["r2"].burn is None
    assert found.terms["burns"] == 600
    assert [one.after_run_id for one in found.plan.reclaims] == []  # no block is left after its last use


def test_a_released_set_is_burned_anew() -> None:
    """Released, the set's frames come back on Monday and it is burned again on Tuesday."""
    found = decoded(used_twice(), release=frozenset({"r1"}))
    burn = found.plan.run["r2"].burn
    assert burn is not None
    assert burn.start_tau == 540
    assert found.terms["burns"] == 1200
    assert [(one.after_run_id, one.block_id) for one in found.plan.reclaims] == [("r1", "reclaim Tue")]


def test_a_set_of_one_order_is_held_whatever_the_genome_says() -> None:
    """Before the order is packed nothing is reclaimed: front and sleeve of one order share the screens."""
    orders = [order_due("both", ("r1", "r2"), pickups_tau=(2700,))]
    one = used_twice(orders=orders)
    runs = [printed(r.run_id, "s1", order_id="both", blanks_tau=r.blanks_tau) for r in one.runs]
    same = week(runs=runs, orders=orders, sets=one.sets, frames=one.frames, screen_room=one.screen_room)
    assert plan(same, release=frozenset({"r1"})).run["r2"].burn is None


def test_a_set_is_on_one_press_at_a_time() -> None:
    """Two presses, one set: the second run waits until the first one is off."""
    offers = [[choice(press, on=stack(("s1.1", "white"), set_id="s1"))] for press in ("P1", "P2")]
    one = week(
        runs=[run("r1", set_id="s1", choices=offers[0]), run("r2", set_id="s1", choices=offers[1])],
        presses=[press_line("P1"), press_line("P2")],
        sets=[screen_set(is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    assert plan(one).run["r2"].set_up_start_tau == 60


def test_frames_that_hang_burned_come_back_first() -> None:
    """Burned sets nobody needs are reclaimed in the block they are booked for, and their frames are coated."""
    room = screen_room(
        reclaim_blocks=(reclaim_block(start=300, end=360),), coat_windows=(coat_window(start=480, ready=540),)
    )
    empty = {"frames": [frame_stock(coated_now=0, clean_now=0)], "screen_room": room}
    assert refusal(one_set(**empty)).run_ids == ("r1",)
    burn = plan(one_set(early_reclaims=(("reclaim Tue", "23x31/156", 2),), **empty)).run["r1"].burn
    assert burn is not None
    assert burn.start_tau == 540


@pytest.mark.parametrize(("ahead_min", "cents"), [(0, 0), (60, 120)])
def test_screens_that_come_ready_just_in_time_cost(ahead_min: int, cents: int) -> None:
    """Set up the minute its screens are taped, an hour of standing ready is missing at 2 cents a minute."""
    found = decoded(one_set(screen_room=screen_room(ahead_min=ahead_min, not_ahead_cents_per_min=2)))
    assert found.terms["ahead"] == found.cost_cents == cents
    assert price(found.tables.week, found.plan) == found.terms


def test_a_run_that_waits_for_its_screens_to_stand_pays_less() -> None:
    """Held back forty minutes, forty minutes less are missing."""
    one = one_set(screen_room=screen_room(ahead_min=60, not_ahead_cents_per_min=2))
    assert decoded(one, later=(("r1", 140),)).terms["ahead"] == 2 * 20


@pytest.mark.parametrize(("ahead_min", "starts", "cents"), [(60, 160, 0), (0, 100, 0)])
def test_a_run_may_wait_until_its_screens_have_stood_ready(ahead_min: int, starts: int, cents: int) -> None:
    """Taped at 100 and wanted an hour ahead: set up at 160 for nothing; where the shop wants no time, at once."""
    room = screen_room(ahead_min=ahead_min, not_ahead_cents_per_min=2)
    found = decoded(one_set(screen_room=room), stands=frozenset({"r1"}))
    assert found.plan.run["r1"].set_up_start_tau == starts
    assert found.terms["ahead"] == cents
    hanging = one_set(screen_room=room, sets=[screen_set(is_burned_now=True)])
    assert plan(hanging, stands=frozenset({"r1"})).run["r1"].set_up_start_tau == 0

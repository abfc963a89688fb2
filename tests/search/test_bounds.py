"""The lower bound: never above a valid plan, and every part of it by hand."""

import pytest

from scheduler.domain.week import Prices, SetUpMinutes, Week
from scheduler.search.bounds import lower_bound
from scheduler.search.construction import due_date_list, first_plans
from scheduler.search.decoder import Decoder
from scheduler.search.genome import genes_of
from scheduler.search.local import Counted, anneal
from tests.builders import (
    announced,
    choice,
    coat_window,
    fixing,
    floor_line,
    frame_stock,
    hours,
    ink,
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
from tests.search.decoding import decoded

MINUTES = SetUpMinutes(mount_min=10, load_min=4, card_min=1, clean_light_min=3, clean_dark_min=9, strike_off_min=5)


@pytest.mark.parametrize("size", ["tiny", "small", "medium"])
def test_no_plan_is_cheaper_than_the_bound(size: str) -> None:
    """The best plans found on random weeks cost at least the bound, in sum and in every term but traded ones."""
    tried = 0
    for seed in range(12 if size == "medium" else 60):
        one = random_week(seed, size=size)
        decoder = Decoder(one)
        found = first_plans(one, decoder)
        start = found[0].genome if found else due_date_list(one)
        best = anneal(decoder, genes_of(decoder.tables, start), Counted(80), seed)
        if best is None:
            continue
        bound = lower_bound(one)
        assert bound.cents == sum(bound.terms.values())
        assert bound.cents <= best.decoded.cost_cents
        assert all(bound.terms[name] <= best.decoded.terms[name] for name in bound.terms)
        tried += 1
    assert tried >= (6 if size == "medium" else 50)


def designs(*sets_and_inks: tuple[str, str], heads: int = 6, **more: object) -> Week:
    """One-screen runs at 10 cents a set-up minute."""
    runs = [
        run(f"r{i}", set_id=set_id, choices=[choice(on=stack((f"{set_id}.1", ink_id), set_id=set_id))])
        for i, (set_id, ink_id) in enumerate(sets_and_inks)
    ]
    press = press_line(set_up=MINUTES, set_up_cents_per_min=10, head_count=heads, **more)
    return week(
        runs=runs,
        presses=[press],
        sets=[
            screen_set(set_id, screens=1, is_burned_now=True) for set_id in dict.fromkeys(s for s, _ in sets_and_inks)
        ],
        inks=[ink("white"), ink("red"), ink("wb", idle_ok_min=30)],
        frames=[frame_stock()],
        screen_room=screen_room(burn_cents_per_screen=300),
    )


@pytest.mark.parametrize(
    ("runs", "minutes"),
    [
        ([("s1", "white")], 10 + 4 + 5),
        ([("s1", "white"), ("s2", "white")], 2 * 15 + 4),  # one loading of white for both
        ([("s1", "white"), ("s1", "white")], 10 + 5 + 4),  # one mounting and one test print for one set
        ([("s1", "white"), ("s1", "red")], 10 + 5 + 4 + 4),
        ([("s1", "wb"), ("s2", "wb")], 2 * (10 + 4 + 5)),  # what dries is loaded every time
    ],
)
def test_set_ups_nothing_can_spare(runs: list[tuple[str, str]], minutes: int) -> None:
    """Mount each screen, load each ink, test print each set once; what dries, every time."""
    assert lower_bound(designs(*runs)).terms["set_up"] == 10 * minutes


def test_the_bound_is_met_where_nothing_is_lost() -> None:
    """Two designs in white on a roomy press: the plan costs what the bound says plus one card."""
    one = designs(("s1", "white"), ("s2", "white"))
    assert decoded(one).cost_cents == lower_bound(one).cents + 10


def test_what_stands_on_the_press_is_spared() -> None:
    """A screen and its ink on the press now may cost nothing at all."""
    one = designs(("s1", "white"), now_on=stack(("s1.1", "white"), set_id="s1"))
    assert lower_bound(one).cents == 0
    assert decoded(one).cost_cents == 0


def test_the_cheapest_press_counts() -> None:
    """On two presses the bound takes the one where the run costs less."""
    offers = [
        choice(press, on=stack(("s1.1", "white"), set_id="s1"), wash_up_min=w) for press, w in (("P1", 0), ("P2", 1))
    ]
    presses = [
        press_line("P1", set_up=MINUTES, set_up_cents_per_min=10),
        press_line("P2", set_up=SetUpMinutes(mount_min=1), set_up_cents_per_min=10),
    ]
    one = week(
        runs=[run(set_id="s1", choices=offers)],
        presses=presses,
        sets=[screen_set(is_burned_now=True)],
        frames=[frame_stock()],
    )
    assert lower_bound(one).terms["set_up"] == 20


@pytest.mark.parametrize(("is_burned", "cents"), [(False, 600), (True, 0)])
def test_a_set_is_burned_once(is_burned: bool, cents: int) -> None:
    """Held for all its runs, a set costs one burn, or none if it hangs burned."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run(f"r{i}", set_id="s1", choices=offers) for i in range(3)],
        sets=[screen_set(is_burned_now=is_burned)],
        frames=[frame_stock()],
        screen_room=screen_room(burn_cents_per_screen=300),
    )
    assert lower_bound(one).terms["burns"] == cents
    assert decoded(one).terms["burns"] == cents


def one_order(pickup_tau: int, **more: object) -> Week:
    """One run of an hour for a pick-up, 900 a late day and 70 for the last 20 minutes before it."""
    due = order_due("or1", pickups_tau=(pickup_tau, 2700), late_cents=900, cushion_min=20, cushion_cents=70)
    return week(**{"runs": [run(cure_min=3)], "orders": [due], **more})


@pytest.mark.parametrize(("pickup_tau", "late", "cushion"), [(83, 0, 0), (82, 0, 70), (63, 0, 70), (62, 900, 70)])
def test_an_order_alone_has_its_earliest_date(pickup_tau: int, late: int, cushion: int) -> None:
    """Sixty minutes of printing and three of cure: whoever picks up before is missed."""
    bound = lower_bound(one_order(pickup_tau))
    assert (bound.terms["late"], bound.terms["cushion"]) == (late, cushion)


SPLIT = hours((0, 30), (50, 540))
"""A press closed from 30 to 50."""
SPLIT_LATE = hours((0, 30), (30, 50, "late Mon"), (70, 540))
"""Overtime from 30 to 50, closed until 70."""
AFTER = [run("a", order_id="or1", cure_min=3), run("r1", order_id="or1", cure_min=3, print_after=("a",))]
ON_ONE_LOT = [
    run(name, order_id="or1", lots=["tees"], cure_min=3, between_min=rest_min)
    for name, rest_min in (("a", 5), ("b", 9))
]


@pytest.mark.parametrize(
    ("more", "packed_tau"),
    [
        ({"runs": [run(cure_min=3, blanks_tau=40)]}, 103),
        ({"runs": [run(cure_min=3, blanks_tau=40)], "staging": floor_line(minutes=7)}, 110),
        ({"presses": [press_line(calendar=SPLIT)]}, 83),
        ({"presses": [press_line(calendar=SPLIT_LATE)], "overtime": [overtime()]}, 83),
        ({"runs": [run(cure_min=3, choices=[choice(stated_set_up_min=9)])]}, 72),
        ({"runs": [run(cure_min=3)], "fixings": [fixing("r1", press_id="P1", at=21)]}, 84),
        ({"runs": AFTER}, 126),
        ({"runs": ON_ONE_LOT}, 60 + 60 + 8 + 3),
    ],
)
def test_times_that_nothing_can_shorten(more: dict[str, object], packed_tau: int) -> None:
    """Garments, staging, closed hours, set-up, locks, print order and lots each delay an order that is alone."""
    runs = more.get("runs", [])
    ids = tuple(one.run_id for one in runs) or ("r1",)  # type: ignore[attr-defined]
    for pickup_tau, late in ((packed_tau, 0), (packed_tau - 1, 900)):
        due = order_due("or1", ids, pickups_tau=(pickup_tau, 2700), late_cents=900)
        assert lower_bound(one_order(pickup_tau, **{**more, "orders": [due]})).terms["late"] == late


@pytest.mark.parametrize(("coated", "packed_tau"), [(2, 160), (1, 700)])
def test_screens_delay_an_order(coated: int, packed_tau: int) -> None:
    """Burn, dry and tape come first; without enough coated frames, tonight's coating too."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    for pickup_tau, late in ((packed_tau, 0), (packed_tau - 1, 900)):
        due = order_due("or1", pickups_tau=(pickup_tau, 2700), late_cents=900)
        one = week(
            runs=[run(set_id="s1", choices=offers)],
            orders=[due],
            sets=[screen_set()],
            frames=[frame_stock(coated_now=coated, clean_now=5)],
            screen_room=screen_room(coat_windows=(coat_window(),)),
        )
        assert lower_bound(one).terms["late"] == late
        assert decoded(one).terms["late"] == late


@pytest.mark.parametrize(("at", "press_id", "cents"), [(70, "P1", 0), (69, "P1", 700), (70, "P9", 700)])
def test_an_announced_run_that_cannot_stay(at: int, press_id: str, cents: int) -> None:
    """Garments too late for the announced time, or a press it no longer fits: the move is paid for."""
    one = week(
        runs=[run(blanks_tau=100)],
        announced=[announced(press_id=press_id, at=at)],
        prices=Prices(move_cents=700, move_free_min=30),
    )
    assert lower_bound(one).terms["moves"] == cents

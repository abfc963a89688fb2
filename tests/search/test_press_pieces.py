"""Set-up minutes nothing can spare a press: never more than any queue really takes, and every piece by hand."""

import random
from collections.abc import Iterable

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import SetUpMinutes, Stack, Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from scheduler.search.press_pieces import PressPieces, press_pieces
from scheduler.search.tables import tables_of
from tests.builders import choice, fixing, ink, press_line, run, stack, week
from tests.random_weeks import random_week

MINUTES = SetUpMinutes(
    mount_min=10,
    load_min=4,
    card_min=1,
    clean_light_min=3,
    clean_dark_min=9,
    pallet_min=20,
    flash_move_min=2,
    strike_off_min=5,
)
MOUNTED = 10 + 1
"""A screen mounted for the first time costs at least its card."""
LOADED = 4 - 1
"""An ink filled for the first time costs more than the card counted with its screen."""


def least_min(one: PressPieces, here: Iterable[int]) -> int:
    """Minutes a press owes if exactly these runs come to it."""
    runs = set(here)
    counts = []
    for piece in one.pieces:
        spared = sum(times for number, times in (piece.spared or {}).items() if number in runs)
        asked = [times - piece.less - spared for number, times in piece.asks.items() if number in runs]
        counts.append(max([0, *asked]))
    total = sum(one.own_min[number] for number in runs)
    total += sum(count * piece.minutes for count, piece in zip(counts, one.pieces, strict=True))
    for change in one.changes:
        total += change.minutes * max(0, sum(counts[number] for number in change.pieces) - change.free)
    return total


def taken_min(plan: Plan, press_id: str) -> int:
    """Set-up minutes of a press's queue."""
    return sum(planned.set_up_min for planned in plan.queue.get(press_id, ()))


@pytest.mark.parametrize("size", ["tiny", "small", "medium"])
def test_no_queue_takes_less_than_its_press_owes(size: str) -> None:
    """Whatever the order of the runs and the inks kept, set-ups take at least the pieces of the runs that came."""
    rng = random.Random(5)
    tried = 0
    for seed in range(24 if size == "medium" else 120):
        one = random_week(seed, size=size)
        decoder = Decoder(one)
        tables = decoder.tables
        owed = [press_pieces(tables, press) for press in range(len(one.presses))]
        for _ in range(4):
            order = rng.sample(list(one.run), len(one.run))
            decoded = decoder.decode(Genome(order=tuple(order)))
            if not isinstance(decoded, Decoded):
                continue
            tried += 1
            for pieces, press in zip(owed, one.presses, strict=True):
                came = [tables.run_number[planned.run_id] for planned in decoded.plan.queue.get(press.press_id, ())]
                assert least_min(pieces, came) <= taken_min(decoded.plan, press.press_id)
    assert tried >= (40 if size == "medium" else 300)


def owed_min(*stacks: Stack, now_on: Stack | None = None, stated: int | None = None, heads: int = 6) -> int:
    """What one press owes for runs of these stacks; `stated` set-up minutes for the first."""
    return least_min(
        press_pieces(tables_of(shop(*stacks, now_on=now_on, stated=stated, heads=heads)), 0), range(len(stacks))
    )


def shop(*stacks: Stack, now_on: Stack | None = None, stated: int | None = None, heads: int = 6) -> Week:
    """One press, one run for each stack."""
    runs = [
        run(f"r{i}", choices=[choice(on=one, stated_set_up_min=stated if i == 0 else None)])
        for i, one in enumerate(stacks)
    ]
    return week(
        runs=runs,
        presses=[press_line(set_up=MINUTES, now_on=now_on or Stack(), head_count=heads)],
        inks=[ink("white"), ink("red", is_dark=True), ink("blue"), ink("wb", idle_ok_min=30)],
    )


WHITE = stack(("a", "white"))
RED = stack(("b", "red"))
BOTH = stack(("a", "white"), ("b", "red"))


@pytest.mark.parametrize(
    ("stacks", "minutes"),
    [
        ([WHITE], MOUNTED + LOADED + 5),
        ([WHITE, WHITE], MOUNTED + LOADED + 5),  # the second finds all as it is
        ([WHITE, stack(("c", "white"))], 2 * (MOUNTED + 5) + LOADED),  # white is loaded once and carded once
        ([BOTH, RED], 2 * (MOUNTED + LOADED) + 5),  # fewer heads of the same stack: no test print of their own
        ([stack(("a", "wb"))], 10 + 4 + 5),
        ([stack(("a", "wb")), stack(("a", "wb"))], 10 + 2 * (4 + 5)),  # what dries is loaded every time
        ([stack(("a", "white"), ("c", "white"))], 2 * (MOUNTED + LOADED) + 5),
        (
            [stack(("a", "white"), flash_after=(0,)), stack(("b", "red"), flash_after=(0,))],
            2 * (MOUNTED + LOADED + 5) + 2,
        ),
    ],
)
def test_what_runs_owe_together(stacks: list[Stack], minutes: int) -> None:
    """Mount each screen, fill each ink, test print each stack and move each flash once; what dries, every time."""
    assert owed_min(*stacks) == minutes


@pytest.mark.parametrize(
    ("now_on", "minutes"),
    [
        (WHITE, 0),
        (stack(("a", "red")), LOADED + 5),
        (stack(("c", "white")), MOUNTED + 5),
        (stack(("a", "wb")), LOADED + 5),  # what dried is washed out
    ],
)
def test_what_stands_there_is_spared(now_on: Stack, minutes: int) -> None:
    """A screen on the press is not mounted, an ink in it not loaded; with both there is no test print either."""
    assert owed_min(WHITE, now_on=now_on) == minutes


def test_a_stated_set_up_may_spare_others_theirs() -> None:
    """A run with a stated set-up brings screen and ink for nothing more; a run after it may find them."""
    assert owed_min(WHITE, WHITE, stated=7) == 7


def test_a_started_run_owes_what_is_left() -> None:
    """A run on the press takes the rest of its set-up, and may spare others theirs."""
    one = week(
        runs=[run(f"r{i}", choices=[choice(on=WHITE)]) for i in range(2)],
        presses=[press_line(set_up=MINUTES)],
        fixings=[fixing("r0", "started", press_id="P1", at=0, left=3)],
    )
    assert least_min(press_pieces(tables_of(one), 0), [0, 1]) == 3


@pytest.mark.parametrize(("now", "kinds", "changes"), [(None, 2, 1), ("adult", 2, 1), ("bag", 2, 2), (None, 1, 0)])
def test_pallets_change_once_for_each_kind(now: str | None, kinds: int, changes: int) -> None:
    """Each pallet kind is put on once; the first costs nothing where it is not known what stands there."""
    stacks = [stack(("a", "white"), pallet=kind) for kind in ("adult", "youth")[:kinds]]
    plain = owed_min(*[stack(("a", "white")) for _ in stacks])
    assert owed_min(*stacks, now_on=Stack(pallet=now)) == plain + 20 * changes


def test_more_inks_than_heads_have_to_leave() -> None:
    """Three inks on a press of two heads: one of them leaves, for no less than the cheapest takes."""
    stacks = [stack((name, name)) for name in ("white", "red", "blue")]
    assert owed_min(*stacks, heads=2) == owed_min(*stacks) + 3

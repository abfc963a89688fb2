"""Frames: burned only when coated in time, coated only when clean in time."""

import itertools
import random

import pytest

from scheduler.search.frames import FrameLedger, FrameShop, frame_shop
from scheduler.search.timing import NEVER
from tests.builders import coat_window, frame_stock, screen_room, week


def ledger(*, coated: int = 2, clean: int = 3, places: int = 2) -> FrameLedger:
    """One class; coating at 480 (ready 540) and at 1020 (ready 1080)."""
    windows = [
        coat_window("Mon", start=480, end=540, ready=540, places=places),
        coat_window("Tue", start=1020, end=1080, ready=1080, places=places),
    ]
    one = week(
        frames=[frame_stock("156", coated_now=coated, clean_now=clean)], screen_room=screen_room(coat_windows=windows)
    )
    return FrameLedger(frame_shop(one))


def test_the_wall_serves_first() -> None:
    """Coated frames are burned at once, as many as hang there."""
    frames = ledger()
    assert frames.earliest(0, ((0, 2),)) == 0
    assert frames.earliest(0, ((0, 3),)) == 540
    frames.burn(100, ((0, 2),))
    assert frames.earliest(0, ((0, 1),)) == 540


def test_a_window_coats_no_more_than_its_places() -> None:
    """Two places a window: the third frame waits for the next window."""
    frames = ledger(coated=0)
    assert frames.earliest(0, ((0, 2),)) == 540
    assert frames.earliest(0, ((0, 3),)) == 1080
    assert frames.earliest(0, ((0, 4),)) == NEVER  # three clean frames in all


def test_a_reclaimed_frame_is_coated_after_its_block() -> None:
    """A frame clean at the start of a window is coated in it, one minute later in the next."""
    for end_tau, ready_tau in ((480, 540), (481, 1080)):
        frames = ledger(coated=0, clean=0)
        assert frames.earliest(0, ((0, 1),)) == NEVER
        frames.reclaim(end_tau, ((0, 1),))
        assert frames.earliest(0, ((0, 1),)) == ready_tau


def test_an_early_burn_may_not_rob_a_later_one() -> None:
    """A burn that takes the last coated frame away from one that is planned already has to wait."""
    frames = ledger(coated=1, clean=0)
    frames.burn(800, ((0, 1),))
    assert not frames.can_burn(0, ((0, 1),))
    frames.unburn(800, ((0, 1),))
    assert frames.can_burn(0, ((0, 1),))


def test_coating_goes_to_the_burn_that_comes_first() -> None:
    """Two classes share the places; whoever burns first is coated first."""
    windows = [coat_window("Mon", start=480, ready=540, places=1), coat_window("Tue", start=1020, ready=1080, places=1)]
    one = week(
        frames=[frame_stock("156", coated_now=0, clean_now=1), frame_stock("230", coated_now=0, clean_now=1)],
        screen_room=screen_room(coat_windows=windows),
    )
    frames = FrameLedger(frame_shop(one))
    frames.burn(1100, ((0, 1),))
    assert frames.earliest(0, ((1, 1),)) == 540
    frames.burn(540, ((1, 1),))
    first, second = frames.coat_batches()
    assert (first.window_id, first.class_id, first.count) == ("Mon", "230", 1)
    assert (second.window_id, second.class_id, second.count) == ("Tue", "156", 1)


def test_free_places_coat_ahead() -> None:
    """What is clean is coated while there is room, whether a burn waits for it or not."""
    assert [batch.count for batch in ledger(coated=0, clean=3).coat_batches()] == [2, 1]


def test_a_burn_that_was_refused_is_a_fault() -> None:
    """Booking a burn without frames is found at the latest when the coating is read out."""
    frames = ledger(coated=0, clean=0)
    frames.burn(0, ((0, 1),))
    with pytest.raises(RuntimeError, match="no coated frames"):
        frames.coat_batches()


def test_a_way_is_found_whenever_there_is_one() -> None:
    """The ledger says yes exactly when some split of the coating places serves every burn."""
    rng = random.Random(7)
    windows = [(480, 540), (1020, 1080)]
    seen = {True: 0, False: 0}
    for _ in range(300):
        places = [rng.randint(1, 3) for _ in windows]
        stock = [(rng.randint(0, 2), rng.randint(0, 2)) for _ in range(2)]
        one = week(
            frames=[frame_stock(str(i), coated_now=coated, clean_now=clean) for i, (coated, clean) in enumerate(stock)],
            screen_room=screen_room(
                coat_windows=[
                    coat_window(str(i), start=start, ready=ready, places=places[i])
                    for i, (start, ready) in enumerate(windows)
                ]
            ),
        )
        frames = FrameLedger(frame_shop(one))
        reclaimed = [(rng.choice([400, 800]), rng.randrange(2)) for _ in range(rng.randint(0, 2))]
        for end_tau, frame_class in reclaimed:
            frames.reclaim(end_tau, ((frame_class, 1),))
        burns = [(rng.choice([0, 540, 1080]), rng.randrange(2), rng.randint(1, 2)) for _ in range(rng.randint(1, 3))]
        booked: list[tuple[int, int, int]] = []
        for burn in burns:
            start_tau, frame_class, count = burn
            can = frames.can_burn(start_tau, ((frame_class, count),))
            assert can is some_split_works(windows, places, stock, reclaimed, [*booked, burn])
            seen[can] += 1
            if can:
                booked.append(burn)
                frames.burn(start_tau, ((frame_class, count),))
    assert min(seen.values()) > 50


def some_split_works(
    windows: list[tuple[int, int]],
    places: list[int],
    stock: list[tuple[int, int]],
    reclaimed: list[tuple[int, int]],
    burns: list[tuple[int, int, int]],
) -> bool:
    """Try every number of frames of both classes in both windows."""
    splits = [[(a, b) for a in range(p + 1) for b in range(p + 1 - a)] for p in places]
    return any(serves(windows, split, stock, reclaimed, burns) for split in itertools.product(*splits))


def serves(
    windows: list[tuple[int, int]],
    split: tuple[tuple[int, int], ...],
    stock: list[tuple[int, int]],
    reclaimed: list[tuple[int, int]],
    burns: list[tuple[int, int, int]],
) -> bool:
    """Follow one split through the week."""
    for frame_class, (coated, clean) in enumerate(stock):
        for at, (start_tau, _) in enumerate(windows):
            back = sum(end_tau <= start_tau for end_tau, of in reclaimed if of == frame_class)
            if clean + back < sum(counts[frame_class] for counts in split[: at + 1]):
                return False
        for tau in (0, 540, 1080):
            ready = sum(split[at][frame_class] for at, (_, ready_tau) in enumerate(windows) if ready_tau <= tau)
            used = sum(count for start_tau, of, count in burns if of == frame_class and start_tau <= tau)
            if coated + ready < used:
                return False
    return True


def test_asking_for_one_burn_and_coating_for_all_say_the_same() -> None:
    """Whether a burn can be had is what coating frame by frame for all burns comes to, on drawn shops and burns."""
    rng = random.Random(4)
    answers = []
    for _ in range(300):
        windows = tuple(sorted((at := rng.randrange(0, 900, 60), at + 60, rng.randrange(5)) for _ in range(4)))
        ledger = FrameLedger(
            FrameShop(
                class_ids=("a", "b"),
                coated_now=(rng.randrange(3), rng.randrange(3)),
                clean_now=(rng.randrange(6), rng.randrange(6)),
                windows=windows,
                window_ids=tuple("1234"),
                readies=tuple(sorted({ready_tau for _, ready_tau, _ in windows})),
            )
        )
        for _ in range(12):
            start_tau, frames = rng.randrange(0, 1200, 20), ((rng.randrange(2), rng.randrange(1, 4)),)
            if rng.random() < 0.2:
                ledger.reclaim(rng.randrange(0, 900, 60), ((rng.randrange(2), 2),))
            can = ledger.can_burn(start_tau, frames)
            ledger.burn(start_tau, frames)
            if can:
                assert ledger.coat_batches() is not None
            else:
                with pytest.raises(RuntimeError):
                    ledger.coat_batches()
                ledger.unburn(start_tau, frames)
            answers.append(can)
    assert 0.2 < sum(answers) / len(answers) < 0.9

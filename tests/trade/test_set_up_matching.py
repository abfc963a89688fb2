"""The pairing of heads against every pairing there is, on seeded random stacks, and its general laws."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.week import SetUpMinutes, Stack
from scheduler.trade.set_up import base_minutes, may_keep, pair_minutes, pair_set_up, set_up_minutes
from tests.builders import ink, stack

INKS = {
    one.ink_id: one
    for one in (
        ink("white"),
        ink("yellow"),
        ink("red", is_dark=True),
        ink("black", is_dark=True),
        ink("wet blue", is_dark=True, idle_ok_min=20),
        ink("wet white", idle_ok_min=20),
    )
}
Pairs = tuple[tuple[int, int], ...]


def random_stack(rng: random.Random, screens: list[str]) -> Stack:
    """Up to five heads, every screen at most once, drawn from few enough names that stacks share many."""
    count = rng.randint(0, 5)
    names = rng.sample(screens, count)
    return stack(
        *((name, rng.choice(list(INKS))) for name in names),
        flash_after=tuple(sorted(rng.sample(range(5), rng.randint(0, 2)))),
        pallet=rng.choice([None, "adult", "youth"]),
    )


def random_minutes(rng: random.Random) -> SetUpMinutes:
    """Small whole numbers, so that ties are frequent."""
    return SetUpMinutes(
        mount_min=rng.randint(0, 5),
        load_min=rng.randint(0, 3),
        card_min=rng.randint(0, 6),
        swap_min=rng.choice([None, None, 0, 2]),
        clean_light_min=rng.randint(0, 3),
        clean_dark_min=rng.randint(0, 5),
        pallet_min=rng.randint(0, 9),
        flash_move_min=rng.randint(0, 4),
        strike_off_min=rng.randint(0, 9),
    )


def draw(seed: int) -> tuple[Stack, Stack, SetUpMinutes]:
    """Two stacks that share screens and inks, and a shop's minutes."""
    rng = random.Random(f"set-up {seed}")
    screens = [f"s{number}" for number in range(rng.choice([5, 6, 8, 12]))]
    return random_stack(rng, screens), random_stack(rng, screens), random_minutes(rng)


def every_matching(old: Stack, new: Stack) -> Iterator[Pairs]:
    """All pairings of equal numbers of heads, both sides rising, in which every pair shares a screen or a wet ink."""
    for size in range(min(len(old.heads), len(new.heads)) + 1):
        for some_old in combinations(range(len(old.heads)), size):
            for some_new in combinations(range(len(new.heads)), size):
                pairs = tuple(zip(some_old, some_new, strict=True))
                heads = [(old.heads[i], new.heads[j]) for i, j in pairs]
                if all(
                    a.screen_id == b.screen_id or (a.ink_id == b.ink_id and not INKS[a.ink_id].dries) for a, b in heads
                ):
                    yield pairs


def count(pairs: Pairs, old: Stack, new: Stack) -> tuple[int, int, Counter[str], Counter[str]]:
    """Mounts, cards, leaves and loads of one pairing, head by head."""
    mounts = cards = 0
    leaves: Counter[str] = Counter()
    loads: Counter[str] = Counter()
    by_old, by_new = dict(pairs), {j: i for i, j in pairs}
    for i, was in enumerate(old.heads):
        if INKS[was.ink_id].dries:
            continue
        if i not in by_old or new.heads[by_old[i]].ink_id != was.ink_id:
            leaves[was.ink_id] += 1
    for j, now in enumerate(new.heads):
        before = old.heads[by_new[j]] if j in by_new else None
        stays = before is not None and before.ink_id == now.ink_id and not INKS[now.ink_id].dries
        if before is None or before.screen_id != now.screen_id:
            mounts += 1
            cards += stays
        if not stays:
            loads[now.ink_id] += 1
    return mounts, cards, leaves, loads


def paired_minutes(pairs: Pairs, old: Stack, new: Stack, minutes: SetUpMinutes) -> int:
    """Minutes that the pairing decides on."""
    mounts, cards, leaves, loads = count(pairs, old, new)
    leave = sum(minutes.leave_min(INKS[name]) * heads for name, heads in leaves.items())
    return minutes.mount_min * mounts + minutes.card_min * cards + minutes.load_min * loads.total() + leave


@pytest.mark.parametrize("block", range(8))
def test_no_pairing_of_heads_is_cheaper(block: int) -> None:
    """On 100 drawn stacks a block, the pairing is the best of all that keep the order, ties settled as told."""
    for seed in range(block * 100, block * 100 + 100):
        old, new, minutes = draw(seed)

        def rank(
            pairs: Pairs, old: Stack = old, new: Stack = new, minutes: SetUpMinutes = minutes
        ) -> tuple[object, ...]:
            stay = sum(old.heads[i].screen_id == new.heads[j].screen_id for i, j in pairs)
            of_new = {j: i for i, j in pairs}
            earliest = tuple(of_new.get(j, len(old.heads)) for j in range(len(new.heads)))
            return paired_minutes(pairs, old, new, minutes), -stay, earliest

        expected = min(every_matching(old, new), key=rank)
        pair = pair_set_up(old, new, minutes, INKS)
        assert pair.matched == expected, seed
        mounts, cards, leaves, loads = count(expected, old, new)
        assert (pair.mounts, pair.cards) == (mounts, cards), seed
        assert (dict(pair.leaves), dict(pair.loads)) == (leaves, loads), seed
        extra = pair.pallet_min + pair.flash_min + pair.strike_off_min
        assert pair_minutes(pair, minutes, INKS) == paired_minutes(expected, old, new, minutes) + extra, seed


@pytest.mark.parametrize("seed", range(0, 800, 4))
def test_kept_inks_change_the_counts_ink_by_ink(seed: int) -> None:
    """Counted ink by ink: a kept ink leaves one head less, a given-up one more; a returning one is carded."""
    old, new, minutes = draw(seed)
    rng = random.Random(f"kept {seed}")
    standing = sorted(set(INKS) - {head.ink_id for head in old.heads} - {"wet blue", "wet white"})
    before = set(rng.sample(standing, rng.randint(0, len(standing))))
    allowed = sorted(may_keep(old, new, before, INKS))
    after = set(rng.sample(allowed, rng.randint(0, len(allowed))))
    pair = pair_set_up(old, new, minutes, INKS)
    wanted = {head.ink_id for head in new.heads}
    leaves, loads = dict(pair.leaves), dict(pair.loads)
    expected = base_minutes(pair, minutes)
    for name in INKS:
        goes = leaves.get(name, 0) - (name in after - before) + (name in before - after - wanted)
        fills = loads.get(name, 0) - (name in before & wanted)
        assert goes >= 0, "no ink can leave fewer than no heads"
        assert fills >= 0, "no fewer than no heads are loaded"
        expected += goes * minutes.leave_min(INKS[name]) + fills * minutes.load_min
        expected += minutes.card_min * (name in before & wanted)
    assert set_up_minutes(pair, old, new, minutes, INKS, before, after) == expected


HEADS = st.lists(
    st.tuples(st.sampled_from([f"s{number}" for number in range(7)]), st.sampled_from(sorted(INKS))),
    max_size=5,
    unique_by=lambda head: head[0],
)
STACKS = st.builds(
    lambda heads, flashes, pallet: stack(*heads, flash_after=tuple(sorted(flashes)), pallet=pallet),
    HEADS,
    st.sets(st.integers(0, 4), max_size=2),
    st.sampled_from(["adult", "youth", "bag"]),
)
MINUTES = st.builds(
    SetUpMinutes,
    mount_min=st.integers(1, 12),
    load_min=st.integers(1, 6),
    card_min=st.integers(0, 12),
    swap_min=st.none() | st.integers(0, 5),
    clean_light_min=st.integers(0, 10),
    clean_dark_min=st.integers(0, 20),
    pallet_min=st.integers(0, 30),
    flash_move_min=st.integers(0, 10),
    strike_off_min=st.integers(0, 20),
)


@given(old=STACKS, between=STACKS, new=STACKS, minutes=MINUTES)
def test_a_run_put_in_between_never_saves_set_up(old: Stack, between: Stack, new: Stack, minutes: SetUpMinutes) -> None:
    """Going from one stack to another by way of a third takes at least as long as going straight (pallets named)."""

    def between_min(before: Stack, after: Stack) -> int:
        return pair_minutes(pair_set_up(before, after, minutes, INKS), minutes, INKS)

    assert between_min(old, new) <= between_min(old, between) + between_min(between, new)


@given(old=STACKS, new=STACKS, minutes=MINUTES)
def test_never_dearer_than_starting_from_a_cleared_press(old: Stack, new: Stack, minutes: SetUpMinutes) -> None:
    """What stood there can only save mounting and loading; it costs at most its own inks' leaving."""
    pair = pair_set_up(old, new, minutes, INKS)
    cleared = pair_minutes(pair_set_up(Stack(), new, minutes, INKS), minutes, INKS)
    leaving = sum(minutes.leave_min(INKS[head.ink_id]) for head in old.heads if not INKS[head.ink_id].dries)
    assert pair_minutes(pair, minutes, INKS) - pair.pallet_min <= cleared + leaving
    assert 0 <= pair.cards <= pair.mounts <= len(new.heads)
    assert sum(heads for _, heads in pair.loads) + pair.cards + _untouched(old, new, pair.matched) == len(new.heads)


def _untouched(old: Stack, new: Stack, matched: Pairs) -> int:
    return sum(old.heads[i] == new.heads[j] and not INKS[old.heads[i].ink_id].dries for i, j in matched)


def test_one_order_of_two_runs_is_dearer_than_the_other() -> None:
    """Set-ups are not the same both ways round: dark to light is dearer, and a design with more screens too."""
    minutes = SetUpMinutes(mount_min=5, load_min=2, card_min=1, clean_light_min=3, clean_dark_min=9)
    light, dark = stack(("a1", "white"), ("a2", "yellow")), stack(("b1", "red"))

    def between_min(before: Stack, after: Stack) -> int:
        return pair_minutes(pair_set_up(before, after, minutes, INKS), minutes, INKS)

    assert between_min(light, dark) == 5 + 2 + 2 * 3
    assert between_min(dark, light) == 2 * (5 + 2) + 9


@pytest.mark.parametrize("seed", range(20))
def test_the_same_stacks_give_the_same_pairing(seed: int) -> None:
    """Two calls agree to the last head, so press sheets do not change by themselves."""
    old, new, minutes = draw(seed)
    assert pair_set_up(old, new, minutes, INKS) == pair_set_up(old, new, minutes, dict(reversed(INKS.items())))

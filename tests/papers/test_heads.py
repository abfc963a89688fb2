import random
from itertools import pairwise

import pytest

from scheduler.domain.week import PressChoice, PressLine, Stack
from scheduler.papers.heads import Placing, place, standing
from tests import builders

INKS = {
    one.ink_id: one
    for one in (
        builders.ink("white"),
        builders.ink("red"),
        builders.ink("black"),
        builders.ink("blue", idle_ok_min=30),
    )
}


def press(heads: int = 6, *, now_on: Stack | None = None, flash_takes: tuple[str, ...] = ()) -> PressLine:
    """A press with mounting dearer than anything else, as presses are."""
    minutes = builders.SetUpMinutes(mount_min=5, load_min=2, card_min=1, clean_light_min=3, clean_dark_min=3)
    return builders.press_line(head_count=heads, set_up=minutes, now_on=now_on or Stack(), flash_takes=flash_takes)


def offer(*heads: tuple[str, str], flash_after: tuple[int, ...] = (), extra: int = 0) -> PressChoice:
    """A run on these (screen, ink) heads; `extra` heads more for flashes and cool-downs."""
    return builders.choice(on=builders.stack(*heads, flash_after=flash_after), heads_needed=len(heads) + extra)


def after(line: PressLine, *offers: PressChoice | tuple[PressChoice, tuple[str, ...]]) -> Placing:
    """Where things stand after these runs, one after the other; a pair gives the inks kept beside the run too."""
    now = standing(line)
    for one in offers:
        choice, kept = one if isinstance(one, tuple) else (one, ())
        now, _ = place(line, now, choice, kept, INKS)
    return now


def test_a_bare_press_is_filled_from_the_first_head() -> None:
    """On a bare press screens take the first heads in print order."""
    assert after(press(), offer(("a:1", "white"), ("a:2", "red"))).of_screen == (1, 2)


def test_what_stays_keeps_its_head() -> None:
    """The light lot of a dark design leaves the underbase's head empty and moves nothing."""
    dark = offer(("a:base", "white"), ("a:1", "white"), ("a:2", "red"))
    assert after(press(), dark, offer(("a:1", "white"), ("a:2", "red"))).of_screen == (2, 3)


def test_a_new_screen_takes_a_free_head_between() -> None:
    """A screen that comes between two that stay takes the head between them if one is free."""
    wide = offer(("a:1", "white"), ("b:1", "black"), ("a:2", "red"))
    assert after(press(), wide, offer(("a:1", "white"), ("c:1", "blue"), ("a:2", "red"))).of_screen == (1, 2, 3)


def test_order_beats_staying() -> None:
    """Where no head is free between two that stay, one of them moves, because print order is law."""
    now = after(
        press(3), offer(("a:1", "white"), ("a:2", "red")), offer(("a:1", "white"), ("b:1", "black"), ("a:2", "red"))
    )
    assert now.of_screen == (1, 2, 3)


def test_a_kept_ink_stays_where_it_stands() -> None:
    """White kept live beside the next run stays on its head and the new screen goes round it."""
    before = offer(("a:1", "white"), ("a:2", "red"))
    now = after(press(), before, (offer(("b:1", "black")), ("white",)))
    assert now.of_kept == (("white", 1),)
    assert now.of_screen == (2,)


def test_a_kept_ink_is_taken_up_where_it_stands() -> None:
    """A run that prints white again gets it on the head where it stood by."""
    runs = (offer(("a:1", "red"), ("a:2", "white")), (offer(("b:1", "black")), ("white",)), offer(("c:1", "white")))
    assert after(press(), *runs).of_screen == (2,)


def test_a_kept_ink_moves_when_the_run_needs_its_head() -> None:
    """Where the run needs every head but one, the kept ink takes the head left over."""
    full = offer(("b:1", "red"), ("b:2", "black"))
    now = after(press(3, now_on=builders.stack(("x:1", "red"), ("x:2", "white"), ("x:3", "black"))), (full, ("white",)))
    assert sorted([*now.of_screen, *dict(now.of_kept).values()]) == [1, 2, 3]
    assert now.of_screen == (1, 3)


@pytest.mark.parametrize(
    ("takes", "screens", "free"),
    [
        ((), (1, 2), ()),
        (("flash",), (1, 3), ((2, "flash"),)),
        (("cool-down",), (1, 3), ((2, "cool-down"),)),
        (("flash", "cool-down"), (1, 4), ((2, "flash"), (3, "cool-down"))),
    ],
)
def test_flashes_take_heads_where_the_press_needs_them(
    takes: tuple[str, ...], screens: tuple[int, ...], free: tuple[tuple[int, str], ...]
) -> None:
    """A flash in a head and its cool-down head stand right after the head they dry, each under its own name."""
    run = offer(("a:base", "white"), ("a:1", "white"), flash_after=(0,), extra=len(takes))
    now = after(press(flash_takes=takes), run)
    assert (now.of_screen, now.of_free) == (screens, free)


def test_more_heads_than_the_press_has_are_counted_on() -> None:
    """A plan that asks too much of a press can still be told: heads are counted on beyond its last."""
    assert after(press(1), offer(("a:1", "white"), ("a:2", "red"))).of_screen == (1, 2)


def _random_offer(rng: random.Random) -> PressChoice:
    count = rng.randint(1, 4)
    design = rng.choice("abc")
    heads = [(f"{design}:{number}", rng.choice(sorted(INKS))) for number in range(count)]
    flash = (0,) if rng.random() < 0.4 else ()
    return offer(*heads, flash_after=flash, extra=rng.choice([0, 1, 2]) if flash else 0)


@pytest.mark.parametrize("seed", range(40))
def test_heads_rise_and_are_never_shared(seed: int) -> None:
    """Whatever runs follow each other, screens stand in print order and every head holds one thing."""
    rng = random.Random(seed)
    line = press(8)
    now = standing(line)
    for _ in range(8):
        choice = _random_offer(rng)
        wanted = {head.ink_id for head in choice.stack.heads}
        kept = tuple(ink for ink in ("white", "red") if ink not in wanted and rng.random() < 0.5)
        now, _ = place(line, now, choice, kept, INKS)
        assert all(one < other for one, other in pairwise(now.of_screen))
        used = [*now.of_screen, *(head for head, _ in now.of_free), *(head for _, head in now.of_kept)]
        assert len(used) == len(set(used))
        assert set(used) <= set(range(1, 9))
        assert {ink for ink, _ in now.of_kept} == set(kept)

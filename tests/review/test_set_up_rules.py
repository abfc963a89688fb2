"""The set-up rule: what stood on the press before decides the minutes."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.plan import Plan
from scheduler.domain.week import SetUpMinutes, Stack, Week
from scheduler.review.set_up_rules import replayed, set_up_follows_the_run_before
from tests import builders as b
from tests.review.asserting import broken, kept

COSTS = SetUpMinutes(mount_min=5, load_min=2, card_min=1, clean_light_min=3, clean_dark_min=7, strike_off_min=4)


def week_of(*stacks: Stack, head_count: int = 6, now_on: Stack | None = None, **more: object) -> Week:
    """One press with COSTS and a run for each stack: r1, r2, ..."""
    runs = [b.run(f"r{number}", choices=[b.choice(on=on)]) for number, on in enumerate(stacks, 1)]
    press = b.press_line(set_up=COSTS, head_count=head_count, now_on=now_on or Stack())
    return b.week(runs=runs, presses=[press], **more)


def one_after_another(*set_ups: int, keeping: dict[str, tuple[str, ...]] | None = None) -> Plan:
    """r1, r2, ... on P1, each printing right after the one before; `keeping` gives inks kept by run."""
    at, planned = 0, []
    for number, minutes in enumerate(set_ups, 1):
        run_id = f"r{number}"
        planned.append(b.planned_run(run_id, at=at, set_up=minutes, kept_inks=(keeping or {}).get(run_id, ())))
        at += minutes + 60
    return b.plan(*planned)


WHITE = b.stack(("a1", "white"))
RED = b.stack(("b1", "red"))


def test_an_empty_press_is_mounted_loaded_and_test_printed() -> None:
    """Two screens on an empty press: two mounts, two loads, one test print; a minute more or less is refused."""
    week = week_of(b.stack(("a1", "white"), ("a2", "red")))
    kept(set_up_follows_the_run_before, week, one_after_another(2 * 5 + 2 * 2 + 4))
    found = broken(set_up_follows_the_run_before, week, one_after_another(17))
    assert found.message == "set-up of or1 front is said to take 17 min; after what stood on P1 it takes 18"
    broken(set_up_follows_the_run_before, week, one_after_another(19))


def test_the_same_screens_again_take_nothing() -> None:
    """The same set in the same inks needs no set-up at all."""
    kept(set_up_follows_the_run_before, week_of(WHITE, WHITE), one_after_another(11, 0))
    broken(set_up_follows_the_run_before, week_of(WHITE, WHITE), one_after_another(11, 1))


def test_what_stands_on_the_press_now_counts() -> None:
    """The first run follows what is on the press at the planning moment."""
    kept(set_up_follows_the_run_before, week_of(WHITE, now_on=WHITE), one_after_another(0))
    dark = b.ink("white", is_dark=True)
    after_red = week_of(WHITE, now_on=RED, inks=[dark, b.ink("red", is_dark=True)])
    kept(set_up_follows_the_run_before, after_red, one_after_another(5 + 2 + 7 + 4))


def test_a_queue_is_replayed_in_order_of_set_up() -> None:
    """Swapping two runs changes what each follows."""
    week = week_of(WHITE, RED, WHITE)
    kept(set_up_follows_the_run_before, week, one_after_another(11, 11 + 3, 11 + 3))
    swapped = b.plan(
        b.planned_run("r1", at=0, set_up=11),
        b.planned_run("r3", at=71, set_up=0),
        b.planned_run("r2", at=131, set_up=14),
    )
    kept(set_up_follows_the_run_before, week, swapped)


def test_a_kept_ink_does_not_leave_and_comes_back_carded() -> None:
    """Keeping white beside red saves cleaning it and loading it again."""
    week = week_of(WHITE, RED, b.stack(("c1", "white")))
    plain = one_after_another(11, 14, 14)
    kept(set_up_follows_the_run_before, week, plain)
    keeping = {"r2": ("white",)}
    kept(set_up_follows_the_run_before, week, one_after_another(11, 14 - 3, 14 - 2 + 1, keeping=keeping))
    broken(set_up_follows_the_run_before, week, one_after_another(11, 14, 14, keeping=keeping))


def test_an_ink_kept_in_vain_leaves_when_it_is_given_up() -> None:
    """Cleaning put off is cleaning done later, by the run that no longer keeps the ink."""
    blue, gold = b.stack(("c1", "blue")), b.stack(("d1", "gold"))
    week = week_of(WHITE, RED, blue, gold)
    keeping = {"r2": ("white",), "r3": ("white",)}
    kept(set_up_follows_the_run_before, week, one_after_another(11, 11, 14, 14 + 3, keeping=keeping))
    broken(set_up_follows_the_run_before, week, one_after_another(11, 11, 14, 14, keeping=keeping))


def test_only_inks_that_may_stay_are_kept() -> None:
    """Refused: an ink nobody had, one the run prints, one that dries, one whose screen goes on, one kept twice."""
    for wrong in (("gold",), ("red",), ("white", "white"), ("no such ink",)):
        keeping = {"r2": wrong}
        found = broken(set_up_follows_the_run_before, week_of(WHITE, RED), one_after_another(11, 11, keeping=keeping))
        assert "which may not stay there" in found.message
    drying = week_of(WHITE, RED, inks=[b.ink("white", idle_ok_min=30), b.ink("red")])
    kept(set_up_follows_the_run_before, drying, one_after_another(11, 11))
    found = broken(set_up_follows_the_run_before, drying, one_after_another(11, 11, keeping={"r2": ("white",)}))
    assert "which may not stay there" in found.message
    same_screen = week_of(WHITE, b.stack(("a1", "red")))
    kept(set_up_follows_the_run_before, same_screen, one_after_another(11, 2 + 3 + 4))
    found = broken(set_up_follows_the_run_before, same_screen, one_after_another(11, 6, keeping={"r2": ("white",)}))
    assert "which may not stay there" in found.message


def test_pallets_flashes_and_approval_take_their_minutes() -> None:
    """Another pallet, each flash in a new place and approval at the press are added one by one."""
    costs = replace(COSTS, pallet_min=20, flash_move_min=100)
    before = b.stack(("a1", "white"), ("a2", "red"), flash_after=(0,), pallet="adult")
    after = replace(before, flash_after=(0, 1), pallet="youth")
    runs = [b.run("r1", choices=[b.choice(on=after, set_up_extra_min=6)])]
    week = b.week(runs=runs, presses=[b.press_line(set_up=costs, now_on=before)])
    kept(set_up_follows_the_run_before, week, b.plan(b.planned_run(set_up=20 + 100 + 6)))
    found = broken(set_up_follows_the_run_before, week, b.plan(b.planned_run(set_up=120)))
    assert "it takes 126" in found.message


def test_a_stated_set_up_and_approval_win_over_the_arithmetic() -> None:
    """Minutes the shop stated count, approval at the press on top."""
    offer = b.choice(on=WHITE, stated_set_up_min=20, set_up_extra_min=6)
    week = b.week(runs=[b.run(choices=[offer])], presses=[b.press_line(set_up=COSTS)])
    kept(set_up_follows_the_run_before, week, b.plan(b.planned_run(set_up=26)))
    broken(set_up_follows_the_run_before, week, b.plan(b.planned_run(set_up=20)))


def test_a_started_run_takes_what_is_left_of_its_set_up() -> None:
    """What has started is not set up from the beginning."""
    week = week_of(WHITE, fixings=[b.fixing(kind="started", press_id="P1", at=0, left=3)])
    kept(set_up_follows_the_run_before, week, one_after_another(3))
    broken(set_up_follows_the_run_before, week, one_after_another(11))


def test_a_set_up_is_worked_in_the_open_minutes_of_its_press() -> None:
    """A break inside a set-up pauses it; minutes claimed and minutes worked are the same."""
    offer = b.choice(on=WHITE)
    press = b.press_line(set_up=COSTS, calendar=b.every_day(breaks=[(240, 30)]))
    week = b.week(runs=[b.run(choices=[offer])], presses=[press])
    over_break = replace(b.planned_run(at=235, set_up=11), set_up_end_tau=276, print_start_tau=276, print_end_tau=336)
    kept(set_up_follows_the_run_before, week, b.plan(over_break))
    broken(set_up_follows_the_run_before, week, b.plan(replace(over_break, set_up_end_tau=275)))
    broken(set_up_follows_the_run_before, week, b.plan(replace(over_break, set_up_end_tau=246)))


def test_the_run_after_one_that_does_not_fit_is_not_judged_by_it() -> None:
    """A run on a press it does not fit leaves nothing to reckon the next set-up with."""
    week = week_of(WHITE, RED)
    lost = b.plan(b.planned_run("no such run", at=0), b.planned_run("r2", at=60, set_up=99))
    kept(set_up_follows_the_run_before, week, lost)


def test_loads_are_counted_head_by_head() -> None:
    """Heads filled with an ink: all of the first run's, none for the same screens, none for an ink that came back."""
    week = week_of(b.stack(("a1", "white"), ("a2", "red")), b.stack(("a1", "white"), ("a2", "red")), RED)
    assert [seen.loads for seen in replayed(week, one_after_another(18, 0, 9))] == [2, 0, 0]
    back = week_of(WHITE, RED, b.stack(("c1", "white")))
    keeping = one_after_another(11, 11, 13, keeping={"r2": ("white",)})
    assert [seen.loads for seen in replayed(back, keeping)] == [1, 1, 0]

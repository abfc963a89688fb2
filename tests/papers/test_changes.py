import re

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import PressLine, Week
from scheduler.papers.tables import QueueRow, press_queue
from scheduler.search.decoder import Decoder, Refused
from scheduler.search.genome import Genome
from tests import builders
from tests.papers import small_shop
from tests.random_weeks import random_week


def rows() -> dict[str, QueueRow]:
    """The small shop's queue by run."""
    return {row.run_id: row for row in press_queue(small_shop.week(), small_shop.plan())}


def test_a_first_run_is_mounted_and_loaded() -> None:
    """With only black on the press, the first run cleans it out, mounts and loads three screens and test prints."""
    assert rows()["1042 front dark"].changes == (
        "clean out black (head 1)",
        "mount 3 screens",
        "load red and white (2 heads)",
        "set a flash after head 1",
        "test print",
    )


def test_the_light_lot_only_takes_the_base_off() -> None:
    """The light lot of the same screens cleans the base's ink out and leaves the rest standing."""
    row = rows()["1042 front light"]
    assert row.changes == ("clean out white (head 1)",)
    assert [(line.head, line.to_do) for line in row.heads] == [(3, "stays"), (4, "stays")]


def test_a_kept_ink_is_told_and_taken_up_again() -> None:
    """White left live is told with its head, and the next run that prints white takes it up there."""
    assert rows()["1042 back dark"].kept == ((3, "white"),)
    later = rows()["1044 front dark"]
    assert "take up white again (it stood by on head 3)" in later.changes
    assert [(line.head, line.to_do) for line in later.heads] == [
        (3, "mount, card over"),
        (4, "mount, card over (from head 1)"),
    ]


def test_approval_and_pallets_are_told() -> None:
    """A client at the press and a swap of pallets stand among what the set-up does."""
    assert "client approves at the press" in rows()["1042 back dark"].changes
    assert "swap pallets: adult to youth" in rows()["1044 front dark"].changes


def _told(press: PressLine, *choices: builders.PressChoice) -> tuple[str, ...]:
    """What the last of these runs on one press says of its set-up."""
    runs = [builders.run(f"r{number}", choices=(choice,)) for number, choice in enumerate(choices)]
    week = builders.week(runs=runs, presses=(press,))
    plan = builders.plan(*(builders.planned_run(run.run_id, at=number * 100) for number, run in enumerate(runs)))
    return press_queue(week, plan)[-1].changes


def test_spare_squeegees_make_it_a_swap() -> None:
    """Where a spare squeegee and floodbar exist, an ink is swapped out, not cleaned out."""
    press = builders.press_line(set_up=builders.SetUpMinutes(mount_min=5, swap_min=1))
    before, now = (builders.choice(on=builders.stack((f"s{n}:1", ink))) for n, ink in enumerate(("red", "white")))
    assert _told(press, before, now)[0] == "swap out red (head 1)"


def test_a_stated_set_up_says_so() -> None:
    """A set-up the shop stated names its minutes beside what there is to do."""
    choice = builders.choice(on=builders.stack(("s:1", "white")), stated_set_up_min=12)
    assert _told(builders.press_line(), choice)[-1] == "the shop's own 12 min count for this set-up"


@pytest.mark.parametrize(("left", "told"), [(5, "what is left of it"), (0, "done: the run has started")])
def test_a_started_run_has_only_what_is_left(left: int, told: str) -> None:
    """A run that has started is not mounted again on paper: its screens are on the press."""
    choice = builders.choice(on=builders.stack(("s:1", "white")))
    fixing = builders.fixing("r0", "started", press_id="P1", at=0, left=left)
    week = builders.week(runs=[builders.run("r0", choices=(choice,))], fixings=(fixing,))
    (row,) = press_queue(week, builders.plan(builders.planned_run("r0")))
    assert row.changes == (told,)
    assert [line.to_do for line in row.heads] == ["on the press"]


def test_the_same_set_again_is_nothing() -> None:
    """The same screens and inks again need nothing, and the paper says so."""
    choice = builders.choice(on=builders.stack(("s:1", "white")))
    assert _told(builders.press_line(), choice, choice) == ("nothing: straight on",)


def decoded(seed: int) -> tuple[Week, Plan]:
    """A random week and a first plan of it; an empty plan where it has none."""
    week = random_week(seed, size="small")
    made = Decoder(week).decode(Genome(order=tuple(run.run_id for run in week.runs)))
    return week, Plan(runs=(), orders=()) if isinstance(made, Refused) else made.plan


def _minutes_in_words(week: Week, row: QueueRow) -> int:
    """Set-up minutes added up from what the paper tells the operator to do."""
    press, minutes = week.press[row.press_id], week.press[row.press_id].set_up
    inks = {ink.name: ink for ink in week.inks}
    to_do = [line.to_do for line in row.heads]
    total = sum(
        minutes.mount_min * told.startswith("mount")
        + minutes.card_min * ("card over" in told)
        + minutes.load_min * told.endswith("load")
        for told in to_do
    )
    for told in row.changes:
        if told.startswith(("clean out ", "swap out ")):
            for name, heads in re.findall(r"(?:out |, | and )(\w+) \(heads? ([\d, and]+)\)", told):
                total += minutes.leave_min(inks[name]) * len(re.findall(r"\d+", heads))
        total += press.set_up.pallet_min * told.startswith("swap pallets")
        total += press.set_up.flash_move_min * told.startswith("set a flash")
        total += press.set_up.strike_off_min * (told == "test print")
    return total + week.run[row.run_id].on_press[row.press_id].set_up_extra_min


@pytest.mark.parametrize("seed", range(60))
def test_the_words_add_up_to_the_minutes(seed: int) -> None:
    """Mounting, carding, loading, cleaning and the rest, as told on paper, take exactly the planned set-up minutes."""
    week, plan = decoded(seed)
    for row in press_queue(week, plan):
        if not row.is_started and week.run[row.run_id].on_press[row.press_id].stated_set_up_min is None:
            assert _minutes_in_words(week, row) == row.set_up_min, row


def test_most_random_weeks_have_a_plan_to_tell() -> None:
    """The random weeks behind these tests are not empty: most have a plan, and in some an ink is kept."""
    plans = [decoded(seed) for seed in range(60)]
    assert sum(bool(plan.runs) for _, plan in plans) > 40
    assert any(row.kept for week, plan in plans for row in press_queue(week, plan))

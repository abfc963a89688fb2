from dataclasses import replace
from pathlib import Path

import pytest

from scheduler import api, shop_book
from scheduler.errors import InputError
from tests.book.planned import CLOCK, announced_book, noted, planned_again, solo_book


def first_run(book: str) -> str:
    """The run whose set-up the announced plan starts first."""
    kept = shop_book.announced_plan(book)
    assert kept is not None
    return min(kept.plan.runs, key=lambda run: run.set_up_start_tau).run_id


def test_a_plan_comes_back_with_its_week(tmp_path: Path) -> None:
    """An announced plan is read back to the same plan of the same inputs, and keeps every rule of its week."""
    book = announced_book(tmp_path)
    kept = shop_book.announced_plan(book)
    assert kept is not None
    assert kept.inputs == shop_book.question(book, "2026-03-02 08:30").told.inputs  # type: ignore[union-attr]
    assert api.check(shop_book.week_of_plan(kept), kept.plan) == ()
    assert kept.entry.announced_by == "Ana"
    assert kept.entry.cost_cents == api.measure(shop_book.week_of_plan(kept), kept.plan).cost.total


def test_a_plan_nobody_announced_does_not_count(tmp_path: Path) -> None:
    """A plan that is made is kept; until it is announced there is none."""
    book = solo_book(tmp_path)
    planned_again(book, "")
    assert shop_book.announced_plan(book) is None
    assert shop_book.announce(book, who="Ana", now=CLOCK).entry.number == 1
    assert shop_book.announced_plan(book) is not None


def test_planned_on_from_what_was_noted(tmp_path: Path) -> None:
    """What is done is gone, what has started stays where it is, every rule is kept, and the plan is announced next."""
    book = announced_book(tmp_path)
    run_id = first_run(book)
    noted(book, "start", run_id, "2026-03-02 08:35")
    noted(book, "done", run_id, "2026-03-02 12:40")
    second = next(run for run in api.build_workload(api.read_week(tmp_path / "solo")).week.runs if run.run_id != run_id)
    noted(book, "start", second.run_id, "2026-03-02 12:45", press="press")
    asked, plan, number = planned_again(book, "2026-03-02 12:50")
    assert run_id not in plan.run
    assert asked.stands is not None
    assert asked.stands.started == (second.run_id,)
    assert api.check(asked.workload.week, plan) == ()
    assert asked.workload.week.clock.now == CLOCK
    done = shop_book.announce(book, who="Ana", now=CLOCK)
    assert (done.entry.number, done.entry.after, done.entry.last_event) == (number, 1, 3)
    assert {one.order_id for one in done.dates} <= {order.order_id for order in asked.inputs.orders}
    again = shop_book.question(book, "2026-03-02 13:00")
    assert again.told is not None
    assert again.told.entry.number == 2
    assert again.told.inputs == asked.inputs


def test_two_people_plan_at_once(tmp_path: Path) -> None:
    """Two plans made after the same announced one: the first to be announced counts, the other is refused."""
    book = announced_book(tmp_path)
    for _ in range(2):
        planned_again(book, "2026-03-02 08:40")
    shop_book.announce(book, 3, who="Ana", now=CLOCK)
    with pytest.raises(InputError, match="has announced plan 3 by Ana since plan 2 was made"):
        shop_book.announce(book, 2, who="Bruno", now=CLOCK)
    with pytest.raises(InputError, match="has announced plan 3 already"):
        shop_book.announce(book, 3, who="Bruno", now=CLOCK)
    with pytest.raises(InputError, match="has no plan 9"):
        shop_book.announce(book, 9, who="Bruno", now=CLOCK)


def test_there_is_nothing_to_announce(tmp_path: Path) -> None:
    """Announcing from a book without plans is told in a sentence."""
    with pytest.raises(InputError, match="has no plan yet"):
        shop_book.announce(solo_book(tmp_path), who="Ana", now=CLOCK)


def test_orders_brought_since_are_planned_too(tmp_path: Path) -> None:
    """An order typed since the announcement is planned, one called off since is not, and the rest goes on."""
    book = announced_book(tmp_path)
    week = tmp_path / "solo"
    lines = (week / "orders.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    renamed = "".join(f"399,{line[4:]}" if line.startswith("317,") else line for line in lines)
    (week / "orders.csv").write_text(renamed, encoding="utf-8")
    shop_book.bring(book, week, who="Ana", now=CLOCK)
    noted(book, "start", first_run(book), "2026-03-02 08:35")
    asked, plan, _ = planned_again(book, "2026-03-02 09:00")
    assert asked.version == 2
    assert "399" in plan.order
    assert "317" not in plan.order
    assert first_run(book) in plan.run
    assert asked.told is not None
    assert asked.told_week is not None
    dates = shop_book.told_before(asked.told, asked.told_week, asked.inputs, asked.workload.week, plan)
    assert {"399", "317"}.isdisjoint(one.order_id for one in dates)


def test_what_the_plan_knows_of_an_order_stays_until_it_is_typed_anew(tmp_path: Path) -> None:
    """A client renamed in another order changes nothing of what the announced plan knows of the others, nor of screens
    and presses; the renamed one counts as it is typed now.
    """
    book = announced_book(tmp_path)
    noted(book, "start", first_run(book), "2026-03-02 08:35")
    planned_again(book, "2026-03-02 09:00")
    shop_book.announce(book, who="Ana", now=CLOCK)
    before = shop_book.question(book, "2026-03-02 09:10").inputs
    path = tmp_path / "solo" / "orders.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("The Brass Otters", "The Tin Otters"), encoding="utf-8")
    shop_book.bring(book, tmp_path / "solo", who="Ana", now=CLOCK)
    after = shop_book.question(book, "2026-03-02 09:10").inputs
    assert (after.lots, after.imprints, after.progress) == (before.lots, before.imprints, before.progress)
    assert (after.shop, after.announced) == (before.shop, before.announced)
    assert {order.client for order in after.orders} - {order.client for order in before.orders} == {"The Tin Otters"}


def test_dates_told_before_stand_beside_the_new_ones(tmp_path: Path) -> None:
    """An order that leaves a day later is told with both days, one whose day stays is only counted."""
    book = announced_book(tmp_path)
    kept = shop_book.announced_plan(book)
    assert kept is not None
    week = shop_book.week_of_plan(kept)
    moved = kept.plan.orders[0]
    later = replace(moved, packed_tau=week.horizon_tau - 1)
    plan = replace(kept.plan, orders=tuple(later if one is moved else one for one in kept.plan.orders))
    dates = shop_book.told_before(kept, week, kept.inputs, week, plan)
    (other,) = [one for one in dates if one.is_another_day]
    assert other.order_id == moved.order_id
    section = shop_book.dates_section(dates)
    assert section.sentences == (f"{len(dates) - 1} orders leave on the day that was told; these do not:",)
    assert [line.cells[0] for line in section.lines] == [moved.order_id]
    unchanged = shop_book.told_before(kept, week, kept.inputs, week, kept.plan)
    assert shop_book.dates_section(unchanged).lines == ()


def test_a_time_behind_the_announced_days_is_refused(tmp_path: Path) -> None:
    """Within the days of the announced plan one goes on from it; after them the new week must be brought first."""
    book = announced_book(tmp_path)
    shop = api.read_week(tmp_path / "solo").shop
    with pytest.raises(InputError, match="behind the days of the announced plan"):
        shop_book.question(book, f"{shop.plan_from.replace(year=2027):%Y-%m-%d %H:%M}")
    with pytest.raises(InputError, match="is not a date"):
        shop_book.question(book, "tomorrow")

"""What the book teaches: times measured by the plan they were set up under."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner

from scheduler import shop_book
from scheduler.cli import app
from tests.book.planned import CLOCK, announced_book


def test_a_run_noted_from_start_to_end_is_a_time_of_its_design(tmp_path: Path) -> None:
    """Start, strike-off and end in the book are one time with its minutes; taken back, it never was."""
    book = announced_book(tmp_path)
    told = shop_book.announced_plan(book)
    assert told is not None
    first = min(told.plan.runs, key=lambda one: one.set_up_start_tau)
    week = shop_book.week_of_plan(told)
    begun = week.clock.starts_at(first.set_up_start_tau)
    assert begun < CLOCK
    for word, hour in (("start", f"{begun:%H:%M}"), ("right", "10:00"), ("done", "10:25")):
        shop_book.note(book, shop_book.Note(word=word, about=first.run_id, at=hour), now=CLOCK)
    (one,) = shop_book.designs_learnt(book)
    assert one.design_id == week.run[first.run_id].design_id
    assert len(one.times) == 1
    assert one.times[0].print_min == 25
    assert shop_book.question(book, CLOCK).inputs.shop.chances.learnt_from == 1
    done = CliRunner().invoke(app, ["book", "learnt", book])
    assert done.exit_code == 0
    assert f"{one.design_id}: set-up" in done.output
    assert "0 of " in done.output
    assert "Too few orders" in done.output
    shop_book.note(book, shop_book.Note(word="undo", about="3"), now=CLOCK)
    assert shop_book.designs_learnt(book) == ()


def test_an_order_packed_is_held_against_the_odds_it_was_told_with(tmp_path: Path) -> None:
    """Packed and noted, an order is one of those the odds are judged by; taken back, it is none."""
    book = announced_book(tmp_path)
    assert shop_book.days_told(book, replays=20).orders == 0
    told = shop_book.announced_plan(book)
    assert told is not None
    event = shop_book.note(book, shop_book.Note(word="packed", about=told.plan.orders[0].order_id), now=CLOCK)
    found = shop_book.days_told(book, replays=20)
    assert (found.orders, found.kept) == (1, 1)
    assert found.crps_min is not None
    assert "Too few orders" in found.sentence
    shop_book.note(book, shop_book.Note(word="undo", about=str(event.number)), now=CLOCK)
    assert shop_book.days_told(book, replays=20).orders == 0

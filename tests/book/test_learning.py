"""What the book teaches: times measured by the plan they were set up under."""

from __future__ import annotations

import json
from pathlib import Path

from typer.testing import CliRunner

from scheduler import book_commands, shop_book
from scheduler.cli import app
from scheduler.domain.learnt import NOTHING_LEARNT
from tests.book.planned import CLOCK, announced_book, noted, planned_again, quick_plan, slow_first_run


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


def test_the_next_plan_goes_by_what_was_noted(tmp_path: Path) -> None:
    """A set-up noted three times as long makes the next plan's set-ups longer, which is told; what has started stays,
    every rule is kept, the kept plan verifies, and by the stated figures it is all as before.
    """
    book = announced_book(tmp_path)
    assert shop_book.question(book, "2026-03-02 08:40") == shop_book.question(book, "2026-03-02 08:40", is_stated=True)
    done = slow_first_run(book)
    told = shop_book.announced_plan(book)
    assert told is not None
    second = sorted(told.plan.runs, key=lambda one: one.set_up_start_tau)[1]
    assert second.run_id != done
    noted(book, "start", second.run_id, "12:45")
    stated = shop_book.question(book, CLOCK, is_stated=True)
    assert stated.inputs.learnt == NOTHING_LEARNT
    asked, plan, number = planned_again(book, "2026-03-02 12:50")
    (press,) = asked.inputs.learnt.presses
    assert press.set_up_pct > 100
    assert asked.learnt_lines[0].startswith(f"set-up of {press.press_id} from the one time noted: 1.")
    assert asked.workload.week.digest != stated.workload.week.digest
    assert asked.stands is not None
    assert asked.stands.started == (second.run_id,)
    first = plan.queue[press.press_id][0]
    assert (first.run_id, first.set_up_start_tau) == (second.run_id, 0)
    slower = quick_plan(asked.workload.week).runs
    assert sum(one.set_up_min for one in slower) > sum(one.set_up_min for one in quick_plan(stated.workload.week).runs)
    found = shop_book.verified(book, number)
    assert (found.broken, found.learnt_lines) == ((), asked.learnt_lines)
    said = CliRunner().invoke(app, ["book", "verify", book])
    assert said.exit_code == 0
    assert f"Plan {number} keeps all rules." in said.output
    shop_book.announce(book, who="Ana", now=CLOCK)
    assert shop_book.question(book, "2026-03-02 12:55").inputs.learnt == asked.inputs.learnt


def test_a_plan_says_which_figures_it_went_by(tmp_path: Path) -> None:
    """`plan --book` tells every figure that is the record's; with --stated none is, without a book it is refused."""
    book = announced_book(tmp_path)
    slow_first_run(book)
    plan = ["plan", "--book", book, "--now", "2026-03-02 12:50", "--seconds", "0.5", "--workers", "1"]
    learnt = CliRunner().invoke(app, plan)
    assert "Planned by what your own record says" in learnt.output
    assert "from the one time noted: 1." in learnt.output
    assert learnt.exit_code == 0
    assert book_commands.FromBook(book, "2026-03-02 12:50", is_stated=True).asked.learnt_lines == ()
    refused = CliRunner().invoke(app, ["plan", str(tmp_path / "solo"), "--stated"])
    assert refused.exit_code == 2
    assert "--stated needs --book" in refused.output


def test_odds_from_the_book_rest_on_its_record(tmp_path: Path) -> None:
    """`outlook --book` and `promise --book` ask the announced plan as it stands, and say on how many runs their odds
    rest; a week and a book at once, or neither, are refused.
    """
    book = announced_book(tmp_path)
    slow_first_run(book)
    asked = ["--book", book, "--now", "2026-03-02 12:50", "--json"]
    told = CliRunner().invoke(app, ["outlook", *asked, "--replays", "20"])
    assert told.exit_code == 0
    found = json.loads(told.output)
    assert found["chances"]["learnt_from"] == 1
    stands = shop_book.question(book, CLOCK).stands_plan()
    assert stands is not None
    assert {one["order_id"] for one in found["orders"]} == set(stands.order)
    rush = "rush order=5001 client='Low Ford' due=2026-03-20 garment='black tee' shade=dark pieces=24 location=front"
    said = CliRunner().invoke(
        app, ["promise", *asked, "--order", f"{rush} inks='white' blanks=in art=ok", "--seconds", "1"]
    )
    assert said.exit_code == 0
    assert json.loads(said.output)["chances"]["learnt_from"] == 1
    for wrong in ([], [str(tmp_path / "solo"), "--book", book], ["--book", book, "--plan", "plan.json"]):
        assert CliRunner().invoke(app, ["outlook", *wrong]).exit_code == 2

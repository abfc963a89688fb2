"""The planner's sequence beside ours: the sentence, the table, the waits, the figures."""

from dataclasses import replace

from scheduler.domain.own_order import OneChange, PressWait
from scheduler.papers.text import section_text
from scheduler.papers.yours_and_ours import YoursAndOurs, beside_figures, beside_sections, opening_sentence
from tests import builders

WEEK = builders.week(
    runs=[builders.run("r1"), builders.run("r2")],
    orders=[
        builders.order_due("or1", ["r1"], pickups_tau=(60, 2700), late_cents=5_000),
        builders.order_due("or2", ["r2"], pickups_tau=(120, 2700), late_cents=5_000),
    ],
    presses=[builders.press_line(name="Six", set_up_cents_per_min=100)],
)
YOURS = builders.plan(builders.planned_run("r2", set_up=10), builders.planned_run("r1", at=70, set_up=5))
OURS = builders.plan(builders.planned_run("r1"), builders.planned_run("r2", at=60, set_up=10))
BOTH = YoursAndOurs(
    week=WEEK,
    source="queue.csv",
    yours=YOURS,
    ours=OURS,
    told=("r9: nothing of it is left to print; it is left out.",),
    not_named=("r1",),
    your_waits=(PressWait(press_id="P1", what="garments", wait_min=150),),
    changes=(OneChange(words="print r1 first on Six", saves_cents=5_000, late_fewer=1),),
)


def test_both_in_one_sentence() -> None:
    """How many late, how many set-ups fewer, how much cheaper."""
    told = opening_sentence(BOTH, "EUR")
    assert told == "Yours: 1 late; ours: 1 late, one fewer set-up, 5.00 EUR cheaper."
    ours_late = replace(BOTH, yours=OURS, ours=YOURS)
    assert "one more set-up" in opening_sentence(ours_late)


def test_nothing_cheaper_and_no_plan_are_said_as_such() -> None:
    """Where the search found nothing better it says so; where the list makes no plan, why."""
    assert opening_sentence(replace(BOTH, ours=YOURS)) == "Yours: 1 late; nothing we found is cheaper."
    none = replace(BOTH, yours=None, reason="no press has room for it in time (r1)", told=(), not_named=())
    assert opening_sentence(none) == "Your order makes no plan: no press has room for it in time (r1)."
    assert beside_sections(none) == ()
    assert beside_figures(none)["yours"] is None


def test_the_table_has_both_and_the_difference() -> None:
    """Every line: yours, ours, ours less yours, with a sign."""
    table = next(section for section in beside_sections(BOTH, "EUR") if section.title == "Yours and ours")
    cells = {line.cells[0]: line.cells[1:] for line in table.lines}
    assert cells["late orders"] == ("1", "1", "0")
    assert cells["set-ups"] == ("2", "1", "-1")
    assert cells["presses wait"] == ("2 h 30 min", "0 min", "-2 h 30 min")
    assert cells["set-up and ink clean-up"] == ("15.00", "10.00", "-5.00")
    assert cells["together, EUR"] == ("65.00", "60.00", "-5.00")


def test_how_the_list_was_read_who_is_late_and_what_would_help() -> None:
    """What was not done as listed, what was not named, who is late in either, the waits and the change that saves."""
    sections = {section.title: section for section in beside_sections(BOTH, "EUR")}
    read = sections["How your order was read"].sentences
    assert read[0] == BOTH.told[0]
    assert read[1] == "Not in queue.csv, so after everything that is, by due date: r1."
    late = [line.cells for line in sections["Late in either"].lines]
    assert late == [("or1", "a client", "▲ late 1 day", "in time"), ("or2", "a client", "in time", "▲ late 1 day")]
    assert [line.cells for line in sections["Where presses wait, and for what"].lines] == [
        ("Six", "garments", "2 h 30 min", "0 min")
    ]
    saves = sections["What would save most in your order"].sentences
    assert saves[1] == "1. Print r1 first on Six: saves 50.00 EUR, 1 fewer late."
    assert all(len(line) <= 100 for section in sections.values() for line in section_text(section))


def test_figures_are_whole_cents_and_minutes() -> None:
    """For other programs: both sides, the difference, the changes, the queues."""
    told = beside_figures(BOTH, "EUR")
    assert (told["yours"]["cost"], told["ours"]["cost"], told["difference"]["cost"]) == (6_500, 6_000, -500)
    assert told["difference"]["cost_terms"]["set_up"] == -500
    assert (told["yours"]["wait_min"], told["difference"]["wait_min"]) == (150, -150)
    assert told["yours"]["queues"] == {"P1": ["r2", "r1"]}
    assert told["changes"] == [{"change": "print r1 first on Six", "saves": 5_000, "late_orders_fewer": 1}]
    assert (told["not_named"], told["not_as_listed"]) == (["r1"], list(BOTH.told))

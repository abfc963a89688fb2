"""The questions of a new week: what is offered, what may be typed, what is asked again."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from scheduler.inputs.faults import CellError
from scheduler.inputs.new_week import typed_answers as read
from scheduler.inputs.new_week.interview import interview
from scheduler.inputs.new_week.question import LINES
from scheduler.inputs.new_week.questions import QUESTIONS
from scheduler.inputs.new_week.settings import days_in_words, hours_in_words, hours_table, latest_start, open_days
from tests.inputs.new_shops import MACHINE, Keyboard

NO_DAYS = ()


def by_name(typed: dict[str, list[str]]) -> tuple[Any, Keyboard]:
    """The answers of a shop that types something at some questions and takes what is offered elsewhere."""
    board = Keyboard()
    texts = {question.text: question.name for question in QUESTIONS}

    class ByName(Keyboard):
        at = ""

        def ask(self, prompt: str) -> str:
            self.prompts.append(prompt)
            waiting = typed.get(self.at, [])
            return waiting.pop(0) if waiting else ""

        def say(self, line: str) -> None:
            self.shown.append(line)
            for text, name in texts.items():
                stem = text.partition("{press}")[2] or text
                if line.endswith(stem):
                    self.at = name

    board = ByName()
    return interview(MACHINE, "My Shop", board.ask, board.say), board


def test_every_question_is_told_as_data() -> None:
    """Every question has a name of its own, says what may be typed, and names no press it is not about."""
    names = [one.name for one in QUESTIONS]
    assert len(set(names)) == len(names)
    assert all(one.text.endswith("?") and one.more.endswith(".") for one in QUESTIONS)
    assert all(("{press}" in one.text) == (one.repeats == "per press") for one in QUESTIONS)


def test_a_small_shop_gets_few_questions() -> None:
    """One press: fifteen questions, none about a second press; three presses are asked about each."""
    _, alone = by_name({})
    asked = [line for line in alone.shown if line.endswith("?")]
    assert len(asked) == 15
    assert not any("press 2" in line.casefold() or "auto" in line.replace("automatic", "") for line in asked)
    _, three = by_name({"presses": ["3"]})
    assert sum(line.startswith(("Press ", "auto-", "manual")) for line in three.shown) == 12


@pytest.mark.parametrize(
    ("zone", "offered"), [(MACHINE.zone, "EUR, cm"), ("America/Denver", "USD, in"), ("Asia/Tashkent", "EUR, cm")]
)
def test_money_is_offered_by_where_the_shop_is(zone: str, offered: str) -> None:
    """A shop in another zone than its machine is offered that zone's money, where we know it; else the machine's."""
    _, board = by_name({"zone": [zone]})
    asked = next(number for number, line in enumerate(board.shown) if line.startswith("Which money"))
    assert f"[{offered}]" in board.prompts[asked - 1]


@pytest.mark.parametrize("presses", ["1", "2", "3", "6"])
@pytest.mark.parametrize("kind", ["manual 4", "automatic 8", ""])
@pytest.mark.parametrize("money", ["EUR, cm", "USD, in"])
def test_every_offer_can_be_taken(presses: str, kind: str, money: str) -> None:
    """Whatever the shop, Enter at every question gives answers that can be used."""
    answers, board = by_name({"presses": [presses], "press": [kind] * int(presses), "money": [money]})
    assert not [line for line in board.shown if line.startswith("  ")]
    assert len(answers.many("press")) == int(presses)
    assert answers.many("people")
    assert answers.many("frames")


def test_lunch_is_asked_only_where_nobody_told_it() -> None:
    """Hours with a break in them tell lunch; hours without one are asked about, and lunch is taken out."""
    assert "lunch" not in by_name({})[0].values
    answers, _ = by_name({"hours": ["mon-thu 07:00-16:00; fri 07:00-11:00"], "lunch": ["12:15-12:45"]})
    assert hours_table(open_days(answers), tell_closed=True) == {
        "mon-thu": "07:00-12:15, 12:45-16:00",
        "fri": "07:00-11:00",
        "sat": "closed",
        "sun": "closed",
    }


def test_which_dryer_is_asked_only_where_there_are_several() -> None:
    """A shop with one dryer is not asked which; a shop with two is asked for each press, and a wrong name again."""
    assert "dryer_of" not in by_name({})[0].values
    answers, board = by_name({"presses": ["2"], "dryer": ["long: 8 ft x 36 in", "short: 4 ft x 24 in", ""],
                              "dryer_of": ["lang", "long", ""]})  # fmt: skip
    assert answers.many("dryer_of") == ["long", "short"]
    assert "  'lang' is none of the dryers; write long or short" in board.shown


def test_what_is_wrong_is_told_once_and_asked_again() -> None:
    """Each unusable answer gets one line that says what to write, and the same question is asked again."""
    answers, board = by_name(
        {"press": ["four heads", "manual 99", "manual 6"], "zone": ["Lisboa-Town", "Europe/Lisbon"]}
    )
    assert answers.many("press")[0].heads == 6
    told = [line for line in board.shown if line.startswith("  ")]
    assert told == [
        "  'Lisboa-Town' is no time zone; did you mean Europe/Lisbon?",
        "  'four heads' is no press; write it as manual 4, or automatic 8",
        "  'manual 99' is no press; write it as manual 4, or automatic 8",
    ]


def test_a_question_mark_explains() -> None:
    """Typing ? shows what may be typed and asks again."""
    answers, board = by_name({"rate": ["?", "70"]})
    assert answers.many("rate") == [70]
    assert any("work" in line and line.startswith("  Tees in one colour") for line in board.shown)


def test_own_lines_end_our_offers() -> None:
    """Whoever types a line of their own is not offered the next of ours: Enter ends the list."""
    answers, _ = by_name({"frames": ["18x20, 110 mesh: 12, 5"]})
    assert [(one.size, one.mesh, one.count, one.coated) for one in answers.many("frames")] == [("18x20", 110, 12, 5)]


@pytest.mark.parametrize(("name", "empty"), [("dryer", []), ("frames", []), ("people", []), ("carriers", [])])
def test_none_is_an_answer(name: str, empty: list[Any]) -> None:
    """Every list may be left empty with none, and what hangs on it is not asked."""
    answers, board = by_name({name: ["none"]})
    assert answers.many(name) == empty
    assert ("Which designs hang burned, ready to print again?" in board.shown) == (name != "frames")


def test_somebody_must_print() -> None:
    """People none of whom prints are told so at the end of the list, which then goes on."""
    answers, board = by_name({"people": ["Wren: screens", "", "Nuala: printing and packing", ""]})
    assert [one.name for one in answers.many("people")] == ["Wren", "Nuala"]
    assert "  nobody of them prints; add a line for somebody who does" in board.shown


@pytest.mark.parametrize("question", [one for one in QUESTIONS if one.repeats == LINES], ids=lambda one: one.name)
def test_a_line_typed_twice_is_told(question: Any) -> None:
    """The same person, frames or carrier in two lines is told; two dryers get two names instead."""
    line = {
        "dryer": "8 ft x 36 in",
        "people": "Ana: print",
        "frames": "20x24, 156 mesh: 4, 1",
        "carriers": "Van: mon-fri 16:00",
    }[question.name]
    answers, board = by_name({question.name: [line, line, ""]})
    is_told = any("there already" in shown for shown in board.shown)
    assert is_told == (question.name != "dryer")
    assert len(answers.many(question.name)) == (2 if question.name == "dryer" else 1)


@pytest.mark.parametrize(
    ("now", "offer"),
    [
        (datetime(2026, 3, 2, 6, 0), "2026-03-02 08:00"),
        (datetime(2026, 3, 2, 8, 0), "2026-03-02 08:00"),
        (datetime(2026, 3, 2, 10, 7), "2026-03-02 10:15"),
        (datetime(2026, 3, 2, 16, 0), "2026-03-03 08:00"),
        (datetime(2026, 3, 6, 18, 0), "2026-03-09 08:00"),
        (datetime(2026, 3, 7, 9, 0), "2026-03-09 08:00"),
    ],
)
def test_planning_is_offered_from_the_next_opening(now: datetime, offer: str) -> None:
    """Before opening, within hours, shortly before closing and at the weekend the offer is a moment one can work at."""
    board = Keyboard()
    answers = interview(replace(MACHINE, now=now), "x", board.ask, board.say)
    assert answers.one("plan_from") == offer


@pytest.mark.parametrize(
    ("parse", "text", "told"),
    [
        (read.press, "manual 4", read.PressTold(kind="manual", heads=4)),
        (read.press, "8 heads, automatic", read.PressTold(kind="automatic", heads=8)),
        (read.press, "auto 10", read.PressTold(kind="automatic", heads=10)),
        (lambda text: read.flash(text, "automatic"), "2 in a head", read.FlashTold(count=2, place="in a head")),
        (lambda text: read.flash(text, "automatic"), "between heads", read.FlashTold(count=1, place="between heads")),
        (lambda text: read.flash(text, "manual"), "none", read.FlashTold(count=0)),
        (read.dryer, "8 ft x 36 in", read.DryerTold(name="", heated="8 ft", belt="36 in")),
        (read.dryer, "long: 4 m by 120 cm", read.DryerTold(name="long", heated="4 m", belt="120 cm")),
        (read.dryer, "250x90 cm", read.DryerTold(name="", heated="250 cm", belt="90 cm")),
        (read.frames, "20x24 156 15 6", read.FramesTold(size="20x24", mesh=156, count=15, coated=6)),
        (read.frames, "58 x 84 cm, 77T: 20", read.FramesTold(size="58x84 cm", mesh=196, count=20, coated=0)),
        (lambda text: read.on_press(text, 4), "mug: white, gold",
         read.OnPressTold(design="mug", inks=("white", "gold"))),
        (lambda text: read.on_press(text, 4), "black", read.OnPressTold(inks=("black",))),
        (read.burned, "mill loaf, vet paw", ("mill loaf", "vet paw")),
        (read.carrier, "Van: 4:30 pm", read.CarrierTold(name="Van", days="mon-fri", pick_up="4:30 pm", transit=1)),
        (read.carrier, "Van: tue, thu 13:30, 2 days in transit",
         read.CarrierTold(name="Van", days="tue, thu", pick_up="13:30", transit=2)),
        (lambda text: read.money(text, is_metric=True), "usd in", read.MoneyTold(currency="USD", is_metric=False)),
        (lambda text: read.money(text, is_metric=True), "CHF", read.MoneyTold(currency="CHF", is_metric=True)),
        (lambda text: read.moment(text, "Europe/Lisbon"), "2 Mar 2026 8am", "2026-03-02 08:00"),
        (read.lunch, "12:00-12:30", (720, 750)),
        (read.lunch, "none", None),
    ],
)  # fmt: skip
def test_answers_are_read_as_people_type_them(parse: Callable[[str], Any], text: str, told: Any) -> None:
    """Common ways to write an answer mean the same."""
    assert parse(text) == told


@pytest.mark.parametrize(
    ("parse", "text", "code"),
    [
        (read.press, "manual", "not_a_press"),
        (read.press, "8", "not_a_press"),
        (lambda text: read.flash(text, "manual"), "1 in a head", "not_a_flash"),
        (lambda text: read.flash(text, "automatic"), "99 in a head", "too_many"),
        (read.dryer, "8 ft", "not_a_dryer"),
        (read.dryer, "8 x 36", "no_unit"),
        (read.frames, "20x24 156", "not_frames"),
        (read.frames, "20x24, 156 mesh: 4, 6 coated", "too_many_coated"),
        (lambda text: read.on_press(text, 2), "red, green, blue", "too_many_inks"),
        (read.carrier, "Van", "not_a_carrier"),
        (read.carrier, "Collected: mon 16:00", "reserved"),
        (lambda text: read.person(text, NO_DAYS), "Ana", "not_a_person"),
        (lambda text: read.person(text, NO_DAYS), "Ana: sweeps", "no_such_duty"),
        (lambda text: read.money(text, is_metric=True), "two euros", "not_money"),
        (read.hours, "always", "not_hours"),
        (read.hours, "mon-fri closed", "never_open"),
        (read.hours, "mon-fri 08:00-12:00; fri 13:00-15:00", "day_twice"),
        (read.hours, "mon-fri 7-3", "two_ways"),
        (read.lunch, "noon", "not_hours"),
        (read.lunch, "08:00-16:00", "not_lunch"),
    ],
)
def test_answers_that_cannot_be_used_are_refused(parse: Callable[[str], Any], text: str, code: str) -> None:
    """What cannot be understood, or cannot be, is refused with a hint."""
    with pytest.raises(CellError) as refused:
        parse(text)
    assert refused.value.code == code
    assert refused.value.hint


def test_own_hours_of_a_person() -> None:
    """Hours behind a semicolon are the person's own: on the shop's days, or on days they name."""
    days = read.hours("mon-thu 07:00-16:00")
    (short,) = read.person("Kit: pack; 09:00-14:00", days).hours
    assert (days_in_words(short.weekdays), hours_in_words(short.shift)) == ("mon-thu", "09:00-14:00")
    (named,) = read.person("Zoë: everything; mon, wed 08:00-12:00, 13:00-15:00", days).hours
    assert (days_in_words(named.weekdays), hours_in_words(named.shift)) == ("mon, wed", "08:00-12:00, 13:00-15:00")


@pytest.mark.parametrize(
    ("hours", "length", "start"),
    [
        ("mon-fri 08:00-12:00, 12:30-16:30", 60, 930),
        ("mon-thu 07:00-12:00, 12:30-16:00; fri 07:00-12:00", 60, 660),
        ("mon-fri 14:00-22:00", 30, 1290),
        ("mon-wed 06:00-10:00; thu-fri 18:00-22:00", 60, 540),
    ],
)
def test_coating_is_the_last_thing_every_day(hours: str, length: int, start: int) -> None:
    """Coating is put at the latest time at which every day is open; without one, at the end of the first days."""
    assert latest_start(read.hours(hours), length, 1440) == start

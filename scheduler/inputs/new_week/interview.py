"""Asking the questions, one after the other, until each has an answer that can be used; or taking them from a file.

Nothing here prints or reads a keyboard: whoever calls hands in what asks and what says.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from scheduler.inputs.faults import CellError, Faults, Place, key_of, nearest, quoted
from scheduler.inputs.new_week.machine import Machine
from scheduler.inputs.new_week.question import LINES, ONCE, PER_PRESS, Answers, Question
from scheduler.inputs.new_week.questions import QUESTION, QUESTIONS, press_names
from scheduler.inputs.new_week.typed_answers import NOTHING
from scheduler.inputs.tables import read_bytes, text_of

MOST_LINES = 200
"""Lines one question may have: more dryers, people or frames no shop has."""

Ask = Callable[[str], str]
"""Shows a prompt and returns what was typed."""
Say = Callable[[str], None]
"""Shows a line."""

GREETING = "A few questions about the shop. Enter takes what stands in brackets, ? explains, Ctrl-C leaves no trace."


def interview(machine: Machine, title: str, ask: Ask, say: Say) -> Answers:
    """Every question answered by somebody at the keyboard. What cannot be used is told and asked again."""
    answers = Answers(machine=machine, title=title)
    say(GREETING)
    for question in QUESTIONS:
        if question.is_asked(answers):
            _asked(question, answers, ask, say)
    return answers


def _asked(question: Question, answers: Answers, ask: Ask, say: Say) -> None:
    if question.repeats == ONCE:
        say(_told(question, answers, 0))
        answers.values[question.name] = _answer(question, answers, 0, ask, say)
        return
    found: list[Any] = []
    answers.values[question.name] = found
    if question.repeats == PER_PRESS:
        for number in range(answers.one("presses")):
            say(_told(question, answers, number))
            found.append(_answer(question, answers, number, ask, say))
        return
    say(_told(question, answers, 0))
    has_typed = False
    while len(found) < MOST_LINES:
        # Offers belong together: whoever types a line of their own is not offered the next of ours.
        offer = "" if has_typed else question.offers(answers, len(found))
        typed = _typed(question, offer, ask, say)
        try:
            if not (typed or offer) or key_of(typed) in NOTHING:
                question.ends(answers)
                return
            found.append(question.read(typed or offer, answers, len(found)))
        except CellError as fault:
            say(f"  {fault.message}; {fault.hint}")
            continue
        has_typed = has_typed or bool(typed)


def _answer(question: Question, answers: Answers, number: int, ask: Ask, say: Say) -> Any:
    """One answer that can be used."""
    offer = question.offers(answers, number)
    while True:
        typed = _typed(question, offer, ask, say)
        try:
            return question.read(typed or offer, answers, number)
        except CellError as fault:
            say(f"  {fault.message}; {fault.hint}")


def _typed(question: Question, offer: str, ask: Ask, say: Say) -> str:
    """What was typed, tidied; the explanation is shown as often as it is asked for."""
    end = "done" if question.repeats == LINES else ""
    while True:
        typed = " ".join(ask(f"  [{offer or end}] ").split())
        if typed != "?":
            return "" if not offer and typed.casefold() == end else typed
        say(f"  {question.more}")


def _told(question: Question, answers: Answers, number: int) -> str:
    """The question as it is shown, with the press it is about."""
    if "{press}" not in question.text:
        return question.text
    if question.name == "press":
        many = answers.one("presses") > 1
        return question.text.format(press=f"Press {number + 1}" if many else "The press")
    names = press_names(answers)
    return question.text.format(press="The press" if len(names) == 1 else names[number])


def answers_from(path: Path, machine: Machine, title: str) -> Answers:
    """The answers in a file: name = "answer", a list where there are several; what is not there is taken as offered.

    Raises InputError with every answer that cannot be used.
    """
    faults = Faults()
    raw = read_bytes(path, faults)
    text = None if raw is None else text_of(raw, path.name, faults)
    given: dict[str, Any] = {}
    if text is not None:
        try:
            given = tomllib.loads(text)
        except (tomllib.TOMLDecodeError, RecursionError, ValueError) as fault:
            faults.add(Place(file=path.name), "not_toml", f"cannot be read: {fault}", 'write name = "answer"')
    for name in given:
        if name not in QUESTION:
            near = nearest(name, QUESTION)
            hint = f"did you mean {near}?" if near else "take it out"
            faults.add(Place(file=path.name, column=name), "unknown_answer", f"{quoted(name)} is no question", hint)
    answers = Answers(machine=machine, title=title)
    for question in QUESTIONS:
        if question.is_asked(answers):
            _take(question, answers, given, Place(file=path.name, column=question.name), faults)
        elif question.name in given:
            message = "is not asked of this shop"
            faults.warn(Place(file=path.name, column=question.name), "not_asked", message, "take it out")
    faults.raise_if_any()
    return answers


def _take(question: Question, answers: Answers, given: dict[str, Any], place: Place, faults: Faults) -> None:
    """The answers to one question, from the file or as offered; a faulty one is noted and its offer stands in."""
    typed = [_text(one) for one in _listed(given[question.name])] if question.name in given else None
    if question.repeats == LINES:
        found: list[Any] = []
        answers.values[question.name] = found
        texts = (
            _all_offers(question, answers) if typed is None else [one for one in typed if key_of(one) not in NOTHING]
        )
        try:
            for text in texts:
                found.append(question.read(text, answers, len(found)))
            question.ends(answers)
        except CellError as fault:
            faults.add(place, fault.code, fault.message, fault.hint, text if texts else "")
        return
    count = answers.one("presses") if question.repeats == PER_PRESS else 1
    is_counted = not any(one.column == "presses" for one in faults.problems)
    if typed is not None and len(typed) != count and not is_counted:
        typed = None
    if typed is not None and len(typed) != count:
        many = "answer" if len(typed) == 1 else "answers"
        message = f"has {len(typed)} {many} where {count} {'is' if count == 1 else 'are'} wanted"
        faults.add(place, "wrong_count", message, "write one for each press" if count > 1 else "write one")
        typed = None
    values: list[Any] = []
    if question.repeats == PER_PRESS:
        answers.values[question.name] = values
    for number in range(count):
        offer = question.offers(answers, number)
        text = typed[number] if typed is not None and typed[number] else offer
        try:
            values.append(question.read(text, answers, number))
        except CellError as fault:
            faults.add(place, fault.code, fault.message, fault.hint, text)
            values.append(question.read(offer, answers, number))
    if question.repeats == ONCE:
        answers.values[question.name] = values[0]


def _all_offers(question: Question, answers: Answers) -> list[str]:
    found: list[str] = []
    while offer := question.offers(answers, len(found)):
        found.append(offer)
    return found


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _text(value: Any) -> str:
    """An answer as it would have been typed."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " ".join(str(value).split())

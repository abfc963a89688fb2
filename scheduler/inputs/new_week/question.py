"""What a question is, and the answers given so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from scheduler.inputs.new_week.machine import Machine

ONCE, LINES, PER_PRESS = "once", "lines", "per press"
"""How often a question is asked: once, line after line until nothing is typed, or for each press."""


@dataclass(slots=True, kw_only=True)
class Answers:
    """Answers so far, as values: one, or a list where the question is asked more than once.

    title: what the week's folder or file is called.
    """

    machine: Machine
    title: str = ""
    values: dict[str, Any] = field(default_factory=dict)

    def one(self, name: str) -> Any:
        """The answer to a question; for a question asked more than once the list of its answers."""
        return self.values[name]

    def many(self, name: str) -> list[Any]:
        """The answers of a question that is asked more than once; empty if it was not asked."""
        found: list[Any] = self.values.get(name, [])
        return found


def _always(_answers: Answers) -> bool:
    return True


def _whole(_answers: Answers) -> None:
    """Nothing is missing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question about the shop, as data.

    name: also its name in an answers file. text: with {press} for the press it is about. more: what may be typed, told
    when somebody types "?". offers: what Enter takes, as it would be typed; several for a question asked line after
    line (the first, the second, ...), "" where Enter means that there is nothing. read: the text to a value, or a
    CellError. number: which press or line, from 0. is_asked: whether the question makes sense for this shop. ends: a
    CellError where all lines together still lack something.
    """

    name: str
    text: str
    more: str
    offers: Callable[[Answers, int], str]
    read: Callable[[str, Answers, int], Any]
    repeats: str = ONCE
    is_asked: Callable[[Answers], bool] = _always
    ends: Callable[[Answers], None] = _whole

"""Keeping every fault of every file, and telling a printer what to write instead."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import TypeVar

from scheduler.errors import InputError, Problem
from scheduler.inputs.letters import visible

T = TypeVar("T")

LONGEST_SHOWN = 60
"""Characters of a value that a message quotes."""

LONGEST_PLACE = 120
"""Letters of a heading or setting that a message names."""

MOST_PROBLEMS = 500
"""Faults told of one week: whoever has more is reading the wrong file."""


class CellError(Exception):
    """One cell does not say what it should. Never leaves this room: the reader turns it into a Problem.

    message and hint as in Problem; the message starts with the value in quotes.
    """

    def __init__(self, code: str, message: str, hint: str) -> None:
        """Keep the three parts."""
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a value stands: file, line or row, heading or setting."""

    file: str
    row: int | None = None
    column: str | None = None

    def at(self, column: str) -> Place:
        """The same line, another heading."""
        return Place(file=self.file, row=self.row, column=column)


@dataclass(slots=True)
class Faults:
    """Every problem found so far, faults and warnings."""

    problems: list[Problem] = field(default_factory=list)

    def add(self, place: Place, code: str, message: str, hint: str, value: str = "") -> None:
        """Note a fault."""
        self._note(place, code, message, hint, value, is_warning=False)

    def warn(self, place: Place, code: str, message: str, hint: str, value: str = "") -> None:
        """Note something odd that does not keep the week from being planned."""
        self._note(place, code, message, hint, value, is_warning=True)

    def read(self, place: Place, text: str, parse: Callable[[str], T]) -> T | None:
        """What the cell says; None, and a fault noted, if it does not say it rightly."""
        try:
            return parse(text)
        except CellError as fault:
            self.add(place, fault.code, fault.message, fault.hint, text)
            return None

    def extend(self, problems: Iterable[Problem]) -> None:
        """Take over problems found elsewhere."""
        self.problems.extend(problems)

    def soften(self, code: str) -> None:
        """Faults of this kind are only odd from now on."""
        self.problems = [replace(one, is_warning=True) if one.code == code else one for one in self.problems]

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What is odd but no fault, in file order."""
        return InputError(tuple(one for one in self.problems if one.is_warning)).problems

    def raise_if_any(self) -> None:
        """Raise InputError with everything found, warnings included, if there is any fault among it."""
        faults = [one for one in self.problems if not one.is_warning]
        if faults:
            odd = [one for one in self.problems if one.is_warning]
            raise InputError(tuple(faults[:MOST_PROBLEMS] + odd[:MOST_PROBLEMS]))

    def _note(self, place: Place, code: str, message: str, hint: str, value: str, *, is_warning: bool) -> None:
        self.problems.append(
            Problem(
                file=place.file,
                row=place.row,
                column=None if place.column is None else " ".join(place.column.split())[:LONGEST_PLACE],
                value=value,
                code=code,
                message=message,
                hint=hint,
                is_warning=is_warning,
            )
        )


def quoted(text: str) -> str:
    """The value in quotes, shortened where it is long, and on one line."""
    plain = " ".join(visible(text).split())
    return f"'{plain}'" if len(plain) <= LONGEST_SHOWN else f"'{plain[: LONGEST_SHOWN - 1]}…'"


def key_of(text: str) -> str:
    """What two spellings of one name have in common: case and blanks do not count."""
    return " ".join(text.split()).casefold()


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that looks most like this one, if any does."""
    by_key = {key_of(one): one for one in known}
    close = get_close_matches(key_of(name), list(by_key), n=1, cutoff=0.6)
    return by_key[close[0]] if close else None


def one_of(known: Collection[str], *, most: int = 8) -> str:
    """A hint that names what is known, as: write auto-1, auto-2 or manual. Long lists are cut."""
    names = list(known)
    if not names:
        return "there is none yet"
    if len(names) > most:
        return f"write one of {', '.join(names[:most])}, …"
    return f"write {names[0]}" if len(names) == 1 else f"write {', '.join(names[:-1])} or {names[-1]}"

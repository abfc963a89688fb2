"""A choice put to whoever sits at the keyboard, or refused where nobody is to be asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from scheduler.errors import InputError, Problem
from scheduler.inputs.faults import key_of

Ask = Callable[[str], str]
Say = Callable[[str], None]


@dataclass(slots=True, kw_only=True)
class Asker:
    """Asks, or with ask = None collects what it would have had to ask."""

    ask: Ask | None
    say: Say
    unsure: list[Problem] = field(default_factory=list)

    @property
    def may_ask(self) -> bool:
        """True if somebody is there to be asked."""
        return self.ask is not None

    def choose(self, text: str, options: Sequence[tuple[str, str]], unsure: Problem) -> str:
        """The value chosen, by its number or its name; Enter takes the first. options: (value, label).

        unsure: what is told instead where nobody may be asked; the first value stands in until then.
        """
        if self.ask is None:
            self.unsure.append(unsure)
            return options[0][0]
        self.say(text)
        for number, (_, label) in enumerate(options, start=1):
            self.say(f"  {number}  {label}")
        by_name = {key_of(name): value for value, label in options for name in (value, label) if name}
        while True:
            typed = key_of(self.ask("  [1] "))
            if not typed:
                return options[0][0]
            if typed.isdecimal() and 1 <= int(typed) <= len(options):
                return options[int(typed) - 1][0]
            if typed in by_name:
                return by_name[typed]
            self.say(f"  '{typed}' is none of them; type a number from 1 to {len(options)}")

    def raise_if_unsure(self) -> None:
        """Raises InputError with everything that would have had to be asked."""
        if self.unsure:
            raise InputError(tuple(self.unsure))

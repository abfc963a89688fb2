"""What can go wrong, and how it is told.

PressweekError
    InputError      files hold faults; carries every Problem found
    SettingsError   a limit or weight given on the way in makes no sense
    SolverError     the solver refused our model, or a plan failed its check: our fault

"No plan exists" and "a rule is broken" are results, not exceptions.
"""

from __future__ import annotations

from dataclasses import dataclass

LONGEST_MESSAGE = 800
"""Signs of a message that are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault (or warning) in an input file, told so that a printer can mend it.

    row is the line of the file as a text editor counts (1 = headings), or the row of a worksheet; None where the
    fault belongs to the whole file. code is a stable short name for tests, e.g. "not_a_date".
    """

    file: str
    row: int | None = None
    column: str | None = None
    value: str = ""
    code: str
    message: str
    hint: str
    is_warning: bool = False

    def __str__(self) -> str:
        """Print as `file:row:column: what is wrong; what to write`."""
        place = ":".join(str(part) for part in (self.file, self.row, self.column) if part not in (None, ""))
        return f"{place}{': ' if place else ''}{_shortened(self.message)}; {self.hint}"


def _shortened(message: str) -> str:
    """A message that quotes a value of any length, without the middle: what is wrong stands at its end."""
    half = LONGEST_MESSAGE // 2
    return message if len(message) <= LONGEST_MESSAGE else f"{message[:half]} … {message[-half:]}"


class PressweekError(Exception):
    """Base of everything Pressweek raises on purpose."""


class InputError(PressweekError):
    """The files hold faults; `problems` has every one, sorted by file, row and column."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        """Keep the faults in reading order."""
        self.problems = tuple(sorted(problems, key=lambda p: (p.file, p.row or 0, p.column or "", p.code)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class SettingsError(PressweekError):
    """A limit or a weight given on the way in makes no sense."""


class SolverError(PressweekError):
    """The solver refused our model, or a plan of ours failed its check: please report."""

"""Printing for the command: to a terminal or a pipe, in lines people can read, and nothing that steers a terminal."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from rich.console import Console
from rich.text import Text

from scheduler import api

if TYPE_CHECKING:
    from scheduler.api import Section

MARK, MARK_WITHOUT = "▲", "^"
PIPE_WIDTH, LEAST_WIDTH, MOST_WIDTH = 100, 60, 120


def out() -> Console:
    """Standard output."""
    return _console(is_err=False)


def err() -> Console:
    """Standard error."""
    return _console(is_err=True)


class _Unheard(Console):
    """A console whose reader may leave early, as a pager that was quit: what is still to be done is done, unheard."""

    def on_broken_pipe(self) -> None:
        """Say no more, and go on."""
        with suppress(SystemExit):
            super().on_broken_pipe()


def _console(*, is_err: bool) -> Console:
    """A console that sends control codes to a terminal only, and lines no wider than people read."""
    stream = sys.stderr if is_err else sys.stdout
    is_terminal = stream.isatty()
    console = _Unheard(file=stream, force_terminal=is_terminal, highlight=False, markup=False, emoji=False)
    width = min(MOST_WIDTH, max(LEAST_WIDTH, console.width - 1)) if is_terminal else PIPE_WIDTH
    console.width = width
    return console


def title(console: Console, text: str) -> None:
    """A title with a line under it."""
    say(console)
    say(console, text, style="bold")
    say(console, "=" * len(text))


def table(console: Console, headings: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """A plain table."""
    for line in api.table_lines(headings, rows, console.width):
        say(console, line)


def say(console: Console, text: str = "", *, style: str = "", hang: int | None = None) -> None:
    """A line as it is, or wrapped with its further lines `hang` blanks in.

    What could steer a terminal is taken out; the late mark gives way to ^ where the console cannot show it.
    """
    encoding = getattr(console.file, "encoding", None) or "utf-8"
    try:
        MARK.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        text = text.replace(MARK, MARK_WITHOUT)
    lines = (
        [text]
        if hang is None
        else textwrap.wrap(text, console.width, subsequent_indent=" " * hang, break_on_hyphens=False)
    )
    for line in lines:
        console.print(Text(api.harmless(line), style=style), soft_wrap=True)


def sections(console: Console, told: Iterable[Section]) -> None:
    """Sections of a report, each under its title."""
    for section in told:
        title(console, section.title)
        for line in api.section_lines(section, console.width):
            say(console, line)

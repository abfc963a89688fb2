"""Plain-text tables that read well in 100 columns, in black and white, on any console."""

from __future__ import annotations

import hashlib
import re
import textwrap
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

WIDTH = 100
GAP = "  "
UNDER_INDENT = "    "
SHORT = 16
"""Letters of a text that is not broken while there is a longer one to break: a moment, a name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a table: its cells, and a sentence that stands under it."""

    cells: tuple[str, ...]
    under: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A titled part of a report: sentences, then a table. right: columns set flush right (numbers)."""

    title: str
    sentences: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    right: frozenset[int] = frozenset()


def section_text(section: Section, width: int = WIDTH) -> list[str]:
    """The section's lines without its title, none longer than `width`."""
    told = [line for sentence in section.sentences for line in wrapped(printable(sentence), width)]
    if section.lines:
        told += table_text(section.headings, section.lines, right=section.right, width=width)
    return told


def table_text(
    headings: Sequence[str], lines: Iterable[Line], *, right: Collection[int] = (), width: int = WIDTH
) -> list[str]:
    """A table with a rule under its headings; cells too wide for their column run on below, nothing is cut off."""
    rows = [(tuple(printable(cell) for cell in line.cells), printable(line.under)) for line in lines]
    cells = [tuple(headings), *(row for row, _ in rows)]
    widths = _widths(cells, width)
    told = [*_row_text(tuple(headings), widths, right), GAP.join("-" * wide for wide in widths)]
    for row, under in rows:
        told += _row_text(row, widths, right)
        if under:
            told += [UNDER_INDENT + part for part in wrapped(under, width - len(UNDER_INDENT))]
    return told


def wrapped(text: str, width: int) -> list[str]:
    """A text in lines of at most `width`; names with hyphens stay whole where they fit. One empty line for nothing."""
    return textwrap.wrap(text, width, break_on_hyphens=False) or [""]


def printable(text: str) -> str:
    """A text on one line that cannot steer a terminal: all blanks and line breaks become single blanks."""
    return harmless(" ".join(text.split()))


LONGEST_STEM = 60
"""Letters of a file name that come from a name somebody typed."""


def file_stem(name: str) -> str:
    """A typed name as part of a file name: safe on every system, and another for every name.

    Small letters, digits, _ and - stay; where more had to go, eight signs of the name's digest tell it from others.
    """
    plain = name.casefold()
    stem = re.sub(r"[^a-z0-9_-]+", "-", plain).strip("-")[:LONGEST_STEM]
    return stem if stem == plain else f"{stem}-{hashlib.sha256(plain.encode()).hexdigest()[:8]}".lstrip("-")


def harmless(line: str) -> str:
    """A line as it is, but for marks of control, direction and line end: each becomes "?"."""
    return "".join("?" if _steers(letter) else letter for letter in line)


def _steers(letter: str) -> bool:
    code = ord(letter)
    is_control = code < 0x20 or 0x7F <= code < 0xA0
    is_direction = 0x200E <= code <= 0x200F or 0x202A <= code <= 0x202E or 0x2066 <= code <= 0x2069
    ends_line = code in (0x2028, 0x2029)
    return is_control or is_direction or ends_line or code == 0x061C or 0xD800 <= code <= 0xDFFF


def _widths(cells: Sequence[Sequence[str]], width: int) -> list[int]:
    """Column widths: as wide as needed. If that is too much, long texts give way first, then moments and names too,
    but no word of a heading.
    """
    wanted = [max(len(cell) for cell in column) for column in zip(*cells, strict=True)]
    headings = [max(4, *(len(word) for word in heading.split() or [""])) for heading in cells[0]]
    kept = [max(least, min(wide, SHORT)) for least, wide in zip(headings, wanted, strict=True)]
    room = width - len(GAP) * (len(wanted) - 1)
    for least in (kept, headings):
        while sum(wanted) > room:
            widest = max(range(len(wanted)), key=lambda at: (wanted[at] - least[at], at))
            if wanted[widest] <= least[widest]:
                break
            wanted[widest] -= 1
    return wanted


def _row_text(row: Sequence[str], widths: Sequence[int], right: Collection[int]) -> list[str]:
    cells = [wrapped(cell, wide) for cell, wide in zip(row, widths, strict=True)]
    told = []
    for number in range(max(len(cell) for cell in cells)):
        parts = [cell[number] if number < len(cell) else "" for cell in cells]
        padded = [
            part.rjust(wide) if at in right else part.ljust(wide)
            for at, (part, wide) in enumerate(zip(parts, widths, strict=True))
        ]
        told.append(GAP.join(padded).rstrip())
    return told

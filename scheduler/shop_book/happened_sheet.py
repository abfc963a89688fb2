"""What was noted, as a sheet beside a week that is handed out: for people and spreadsheets, the book has it all."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from scheduler.record.events import DryerChecked, Event

NAME = "happened.csv"
HEADINGS = ("number", "at", "who", "what", "about", "press", "pieces", "state", "because", "takes back")


def write_happened(path: Path, events: Iterable[Event]) -> tuple[Path, ...]:
    """Everything that was noted, in the order of its numbers, undos too; no file where nothing was."""
    from scheduler.book.happened import about
    from scheduler.papers.csv_files import ENCODING, csv_text
    from scheduler.safe_files import write_text

    rows = [(one.number, one.at, one.who, one.kind, about(one), *_beside(one)) for one in events]
    if not rows:
        path.unlink(missing_ok=True)
        return ()
    write_text(path, csv_text(HEADINGS, rows), encoding=ENCODING)
    return (path,)


def _beside(one: Event) -> tuple[str | int | None, ...]:
    """Press, pieces, state, reason and the number taken back, as far as an event says them."""
    pieces = getattr(one, "pieces", None) or getattr(one, "frames", None)
    state = getattr(one, "state", None)
    if isinstance(one, DryerChecked):
        state = "right" if one.is_right else "not right"
    return getattr(one, "press_id", None), pieces, state, getattr(one, "reason", None), getattr(one, "undone", None)

"""What can go wrong with the book, told so that somebody in the shop can do something about it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from scheduler.book.seals import DamagedRowError
from scheduler.errors import InputError, Problem

BRING_BACK = "bring the last backup back with: pressweek book restore"

LIKELY = (
    ("locked", "book_busy", "is being written by somebody else all this time", "try again in a moment"),
    ("readonly", "read_only", "may not be written by you", "look at the rights of the file and of its folder"),
    ("read-only", "read_only", "may not be written by you", "look at the rights of the file and of its folder"),
    ("is full", "disk_full", "does not fit: the disk is full", "make room; nothing of this was written"),
    ("disk i/o", "disk_fault", "cannot be read or written: the disk fails", "look at the disk, then restore a backup"),
    ("unable to open", "cannot_open", "cannot be opened", "look at the rights of the file and of its folder"),
    ("not a database", "no_book", "is no book of a shop", "look at its name, or bring a backup back"),
    ("unsupported file format", "no_book", "is no book of a shop", "look at its name, or bring a backup back"),
    ("malformed", "damaged", "is damaged", BRING_BACK),
    ("no such table", "damaged", "is damaged", BRING_BACK),
    ("no such column", "damaged", "is damaged", BRING_BACK),
    ("duplicate column", "damaged", "is damaged", BRING_BACK),
    ("could not decode", "damaged", "is damaged", BRING_BACK),
    ("datatype mismatch", "damaged", "is damaged", BRING_BACK),
    ("connection", "no_server", "cannot be reached", "look whether the server runs and the address is right"),
    ("password", "no_server", "does not let you in", "look at name and password in its address"),
)
"""(what the database says, code, message, hint)."""

LONGEST_SAID = 200
"""Letters of what the database says that a message repeats."""


def fault(
    name: str, code: str, message: str, hint: str, *, row: int | None = None, table: str | None = None
) -> InputError:
    """One fault of the book, of a row of one of its tables where that is known."""
    return InputError((Problem(file=name, row=row, column=table, code=code, message=message, hint=hint),))


@contextmanager
def told_in_shop_words(name: str) -> Iterator[None]:
    """What the database refuses is told in one plain sentence."""
    try:
        yield
    except DamagedRowError as one:
        row = one.row if isinstance(one.row, int) else None
        message = "is not as it was written"
        raise fault(name, "damaged", message, BRING_BACK, row=row, table=one.table) from one
    except UnicodeDecodeError as odd:  # what the database says of it quotes bytes that are no letters
        raise fault(name, "damaged", "is damaged", BRING_BACK) from odd
    except IntegrityError:
        raise  # rows that contradict each other are our fault
    except (DBAPIError, sqlite3.Error, OSError) as refused:
        said = str(refused.orig if isinstance(refused, DBAPIError) else refused).casefold()
        for words, code, message, hint in LIKELY:
            if words in said:
                raise fault(name, code, message, hint) from refused
        is_lost = getattr(refused, "connection_invalidated", False)
        if isinstance(refused, OSError | OperationalError | sqlite3.OperationalError) or is_lost:
            why = " ".join(said.split())[:LONGEST_SAID]
            raise fault(name, "cannot_open", f"cannot be used ({why})", "look at it, then try again") from refused
        raise

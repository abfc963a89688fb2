"""The book started, opened, backed up and brought back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler import api
from scheduler.domain.week import Week
from scheduler.errors import InputError

if TYPE_CHECKING:
    from scheduler.book.opening import Book
    from scheduler.book.plans import KeptPlan
    from scheduler.book.weeks import KeptWeek


def new_book(address: str, now: datetime) -> str:
    """An empty book at a path or a server's address; its name. Raises InputError where it cannot be made."""
    from scheduler.book.opening import new_book as make

    book = make(address, now)
    book.close()
    return book.name


@contextmanager
def opened(address: str) -> Iterator[Book]:
    """The book, to be closed again. Raises InputError where there is none."""
    from scheduler.book.opening import open_book

    book = open_book(address)
    try:
        yield book
    finally:
        book.close()


def back_up(address: str, path: Path, now: datetime) -> None:
    """The whole book of one moment as one file. Raises InputError where that cannot be written."""
    from scheduler.book.copies import back_up as copy

    with opened(address) as book:
        copy(book, path, now)


def restore(address: str, path: Path) -> None:
    """The book says again what the backup says; others may go on reading. Raises InputError where it is no backup."""
    from scheduler.book.copies import restore as bring_back

    with opened(address) as book:
        bring_back(book, path)


def week_of_plan(kept: KeptPlan) -> Week:
    """The planning question a kept plan answers."""
    return api.planned_week(kept.inputs).week


def week_of(book: Book) -> KeptWeek | None:
    """The book's week; None where it has none yet."""
    from scheduler.book.weeks import load_week

    try:
        return load_week(book)
    except InputError as fault:
        if {one.code for one in fault.problems} != {"no_week"}:
            raise
        return None

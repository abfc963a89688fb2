"""A week brought into the book and handed out of it, as a folder or a workbook."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler import api
from scheduler.errors import InputError, Problem
from scheduler.shop_book.happened_sheet import NAME, write_happened
from scheduler.shop_book.keeping import opened, week_of

if TYPE_CHECKING:
    from scheduler.book.opening import Book
    from scheduler.book.weeks import File, KeptWeek
    from scheduler.book.weeks import Version as Version
    from scheduler.domain.orders import WeekInputs

STAMP = "of-the-book.json"
"""Which state of the book's week a folder holds; beside a workbook, behind its name."""

BESIDE = ("headings.toml", "whatif/*.toml")
"""What else a week's folder may hold that somebody typed."""

WORKBOOK, TAKEN = "week", "taken.toml"
"""What the book calls a workbook, and what was taken beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What bringing a week did: its version, what it says differently, and what is odd about its files."""

    version: int
    changes: tuple[str, ...]
    warnings: tuple[Problem, ...]


def bring(address: str, week: Path, *, who: str, now: datetime, is_instead: bool = False) -> Brought:
    """The week of a folder or workbook becomes the book's, all of it or nothing.

    Raises InputError with every fault of the files, or where the book's week has been changed since these files were
    handed out. is_instead: what stands in the book is replaced whatever it is.
    """
    from scheduler.book.weeks import store_week

    inputs, warnings = api.read_week_with_warnings(week)
    api.build_workload(inputs)
    files = _files_of(week)
    with opened(address) as book:
        kept = week_of(book)
        seen = kept.version.number if is_instead and kept else _seen(week, kept)
        if kept is not None and _says_the_same(kept, inputs, files):
            return Brought(version=kept.version.number, changes=(), warnings=(*warnings, *_stamped_or_odd(week, kept)))
        changes = _changes(kept, week)
        version = store_week(
            book, inputs, files, seen=seen, at=now, who=who, why=f"brought from {week.name}", changes=changes
        )
        kept = week_of(book)
    odd = _stamped_or_odd(week, kept) if kept is not None and kept.version.number == version else ()
    return Brought(version=version, changes=changes, warnings=(*warnings, *odd))


def hand_out(address: str, place: Path) -> tuple[Path, ...]:
    """The book's week as a folder, or as one workbook where the place ends in .xlsx; the files written.

    In the form in which it was brought it is the same letter by letter; in the other form it says the same. Raises
    InputError where a week is there that this book did not hand out, or that somebody has changed since.
    """
    from scheduler.book.happened import events_within
    from scheduler.book.weeks import load_week
    from scheduler.safe_files import write_bytes

    with opened(address) as book:
        kept = load_week(book)
        if api.week_files(place):
            _refuse_unsaved(book, place)
        with book.reading() as connection:
            events = events_within(connection)
    as_wished = dict(_in_form(kept.files, place))
    written = {_home(place, name): content for name, content in as_wished.items()}
    for path in _paths_of(place):
        if path not in written:
            path.unlink()  # a sheet the week no longer has
    for path, content in written.items():
        write_bytes(path, content)
    return (*written, _stamp(place, kept), *write_happened(_beside(place, NAME), events))


def _says_the_same(kept: KeptWeek, inputs: WeekInputs, files: Sequence[File]) -> bool:
    """Letter by letter; between a workbook and a folder, whether they are the same week."""
    if {name for name, _ in kept.files if name.startswith(f"{WORKBOOK}.")} == {
        name for name, _ in files if name.startswith(f"{WORKBOOK}.")
    }:
        return kept.files == tuple(files)
    return kept.inputs == replace(inputs, digest=kept.inputs.digest)


def _files_of(week: Path) -> tuple[File, ...]:
    """The files of a week by the names under which the book keeps them."""
    found = []
    for path in _paths_of(week):
        if week.is_dir():
            name = path.relative_to(week).as_posix()
        else:
            name = f"{WORKBOOK}{path.suffix.lower()}" if path == week else TAKEN
        found.append((name, path.read_bytes()))
    return tuple(found)


def _paths_of(week: Path) -> tuple[Path, ...]:
    """The files of a week; in a folder also its headings and what-ifs."""
    beside = [path for pattern in BESIDE for path in sorted(week.glob(pattern))] if week.is_dir() else []
    return (*api.week_files(week), *beside)


def _home(place: Path, name: str) -> Path:
    """Where a file of the book's stands in a week's place."""
    if not _is_workbook(place):
        return place / name
    return place.with_name(f"{place.stem}.{TAKEN}") if name == TAKEN else place


def _is_workbook(place: Path) -> bool:
    return place.suffix.lower() in (".xlsx", ".xlsm") and not place.is_dir()


def _in_form(files: Sequence[File], place: Path) -> Sequence[File]:
    """The files as a folder or as a workbook, as the place wants them."""
    from scheduler.inputs.other_form import as_folder, as_workbook

    own = next(((name, content) for name, content in files if name.startswith(f"{WORKBOOK}.")), None)
    beside = [(name, content) for name, content in files if name == TAKEN]
    if _is_workbook(place) == (own is not None):
        return files
    if own is None:
        return [(place.name, as_workbook(dict(files))), *beside]
    return [*as_folder(*own).items(), *beside]


def _changes(kept: KeptWeek | None, week: Path) -> tuple[str, ...]:
    """What the week says differently from the one in the book, a sentence each."""
    if kept is None:
        return ()
    with tempfile.TemporaryDirectory(prefix="pressweek-book-") as folder:
        is_folder = all(not name.startswith(f"{WORKBOOK}.") for name, _ in kept.files)
        before = Path(folder) if is_folder else Path(folder) / f"{WORKBOOK}.xlsx"
        for name, content in kept.files:
            home = _home(before, name)
            home.parent.mkdir(exist_ok=True)
            home.write_bytes(content)
        return api.changes_since(before, week)


def _stamp_of(week: Path) -> Path:
    return _beside(week, STAMP)


def _beside(week: Path, name: str) -> Path:
    """A file that goes with a week: in its folder, or beside its workbook, behind its name."""
    return week.with_name(f"{week.stem}.{name}") if _is_workbook(week) else week / name


def _stamp(week: Path, kept: KeptWeek) -> Path:
    """Beside the files stands which state of the week they are."""
    from scheduler.safe_files import write_text

    path = _stamp_of(week)
    write_text(path, json.dumps({"version": kept.version.number, "digest": kept.inputs.digest}) + "\n")
    return path


def _stamped_or_odd(week: Path, kept: KeptWeek) -> tuple[Problem, ...]:
    """The files say which state of the week they are; where that cannot be written, it is odd and no more."""
    try:
        _stamp(week, kept)
    except InputError as fault:
        hint = "hand the week out before it is changed again"
        return tuple(replace(one, hint=hint, is_warning=True) for one in fault.problems)
    return ()


def _seen(week: Path, kept: KeptWeek | None) -> int:
    """The version these files came from; 0 where the book is empty, -1 where they did not come from this book."""
    if kept is None:
        return 0
    try:
        told = json.loads(_stamp_of(week).read_text(encoding="utf-8"))
        version, digest = int(told["version"]), str(told["digest"])
    except (OSError, ValueError, KeyError, TypeError):
        return -1
    return -1 if version == kept.version.number and digest != kept.inputs.digest else version


def _refuse_unsaved(book: Book, place: Path) -> None:
    """Files that stand there may be replaced only if they are, letter by letter, what this book once had."""
    from scheduler.book.weeks import load_week

    seen = _seen(place, week_of(book))
    try:
        was = load_week(book, seen) if seen > 0 else None
    except InputError:
        was = None
    if was is None or not _is_as_handed_out(was, place):
        hint = "bring what was changed there first, or name another place"
        message = "holds a week that is not what this book handed out"
        raise InputError((Problem(file=place.name, code="week_there", message=message, hint=hint),))


def _is_as_handed_out(was: KeptWeek, place: Path) -> bool:
    as_it_was = _in_form(was.files, place)
    if as_it_was is not was.files:
        return not _changes(was, place)  # made anew each time: what it says counts
    return {_home(place, name): content for name, content in as_it_was} == {
        path: path.read_bytes() for path in _paths_of(place)
    }

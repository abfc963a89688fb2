"""Records of the domain as rows and documents, and back to the same records.

Moments are kept as local wall time with their distance from UTC; they come back in the shop's own zone, the right one
of two in the hour that comes twice.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from datetime import date, datetime, timedelta, tzinfo
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from cattrs import BaseValidationError, Converter
from sqlalchemy import Table

from scheduler.errors import InputError, Problem

T = TypeVar("T")


def packed(record: Any) -> bytes:
    """A record as a small document."""
    return zlib.compress(json.dumps(plain(record), ensure_ascii=False).encode())


def unpacked(kind: type[T], document: bytes, zone: str) -> T:
    """The record in a document. InputError as `record_of`."""
    try:
        told = json.loads(zlib.decompress(document))
    except (zlib.error, ValueError) as fault:
        raise InputError((_unreadable(kind.__name__, fault),)) from fault
    return record_of(kind, told, zone)


def plain(record: Any) -> Any:
    """A record as lists, texts and numbers, fit for a row or a document."""
    return _OUT.unstructure(record)


def row_of(record: Any, table: Table, **beside: Any) -> dict[str, Any]:
    """A record as one row of a table: a value for each column that is there, the rest in `more`."""
    told: dict[str, Any] = {**beside, **plain(record)}
    columns = {name: told.pop(name) for name in list(told) if name in table.c}
    return {**columns, "more": told}


def record_of(kind: type[T], told: Mapping[str, Any], zone: str) -> T:
    """The record behind a row or document. Raises InputError where this program cannot read it."""
    try:
        return _reader(zone).structure(dict(told), kind)
    except (BaseValidationError, KeyError, TypeError, ValueError, OverflowError) as fault:
        raise InputError((_unreadable(kind.__name__, fault),)) from fault


def _unreadable(what: str, fault: BaseException) -> Problem:
    first = fault.exceptions[0] if isinstance(fault, BaseValidationError) else fault
    return Problem(
        file="book",
        column=what,
        code="not_readable",
        message=f"holds something this program cannot read ({type(first).__name__}: {str(first).splitlines()[0]})",
        hint="bring the last backup back with: pressweek book restore",
    )


def _moment_text(moment: datetime) -> str:
    return moment.isoformat()


def _moment(text: str, zone: tzinfo | None) -> datetime:
    told = datetime.fromisoformat(text)
    if told.tzinfo is None or zone is None:
        return told
    local = told.replace(tzinfo=zone)
    return local if local.utcoffset() == told.utcoffset() else local.replace(fold=1)


def _day_or_moment(text: str, zone: tzinfo | None) -> date:
    return _moment(text, zone) if "T" in text else date.fromisoformat(text)


def _converter() -> Converter:
    made = Converter(forbid_extra_keys=False)
    made.register_unstructure_hook(datetime, _moment_text)
    made.register_unstructure_hook(date, lambda day: day.isoformat())
    made.register_unstructure_hook(timedelta, lambda length: length.total_seconds())
    for union in (date | datetime, datetime | date):
        made.register_unstructure_hook(union, lambda day: day.isoformat())
    return made


_OUT = _converter()
_READERS: dict[str, Converter] = {}


def _reader(zone: str) -> Converter:
    """What reads moments into the shop's zone; "" for moments without one."""
    if zone not in _READERS:
        made, here = _converter(), ZoneInfo(zone) if zone else None
        made.register_structure_hook(datetime, lambda text, _: _moment(text, here))
        made.register_structure_hook(date, lambda text, _: date.fromisoformat(text))
        for union in (date | datetime, datetime | date):
            made.register_structure_hook(union, lambda text, _: _day_or_moment(text, here))
        _READERS[zone] = made
    return _READERS[zone]

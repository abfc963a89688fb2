"""What the machine itself tells of the shop: its time zone, its money, how it writes numbers and dates.

All of it is only offered; whoever answers the questions decides.
"""

from __future__ import annotations

import locale
import os
import re
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from scheduler.inputs.moments import DAY_FIRST, MONTH_FIRST

LOCALTIME = Path("/etc/localtime")
"""Where many systems keep their zone, as a link into the zone files; where it is missing, offsets are compared."""

FAMILIAR_ZONES = (
    "Europe/London", "Europe/Berlin", "Europe/Athens", "Europe/Istanbul", "America/New_York",
    "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles", "America/Halifax",
    "America/Sao_Paulo", "America/Bogota", "Africa/Johannesburg", "Asia/Dubai", "Asia/Kolkata",
    "Asia/Bangkok", "Asia/Singapore", "Asia/Tokyo", "Australia/Brisbane", "Australia/Sydney", "Pacific/Auckland",
    "America/Anchorage", "Pacific/Honolulu", "Etc/UTC",
)  # fmt: skip
"""One zone for each pair of winter and summer offsets that is common; the first that fits is offered."""

MONEY_BY_ZONE = (
    (r"Europe/(London|Belfast|Jersey|Guernsey|Isle_of_Man)", "GBP"),
    (r"Europe/Zurich", "CHF"),
    (r"Europe/Warsaw", "PLN"),
    (r"Europe/Stockholm", "SEK"),
    (r"Europe/Oslo", "NOK"),
    (r"Europe/Copenhagen", "DKK"),
    (r"Europe/Istanbul", "TRY"),
    (r"Europe/.*", "EUR"),
    (r"America/(Toronto|Vancouver|Edmonton|Winnipeg|Halifax|Regina|St_Johns|Moncton)", "CAD"),
    (r"America/(Sao_Paulo|Fortaleza|Recife|Bahia|Manaus)", "BRL"),
    (r"America/(Mexico_City|Monterrey|Tijuana|Cancun)", "MXN"),
    (r"(America|US)/.*|Pacific/Honolulu", "USD"),
    (r"Australia/.*", "AUD"),
    (r"Pacific/Auckland|NZ", "NZD"),
    (r"Africa/Johannesburg", "ZAR"),
    (r"Asia/(Kolkata|Calcutta)", "INR"),
    (r"Asia/Tokyo", "JPY"),
)
"""Money by zone where the machine's own settings name none, or the shop is elsewhere."""

INCHES = ("USD", "CAD", "GBP")
"""Money of places where prints and dryers are measured in inches and feet; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """What is offered. separator: between the cells of a CSV file that a spreadsheet here opens right.

    dates: "day first", "month first" or "" where the machine does not tell. now: local wall time.
    """

    zone: str
    currency: str
    is_metric: bool
    separator: str
    dates: str
    now: datetime


def this_machine() -> Machine:
    """What this machine tells."""
    zone = _zone()
    with _own_settings():
        told = locale.localeconv()
        sample = time.strftime("%x", (2026, 11, 25, 0, 0, 0, 2, 329, 0))
    currency = str(told.get("int_curr_symbol", "")).strip().upper()
    if re.fullmatch(r"[A-Z]{3}", currency) is None:
        currency = money_of(zone) or "EUR"
    return Machine(
        zone=zone,
        currency=currency,
        is_metric=currency not in INCHES,
        separator=";" if told.get("decimal_point") == "," else ",",
        dates=date_order(sample),
        now=datetime.now().replace(second=0, microsecond=0),
    )


def money_of(zone: str) -> str | None:
    """The money of a time zone's places; None where we do not know it."""
    return next((money for pattern, money in MONEY_BY_ZONE if re.fullmatch(pattern, zone)), None)


def date_order(sample: str) -> str:
    """Which comes first in the machine's way to write 25 November 2026; "" if neither does."""
    day, month = sample.find("25"), sample.find("11")
    if day < 0 or month < 0 or sample.startswith("2026"):
        return ""
    return DAY_FIRST if day < month else MONTH_FIRST


@contextmanager
def _own_settings() -> Iterator[None]:
    """Within, the machine's own way to write numbers and dates counts."""
    before = locale.setlocale(locale.LC_ALL)
    try:
        locale.setlocale(locale.LC_ALL, "")
    except locale.Error:
        yield  # the machine names settings it does not have
        return
    try:
        yield
    finally:
        locale.setlocale(locale.LC_ALL, before)


def _zone() -> str:
    """The machine's zone by its IANA name, or a familiar one with the same offsets."""
    named = os.environ.get("TZ", "").lstrip(":")
    linked = ""
    if LOCALTIME.exists():
        linked = "/".join(LOCALTIME.resolve().parts).partition("zoneinfo/")[2].removeprefix("posix/")
    for name in (named, linked):
        if "/" in name and _is_zone(name):
            return name
    this_year = datetime.now().year
    seasons = (datetime(this_year, 1, 15, 12), datetime(this_year, 7, 15, 12))
    offsets = [at.astimezone().utcoffset() for at in seasons]
    for name in FAMILIAR_ZONES:
        if [at.replace(tzinfo=ZoneInfo(name)).utcoffset() for at in seasons] == offsets:
            return name
    return "Etc/UTC"


def _is_zone(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True

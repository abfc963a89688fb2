"""How amounts, counts and moments are written on the pages."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime


def money(cents: int, currency: str) -> str:
    """As "1,186.00 USD"."""
    return f"{cents / 100:,.2f} {currency}".rstrip()


def counted(count: int, thing: str, things: str = "") -> str:
    """As "1 order", "3 orders", "no orders"."""
    if count == 1:
        return f"1 {thing}"
    return f"{count or 'no'} {things or thing + 's'}"


def moment(at: datetime) -> str:
    """As "Tue 14 Apr 13:48"."""
    return f"{at:%a} {at.day} {at:%b %H:%M}"


def listed(names: Sequence[str]) -> str:
    """As "a, b and c"."""
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else "".join(names)


def plain(text: str) -> str:
    """Somebody's own words, harmless within a formatted line."""
    return "".join(f"\\{sign}" if sign in r"\`*_{}[]<>()#+-.!|~$:" else sign for sign in text)

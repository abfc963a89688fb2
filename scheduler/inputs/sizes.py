"""Pieces by size: "S 20, M 60, L 64". Kept as text; only the sum is read."""

from __future__ import annotations

import re
from collections.abc import Sequence

_NAME = r"(?:[0-9]{1,2}\s?[xX]{0,4}[lLsS]|[xX]{0,4}[sSmMlL]|[A-Za-z]{1,8}|[0-9]{1,3}(?=\s*[:=]))"
_ITEM = re.compile(rf"(?P<size>{_NAME})\s*[:= ]?\s*(?P<pieces>[0-9]{{1,6}})")
_APART = re.compile(r"[\s,;/]+")


def pieces_in(sizes: str) -> int | None:
    """Pieces of all sizes together; None if the text is not sizes with numbers."""
    found = _by_size(sizes)
    return sum(pieces for _, pieces in found) if found else None


def cut_sizes(sizes: str, pieces: Sequence[int]) -> tuple[str, ...]:
    """The sizes of each share, in the order of the text; "" for all where the text does not add up to the shares."""
    left = _by_size(sizes) or []
    if sum(count for _, count in left) != sum(pieces):
        return ("",) * len(pieces)
    found = []
    for share in pieces:
        own: list[str] = []
        while share:
            size, count = left[0]
            taken = min(share, count)
            if taken:
                own.append(f"{size} {taken}")
            left[0:1] = [(size, count - taken)] if taken < count else []
            share -= taken
        found.append(", ".join(own))
    return tuple(found)


def _by_size(sizes: str) -> list[tuple[str, int]] | None:
    """Sizes with their pieces as they stand in the text; None if it is not sizes with numbers."""
    plain = " ".join(sizes.split())
    found: list[tuple[str, int]] = []
    at = 0
    while at < len(plain):
        item = _ITEM.match(plain, at)
        if item is None:
            return None
        found.append((item["size"], int(item["pieces"])))
        at = item.end()
        apart = _APART.match(plain, at)
        if at < len(plain) and apart is None:
            return None
        at = apart.end() if apart else at
    return found

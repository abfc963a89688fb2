"""Pieces by size: "S 20, M 60, L 64". Kept as text; only the sum is read."""

from __future__ import annotations

import re

_NAME = r"(?:[0-9]{1,2}\s?[xX]{0,4}[lLsS]|[xX]{0,4}[sSmMlL]|[A-Za-z]{1,8}|[0-9]{1,3}(?=\s*[:=]))"
_ITEM = re.compile(rf"(?P<size>{_NAME})\s*[:= ]?\s*(?P<pieces>[0-9]{{1,6}})")
_APART = re.compile(r"[\s,;/]+")


def pieces_in(sizes: str) -> int | None:
    """Pieces of all sizes together; None if the text is not sizes with numbers."""
    plain = " ".join(sizes.split())
    total = at = 0
    while at < len(plain):
        item = _ITEM.match(plain, at)
        if item is None:
            return None
        total, at = total + int(item["pieces"]), item.end()
        apart = _APART.match(plain, at)
        if at < len(plain) and apart is None:
            return None
        at = apart.end() if apart else at
    return total if plain else None

"""Signs in a text that nobody sees."""

from __future__ import annotations

import re

# Joiners (200C, 200D) stay: some scripts and every picture of a family need them.
_UNSEEN = re.compile("[\u00ad\u034f\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff]")


def visible(text: str) -> str:
    """A text without signs that take no room: marks of direction, zero blanks, soft hyphens."""
    return _UNSEEN.sub("", text)

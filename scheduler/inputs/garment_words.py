"""What a garment's words say: its kind and whether it is light or dark.

Words a printer writes ("navy hoodie", "natural bag"), common practice, no source. Colours in between (grey, orange) are
left to whoever writes the order.
"""

from __future__ import annotations

import re

from scheduler.inputs.faults import key_of

TEE = "tee"

KIND_WORDS = (
    ("fleece", r"hoodies?|hoody|hooded|sweat ?shirts?|sweats?|sweaters?|crew ?necks?|fleeces?|joggers?|sweatpants"),
    ("long sleeve", r"long[ -]?sleeves?|longsleeves?|l/s"),
    ("youth", r"youth|kids?|child|children'?s?|toddlers?|infants?|baby|babies|junior"),
    ("bag", r"bags?|totes?|aprons?|pouch(?:es)?"),
    (TEE, r"tees?|t[- ]?shirts?|shirts?|tanks?|singlets?|polos?"),
)
"""Kind and its words, the first that is found counts: a youth hoodie prints like fleece."""

DARK = "dark|black|navy|charcoal|maroon|burgundy|forest|bottle|royal|purple|brown|chocolate|indigo|plum|red|midnight"
LIGHT = "light|white|natural|cream|sand|ash|ivory|sky|mint|yellow|lemon|pink|lilac|pastel|ecru|beige"

_KINDS = tuple((kind, re.compile(rf"\b(?:{words})\b")) for kind, words in KIND_WORDS)
_DARK, _LIGHT = re.compile(rf"\b(?:{DARK})\b"), re.compile(rf"\b(?:{LIGHT})\b")


def kind_of(garment: str) -> str | None:
    """Garment kind by its words; None if no word is known."""
    words = key_of(garment)
    return next((kind for kind, pattern in _KINDS if pattern.search(words)), None)


def shade_of(garment: str) -> str | None:
    """Light or dark by its colour words; None if none is known, or both kinds are there."""
    words = key_of(garment)
    is_dark, is_light = bool(_DARK.search(words)), bool(_LIGHT.search(words))
    if is_dark == is_light:
        return None
    return "dark" if is_dark else "light"

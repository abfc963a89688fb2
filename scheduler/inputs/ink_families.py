"""Ink families the reader knows by name, with start values for what a shop does not say."""

from __future__ import annotations

from scheduler.domain.shop import INK_START_VALUES
from scheduler.inputs.cells import name
from scheduler.inputs.faults import key_of

START_VALUES = {one.name: one for one in INK_START_VALUES}
"""Start values by family."""

_SPELLINGS = {
    "water based": "water-based",
    "waterbased": "water-based",
    "wb": "water-based",
    "low cure plastisol": "low-cure plastisol",
    "low-cure": "low-cure plastisol",
    "low cure": "low-cure plastisol",
}


def family_name(text: str) -> str:
    """An ink family in small letters: "Waterbased" and "water based" are "water-based"."""
    plain = key_of(name(text).replace("_", " "))
    return _SPELLINGS.get(plain, plain)

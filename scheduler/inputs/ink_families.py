"""Ink families the reader knows by name, with start values for what a shop does not say."""

from __future__ import annotations

from scheduler.domain.shop import InkFamily
from scheduler.inputs.cells import name
from scheduler.inputs.faults import key_of

START_VALUES = {
    one.name: one
    for one in (
        InkFamily(name="plastisol", tunnel_s=60, flash_s=7.0),
        InkFamily(name="low-cure plastisol", tunnel_s=60, flash_s=7.0),
        InkFamily(name="water-based", tunnel_s=150, flash_s=10.0, idle_ok_min=20),
        InkFamily(name="discharge", tunnel_s=150, flash_s=10.0, idle_ok_min=20),
    )
}
"""Start values only: the ink maker's data sheets win.

Plastisol: a minute in the tunnel (K. Stevens, International Coatings, 2012), 3 to 15 s under the flash (Ryonet, flash
dryer FAQ). Water-based: 90 s to 3 min in the tunnel ("Evaluating ink", Printwear, May 2014). Discharge as water-based,
and how long an ink may stand in the mesh: common practice, no source.
"""

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

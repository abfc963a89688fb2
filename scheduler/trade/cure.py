"""What an ink needs of the dryer and what a fabric stands: degrees Fahrenheit, seconds in the tunnel.

Start values: the ink maker's data sheets, and a test print washed, win. Too hot scorches and lets dye wander into the
ink; too cool washes out. Curing inks gives off fumes: the dryer is ducted outside. Sources of what is published:

- "Textile Dryer Basics" and others tell plastisol a film of 320 degF: Drying Product Guide, Workhorse.
- Low-cure plastisol about 275 degF: "When to use low-cure inks", International Coatings, 2019.
- Water-based inks 160 degC for three minutes: "Setting/Curing", Eziscreen. Discharge reaches 320 degF (a forum's
  advice: halftoned.com, "Discharge printing").
- Heat-sensitive polyester stays below 300 degF: Impressions, January/February 2022.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

POLYESTER_MOST_F = 299
"""The hottest for heat-sensitive polyester: below 300 degF (Impressions, January/February 2022)."""

_POLYESTER = re.compile(r"\b(poly|polyester)\b", re.I)
_BLEND = re.compile(r"\b(cotton|blend|blended|tri-?blend|viscose|rayon|mix)\b|\d+\s*/\s*\d+", re.I)


@dataclass(frozen=True, slots=True, kw_only=True)
class CureNeed:
    """The settings at which a print cures and its garment stays whole; None: no limit known."""

    least_f: int
    least_s: int
    most_f: int | None = None
    most_s: int | None = None

    def is_met_by(self, temperature_f: int, tunnel_s: int) -> bool:
        """True if it cures at this setting."""
        hot = self.least_f <= temperature_f and (self.most_f is None or temperature_f <= self.most_f)
        return hot and self.least_s <= tunnel_s and (self.most_s is None or tunnel_s <= self.most_s)


def fabric_most_f(garment: str) -> int | None:
    """The hottest a garment stands, by its words: polyester that is no blend; None where no limit is known."""
    is_polyester = _POLYESTER.search(garment) is not None and _BLEND.search(garment) is None
    return POLYESTER_MOST_F if is_polyester else None


def few_settings(needs: Iterable[CureNeed]) -> tuple[tuple[int, int], ...]:
    """Few settings (degrees, seconds) of which every need is met by one no longer in the tunnel than it must be.

    Needs of equal seconds are met by as few temperatures as can be: the highest least temperature serves all that
    stand it, and so on with the rest. Longer in the tunnel than a need asks for would make its belt slower.
    """
    found: list[tuple[int, int]] = []
    left = sorted(set(needs), key=lambda need: (need.least_s, -need.least_f))
    while left:
        setting = left[0].least_f, left[0].least_s
        found.append(setting)
        left = [need for need in left[1:] if need.least_s != setting[1] or not need.is_met_by(setting[0], setting[1])]
    return tuple(found)

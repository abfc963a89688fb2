"""The floor's limits packed anew: a field as wide as its largest count needs, as many fields to a word as fit."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.search.profiles import BELT_PERMILLE, FIELD_BITS, MOST
from scheduler.search.tables import Tables

WORD_BITS = 62
"""Bits used of a word: none of them is its sign."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """places: per limit its word and its lowest bit. guards: per word its guard bits. widths: bits without guard."""

    places: tuple[tuple[int, int], ...]
    widths: tuple[int, ...]
    guards: tuple[int, ...]

    @property
    def words(self) -> int:
        """Words of one need."""
        return len(self.guards)

    def words_of(self, packed: int, *, guarded: bool = False) -> list[int]:
        """A need of `search/profiles.py` in these words; guarded: what is free, its guard bits set."""
        found = list(self.guards) if guarded else [0] * self.words
        for field, (word, bit) in enumerate(self.places):
            found[word] += (packed >> (FIELD_BITS * field) & MOST) << bit
        return found


def packing_of(tables: Tables) -> Packing:
    """Widths that hold what there can be of each limit and what anything asks of it."""
    week, limits, needs = tables.week, tables.limits, _needs(tables)
    most = [limits.lead_covers * union.bit_count() for union in limits.unions]
    most += [BELT_PERMILLE for _ in limits.dryer_ids]
    most += [min(pool.units, MOST) for pool in week.flash_pools]
    most += [min(one.units or 0, MOST) for one in week.stations if one.units is not None]
    for need in needs:
        for field in range(len(most)):
            most[field] = max(most[field], need >> (FIELD_BITS * field) & MOST)
    places, widths, guards = [], [], [0]
    bit = 0
    for count in most:
        width = max(1, count.bit_length())
        if bit + width + 1 > WORD_BITS:
            guards.append(0)
            bit = 0
        places.append((len(guards) - 1, bit))
        widths.append(width)
        guards[-1] |= 1 << (bit + width)
        bit += width + 1
    return Packing(places=tuple(places), widths=tuple(widths), guards=tuple(guards))


def _needs(tables: Tables) -> list[int]:
    """Everything that is ever asked of the floor."""
    found = {tables.room_need, tables.stage_need, tables.finish_need}
    for run in tables.runs:
        for choice in run.choices:
            for way in (choice, *choice.other_ways):
                found |= {way.set_up_need, way.print_need, way.flash_need}
    for station in tables.stations.values():
        found |= {station.crew_need, station.unit_need}
    return sorted(found)

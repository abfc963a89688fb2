"""Ink families and inks: what the shop says of them, and start values where it says nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from scheduler.domain.orders import Ink
from scheduler.domain.shop import INK_START_VALUES, InkFamily, Shop
from scheduler.domain.week import InkUse
from scheduler.errors import InputError, Problem
from scheduler.workload.assumptions import Notes

BASE_NAMES = frozenset({"base", "underbase", "white base", "base white", "white underbase", "underbase white"})


@dataclass(slots=True)
class InkShelf:
    """Looks up families and inks, and remembers every ink that was asked for."""

    shop: Shop
    notes: Notes
    _used: dict[str, InkUse] = field(default_factory=dict)
    _families: dict[str, InkFamily] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Read the shop's own families first, start values after them."""
        own = {one.name.lower(): one for one in self.shop.families}
        self._families = {**{one.name: one for one in INK_START_VALUES}, **own}

    def knows(self, family: str) -> bool:
        """True if the shop, or a start value, says something of this family."""
        return family.lower() in self._families

    def family(self, name: str) -> InkFamily:
        """The family of this name. Raises InputError for one nobody described."""
        found = self._families.get(name.lower())
        if found is None:
            raise InputError((unknown_family(name, None),))
        if found.name not in {one.name for one in self.shop.families}:
            stands = "may stand in the mesh" if found.idle_ok_min is None else f"may stand {found.idle_ok_min} min"
            stands += found.mixing_text
            text = f"{found.name}: {found.tunnel_s} s in the tunnel, {found.flash_s:g} s flash, {stands} assumed"
            if not self.notes.has("ink_family", text, "ink families"):
                self.notes.add("ink_family", text, "ink families")
        return found

    def use(self, name: str, family: str | None = None) -> InkUse:
        """An ink by name and family (None: the shop's default family)."""
        known = self.family(family or self.shop.defaults.family)
        plain = name.strip().lower()
        ink_id = f"{known.name} {plain}"
        if ink_id not in self._used:
            dark = {word.lower() for word in self.shop.dark_inks}
            self._used[ink_id] = InkUse(
                ink_id=ink_id,
                name=plain,
                family=known.name,
                is_dark=plain in dark or bool(dark & set(plain.split())),
                idle_ok_min=known.idle_ok_min,
                flash_s=known.flash_s,
                tunnel_s=known.tunnel_s,
                cure_f=known.cure_f,
                pot_life_min=known.pot_life_min,
                remix_min=known.remix_min if known.pot_life_min is not None else 0,
            )
        return self._used[ink_id]

    def from_words(self, words: str) -> InkUse:
        """An ink as it stands on a press: "red", or "water-based red" with its family first; "white base" is white."""
        plain = words.strip().lower()
        for name in sorted(self._families, key=len, reverse=True):
            if plain.startswith(f"{name} "):
                return self.use(base_ink(plain[len(name) + 1 :]), name)
        return self.use(base_ink(plain))

    @property
    def used(self) -> tuple[InkUse, ...]:
        """Every ink asked for, by id."""
        return tuple(self._used[ink_id] for ink_id in sorted(self._used))

    @property
    def by_id(self) -> Mapping[str, InkUse]:
        """Every ink asked for."""
        return self._used


def pot_life(inks: Iterable[InkUse]) -> tuple[int | None, int]:
    """Pot life of a run, and the minutes to mix again: its inks are mixed together, as the first to go off needs.

    One stop of the press serves all of them, and takes the minutes of the slowest.
    """
    found = [(ink.pot_life_min, ink.remix_min) for ink in inks if ink.pot_life_min is not None]
    return min((life for life, _ in found), default=None), max((remix for _, remix in found), default=0)


def is_base(ink: Ink) -> bool:
    """True if the typed ink is an underbase: "white base", "underbase", "grey base"."""
    return is_base_name(ink.name)


def is_base_name(words: str) -> bool:
    """True if these words name an underbase."""
    name = words.strip().lower()
    return name in BASE_NAMES or name.endswith(" base")


def base_ink(name: str) -> str:
    """The ink an underbase is printed with: "white" for "white base", "grey" for "grey base", else the name itself."""
    plain = name.strip().lower()
    if plain in BASE_NAMES:
        return "white"
    return plain.removesuffix(" base") or "white"


def is_white(ink: Ink) -> bool:
    """True for white and its kinds ("bright white"), but no underbase."""
    return ink.name.strip().lower().split()[-1:] == ["white"] and not is_base(ink)


def family_problems(shelf: InkShelf, inks: Iterable[tuple[Ink, int | None]]) -> list[Problem]:
    """Families typed on the sheet that nobody described, each told once; inks come with their row."""
    told: dict[str, Problem] = {}
    for ink, row in inks:
        if ink.family and not shelf.knows(ink.family):
            told.setdefault(ink.family.lower(), unknown_family(ink.family, row))
    return list(told.values())


def unknown_family(name: str, row: int | None) -> Problem:
    """The fault of an ink family that neither the shop nor a start value describes."""
    return Problem(
        file="orders.csv" if row is not None else "shop.toml",
        row=row,
        column="family",
        value=name,
        code="unknown_family",
        message=f"'{name}' is an ink family the shop says nothing of",
        hint=f"add [ink.{name}] to shop.toml with tunnel and flash seconds, or write "
        f"{', '.join(one.name for one in INK_START_VALUES)}",
    )

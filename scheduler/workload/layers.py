"""From an imprint and the shade of its garments to the heads that print it: underbase, flashes, hits, meshes.

The defaults are common practice, no source; the base column, explicit inks and the shop's defaults overwrite them:

- dark garments, plastisol: white alone is printed on a white base, or twice through the same screen; black alone goes
  straight on; any other inks go on a white base. A flash stands after the base and between two hits.
- light garments, and inks that soak in (water-based, discharge): no base unless asked for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from scheduler.domain.orders import Imprint, Ink
from scheduler.domain.shop import Defaults
from scheduler.domain.week import InkUse, Stack, StackHead
from scheduler.workload.assumptions import Notes
from scheduler.workload.inks import InkShelf, base_ink, is_base, is_white

DARK = "dark"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One printing head: its screen, ink, hits, mesh, what it prints in words, and whether a flash stands after it."""

    screen_id: str
    ink: InkUse
    prints: str
    mesh: int
    is_mesh_stated: bool
    hits: int = 1
    is_base: bool = False
    flash_after: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Layering:
    """What the layers of one imprint on one shade are made from."""

    shelf: InkShelf
    notes: Notes
    imprint: Imprint
    shade: str
    is_on_both_shades: bool

    def layers(self) -> tuple[Layer, ...]:
        """Heads in print order."""
        base, tops = self._base_and_tops()
        found = [] if base is None else [self._base_layer(base)]
        found.extend(self._top_layer(number, ink) for number, ink in enumerate(tops, start=1))
        return tuple(found)

    @property
    def _defaults(self) -> Defaults:
        return self.shelf.shop.defaults

    @property
    def _where(self) -> str:
        return f"{self.imprint.order_id} {self.imprint.location} {self.shade}"

    def _base_and_tops(self) -> tuple[Ink | None, tuple[Ink, ...]]:
        """The underbase, if there is one, and the inks over it. The base column wins over what the inks say."""
        inks = self.imprint.inks
        typed = inks[0] if len(inks) > 1 and is_base(inks[0]) else None
        tops = inks[1:] if typed else inks
        if self.imprint.with_base is False:
            return None, tops
        if typed:
            if self.imprint.with_base is None and self.shade != DARK and self.is_on_both_shades:
                self.notes.add("base_off", "underbase left off on the light garments", "prints", where=self._where)
                return None, tops
            return typed, tops
        if self.imprint.with_base:
            return Ink(name="white", family=tops[0].family if tops else None), tops
        return self._assumed_base(tops)

    def _assumed_base(self, tops: tuple[Ink, ...]) -> tuple[Ink | None, tuple[Ink, ...]]:
        if self.shade != DARK or not tops or not all("plastisol" in self._family(ink) for ink in tops):
            return None, tops
        base = Ink(name="white", family=tops[0].family)
        if all(is_white(ink) for ink in tops):
            if any(ink.hits > 1 for ink in tops):
                return None, tops
            if self._defaults.white_on_dark == "same screen twice":
                text = "white on dark: the same screen twice with a flash between, assumed"
                self.notes.add("white_on_dark", text, "prints", where=self._where)
                return None, tuple(replace(ink, hits=2) for ink in tops)
            text = "white on dark: a white base, a flash and a white over it, assumed"
            self.notes.add("white_on_dark", text, "prints", where=self._where)
            return base, tops
        if all(ink.name.strip().lower() == "black" for ink in tops):
            self.notes.add("black_on_dark", "black on dark: no underbase assumed", "prints", where=self._where)
            return None, tops
        self.notes.add("base_on_dark", "white base and a flash assumed on dark garments", "prints", where=self._where)
        return base, tops

    def _family(self, ink: Ink) -> str:
        return self.shelf.family(ink.family or self._defaults.family).name

    def _base_layer(self, ink: Ink) -> Layer:
        used = self.shelf.use(base_ink(ink.name), ink.family)
        return Layer(
            screen_id=f"{self.imprint.design_id}:base",
            ink=used,
            prints=f"{used.name} base",
            mesh=ink.mesh or self._defaults.mesh_base,
            is_mesh_stated=ink.mesh is not None,
            hits=max(1, ink.hits),
            is_base=True,
            flash_after=True,
        )

    def _top_layer(self, number: int, ink: Ink) -> Layer:
        default = self._defaults.mesh_white if is_white(ink) else self._defaults.mesh_colour
        used = self.shelf.use(base_ink(ink.name) if is_base(ink) else ink.name, ink.family)
        return Layer(
            screen_id=f"{self.imprint.design_id}:{number}",
            ink=used,
            prints=used.name,
            mesh=ink.mesh or default,
            is_mesh_stated=ink.mesh is not None,
            hits=max(1, ink.hits),
            flash_after=ink.hits > 1,
        )


def stack_of(layers: Iterable[Layer], set_id: str | None, pallet: str | None) -> Stack:
    """The layers as they stand on a press."""
    heads = tuple(layers)
    return Stack(
        set_id=set_id,
        heads=tuple(StackHead(screen_id=one.screen_id, ink_id=one.ink.ink_id, hits=one.hits) for one in heads),
        flash_after=tuple(at for at, one in enumerate(heads) if one.flash_after),
        pallet=pallet,
    )

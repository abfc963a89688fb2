"""Runs and every way a press may print them: inks, stacks of heads, minutes of set-up, ways of drying, parts.

All `_tau` are shop minutes (see `domain.clock`), all `_min` whole minutes of work, all money integer cents.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from scheduler.domain.pickled import OwnFieldsOnly

Crew = tuple[tuple[str, int], ...]
"""People needed at once: (role, how many), e.g. (("print", 1), ("catch", 1)). Roles are the shop's own words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InkUse:
    """An ink as the press sees it. dries: it may not stand in the mesh longer than `idle_ok_min` wall minutes.

    flash_s, tunnel_s, cure_f: start values of its family, for paper; 0 where nothing is known.
    pot_life_min: minutes a mixed batch lasts, None if it does not go off; remix_min: press minutes for a further batch.
    """

    ink_id: str
    name: str
    family: str
    is_dark: bool
    idle_ok_min: int | None = None
    flash_s: float = 0.0
    tunnel_s: int = 0
    cure_f: int = 0
    pot_life_min: int | None = None
    remix_min: int = 0

    @property
    def dries(self) -> bool:
        """True for inks that must be rinsed out when their run ends."""
        return self.idle_ok_min is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpMinutes:
    """Set-up minutes of one press. No published source: shop settings.

    mount_min: per screen mounted and registered. load_min: per head that gets an ink. card_min: per ink carded over
    into another screen. swap_min: per ink that leaves where a spare squeegee and floodbar exist (cleaned off the
    press), else None and clean_light_min / clean_dark_min count, by the ink that leaves. strike_off_min: test print,
    one pass through the dryer included.
    """

    mount_min: int = 0
    load_min: int = 0
    card_min: int = 0
    swap_min: int | None = None
    clean_light_min: int = 0
    clean_dark_min: int = 0
    pallet_min: int = 0
    flash_move_min: int = 0
    strike_off_min: int = 0

    def leave_min(self, ink: InkUse) -> int:
        """Minutes on the press's clock for one head's ink to leave."""
        if self.swap_min is not None:
            return self.swap_min
        return self.clean_dark_min if ink.is_dark else self.clean_light_min


@dataclass(frozen=True, slots=True, kw_only=True)
class StackHead:
    """One printing head of a run, in print order: which screen, which ink, how many hits."""

    screen_id: str
    ink_id: str
    hits: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """What stands on a press: heads in print order, after which of them a flash stands (0-based), pallet kind."""

    set_id: str | None = None
    heads: tuple[StackHead, ...] = ()
    flash_after: tuple[int, ...] = ()
    pallet: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """Another way to print a run on a press: slower, to share the belt, or at another setting of the dryer.

    step_permille: of the press's full rate. setting_id: of its dryer, None where that has one setting for all.
    mixing_min: as `PressChoice.mixing_min`.
    print_cents: as in `PressChoice`.
    """

    print_min: int
    part_min: tuple[int, ...]
    rate_pcs_h: int
    belt_permille: int
    step_permille: int = 1000
    setting_id: str | None = None
    mixing_min: int = 0
    print_cents: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PressChoice:
    """A run on one press it fits.

    heads_needed counts flashes in heads and cool-down heads too. print_min: all pieces. wash_up_min: rinsing out the
    inks that dry, at the end of the run and before every stop they may not stand, on the press's clock; re_ink_min:
    loading them again after such a stop. mixing_min: mixing the batches after the first of inks that go off, within the
    print. set_up_extra_min: always added (client approval).
    belt_permille: share of its dryer's belt while printing, 0 to 1000. stated_set_up_min: replaces the whole set-up
    arithmetic where the shop stated it. part_min: print minutes of each part, in order; they sum to print_min.
    slowed_to_pcs_h: the belt's rate where the belt by itself is slower than the press, else None. flash_units: units of
    its press's flash pool it takes, from set-up to last piece. step_permille: rate against the full one. other_ways:
    ways to print it that take no fewer minutes than this one, way 0; none of them where printing takes no time.
    print_cents: what its print crew's minutes cost beyond those on the press where they cost least.
    """

    press_id: str
    stack: Stack
    heads_needed: int
    print_min: int
    part_min: tuple[int, ...]
    rate_pcs_h: int
    wash_up_min: int = 0
    set_up_extra_min: int = 0
    belt_permille: int = 0
    stated_set_up_min: int | None = None
    is_preferred: bool = False
    slowed_to_pcs_h: int | None = None
    flash_units: int = 0
    re_ink_min: int = 0
    step_permille: int = 1000
    setting_id: str | None = None
    other_ways: tuple[Way, ...] = ()
    mixing_min: int = 0
    print_cents: int = 0

    @property
    def work_min(self) -> int:
        """Press minutes after set-up: printing, mixing further batches and rinsing out."""
        return self.print_min + self.mixing_min + self.wash_up_min

    @property
    def long_stop_min(self) -> int:
        """Press minutes that a stop the inks may not stand adds: rinsing out before it, inking again after it."""
        return self.wash_up_min + self.re_ink_min

    def in_way(self, way: int) -> PressChoice | None:
        """The same choice printed in this way; None if there is no such way."""
        if way == 0:
            return self
        if not 0 < way <= len(self.other_ways):
            return None
        other = self.other_ways[way - 1]
        return replace(
            self,
            print_min=other.print_min,
            part_min=other.part_min,
            rate_pcs_h=other.rate_pcs_h,
            belt_permille=other.belt_permille,
            step_permille=other.step_permille,
            setting_id=other.setting_id,
            mixing_min=other.mixing_min,
            print_cents=other.print_cents,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One lot's share of a run. kind: "tee", "fleece" ..., "" where it does not matter."""

    lot_id: str
    garment: str
    pieces: int
    kind: str = ""


@dataclass(frozen=True, kw_only=True)
class Run(OwnFieldsOnly):
    """Imprints of one design on lots of one shade, printed in one go.

    set_id None: no screens are needed. blanks_tau: garments are there. art_tau: the set may be burned from then on.
    idle_ok_min: its inks may not stand over a stop longer than this (wall minutes), None if they may. cure_min: shop
    minutes from press to the end of the belt. between_min: shop minutes a lot needs after this run's cure before its
    next print. print_after: runs whose cure and `between_min` must be over before this one prints. pot_life_min: print
    minutes a mixed batch of its inks lasts, None if they do not go off; remix_min: press minutes for a further one.
    """

    run_id: str
    order_id: str
    design_id: str
    location: str
    set_id: str | None
    parts: tuple[Part, ...]
    choices: tuple[PressChoice, ...]
    blanks_tau: int = 0
    art_tau: int = 0
    idle_ok_min: int | None = None
    cure_min: int = 0
    between_min: int = 0
    print_after: tuple[str, ...] = ()
    pot_life_min: int | None = None
    remix_min: int = 0

    @property
    def pieces(self) -> int:
        """Pieces in all parts."""
        return sum(part.pieces for part in self.parts)

    @cached_property
    def lot_ids(self) -> frozenset[str]:
        """Lots this run prints on."""
        return frozenset(part.lot_id for part in self.parts)

    @cached_property
    def on_press(self) -> dict[str, PressChoice]:
        """The choice for each press the run fits."""
        return {choice.press_id: choice for choice in self.choices}

    def printed_on(self, press_id: str, way: int) -> PressChoice | None:
        """The run on this press in this way; None if it does not fit the press, or there is no such way."""
        choice = self.on_press.get(press_id)
        return choice.in_way(way) if choice is not None else None

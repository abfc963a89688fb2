"""What a shop's own record says of its stated figures: by how much set-ups and prints differ from them in truth."""

from __future__ import annotations

from dataclasses import dataclass

AS_STATED = 100
"""Per cent of the stated figure where nothing is learnt."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntPress:
    """Per cent of a press's stated set-up minutes and pieces an hour, and from how many times each is learnt."""

    press_id: str
    set_up_pct: int = AS_STATED
    set_up_times: int = 0
    rate_pct: int = AS_STATED
    rate_times: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntDesign:
    """Per cent of the pieces an hour its press prints of other designs, and from how many times it is learnt."""

    design_id: str
    rate_pct: int = AS_STATED
    rate_times: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntFigures:
    """Everything that is planned by other figures than the stated ones. Presses and designs as stated are not in it."""

    presses: tuple[LearntPress, ...] = ()
    designs: tuple[LearntDesign, ...] = ()

    def of_press(self, press_id: str) -> LearntPress:
        """What is learnt of a press; as stated where nothing is."""
        return next((one for one in self.presses if one.press_id == press_id), LearntPress(press_id=press_id))

    def of_design(self, design_id: str) -> LearntDesign:
        """What is learnt of a design; as its press where nothing is."""
        return next((one for one in self.designs if one.design_id == design_id), LearntDesign(design_id=design_id))


NOTHING_LEARNT = LearntFigures()
"""Everything is planned by the stated figures."""

"""How much a shop's days differ from its plan: what the outlook of ship dates is worked out from."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Chances:
    """What may come in between, with figures a shop should replace by its own record. Common practice, no source.

    set_up_spread, print_spread: spread of the logarithm of actual against planned minutes (0.2: two set-ups in three
    take between 82 % and 122 % of the plan), the middle one as planned. spoil_chance: of a run needing a reprint, which
    takes spoil_least to spoil_most of its minutes. screen_chance: of a run losing a screen; screen_min until it prints
    again. stop_per_hour: press stops in an hour of printing, stop_min long on average. blanks_chance, art_chance: of
    garments or art that are still to come being late, by a day, or two in one of `two_days_in` cases. is_typed: the
    shop has given its own figures.
    """

    set_up_spread: float = 0.2
    print_spread: float = 0.08
    spoil_chance: float = 0.06
    spoil_least: float = 0.03
    spoil_most: float = 0.10
    screen_chance: float = 0.02
    screen_min: int = 75
    stop_per_hour: float = 0.03
    stop_min: int = 25
    blanks_chance: float = 0.10
    art_chance: float = 0.10
    two_days_in: int = 4
    is_typed: bool = False
    learnt_from: int = 0
    """Runs of the shop's own record behind the spreads; 0: none."""

    def without(self, cause: str) -> Chances:
        """The same days without one cause, by its name in `CAUSES`."""
        return replace(self, **{CAUSES[cause]: 0})  # type: ignore[arg-type]


CAUSES: dict[str, str] = {
    "set-ups that take longer": "set_up_spread",
    "prints that take longer": "print_spread",
    "reprints": "spoil_chance",
    "broken screens": "screen_chance",
    "press stops": "stop_per_hour",
    "late garments": "blanks_chance",
    "late art": "art_chance",
}
"""What may make an order slip, in shop words, and the figure behind it."""

NO_SURPRISES = Chances(
    set_up_spread=0, print_spread=0, spoil_chance=0, screen_chance=0, stop_per_hour=0, blanks_chance=0, art_chance=0
)
"""Days that go as planned."""

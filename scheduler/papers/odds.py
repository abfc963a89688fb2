"""What odds rest on: told wherever odds are."""

from __future__ import annotations

from scheduler.domain.chances import Chances
from scheduler.papers.words import percent


def basis(chances: Chances) -> str:
    """What the odds rest on: the shop's own figures, or start values."""
    if chances.learnt_from:
        return (
            f"It rests on this shop's own record of {chances.learnt_from} runs: set-ups stray by "
            f"{percent(chances.set_up_spread)} and printing by {percent(chances.print_spread)}."
        )
    if chances.is_typed:
        return "It rests on the shop's own figures, those under [outlook] among its settings."
    return (
        "It rests on start values, not on this shop's record: set-ups stray by "
        f"{percent(chances.set_up_spread)} and printing by {percent(chances.print_spread)}, "
        f"{percent(chances.spoil_chance)} of runs need a reprint, {percent(chances.blanks_chance)} of deliveries come "
        "late. Put your own among the shop's settings, under [outlook]."
    )

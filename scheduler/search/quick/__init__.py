"""The decoder once more, over whole numbers in a row, compiled: what the search asks thousands of times a second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scheduler.search.quick.kept_code import have_made, is_made

if TYPE_CHECKING:
    from scheduler.search.decoder import Decoder
    from scheduler.search.quick.trials import Trials

DECODE_S_PER_RUN = 0.00004
"""About what decoding takes uncompiled; only tells how many genomes fit a time."""
WORTH_LOADING = 25_000
"""Runs to be placed from which loading compiled code, about half a second, is less than what it saves."""
WORTH_MAKING = 250_000
"""Runs to be placed, about ten seconds of it, from which it is worth having the code compiled."""


def trials_for(decoder: Decoder, genomes: float) -> Trials | None:
    """Compiled trials of a decoder's week where they pay for so many genomes; None where the decoder does it alone.

    Both come to the same figures. Code that is not there yet is made beside, for the next time somebody asks.
    """
    placings = genomes * len(decoder.tables.runs)
    if decoder.trials is not None:
        return decoder.trials
    if placings < WORTH_LOADING:
        return None
    if not is_made():
        if placings >= WORTH_MAKING:
            have_made()
        return None
    # The library behind it takes its time to load, so it is loaded only here.
    from scheduler.search.quick.trials import Trials

    if Trials.can_try(decoder):
        decoder.trials = Trials(decoder)
    return decoder.trials

"""The last moment at which what an order waits for still keeps its date."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """An order that waits, in a week in which it can be planned: which of its runs wait for art, which for garments."""

    order_id: str
    art: frozenset[str]
    garments: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class LatestYes:
    """The answer for one order.

    latest_tau: shop minute by which the missing thing must be there; None if nobody could work it out: then `why` says
    so in shop words. promised_tau: the pick-up that keeps the promise. missed: pick-ups it misses even if the thing
    comes by then; 0 where the date is kept. is_proven: a minute later the date is lost, or no moment keeps it; else it
    may be a little later, or there was no time to look.
    """

    order_id: str
    latest_tau: int | None
    promised_tau: int | None = None
    why: str = ""
    missed: int = 0
    is_proven: bool = True

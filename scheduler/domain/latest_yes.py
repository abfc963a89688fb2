"""The last moment at which what an order waits for still keeps its date."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LatestYes:
    """The answer for one order.

    latest_tau: shop minute by which the missing thing must be there; None if even now is too late, or if nobody could
    work it out: then `why` says so in shop words. promised_tau: the pick-up that keeps the promise.
    """

    order_id: str
    latest_tau: int | None
    promised_tau: int | None = None
    why: str = ""

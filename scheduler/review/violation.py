"""What the independent eye hands back: one broken rule, in one place, in shop words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """A rule a plan breaks.

    rule is the name of the rule's function; the ids say where, as far as the fault has one place; at_tau is the first
    shop minute at which it shows. message is a sentence for the planner, with clock times.
    """

    rule: str
    message: str
    run_id: str | None = None
    order_id: str | None = None
    press_id: str | None = None
    at_tau: int | None = None

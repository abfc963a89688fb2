"""What a what-if is answered with: plans side by side, each beside the plan as it stands."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.domain.what_if import PrintChanged

STAY, KEEP, BEST, OVERTIME = "nobody moves", "every promise kept", "best for the shop", "with overtime"
KINDS = (STAY, KEEP, BEST, OVERTIME)
"""The four ways to answer, in the order in which they are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The plan as it stands and the week it belongs to. now_tau: shop minute before which nothing new can begin."""

    week: Week
    plan: Plan
    now_tau: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer. plan None: there is none, and `reason` says why in shop words.

    week: the week with the what-if in it. same_as: the kind of an earlier answer with the very same plan, "" if none.
    seconds: how long after the question it was found.
    """

    kind: str
    week: Week
    plan: Plan | None = None
    reason: str = ""
    same_as: str = ""
    seconds: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """Everything a what-if is answered with.

    name: what it was called. order_ids: orders that came in with it. resolved: what torn screens and missing
    inks came to, print by print. told: what was assumed in applying it.
    first_seconds: how long the first plan took, None without any.
    """

    name: str
    standing: Standing
    answers: tuple[Answer, ...]
    order_ids: tuple[str, ...] = ()
    resolved: tuple[PrintChanged, ...] = ()
    told: tuple[str, ...] = ()
    first_seconds: float | None = None

    @property
    def best(self) -> Answer | None:
        """The first with a plan among those that keep every promise, buy overtime or are best, in that order."""
        for kind in (STAY, KEEP, BEST, OVERTIME):
            if self.of(kind).plan is not None:
                return self.of(kind)
        return None

    @property
    def distinct(self) -> tuple[Answer, ...]:
        """Answers with a plan of their own."""
        return tuple(one for one in self.answers if one.plan is not None and not one.same_as)

    def of(self, kind: str) -> Answer:
        """The answer of this kind."""
        return next(one for one in self.answers if one.kind == kind)

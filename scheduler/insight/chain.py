"""Why an order ends when it does: the work and the waits that fix its end, back to the planning moment.

Each step of the chain starts the minute the one before it ends, so the chain adds up: it is the longest path through
everything that binds. A step hangs on the latest of what it needs (garments, screens, a free press, another print);
where it starts later than that although its place is open, on the work of others that ends just then and used the same
people or belt; else it was kept back, and the chain says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.domain.plan import Plan
from scheduler.domain.week import OrderDue, Week
from scheduler.insight.causes import Cause, Causes
from scheduler.insight.steps import Step
from scheduler.insight.texts import clock_text, length_text

WORK, WAIT, CLOSED = "work", "wait", "closed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One stretch [start, end) of a chain, shop minutes. kind: "work", "wait" or "closed".

    what: in shop words. owner_id: the run or order that is worked on, "" for none. place: a press, "screen room",
    "packing" or "".
    """

    kind: str
    what: str
    owner_id: str
    place: str
    start_tau: int
    end_tau: int

    @property
    def minutes(self) -> int:
        """Shop minutes of the stretch."""
        return self.end_tau - self.start_tau


def chain(week: Week, plan: Plan, order_id: str) -> tuple[Link, ...]:
    """The stretches from the planning moment to the minute the order is packed, in order of time, without a gap.

    Raises KeyError for an order the plan does not hold.
    """
    return chain_reader(week, plan)(order_id)


def chain_reader(week: Week, plan: Plan) -> Callable[[str], tuple[Link, ...]]:
    """`chain` for many orders of one plan."""
    steps = Causes(week, plan)

    def read(order_id: str) -> tuple[Link, ...]:
        return tuple(reversed([link for link in _back(steps, order_id) if link.minutes]))

    return read


def _back(steps: Causes, order_id: str) -> Iterator[Link]:
    """Links from the last one back."""
    step: Step | None = steps.last_of(order_id)
    seen: set[Step] = set()
    while step is not None:
        seen.add(step)
        yield from _links(steps, step)
        if step.start_tau <= 0:
            return
        cause = steps.cause_of(step, seen)
        if cause.tau < step.start_tau:
            is_closed = not steps.is_open_between(step, cause.tau, step.start_tau)
            yield Link(
                kind=CLOSED if is_closed else WAIT,
                what=steps.closed_words(step) if is_closed else cause.gap_words,
                owner_id=step.owner_id,
                place=step.place,
                start_tau=cause.tau,
                end_tau=step.start_tau,
            )
        if cause.step is None and cause.tau > 0:
            yield _root(step, cause)
        step = cause.step


def _links(steps: Causes, step: Step) -> Iterator[Link]:
    """The step itself, latest stretch first; where it pauses over closed hours, these by themselves."""
    end_tau = step.end_tau
    for start, end in reversed(steps.stretches(step)):
        for kind, words, from_tau, to_tau in (
            (CLOSED, steps.closed_words(step), end, end_tau),
            (WORK, step.words, start, end),
        ):
            yield Link(
                kind=kind,
                what=words,
                owner_id=step.owner_id,
                place=step.place,
                start_tau=from_tau,
                end_tau=to_tau,
            )
        end_tau = start


def _root(step: Step, cause: Cause) -> Link:
    return Link(kind=WAIT, what=cause.words, owner_id=step.owner_id, place=step.place, start_tau=0, end_tau=cause.tau)


def sentence(week: Week, order: OrderDue, links: tuple[Link, ...], most: int = 4) -> str:
    """The chain in one sentence: its longest work and waits in order of time, and what the rest makes together."""
    if not links:
        return f"{order.order_id} is done at once"
    minutes: dict[str, int] = {}
    for link in (link for link in links if link.kind != CLOSED):
        minutes[link.what] = minutes.get(link.what, 0) + link.minutes
    longest = set(sorted(minutes, key=lambda what: -minutes[what])[:most])
    told = ", then ".join(f"{length_text(minutes[what])} {what}" for what in minutes if what in longest)
    rest = sum(link.minutes for link in links) - sum(minutes[what] for what in longest)
    more = f", and {length_text(rest)} of shorter steps and closed hours" if rest else ""
    return f"{order.order_id} is packed {clock_text(week, links[-1].end_tau)}: {told}{more}"

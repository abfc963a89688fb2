"""What would help most: the week planned again with one thing more, offer by offer, in the same time for each.

Every offer gets the same number of tries from the same plan, and so does the week as it is: what that alone finds is
no gain of the offer. Where the thing makes no difference anywhere, both searches take the very same steps and the gain
is nothing. A lower bound of the loosened week tells beforehand what could be gained at most.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from time import perf_counter

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.insight.one_more import Offer, offers
from scheduler.review.measures import cost, late_orders
from scheduler.search.bounds import lower_bound
from scheduler.search.decoder import Decoder
from scheduler.search.genome import Genome, genes_of
from scheduler.search.local import Counted, anneal
from scheduler.search.pricing import genome_from

FEWEST_TRIES, MOST_TRIES = 40, 4000
TIME_SHARE = 0.6
"""Share of the time that is dealt out: some tries take longer than those that were timed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """One thing more and what it brings, in late days and money of the week's plan.

    most_saved_cents: what no plan with it can beat; 0 means it cannot help at all, and nothing was tried.
    """

    kind: str
    name: str
    words: str
    saved_cents: int
    saved_late_days: int
    most_saved_cents: int
    tries: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatHelps:
    """Offers, most helpful first, beside the week as it is. is_whole: every offer was tried in time."""

    cost_cents: int
    late_days: int
    helps: tuple[Help, ...]
    is_whole: bool


@dataclass(frozen=True, slots=True)
class _Found:
    cost_cents: int
    late_days: int


def what_helps(
    week: Week,
    plan: Plan,
    *,
    seconds: float | None = None,
    tries: int | None = None,
    seed: int = 1,
    more: Iterable[Offer] = (),
    on_help: Callable[[Help], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> WhatHelps:
    """Try every offer for its share of `seconds`, or exactly `tries` plans each. One of both must be given.

    more: offers beside those that follow from the week itself.
    """
    began = perf_counter()
    asked = [*offers(week, plan), *more]
    count = tries if tries is not None else _tries(week, plan, TIME_SHARE * (seconds or 0.0) / (len(asked) + 1))
    now = _best(week, genome_from(week, plan), count, seed, _Found(cost(week, plan).total, _late_days(week, plan)))
    helps: list[Help] = []
    for offer in asked:
        is_late = seconds is not None and perf_counter() - began > seconds
        if is_late or (stop is not None and stop()):
            break
        helps.append(_help(offer, genome_from(week, plan), now, count, seed))
        if on_help is not None:
            on_help(helps[-1])
    ranked = sorted(helps, key=lambda one: (-one.saved_late_days, -one.saved_cents, one.words))
    return WhatHelps(
        cost_cents=now.cost_cents, late_days=now.late_days, helps=tuple(ranked), is_whole=len(helps) == len(asked)
    )


def _help(offer: Offer, start: Genome, now: _Found, tries: int, seed: int) -> Help:
    start = _fitting(offer, start)
    most_cents = max(0, now.cost_cents - lower_bound(offer.week).cents)
    found = _best(offer.week, start, tries, seed, now) if most_cents else now
    saved_cents = max(0, now.cost_cents - found.cost_cents)
    return Help(
        kind=offer.kind,
        name=offer.name,
        words=offer.words,
        saved_cents=saved_cents,
        saved_late_days=max(0, now.late_days - found.late_days) if saved_cents else 0,
        most_saved_cents=most_cents,
        tries=tries if most_cents else 0,
    )


def _fitting(offer: Offer, start: Genome) -> Genome:
    """The standing plan's queue for the offer's week, with the overtime it brings."""
    return replace(start, overtime=start.overtime | offer.buys)


def _best(week: Week, start: Genome, tries: int, seed: int, as_it_is: _Found) -> _Found:
    """The cheaper of what stands and the best of so many plans around its queue."""
    decoder = Decoder(week)
    found = anneal(decoder, genes_of(decoder.tables, start), Counted(tries), seed)
    if found is None or found.decoded.cost_cents >= as_it_is.cost_cents:
        return as_it_is
    return _Found(found.decoded.cost_cents, _late_days(week, found.decoded.plan))


def _late_days(week: Week, plan: Plan) -> int:
    return sum(one.pickups_missed for one in late_orders(week, plan))


def _tries(week: Week, plan: Plan, seconds: float) -> int:
    """How many plans about fit a time, by timing a few."""
    began = perf_counter()
    _best(week, genome_from(week, plan), FEWEST_TRIES, 0, _Found(0, 0))
    each_s = (perf_counter() - began) / FEWEST_TRIES
    return max(FEWEST_TRIES, min(MOST_TRIES, int(seconds / max(each_s, 1e-6))))


def headline(found: WhatHelps, money: Callable[[int], str]) -> str:
    """The one sentence that names what would help most, or says that nothing on the list would."""
    best = found.helps[0] if found.helps else None
    if best is None or not best.saved_cents:
        return "Nothing on this list would save anything this week: what stands, stands for its own hours."
    days = best.saved_late_days
    late = f"{days} late {'day' if days == 1 else 'days'} and " if days else ""
    return f"What would help most: {best.words}. It would save {late}{money(best.saved_cents)} this week."

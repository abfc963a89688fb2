"""One thing more that is typed, not built in: an evening, a faster flash. The week is made anew with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.shop import INK_START_VALUES, OvertimeOffer
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.insight.one_more import Offer
from scheduler.review.measures import late_orders
from scheduler.review.words import day_text
from scheduler.search.clash import without_clashes
from scheduler.workload.build import build_workload

EVENING_MIN = 120
MOST_EVENINGS = 3
FLASH_S = 2.0
LEAST_FLASH_S = 1.0


def typed_offers(inputs: WeekInputs, week: Week, plan: Plan) -> Iterator[Offer]:
    """Evenings before late orders should leave, at no price: what they are worth; and a flash two seconds faster."""
    for day in _evenings(week, plan):
        offer = _evening(inputs, week, day)
        if offer is not None:
            yield offer
    if any(choice.stack.flash_after for run in week.runs for choice in run.choices):
        typed = {family.name: family for family in (*INK_START_VALUES, *inputs.shop.families)}
        faster = tuple(
            replace(family, flash_s=max(LEAST_FLASH_S, family.flash_s - FLASH_S)) for family in typed.values()
        )
        made = _made(replace(inputs, shop=replace(inputs.shop, families=faster)))
        if made is not None:
            yield Offer(kind="flash", name="", words=f"flashes {FLASH_S:g} s faster", week=made)


def _evenings(week: Week, plan: Plan) -> list[date]:
    """The days on which late orders should leave and the days before them, earliest first; none without any."""
    found: set[date] = set()
    first = week.clock.now.date()
    for one in late_orders(week, plan):
        day = week.clock.ends_at(one.must_leave_tau).date()
        found |= {day, day - timedelta(days=1)}
    return sorted(day for day in found if day >= first)[:MOST_EVENINGS]


def _evening(inputs: WeekInputs, week: Week, day: date) -> Offer | None:
    shop = inputs.shop
    if any(one.day == day for one in shop.overtime):
        return None  # on offer already, at its own price
    closes_min = max((hours.to_min for hours in shop.hours if day.weekday() in hours.weekdays), default=None)
    if closes_min is None or closes_min + EVENING_MIN > 24 * 60:
        return None
    offer = OvertimeOffer(day=day, from_min=closes_min, to_min=closes_min + EVENING_MIN, price_cents=0)
    made = _made(replace(inputs, shop=replace(shop, overtime=(*shop.overtime, offer))))
    if made is None:
        return None
    known = {block.block_id for block in week.overtime}
    return Offer(
        kind="evening",
        name=day.isoformat(),
        words=f"{EVENING_MIN // 60} hours more for everybody on {day_text(day)}, before their pay",
        week=made,
        buys=frozenset(block.block_id for block in made.overtime if block.block_id not in known),
    )


def _made(inputs: WeekInputs) -> Week | None:
    """The week behind changed inputs; None where it cannot be made (an evening that overlaps one on offer)."""
    try:
        return without_clashes(build_workload(inputs).week)
    except InputError:
        return None

"""Which part of the plan a page shows: one day, or all of it."""

from __future__ import annotations

import streamlit as st

from dashboard.charts.shop_axis import ShopDay, day_at, shop_days
from dashboard.state import Current

WHOLE = "the whole plan"


def pick(seen: Current, *, key: str) -> tuple[int, int]:
    """Shop minutes [from, to) that whoever looks has picked; today first, or the first day with work."""
    assert seen.plan is not None
    clock = seen.week.clock
    end_tau = max(
        [one.print_end_tau for one in seen.plan.runs] + [one.packed_tau for one in seen.plan.orders], default=1
    )
    days = {day.short: day for day in shop_days(clock) if _is_busy(seen, day)}
    today = day_at(clock, seen.now_tau).short
    first = today if today in days else next(iter(days), WHOLE)
    picked = st.pills("Day", [*days, WHOLE], default=first, key=key, required=True)
    day = days.get(str(picked))
    return (day.from_tau, day.to_tau) if day is not None else (0, max(1, end_tau))


def _is_busy(seen: Current, day: ShopDay) -> bool:
    spans = (span for one in seen.view.activities if one.owner_id for span in one.stretches)
    return any(start < day.to_tau and end > day.from_tau for start, end in spans)

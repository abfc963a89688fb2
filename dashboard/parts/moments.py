"""Days and clock times picked from lists: they read on a phone, and any time can be typed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from typing import Any

STEP_MIN = 15


def day(place: Any, label: str, days: Sequence[date], value: date, key: str) -> date:
    """One of the days the plan looks at. place: where it is asked, a column or the page."""
    chosen: date = place.selectbox(
        label,
        list(days),
        index=days.index(value) if value in days else 0,
        format_func=lambda one: f"{one:%a} {one.day} {one:%b}",
        key=key,
    )
    return chosen


def clock(place: Any, label: str, value: time, key: str) -> str:
    """A time of the day as "15:30"; one that is not in the list may be typed."""
    offered = [f"{minute // 60:02}:{minute % 60:02}" for minute in range(0, 1440, STEP_MIN)]
    now = f"{value:%H:%M}"
    offered = sorted({*offered, now})
    chosen: str | None = place.selectbox(
        label, offered, index=offered.index(now), key=key, accept_new_options=True, help="Any time may be typed."
    )
    return (chosen or now).strip()


def moment_of(on: date, at: str) -> str:
    """As the sheets have it: 2026-04-15 09:00."""
    return f"{on:%Y-%m-%d} {at}"

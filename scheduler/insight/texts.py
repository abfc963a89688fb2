"""Clock times and lengths as insight tells them."""

from __future__ import annotations

from scheduler.domain.week import Week
from scheduler.review.words import end_text, press_text, run_text

__all__ = ["clock_text", "length_text", "press_text", "run_text"]


def clock_text(week: Week, tau: int) -> str:
    """The clock time of work that ends at this shop minute, e.g. "Mon 2 Mar 17:00"."""
    return end_text(week, tau)


def length_text(count_min: int) -> str:
    """A length of time, e.g. "45 min", "4 h" or "1 h 30"."""
    hours, rest = divmod(count_min, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"

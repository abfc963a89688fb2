"""The room a press keeps free for reprints and rushes, in one sentence."""

from __future__ import annotations

from scheduler.domain.plan import Plan
from scheduler.domain.week import PressLine, Week
from scheduler.papers.words import day, until


def kept_free_text(week: Week, plan: Plan, press: PressLine) -> str:
    """When a press is kept free, up to the end of its queue: clock times once, with their days; "" for never.

    Room opened by overtime that the plan buys is not kept.
    """
    queue = plan.queue.get(press.press_id, ())
    done_tau = max((planned.print_end_tau for planned in queue), default=0)
    days: dict[str, list[str]] = {}
    for one in press.kept_free:
        if one.start_tau < done_tau and one.overtime_id not in plan.overtime:
            start, end = week.clock.starts_at(one.start_tau), week.clock.ends_at(one.end_tau)
            days.setdefault(f"{start:%H:%M} to {until(start, end)}", []).append(day(start))
    told = "; ".join(f"{', '.join(on)} {hours}" for hours, on in days.items())
    return f"Kept free for reprints and rushes: {told}." if told else ""
